package kb

import (
	"fmt"
	"math"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/price"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/kb/record"
)

// Swatch is one swatch with what was measured on it and what follows.
type Swatch struct {
	record.Swatch
	Measurements []record.Measurement // oldest first
	Evidence     Evidence
	Subject      *fibres.Subject
}

// Swatch finds a swatch by its name with all that is recorded of it.
func (b *Base) Swatch(name string) (Swatch, error) {
	if b.Records == nil {
		return Swatch{}, &fault.Fault{Kind: fault.NotFound, What: "there is no swatch " + quoted(name) + ": nothing has been recorded", Expected: "the name of a swatch", Mend: "`tenter swatch add NAME` records one"}
	}
	rest, _ := cutPrefix(name, swatchPrefix)
	w, there, err := b.Records.FindSwatch(rest)
	if err != nil {
		return Swatch{}, err
	}
	if !there {
		f := &fault.Fault{Kind: fault.NotFound, What: "there is no swatch " + quoted(rest), Expected: "the name of a swatch", Mend: "`tenter swatch list` shows them"}
		s, err := b.swatchBeginning(rest, f)
		if err != nil {
			return Swatch{}, err
		}
		if w, there, err = b.Records.FindSwatch(s.Name); err != nil || !there {
			return Swatch{}, err
		}
	}
	ms, err := b.Records.Measurements(w.ID, "", false)
	if err != nil {
		return Swatch{}, err
	}
	out := Swatch{Swatch: w, Measurements: ms, Evidence: EvidenceOf(ms)}
	out.Subject = b.SubjectOf(w, out.Evidence)
	out.Evidence.Notes = append(out.Evidence.Notes, b.questions(out)...)
	return out, nil
}

// questions ask about figures that can hardly be: far from what is sold under the name,
// or beyond every cloth of the catalogue.
func (b *Base) questions(s Swatch) []string {
	var out []string
	cat := b.Cat.Unlearned()
	drooped := false
	for _, f := range s.Evidence.Found {
		p := &fibres.Properties[f.Property]
		if p.Levels != nil || p.Scale != nil || f.Words != nil {
			continue
		}
		of, low, high, far := "cloth", 0.0, 0.0, false
		if k := s.Subject.Cloth; k != nil {
			usual := cat.Estimate(fibres.Subject{Cloth: k}, f.Property)
			of, low, high, far = k.Name, usual.Low, usual.High, usual.Far(f.Typical, f.Typical)
		} else {
			low, high = b.span(f.Property)
			far = f.Typical < low || f.Typical > high
		}
		droop := p.Test == fibres.Properties[fibres.BendingLength].Test
		if !far || droop && drooped { // one reading too long makes every direction of it so
			continue
		}
		drooped = drooped || droop
		hint := "A slip? Remove the reading."
		if f.Typical > high && droop { // the slip made most often
			hint = "Type the overhang as you read it, not doubled. " + hint
		}
		figure := prose.Upper(asked(f.Property)) + " " + fibres.Round(f.Typical) + " " + f.Unit
		out = append(out, fibres.Doubted(figure, of, f.Property, fibres.Round(low)+" to "+fibres.Round(high)+" "+f.Unit, hint))
	}
	return out
}

// span is from the least to the most that any cloth of the catalogue has of a property;
// every figure lies in it where none is known.
func (b *Base) span(p fibres.Property) (low, high float64) {
	s := b.spans.Get(p, func() [2]float64 { return b.Cat.Unlearned().Spans()[p] })
	if s[0] > s[1] { // of none
		return math.Inf(-1), math.Inf(1)
	}
	return s[0], s[1]
}

// asked is what a figure is of, in a question.
func asked(p fibres.Property) string {
	switch p {
	case fibres.Mass:
		return "weight"
	case fibres.ShrinkWarp:
		return "shrinkage of the warp"
	case fibres.ShrinkWeft:
		return "shrinkage of the weft"
	}
	return fibres.Properties[p].Name
}

// Swatches lists swatches that pass a filter, and how many pass in all; a limit of
// 0 lists all.
func (b *Base) Swatches(f record.SwatchFilter, limit, offset int) ([]record.Swatch, int, error) {
	if b.Records == nil {
		return nil, 0, nil
	}
	return b.Records.ListSwatches(f, limit, offset)
}

