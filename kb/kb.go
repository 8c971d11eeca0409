// Package kb is what this user knows: the built-in reference joined with their
// own records. It looks a name up wherever a cloth may be named.
package kb

import (
	"errors"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/kb/store"
)

// Base joins the catalogue with the user's store, which may be missing.
type Base struct {
	Cat   *fibres.Catalogue
	Store *store.Store // nil where the user has recorded nothing
}

// Subject finds the cloth or swatch that a name means: a swatch of that very
// name first, then a cloth by id, name, synonym or clear beginning.
func (b *Base) Subject(name string) (*fibres.Subject, error) {
	id, err := b.Cat.ClothNames.Find(name)
	if err != nil {
		var f *fault.Fault
		if errors.As(err, &f) && f.Kind == fault.NotFound {
			f.Where = ""
		}
		return nil, err
	}
	return &fibres.Subject{Cloth: b.Cat.Cloths[id]}, nil
}
