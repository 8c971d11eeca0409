package fibres

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// Weighted is a cloth that a shop name may mean, with its part of what is sold under
// the name: the parts of one name make 1.
type Weighted struct {
	Cloth *Cloth
	Part  float64
}

// ShopName is a name that shops give to several cloths: "taffeta" is silk, acetate,
// nylon or polyester.
type ShopName struct {
	Name string
	May  []Weighted // the likeliest first
}

// shopNames reads shop_names.csv.
func (l *loader) shopNames() {
	for _, r := range l.read("shop_names.csv", append([]string{"name", "cloth_id", "weight"}, cite...)...) {
		l.cite(r)
		name, id := r.Cell("name"), r.Cell("cloth_id")
		k := l.c.Cloths[id.Text]
		if k == nil {
			l.missing("cloth", id, fmt.Sprintf("cloth %q is not in cloths.csv", id.Text), fault.DidYouMean(id.Text, keys(l.c.Cloths), ""))
			continue
		}
		for _, k := range l.c.clothOrder {
			if f := FoldName(name.Text); f == FoldName(k.ID) || f == FoldName(k.Name) {
				l.bad(name, fmt.Sprintf("%q is the name of one cloth, %s", name.Text, k.ID), "a name that is nobody's own", "take the rows out, or name the cloth otherwise")
			}
		}
		weight, ok, bad := r.Cell("weight").Float(0.1, 100, "")
		if bad != nil {
			l.found.Add(bad)
		}
		if !ok {
			continue
		}
		i := slices.IndexFunc(l.c.shopNames, func(n ShopName) bool { return n.Name == name.Text })
		if i < 0 {
			i = len(l.c.shopNames)
			l.c.shopNames = append(l.c.shopNames, ShopName{Name: name.Text})
		}
		l.c.shopNames[i].May = append(l.c.shopNames[i].May, Weighted{k, weight})
	}
	for _, n := range l.c.shopNames {
		sum := 0.0
		for _, m := range n.May {
			sum += m.Part
		}
		for i := range n.May {
			n.May[i].Part /= sum
		}
		slices.SortStableFunc(n.May, func(a, b Weighted) int { return cmp.Compare(b.Part, a.Part) })
	}
}

// Find is the cloth that a name means: all cloths that a shop's name may be, else
// the cloth of that id, name, synonym or clear beginning. A name that shops give to
// several cloths is never one of them in silence, though it is a synonym of that one.
func (c *Catalogue) Find(name string) (*Subject, error) { return c.findBy(name, c.ClothNames.Find) }

// FindWhole is Find for a name in full, not the beginning of one; nil where nothing is
// called so.
func (c *Catalogue) FindWhole(name string) *Subject {
	s, err := c.findBy(name, c.ClothNames.findWhole)
	if err != nil {
		return nil
	}
	return s
}

// find is Find without a guess at what may have been meant.
func (c *Catalogue) find(name string) (*Subject, error) { return c.findBy(name, c.ClothNames.find) }

func (c *Catalogue) findBy(name string, cloth func(string) (string, error)) (*Subject, error) {
	folded := FoldName(name)
	for _, n := range c.shopNames {
		if f := FoldName(n.Name); f == folded || f+"s" == folded {
			return &Subject{Name: n.Name, May: n.May}, nil
		}
	}
	id, err := cloth(name)
	if err != nil {
		return nil, err
	}
	return &Subject{Cloth: c.Cloths[id]}, nil
}

// MayBe says which cloths a shop's name may mean, "taffeta may be polyester, silk or
// acetate taffeta: all are counted"; "" where the subject is one cloth.
func (s Subject) MayBe() string {
	if len(s.May) == 0 {
		return ""
	}
	tail := " " + s.Name
	var names, kinds []string
	for _, m := range s.May {
		names = append(names, m.Cloth.Name)
		if k, ok := strings.CutSuffix(m.Cloth.Name, tail); ok {
			kinds = append(kinds, k)
		}
	}
	list := prose.Or(names)
	if len(kinds) == len(names) { // "silk or polyester taffeta"
		list = prose.Or(kinds) + tail
	}
	return s.Label() + " may be " + list + ": all are counted"
}

