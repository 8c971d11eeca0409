package sheet

import (
	"net/url"
	"slices"
	"sort"
	"strings"
	"sync"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/memo"
)

// Link is a thing that a page can point at.
type Link struct {
	Kind, ID, Name, Say string
}

// Path is the page of the thing.
func (l Link) Path() string { return "/" + l.Kind + "/" + url.PathEscape(l.ID) }

// Group is several links that stand to a thing in one relation.
type Group struct {
	Title string
	Links []Link
}

// Kind is one kind of thing: its word, its plural, which is also its list's
// address, and what it is.
type Kind struct{ One, Many, Say string }

// Kinds lists the kinds of things, in the order in which they are offered.
var Kinds = []Kind{
	{"cloth", "cloths", "names that cloth is sold under, each a whole population"},
	{"fibre", "fibres", "what yarn is made of"},
	{"structure", "structures", "how yarns are joined to cloth"},
	{"treatment", "treatments", "what is done to cloth in the mill"},
	{"piece", "pieces", "what can be made"},
	{"finish", "finishes", "how a piece is made up"},
	{"seam", "seams", "ways to join two edges"},
	{"edge", "edges", "ways to finish one edge"},
	{"interfacing", "interfacings", "what is put behind or between"},
	{"rule", "rules", "the advice, as data that you can question"},
	{"term", "terms", "words of the trade, and where the UK and the US differ"},
	{"source", "sources", "where the figures come from"},
	{"test", "tests", "home tests of five minutes that settle a doubt"},
}

// KindOf finds a kind by its word or its plural.
func KindOf(word string) (Kind, bool) {
	for _, k := range Kinds {
		if k.One == word || k.Many == word {
			return k, true
		}
	}
	return Kind{}, false
}

// web is everything there is, by address, with how one thing leads to another.
type web struct {
	things map[string]Link // by kind/id
	order  map[string][]Link
	kinds  func() map[string]string    // fact → kind of the ids it takes
	called memo.Cache[string, *called] // by kind
}

type lead struct{ relation, to string }

// relations are the titles of groups, in the order in which they are told.
var relations = []string{"made of", "structure", "treatment", "easily confused with", "see also", "speaks of",
	"cloths made of it", "cloths of this structure", "cloths treated so", "rules that speak of it", "terms that lead here"}

func (k *Site) links() *web {
	k.once.Do(func() { k.web = k.weave() })
	return k.web
}

func (k *Site) weave() *web {
	w := &web{things: map[string]Link{}, order: map[string][]Link{}, kinds: sync.OnceValue(func() map[string]string {
		kinds := map[string]string{}
		for _, f := range k.Adv.Facts() {
			kinds[f.Name] = f.Ids
		}
		return kinds
	})}
	put := func(kind, id, name, say string) {
		l := Link{kind, id, name, say}
		w.things[kind+"/"+id] = l
		w.order[kind] = append(w.order[kind], l)
	}
	cat := k.Adv.Cat
	for _, c := range cat.ClothList() {
		put("cloth", c.ID, c.Name, c.Describe)
	}
	for _, id := range sortedKeys(cat.Fibres) {
		put("fibre", id, cat.Fibres[id].Name, cat.Fibres[id].Family)
	}
	for _, id := range sortedKeys(cat.Structures) {
		put("structure", id, cat.Structures[id].Name, cat.Structures[id].Definition)
	}
	for _, id := range sortedKeys(cat.Treatments) {
		put("treatment", id, cat.Treatments[id].Name, cat.Treatments[id].Definition)
	}
	for _, p := range k.Adv.Pieces {
		put("piece", p.ID, p.Name, p.Say)
	}
	for _, f := range k.Adv.Finishes {
		put("finish", f.ID, f.Name, f.Say)
	}
	for _, s := range k.Adv.Seams {
		put(s.Kind, s.ID, s.Name, s.Say)
	}
	for _, x := range k.Adv.Interfacings {
		put("interfacing", x.ID, x.Name, x.Say)
	}
	for _, r := range k.Adv.Rules {
		put("rule", r.ID, strings.ReplaceAll(r.ID, "-", " "), r.Say)
	}
	for _, id := range sortedKeys(cat.Terms) {
		put("term", id, cat.Terms[id].Name, cat.Terms[id].Meaning)
	}
	for _, id := range sortedKeys(cat.Sources) {
		put("source", id, cat.Sources[id].Title, strings.TrimSpace(cat.Sources[id].Author+" "+cat.Sources[id].Year))
	}
	for _, id := range fibres.TestIDs() {
		put("test", id, fibres.Tests[id].Name, fibres.Tests[id].How)
	}
	return w
}

