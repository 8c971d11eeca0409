package advise

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// ParseCase reads a make-up written in words parted by commas, as the fires
// and quiet lists of rules do: a piece, a finish, "shell X", "lining X", "wish X",
// "interfacing X", "layer underlining=X", "seam X", "edge X", "wearer child", "white shell",
// "shell mass 120 g/m2". What is left out is unknown.
func (a *Adviser) ParseCase(text string) (MakeUp, error) {
	var m MakeUp
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		if err := a.caseWord(&m, part); err != nil {
			return m, err
		}
	}
	return m, nil
}

// caseWord adds what one part of a case names: a layer or another part by the word before
// it, a lightness by the layer behind it, else a piece or a finish.
func (a *Adviser) caseWord(m *MakeUp, part string) error {
	head, rest, _ := strings.Cut(part, " ")
	rest = strings.TrimSpace(rest)
	switch head {
	case "shell":
		return a.caseCloth(&m.Shell, rest)
	case "lining":
		return a.caseCloth(&m.Lining, rest)
	case "layer":
		return a.caseLayer(m, rest)
	case "interfacing", "seam", "edge", "wish", "job", "wearer":
		return a.casePart(m, head, rest)
	}
	if _, ok := fibres.LightnessScale.Level(head); ok && rest == "shell" {
		subject(&m.Shell).Lightness = head
		return nil
	} else if ok && rest == "lining" {
		subject(&m.Lining).Lightness = head
		return nil
	}
	if p, err := a.Piece(part); err == nil {
		m.Piece = p
		return nil
	}
	f, err := a.Finish(part)
	if err != nil {
		return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("%q is neither a piece nor a finish", part), Expected: "a piece, a finish, or shell, lining, interfacing, seam, edge, wearer and a name",
			Mend: fault.DidYouMean(part, append(a.PieceNames.IDs(), a.FinishNames.IDs()...), "`tenter list pieces`, `tenter list finishes`")}
	}
	m.Finish = f
	return nil
}

// caseCloth takes a cloth, or a figure of it: "cotton-lawn", "mass 120 g/m2".
func (a *Adviser) caseCloth(s **fibres.Subject, text string) error {
	if prop, fig, ok := cutProperty(text); ok {
		return a.caseFigure(s, prop, fig)
	}
	id, err := a.Cat.ClothNames.Find(text)
	if err != nil {
		return err
	}
	subject(s).Cloth = a.Cat.Cloths[id]
	return nil
}

// subject makes a cloth where none has been named yet.
func subject(s **fibres.Subject) *fibres.Subject {
	if *s == nil {
		*s = &fibres.Subject{}
	}
	return *s
}

func (a *Adviser) caseLayer(m *MakeUp, text string) error {
	w, err := cut.ParseLayer(text)
	if err != nil {
		return err
	}
	id, err := a.Cat.ClothNames.Find(w.Cloth)
	if err != nil {
		return err
	}
	return m.AddInner(w, &fibres.Subject{Cloth: a.Cat.Cloths[id]})
}

// casePart takes what stands behind the word for a part.
func (a *Adviser) casePart(m *MakeUp, part, text string) (err error) {
	switch part {
	case "interfacing":
		m.Interfacing, err = a.Interfacing(text)
	case "seam":
		m.Seam, err = a.Seam("seam", text)
	case "edge":
		m.Edge, err = a.Seam("edge", text)
	case "job":
		m.Job, err = a.Job(text)
	case "wish":
		var w *Wish
		if w, err = a.Wish(text); w != nil {
			m.Wishes = append(slices.Clip(m.Wishes), w)
		}
	case "wearer":
		if text != "adult" && text != "child" {
			return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("wearer is %q", text), Expected: "adult or child"}
		}
		m.Wearer = text
	}
	return err
}

func cutProperty(s string) (p fibres.Property, figure string, ok bool) {
	head, rest, found := strings.Cut(s, " ")
	if !found {
		return 0, "", false
	}
	p, ok = fibres.PropertyByID(head)
	return p, rest, ok
}

// caseFigure sets a measured figure or level of a layer.
func (a *Adviser) caseFigure(s **fibres.Subject, p fibres.Property, figure string) error {
	subject(s)
	info := fibres.Properties[p]
	var lo, hi float64
	if info.Scale != nil {
		v, ok := info.Scale.Level(figure)
		if !ok {
			return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not on the scale of %s", figure, info.ID), Expected: strings.Join(info.Scale, ", ")}
		}
		lo, hi = float64(v), float64(v)
	} else {
		q, r, err := units.ParseRange(figure)
		if err != nil {
			return err
		}
		if lo, err = q.In(info.Unit); err != nil {
			return err
		}
		hi, _ = r.In(info.Unit)
	}
	known := map[fibres.Property]fibres.Estimate{}
	for k, v := range (*s).Known {
		known[k] = v
	}
	known[p] = fibres.Figure(p, lo, (lo+hi)/2, hi, fibres.Measured, "said in the case")
	(*s).Known = known
	return nil
}

// Piece finds a piece by what it is called.
func (a *Adviser) Piece(name string) (*Piece, error) {
	id, err := a.PieceNames.Find(name)
	if err != nil {
		return nil, err
	}
	for _, p := range a.Pieces {
		if p.ID == id {
			return p, nil
		}
	}
	return nil, nil
}

// Finish finds a finish by what it is called.
func (a *Adviser) Finish(name string) (*Finish, error) {
	id, err := a.FinishNames.Find(name)
	if err != nil {
		return nil, err
	}
	for _, f := range a.Finishes {
		if f.ID == id {
			return f, nil
		}
	}
	return nil, nil
}

// Seam finds a seam or an edge finish by what it is called.
func (a *Adviser) Seam(kind, name string) (*Seam, error) {
	n := a.SeamNames
	if kind == "edge" {
		n = a.EdgeNames
	}
	id, err := n.Find(name)
	if err != nil {
		return nil, err
	}
	for _, s := range a.Seams {
		if s.ID == id && s.Kind == kind {
			return s, nil
		}
	}
	return nil, nil
}

// Interfacing finds an interfacing by what it is called.
func (a *Adviser) Interfacing(name string) (*Interfacing, error) {
	id, err := a.InterfacingNames.Find(name)
	if err != nil {
		return nil, err
	}
	for _, x := range a.Interfacings {
		if x.ID == id {
			return x, nil
		}
	}
	return nil, nil
}
