package advise

import (
	"math"
	"sync"

	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// samples keeps the drawn population of each plain cloth name, since `advise`
// and `pair` meet the same cloth many times.
type samples struct {
	mu sync.Mutex
	m  map[sampleKey]func() *fibres.Sample
}

type sampleKey struct {
	cloth string
	salt  fibres.Salt
}

// kept reports whether the sample of a subject is kept: that of a name, of which
// nothing more is known, is the same for every question.
func kept(s *fibres.Subject) bool {
	return s.Cloth != nil && len(s.Known) == 0 && s.Content == nil
}

func (a *Adviser) sample(s *fibres.Subject, salt fibres.Salt) *fibres.Sample {
	if !kept(s) {
		return a.Cat.Sample(*s, salt)
	}
	k := sampleKey{s.Cloth.ID, salt}
	a.samples.mu.Lock()
	get := a.samples.m[k]
	if get == nil {
		if a.samples.m == nil {
			a.samples.m = map[sampleKey]func() *fibres.Sample{}
		}
		cloth := s.Cloth
		get = sync.OnceValue(func() *fibres.Sample { return a.Cat.Sample(fibres.Subject{Cloth: cloth}, salt) })
		a.samples.m[k] = get
	}
	a.samples.mu.Unlock()
	return get()
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

// whole holds the make-up's own columns, one value for each member or one for
// all; nil is not known.
type whole struct {
	mass, bend, stand, fold, thick, gap, press, hand, show, wash []float64

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
func (a *Adviser) compose(m MakeUp, sh, li *fibres.Sample) whole {
	var w whole
	if sh == nil {
		return w
	}
	ns, nl := layersOf(m)
	sm, sc := sh.Values[fibres.Mass], sh.Values[fibres.BendingLength]
	var lm, lc []float64
	if nl > 0 && li != nil {
		lm, lc = li.Values[fibres.Mass], li.Values[fibres.BendingLength]
		w.mass = each(func(i int) float64 { return float64(ns)*value(sm, i) + value(lm, i) }, sm, lm)
	} else {
		w.mass = each(func(i int) float64 { return float64(ns) * value(sm, i) }, sm)
	}
	joint, joins := jointOf(m)
	joins = joins && ns+nl > 1
	under := 1.0 // an underlining mounted on the shell stiffens all of it
	if m.Interfacing != nil && m.Interfacing.Role == "underlining" && m.Interfacing.Stiffness > 0 {
		under = math.Cbrt((1 + m.Interfacing.Stiffness) / (1 + 0.5*(m.Interfacing.MassLow+m.Interfacing.MassHigh)/150))
	}
	var bond *[fibres.N]float64
	if joins {
		bond = a.tables.bonds(joint)
	}
	// As hang.StackJoined for each member, see TestStackIsThatOfHang: loose layers
	// add rigidity and mass, and the joining gives part of what one solid sheet of
	// all of them would have more.
	stack := func(i int) float64 {
		c, n := value(sc, i), float64(ns)
		if nl == 0 || lc == nil {
			if bond != nil {
				c *= math.Cbrt(1 + bond[i]*(n*n-1))
			}
			return c * under
		}
		g, l, d := value(sm, i), value(lm, i), value(lc, i)
		rigid := n*g*c*c*c + l*d*d*d
		if bond != nil {
			solid := n*c + math.Cbrt(l/g)*d
			rigid += bond[i] * (g*solid*solid*solid - rigid)
		}
		return math.Cbrt(rigid/(n*g+l)) * under
	}
	if nl > 0 && li != nil {
		w.bend = each(stack, sc, sm, lm, lc, spreadColumn(joins))
	} else {
		w.bend = each(stack, sc, spreadColumn(joins))
	}
	if w.bend != nil {
		w.hand = each(func(i int) float64 { return float64(hang.Band(units.Length(value(w.bend, i))) - hang.Fluid) }, w.bend)
		if m.Piece != nil && m.Piece.Flap > 0 {
			strip, g, k := a.strip(m, ns+nl)
			stand := a.tables.standOff(flapKind{m.Piece.Flap, strip, g, k})
			w.stand = each(func(i int) float64 { return stand.at(value(w.bend, i)) }, w.bend)
		}
		if a.foldAsked {
			w.fold = foldWidth(m.Piece, w.bend)
		}
	}
	st := sh.Values[fibres.Thickness]
	w.thick = each(func(i int) float64 { return float64(ns) * value(st, i) }, st)
	w.press, w.show, w.wash = sh.Values[fibres.PressingLimit], sh.Values[fibres.ShowThrough], sh.Values[fibres.Wash]
	if nl > 0 && li != nil {
		lt := li.Values[fibres.Thickness]
		w.thick = each(func(i int) float64 { return float64(ns)*value(st, i) + value(lt, i) }, st, lt)
		least := func(p fibres.Property) []float64 {
			x, y := sh.Values[p], li.Values[p]
			if x == nil || y == nil {
				return nil
			}
			return each(func(i int) float64 { return math.Min(value(x, i), value(y, i)) }, x, y)
		}
		w.press, w.show, w.wash = least(fibres.PressingLimit), least(fibres.ShowThrough), least(fibres.Wash)
		if edge := longestEdge(m.Piece); edge > 0 {
			w.dry = notWashed(sh) || notWashed(li)
			w.gap = a.gap(m, sh, li, edge, w.dry)
		}
	}
	return w
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
		return []float64{1}
	}
	return make([]float64, fibres.N)
}

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
	if m.Interfacing != nil && m.Interfacing.Role == "interfacing" && m.Interfacing.Stiffness > 0 {
		g += m.Interfacing.Stiffness
	}
	return min(m.Finish.StripWidth, m.Piece.Flap/2), g, k
}

// notWashed reports whether cloth of the name is commonly dry-cleaned.
func notWashed(s *fibres.Sample) bool {
	e := s.From[fibres.Wash]
	return e.Known() && fibres.WashScale.Word(e.Typical) == "dry-clean"
}

// gap is how far shell and lining part on the longest edge in the first wash, or
// in dry-cleaning, in mm, for the worse of the two directions.
func (a *Adviser) gap(m MakeUp, sh, li *fibres.Sample, edge units.Length, dry bool) []float64 {
	one := func(p fibres.Property, direction string) []float64 {
		x, y := sh.Values[p], li.Values[p]
		f, g := 1.0, 1.0
		if dry {
			f, g = a.dryPart(m.Shell, sh.From[p], direction), a.dryPart(m.Lining, li.From[p], direction)
		}
		return each(func(i int) float64 {
			return math.Abs(f*value(x, i)-g*value(y, i)) / 100 * float64(edge) * 10
		}, x, y)
	}
	u, v := one(fibres.ShrinkWarp, "warp"), one(fibres.ShrinkWeft, "weft")
	return each(func(i int) float64 { return math.Max(value(u, i), value(v, i)) }, u, v)
}

// dryPart is the part of what a cloth loses in the first wash that dry-cleaning
// takes: as the names' typical figures lie to each other. Dry-cleaning ends in
// steam, so where nobody tells of the one, the other stands for it. What was
// measured of the cloth stays.
func (a *Adviser) dryPart(s *fibres.Subject, wash fibres.Estimate, direction string) float64 {
	if s == nil || !wash.Known() || wash.Typical <= 0 || wash.Basis == fibres.Measured {
		return 1
	}
	for _, method := range []string{"dry-clean", "steam"} {
		if e, ok := a.Cat.Shrink(*s, direction, method); ok {
			return min(1, e.Typical/wash.Typical)
		}
	}
	return 1
}

// longestEdge is the longest side of the piece's largest part.
func longestEdge(p *Piece) units.Length {
	var l units.Length
	if p != nil {
		for _, x := range p.Parts {
			l = max(l, x.Width, x.Height)
		}
	}
	return l
}

// build gathers every fact of a make-up.
func (a *Adviser) build(m MakeUp) (*rules.Case, whole) {
	c := a.schema.NewCase(fibres.N)
	x := a.at
	if m.Piece != nil {
		a.setPiece(c, m.Piece)
	}
	switch {
	case m.Wearer != "":
		c.SetWord(x.wearer, m.Wearer)
	case m.Piece != nil && m.Piece.Wearer != "none":
		c.SetWord(x.wearer, m.Piece.Wearer)
	}
	if m.Finish != nil {
		a.setFinish(c, m.Finish)
	}
	var sh, li *fibres.Sample
	if m.Shell != nil {
		sh = a.sample(m.Shell, fibres.ShellSalt)
		a.layer(c, &x.layer[0], m.Shell, sh)
	}
	if m.Lining != nil {
		li = a.sample(m.Lining, fibres.LiningSalt)
		a.layer(c, &x.layer[1], m.Lining, li)
	}
	if m.Lining == nil && m.Finish != nil && !m.Finish.Lined {
		c.SetAbsent(a.liningFacts...) // there is no lining, so nothing is unknown of it
	}
	w := a.compose(m, sh, li)
	for _, y := range []struct {
		at int
		v  []float64
	}{{x.mMass, w.mass}, {x.mBend, w.bend}, {x.mStand, w.stand}, {x.mFold, w.fold}, {x.mThick, w.thick}, {x.mGap, w.gap},
		{x.mPress, w.press}, {x.mHand, w.hand}, {x.mShow, w.show}, {x.mWash, w.wash}} {
		if y.v != nil {
			c.SetNumber(y.at, y.v...)
		}
	}
	if m.Interfacing != nil {
		a.setInterfacing(c, m.Interfacing)
	}
	if m.Seam != nil {
		a.setSeam(c, 0, m.Seam)
	}
	if m.Edge != nil {
		a.setSeam(c, 1, m.Edge)
	}
	return c, w
}

func (a *Adviser) setPiece(c *rules.Case, p *Piece) {
	x := a.at
	c.SetWord(x.piece, p.ID)
	c.SetWord(x.pGroup, p.Group)
	c.SetWord(x.pShape, p.Shape)
	c.SetWord(x.pSupport, p.Support)
	c.SetWord(x.pWash, p.Wash)
	c.SetWord(x.pWearer, p.Wearer)
	c.SetSet(x.pFeatures, p.Features...)
	c.SetNumber(x.pFaces, float64(p.Faces))
	c.SetNumber(x.pHang, float64(p.Hang))
	c.SetNumber(x.pFlap, float64(p.Flap))
	c.SetFlag(x.pStage, p.Stage)
}

func (a *Adviser) setFinish(c *rules.Case, f *Finish) {
	x := a.at
	c.SetWord(x.finish, f.ID)
	c.SetFlag(x.fLined, f.Lined)
	c.SetFlag(x.fTurned, f.Turned)
	c.SetFlag(x.fReversible, f.Reversible)
	c.SetNumber(x.fLayers, float64(f.Layers))
	c.SetWord(x.fJoined, f.Joined)
	c.SetWord(x.fEdge, f.Edge)
}

func (a *Adviser) layer(c *rules.Case, l *layerFacts, s *fibres.Subject, sm *fibres.Sample) {
	if k := s.Cloth; k != nil {
		c.SetWord(l.cloth, k.ID)
		c.SetWord(l.structure, k.Structure.ID)
		c.SetWord(l.class, k.Structure.Class)
		c.SetWord(l.group, k.Group)
		var tr []string
		for _, t := range k.Treatments {
			tr = append(tr, t.ID)
		}
		c.SetSet(l.treatment, tr...)
	}
	if made := s.Made(); len(made) > 0 {
		var fib, fam []string
		felts := -1
		for _, p := range made {
			if p.Share.Typical >= 20 || (p.Fibre.ID == "elastane" && p.Share.Typical > 0) {
				fib = append(fib, p.Fibre.ID)
				if !in(p.Fibre.Family, fam) {
					fam = append(fam, p.Fibre.Family)
				}
			}
			if p.Share.Typical >= 50 {
				felts = max(felts, p.Fibre.Felts)
			}
		}
		c.SetSet(l.fibre, fib...)
		c.SetSet(l.family, fam...)
		if felts >= 0 {
			c.SetNumber(l.felts, float64(felts))
		}
	}
	if v, ok := fibres.LightnessScale.Level(s.Lightness); ok {
		c.SetNumber(l.lightness, float64(v))
	}
	for _, p := range layerProps {
		if v := sm.Values[p]; v != nil {
			c.SetNumber(l.props[p], v...)
		}
	}
}

func (a *Adviser) setInterfacing(c *rules.Case, f *Interfacing) {
	x := a.at
	c.SetWord(x.interfacing, f.ID)
	c.SetWord(x.iAttach, f.Attach)
	c.SetWord(x.iStructure, f.Structure)
	c.SetWord(x.iRole, f.Role)
	if f.MassHigh > 0 {
		c.SetNumber(x.iMass, math.Sqrt(f.MassLow*f.MassHigh))
	}
	if f.HeatHigh > 0 {
		c.SetNumber(x.iHeat, f.HeatLow)
	}
	if f.Wash >= 0 {
		c.SetNumber(x.iWash, float64(f.Wash))
	}
	if f.Hand >= 0 {
		c.SetNumber(x.iHand, float64(f.Hand))
	}
}

func (a *Adviser) setSeam(c *rules.Case, which int, s *Seam) {
	x := &a.at.s[which]
	if which == 0 {
		c.SetWord(a.at.seam, s.ID)
	} else {
		c.SetWord(a.at.edge, s.ID)
	}
	if s.FrayHeld >= 0 {
		c.SetNumber(x.held, float64(s.FrayHeld))
	}
	if s.Bulk >= 0 {
		c.SetNumber(x.bulk, float64(s.Bulk))
	}
	c.SetFlag(x.sheer, s.Sheer)
	c.SetFlag(x.reversible, s.Reversible)
	if s.Curve >= 0 {
		c.SetNumber(x.curve, float64(s.Curve))
	}
	c.SetNumber(x.layers, float64(s.Layers))
	if s.MassHigh > 0 {
		c.SetNumber(x.massLow, s.MassLow)
		c.SetNumber(x.massHigh, s.MassHigh)
	}
	if s.AllowanceHigh > 0 {
		c.SetNumber(x.allowance, float64(s.AllowanceHigh)*10)
	}
}
