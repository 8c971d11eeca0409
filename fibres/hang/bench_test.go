package hang

import (
	"fmt"
	"testing"

	"tenter/fibres/units"
)

var sink units.Length

func BenchmarkHang(b *testing.B) {
	for _, lc := range []units.Length{0.5, 2, 5, 20} {
		b.Run(fmt.Sprintf("L/c=%v", float64(lc)), func(b *testing.B) {
			b.ReportAllocs()
			f := uniform(lc, 1)
			for b.Loop() {
				fall, err := Hang(f, 0)
				if err != nil {
					b.Fatal(err)
				}
				sink = fall.StandOff
			}
		})
	}
}

func BenchmarkStandOff(b *testing.B) {
	b.ReportAllocs()
	c := units.Length(1)
	for b.Loop() {
		c += 1e-6
		sink = StandOff(10, c)
	}
}

func BenchmarkStandOffStrip(b *testing.B) {
	b.ReportAllocs()
	c := units.Length(1)
	for b.Loop() {
		c += 1e-6
		sink = StandOffStrip(10, c, 1.2, 3, 2)
	}
}

// BenchmarkPopulation is the mechanics of one make-up: 300 cloths sold under a
// name, each along warp, weft and both biases, as a lined flap with an edge strip.
func BenchmarkPopulation(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for i := range 300 {
			c := 1 + units.Length(i)/200
			shell := Layer{Mass: 150, BendingLength: c}
			lining := Layer{Mass: 80, BendingLength: 1.3}
			bias, err := OffGrain(c, 0.9*c, 0, 45)
			if err != nil {
				b.Fatal(err)
			}
			for _, d := range [4]units.Length{c, 0.9 * c, bias, bias} {
				shell.BendingLength = d
				_, stack, _ := Stack(Edge, shell, lining)
				sink = StandOffStrip(10, stack.BendingLength, 1.2, 2, 2)
			}
		}
	}
}
