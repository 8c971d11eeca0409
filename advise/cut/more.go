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
	Shrinks     string // what it loses, "3%,2%"; empty is what its cloth does
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
			w.Shrinks = v
		default:
			found.Add(&fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q says nothing of a layer", strings.TrimSpace(f)), Expected: "parts, width or shrink, as parts=cape"})
		}
	}
	return w, found.OrNil()
}

// ParseShrink takes what the layer loses along and across, "5%,2%": one figure serves
// both.
func (l *Layer) ParseShrink(text string) error {
	one, two, both := strings.Cut(text, ",")
	if !both {
		two = one
	}
	warp, err := units.ParsePercentRange(strings.TrimSpace(one))
	if err != nil {
		return err
	}
	weft, err := units.ParsePercentRange(strings.TrimSpace(two))
	if err != nil {
		return err
	}
	return l.SetShrink(warp, weft)
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
	if w.Shrinks != "" {
		found.Add(l.ParseShrink(w.Shrinks))
	}
	j.Layers = append(j.Layers, l)
	return found.OrNil()
}
