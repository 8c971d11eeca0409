// Package plain reads TOML into positioned nodes: every key, value and block
// knows its file, line and column, counted in characters, so that a finding can
// point at the very word. It reads the whole file, carries on after a slip, and
// reports everything it finds in one go.
//
// It asks nothing of a file's meaning. The caller asks each block for the keys
// it knows, with [Table.String], [Table.Tables] and their like; what is of the
// wrong sort is reported as it is asked for, and what nobody asked for is
// reported by [Doc.Unused] as an unknown key, with the keys that were asked for
// as the suggestion.
package plain

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"tenter/fibres/fault"
)

// root is the outermost table; the other name keeps [Table.Table] in reach.
type root = Table

// Doc is one file, and its outermost table: what stands outside all blocks, and
// the blocks themselves.
type Doc struct {
	*root
	name   string
	src    string
	lines  []int // byte offset at which each line begins
	faults fault.List
}

// Name returns the name the file was decoded under.
func (d *Doc) Name() string { return d.name }

// Report adds a finding to those of the file.
func (d *Doc) Report(f *fault.Fault) { d.faults = append(d.faults, f) }

// Findings is how many findings there are so far.
func (d *Doc) Findings() int { return len(d.faults) }

// Err returns the findings so far, in the order of their places, or nil:
// slips of the format, and whatever was of the wrong sort when it was asked for.
func (d *Doc) Err() error {
	return append(fault.List(nil), d.faults...).OrNil()
}

// Done returns every finding, unknown keys among them. Call it once all keys
// that are known have been asked for.
func (d *Doc) Done() error {
	return append(append(fault.List(nil), d.faults...), d.Unused()...).OrNil()
}

// where turns a byte offset into file:line:column.
func (d *Doc) where(at int) string {
	line, col := d.lineCol(at)
	return d.name + ":" + strconv.Itoa(line) + ":" + strconv.Itoa(col)
}

// lineCol gives the line and the column in characters, both from 1.
func (d *Doc) lineCol(at int) (line, col int) {
	lo, hi := 0, len(d.lines)
	for lo+1 < hi {
		mid := (lo + hi) / 2
		if d.lines[mid] <= at {
			lo = mid
		} else {
			hi = mid
		}
	}
	at = min(at, len(d.src))
	return lo + 1, utf8.RuneCountInString(d.src[d.lines[lo]:at]) + 1
}

// Table is a block or an inline table.
type Table struct {
	doc     *Doc
	path    string // "rule.step", for messages
	at      int
	entries []*Value // in the order of the file
	asked   []string // keys that were asked for, whether there or not
	single  bool     // stands under [x], not [[x]]
	implied bool     // made by a longer header or a dotted key, not by a header of its own
	broken  bool     // a slip inside it hid something
	taken   bool     // its keys are taken whole (Leaves), none is unknown
}

// Where returns the place at which the block begins.
func (t *Table) Where() string { return t.doc.where(t.at) }

// Line returns the line on which the block begins, counted from 1.
func (t *Table) Line() int { l, _ := t.doc.lineCol(t.at); return l }

// Broken says that a slip of the format inside the block hid part of it, so
// that a key may look missing and not be.
func (t *Table) Broken() bool { return t.broken }

// Doc returns the file the block stands in.
func (t *Table) Doc() *Doc { return t.doc }

// Keys returns the keys of the block in the order of the file.
func (t *Table) Keys() []string {
	out := make([]string, len(t.entries))
	for i, v := range t.entries {
		out[i] = v.key
	}
	return out
}

// add puts a value into the block.
func (t *Table) add(v *Value) {
	if t.entries == nil {
		t.entries = make([]*Value, 0, 12)
	}
	t.entries = append(t.entries, v)
}

// find looks a key up without asking for it.
func (t *Table) find(key string) *Value {
	for _, v := range t.entries {
		if v.key == key {
			return v
		}
	}
	return nil
}

// Value returns what stands under key, or nil.
func (t *Table) Value(key string) *Value {
	if t == nil {
		return nil
	}
	v := t.find(key)
	if v != nil {
		v.used = true
	}
	t.ask(key)
	return v
}

func (t *Table) ask(key string) {
	for _, k := range t.asked {
		if k == key {
			return
		}
	}
	if t.asked == nil {
		t.asked = make([]string, 0, 12)
	}
	t.asked = append(t.asked, key)
}

// Has says whether the block has the key.
func (t *Table) Has(key string) bool { return t.Value(key) != nil }

// WhereOf returns the place of the value under key, or of the block when it has
// no such key.
func (t *Table) WhereOf(key string) string {
	if v := t.find(key); v != nil {
		return v.Where()
	}
	return t.Where()
}

// Fault reports a finding at the value under key (at the block, when it has no
// such key), unless the finding has a place already.
func (t *Table) Fault(key string, f *fault.Fault) {
	if f.Kind == fault.WrongCall {
		f.Kind = fault.BadData
	}
	t.doc.Report(f.At(t.WhereOf(key)))
}

