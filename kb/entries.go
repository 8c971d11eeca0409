package kb

import (
	"slices"

	"tenter/kb/record"
	"tenter/kb/search"
)

// Entries are records as the search takes them, left where they are kept.
type Entries interface {
	// SwatchEntries gives the swatches of which what is written may hold, for so many of
	// the words, one of their pieces, those that hold most first; a limit of 0 gives all.
	SwatchEntries(words [][]string, atLeast, limit int) ([]record.Entry, error)
	CountSwatches() (int, error)
	Notes(kind, subject string) ([]record.Note, error)
}

// Own are kept records as the search asks for them.
func Own(e Entries) (search.Own, error) {
	notes, err := noteDocs(e)
	if err != nil {
		return nil, err
	}
	swatches, err := e.CountSwatches()
	return &kept{e, search.List(notes), swatches}, err
}

type kept struct {
	Entries
	notes    search.Own
	swatches int
}

func (k *kept) Holding(q *search.Query, n search.Needs, limit int) ([]*search.Doc, error) {
	out, err := k.notes.Holding(q, n, limit)
	if err != nil || limit > 0 && len(out) == limit || len(q.Kinds) > 0 && !slices.Contains(q.Kinds, "swatch") {
		return out, err
	}
	entries, err := k.SwatchEntries(n.Words, n.AtLeast, limit)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		d := search.Doc(e)
		if q.Passes(&d) && (limit == 0 || len(out) < limit) {
			out = append(out, &d)
		}
	}
	return out, nil
}

func (k *kept) Count() int { return k.notes.Count() + k.swatches }

// Named is empty: records have one name, and no kind of the reference.
func (k *kept) Named() []*search.Doc { return nil }
