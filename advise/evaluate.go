package advise

import (
	"math"
	"slices"
	"sync"

	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/memo"
	"tenter/fibres/units"
)

// samples keeps the drawn population of each plain cloth name, since `advise`
// and `pair` meet the same cloth many times.
type samples = memo.Cache[sampleKey, *fibres.Sample]

type sampleKey struct {
	cloth string
	salt  fibres.Salt
}

// kept reports whether the sample of a subject is kept: that of a name, of which
// nothing more is known, is the same for every question.
func kept(s *fibres.Subject) bool {
	return (s.Cloth != nil || len(s.May) > 0) && len(s.Known) == 0 && s.Content == nil
}

// cloth is the id of a subject's cloth; a name that may mean several cloths is none's
// id, and stands for itself.
func cloth(s *fibres.Subject) string {
	if s.Cloth != nil {
		return s.Cloth.ID
	}
	return s.Name
}

func (a *Adviser) sample(s *fibres.Subject, salt fibres.Salt) *fibres.Sample {
	if !kept(s) {
		return a.Cat.Sample(*s, salt)
	}
	return a.samples.Get(sampleKey{cloth(s), salt}, func() *fibres.Sample {
		return a.Cat.Sample(fibres.Subject{Cloth: s.Cloth, May: s.May, Name: s.Name}, salt)
	})
}

// liningSample are the members of the lining; a cloth lined with itself is one bolt, so
// that both layers of a member are the same cloth.
func (a *Adviser) liningSample(m MakeUp) *fibres.Sample {
	if s := m.Shell; s != nil && s.Cloth != nil && s.Cloth == m.Lining.Cloth && kept(s) && kept(m.Lining) {
		return a.sample(s, fibres.ShellSalt)
	}
	return a.sample(m.Lining, fibres.LiningSalt)
}

// jointOf is the mechanics' word for how a finish joins its layers; ok is false
// where nothing joins them.
func jointOf(m MakeUp) (j hang.Joint, ok bool) {
	if m.Finish == nil {
		return 0, false
	}
	switch m.Finish.Joined {
	case "free":
		return hang.Free, true
	case "edge":
		return hang.Edge, true
	case "quilted":
		return hang.Quilted, true
	case "fused":
		return hang.Fused, true
	}
	return 0, false
}

// layersOf is how many full layers of shell and lining the make-up has.
func layersOf(m MakeUp) (shell, lining int) {
	if m.Finish == nil {
		return 1, 0
	}
	n := max(1, m.Finish.Layers)
	if m.Finish.Lined && m.Lining != nil {
		return max(1, n-1), 1
	}
	if m.Finish.Lined {
		return max(1, n-1), 0
	}
	return n, 0
}

// composite holds the make-up's own columns, one value for each member or one for
// all; nil is not known.
type composite struct {
	mass, bend, thick, gap, press, show, wash, wear, stretch []float64
	skin, warm, flame, water                                 []float64 // of the face to the body, of all layers, of the quickest, of the one that keeps it out
	seam, edge                                               []float64 // what lies under the needle there

	outer struct{ mass, bend, thick []float64 }                // of the shell by itself
	pair  struct{ mass, bend, rigid, stretch, wash []float64 } // of the lining against the shell

	behind []float64 // mass of the interfacing over the shell's

	hang *Piece      // nil where none is named
	flap *standTable // of the piece in this finish; nil where it has none

	dry bool // a layer is not washed, so the gap is that of dry-cleaning
}

// value reads member i of a column.
func value(v []float64, i int) float64 {
	if len(v) == 1 {
		return v[0]
	}
	return v[i]
}

// each computes a column over the members from columns that are all known.
func each(f func(i int) float64, from ...[]float64) []float64 {
	n := 1
	for _, v := range from {
		if v == nil {
			return nil
		}
		n = max(n, len(v))
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = f(i)
	}
	return out
}

