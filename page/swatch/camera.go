package swatch

import (
	"fmt"
	"strconv"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/units"
	"tenter/page/address"
	"tenter/page/question"
	"tenter/page/sheet"
)

// CameraView measures a strip on a photograph: the script shows the picture, which
// never leaves the browser, and takes the marks; the fit is made here from them. The
// marks are in the address, as any reading that is being taken.
type CameraView struct {
	sheet.Sheet
	Name        string // of the swatch, or ""
	Apart       string // between the two marks of the ruler
	Marks       string
	Loose       bool // the ruler lay anyhow
	FieldErrors question.FieldErrors
	NMarks      int
	Fit         *Fit
	Direction   []sheet.Option
}

// Fit is what the marks say.
type Fit struct {
	Say     string // the bending length with its error
	Hand    string
	Details string
	Curve   string  // on the photograph: "x,y x,y …"
	Record  string  // takes it as a reading of the ruler test
	Takers  []Taker // the swatches that may take it, where none is named
	Add     string  // records a swatch first, where there is none
	Check   string  // judges a cloth by it
}

// Taker is a swatch that may take a reading.
type Taker struct{ Name, To string }

// maxTakers is how many swatches are offered a reading, in their order.
const maxTakers = 8

const (
	keyApart, keyLoose = "apart", "loose"
	// rulerMarks is how many of the marks are not on the strip, and leastMarks how many
	// are wanted before anything is fitted.
	rulerMarks, leastMarks = 2, 7
)

func camera(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &CameraView{Sheet: sheet.NewSheet(k, a, place, "Measure with the camera"), Apart: a.Get(keyApart), Marks: a.Get(address.KeyMarks), Loose: a.Get(keyLoose) != ""}
	if a.ID != "" {
		s, err := find(k, a)
		if err != nil {
			return nil, err
		}
		v.Name = s.Name
	}
	if v.Apart == "" {
		v.Apart = "20 cm"
		if a.Units == units.Imperial {
			v.Apart = "8 in"
		}
	}
	p, err := v.photograph()
	if err != nil {
		v.FieldErrors.Add(address.KeyMarks, v.Marks, err)
		return v, nil
	}
	if v.NMarks < leastMarks {
		return v, nil
	}
	got, err := hang.FromPhotograph(p)
	if err != nil {
		v.FieldErrors.Add(address.KeyMarks, v.Marks, err)
		return v, nil
	}
	v.Fit = v.tell(got)
	return v, nil
}

// photograph reads the marks: two of the ruler, the edge, the tip, then those along
// the strip.
func (v *CameraView) photograph() (hang.Photograph, error) {
	unit := units.Centimetre
	if v.Units == units.Imperial {
		unit = units.Length(2.54)
	}
	apart, err := units.ParseLengthIn(v.Apart, unit)
	if err != nil {
		v.FieldErrors.Add(keyApart, v.Apart, err)
	}
	p := hang.Photograph{RulerLength: apart, RulerTrue: !v.Loose}
	var all []hang.Mark
	for _, word := range strings.FieldsFunc(v.Marks, func(r rune) bool { return r == ';' || r == ' ' }) {
		x, y, two := strings.Cut(word, ",")
		px, errX := strconv.ParseFloat(x, 64)
		py, errY := strconv.ParseFloat(y, 64)
		if !two || errX != nil || errY != nil {
			return p, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not a place on a photograph", word), Expected: "x and y with a comma between, places with semicolons: 102,55; 640,52"}
		}
		all = append(all, hang.Mark{X: px, Y: py})
	}
	v.NMarks = len(all)
	if len(all) >= leastMarks {
		p.Ruler, p.Edge, p.Tip, p.Along = [2]hang.Mark{all[0], all[1]}, all[2], all[3], all[4:]
	}
	return p, nil
}

// tell puts a fit into words, and offers it as a reading: an overhang with the drop of
// its tip gives the same bending length in the ruler test.
func (v *CameraView) tell(p hang.Photographed) *Fit {
	e := fibres.Estimate{Low: float64(p.Bending.Low), Typical: float64(p.Bending.Typical), High: float64(p.Bending.High), Unit: "cm", Basis: fibres.Measured}
	f := &Fit{Say: fmt.Sprintf("It bends at %s (%s)", v.Quantity(e.Typical, "cm"), v.Quantities(e.Low, e.High, "cm")), Hand: hang.Band(p.Bending.Typical).String()}
	f.Details = fmt.Sprintf("%s hang over the edge and drop by %s; the marks lie %s off the curve, and the camera was turned by %.0f°", v.Quantity(float64(p.Overhang), "cm"), v.Quantity(float64(p.Drop), "cm"),
		v.Quantity(10*float64(p.Miss), "mm"), float64(max(p.Tilt, -p.Tilt)))
	var curve []string
	for _, m := range p.Curve {
		curve = append(curve, strconv.FormatFloat(m.X, 'f', 1, 64)+","+strconv.FormatFloat(m.Y, 'f', 1, 64))
	}
	f.Curve = strings.Join(curve, " ")
	reading := fmt.Sprintf("%.2fcm:%.2fcm", float64(p.Overhang), float64(p.Drop))
	lines := v.Get(address.KeyLines) + reading + "|"
	if v.Name != "" {
		f.Record = v.To(path(v.Name)+"/measure", keyKind, "droop", address.KeyLines, lines)
	} else if v.Change != nil {
		for _, s := range v.OwnSubjects() {
			if len(f.Takers) < maxTakers {
				f.Takers = append(f.Takers, Taker{s.Name, v.To(path(s.Name)+"/measure", keyKind, "droop", address.KeyLines, lines)})
			}
		}
		if len(f.Takers) == 0 {
			f.Add = v.To("/swatches/add")
		}
	}
	f.Check = v.To("/check", address.KeyBending, fmt.Sprintf("%.2fcm", float64(p.Bending.Typical)))
	return f
}
