package fibres

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"tenter/fibres/units"
)

// weightInName finds a weight among the words of a cloth: "120 g", "120gsm", "4.5 oz".
var weightInName = regexp.MustCompile(`(?i)(?:^|\s)([0-9]+(?:[.,][0-9]+)?(?:\s*-\s*[0-9]+(?:[.,][0-9]+)?)?)\s*(g|gr|grams?|gsm|g/m2|g/m²|oz|oz/yd2|oz/yd²|momme|mm)\.?(?:\s|$)`)

// unnamedWords say that a cloth has no name that is known.
var unnamedWords = []string{"unnamed", "unknown", "nameless", "mystery", "some", "any", "a", "an", "the", "of", "in", "weave", "woven", "cloth", "fabric", "material"}

// readIdleWords reads idle_words.csv: words that say how a cloth was made or finished, and
// not which it is. A name with one of them is that of the cloth without it.
func (l *loader) readIdleWords() {
	for _, r := range l.read("idle_words.csv", append([]string{"word"}, cite...)...) {
		l.cite(r)
		w := r.Cell("word")
		if f := FoldName(w.Text); f != w.Text || strings.Contains(f, " ") {
			l.bad(w, fmt.Sprintf("%q is no plain word", w.Text), "one word in small letters", "")
		}
		l.c.idleWords = append(l.c.idleWords, w.Text)
	}
}

// describedID begins the id of a cloth that was described and has no name.
const describedID = "described-"

// Described makes a cloth of what is said of it where it is not named: its fibres, its
// weave and its weight, as "linen crepe 180 g" or "unnamed twill". The words must say
// two of the three, or that the name is not known. ok is false where a word is none
// of these.
func (c *Catalogue) Described(text string) (s *Subject, ok bool) {
	rest, mass := c.weightIn(text)
	words := strings.Fields(FoldName(rest))
	unnamed := len(words)
	words = slices.DeleteFunc(words, func(w string) bool { return slices.Contains(unnamedWords, w) })
	unnamed -= len(words)
	named := len(words)
	words = slices.DeleteFunc(words, func(w string) bool { return slices.Contains(c.idleWords, w) })
	idle := named > len(words)
	if i := slices.Index(words, "poly"); i >= 0 && i+1 < len(words) && words[i+1] == "cotton" {
		words, idle = slices.Replace(words, i, i+2, "polycotton"), true
	}
	if len(words) == 0 || len(words) > 6 || unnamed == 0 && mass == nil && !idle && len(words) < 2 {
		return nil, false
	}
	if s, err := c.find(strings.Join(words, " ")); err == nil {
		if unnamed == 0 && mass == nil && !idle {
			return nil, false
		}
		return c.weighing(*s, mass), true
	}
	fibres, weave, ok := c.madeOf(words, nil, nil)
	if !ok || (len(fibres) == 0 || weave == nil) && len(fibres) < 2 && unnamed == 0 && mass == nil {
		return nil, false
	}
	if len(fibres) == 1 && weave != nil && weave.like != nil { // "poly satin" is polyester satin
		if s := c.FindWhole(fibres[0].Name + " " + weave.like.Label()); s != nil {
			return c.weighing(*s, mass), true
		}
	}
	k := &Cloth{ID: describedID + strings.Join(words, "-"), Name: strings.Join(words, " "), Structure: &Structure{Name: "unknown structure"}}
	if weave != nil {
		k.Structure, k.Group = weave.cloth.Structure, weave.cloth.Group
	}
	for _, f := range fibres {
		part := 100 / float64(len(fibres))
		share := Estimate{Low: part, Typical: part, High: part, Unit: "%", Basis: Derived, Sources: []string{}, Because: "in equal parts, as nothing else is said"}
		k.Content = append(k.Content, Part{Fibre: f, Share: share})
	}
	s = c.weighing(Subject{Cloth: k}, mass)
	if mass == nil && weave != nil && weave.like != nil {
		if e := c.Estimate(*weave.like, Mass); e.Known() {
			s.Known = map[Property]Estimate{Mass: Figure(Mass, e.Low, e.Typical, e.High, Derived, "as "+weave.like.Label()+" weighs", e.Sources...)}
		}
	}
	return s, true
}

// IsDescribed reports whether a subject has no name, but is known by what it is.
func (s *Subject) IsDescribed() bool {
	return s != nil && s.Cloth != nil && strings.HasPrefix(s.Cloth.ID, describedID)
}