// Need reports the key as missing unless it is there. The words say what was
// expected; they may be empty.
func (t *Table) Need(key, expected string) bool {
	if t.Has(key) {
		return true
	}
	if !t.broken {
		t.doc.Report(&fault.Fault{Kind: fault.BadData, Where: t.Where(), What: key + " is missing", Expected: expected})
	}
	return false
}

// String returns the text under key, "" when there is none. A value of another
// sort is reported.
func (t *Table) String(key string) string {
	v := t.Value(key)
	if v == nil || !v.want(Text) {
		return ""
	}
	return v.text
}

// Strings returns the list of texts under key, nil when there is none. Anything
// else than a list of texts is reported.
func (t *Table) Strings(key string) []string {
	v := t.Value(key)
	if v == nil || !v.want(List) {
		return nil
	}
	out := make([]string, 0, len(v.list))
	for _, e := range v.list {
		if e.want(Text) {
			out = append(out, e.text)
		}
	}
	return out
}

// Number returns the bare number under key. A value of another sort is
// reported.
func (t *Table) Number(key string) (float64, bool) {
	v := t.Value(key)
	if v == nil || !v.want(Figure) {
		return 0, false
	}
	n, ok := v.Number()
	if !ok {
		v.Fault(&fault.Fault{What: key + " is " + v.text + ", not a number", Expected: "a figure such as 2 or 1.5"})
	}
	return n, ok
}

// Bool returns the true or false under key, false when there is none; the
// second result says whether there is one. A value of another sort is reported.
func (t *Table) Bool(key string) (value, there bool) {
	v := t.Value(key)
	if v == nil || !v.want(Truth) {
		return false, false
	}
	return v.text == "true", true
}

// Table returns the one block or inline table under key, or nil. Anything else
// is reported.
func (t *Table) Table(key string) *Table {
	v := t.Value(key)
	if v == nil || !v.want(Block) {
		return nil
	}
	if len(v.tables) == 0 {
		return nil
	}
	for _, b := range v.tables {
		if !b.single {
			t.doc.Report(&fault.Fault{Kind: fault.BadData, Where: b.Where(),
				What: "[[" + b.path + "]] has two brackets", Expected: "[" + b.path + "], because there is one of it"})
			return v.tables[0]
		}
	}
	for _, b := range v.tables[1:] {
		t.doc.Report(&fault.Fault{Kind: fault.BadData, Where: b.Where(),
			What: "[" + b.path + "] stands twice", Expected: "one block of it", Mend: "the other begins at " + v.tables[0].Where()})
	}
	return v.tables[0]
}

// Tables returns the [[key]] blocks, or the inline tables of a list, in the
// order of the file. A block with one bracket is reported and returned with the
// others, so that its own slips show too.
func (t *Table) Tables(key string) []*Table {
	v := t.Value(key)
	if v == nil {
		return nil
	}
	if v.kind == List {
		out := make([]*Table, 0, len(v.list))
		for _, e := range v.list {
			if e.want(Block) {
				out = append(out, e.tables...)
			}
		}
		return out
	}
	if !v.want(Block) {
		return nil
	}
	for _, b := range v.tables {
		if b.single {
			t.doc.Report(&fault.Fault{Kind: fault.BadData, Where: b.Where(),
				What: "[" + b.path + "] has one bracket", Expected: "[[" + b.path + "]] begins each " + lastPart(b.path)})
		}
	}
	return v.tables
}

// Leaf is a value at the end of a dotted key.
type Leaf struct {
	Path  []string // the parts below the table that was asked
	Value *Value
	line  int // offset at which the whole key begins
	first int // offset of the first part below the table that was asked
}

// Key returns the parts joined by full stops.
func (l Leaf) Key() string { return strings.Join(l.Path, ".") }

// WhereKey returns the place of the first part of the key below the table that
// was asked: of lining in when.lining.fray, when "when" was asked.
func (l Leaf) WhereKey() string { return l.Value.doc.where(l.first) }

// WhereLine returns the place at which the whole key begins.
func (l Leaf) WhereLine() string { return l.Value.doc.where(l.line) }

// Line returns the number of the line on which the key begins.
func (l Leaf) Line() int { n, _ := l.Value.doc.lineCol(l.line); return n }

// Leaves returns every value at or below the table, in the order of the file.
// All keys below count as asked for.
func (t *Table) Leaves() []Leaf {
	if t == nil {
		return nil
	}
	var out []Leaf
	t.leaves(&out, nil, -1)
	slices.SortStableFunc(out, func(a, b Leaf) int { return a.Value.keyAt - b.Value.keyAt })
	return out
}

func (t *Table) leaves(out *[]Leaf, path []string, first int) {
	t.taken = true
	for _, v := range t.entries {
		v.used = true
		p := append(append(make([]string, 0, len(path)+1), path...), v.key)
		at := first
		if at < 0 {
			at = v.keyAt
		}
		if v.kind != Block {
			if f := v.first(len(p)); f >= 0 {
				at = f
			}
			*out = append(*out, Leaf{Path: p, Value: v, line: v.lineAt, first: at})
			continue
		}
		for _, b := range v.tables {
			b.leaves(out, p, at)
		}
	}
}

