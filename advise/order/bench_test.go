package order

import "testing"

// BenchmarkOrder edits and orders a plan of the size a lined piece has.
func BenchmarkOrder(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		p, err := New(steps(lined...))
		if err != nil {
			b.Fatal(err)
		}
		for _, m := range [][2]string{{"clip", "join"}, {"press", "turn"}} {
			if err := p.Move(m[0], m[1], ""); err != nil {
				b.Fatal(err)
			}
		}
		if l, err := p.Order(); err != nil || len(l) != len(lined) {
			b.Fatal(err)
		}
	}
}