// Listed is [Base.Swatches] with what was measured of each, and what follows.
func (b *Base) Listed(f record.SwatchFilter, limit, offset int) ([]Swatch, int, error) {
	ws, total, err := b.Swatches(f, limit, offset)
	if err != nil || len(ws) == 0 {
		return nil, total, err
	}
	var ids []int64
	if len(ws) < total || total < 1000 {
		for _, w := range ws {
			ids = append(ids, w.ID)
		}
	}
	by, err := b.Records.MeasurementsOf(ids...)
	if err != nil {
		return nil, total, err
	}
	out := make([]Swatch, len(ws))
	for i, w := range ws {
		e := EvidenceOf(by[w.ID])
		out[i] = Swatch{Swatch: w, Measurements: by[w.ID], Evidence: e, Subject: b.SubjectOf(w, e)}
	}
	return out, total, nil
}

// maxSubjects is how many swatches an answer thinks of at once.
const maxSubjects = 6000

// Subjects are the user's swatches as answers take them: where there are very many,
// those measured last, and of the rest those whose names come first.
func (b *Base) Subjects() ([]*fibres.Subject, error) {
	if b.Records == nil {
		return nil, nil
	}
	measured, by, err := b.Records.Measured(record.Kinds, maxSubjects)
	if err != nil {
		return nil, err
	}
	var out []*fibres.Subject
	seen := map[int64]bool{}
	for _, w := range measured {
		seen[w.ID] = true
		out = append(out, b.SubjectOf(w, EvidenceOf(by[w.ID])))
	}
	rest, _, err := b.Records.ListSwatches(record.SwatchFilter{}, maxSubjects, 0)
	if err != nil {
		return out, err
	}
	for _, w := range rest {
		if !seen[w.ID] && len(out) < maxSubjects {
			out = append(out, b.SubjectOf(w, Evidence{}))
		}
	}
	return out, nil
}

// Place is where a swatch lies among the cloths sold under a name, for one property
// that was measured.
type Place struct {
	Property fibres.Property
	Have     fibres.Estimate // of the swatch
	Of       fibres.Estimate // of the name, whatever the user owns
	Part     float64         // of the cloths of the name that have less
}

// Places tells for everything that was measured of a subject where it lies among the
// cloths sold under a name.
func (b *Base) Places(s *fibres.Subject, k *fibres.Cloth) []Place {
	var out []Place
	cat := b.Cat.Unlearned()
	for p := range fibres.NumProperties {
		if p == fibres.Hand || p == fibres.Width {
			continue
		}
		have := b.Cat.Estimate(*s, p)
		if have.Basis != fibres.Measured {
			continue
		}
		of := cat.Estimate(fibres.Subject{Cloth: k}, p)
		part, ok := of.Part(have.Typical)
		if !ok {
			continue
		}
		of.Chain = nil
		out = append(out, Place{p, have, of, part})
	}
	return out
}

// labelSlack is what a label may be out by, in points of per cent (common
// practice: labels round).
const labelSlack = 3

// SubjectOf is a swatch as the answers take it: the population of the name it was
// sold under, with its own label and with what was measured in the place of the
// name's ranges.
func (b *Base) SubjectOf(w record.Swatch, e Evidence) *fibres.Subject {
	s := &fibres.Subject{Name: w.Name, Swatch: true, Lightness: w.Lightness, Colour: w.Colour, Known: e.Known()}
	if k, ok := b.SoldAs(w.SoldAs); ok {
		s.Cloth = k
	}
	s.Content = b.content(w.Content)
	if e.Shadow != nil {
		b.narrow(s, e.Shadow)
	}
	if p, err := price.Parse(w.Price); err == nil {
		s.Price = &p
	}
	if w.WidthCM > 0 {
		if s.Known == nil {
			s.Known = map[fibres.Property]fibres.Estimate{}
		}
		s.Known[fibres.Width] = fibres.Figure(fibres.Width, math.Max(1, w.WidthCM-1), w.WidthCM, w.WidthCM+1, fibres.Measured, "the width you wrote down")
	}
	return s
}

// PriceNote tells why a price cannot be compared or reckoned with; "" where it
// can, or none is known.
func PriceNote(text string) string {
	if text == "" {
		return ""
	}
	if _, err := price.Parse(text); err != nil {
		return "not read as a price of a length, " + price.Expected
	}
	if _, err := price.ParseOfLength(text, 0); err != nil {
		return "not said for what length, so it is not counted: write " + price.OfLength
	}
	return ""
}

// SoldAs is the cloth that a ticket names, if it is one.
func (b *Base) SoldAs(ticket string) (*fibres.Cloth, bool) {
	if strings.TrimSpace(ticket) == "" {
		return nil, false
	}
	if k := b.Cat.Cloths[ticket]; k != nil {
		return k, true
	}
	id, err := b.Cat.ClothNames.Find(ticket)
	if err != nil {
		return nil, false
	}
	return b.Cat.Cloths[id], true
}

