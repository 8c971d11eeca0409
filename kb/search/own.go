package search

import (
	"math"
	"slices"
	"strings"
	"sync/atomic"
)

// Own records change with every command, and an index of them costs a third of
// a millisecond a record to build. Reading through them costs less than a
// thousandth of that, so they are read through, and judged by the same words
// as what the index finds.

// ownRecord is one of the user's own records.
type ownRecord struct {
	doc   *Doc
	addr  string
	plain string // letters and figures only, lower case; "" = not ASCII
	ready atomic.Pointer[entry]
}

func readOwn(docs []Doc) []ownRecord {
	out := make([]ownRecord, len(docs))
	for i := range docs {
		d := &docs[i]
		out[i].doc, out[i].addr = d, Address(d.Kind, d.ID)
		out[i].plain = squeeze(d)
	}
	return out
}

// squeeze runs all that is written of a record together: what does not hold the
// beginning of a word does not hold the word.
func squeeze(d *Doc) string {
	var b strings.Builder
	ok := true
	put := func(s string) {
		for i := 0; i < len(s); i++ {
			switch c := s[i]; {
			case c >= 'A' && c <= 'Z':
				b.WriteByte(c + 'a' - 'A')
			case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
				b.WriteByte(c)
			case c >= 0x80:
				ok = false
				return
			}
		}
		b.WriteByte(' ')
	}
	b.Grow(len(d.Name) + len(d.ID) + len(d.Text) + 16)
	put(d.Name)
	put(d.ID)
	for _, list := range [][]string{d.Names, d.Slips, d.Words, d.Fibres} {
		for _, s := range list {
			put(s)
		}
	}
	put(d.Text)
	if !ok {
		return ""
	}
	return b.String()
}

// entry splits the record into words, once.
func (o *ownRecord) entry() *entry {
	if e := o.ready.Load(); e != nil {
		return e
	}
	d := o.doc
	e := split(Show(d, tokens(d.Text, 0)))
	o.ready.Store(e)
	return e
}

// passes tells whether a record passes the filters.
func (o *ownRecord) passes(q *Query) bool {
	d := o.doc
	if len(q.Kinds) > 0 && !slices.Contains(q.Kinds, d.Kind) {
		return false
	}
	if q.Fibre != "" && !slices.Contains(d.Fibres, q.Fibre) {
		return false
	}
	if q.MinMass > 0 && !(d.Mass >= q.MinMass) {
		return false
	}
	if q.MaxMass > 0 && !math.IsInf(q.MaxMass, 0) && !(d.Mass > 0 && d.Mass <= q.MaxMass) {
		return false
	}
	return true
}

// roots are beginnings of which a record must hold one to hold a word: stemming
// and spelling change only what comes behind them.
func roots(w, s string) []string {
	root := func(s string) string {
		for i := 0; i < len(s); i++ {
			if s[i] >= 0x80 {
				return ""
			}
		}
		return s[:max(1, min(4, len(s)-1))]
	}
	out := []string{root(s)}
	for _, p := range spellings {
		if strings.HasPrefix(w, p.to) {
			out = append(out, root(stem(p.from+w[len(p.to):])))
		}
	}
	return out
}

// needs lists for each word that must be found the roots of which one must be
// there; words that may stand for others are left out.
func (a *Ask) needs() [][]string {
	var out [][]string
	for i, w := range a.Words {
		free := false
		for origin := range a.Also {
			free = free || slices.Contains(strings.Fields(origin), w)
		}
		if free {
			continue
		}
		if rs := roots(w, a.Stems[i]); rs[0] != "" {
			out = append(out, rs)
		}
	}
	return out
}

func (o *ownRecord) mayHold(needs [][]string) bool {
	if o.plain == "" {
		return true
	}
	for _, roots := range needs {
		ok := false
		for _, r := range roots {
			ok = ok || strings.Contains(o.plain, r)
		}
		if !ok {
			return false
		}
	}
	return true
}

// own judges the own records that were not found before. At least n words must
// be found when some may be missing.
func (s *search) own(p pass, n int) []found {
	var out []found
	var needs [][]string
	if p == passExact {
		needs = s.a.needs()
	}
	for i := range s.x.own {
		o := &s.x.own[i]
		if s.seen[o.addr] || !o.passes(&s.q) || !o.mayHold(needs) {
			continue
		}
		j := listed
		if p != passListed {
			j = judge(s.a, o.entry(), p)
			if p == passPartly {
				j.ok = j.ok || j.found >= n
			}
		}
		if j.ok {
			out = append(out, found{Hit: Hit{Kind: o.doc.Kind, ID: o.doc.ID, Name: o.doc.Name}, judged: j, own: true, raw: j.weight, addr: o.addr})
		}
	}
	return out
}

// take keeps the own records found and counts them.
func (s *search) take(fs []found) {
	for _, f := range fs {
		if s.seen[f.addr] {
			continue
		}
		s.seen[f.addr] = true
		s.found = append(s.found, f)
		s.ownFound = append(s.ownFound, f.addr)
	}
}

// hide finds the entries of the reference that own records of the same kind and
// id stand for.
func (x *Index) hide() error {
	addresses := make([]string, len(x.own))
	for i := range x.own {
		addresses[i] = x.own[i].addr
	}
	if len(addresses) == 0 {
		return nil
	}
	var err error
	x.hidden, err = x.ref.Present(addresses)
	return err
}

// holds tells whether a word stands in the record.
func (o *ownRecord) holds(w, stem string) bool {
	return o.mayHold([][]string{roots(w, stem)}) && (&finder{entry: o.entry()}).has([]string{w})
}
