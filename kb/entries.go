package kb

import (
	"iter"
	"slices"

	"tenter/kb/record"
	"tenter/kb/search"
	"tenter/kb/written"
)

// kindSwatch is what the search calls a swatch.
const kindSwatch = "swatch"

// Entries are records as the search takes them, left where they are kept.
type Entries interface {
	// SwatchEntries gives one after the other the swatches of which what is written may
	// hold what is needed: those that hold most first, then those whose names may hold it.
	// With masses, each tells what it weighs.
	SwatchEntries(n written.Needs, masses bool) iter.Seq2[record.Entry, error]
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

func (k *kept) Holding(q *search.Query, n search.Needs) iter.Seq2[*search.Doc, error] {
	return func(yield func(*search.Doc, error) bool) {
		for d, err := range k.notes.Holding(q, n) {
			if !yield(d, err) {
				return
			}
		}
		if len(q.Kinds) > 0 && !slices.Contains(q.Kinds, kindSwatch) {
			return
		}
		for e, err := range k.SwatchEntries(n, q.Weighs()) {
			if d := search.Doc(e); err != nil || q.Passes(&d) {
				if !yield(&d, err) {
					return
				}
			}
		}
	}
}

func (k *kept) Kinds() []string { return append(k.notes.Kinds(), kindSwatch) }

func (k *kept) Count() int { return k.notes.Count() + k.swatches }

// Named is empty: records have one name, and no kind of the reference.
func (k *kept) Named() []*search.Doc { return nil }
