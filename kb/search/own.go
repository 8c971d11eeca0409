package search

import (
	"iter"
	"math"
	"slices"
	"strings"
	"sync/atomic"

	"tenter/kb/written"
)

// Own records change with every command, and an index of them costs a third of
// a millisecond a record to build. Reading through them costs less than a
// thousandth of that, so they are read through, and judged by the same words
// as what the index finds. Whoever keeps them passes over those that cannot answer.

// Own are the user's own records, wherever they are kept.
type Own interface {
	// Holding gives one after the other the records that pass the filters of a query and
	// may hold so many of its needs: those that hold most first, then those that may hold
	// them in their names. An error ends them.
	Holding(q *Query, n Needs) iter.Seq2[*Doc, error]
	// Kinds are those that there are of them, each asked for by itself: many of one must
	// not hide another.
	Kinds() []string
	// Count is how many there are.
	Count() int
	// Named are those that have other names, or that may stand for an entry of the
	// reference of their kind and id.
	Named() []*Doc
}

// Needs are what records must hold.
type Needs = written.Needs

// all needs every one of the words.
func all(words [][]string) Needs { return Needs{Words: words, AtLeast: len(words)} }

// List are own records in memory. They are read, not copied: they must stay as they are.
func List(docs []Doc) Own { return list(readOwn(docs)) }

type list []ownRecord

func (l list) Holding(q *Query, n Needs) iter.Seq2[*Doc, error] {
	by := make([][]*Doc, len(n.Words)+1) // by how many words they may hold
	for i := range l {
		if o := &l[i]; q.Passes(o.doc) {
			held := o.holding(n.Words)
			by[held] = append(by[held], o.doc)
		}
	}
	return func(yield func(*Doc, error) bool) {
		for held := len(n.Words); held >= max(0, n.AtLeast); held-- {
			for _, d := range by[held] {
				if !yield(d, nil) {
					return
				}
			}
		}
	}
}

