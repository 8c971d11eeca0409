package rules

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tenter/fibres/fault"
)

// Whatever a file holds, loading it says where it is wrong or gives rules that
// can be fired.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(clip))
	files, _ := filepath.Glob("testdata/slips/*.toml")
	for _, n := range files {
		if b, err := os.ReadFile(n); err == nil {
			f.Add(b)
		}
	}
	s := testSchema(f)
	s.Imply(implies(s))
	c := s.NewCase(3)
	f.Fuzz(func(t *testing.T, data []byte) {
		rs, _, err := Load(s, File{Name: "f.toml", Data: data, House: true})
		if err != nil {
			for _, x := range fault.All(err) {
				if x.Kind != fault.BadData || !strings.HasPrefix(x.Where, "f.toml:") || x.What == "" {
					t.Fatalf("finding without kind, place or words: %+v", x)
				}
			}
		}
		for _, r := range rs {
			if r.ID == "" || r.Say == "" || len(r.When()) == 0 {
				t.Fatalf("a rule without its parts: %+v", r)
			}
			r.Fire(c)
		}
	})
}

// Whatever words stand on the right, they are read or said to be wrong, at a
// place inside them.
func FuzzPhrase(f *testing.F) {
	for _, w := range []string{"at least medium", "not 80 to 120 g/m2", "over 1.2 times lining.mass", "low or high", `"hood" or 'cord'`,
		"next to skin", "known", "at least to or", "to", "not", "1 to 2 or 5 to 6", "over  ", "80 gsm or"} {
		for i := range 40 {
			f.Add(i, w)
		}
	}
	s := testSchema(f)
	c := s.NewCase(2)
	f.Fuzz(func(t *testing.T, i int, words string) {
		i = int(uint(i) % uint(len(s.facts)))
		k, sl := s.parse(i, words)
		if sl != nil {
			if sl.at < 0 || sl.at > len(words) || sl.what == "" {
				t.Fatalf("%q: %+v", words, sl)
			}
			return
		}
		r := &Rule{Parts: Parts{Conds: []Cond{k}}}
		r.compile(s)
		if f := r.Fire(c); f.Share != 0 && f.Share != 1 {
			t.Fatalf("share %v of nothing known", f.Share)
		}
	})
}