// compose works out the make-up's own facts from its layers, member by member.
func (a *Adviser) compose(m MakeUp, sh, li *fibres.Sample) composite {
	var w composite
	if sh != nil {
		a.composeLayers(&w, m, sh, li)
		a.composeHang(&w, m, sh, li)
	}
	return w
}

// composeLayers is [Adviser.compose] but for how the layers together hang.
func (a *Adviser) composeLayers(w *composite, m MakeUp, sh, li *fibres.Sample) {
	ns, nl := layersOf(m)
	if li == nil {
		nl = 0
	}
	sm, st := sh.Of(fibres.Mass), sh.Of(fibres.Thickness)
	w.mass, w.thick = times(sm, ns), times(st, ns)
	w.press, w.show, w.wash = sh.Of(fibres.PressingLimit), sh.Of(fibres.ShowThrough), sh.Of(fibres.Wash)
	w.wear, w.stretch = sh.Of(fibres.Wear), sh.Of(fibres.Stretch)
	w.outer.mass, w.outer.thick = w.mass, w.thick
	if m.Finish != nil && m.Finish.Lined {
		w.outer.mass, w.outer.thick = sm, st
		w.outer.bend = each(func(i int) float64 { return value(sh.Of(fibres.BendingLength), i) * underlined(m) }, sh.Of(fibres.BendingLength))
	}
	w.skin, w.warm, w.flame = sh.Of(fibres.Rough), times(sh.Of(fibres.Warmth), ns), flameOf(m, "shell-flameproof", sh)
	w.water = sh.Of(fibres.Water)
	w.seam, w.edge = underNeedle(m.Seam, st), underNeedle(m.Edge, st)
	if x := m.Interfacing; x != nil && x.MassHigh > 0 {
		mass := math.Sqrt(x.MassLow * x.MassHigh)
		w.behind = each(func(i int) float64 { return mass / value(sm, i) }, sm)
		if x.Role == underlining { // a whole layer, worked as one with the shell
			w.mass, w.outer.mass = sum(w.mass, []float64{mass}), sum(w.outer.mass, []float64{mass})
		}
	}
	if nl > 0 {
		a.composeLined(w, m, sh, li)
	}
	a.composeInner(w, m)
	w.warm = interlined(m, w.warm)
}

// composeHang works out how the layers together hang: bending length, and what its stand-off and folds are read from.
func (a *Adviser) composeHang(w *composite, m MakeUp, sh, li *fibres.Sample) {
	ns, nl := layersOf(m)
	if li == nil {
		nl = 0
	}
	w.bend = a.stackInner(m, a.stack(m, sh, li, ns, nl), sh, li, ns, nl)
	if m.Finish == nil || !m.Finish.Lined {
		w.outer.bend = w.bend
	}
	if m.Piece != nil {
		w.hang = m.Piece
		if m.Piece.Flap > 0 {
			strip, g, k := a.strip(m, ns+nl)
			w.flap = a.tables.standOff(flapKind{m.Piece.Flap, strip, g, k})
		}
	}
}

// hand is the band that the bending length lies in. It is worked out when it is asked for,
// and so are the stand-off and the folds: of most make-ups of a list nobody asks.
func (w *composite) hand() []float64 {
	return each(func(i int) float64 { return float64(hang.Band(units.Length(value(w.bend, i))) - hang.Fluid) }, w.bend)
}

// stand is how far out a flap stands, or nil where the piece has none.
func (w *composite) stand() []float64 {
	if w.flap == nil {
		return nil
	}
	return each(func(i int) float64 { return w.flap.at(value(w.bend, i)) }, w.bend)
}

// fold is how wide a fold is, or nil where nothing of the piece hangs in folds.
func (w *composite) fold() []float64 { return foldWidth(w.hang, w.bend) }

// underNeedle is how thick a seam or an edge of the shell is under the needle: its
// layers upon each other, those of a strip as thick as a strip is. It is not known where
// none is named.
func underNeedle(s *Seam, thickness []float64) []float64 {
	if s == nil {
		return nil
	}
	strips := stripThickness * float64(s.Layers-s.OfShell)
	return each(func(i int) float64 { return float64(s.OfShell)*value(thickness, i) + strips }, thickness)
}

