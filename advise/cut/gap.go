package cut

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres"
	"tenter/fibres/units"
)

// GapLimit is how far two joined layers may part over the whole edge before it
// shows, in mm (common practice).
const GapLimit = 3.0

// Gap is how far shell and lining part along the longest edge in the first wash
// when both were cut alike and joined unwashed.
type Gap struct {
	Edge      string          `json:"edge"`
	EdgeCM    float64         `json:"edge_cm"`
	Direction string          `json:"direction"` // along or across the cloth, or on the bias
	MM        fibres.Estimate `json:"mm"`
	// Signed is how much shorter the lining comes out: low, typical, high; below
	// zero it is the shell.
	Signed [3]float64 `json:"lining_shorter_mm"`
	Limit  float64    `json:"limit_mm"`
	Within float64    `json:"share_within_limit"` // part of the pairs that keep the limit
	// Washed is the gap that later washes open when both were washed once before
	// cutting; not known where later washes are not.
	Washed fibres.Estimate `json:"after_prewash_mm"`
	Say    string          `json:"say"`
}

// gapOf works out how far shell and lining part along the longest edge. ok is
// false where the shrinkage of either is not known.
func gapOf(j Job, shell, lining Layer) (Gap, bool) {
	edge := j.Edges().LongestOn(shell)
	g := Gap{Edge: edge.Part, EdgeCM: round4(float64(edge.Length)), Limit: GapLimit, Direction: edge.Direction}
	signed := Parting(edge, shell.Loss(), lining.Loss())
	if signed == nil {
		return g, false
	}
	size := make([]float64, len(signed))
	for i, v := range signed {
		if size[i] = math.Abs(v); size[i] <= GapLimit {
			g.Within += 1 / float64(len(signed))
		}
	}
	slices.Sort(signed)
	slices.Sort(size)
	at := func(x []float64, u float64) float64 { return x[min(len(x)-1, int(u*float64(len(x))))] }
	g.Signed = [3]float64{at(signed, 0.1), at(signed, 0.5), at(signed, 0.9)}
	g.MM = fibres.Estimate{Low: at(size, 0.1), Typical: at(size, 0.5), High: at(size, 0.9), Unit: "mm", Basis: fibres.Derived, Sources: []string{},
		Because: fmt.Sprintf("the difference of what shell and lining lose %s the cloth, over %s", g.Direction, edge.Length.Centimetres())}
	for _, e := range []fibres.Estimate{shell.Warp, shell.Weft, lining.Warp, lining.Weft} {
		for _, x := range e.Sources {
			if !slices.Contains(g.MM.Sources, x) {
				g.MM.Sources = append(g.MM.Sources, x)
			}
		}
	}
	g.Washed = g.afterPrewash(edge, shell, lining)
	g.Say = gapWords(g)
	return g, true
}

// afterPrewash is the gap that later washes open where both layers were washed
// once before cutting.
func (g Gap) afterPrewash(edge LongEdge, shell, lining Layer) fibres.Estimate {
	unknown := fibres.Estimate{Unit: "mm", Basis: fibres.Unknown, Sources: []string{}, Because: "it is not washed"}
	switch {
	case shell.Treatment != Washed && shell.Treatment != "":
		return unknown
	case edge.Direction == "along":
		return later(edge.Length, left(shell.care.later[0], shell.Warp), left(lining.care.later[0], lining.Warp))
	case edge.Direction == "across":
		return later(edge.Length, left(shell.care.later[1], shell.Weft), left(lining.care.later[1], lining.Weft))
	}
	unknown.Because = "the edge lies on the bias"
	return unknown
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
		return "That does not show: they may be joined unwashed."
	case g.Within >= 0.5:
		return "As likely as not it does not show. Wash a marked square of both to be sure."
	case g.Signed[1] > 0:
		return "The lining comes out shorter: it draws the edge up and in, and the shell bags over it."
	default:
		return "The shell comes out shorter: the lining bags, and rolls out below the edge."
	}
}
