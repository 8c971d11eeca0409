package sheet

import (
	"errors"
	"fmt"
	"html/template"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// The keys of an address that say what is to be made of what; each is called
// as the flag of the commands.
const (
	KeyPiece, KeyFinish, KeyShell, KeyLining                = "piece", "finish", "shell", "lining"
	KeyInterfacing, KeySeam, KeyEdge, KeyWearer             = "interfacing", "seam", "edge", "wearer"
	KeyMass, KeyBending, KeyColour                          = "mass", "bending-length", "colour"
	KeyLiningMass, KeyLiningBending, KeyLiningColour        = "lining-mass", "lining-bending-length", "lining-colour"
	KeyDrop, KeyFeels, KeyLiningDrop, KeyLiningFeels        = "drop", "hand", "lining-drop", "lining-hand"
	keyUnits                                         string = "units"
)

// questionKeys are all of them, in the order in which they are asked.
var questionKeys = []string{KeyPiece, KeyFinish, KeyShell, KeyLining, KeyInterfacing, KeySeam, KeyEdge, KeyWearer,
	KeyMass, KeyBending, KeyDrop, KeyFeels, KeyColour, KeyLiningMass, KeyLiningBending, KeyLiningDrop, KeyLiningFeels, KeyLiningColour}

// layerKeys are the keys that say something of one layer.
type layerKeys struct{ name, mass, bend, drop, feels, tint string }

var (
	shellKeys  = layerKeys{KeyShell, KeyMass, KeyBending, KeyDrop, KeyFeels, KeyColour}
	liningKeys = layerKeys{KeyLining, KeyLiningMass, KeyLiningBending, KeyLiningDrop, KeyLiningFeels, KeyLiningColour}
)

// FieldError is something in the address that cannot be understood: the key, what
// is wrong, and the things that may have been meant.
type FieldError struct {
	Key, Value, What, Expected string
	Word                       string // what the form calls the field, where that is not its key
	Near                       []Link
}

// Called is what the field is called before the user.
func (t FieldError) Called() string {
	if t.Word != "" {
		return t.Word
	}
	return strings.NewReplacer("-", " ", "_", " ").Replace(t.Key)
}

// FieldErrors is what is wrong with an address.
type FieldErrors []FieldError

// At is what is wrong with one key, or nil.
func (t FieldErrors) At(key string) *FieldError {
	for i := range t {
		if t[i].Key == key {
			return &t[i]
		}
	}
	return nil
}

// Mark is what a field has on it: that what it holds was not taken and why not,
// and the help that describes it.
func (t FieldErrors) Mark(key string, help ...string) template.HTMLAttr {
	out := ""
	if t.At(key) != nil {
		out = ` aria-invalid="true"`
		help = append([]string{key + "-wrong"}, help...)
	}
	if len(help) > 0 {
		out += ` aria-describedby="` + template.HTMLEscapeString(strings.Join(help, " ")) + `"`
	}
	return template.HTMLAttr(out)
}

// Beside is what stands next to a field whose words were not taken; what was
// expected is told where all wrong are.
func (t FieldErrors) Beside(key string) template.HTML {
	x := t.At(key)
	if x == nil {
		return ""
	}
	return template.HTML(`<span id="` + template.HTMLEscapeString(key) + `-wrong" class="wrong">` + template.HTMLEscapeString(prose.Upper(x.What)) + `.</span>`)
}

func (t *FieldErrors) add(k *Site, kind, key, value string, err error) {
	if err == nil {
		return
	}
	f := fault.All(err)[0]
	x := FieldError{Key: key, Value: value, What: f.What, Expected: f.Expected}
	if f.Kind == fault.NotFound && k != nil {
		x.Expected = ""
		x.Near = k.Near(value, kind)
	}
	*t = append(*t, x)
}

// MakeUp reads the make-up that the address asks about. What cannot be
// understood is left out of it and told beside its field.
func (a Ask) MakeUp(k *Site) (advise.MakeUp, FieldErrors) {
	var m advise.MakeUp
	var t FieldErrors
	var err error
	for _, x := range []struct {
		layerKeys
		to **fibres.Subject
	}{{shellKeys, &m.Shell}, {liningKeys, &m.Lining}} {
		if v := a.Get(x.name); v != "" {
			if *x.to, err = k.Subject(v); err != nil {
				t.add(k, "cloth", x.name, v, err)
				a.narrow(k, &fibres.Subject{}, &t, x.layerKeys) // what else is wrong is told at once
				*x.to = nil
			}
		}
		if *x.to != nil {
			*x.to = a.narrow(k, *x.to, &t, x.layerKeys)
		}
	}
	if v := a.Get(KeyPiece); v != "" {
		m.Piece, err = k.Adv.Piece(v)
		t.add(k, "piece", KeyPiece, v, err)
	}
	if v := a.Get(KeyFinish); v != "" {
		m.Finish, err = k.Adv.Finish(v)
		t.add(k, "finish", KeyFinish, v, err)
	}
	if v := a.Get(KeyInterfacing); v != "" {
		m.Interfacing, err = k.Adv.Interfacing(v)
		t.add(k, "interfacing", KeyInterfacing, v, err)
	}
	a.inner(k, &m, &t)
	if v := a.Get(KeySeam); v != "" {
		m.Seam, err = k.Adv.Seam("seam", v)
		t.add(k, "seam", KeySeam, v, err)
	}
	if v := a.Get(KeyEdge); v != "" {
		m.Edge, err = k.Adv.Seam("edge", v)
		t.add(k, "edge", KeyEdge, v, err)
	}
	switch v := a.Get(KeyWearer); v {
	case "", "adult", "child":
		m.Wearer = v
	default:
		t = append(t, FieldError{Key: KeyWearer, Value: v, What: fmt.Sprintf("%q is no wearer", v), Expected: "adult or child"})
	}
	return m, t
}

// Narrow puts what the address says of the shell to any subject: its mass, how it
// bends, its colour.
func (a Ask) Narrow(k *Site, s *fibres.Subject) *fibres.Subject {
	var t FieldErrors
	return a.narrow(k, s, &t, shellKeys)
}

// NarrowLining puts what the address says of the lining to any subject.
func (a Ask) NarrowLining(k *Site, s *fibres.Subject) *fibres.Subject {
	var t FieldErrors
	return a.narrow(k, s, &t, liningKeys)
}

// narrow puts to a subject what the user says of it.
func (a Ask) narrow(k *Site, s *fibres.Subject, t *FieldErrors, keys layerKeys) *fibres.Subject {
	out := *s
	if v := a.Get(keys.mass); v != "" {
		if r, err := ParseMass(v, a.Units); err != nil {
			t.add(k, "", keys.mass, v, err)
		} else {
			out = out.With(k.Adv.Cat, fibres.Mass, float64(r.Low), float64(r.High))
		}
	}
	if r, key, err := a.bending(keys); err != nil {
		t.add(k, "", key, a.Get(key), err)
	} else if r != nil {
		out = out.With(k.Adv.Cat, fibres.BendingLength, float64(r.Low), float64(r.High))
	}
	if v := a.Get(keys.tint); v != "" {
		if _, ok := fibres.LightnessScale.Level(v); ok {
			out.Lightness = v
		} else {
			*t = append(*t, FieldError{Key: keys.tint, Value: v, What: fmt.Sprintf("%q does not say how light it is", v), Expected: strings.Join(fibres.LightnessScale, ", ")})
		}
	}
	return &out
}

// ShellBending and LiningBending are the bending length that the address says of a
// layer, by whichever of the three ways, or nil.
func (a Ask) ShellBending() *units.Range[units.Length] { r, _, _ := a.bending(shellKeys); return r }

// LiningBending is that of the lining.
func (a Ask) LiningBending() *units.Range[units.Length] { r, _, _ := a.bending(liningKeys); return r }

// bending reads what is said of how a layer bends: a bending length, else how far
// the tip of a strip drops, else a word for its hand. It gives the key it read.
func (a Ask) bending(keys layerKeys) (*units.Range[units.Length], string, error) {
	var r units.Range[units.Length]
	var err error
	key := keys.bend
	switch {
	case a.Get(keys.bend) != "":
		r, err = ParseBending(a.Get(keys.bend), a.Units)
	case a.Get(keys.drop) != "":
		key = keys.drop
		r, err = ParseDrop(a.Get(key), a.Units)
	case a.Get(keys.feels) != "":
		key = keys.feels
		level, ok := fibres.HandScale.Level(a.Get(key))
		if !ok {
			err = &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is no word for a hand", a.Get(key)), Expected: strings.Join(fibres.HandScale, ", ")}
			break
		}
		r = units.Range[units.Length]{Low: units.Length(fibres.HandEdges[int(level)]), High: units.Length(fibres.HandEdges[int(level)+1])}
	default:
		return nil, "", nil
	}
	if err != nil {
		return nil, key, err
	}
	return &r, key, nil
}

// DropReach is how far the strip reaches over the table whose drop is asked for,
// and dropError how finely a drop is read by eye.
const (
	DropReach units.Length = 10
	dropError units.Length = 0.3
)

// ParseDrop reads how far the tip of 10 cm of cloth drops over the edge of a table,
// as the bending lengths that it may mean; a bare figure is in cm, or in inches
// where the page is imperial.
func ParseDrop(v string, sys units.System) (units.Range[units.Length], error) {
	var out units.Range[units.Length]
	unit := units.Length(1)
	if sys == units.Imperial {
		unit = 2.54
	}
	r, err := units.ParseLengthRange(v, unit)
	if err != nil {
		return out, err
	}
	if r.Low <= 0 || r.High > DropReach {
		return out, &fault.Fault{Kind: fault.OutsideRange, What: "the tip of 10 cm cannot drop by " + v, Expected: "more than nothing, at most 10 cm: straight down from the edge to the tip"}
	}
	within := func(d units.Length) units.Length { return max(0.1, min(d, 0.985*DropReach)) }
	if out.Low, err = hang.BendingLengthFromDrop(DropReach, within(r.High+dropError)); err != nil {
		return out, err
	}
	out.High, err = hang.BendingLengthFromDrop(DropReach, within(r.Low-dropError))
	return out, err
}

// ParseMass reads a mass or a range of it; a bare figure is in g/m², or in
// oz/yd² where the page is imperial.
func ParseMass(v string, sys units.System) (units.Range[units.ArealMass], error) {
	if bare(v) {
		if sys == units.Imperial {
			v += "oz/yd2"
		} else {
			v += "gsm"
		}
	}
	r, err := units.ParseArealMassRange(v)
	if err == nil {
		info := fibres.Properties[fibres.Mass]
		if float64(r.Low) < info.Low || float64(r.High) > info.High {
			err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth weighs " + v, Expected: fibres.Quantities(info.Low, info.High, info.Unit, sys)}
		}
	}
	return r, err
}

// ParseBending reads a bending length; a bare figure is in cm, or in inches
// where the page is imperial.
func ParseBending(v string, sys units.System) (units.Range[units.Length], error) {
	unit := units.Length(1)
	if sys == units.Imperial {
		unit = 2.54
	}
	r, err := units.ParseLengthRange(v, unit)
	info := fibres.Properties[fibres.BendingLength]
	if err == nil && (float64(r.Low) < info.Low || float64(r.High) > info.High) {
		err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth has a bending length of " + v, Expected: fibres.Quantities(info.Low, info.High, info.Unit, sys) + ": half the reach of the ruler test"}
	}
	return r, err
}

// bare reports whether a text is only figures: 150, 120-150.
func bare(v string) bool {
	return v != "" && strings.Trim(v, "0123456789.,-– ") == ""
}

// IsNotFound reports whether an error says that nothing has a name.
func IsNotFound(err error) bool {
	var f *fault.Fault
	return errors.As(err, &f) && f.Kind == fault.NotFound
}

// Pairs writes a make-up as the keys of an address, for links to it.
func Pairs(m advise.MakeUp) []string {
	var out []string
	add := func(key, v string) {
		if v != "" {
			out = append(out, key, v)
		}
	}
	if m.Piece != nil {
		add(KeyPiece, m.Piece.ID)
	}
	if m.Finish != nil {
		add(KeyFinish, m.Finish.ID)
	}
	layer := func(s *fibres.Subject, key, tint, mass string) {
		if s == nil {
			return
		}
		switch {
		case s.Swatch:
			add(key, s.Name)
		case s.Cloth != nil:
			add(key, s.Cloth.ID)
		case len(s.May) > 0:
			add(key, s.Name)
		}
		add(tint, s.Lightness)
		if e, ok := s.Known[fibres.Mass]; ok {
			add(mass, fibres.Round(e.Typical)+"gsm")
		}
	}
	layer(m.Shell, KeyShell, KeyColour, KeyMass)
	layer(m.Lining, KeyLining, KeyLiningColour, KeyLiningMass)
	if m.Interfacing != nil {
		add(KeyInterfacing, m.Interfacing.ID)
	}
	if m.Seam != nil {
		add(KeySeam, m.Seam.ID)
	}
	if m.Edge != nil {
		add(KeyEdge, m.Edge.ID)
	}
	add(KeyWearer, m.Wearer)
	return out
}

// Add notes one more thing that cannot be understood.
func (t *FieldErrors) Add(key, value string, err error) { t.add(nil, "", key, value, err) }

// ParseWidth reads a width of cloth; a bare figure is in cm, or in inches where
// the page is imperial.
func ParseWidth(v string, sys units.System) (units.Length, error) {
	unit := units.Length(1)
	if sys == units.Imperial {
		unit = 2.54
	}
	l, err := units.ParseLengthIn(v, unit)
	info := fibres.Properties[fibres.Width]
	if err == nil && (float64(l) < info.Low || float64(l) > info.High) {
		err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth is sold " + v + " wide", Expected: fibres.Quantities(info.Low, info.High, info.Unit, sys)}
	}
	return l, err
}

// Look notes a cloth that is not known, with what lies near.
func (t *FieldErrors) Look(k *Site, key, value string, err error) { t.add(k, "cloth", key, value, err) }
