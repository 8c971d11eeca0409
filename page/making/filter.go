package making

import (
	"slices"
	"sort"
	"strings"

	"tenter/fibres"
	"tenter/fibres/price"
	"tenter/fibres/units"
	"tenter/kb/search"
	"tenter/page/address"
	"tenter/page/question"
	"tenter/page/sheet"
)

// The keys that narrow the cloths.
const (
	keyFibre, keySort, keyWash, keyWidth, keyCount, keyOwn = "fibre", "sort", "wash", "least-width", "count", "own"
	keyMaxPrice, keyFind                                   = "most-price", "find"
)

// filterKeys are the fields of the form that narrows, in its order, for a layer.
func (l layer) filterKeys() []string {
	return []string{keyFind, keyOwn, l.mass, l.drop, l.feels, keyFibre, keySort, keyWash, keyWidth, keyMaxPrice}
}

// Carried is what the form that narrows carries along.
func (v *View) Carried() []address.Pair {
	return v.Carry(append(v.Choice.filterKeys(), keyCount)...)
}

// filterForm fills the form with what the address says.
func (v *View) filterForm() {
	c := &v.Choice
	c.Find, c.Mass, c.Drop, c.Width, c.Price = v.Get(keyFind), v.Get(c.mass), v.Get(c.drop), v.Get(keyWidth), v.Get(keyMaxPrice)
	c.Own, c.HasOwn = v.Get(keyOwn) != "", v.HasOwn()
	for _, l := range v.Things("fibre") {
		c.Fibres = append(c.Fibres, sheet.Option{Value: l.ID, Word: l.Name, Chosen: l.ID == v.Get(keyFibre)})
	}
	sorts := map[string]bool{}
	for _, k := range v.Adv.Shells() {
		sorts[k.Group] = true
	}
	for s := range sorts {
		c.Sorts = append(c.Sorts, sheet.Option{Value: s, Word: s, Chosen: s == v.Get(keySort)})
	}
	sort.Slice(c.Sorts, func(i, j int) bool { return c.Sorts[i].Word < c.Sorts[j].Word })
	for _, w := range washes {
		c.Washes = append(c.Washes, sheet.Option{Value: w.word, Word: w.word, Chosen: w.word == v.Get(keyWash)})
	}
	c.Feels = sheet.WordOptions(v.Get(c.feels), fibres.HandScale...)
	var forget []string
	for _, key := range c.filterKeys() {
		c.Narrowed = c.Narrowed || v.Get(key) != ""
		forget = append(forget, key, "")
	}
	c.Forget = v.With(append(forget, keyCount, "")...)
}

// washes are the words of the wash filter with the least level they want.
var washes = []struct {
	word  string
	level float64
}{{"by hand or machine", 1}, {"in the machine, cool", 2}, {"in the machine, warm", 3}, {"hot", 4}}

// wish is what the address asks of the cloths; zero asks nothing.
type wish struct {
	fibre, sort       string
	wash              float64 // least level
	massLow, massHigh float64
	width             float64
	bendLow, bendHigh float64
	find              string // words of its name
	own               bool   // of the user's swatches alone
	price             *price.Price
}

func (v *View) wish() wish {
	w := wish{fibre: strings.ToLower(v.Get(keyFibre)), sort: v.Get(keySort), own: v.Get(keyOwn) != "", find: v.Get(keyFind)}
	for _, x := range washes {
		if x.word == v.Get(keyWash) {
			w.wash = x.level
		}
	}
	if s := v.Get(v.Choice.mass); s != "" {
		if r, err := address.ParseMass(s, v.Units); err != nil {
			v.trouble(v.Choice.mass, s, err)
		} else {
			w.massLow, w.massHigh = float64(r.Low), float64(r.High)
		}
	}
	if r := v.bending(); r != nil {
		w.bendLow, w.bendHigh = float64(r.Low), float64(r.High)
	}
	if s := v.Get(v.Choice.drop); s != "" {
		if _, err := address.ParseDrop(s, v.Units); err != nil {
			v.trouble(v.Choice.drop, s, err)
		}
	}
	if s := v.Get(keyWidth); s != "" {
		if l, err := address.ParseWidth(s, v.Units); err != nil {
			v.trouble(keyWidth, s, err)
		} else {
			w.width = float64(l)
		}
	}
	if s := v.Get(keyMaxPrice); s != "" {
		if p, err := address.ParsePrice(s, v.Units); err != nil {
			v.trouble(keyMaxPrice, s, err)
		} else {
			w.price, v.Choice.priceIn = &p, p
		}
	}
	return w
}

// layer is the keys of the layer to choose.
func (v *View) layer() address.LayerKeys {
	if v.Choice.stage == address.StageLining {
		return address.LiningKeys
	}
	return address.ShellKeys
}

// bending is the bending length that is said of the layer to choose, or nil.
func (v *View) bending() *units.Range[units.Length] {
	r, _, _ := v.Bending(v.layer()) // what is wrong with it stands beside its field
	return r
}

