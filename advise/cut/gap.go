package cut

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

// gapLimit is what is commonly let pass between two joined layers, in mm over
// the whole edge (common practice).
const gapLimit = 3.0

// gapOf reckons how far shell and lining part along the longest edge. ok is
// false where the shrinkage of either is not known, or where a layer has had its
// first wash already.
func gapOf(j Job, a LayerAnswer, shell, lining Layer) (Gap, bool) {
	g := Gap{Limit: gapLimit}
	best := units.Length(0)
	along := false
	for i, p := range a.Pieces {
		_ = i
		for k, l := range p.Finished {
			if units.Length(l) > best {
				best = units.Length(l)
				g.Edge = p.Name
				along = (k == 1) != p.Turned
			}
		}
	}
	g.EdgeCM = float64(best)
	s, l := shell.weft, lining.weft
	g.Direction = "across"
	if along {
		s, l, g.Direction = shell.warp, lining.warp, "along"
	}
	if len(s) == 0 || len(l) == 0 || best <= 0 {
		return g, false
	}
	n := max(len(s), len(l))
	signed, size := make([]float64, n), make([]float64, n)
	for i := range n {
		a, b := s[i%len(s)], l[i%len(l)]
		if shell.Prewashed {
			a = 0
		}
		if lining.Prewashed {
			b = 0
		}
		gap, err := shrink.GapAfterWash(best, units.Fraction(a/100), units.Fraction(b/100))
		if err != nil {
			return g, false
		}
		signed[i] = float64(gap) * 10
		size[i] = math.Abs(signed[i])
	}
	slices.Sort(signed)
	slices.Sort(size)
	at := func(x []float64, u float64) float64 { return x[int(u*float64(n-1)+0.5)] }
	g.Signed = [3]float64{at(signed, 0.1), at(signed, 0.5), at(signed, 0.9)}
	g.MM = fibres.Estimate{Low: at(size, 0.1), Typical: at(size, 0.5), High: at(size, 0.9), Unit: "mm", Basis: fibres.Derived, Sources: []string{},
		Because: fmt.Sprintf("the difference of what shell and lining lose, over %s cm", fibres.Round(float64(best)))}
	for _, e := range []fibres.Estimate{shell.Warp, lining.Warp} {
		for _, x := range e.Sources {
			if !slices.Contains(g.MM.Sources, x) {
				g.MM.Sources = append(g.MM.Sources, x)
			}
		}
	}
	switch {
	case g.MM.Typical <= gapLimit && g.MM.High <= 2*gapLimit:
		g.Say = "Within what the eye lets pass."
	case g.Signed[1] > 0:
		g.Say = "The lining comes out shorter: it draws the edge up and the edge rolls to the inside."
	default:
		g.Say = "The shell comes out shorter: the lining bags and shows below the edge."
	}
	return g, true
}
