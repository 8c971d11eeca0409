package cut

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

// GapLimit is what is commonly let pass between two joined layers, in mm over the
// whole edge (common practice).
const GapLimit = 3.0

// Gap is how far shell and lining part along the longest edge in the first wash
// when both were cut alike and joined unwashed.
type Gap struct {
	Edge      string          `json:"edge"`
	EdgeCM    float64         `json:"edge_cm"`
	Direction string          `json:"direction"` // along or across the cloth
	MM        fibres.Estimate `json:"mm"`
	// Signed is how much shorter the lining comes out: low, typical, high; below
	// nought it is the shell.
	Signed [3]float64 `json:"lining_shorter_mm"`
	Limit  float64    `json:"limit_mm"`
	Within float64    `json:"share_within_limit"` // part of the pairs that keep the limit
	// Washed is the gap that later washes open when both were washed once before
	// cutting; not known where later washes are not.
	Washed fibres.Estimate `json:"after_prewash_mm"`
	Say    string          `json:"say"`
}

// gapOf reckons how far shell and lining part along the longest edge. ok is false
// where the shrinkage of either is not known.
func gapOf(a LayerAnswer, shell, lining Layer) (Gap, bool) {
	g := Gap{Limit: GapLimit, Direction: "across"}
	for _, p := range a.Pieces {
		for k, l := range p.Finished {
			if l > g.EdgeCM {
				g.Edge, g.EdgeCM = p.Name, l
				g.Direction = "across"
				if (k == 1) != p.Turned {
					g.Direction = "along"
				}
			}
		}
	}
	s, l := shell.weft, lining.weft
	if g.Direction == "along" {
		s, l = shell.warp, lining.warp
	}
	if shell.Prewashed {
		s = []float64{0}
	}
	if lining.Prewashed {
		l = []float64{0}
	}
	if len(s) == 0 || len(l) == 0 || g.EdgeCM <= 0 {
		return g, false
	}
	edge := units.Length(g.EdgeCM)
	n := max(len(s), len(l))
	signed, size := make([]float64, n), make([]float64, n)
	for i := range n {
		gap, err := shrink.GapAfterWash(edge, units.Fraction(s[i%len(s)]/100), units.Fraction(l[i%len(l)]/100))
		if err != nil {
			return g, false
		}
		signed[i] = float64(gap) * 10
		size[i] = math.Abs(signed[i])
		if size[i] <= GapLimit {
			g.Within += 1 / float64(n)
		}
	}
	slices.Sort(signed)
	slices.Sort(size)
	at := func(x []float64, u float64) float64 { return x[int(u*float64(n-1)+0.5)] }
	g.Signed = [3]float64{at(signed, 0.1), at(signed, 0.5), at(signed, 0.9)}
	g.MM = fibres.Estimate{Low: at(size, 0.1), Typical: at(size, 0.5), High: at(size, 0.9), Unit: "mm", Basis: fibres.Derived, Sources: []string{},
		Because: fmt.Sprintf("the difference of what shell and lining lose, over %s", edge.Centimetres())}
	first, second := shell.Weft, lining.Weft
	leftShell, leftLining := left(shell.care.later[1], shell.Weft), left(lining.care.later[1], lining.Weft)
	if g.Direction == "along" {
		first, second = shell.Warp, lining.Warp
		leftShell, leftLining = left(shell.care.later[0], shell.Warp), left(lining.care.later[0], lining.Warp)
	}
	for _, e := range []fibres.Estimate{first, second} {
		for _, x := range e.Sources {
			if !slices.Contains(g.MM.Sources, x) {
				g.MM.Sources = append(g.MM.Sources, x)
			}
		}
	}
	g.Washed = later(edge, leftShell, leftLining)
	if shell.Treatment != Washed && shell.Treatment != "" {
		g.Washed = fibres.Estimate{Unit: "mm", Basis: fibres.Unknown, Sources: []string{}, Because: "it is not washed"}
	}
	g.Say = gapWords(g)
	return g, true
}

// later is the gap that washes after the first open between pre-washed layers.
func later(edge units.Length, shell, lining fibres.Estimate) fibres.Estimate {
	if !shell.Known() || !lining.Known() {
		return fibres.Estimate{Unit: "mm", Basis: fibres.Unknown, Sources: []string{}, Because: "how both go on shrinking is not known"}
	}
	mm := func(a, b float64) float64 { return math.Abs(a-b) / 100 * float64(edge) * 10 }
	e := fibres.Estimate{Typical: mm(lining.Typical, shell.Typical), Unit: "mm", Basis: fibres.Derived, Sources: []string{}, Because: "what five washes take of each, less what the first one took"}
	if lining.Low > shell.High || shell.Low > lining.High { // apart whatever they are
		e.Low = math.Min(mm(lining.Low, shell.High), mm(lining.High, shell.Low))
	}
	e.Low = math.Min(e.Low, e.Typical)
	e.High = math.Max(mm(lining.High, shell.Low), mm(lining.Low, shell.High))
	return e
}

// gapWords says what a gap looks like.
func gapWords(g Gap) string {
	switch {
	case g.MM.High <= GapLimit:
		return "That is within what is let pass; they may be joined unwashed."
	case g.Within >= 0.5:
		return "As likely as not it stays within what is let pass; wash a swatch of both to be sure."
	case g.Signed[1] > 0:
		return "The lining comes out shorter: it draws the edge up and in, and the shell bags over it."
	default:
		return "The shell comes out shorter: the lining bags, and rolls out below the edge."
	}
}
