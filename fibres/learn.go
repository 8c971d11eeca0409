package fibres

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// Lesson is what a measured swatch of the user's may teach of the cloths that
// count as like it: the name it was sold under, its label, and what was measured.
type Lesson struct {
	Swatch  string
	Cloth   *Cloth
	Content []Part // its label; nil is as the name has it
	Known   map[Property]Estimate
}

// How like names teach each other. All of it is practice: no set that was read has
// several cloths of many names from one buyer's cupboard.
const (
	// offsetShare is which part of the spread that an estimate claims for a name
	// lies in where the user's cloths of it lie: their shops, their taste, the
	// doubt about the name itself. The rest are cloths that differ however well
	// the name is known, and no lesson narrows it.
	offsetShare = 0.5

	// Likeness, the correlation of two names' offsets: that of a name with itself
	// is 1.
	sameName       = 0.5
	sameStructure  = 0.25
	sharedFamilies = 0.25

	// maxNames is how many names take part, those with the most swatches first.
	maxNames = 400
)

// learns are the properties that lessons move.
var learns = []Property{Mass, BendingLength}

// lessons is what was learned of one property, ready to be asked.
type lessons struct {
	names  []namesake
	factor [][]float64 // Cholesky factor of K + D, lower
	alpha  []float64   // (K + D)⁻¹ r
}

// namesake is what is learned from the swatches of one name.
type namesake struct {
	cloth    *Cloth
	own      string // the label, where it makes another cloth of it
	family   map[string]float64
	sd       float64 // of the name's population, in ln
	offset   float64 // mean of ln(measured) − ln(predicted)
	noise    float64 // variance of that mean
	swatches []string
}

// Learned returns a catalogue whose predictions for cloths that nobody measured
// are shifted and narrowed by the user's own measured swatches; the catalogue
// itself is not changed.
//
//	δ ~ N(0, K),  K = s s' · (½ same name + ¼ same structure + ¼ families shared),  s² = ½ sd²
//	r = δ + e,    e² = (½ sd² + error²) / n      over the n swatches of a name
//	shift = k' (K + D)⁻¹ r,  narrower by k' (K + D)⁻¹ k
//
// Given: the swatches; sd is the spread that the estimate of a name claims, in ln.
//
// This is the usual estimate with shrinkage: one swatch moves its own name by
// about half of how far it lies off, names like it by less, strangers not at all. The
// spread of cloths within a name stays however many were measured.
func (c *Catalogue) Learned(list []Lesson) *Catalogue {
	base := c.Unlearned()
	out := *base
	out.base = base
	out.learned = map[Property]*lessons{}
	for _, p := range learns {
		if l := base.learn(p, list); l != nil {
			out.learned[p] = l
		}
	}
	if len(out.learned) == 0 {
		return base
	}
	return &out
}

// Unlearned returns the catalogue without what was learned.
func (c *Catalogue) Unlearned() *Catalogue {
	if c.base != nil {
		return c.base
	}
	return c
}

func (c *Catalogue) learn(p Property, list []Lesson) *lessons {
	type sums struct {
		namesake
		weight, mean float64
	}
	by := map[string]*sums{}
	var order []string
	for _, x := range list {
		e, ok := x.Known[p]
		if !ok && p == BendingLength {
			e, ok = c.fromKnown(Subject{Cloth: x.Cloth, Known: x.Known}, p)
		}
		if !ok || !e.Known() || x.Cloth == nil || !(e.Typical > 0) {
			continue
		}
		s := Subject{Cloth: x.Cloth, Content: x.Content}.labelled()
		key := s.Cloth.ID
		if s.other {
			key += "/" + fmt.Sprint(familiesOf(s.Cloth))
		}
		g := by[key]
		if g == nil {
			was := c.Estimate(Subject{Cloth: x.Cloth}, p)
			if !was.Known() || !(was.Low > 0) {
				continue
			}
			g = &sums{namesake: namesake{cloth: s.Cloth, family: familiesOf(s.Cloth), sd: sdOf(was), offset: math.Log(was.Typical)}}
			if s.other {
				g.own = key
			}
			by[key] = g
			order = append(order, key)
		}
		within := (1 - offsetShare) * g.sd * g.sd
		w := 1 / (within + sdOf(e)*sdOf(e) + 1e-6)
		g.weight += w
		g.mean += w * math.Log(e.Typical)
		g.swatches = append(g.swatches, x.Swatch)
	}
	if len(order) == 0 {
		return nil
	}
	sort.SliceStable(order, func(i, j int) bool { return len(by[order[i]].swatches) > len(by[order[j]].swatches) })
	l := &lessons{}
	for _, k := range order[:min(len(order), maxNames)] {
		g := by[k]
		g.offset = g.mean/g.weight - g.offset
		g.noise = 1 / g.weight
		l.names = append(l.names, g.namesake)
	}
	if !l.fit() {
		return nil
	}
	return l
}

// fit solves for the offsets of all names together; ok is false where they cannot be.
func (l *lessons) fit() (ok bool) {
	n := len(l.names)
	m := make([][]float64, n)
	r := make([]float64, n)
	for i := range l.names {
		m[i] = make([]float64, n)
		for j := range l.names {
			m[i][j] = l.names[i].with(&l.names[j])
		}
		m[i][i] += l.names[i].noise
		r[i] = l.names[i].offset
	}
	if l.factor = cholesky(m); l.factor == nil {
		return false
	}
	l.alpha = solve(l.factor, r)
	return true
}

