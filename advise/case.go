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

func (a *Adviser) caseWord(m *MakeUp, part string) error {
	head, rest, _ := strings.Cut(part, " ")
	rest = strings.TrimSpace(rest)
	switch head {
	case "shell", "lining":
		s := &m.Shell
		if head == "lining" {
			s = &m.Lining
		}
		if prop, fig, ok := cutProperty(rest); ok {
			return a.caseFigure(s, prop, fig)
		}
		id, err := a.Cat.ClothNames.Find(rest)
		if err != nil {
			return err
		}
		if *s == nil {
			*s = &fibres.Subject{}
		}
		(*s).Cloth = a.Cat.Cloths[id]
		return nil
	case "layer":
		w, err := cut.ParseLayer(rest)
		if err != nil {
			return err
		}
		id, err := a.Cat.ClothNames.Find(w.Cloth)
		if err != nil {
			return err
		}
		return m.AddInner(w, &fibres.Subject{Cloth: a.Cat.Cloths[id]})
	case "interfacing":
		x, err := a.Interfacing(rest)
		m.Interfacing = x
		return err
	case "seam":
		x, err := a.Seam("seam", rest)
		m.Seam = x
		return err
	case "edge":
		x, err := a.Seam("edge", rest)
		m.Edge = x
		return err
	case "wish":
		w, err := a.Wish(rest)
		if w != nil {
			m.Wishes = append(slices.Clip(m.Wishes), w)
		}
		return err
	case "job":
		x, err := a.Job(rest)
		m.Job = x
		return err
	case "wearer":
		if rest != "adult" && rest != "child" {
			return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("wearer is %q", rest), Expected: "adult or child"}
		}
		m.Wearer = rest
		return nil
	}
	if _, ok := fibres.LightnessScale.Level(head); ok && (rest == "shell" || rest == "lining") {
		s := &m.Shell
		if rest == "lining" {
			s = &m.Lining
		}
		if *s == nil {
			*s = &fibres.Subject{}
		}
		(*s).Lightness = head
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
	if *s == nil {
		*s = &fibres.Subject{}
	}
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