// stripThickness is how thick a binding, facing or tape is, in mm: they are chosen thin
// (common practice: lawn, lining silk, narrow twill tape).
const stripThickness = 0.25

// flameOf is how a layer burns: one that the maker says was made flameproof goes out.
func flameOf(m MakeUp, proofed string, s *fibres.Sample) []float64 {
	if m.Wished(proofed) {
		return []float64{0}
	}
	return s.Of(fibres.Flame)
}

// interlined is the warmth of the layers with an interlining between them, which is
// there to hold air; no make-up is warmer than the scale goes.
func interlined(m MakeUp, warm []float64) []float64 {
	most, more := float64(len(fibres.Properties[fibres.Warmth].Scale)-1), 0.0
	if m.Interfacing != nil && m.Interfacing.Role == "interlining" {
		more = 2
	}
	if more == 0 && !slices.ContainsFunc(warm, func(v float64) bool { return v > most }) {
		return warm
	}
	return each(func(i int) float64 { return math.Min(most, value(warm, i)+more) }, warm)
}

// composeLined adds what the lining brings.
func (a *Adviser) composeLined(w *composite, m MakeUp, sh, li *fibres.Sample) {
	both := func(p fibres.Property, f func(shell, lining float64) float64) []float64 {
		x, y := sh.Of(p), li.Of(p)
		return each(func(i int) float64 { return f(value(x, i), value(y, i)) }, x, y)
	}
	quicker := flameOf(m, "lining-flameproof", li)
	w.mass, w.thick = sum(w.mass, li.Of(fibres.Mass)), sum(w.thick, li.Of(fibres.Thickness))
	w.press, w.show, w.wash = both(fibres.PressingLimit, least), both(fibres.ShowThrough, through), both(fibres.Wash, least)
	w.water = both(fibres.Water, math.Max)
	w.skin, w.warm = li.Of(fibres.Rough), sum(w.warm, li.Of(fibres.Warmth))
	w.flame = each(func(i int) float64 { return math.Max(value(w.flame, i), value(quicker, i)) }, w.flame, quicker)
	w.pair.mass, w.pair.bend = both(fibres.Mass, over), both(fibres.BendingLength, over)
	w.pair.rigid = each(func(i int) float64 { // rigidity is mass by bending length cubed
		c := value(w.pair.bend, i)
		return value(w.pair.mass, i) * c * c * c
	}, w.pair.mass, w.pair.bend)
	w.pair.stretch, w.pair.wash = both(fibres.Stretch, lack), both(fibres.Wash, lack)
	if m.Piece != nil {
		w.gap, w.dry = a.gap(m, sh, li)
	}
}

func least(x, y float64) float64 { return math.Min(x, y) }

// support lets what lies under the shell count as its job says.
func (w *composite) support(job *Job, sh, li *fibres.Sample) {
	if job == nil || sh == nil || li == nil {
		return
	}
	if job.Bears {
		w.bear(sh, li)
	}
	if job.Bears || job.Strengthens {
		x, y := sh.Of(fibres.Wear), li.Of(fibres.Wear)
		w.wear = each(func(i int) float64 { return math.Max(value(x, i), value(y, i)) }, x, y)
	}
}

// bear lets body and weight be those of both layers where the lining carries the
// shell; the firmer of them holds.
func (w *composite) bear(sh, li *fibres.Sample) {
	w.outer.mass, w.outer.bend, w.outer.thick = w.mass, w.bend, w.thick
	x, y := sh.Of(fibres.Stretch), li.Of(fibres.Stretch)
	w.stretch = each(func(i int) float64 { return math.Min(value(x, i), value(y, i)) }, x, y)
}

// letThrough is the part of the light that a layer of each grade of show-through lets
// through: none, low, medium, high (common practice).
var letThrough = [...]float64{0.02, 0.12, 0.4, 0.75}