// Unused returns a finding for every key that nobody asked for.
func (d *Doc) Unused() fault.List {
	var l fault.List
	d.root.unused(&l)
	l.Sort()
	return l
}

func (t *Table) unused(l *fault.List) {
	for _, v := range t.entries {
		if !v.used && !t.taken {
			f := &fault.Fault{Kind: fault.BadData, Where: t.doc.where(v.keyAt), What: `unknown key "` + v.key + `"`}
			if v.kind == Block && len(v.tables) > 0 {
				f.Where = v.tables[0].Where()
			}
			if t.path == "" && v.kind != Block {
				f.Mend = "it stands before the first block; does it belong inside one?"
			}
			if len(t.asked) > 0 {
				f.Expected = "one of " + strings.Join(t.asked, ", ")
				f.Mend = fault.DidYouMean(v.key, t.asked, f.Mend)
			}
			*l = append(*l, f)
			continue
		}
		for _, b := range v.tables {
			b.unused(l)
		}
		for _, e := range v.list {
			for _, b := range e.tables {
				if e.used {
					b.unused(l)
				}
			}
		}
	}
}

// Sort is what a value is.
type Sort int

// The sorts of value.
const (
	Text   Sort = iota // "…"
	Figure             // 2, 1.5
	Truth              // true, false
	Date               // 2026-11-25 and other dates and times
	List               // [ … ]
	Block              // [x], [[x]], { … } or a dotted key
)

// String names the sort in a finding.
func (s Sort) String() string {
	return [...]string{`text in "quotation marks"`, "a number", "true or false", "a date", "a list in [ ]", "a block"}[s]
}

// Value is what stands on the right of a key, or in a list.
type Value struct {
	doc    *Doc
	key    string
	kind   Sort
	text   string
	list   []*Value
	tables []*Table
	used   bool
	exact  bool  // the text stands in the file as it is, without escapes
	lineAt int   // offset at which the whole dotted key begins
	keyAt  int   // offset of this part of the key
	parts  []int // offsets of the parts of the dotted key that ends here, nil when it has but one
	at     int   // offset of the value
}

// first gives the offset of the part of the dotted key that lies n parts from
// its end, or -1 when the key as written has fewer parts.
func (v *Value) first(n int) int {
	if i := len(v.parts) - n; i >= 0 {
		return v.parts[i]
	}
	if n == 1 {
		return v.keyAt
	}
	return -1
}

// Sort returns what the value is.
func (v *Value) Sort() Sort { return v.kind }

// Text returns a text without its quotation marks, and a number, truth or date
// as written.
func (v *Value) Text() string { return v.text }

// List returns the elements of a list.
func (v *Value) List() []*Value {
	for _, e := range v.list {
		e.used = true
	}
	return v.list
}

// Number returns the value of a bare number; infinities and not-a-number are
// refused.
func (v *Value) Number() (float64, bool) {
	if v.kind != Figure {
		return 0, false
	}
	s := strings.ReplaceAll(v.text, "_", "")
	if i, err := strconv.ParseInt(s, 0, 64); err == nil {
		return float64(i), true
	}
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || f-f != 0 {
		return 0, false
	}
	return f, true
}

// Where returns the place of the value.
func (v *Value) Where() string { return v.doc.where(v.at) }

// WhereIn returns the place of the byte at offset i of the text, or the place
// of the value where the text was written with escapes.
func (v *Value) WhereIn(i int) string {
	if v.kind != Text || !v.exact || i < 0 || i > len(v.text) {
		return v.Where()
	}
	return v.doc.where(v.at + 1 + i)
}

// Fault reports a finding at the value, unless it has a place already.
func (v *Value) Fault(f *fault.Fault) {
	if f.Kind == fault.WrongCall {
		f.Kind = fault.BadData
	}
	v.doc.Report(f.At(v.Where()))
}

// want reports the value unless it is of the sort.
func (v *Value) want(s Sort) bool {
	v.used = true
	if v.kind == s {
		return true
	}
	what := v.key + " is " + v.kind.String()
	if v.key == "" {
		what = "an element of the list is " + v.kind.String()
	}
	f := &fault.Fault{What: what, Expected: s.String()}
	switch {
	case s == List && v.kind == Text:
		f.Mend = `["` + v.text + `"]`
	case s == Text && (v.kind == Figure || v.kind == Truth || v.kind == Date):
		f.Mend = `"` + v.text + `"`
	case s == Truth && (v.text == "yes" || v.text == "true"):
		f.Mend = "true, without quotation marks"
	case s == Truth && (v.text == "no" || v.text == "false"):
		f.Mend = "false, without quotation marks"
	case s == Figure && v.kind == Text:
		f.Mend = "the number without quotation marks"
	}
	v.Fault(f)
	return false
}

func lastPart(path string) string {
	return path[strings.LastIndexByte(path, '.')+1:]
}