// asTyped puts to a subject what the address says of the layer to choose.
func (v *View) asTyped(s *fibres.Subject) *fibres.Subject {
	return question.Narrow(v.Site, v.Ask, s, v.layer())
}

// passing tells of one cloth which wishes it passes.
type passing struct {
	*View
	s       *fibres.Subject
	unknown bool // of some property that is asked for nothing is known
}

func (p *passing) pass(of fibres.Property, ok func(fibres.Estimate) bool) bool {
	e := p.Adv.Cat.Estimate(*p.s, of)
	if !e.Known() {
		p.unknown = true
		return true
	}
	return ok(e)
}

func (p *passing) overlaps(of fibres.Property, low, high float64) bool {
	return high <= 0 || p.pass(of, func(e fibres.Estimate) bool { return e.Low <= high && e.High >= low })
}

func (p *passing) all(w wish) bool {
	c := p.s.Cloth
	switch {
	case w.fibre != "" && !holds(p.s, w.fibre), w.sort != "" && (c == nil || c.Group != w.sort):
		return false
	case w.wash > 0 && !p.pass(fibres.Wash, func(e fibres.Estimate) bool { return e.Typical >= w.wash }):
		return false
	case w.width > 0 && !p.pass(fibres.Width, func(e fibres.Estimate) bool { return e.Typical >= w.width }):
		return false
	}
	return p.overlaps(fibres.Mass, w.massLow, w.massHigh) && p.overlaps(fibres.BendingLength, w.bendLow, w.bendHigh)
}

// narrowed lists the cloths that pass the wishes, each narrowed by what is said of
// the one in hand, and counts those of which it is not known whether they do: of
// the unknown so many as no price is recorded of.
func (v *View) narrowed(w wish) (out []*fibres.Subject, unknown, unpriced int) {
	for _, s := range v.candidates(w) {
		p := passing{View: v, s: s}
		if !p.all(w) {
			continue
		}
		if !s.Swatch {
			s = v.asTyped(s)
		}
		if w.price != nil {
			cost := v.PriceOf(s, *w.price)
			if cost == nil {
				unknown++
				unpriced++
				continue
			}
			limit, _ := w.price.PerMetre()
			if per, _ := cost.PerMetre(); per > limit*(1+1e-9) {
				continue
			}
		}
		if p.unknown {
			unknown++
			continue
		}
		out = append(out, s)
	}
	return out, unknown, unpriced
}

// candidates are the cloths that may be the layer, or the user's own swatches. Who
// looks for a name finds every cloth of it and every swatch, meant for it or not.
func (v *View) candidates(w wish) []*fibres.Subject {
	if w.find != "" {
		return v.found(w)
	}
	if w.own {
		return v.OwnSubjects()
	}
	list := v.Adv.Shells()
	if v.Choice.stage == address.StageLining {
		list = v.Adv.LiningsFor(v.Made)
	}
	out := make([]*fibres.Subject, len(list))
	for i, c := range list {
		out[i] = &fibres.Subject{Cloth: c}
	}
	return out
}

// found looks a cloth up by the words of its names, and where no name has them by
// the search.
func (v *View) found(w wish) []*fibres.Subject {
	var out []*fibres.Subject
	for _, s := range v.OwnSubjects() {
		if named(w.find, s.Label()) {
			out = append(out, s)
		}
	}
	if w.own {
		return out
	}
	for _, c := range v.Adv.Cat.ClothList() {
		if named(w.find, append(c.Names(), c.ID)...) {
			out = append(out, &fibres.Subject{Cloth: c})
		}
	}
	if len(out) > 0 || v.Site.Search == nil {
		return out
	}
	ans, err := v.Site.Search(search.Query{Words: w.find, Kinds: []string{"cloth"}, Limit: 2 * perPage, Prefix: true})
	if err != nil {
		return nil
	}
	for _, h := range ans.Hits {
		if c := v.Adv.Cat.Cloths[h.ID]; c != nil {
			out = append(out, &fibres.Subject{Cloth: c})
		}
	}
	return out
}

// named reports whether one of the names holds every word.
func named(words string, names ...string) bool {
	return slices.ContainsFunc(names, func(name string) bool {
		folded := fibres.FoldName(name)
		for _, w := range strings.Fields(words) {
			if !strings.Contains(folded, fibres.FoldName(w)) {
				return false
			}
		}
		return true
	})
}

// holds reports whether a fifth or more of a cloth is of a fibre, by its own
// label where it has one.
func holds(s *fibres.Subject, fibre string) bool {
	if len(s.Content) > 0 {
		for _, p := range s.Content {
			if p.Fibre.ID == fibre && p.Share.Typical >= 20 {
				return true
			}
		}
		return false
	}
	return s.Cloth != nil && s.Cloth.Has(fibre, 20)
}

func (v *View) trouble(key, value string, err error) {
	if v.FieldErrors.At(key) == nil {
		v.FieldErrors.Add(key, value, err)
	}
}
