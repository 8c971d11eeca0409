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
	Warp, Weft  *units.Range[units.Fraction] // what it loses; nil is what its cloth does
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
			for _, p := range strings.Split(v, ",") {
				w.Parts = append(w.Parts, strings.TrimSpace(p))
			}
		case "width":
			r, err := units.ParseLengthRange(v, 0)
			found.Add(err)
			w.Width = &r
		case "shrink":
			warp, weft, err := parseShrink(v)
			if err == nil {
				err = new(Layer).SetShrink(warp, weft)
			}
			found.Add(err)
			w.Warp, w.Weft = &warp, &weft
		default:
			found.Add(&fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q says nothing of a layer", strings.TrimSpace(f)), Expected: "parts, width or shrink, as parts=cape"})
		}
	}
	return w, found.OrNil()
}

// ParseShrink takes what the layer loses along and across, "5%,2%": one figure serves
// both.
func (l *Layer) ParseShrink(text string) error {
	warp, weft, err := parseShrink(text)
	if err != nil {
		return err
	}
	return l.SetShrink(warp, weft)
}

func parseShrink(text string) (warp, weft units.Range[units.Fraction], err error) {
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

// Layer is the further layer, cut from a cloth.
func (w LayerWish) Layer(cat *fibres.Catalogue, cloth fibres.Subject) Layer {
	l := NewLayer(cat, w.Name, cloth, fibres.InterfacingSalt)
	l.Only = w.Parts
	if w.Width != nil {
		l.SetWidth(*w.Width)
	}
	if w.Warp != nil {
		_ = l.SetShrink(*w.Warp, *w.Weft) // it was tried when it was read
	}
	return l
}

// onlyNamed lets the layers that are cut from some parts alone name them as the parts
// are called; the fault says which there is not.
func (j *Job) onlyNamed() error {
	var found fault.List
	for i := range j.Layers {
		l := &j.Layers[i]
		if len(l.Only) == 0 {
			continue
		}
		names, err := j.PartNames(l.Only)
		for _, f := range fault.All(err) {
			found = append(found, f.At(l.Name))
		}
		l.Only = names
	}
	return found.OrNil()
}
