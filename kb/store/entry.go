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
		after := 0
		looks := []int{firstLook, -1}
		if n.Few > 0 {
			looks = []int{n.Few}
		}
		for _, limit := range looks {
			ids, err := s.holding(n, limit, after)
			if err != nil {
				yield(record.Entry{}, err)
				return
			}
			if !s.tell(ids, masses, yield) || len(ids) < limit {
				return
			}
			after += len(ids)
		}
	}
}

// firstFew is how many swatches tell whether words stand in names.
const firstFew = 50

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
// order in which they are told: at most so many (-1 = all) after the first ones. Of a
// swatch that has no plain run of letters nothing is known.
func (s *Store) holding(n written.Needs, limit, after int) ([]int64, error) {
	if len(n.Words) == 0 || n.AtLeast <= 0 {
		return s.ids("select id from swatch order by name_key limit ? offset ?", limit, after)
	}
	p := pieces(n)
	if n.AtLeast < len(n.Words) {
		held := strings.Join(p.each, " + ")
		return s.ids("select id from swatch where plain = '' or "+held+" >= ? order by plain = '' desc, "+held+" desc, ("+p.inName+") desc, name_key limit ? offset ?",
			slices.Concat(p.args, []any{n.AtLeast}, p.args, p.args, []any{limit, after})...)
	}
	whole, patterns := wholeWords(n)
	holds := "(plain = '' or (" + strings.Join(p.each, " and ") + whole + "))"
	inName := "(plain = '' or " + p.inName + ")"
	all := slices.Concat(p.args, patterns)
	if after == 0 {
		few := cmp.Or(n.Few, firstFew)
		ids, named, err := s.few(holds, inName, slices.Concat(p.args, all, []any{few}))
		if err != nil || n.Few > 0 || len(ids) < few {
			return ids, err
		}
		// To read the names in order until there are enough is quicker than to sort all.
		if named > few*9/10 && whole == "" {
			ids, err := s.ids("select id from swatch where "+inName+" order by name_key limit ?", append(slices.Clone(p.args), limit)...)
			if err != nil || len(ids) == limit {
				return ids, err
			}
		}
	}
	return s.ids("select id from swatch where "+holds+" order by "+inName+" desc, name_key limit ? offset ?",
		slices.Concat(all, p.args, []any{limit, after})...)
}

// few finds any few swatches, in their order, and of how many the names may hold what is
// needed.
func (s *Store) few(holds, inName string, args []any) (ids []int64, named int, err error) {
	rows, err := s.db.Query("with few as materialized (select id, name_key, "+inName+" as named from swatch where "+holds+" limit ?) select id, named from few order by named desc, name_key", args...)
	if err != nil {
		return nil, 0, s.explain(err)
	}
	defer rows.Close()
	for rows.Next() {
		var id int64
		var inName bool
		if err := rows.Scan(&id, &inName); err != nil {
			return nil, 0, s.explain(err)
		}
		if ids = append(ids, id); inName {
			named++
		}
	}
	return ids, named, s.explain(rows.Err())
}

// ids reads the numbers that a question finds.
func (s *Store) ids(query string, args ...any) ([]int64, error) {
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

// asked is what words ask of the plain run of letters: each that one of its pieces stands
// there, and all that one stands in the name. Both take the same arguments.
type asked struct {
	each   []string
	inName string
	args   []any
}

// pieces puts words of long pieces first, since they rule most rows out.
func pieces(n written.Needs) (a asked) {
	words := slices.SortedFunc(slices.Values(n.Words), func(a, b []string) int { return cmp.Compare(shortest(b), shortest(a)) })
	named := make([]string, len(words))
	for i, w := range words {
		a.each = append(a.each, anyOf("instr(plain, ?) > 0", w))
		named[i] = anyOf("instr(plain, ?) between 1 and length(name)", w)
		a.args = append(a.args, anys(w)...)
	}
	a.inName = strings.Join(named, " and ")
	return a
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