// familiesOf is which part of a cloth each family of fibre makes, so that its
// product with itself is 1; nil where its content is not known.
func familiesOf(k *Cloth) map[string]float64 {
	m := map[string]float64{}
	for _, p := range k.Content {
		m[p.Fibre.Family] += p.Share.Typical
	}
	sum := 0.0
	for _, v := range m {
		sum += v * v
	}
	if sum == 0 {
		return nil
	}
	for f := range m {
		m[f] /= math.Sqrt(sum)
	}
	return m
}

// like is the correlation of two names' offsets, 0 to 1.
func (a *namesake) like(b *namesake) float64 {
	out := 0.0
	if a.cloth.ID == b.cloth.ID && a.own == b.own {
		out += sameName
	}
	if a.cloth.Structure.ID != "" && a.cloth.Structure.ID == b.cloth.Structure.ID {
		out += sameStructure
	}
	for f, v := range a.family {
		out += sharedFamilies * v * b.family[f]
	}
	return out
}

// with is the covariance of two names' offsets.
func (a *namesake) with(b *namesake) float64 { return offsetShare * a.sd * b.sd * a.like(b) }

// applyLessons shifts and narrows an estimate by what was learned of names like it.
func (c *Catalogue) applyLessons(s Subject, p Property, e Estimate, ch *chain) Estimate {
	l := c.learned[p]
	if l == nil || s.Cloth == nil || !e.Known() || !(e.Low > 0) || e.Low == e.High {
		return e
	}
	own := ""
	if s.other {
		own = s.Cloth.ID + "/" + fmt.Sprint(familiesOf(s.Cloth))
	}
	me := namesake{cloth: s.Cloth, own: own, family: familiesOf(s.Cloth), sd: sdOf(e)}
	k := make([]float64, len(l.names))
	any := false
	for i := range l.names {
		k[i] = me.with(&l.names[i])
		any = any || k[i] > 0
	}
	if !any {
		return e
	}
	shift := dot(k, l.alpha)
	gain := dot(k, solve(l.factor, k))
	narrow := math.Sqrt(math.Max(0, 1-gain/(me.sd*me.sd)))
	if math.Abs(shift) < 0.005 && narrow > 0.995 {
		return e
	}
	t := e.Typical * math.Exp(shift)
	out := Figure(p, t*math.Pow(e.Low/e.Typical, narrow), t, t*math.Pow(e.High/e.Typical, narrow), Derived, "", e.Sources...)
	out.Differ, out.Locator, out.Note, out.Word, out.Given = e.Differ, e.Locator, e.Note, e.Word, e.Given
	why := l.why(&me, k)
	ch.add("your own swatches of names like it", fmt.Sprintf("%s; so the range moves by %s and is %.0f %% narrower: %s", why, times(shift), 100*(1-narrow), out.Say()), true)
	out.Because = e.Because + fmt.Sprintf("; moved by %s by your own swatches", times(shift))
	return out
}

// times says a shift in ln as a part of the figure.
func times(ln float64) string {
	v := 100 * (math.Exp(ln) - 1)
	switch {
	case math.Abs(v) < 0.5:
		return "less than 1 %"
	case v > 0:
		return fmt.Sprintf("+%.0f %%", v)
	}
	return fmt.Sprintf("−%.0f %%", -v)
}

// why says which names moved an estimate most, with what they showed.
func (l *lessons) why(me *namesake, k []float64) string {
	at := make([]int, len(l.names))
	weight := make([]float64, len(l.names))
	for i := range at {
		at[i] = i
		weight[i] = math.Abs(k[i] * l.alpha[i])
		if k[i] == 0 {
			weight[i] = -1
		}
	}
	sort.SliceStable(at, func(i, j int) bool { return weight[at[i]] > weight[at[j]] })
	var parts []string
	left := 0
	for _, i := range at {
		g := &l.names[i]
		if k[i] == 0 {
			continue
		}
		if len(parts) == 3 {
			left += len(g.swatches)
			continue
		}
		names := g.swatches
		more := ""
		if len(names) > 3 {
			names, more = names[:3], fmt.Sprintf(" and %d more", len(g.swatches)-3)
		}
		parts = append(parts, fmt.Sprintf("%s%s, sold as %s (%s), %s from what the name says", strings.Join(names, ", "), more, g.cloth.Name, me.shared(g), times(g.offset)))
	}
	out := strings.Join(parts, "; ")
	if left > 0 {
		out += fmt.Sprintf("; and %d of names less like it", left)
	}
	return out
}

// shared says in what two names are alike.
func (a *namesake) shared(b *namesake) string {
	if a.cloth.ID == b.cloth.ID && a.own == b.own {
		return "the same name"
	}
	var out []string
	if a.cloth.Structure.ID == b.cloth.Structure.ID {
		out = append(out, b.cloth.Structure.Name)
	}
	best, much := "", 0.0
	for _, f := range keys(a.family) { // in order, so that the words do not change from run to run
		if v := a.family[f] * b.family[f]; v > much {
			best, much = f, v
		}
	}
	if best != "" {
		out = append(out, best+" fibre")
	}
	return strings.Join(out, ", ")
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// cholesky factors a symmetric matrix as L L', or returns nil where it is not
// positive.
func cholesky(m [][]float64) [][]float64 {
	n := len(m)
	l := make([][]float64, n)
	for i := range n {
		l[i] = make([]float64, i+1)
		for j := 0; j <= i; j++ {
			s := m[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				if !(s > 0) {
					return nil
				}
				l[i][i] = math.Sqrt(s)
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l
}

// solve solves L L' x = b.
func solve(l [][]float64, b []float64) []float64 {
	n := len(b)
	x := append([]float64(nil), b...)
	for i := range n {
		for k := range i {
			x[i] -= l[i][k] * x[k]
		}
		x[i] /= l[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
	return x
}