// through is the grade of show-through of one layer on another: what light the one lets
// through, the other lessens again, so that two half-sheer layers hide more than either.
func through(x, y float64) float64 { return lightGrade(lightThrough(x) * lightThrough(y)) }

// lightGrade is the grade at which so much of the light comes through.
func lightGrade(left float64) float64 {
	for grade := 1; grade < len(letThrough); grade++ {
		if low, high := letThrough[grade-1], letThrough[grade]; left < high {
			return float64(grade-1) + math.Max(0, left-low)/(high-low)
		}
	}
	return float64(len(letThrough) - 1)
}

// lightThrough is the part of the light at a grade, straight lines between the grades.
func lightThrough(grade float64) float64 {
	i := min(max(0, int(grade)), len(letThrough)-2)
	return letThrough[i] + (grade-float64(i))*(letThrough[i+1]-letThrough[i])
}

// over is the lining's figure over the shell's.
func over(shell, lining float64) float64 { return lining / shell }

// lack is by how many grades the lining has less than the shell.
func lack(shell, lining float64) float64 { return math.Max(0, shell-lining) }

// times is a column of n like layers.
func times(v []float64, n int) []float64 {
	if n == 1 {
		return v
	}
	return each(func(i int) float64 { return float64(n) * value(v, i) }, v)
}

// underlined is how far an underlining mounted on the shell stiffens it: the factor
// of its bending length.
func underlined(m MakeUp) float64 {
	x := m.Interfacing
	if x == nil || x.Role != "underlining" || x.Stiffness <= 0 {
		return 1
	}
	return math.Cbrt((1 + x.Stiffness) / (1 + 0.5*(x.MassLow+x.MassHigh)/150))
}

// stack is the bending length of ns layers of shell and nl of lining, as
// hang.StackJoined for each member, see TestStackIsThatOfHang: loose layers add
// rigidity and mass, and the joining gives part of what one solid sheet of all of
// them would have more.
func (a *Adviser) stack(m MakeUp, sh, li *fibres.Sample, ns, nl int) []float64 {
	sm, sc := sh.Of(fibres.Mass), sh.Of(fibres.BendingLength)
	joint, joins := jointOf(m)
	joins = joins && ns+nl > 1
	var bond *[fibres.N]float64
	if joins {
		bond = a.tables.bonds(joint)
	}
	under, n := underlined(m), float64(ns)
	if nl == 0 {
		if bond == nil && under == 1 {
			return sc
		}
		return each(func(i int) float64 {
			c := value(sc, i)
			if bond != nil {
				c *= math.Cbrt(1 + bond[i]*(n*n-1))
			}
			return c * under
		}, sc, spreadColumn(joins))
	}
	lm, lc := li.Of(fibres.Mass), li.Of(fibres.BendingLength)
	return each(func(i int) float64 {
		c, g, l, d := value(sc, i), value(sm, i), value(lm, i), value(lc, i)
		rigid := n*g*c*c*c + l*d*d*d
		if bond != nil {
			solid := n*c + math.Cbrt(l/g)*d
			rigid += bond[i] * (g*solid*solid*solid - rigid)
		}
		return math.Cbrt(rigid/(n*g+l)) * under
	}, sc, sm, lm, lc, spreadColumn(joins))
}

// foldWidth is the width of folds of a piece for each bending length.
func foldWidth(p *Piece, bend []float64) []float64 {
	if p == nil || p.Hang <= 0 || bend == nil {
		return nil
	}
	return each(func(i int) float64 {
		_, t, _ := hang.FoldWidth(units.Length(value(bend, i)), p.Hang)
		return float64(t)
	}, bend)
}

// spreadColumn makes [each] run over all members where the joining spreads.
func spreadColumn(spreads bool) []float64 {
	if !spreads {
		return nobody[:1]
	}
	return nobody[:]
}

