package cut

import "tenter/fibres/units"

// Edges are the sides of the parts of a job, by which the gap between its layers is
// worked out.
type Edges []partEdges

type partEdges struct {
	name          string
	width, height float64 // finished
	across, along float64 // as cut, before any shrinkage, its own way up
	grain         Grain
}

// Edges lists the sides of the job's parts.
func (j Job) Edges() Edges {
	each := j.allowances(nil)
	out := make(Edges, 0, len(j.Parts))
	for _, p := range drawParts(j.Parts, each) {
		pts, q := p.base()
		low, high := bounds(turned(pts, q, false))
		out = append(out, partEdges{p.Name, float64(p.Width), float64(p.Height), high.X - low.X, high.Y - low.Y, p.Grain})
	}
	return out
}

// LongEdge is the longest edge of a piece and how it runs on its cloth.
type LongEdge struct {
	Part      string
	Length    units.Length
	Direction string // along, across or bias
}

// Longest finds the longest edge of parts laid on a cloth of the width, which
// shrinks so much. A part that does not go on the cloth its own way lies turned.
func (e Edges) Longest(width, weft, warp float64) LongEdge {
	var out LongEdge
	for _, p := range e {
		fits := p.across/(1-weft) <= width+tolerance
		turned := !fits && p.along/(1-weft) <= width+tolerance
		for k, l := range []float64{p.width, p.height} {
			if units.Length(l) <= out.Length {
				continue
			}
			along := (k == 1) != (p.grain == AlongWidth) != turned
			out = LongEdge{p.name, units.Length(l), "across"}
			switch {
			case p.grain == OnBias:
				out.Direction = "bias"
			case along:
				out.Direction = "along"
			}
		}
	}
	return out
}

// LongestOn is [Edges.Longest] on the cloth of a layer as it is mostly sold.
func (e Edges) LongestOn(l Layer) LongEdge {
	return e.Longest(l.Width.Typical-2*float64(l.Selvedge), typical(l.Weft), typical(l.Warp))
}

// of is what a cloth loses along the edge, member by member: nil where that is not
// known.
func (e LongEdge) of(l Loss) []float64 {
	switch {
	case e.Direction == "along":
		return l.Warp
	case e.Direction == "across":
		return l.Weft
	case len(l.Warp) == 0 || len(l.Weft) == 0:
		return nil
	}
	out := make([]float64, max(len(l.Warp), len(l.Weft)))
	for i := range out {
		out[i] = (l.Warp[i%len(l.Warp)] + l.Weft[i%len(l.Weft)]) / 2
	}
	return out
}

// Parting returns how much shorter than the shell the lining comes out along an
// edge where both were cut alike and joined, in mm, for each pair of members of
// two populations. It is nil where the shrinkage of either is not known.
//
//	gap = edge · (s_lining − s_shell)
//
// Given: the edge; what each layer loses, in per cent, one figure or one for each
// member of its population.
//
// Valid: an edge over 0.
// Accuracy: exact as a difference of lengths.
// Errors: none; nil where either is not known.
// Source: arithmetic.
// Checked: edge_test.go, TestPartingIsTheDifferenceOfFinishedLengths.
func Parting(e LongEdge, shell, lining Loss) []float64 {
	s, l := e.of(shell), e.of(lining)
	if len(s) == 0 || len(l) == 0 || e.Length <= 0 {
		return nil
	}
	out := make([]float64, max(len(s), len(l)))
	for i := range out {
		out[i] = float64(e.Length) * 10 * (l[i%len(l)] - s[i%len(s)]) / 100
	}
	return out
}