func (l list) Kinds() []string {
	var out []string
	for i := range l {
		if k := l[i].doc.Kind; !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}

func (l list) Count() int { return len(l) }

func (l list) Named() []*Doc {
	out := make([]*Doc, len(l))
	for i := range l {
		out[i] = l[i].doc
	}
	return out
}

// ownRecord is one record that is read through.
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

// squeeze runs all that is written of a record together.
func squeeze(d *Doc) string {
	texts := []string{d.Name, d.ID, d.Text}
	for _, list := range [][]string{d.Names, d.Misspelt, d.Words, d.Fibres} {
		texts = append(texts, list...)
	}
	return written.Run(texts...)
}

// entry splits the record into words, once.
func (o *ownRecord) entry() *entry {
	if e := o.ready.Load(); e != nil {
		return e
	}
	e := splitDoc(o.doc)
	o.ready.Store(e)
	return e
}

func splitDoc(d *Doc) *entry {
	e := split(Show(d, nil))
	e.text = tokens(d.Text, 0) // no need to run them together first
	return e
}

// passes tells whether a record passes the filters.
func (o *ownRecord) passes(q *Query) bool { return q.Passes(o.doc) }

// Weighs tells whether it matters what an entry weighs.
func (q *Query) Weighs() bool { return q.MinMass > 0 || q.MaxMass > 0 && !math.IsInf(q.MaxMass, 0) }

// Passes tells whether an entry passes the filters, whatever its words.
func (q *Query) Passes(d *Doc) bool {
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

// roots are pieces of which a record must hold one to hold a word or what begins with
// it; "" where nothing is known.
func roots(w, s string) []string {
	out := begun(s)
	for _, p := range spellings {
		switch same := shared(p.from, p.to); {
		case strings.HasPrefix(w, p.to):
			out = append(out, begun(stem(p.from+w[len(p.to):]))...)
		case len(w) > same && strings.HasPrefix(p.to, w): // "colou" may become "color"
			out = append(out, p.from[:same])
		}
	}
	return out
}

// begun are the ways in which words of one stem are written as far as the stem goes.
// Most begin with it; the stemmer makes a y to an i, -bil- to -bl- and puts an e where it
// took an ending off, and -iz- is folded to -is-.
func begun(s string) []string {
	if !ascii(s) {
		return []string{""}
	}
	out := []string{s}
	switch n := len(s) - 1; {
	case strings.HasSuffix(s, "i"):
		out = append(out, s[:n]+"y")
	case strings.HasSuffix(s, "e"):
		out = append(out, s[:n]+"i")
	case strings.HasSuffix(s, "bl"):
		out = append(out, s[:n]+"il")
	}
	for _, o := range out {
		if i := strings.LastIndex(o, "is"); i >= 0 {
			out = append(out, o[:i]+"iz"+o[i+2:])
		}
	}
	return out
}

// shared is how many letters two words begin with alike.
func shared(a, b string) int {
	n := 0
	for n < min(len(a), len(b)) && a[n] == b[n] {
		n++
	}
	return n
}

// needs lists for each word that must be found the pieces of which one must be
// there, of the word or of what it may stand for. With guess, the spelling of
// doubtful words may be wrong.
func (a *Ask) needs(guess bool) [][]string {
	var out [][]string
	for i, w := range a.Words {
		pieces := a.pieces(w, a.Stems[i])
		if guess && a.Slip(i) && pieces[0] != "" {
			pieces = append(pieces, intact(w, edits(w))...)
		}
		if !slices.Contains(pieces, "") { // of a word that is not ASCII nothing is known
			out = append(out, pieces)
		}
	}
	return out
}

// pieces are those of a word and of what it may stand for.
func (a *Ask) pieces(w, s string) []string {
	out := roots(w, s)
	for origin, es := range a.Also {
		if !slices.Contains(strings.Fields(origin), w) {
			continue
		}
		for _, e := range es {
			out = append(out, roots(e.Words[0], stem(e.Words[0]))...) // all of its words are there
		}
	}
	return out
}

// narrow asks for whole words where the pieces stand in too many records: the stem of
// "remnane" stands in every remnant. A name that is run together otherwise is told by its
// beginning.
func (a *Ask) narrow(n Needs) Needs {
	n.Whole = make([][]string, len(n.Words))
	for i, pieces := range n.Words {
		for _, p := range pieces {
			n.Whole[i] = append(n.Whole[i], written.Ends(p))
		}
	}
	n.Begins = []string{joined(a.All), a.Key}
	if short, ok := strings.CutSuffix(a.Key, "y"); ok {
		n.Begins = append(n.Begins, short+"ies")
	}
	return n
}

// intact are pieces of a word of which one is left whole by as many edits, at most
// two. A word cut into one part more than there are edits keeps a part, unless a
// slip swapped the letters on both sides of a cut: then the parts that it spoilt are
// known with the swap.
func intact(w string, edits int) []string {
	swapped := func(s string, at int) string { return s[:at-1] + s[at:at+1] + s[at-1:at] + s[at+1:] }
	switch n := len(w); edits {
	case 1:
		return []string{w[:n/2], w[n/2:], swapped(w, n/2)}
	case 2:
		a, b := n/3, 2*n/3
		return []string{w[:a], w[a:b], w[b:], swapped(w[:b], a), swapped(w[a:], b-a), swapped(swapped(w, a), b)}
	}
	return nil
}

// mayHold tells whether a record may hold all of the words.
func (o *ownRecord) mayHold(words [][]string) bool { return o.holding(words) == len(words) }

// holding is how many of the words a record may hold.
func (o *ownRecord) holding(words [][]string) int {
	if o.plain == "" {
		return len(words)
	}
	n := 0
	for _, pieces := range words {
		if slices.ContainsFunc(pieces, func(p string) bool { return strings.Contains(o.plain, p) }) {
			n++
		}
	}
	return n
}

// How many own records of a kind are counted, and how many are looked at for guesses and
// for some of the words only, or to see whether their pieces tell anything: who has more
// that may fit asks anew.
const (
	fewOwn  = 100
	maxOwn  = maxHits
	maxWeak = 1000
)

// own judges the own records that were not found before. At least n words must
// be found when some may be missing.
func (s *search) own(p pass, n int) (out []found) {
	var needs Needs
	if p != passListed {
		needs = all(s.a.needs(p.guesses()))
	}
	if p.partly() { // a word that needs nothing may be there
		needs.AtLeast = max(1, n-len(s.a.Words)+len(needs.Words))
	}
	for _, kind := range s.x.own.Kinds() {
		if len(s.q.Kinds) > 0 && !slices.Contains(s.q.Kinds, kind) {
			continue
		}
		of := s.q
		of.Kinds = []string{kind}
		out = append(out, s.ownOf(&of, p, n, needs)...)
	}
	if p == passExact && !s.q.filtered() && len(s.a.Words) == 1 {
		s.a.None = len(out) == 0
	}
	return out
}

// ownOf judges those of one kind.
func (s *search) ownOf(q *Query, p pass, n int, needs Needs) (out []found) {
	weak := p.guesses() || p.partly()
	held := s.x.own.Holding(q, needs)
	if p == passExact && !s.a.Last {
		held = s.sifted(q, needs)
	}
	looked := 0
	for d, err := range held {
		if err != nil {
			s.err = err
			return nil
		}
		if looked++; looked > maxWeak && weak {
			break
		}
		addr := Address(d.Kind, d.ID)
		if s.seen[addr] {
			continue
		}
		j := listed
		if p != passListed {
			j = judge(s.a, splitDoc(d), p)
			if p.partly() {
				j.ok = j.ok || j.found >= n
			}
		}
		if !j.ok {
			continue
		}
		if len(out) == maxOwn {
			if !slices.Contains(s.over, d.Kind) {
				s.over = append(s.over, d.Kind)
			}
			break
		}
		out = append(out, found{Hit: Hit{Kind: d.Kind, ID: d.ID, Name: d.Name}, judged: j, own: true, raw: j.weight, addr: addr, fibres: d.Fibres})
	}
	return out
}

// sifted looks at a few records that may hold the words. Where there are no more, they are
// all. Where none of them does, pieces of the words stand in many others, and whole words
// are asked for.
func (s *search) sifted(q *Query, needs Needs) iter.Seq2[*Doc, error] {
	probe := needs
	probe.Few = fewOwn
	var few []*Doc
	for d, err := range s.x.own.Holding(q, probe) {
		if err != nil {
			return s.x.own.Holding(q, needs) // which tells it
		}
		if few = append(few, d); len(few) == fewOwn {
			break
		}
	}
	holds := func(d *Doc) bool { return judge(s.a, splitDoc(d), passExact).ok }
	switch {
	case len(few) < fewOwn && q.Fibre == "" && !q.Weighs():
		return func(yield func(*Doc, error) bool) {
			for _, d := range few {
				if !yield(d, nil) {
					return
				}
			}
		}
	case len(few) == fewOwn && !slices.ContainsFunc(few, holds):
		s.a.Narrow = true
		needs = s.a.narrow(needs)
	}
	return s.x.own.Holding(q, needs)
}

// take keeps the own records found and counts them.
func (s *search) take(fs []found) {
	for _, f := range fs {
		if s.seen[f.addr] {
			continue
		}
		s.seen[f.addr] = true
		s.found = append(s.found, f)
		s.ownFound = append(s.ownFound, f)
	}
}

// hide finds the entries of the reference that own records of the same kind and
// id stand for.
func (x *Index) hide() error {
	var addresses []string
	for _, d := range x.own.Named() {
		addresses = append(addresses, Address(d.Kind, d.ID))
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
