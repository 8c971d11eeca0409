package card

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

func TestDevMany(t *testing.T) {
	dir := os.Getenv("TENTER_MANY")
	if dir == "" {
		t.Skip()
	}
	a, _ := knowledge()
	i := 0
	for _, f := range a.Finishes {
		for _, p := range []string{"half-circle-cape", "hooded-cloak", "tailored-jacket", "nightgown", "child-cape", "stage-curtain"} {
			if _, err := a.Piece(p); err != nil {
				fmt.Println(err)
				continue
			}
			i++
			sh, li := "wool-flannel", ", lining silk-satin"
			if i%2 == 0 {
				sh, li = "silk-velvet", ", lining viscose-twill"
			}
			if !f.Lined {
				li = ""
			}
			w := fmt.Sprintf("%s, %s, shell %s%s", p, f.ID, sh, li)
			am, m, plan := made(t, w)
			for _, k := range []string{Job, Shopping} {
				c, err := New(am, m, plan, Options{Kind: k})
				if err != nil {
					t.Fatal(w, err)
				}
				fmt.Println("VOL", volume(written(t, c)), f.ID+"-"+p+"-"+k)
				os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%s-%s.html", f.ID, p, k)), []byte(written(t, c)), 0o644)
			}
		}
	}
}