// weightIn takes a weight from among the words.
func (c *Catalogue) weightIn(text string) (rest string, mass *units.Range[units.ArealMass]) {
	m := weightInName.FindStringSubmatchIndex(text)
	if m == nil {
		return text, nil
	}
	figure, unit := text[m[2]:m[3]], strings.ToLower(text[m[4]:m[5]])
	switch {
	case strings.HasPrefix(unit, "g"):
		unit = "gsm" // shops write grams for grams a square metre
	case unit == "mm":
		unit = "momme"
	}
	r, err := units.ParseArealMassRange(strings.ReplaceAll(figure, ",", ".") + unit)
	if err != nil {
		return text, nil
	}
	return text[:m[0]] + " " + text[m[1]:], &r
}

// weighing is a subject with its weight, where one was said.
func (c *Catalogue) weighing(s Subject, mass *units.Range[units.ArealMass]) *Subject {
	if mass != nil {
		s = s.With(c, Mass, float64(mass.Low), float64(mass.High))
	}
	return &s
}

// woven is a weave that words name, and the cloth or cloths that are sold by that name.
type woven struct {
	cloth *Cloth
	like  *Subject // nil where the words name a weave alone
}

// madeOf reads words as fibres and a weave; not ok where a word is neither. A fibre goes
// before the cloth that it begins the name of: a wool silk twill is wool, silk and twill.
func (c *Catalogue) madeOf(words []string, fibres []*Fibre, weave *woven) ([]*Fibre, *woven, bool) {
	if len(words) == 0 {
		return fibres, weave, true
	}
	longest := min(3, len(words))
	for n := longest; n > 0; n-- {
		if f := c.fibreCalled(strings.Join(words[:n], " ")); f != nil && !slices.Contains(fibres, f) {
			if with, of, ok := c.madeOf(words[n:], append(slices.Clone(fibres), f), weave); ok {
				return with, of, true
			}
		}
	}
	for n := 1; n <= longest && weave == nil; n++ {
		if w := c.wovenAs(strings.Join(words[:n], " ")); w != nil {
			if with, of, ok := c.madeOf(words[n:], fibres, w); ok {
				return with, of, true
			}
		}
	}
	return nil, nil, false
}

func (c *Catalogue) fibreCalled(name string) *Fibre {
	if id, err := c.FibreNames.find(name); err == nil && c.FibreNames.Called(id, name) {
		return c.Fibres[id]
	}
	return nil
}

// wovenAs is a weave by its own name, or by that of a cloth that is woven so.
func (c *Catalogue) wovenAs(name string) *woven {
	if s, err := c.find(name); err == nil && (s.Cloth == nil || c.ClothNames.Called(s.Cloth.ID, name)) {
		k := s.Named()
		if s.Cloth == nil {
			k.Structure, k.Group = s.May[0].Cloth.Structure, s.May[0].Cloth.Group
		}
		return &woven{k, s}
	}
	if id, err := c.StructureNames.find(name); err == nil {
		return &woven{&Cloth{Structure: c.Structures[id]}, nil}
	}
	return nil
}

// FeltWords are what a hand says of a cloth, and the bands of the scale that they
// stand for (common practice).
var FeltWords = map[string][2]string{
	"limp": {"fluid", "soft"}, "floppy": {"fluid", "soft"}, "drapey": {"fluid", "soft"}, "drapy": {"fluid", "soft"}, "slinky": {"fluid", "fluid"}, "floaty": {"fluid", "soft"},
	"supple": {"soft", "moderate"}, "medium": {"moderate", "moderate"}, "stiff": {"firm", "rigid"}, "stiffish": {"moderate", "firm"}, "papery": {"crisp", "rigid"}, "boardy": {"rigid", "rigid"},
}

// Feeling is the subject as a hand feels it: a range of the scale of hand, not a
// measurement.
func (s Subject) Feeling(low, high int) Subject {
	known := make(map[Property]Estimate, len(s.Known)+1)
	for k, v := range s.Known {
		known[k] = v
	}
	known[Hand] = Figure(Hand, float64(low), float64((low+high)/2), float64(high), Practice, "as your hand feels it, not measured")
	s.Known = known
	return s
}

// Felt is what a hand says of the subject; "" where it was not asked, or where a
// ruler was.
func (s *Subject) Felt() string {
	if s == nil {
		return ""
	}
	e, ok := s.Known[Hand]
	if _, ruled := s.Known[BendingLength]; !ok || ruled || e.Basis == Measured {
		return ""
	}
	if e.Low == e.High {
		return HandScale[int(e.Low)]
	}
	return HandScale[int(e.Low)] + " to " + HandScale[int(e.High)]
}