// Named is the cloth of the subject's name. Where the name may mean several, it is
// what they have in common: a structure or its class, a group, treatments, and the
// fibres where all are made of the same. It is nil for a cloth without a name.
func (s Subject) Named() *Cloth {
	if len(s.May) == 0 {
		return s.Cloth
	}
	first := s.May[0].Cloth
	out := &Cloth{Name: s.Label(), Structure: first.Structure, Treatments: first.Treatments, Group: first.Group, Content: first.Content}
	for _, m := range s.May[1:] {
		k := m.Cloth
		if k.Structure.ID != out.Structure.ID {
			class := ""
			if k.Structure.Class == out.Structure.Class {
				class = k.Structure.Class
			}
			out.Structure = &Structure{Name: "one of several structures", Class: class}
		}
		if k.Group != out.Group {
			out.Group = ""
		}
		out.Treatments = slices.DeleteFunc(slices.Clone(out.Treatments), func(t *Treatment) bool { return !slices.Contains(k.Treatments, t) })
		if !slices.Equal(mainFibres(k), mainFibres(first)) {
			out.Content = nil
		}
	}
	return out
}

// mainFibres are the fibres of a fifth or more of a cloth.
func mainFibres(k *Cloth) []*Fibre {
	var out []*Fibre
	for _, p := range k.Content {
		if p.Share.Typical >= 20 {
			out = append(out, p.Fibre)
		}
	}
	return out
}

// as is the subject if it is this one of the cloths that its name may mean.
func (s Subject) as(k *Cloth) Subject {
	s.Cloth, s.Name, s.May = k, "", nil
	return s
}

// pooledPoints is how many even points of each cloth stand for it in a pool.
const pooledPoints = 200

// pooled is the estimate of a name that may mean several cloths: the 10th, 50th and
// 90th percentile of all that are sold under it, each cloth by its part. It is not
// known where it is not known of one of them.
func (s Subject) pooled(p Property, of func(Subject) Estimate) Estimate {
	type point struct{ v, part float64 }
	var points []point
	var ch chain
	var sources []string
	missing := ""
	for _, m := range s.May {
		e := of(s.as(m.Cloth))
		ch.add(fmt.Sprintf("%s, %.0f %% of them", m.Cloth.Name, 100*m.Part), e.Say()+", "+e.Because, e.Known())
		if !e.Known() {
			missing = m.Cloth.Name
			continue
		}
		sources = appendNew(sources, e.Sources...)
		for i := range pooledPoints {
			points = append(points, point{e.Quantile((float64(i) + 0.5) / pooledPoints), m.Part / pooledPoints})
		}
	}
	if missing != "" {
		e := unknown(p, s.Label()+" may be "+missing+", of which it is not known")
		e.Chain = ch
		return e
	}
	slices.SortStableFunc(points, func(a, b point) int { return cmp.Compare(a.v, b.v) })
	below := func(part float64) float64 {
		sum := 0.0
		for _, x := range points {
			if sum += x.part; sum >= part {
				return x.v
			}
		}
		return points[len(points)-1].v
	}
	e := Figure(p, below(0.1), below(0.5), below(0.9), Derived, s.MayBe(), sources...)
	e.Chain = ch
	return e
}

// pool is the samples of the cloths that a name may mean, and which of them each
// member is: each cloth gives as many members as its part, spread evenly and in a
// fixed order.
func (c *Catalogue) pool(s Subject, salt Salt) ([]*Sample, [N]uint8) {
	of := make([]*Sample, len(s.May))
	for k, m := range s.May {
		of[k] = c.Sample(s.as(m.Cloth), salt)
	}
	return of, s.members(salt)
}

// pooled draws a property of a name that may mean several cloths.
func (o *Sample) pooled(p Property) []float64 {
	if slices.ContainsFunc(o.may, func(x *Sample) bool { return x.Of(p) == nil }) {
		return nil
	}
	v := make([]float64, N)
	for i := range v {
		v[i] = at(o.may[o.whose[i]].Of(p), i)
	}
	if slices.Max(v) == slices.Min(v) {
		v = v[:1]
	}
	return v
}

// members says which of the cloths each member of a pool is.
func (s Subject) members(salt Salt) [N]uint8 {
	var out [N]uint8
	k, end := 0, s.May[0].Part
	for i := range out {
		for (float64(i)+0.5)/N > end && k < len(s.May)-1 {
			k++
			end += s.May[k].Part
		}
		out[i] = uint8(k)
	}
	r := rand.New(rand.NewPCG(uint64(salt)+17, uint64(NumProperties)+1)) // a stream that no property has: see points
	r.Shuffle(N, func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}
