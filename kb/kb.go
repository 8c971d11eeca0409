// Package kb is what this user knows: the built-in reference joined with their
// own records. It looks a name up wherever a cloth may be named, turns what was
// measured of a swatch into figures, and takes swatches in and out as files.
package kb

import (
	"errors"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/memo"
	"tenter/kb/record"
)

// Base joins the catalogue with the user's store, which may be missing.
type Base struct {
	Cat *fibres.Catalogue
	// Records is nil, the bare interface, where the user has recorded nothing.
	Records Records

	spans memo.Cache[fibres.Property, [2]float64] // see [Base.span]
}

// A name may say which of the two it means, where a swatch has a cloth's name.
const (
	clothPrefix  = "cloth:"
	swatchPrefix = "swatch:"
)

// Subject finds the cloth or swatch that a name means: a swatch of that very
// name first, then all the cloths that a shop's name may mean, then a cloth by id, name, synonym or clear beginning, then the
// only swatch whose name begins so. "cloth:" and "swatch:" before the name say
// which is meant.
func (b *Base) Subject(name string) (*fibres.Subject, error) {
	rest, onlyCloth := cutPrefix(name, clothPrefix)
	rest, onlySwatch := cutPrefix(rest, swatchPrefix)
	if b.Records != nil && !onlyCloth {
		w, there, err := b.Records.FindSwatch(rest)
		if err != nil {
			return nil, err
		}
		if there {
			return b.swatchSubject(w)
		}
	}
	if onlySwatch {
		return b.swatchBeginning(rest, &fault.Fault{Kind: fault.NotFound, What: "there is no swatch " + quoted(rest), Expected: "the name of a swatch", Mend: "`tenter swatch list` shows them"})
	}
	s, err := b.Cat.Find(rest)
	if err == nil {
		return s, nil
	}
	var f *fault.Fault
	if errors.As(err, &f) && f.Kind == fault.NotFound {
		f.Where = ""
		if s, ok := b.Cat.Described(rest); ok {
			return s, nil
		}
		if b.Records != nil && !onlyCloth {
			return b.swatchBeginning(rest, f)
		}
	}
	return nil, err
}

func cutPrefix(name, prefix string) (string, bool) {
	t := strings.TrimSpace(name)
	if len(t) > len(prefix) && strings.EqualFold(t[:len(prefix)], prefix) {
		return strings.TrimSpace(t[len(prefix):]), true
	}
	return name, false
}

func quoted(s string) string { return `"` + short(strings.TrimSpace(s)) + `"` }

// maxLike is how many names of swatches are looked through for one that is like
// what was typed.
const maxLike = 5000

// swatchBeginning finds the only swatch whose name begins so; otherwise the fault
// says what there is.
func (b *Base) swatchBeginning(name string, f *fault.Fault) (*fibres.Subject, error) {
	if b.Records == nil || strings.TrimSpace(name) == "" {
		return nil, f
	}
	names, err := b.Records.SwatchesBeginning(name, 6)
	if err != nil {
		return nil, err
	}
	switch {
	case len(names) == 1:
		w, there, err := b.Records.FindSwatch(names[0])
		if err != nil || !there {
			return nil, err
		}
		return b.swatchSubject(w)
	case len(names) > 1:
		list := strings.Join(names[:min(len(names), 5)], ", ")
		if len(names) > 5 {
			list += " …"
		}
		return nil, &fault.Fault{Kind: fault.NotFound, What: "several swatches begin with " + quoted(name), Expected: "one of " + list, Mend: "name one of them in full"}
	}
	all, err := b.Records.SwatchesBeginning("", maxLike+1)
	if err != nil {
		return nil, err
	}
	if near := fault.Near(name, all, 1); len(all) <= maxLike && len(near) > 0 {
		f.Mend = strings.TrimSuffix(f.Mend, "?")
		if f.Mend != "" {
			f.Mend += "? "
		}
		f.Mend += "or your swatch " + quoted(near[0]) + "?"
	}
	return nil, f
}

func (b *Base) swatchSubject(w record.Swatch) (*fibres.Subject, error) {
	ms, err := b.Records.Measurements(w.ID, "", false)
	if err != nil {
		return nil, err
	}
	return b.SubjectOf(w, EvidenceOf(ms)), nil
}

// Hidden is the cloth that has a swatch's very name, and that the name therefore
// no longer means; nil where there is none.
func (b *Base) Hidden(s *fibres.Subject) *fibres.Cloth {
	if s == nil || !s.Swatch {
		return nil
	}
	id, err := b.Cat.ClothNames.Find(s.Name)
	if err != nil {
		return nil
	}
	k, key := b.Cat.Cloths[id], fibres.FoldName(s.Name)
	for _, n := range k.Names() {
		if fibres.FoldName(n) == key {
			return k
		}
	}
	return nil
}
