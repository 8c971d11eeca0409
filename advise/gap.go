package advise

import (
	"math"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/memo"
)

// cuts keeps what the gap between layers is worked out from: the edges of a piece
// made up in a finish, and the layer that a cloth of a name makes.
type cuts struct {
	edges  memo.Cache[edgeKey, cut.Edges]
	layers memo.Cache[layerKey, cut.Layer]
}

type edgeKey struct {
	piece  *Piece
	finish *Finish
}

// layerKey tells layers apart by their members, not by their cloth: the lining of a cloth
// lined with itself has those of the shell ([Adviser.liningSample]), under another cloth
// it has its own.
type layerKey struct {
	name   string
	sample *fibres.Sample
	as     cut.Treatment // "" before it is known
}

// gap is how far shell and lining part on the longest edge in the first wash, or
// in dry-cleaning where one of them is not washed, in mm; nil where that is not
// known. It is the figure that [cut.Plan] gives for the make-up.
func (a *Adviser) gap(m MakeUp, sh, li *fibres.Sample) (mm []float64, dry bool) {
	shell, lining := a.cutLayer("shell", m.Shell, sh, ""), a.cutLayer("lining", m.Lining, li, "")
	as := cut.CareOf(shell, lining)
	if m.Wished(dryCleaned) {
		as = cut.DryCleaned
	}
	if as != cut.Washed {
		shell, lining = a.cutLayer("shell", m.Shell, sh, as), a.cutLayer("lining", m.Lining, li, as)
	}
	mm = cut.Parting(a.edges(m).LongestOn(shell), shell.Loss(), lining.Loss())
	for i, v := range mm {
		mm[i] = math.Abs(v)
	}
	return mm, as != cut.Washed
}

// edges are those of the parts of a piece made up in a finish.
func (a *Adviser) edges(m MakeUp) cut.Edges {
	return a.cuts.edges.Get(edgeKey{m.Piece, m.Finish}, func() cut.Edges {
		return a.CutJob(MakeUp{Piece: m.Piece, Finish: m.Finish}).Edges()
	})
}

// cutLayer is a layer of a make-up as it is cut; one of a cloth of which nothing
// more is known is kept.
func (a *Adviser) cutLayer(name string, s *fibres.Subject, sample *fibres.Sample, as cut.Treatment) cut.Layer {
	make := func() cut.Layer {
		l := cut.NewSampledLayer(a.Cat, name, *s, sample)
		if as != "" {
			l.Treat(as)
		}
		return l
	}
	if !kept(s) {
		return make()
	}
	return a.cuts.layers.Get(layerKey{name, sample, as}, make)
}