var nobody [fibres.N]float64 // of which only the length is asked

// strip is the stiffened strip along the edge: its width, and its rigidity and
// mass over those of the body. Its layers are taken as loose: stitched down as
// one sheet it would be several times as rigid, but a free end is not loaded,
// and the stand-off hardly changes (TestStripStitchedOrLoose). An interfacing in
// the strip adds its own rigidity.
func (a *Adviser) strip(m MakeUp, layers int) (units.Length, float64, float64) {
	if m.Finish == nil || m.Finish.StripWidth <= 0 || m.Finish.StripLayers == 0 {
		return 0, 1, 1
	}
	n := float64(m.Finish.StripLayers) / float64(max(1, layers))
	g, k := n, n
	if m.Interfacing != nil && m.Interfacing.Role == "interfacing" {
		g += m.Interfacing.Stiffness
	}
	return min(m.Finish.StripWidth, m.Piece.Flap/2), g, k
}

// EdgeStrip is the stiffened strip along the edge of a make-up: its width, and its rigidity and
// mass over those of the body; 0 wide where there is none.
func (a *Adviser) EdgeStrip(m MakeUp) (width units.Length, rigidity, mass float64) {
	if m.Finish == nil || m.Piece == nil {
		return 0, 1, 1
	}
	layers := 1
	if m.Lining != nil {
		layers = 2
	}
	return a.strip(m, layers)
}

// build gathers every fact of a make-up, and works out those of its layers together.
func (a *Adviser) build(m MakeUp) (*rules.Case, composite) {
	c, whole := a.gather(m)
	return c, *whole()
}

// caseOf is [Adviser.build] for who only asks: the facts of the layers together are worked
// out when one of them is asked for.
func (a *Adviser) caseOf(m MakeUp) *rules.Case {
	c, _ := a.gather(m)
	return c
}

func (a *Adviser) gather(m MakeUp) (*rules.Case, func() *composite) {
	c := a.schema.NewCase(fibres.N)
	x := a.at
	lay(c, x.makeUp, makeUpFacts, m)
	if m.Piece != nil {
		lay(c, x.piece, pieceFacts, m.Piece)
		if m.Wished(dryCleaned) {
			c.SetWord(a.washFact, "never")
		}
	}
	if m.Finish != nil {
		lay(c, x.finish, finishFacts, m.Finish)
	}
	var sh, li *fibres.Sample
	if m.Shell != nil {
		sh = a.sample(m.Shell, fibres.ShellSalt)
		a.layLayer(c, shell, m.Shell, sh)
	}
	if m.Lining != nil {
		li = a.liningSample(m)
		a.layLayer(c, lining, m.Lining, li)
	}
	if m.Lining == nil && m.Finish != nil && !m.Finish.Lined {
		c.SetAbsent(a.liningFacts...) // there is no lining, so nothing is unknown of it
	}
	job := a.jobOfLining(m, c)
	whole := sync.OnceValue(func() *composite {
		w := a.compose(m, sh, li)
		w.support(job, sh, li)
		return &w
	})
	c.SetLater(x.derived, len(derivedFacts), func(i int) []float64 { return derivedFacts[i].column(whole()) })
	if job != nil && m.Lining != nil {
		c.SetWord(a.jobFact, job.ID)
	}
	if m.Interfacing != nil {
		lay(c, x.interfacing, interfacingFacts, m.Interfacing)
	}
	if m.Seam != nil {
		lay(c, x.seam, seamFacts, m.Seam)
	}
	if m.Edge != nil {
		lay(c, x.edge, seamFacts, m.Edge)
	}
	return c, whole
}

// layLayer sets what is known of a layer.
func (a *Adviser) layLayer(c *rules.Case, layer int, s *fibres.Subject, sm *fibres.Sample) {
	lay(c, a.at.layer[layer], layerFacts, content(s))
	c.SetLater(a.at.property[layer], len(layerProperties), func(i int) []float64 { return sm.Of(layerProperties[i]) })
}
