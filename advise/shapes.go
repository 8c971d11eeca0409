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

// Shapes are the shapes that pieces are drawn from, by name, and what is to be known
// of the computed pictures of those pieces worn.
type Shapes struct {
	List     []*cut.Shape
	Names    *fibres.Names
	Pictures []Picture
}

// Picture is what a maker must not go by in the computed picture of some pieces or
// shapes worn, or why there is none.
type Picture struct {
	Of              []string // ids of pieces and shapes
	Doubt, NotShown string   // one of them
	Cite
}

// LoadShapes reads the shapes of these pieces. They are apart from the rest, for only
// cutting and pictures ask for them.
func LoadShapes(files fs.FS, cat *fibres.Catalogue, pieces *fibres.Names) (*Shapes, error) {
	out := &Shapes{Names: fibres.NewNames("shape")}
	l := &loader{a: &Adviser{Cat: cat, PieceNames: pieces}, files: files}
	l.toml("shapes.toml", func(doc *plain.Doc) {
		l.shapes(doc, out)
		l.pictures(doc, out)
	})
	return out, l.found.OrNil()
}

// PictureOf is what is known of the picture of a piece or shape; nothing of most.
func (s *Shapes) PictureOf(id string) Picture {
	for _, p := range s.Pictures {
		if slices.Contains(p.Of, id) {
			return p
		}
	}
	return Picture{}
}

// PictureOf is [Shapes.PictureOf] of the shapes that pieces are drawn by.
func (a *Adviser) PictureOf(id string) Picture {
	s, err := a.Shapes()
	if err != nil {
		return Picture{}
	}
	return s.PictureOf(id)
}

// pictures reads what is to be known of pictures.
func (l *loader) pictures(doc *plain.Doc, out *Shapes) {
	ids := append(l.a.PieceNames.IDs(), out.Names.IDs()...)
	for _, t := range doc.Tables("picture") {
		p := Picture{Of: t.Strings("of"), Doubt: t.String("doubt"), NotShown: t.String("not-shown"), Cite: l.cite(t)}
		t.Need("of", "ids of pieces and shapes")
		if (p.Doubt == "") == (p.NotShown == "") {
			t.Fault("of", &fault.Fault{Kind: fault.BadData, What: "it has both doubt and not-shown, or neither", Expected: "doubt for a picture that is shown, not-shown for one that is not"})
		}
		for _, id := range p.Of {
			if !slices.Contains(ids, id) {
				t.Fault("of", &fault.Fault{Kind: fault.BadData, Names: "piece", What: fmt.Sprintf("there is no piece or shape %q", id), Expected: "ids of pieces and shapes", Mend: fault.DidYouMean(id, ids, "")})
			}
			if out.PictureOf(id).Of != nil {
				t.Fault("of", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%q is there twice", id), Expected: "each piece once"})
			}
		}
		out.Pictures = append(out.Pictures, p)
	}
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
