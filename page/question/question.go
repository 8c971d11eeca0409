// Package question reads the make-up that an address asks about, and the plan of its cutting,
// with whatever of it cannot be understood.
package question

import (
	"fmt"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/page/address"
	"tenter/page/sheet"
)

// MakeUp reads the make-up that the address asks about. What cannot be
// understood is left out of it and told beside its field.
func MakeUp(k *sheet.Site, a address.Ask) (advise.MakeUp, FieldErrors) {
	var m advise.MakeUp
	var t FieldErrors
	var err error
	for _, x := range []struct {
		address.LayerKeys
		to **fibres.Subject
	}{{address.ShellKeys, &m.Shell}, {address.LiningKeys, &m.Lining}} {
		if v := a.Get(x.Name); v != "" {
			if *x.to, err = k.Subject(v); err != nil {
				t.add(k, "cloth", x.Name, v, err)
				narrow(k, a, &fibres.Subject{}, &t, x.LayerKeys) // what else is wrong is told at once
				*x.to = nil
			}
		}
		if *x.to != nil {
			*x.to = narrow(k, a, *x.to, &t, x.LayerKeys)
		}
	}
	if v := a.Get(address.KeyPiece); v != "" {
		m.Piece, err = k.Adv.Piece(v)
		t.add(k, "piece", address.KeyPiece, v, err)
	}
	if v := a.Get(address.KeyFinish); v != "" {
		m.Finish, err = k.Adv.Finish(v)
		t.add(k, "finish", address.KeyFinish, v, err)
	}
	if v := a.Get(address.KeyInterfacing); v != "" {
		m.Interfacing, err = k.Adv.Interfacing(v)
		t.add(k, "interfacing", address.KeyInterfacing, v, err)
	}
	inner(k, a, &m, &t)
	if v := a.Get(address.KeySeam); v != "" {
		m.Seam, err = k.Adv.Seam("seam", v)
		t.add(k, "seam", address.KeySeam, v, err)
	}
	if v := a.Get(address.KeyEdge); v != "" {
		m.Edge, err = k.Adv.Seam("edge", v)
		t.add(k, "edge", address.KeyEdge, v, err)
	}
	switch v := a.Get(address.KeyWearer); v {
	case "", "adult", "child":
		m.Wearer = v
	default:
		t = append(t, FieldError{Key: address.KeyWearer, Value: v, What: fmt.Sprintf("%q is no wearer", v), Expected: "adult or child"})
	}
	return m, t
}

// Narrow puts what the address says of a layer to any subject: its mass, how it bends,
// its colour.
func Narrow(k *sheet.Site, a address.Ask, s *fibres.Subject, layer address.LayerKeys) *fibres.Subject {
	var t FieldErrors
	return narrow(k, a, s, &t, layer)
}

// narrow puts to a subject what the user says of it.
func narrow(k *sheet.Site, a address.Ask, s *fibres.Subject, t *FieldErrors, keys address.LayerKeys) *fibres.Subject {
	out := *s
	if v := a.Get(keys.Mass); v != "" {
		if r, err := address.ParseMass(v, a.Units); err != nil {
			t.add(k, "", keys.Mass, v, err)
		} else {
			out = out.With(k.Adv.Cat, fibres.Mass, float64(r.Low), float64(r.High))
		}
	}
	if r, key, err := a.Bending(keys); err != nil {
		t.add(k, "", key, a.Get(key), err)
	} else if r != nil {
		out = out.With(k.Adv.Cat, fibres.BendingLength, float64(r.Low), float64(r.High))
	}
	if v := a.Get(keys.Tint); v != "" {
		if _, ok := fibres.LightnessScale.Level(v); ok {
			out.Lightness = v
		} else {
			*t = append(*t, FieldError{Key: keys.Tint, Value: v, What: fmt.Sprintf("%q does not say how light it is", v), Expected: strings.Join(fibres.LightnessScale, ", ")})
		}
	}
	return &out
}