// content turns a label into shares of fibres; nil where no fibre of it is known.
func (b *Base) content(label []record.Part) []fibres.Part {
	var out []fibres.Part
	unsaid := 0
	for _, p := range label {
		if p.Percent == 0 {
			unsaid++
		}
	}
	for _, p := range label {
		f := b.Cat.Fibres[p.Fibre]
		if f == nil {
			id, err := b.fibre(p.Fibre)
			if err != nil {
				continue
			}
			f = b.Cat.Fibres[id]
		}
		e := fibres.Estimate{Low: math.Max(0, p.Percent-labelSlack), Typical: p.Percent, High: math.Min(100, p.Percent+labelSlack), Unit: "%", Basis: fibres.Measured, Sources: []string{}, Because: "its label"}
		switch {
		case p.Percent == 100 || p.Percent == 0 && len(label) == 1:
			e.Low, e.Typical, e.High = 100, 100, 100
		case p.Percent == 0:
			e.Low, e.Typical, e.High = 5, 100/float64(len(label)), 95
			e.Because = "its label, which tells no share"
		}
		out = append(out, fibres.Part{Fibre: f, Share: e})
	}
	return out
}

// onLabels are words of labels that stand for several fibres which nothing here
// tells apart.
var onLabels = map[string]string{"nylon": "nylon-6", "polyamide": "nylon-6", "pa": "nylon-6", "pes": "polyester"}

// fibre is the id of a fibre by what a label calls it.
func (b *Base) fibre(name string) (string, error) {
	if id := onLabels[fibres.FoldName(name)]; b.Cat.Fibres[id] != nil {
		return id, nil
	}
	return b.Cat.FibreNames.Find(name)
}

// ParseContent reads a label: "60% cotton 40% linen", "cotton 60, linen 40",
// "100% wool", "wool". Fibres are written by their ids where the catalogue knows
// them. The error holds every slip.
func (b *Base) ParseContent(text string) ([]record.Part, error) {
	var out []record.Part
	var found fault.List
	var words []string
	share, has := 0.0, false
	flush := func() {
		name := strings.Join(words, " ")
		words = nil
		if name == "" {
			return
		}
		id, err := b.fibre(name)
		if err != nil {
			f := *fault.All(err)[0]
			f.Where, f.Kind = "content", fault.WrongCall
			found = append(found, &f)
			id = name
		}
		out = append(out, record.Part{Fibre: id, Percent: share})
		share, has = 0, false
	}
	clear := strings.NewReplacer(",", " , ", ";", " , ", "/", " , ", "+", " , ", "&", " , ", "%", " % ", "(", " ", ")", " ").Replace(decimalPoints(text))
	for _, w := range strings.Fields(clear) {
		k := strings.ToLower(w)
		switch {
		case k == "," || k == "and":
			if len(words) > 0 {
				flush()
			}
		case k == "%" || k == "percent" || k == "pct" || k == "of":
		case k[0] >= '0' && k[0] <= '9' || k[0] == '-' || k[0] == '.':
			v, err := units.Parse(k)
			if err != nil || v.Kind != units.Number || v.Value > 100 {
				found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "content", What: quoted(w) + " is no share", Expected: "0 to 100 %, such as 60% cotton 40% linen"})
				continue
			}
			if len(words) > 0 && has { // "60 cotton 40 linen"
				flush()
			}
			if len(words) > 0 { // "cotton 60 linen 40"
				share, has = v.Value, true
				flush()
				continue
			}
			share, has = v.Value, true
		default:
			words = append(words, w)
		}
	}
	flush()
	if has && len(found) == 0 {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "content", What: fmt.Sprintf("%v %% of nothing", share), Expected: "a fibre with each share, such as 60% cotton 40% linen"})
	}
	if len(out) == 0 && len(found) == 0 {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "content", What: "no fibre is named", Expected: "fibres with their shares, such as 60% cotton 40% linen"})
	}
	return out, found.OrNil()
}

// decimalPoints turns the comma inside "62,5 %" to a point, and leaves the commas
// of a list.
func decimalPoints(s string) string {
	b := []byte(s)
	digit := func(i int) bool { return i >= 0 && i < len(b) && b[i] >= '0' && b[i] <= '9' }
	for i := range b {
		if b[i] == ',' && digit(i-1) && digit(i+1) {
			b[i] = '.'
		}
	}
	return string(b)
}

// SayContent writes a label as [Base.ParseContent] reads it.
func SayContent(parts []record.Part) string {
	var out []string
	for _, p := range parts {
		if p.Percent == 0 {
			out = append(out, p.Fibre)
			continue
		}
		out = append(out, number(p.Percent)+"% "+p.Fibre)
	}
	return strings.Join(out, ", ")
}