// leadsOf finds what a thing leads to and what leads to it. A page asks for one thing
// only, so the links of all others are not drawn for it.
func (w *web) leadsOf(k *Site, me string) (out []lead) {
	both := func(a, there, b, back string) {
		if a == b || a != me && b != me {
			return
		}
		if b == me {
			there, b = back, a
		}
		if _, ok := w.things[b]; ok && !slices.Contains(out, lead{there, b}) {
			out = append(out, lead{there, b})
		}
	}
	for _, c := range k.Adv.Cat.ClothList() {
		cloth := "cloth/" + c.ID
		both(cloth, "structure", "structure/"+c.Structure.ID, "cloths of this structure")
		for _, p := range c.Content {
			if p.Share.Typical >= 1 {
				both(cloth, "made of", "fibre/"+p.Fibre.ID, "cloths made of it")
			}
		}
		for _, t := range c.Treatments {
			both(cloth, "treatment", "treatment/"+t.ID, "cloths treated so")
		}
		for _, o := range c.ConfusedWith {
			both(cloth, "easily confused with", "cloth/"+o, "easily confused with")
		}
	}
	for _, id := range sortedKeys(k.Adv.Cat.Terms) {
		for _, o := range k.Adv.Cat.Terms[id].SeeAlso {
			for _, kind := range Kinds {
				both("term/"+id, "see also", kind.One+"/"+o, "terms that lead here")
			}
		}
	}
	kinds := w.kinds()
	for _, r := range k.Adv.Rules {
		for _, c := range r.When() {
			kind := kinds[c.Fact]
			if kind == "" {
				continue
			}
			for _, word := range strings.Fields(c.Words) {
				both("rule/"+r.ID, "speaks of", kind+"/"+word, "rules that speak of it")
			}
		}
	}
	return out
}

// LinkOf is the page of a subject: of the swatch, or of the cloth of the name.
func (k *Site) LinkOf(s *fibres.Subject) Link {
	switch {
	case s == nil:
		return Link{}
	case s.Swatch:
		return Link{Kind: "swatch", ID: s.Name, Name: s.Name}
	case s.Cloth != nil:
		l, _ := k.Link("cloth", s.Cloth.ID)
		return l
	}
	return Link{Name: s.Label()}
}

// Link finds a thing by kind and id.
func (k *Site) Link(kind, id string) (Link, bool) {
	l, ok := k.links().things[kind+"/"+id]
	return l, ok
}

// Things lists every thing of a kind.
func (k *Site) Things(kind string) []Link { return k.links().order[kind] }

// SeeAlso lists what a thing leads to and what leads to it, but for the
// relations left out.
func (k *Site) SeeAlso(kind, id string, without ...string) []Group {
	w := k.links()
	by := map[string][]Link{}
	for _, l := range w.leadsOf(k, kind+"/"+id) {
		by[l.relation] = append(by[l.relation], w.things[l.to])
	}
	var out []Group
	for _, r := range relations {
		if len(by[r]) > 0 && !contains(without, r) {
			sort.SliceStable(by[r], func(i, j int) bool { return by[r][i].Name < by[r][j].Name })
			out = append(out, Group{r, by[r]})
		}
	}
	return out
}

// called are the names of the things of some kinds, and what is called so.
type called struct {
	names []string // folded
	by    map[string][]Link
}

func (c *called) add(name string, l Link) {
	n := fibres.FoldName(name)
	if n == "" {
		return
	}
	if c.by[n] == nil {
		c.names = append(c.names, n)
	}
	c.by[n] = append(c.by[n], l)
}

// calledOf lists the names of one kind, or of all that people look for where kind is
// empty.
func (k *Site) calledOf(kind string) *called {
	w := k.links()
	return w.called.Get(kind, func() *called {
		c := &called{by: map[string][]Link{}}
		for _, kd := range Kinds {
			if (kind != "" && kd.One != kind) || (kind == "" && (kd.One == "rule" || kd.One == "source")) {
				continue
			}
			for _, l := range w.order[kd.One] {
				c.add(l.ID, l)
				c.add(l.Name, l)
			}
			if kd.One == "cloth" {
				for _, cl := range k.Adv.Cat.ClothList() {
					for _, n := range cl.Names() {
						c.add(n, w.things["cloth/"+cl.ID])
					}
				}
			}
		}
		return c
	})
}

// Near lists things whose names lie nearest to a word: of one kind, or of all
// where kind is empty.
func (k *Site) Near(word, kind string) []Link {
	const maxLinks = 6
	c := k.calledOf(kind)
	var out []Link
	for _, n := range fault.Near(fibres.FoldName(word), c.names, 2*maxLinks) {
		for _, l := range c.by[n] {
			if len(out) < maxLinks && !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return out
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func contains(list []string, x string) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}
