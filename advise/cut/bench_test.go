package cut

import (
	"math/rand/v2"
	"testing"

	"tenter/fibres"
)

// twenty are the parts of a tailored jacket with lining and a few more.
func twenty() []Part {
	return []Part{{Name: "front", Count: 2, Width: 35, Height: 75}, {Name: "back", Count: 2, Width: 28, Height: 75}, {Name: "sleeve", Count: 4, Width: 24, Height: 65},
		{Name: "collar", Count: 2, Width: 48, Height: 12, Grain: AlongEither}, {Name: "facing", Count: 2, Width: 18, Height: 75}, {Name: "pocket", Count: 4, Width: 18, Height: 22}, {Name: "welt", Count: 4, Width: 16, Height: 6, Grain: AlongEither}}
}

func BenchmarkLayoutOfTwentyRectangles(b *testing.B) {
	parts := drawParts(twenty(), allowances{1.2, 1.2, 1.2})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := lay(parts, Layer{}, 150, 0.02, 0.05, fullEffort); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLayoutOfTwentyOutlines(b *testing.B) {
	parts := drawParts(anyParts(rand.New(rand.NewPCG(1, 1)), 10), allowances{1.2, 1.2, 1.2})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := lay(parts, Layer{}, 150, 0.02, 0.05, fullEffort); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlan is the whole answer for a shell and a lining of twenty parts.
func BenchmarkPlan(b *testing.B) {
	l := Layer{Name: "shell", Cloth: "wool", Warp: fibres.Figure(fibres.ShrinkWarp, 1, 4, 9, fibres.Practice, "", "practice"), Weft: fibres.Figure(fibres.ShrinkWeft, 0, 2, 5, fibres.Practice, "", "practice"),
		Width: fibres.Figure(fibres.Width, 130, 150, 160, fibres.Practice, "", "practice")}
	lining := l
	lining.Name = "lining"
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Plan(Job{Parts: twenty(), Layers: []Layer{l, lining}, Allowance: 1.2}); err != nil {
			b.Fatal(err)
		}
	}
}
