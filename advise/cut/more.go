package cut

import (
	"fmt"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// LayerWish is a layer beyond those of the make-up: a second lining, an underlining
// beside an interlining.
type LayerWish struct {
	Name, Cloth string
	Parts       []string // cut from it, as they were named; empty is all
	Width       *units.Range[units.Length]
	ShrinksWarp *units.Range[units.Fraction]
	ShrinksWeft *units.Range[units.Fraction]
}

// ParseLayer reads "underlining=cotton lawn; parts=cape; width=150cm; shrink=3%,2%".
func ParseLayer(text string) (w LayerWish, err error) {
	fields := strings.Split(text, ";")
	name, cloth, ok := strings.Cut(fields[0], "=")
	w.Name, w.Cloth = strings.TrimSpace(name), strings.TrimSpace(cloth)
	if !ok || w.Name == "" || w.Cloth == "" {
		return w, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q names no layer and its cloth", text), Expected: `"underlining=cotton lawn"`, Mend: `"underlining=cotton lawn; parts=cape; width=150cm"`}
	}
	var found fault.List
	for _, f := range fields[1:] {
		key, v, _ := strings.Cut(f, "=")
		v = strings.TrimSpace(v)
		switch strings.TrimSpace(key) {
		case "parts":
			w.Parts = strings.Split(v, ",")
		case "width":
			r, err := units.ParseLengthRange(v, 0)
			found.Add(err)
			w.Width = &r
		case "shrink":
			warp, weft, err := ParseShrink(v)
			found.Add(err)
			w.ShrinksWarp, w.ShrinksWeft = &warp, &weft
		default:
			found.Add(&fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q says nothing of a layer", strings.TrimSpace(f)), Expected: "parts, width or shrink, as parts=cape"})
		}
	}
	return w, found.OrNil()
}

// ParseShrink reads what a cloth loses, along and across: one figure serves both.
func ParseShrink(text string) (warp, weft units.Range[units.Fraction], err error) {
	one, two, both := strings.Cut(text, ",")
	if !both {
		two = one
	}
	if warp, err = units.ParsePercentRange(strings.TrimSpace(one)); err != nil {
		return warp, weft, err
	}
	weft, err = units.ParsePercentRange(strings.TrimSpace(two))
	return warp, weft, err
}

// PartNames finds parts of a job by their names.
func (j Job) PartNames(asked []string) (out []string, err error) {
	var names []string
	for _, p := range j.Parts {
		names = append(names, p.Name)
	}
	var found fault.List
	for _, x := range asked {
		i := slices.IndexFunc(names, func(n string) bool { return fibres.FoldName(n) == fibres.FoldName(x) })
		if i < 0 {
			found.Add(&fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("there is no part %q", strings.TrimSpace(x)), Expected: strings.Join(names, ", "), Mend: fault.DidYouMean(strings.TrimSpace(x), names, "")})
			continue
		}
		out = append(out, names[i])
	}
	return out, found.OrNil()
}

// Add puts a further layer, cut from a cloth, to the job.
func (j *Job) Add(cat *fibres.Catalogue, w LayerWish, cloth fibres.Subject) error {
	if j.layer(w.Name) != nil {
		return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there is a layer %q already", w.Name), Expected: "a name for each layer", Mend: `call it "second ` + w.Name + `"`}
	}
	l := NewLayer(cat, w.Name, cloth, fibres.InterfacingSalt)
	var found fault.List
	var err error
	l.Only, err = j.PartNames(w.Parts)
	found.Add(err)
	if w.Width != nil {
		l.SetWidth(*w.Width)
	}
	if w.ShrinksWarp != nil {
		found.Add(l.SetShrink(*w.ShrinksWarp, *w.ShrinksWeft))
	}
	j.Layers = append(j.Layers, l)
	return found.OrNil()
}
