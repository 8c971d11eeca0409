package table

import (
	"fmt"
	"strings"
	"testing"
)

// BenchmarkStart is what a start of the program costs: 25 files, 5,000 rows,
// every number and word of them read.
func BenchmarkStart(b *testing.B) {
	var sb strings.Builder
	cols := []string{"of", "id", "mass_gsm_low", "mass_gsm_typical", "mass_gsm_high", "basis", "source_id", "locator", "note"}
	sb.WriteString(strings.Join(cols, ",") + "\n")
	for i := range 200 {
		fmt.Fprintf(&sb, "cloth,cotton-lawn-%d,%d,%d.5,%d,practice,practice,,\"light, as sold; 2.4 oz/yd2\"\n", i, 60+i, 70+i, 80+i)
	}
	data := []byte(sb.String())
	scale := []string{"published", "memory", "practice", "derived"}
	b.ReportAllocs()
	for b.Loop() {
		rows := 0
		for range 25 {
			t, err := Read("data/mass.csv", data, cols)
			if err != nil {
				b.Fatal(err)
			}
			for i := range t.Rows {
				r := &t.Rows[i]
				for _, c := range []string{"mass_gsm_low", "mass_gsm_typical", "mass_gsm_high"} {
					if _, _, f := r.Cell(c).Float(5, 2000, "g/m2"); f != nil {
						b.Fatal(f)
					}
				}
				if _, _, f := r.Cell("basis").Word(scale); f != nil {
					b.Fatal(f)
				}
				rows++
			}
		}
		if rows != 5000 {
			b.Fatal(rows)
		}
	}
}
