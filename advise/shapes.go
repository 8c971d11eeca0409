package advise

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"tenter/advise/cut"
	"tenter/advise/plain"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Shapes are the shapes that pieces are drawn from, by name.
type Shapes struct {
	List  []*cut.Shape
	Names *fibres.Names
}

// LoadShapes reads the shapes. They are apart from the rest, for only cutting
// asks for them.
func LoadShapes(files fs.FS, cat *fibres.Catalogue) (*Shapes, error) {
	out := &Shapes{Names: fibres.NewNames("shape")}
	l := &loader{a: &Adviser{Cat: cat}, files: files}
	l.toml("shapes.toml", func(doc *plain.Doc) { l.shapes(doc, out) })
	return out, l.found.OrNil()
}

// Find finds a shape by name.
func (s *Shapes) Find(name string) (*cut.Shape, error) {
	id, err := s.Names.Find(name)
	if err != nil {
		return nil, err
	}
	return s.ByID(id), nil
}

// Of is the shape that a piece is drawn by; nil where only its parts are known.
func (s *Shapes) Of(p *Piece) *cut.Shape {
	if p == nil {
		return nil
	}
	return s.ByID(p.ID)
}

// ByID is the shape of an id; nil where there is none.
func (s *Shapes) ByID(id string) *cut.Shape {
	for _, x := range s.List {
		if x.ID == id {
			return x
		}
	}
	return nil
}

// CutParts is the parts of a piece as they are cut, by their boxes.
func (p *Piece) CutParts() []cut.Part {
	var out []cut.Part
	for _, x := range p.Parts {
		out = append(out, cut.Part{Name: x.Name, Count: x.Count, Width: x.Width, Height: x.Height, Grain: cut.Grain(x.Grain), ShellOnly: x.ShellOnly}.Drawn(x.Shape))
	}
	return out
}

// CutJoins is the seams of a piece with their lengths.
func (p *Piece) CutJoins() []cut.Join {
	var out []cut.Join
	for _, s := range p.Seams {
		kind := cut.Seam
		switch {
		case strings.Contains(s.Name, "hem"):
			kind = cut.Hem
		case strings.Contains(s.Name, "edge"):
			kind = cut.FreeEdge
		}
		out = append(out, cut.Join{Name: s.Name, Kind: kind, Length: float64(s.Length)})
	}
	return out
}

// Said names a make-up by its ids, as every answer repeats it.
func Said(m MakeUp) MakeUpSaid { return said(m) }

// shapes reads the parametric shapes.
func (l *loader) shapes(doc *plain.Doc, out *Shapes) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("shape") {
		s := &cut.Shape{}
		s.ID, s.Name, s.Synonyms, s.Say = l.named(t, out.Names, seen)
		s.Draws = l.word(t, "draws", cut.Drawings())
		l.cite(t)
		var have []string
		for _, x := range t.Tables("parameter") {
			p := cut.Parameter{ID: x.String("id"), Say: x.String("say")}
			p.Kind = l.word(x, "kind", []string{cut.KindLength, cut.KindAngle, cut.KindNumber, cut.KindCount})
			for key, to := range map[string]*float64{"default": &p.Default, "low": &p.Low, "high": &p.High} {
				*to = l.measure(x, key, p.Kind)
			}
			if p.Default < p.Low || p.Default > p.High {
				x.Fault("default", &fault.Fault{Kind: fault.BadData, What: "the default is outside low to high", Expected: "low ≤ default ≤ high"})
			}
			have = append(have, p.ID)
			s.Parameters = append(s.Parameters, p)
		}
		if needs := cut.Needs(s.Draws); needs != nil {
			for _, n := range needs {
				if !slices.Contains(have, n) {
					t.Fault("parameter", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%s is drawn from %s, which is missing", s.Draws, n), Expected: strings.Join(needs, ", ")})
				}
			}
			for _, h := range have {
				if !slices.Contains(needs, h) {
					t.Fault("parameter", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%s is not drawn from %q", s.Draws, h), Expected: strings.Join(needs, ", "), Mend: fault.DidYouMean(h, needs, "")})
				}
			}
		}
		out.List = append(out.List, s)
	}
}

// measure reads a parameter's figure.
func (l *loader) measure(t *plain.Table, key, kind string) float64 {
	switch kind {
	case cut.KindLength, cut.KindAngle:
		text := t.String(key)
		if text == "" {
			t.Need(key, "a figure with its unit")
			return 0
		}
		var v float64
		var err error
		if kind == cut.KindLength {
			var x units.Length
			x, err = units.ParseLength(text)
			v = float64(x)
		} else {
			v, err = cut.ParseTurn(text)
		}
		if err != nil {
			t.Fault(key, asData(err))
		}
		return v
	}
	v, ok := t.Number(key)
	if !ok {
		t.Need(key, "a number")
	}
	return v
}
