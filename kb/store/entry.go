package store

import (
	"cmp"
	"slices"
	"strings"

	"tenter/kb/record"
)

// SwatchEntries describes swatches to the search: those of which what is written may
// hold, for so many of the words, one of their pieces (small letters and figures),
// those that hold most first, at most limit of them (0 is all). The id is the name.
func (s *Store) SwatchEntries(words [][]string, atLeast, limit int) ([]record.Entry, error) {
	if limit <= 0 {
		limit = -1
	}
	cond, order, args := holding(words, atLeast)
	rows, err := s.db.Query("select "+swatchFields+" from swatch where "+cond+order+" limit ?", append(args, limit)...)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var swatches []record.Swatch
	var ids []int64
	for rows.Next() {
		w, err := scanSwatch(rows)
		if err != nil {
			return nil, s.explain(err)
		}
		swatches, ids = append(swatches, w), append(ids, w.ID)
	}
	if err := rows.Err(); err != nil || len(ids) == 0 {
		return nil, s.explain(err)
	}
	masses, err := s.masses(ids)
	if err != nil {
		return nil, err
	}
	out := make([]record.Entry, 0, len(swatches))
	for _, w := range swatches {
		out = append(out, record.SwatchEntry(w, masses[w.ID]))
	}
	return out, nil
}

// holding writes as a condition, with an order where it needs one, that a swatch may
// hold so many of the words. Words of long pieces stand first, since they rule most
// rows out.
func holding(words [][]string, atLeast int) (cond, order string, args []any) {
	if len(words) == 0 || atLeast <= 0 {
		return "true", "", nil
	}
	words = slices.SortedFunc(slices.Values(words), func(a, b []string) int { return cmp.Compare(shortest(b), shortest(a)) })
	var each []string
	for _, pieces := range words {
		each = append(each, "("+strings.TrimPrefix(strings.Repeat(" or instr(plain, ?) > 0", len(pieces)), " or ")+")")
		for _, p := range pieces {
			args = append(args, p)
		}
	}
	if atLeast >= len(words) {
		return "plain = '' or " + strings.Join(each, " and "), "", args
	}
	held := strings.Join(each, " + ")
	args = append(append(args[:len(args):len(args)], atLeast), args...)
	return "plain = '' or " + held + " >= ?", " order by plain = '' desc, " + held + " desc", args
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
	for some := range slices.Chunk(ids, idsAtOnce) {
		args := make([]any, len(some))
		for i, id := range some {
			args[i] = id
		}
		ms, err := s.measurements("select "+measurementFields+" from measurement where swatch_id in (?"+strings.Repeat(",?", len(some)-1)+") and kind = 'mass' and removed is null order by taken_at, id", args...)
		if err != nil {
			return nil, err
		}
		for _, m := range ms {
			if v, ok := m.Mean(record.ReadingMass); ok {
				out[m.SwatchID] = v
			}
		}
	}
	return out, nil
}

// CountSwatches is how many there are.
func (s *Store) CountSwatches() (n int, err error) {
	err = s.db.QueryRow("select count(*) from swatch").Scan(&n)
	return n, s.explain(err)
}
