package store

import (
	"cmp"
	"iter"
	"slices"
	"strings"

	"tenter/kb/record"
	"tenter/kb/written"
)

// firstLook is how many swatches are looked for at first: most who ask look at no more,
// and to put a few in order costs less than to put all.
const firstLook = 1001

// SwatchEntries describes swatches to the search, one after the other: those of which
// what is written may hold what is needed; those that hold most first, then those whose
// names may hold it. The id is the name. With masses, what was measured last is told too.
func (s *Store) SwatchEntries(n written.Needs, masses bool) iter.Seq2[record.Entry, error] {
	return func(yield func(record.Entry, error) bool) {
		told := 0
		looks := []int{firstLook, -1}
		if n.Few > 0 {
			looks = []int{n.Few}
		}
		for _, most := range looks {
			ids, err := s.holding(n, most, told)
			if err != nil {
				yield(record.Entry{}, err)
				return
			}
			if !s.tell(ids, masses, yield) || len(ids) < most {
				return
			}
			told += len(ids)
		}
	}
}

// tell describes the swatches of those numbers as long as it is wanted.
func (s *Store) tell(ids []int64, masses bool, yield func(record.Entry, error) bool) bool {
	for some := range slices.Chunk(ids, idsAtOnce) {
		entries, err := s.entries(some, masses)
		if err != nil {
			yield(record.Entry{}, err)
			return false
		}
		for _, e := range entries {
			if !yield(e, nil) {
				return false
			}
		}
	}
	return true
}

// holding finds the numbers of the swatches that may hold so many of the words, in the
// order in which they are told: at most so many (-1 = all) after the first ones. Words of
// long pieces are asked first, since they rule most rows out; of a swatch that has no
// plain run of letters nothing is known.
func (s *Store) holding(n written.Needs, most, after int) ([]int64, error) {
	query := "select id from swatch order by name_key"
	var args []any
	if len(n.Words) > 0 && n.AtLeast > 0 {
		words := slices.SortedFunc(slices.Values(n.Words), func(a, b []string) int { return cmp.Compare(shortest(b), shortest(a)) })
		each, named, pieces := make([]string, len(words)), make([]string, len(words)), []any(nil)
		for i, w := range words {
			each[i], named[i] = anyOf("instr(plain, ?) > 0", w), anyOf("instr(plain, ?) between 1 and length(name)", w)
			pieces = append(pieces, anys(w)...)
		}
		inName := strings.Join(named, " and ")
		if n.AtLeast >= len(words) {
			whole, patterns := wholeWords(n)
			query = "select id from swatch where plain = '' or (" + strings.Join(each, " and ") + whole + ") order by (plain = '' or " + inName + ") desc, name_key"
			args = slices.Concat(pieces, patterns, pieces)
		} else {
			held := strings.Join(each, " + ")
			query = "select id from swatch where plain = '' or " + held + " >= ? order by plain = '' desc, " + held + " desc, (" + inName + ") desc, name_key"
			args = slices.Concat(pieces, []any{n.AtLeast}, pieces, pieces)
		}
	}
	if n.Few > 0 {
		query, _, _ = strings.Cut(query, " order by ")
		args = args[:strings.Count(query, "?")]
	}
	query, args = query+" limit ? offset ?", append(args, most, after)
	rows, err := s.db.Query(query, args...)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var ids []int64
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return nil, s.explain(err)
		}
		ids = append(ids, id)
	}
	return ids, s.explain(rows.Err())
}

// wholeWords is the condition, where there is one, that words stand whole in what is written.
func wholeWords(n written.Needs) (condition string, args []any) {
	if len(n.Whole) == 0 {
		return "", nil
	}
	text := "lower(replace(concat_ws(' ', " + searched + ", ''), '''', ''))"
	each := make([]string, len(n.Whole))
	for i, patterns := range n.Whole {
		each[i] = anyOf(text+" glob ?", patterns)
		args = append(args, anys(patterns)...)
	}
	return " and (" + strings.Join(each, " and ") + " or " + anyOf("instr(plain, ?) = 1", n.Begins) + ")", append(args, anys(n.Begins)...)
}

// anyOf is the condition that one of the texts meets.
func anyOf(condition string, texts []string) string {
	return "(" + strings.TrimPrefix(strings.Repeat(" or "+condition, len(texts)), " or ") + ")"
}

// anys hands texts to a question.
func anys(texts []string) []any {
	out := make([]any, len(texts))
	for i, t := range texts {
		out[i] = t
	}
	return out
}

// entries describes the swatches of those numbers, in their order.
func (s *Store) entries(ids []int64, weighed bool) ([]record.Entry, error) {
	list, args := placeholders(ids)
	rows, err := s.db.Query("select "+swatchFields+" from swatch where id in "+list, args...)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	swatches := map[int64]record.Swatch{}
	for rows.Next() {
		w, err := scanSwatch(rows)
		if err != nil {
			return nil, s.explain(err)
		}
		swatches[w.ID] = w
	}
	if err := rows.Err(); err != nil {
		return nil, s.explain(err)
	}
	var masses map[int64]float64
	if weighed {
		if masses, err = s.masses(ids); err != nil {
			return nil, err
		}
	}
	out := make([]record.Entry, 0, len(ids))
	for _, id := range ids {
		if w, ok := swatches[id]; ok { // it may be removed meanwhile
			out = append(out, record.SwatchEntry(w, masses[id]))
		}
	}
	return out, nil
}

// placeholders writes numbers as a list that a question takes.
func placeholders(ids []int64) (list string, args []any) {
	for _, id := range ids {
		args = append(args, id)
	}
	return "(?" + strings.Repeat(",?", len(ids)-1) + ")", args
}

// shortest is the length of the shortest piece.
func shortest(pieces []string) int {
	n := len(pieces[0])
	for _, p := range pieces {
		n = min(n, len(p))
	}
	return n
}

// idsAtOnce is how many ids one question names.
const idsAtOnce = 500

// masses are the latest measured masses of those swatches that have one.
func (s *Store) masses(ids []int64) (map[int64]float64, error) {
	out := map[int64]float64{}
	list, args := placeholders(ids)
	ms, err := s.measurements("select "+measurementFields+" from measurement where swatch_id in "+list+" and kind = 'mass' and removed is null order by taken_at, id", args...)
	if err != nil {
		return nil, err
	}
	for _, m := range ms {
		if v, ok := m.Mean(record.ReadingMass); ok {
			out[m.SwatchID] = v
		}
	}
	return out, nil
}

// CountSwatches is how many there are.
func (s *Store) CountSwatches() (n int, err error) {
	err = s.db.QueryRow("select count(*) from swatch").Scan(&n)
	return n, s.explain(err)
}
