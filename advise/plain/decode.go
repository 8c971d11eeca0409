package plain

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"tenter/fibres/fault"
)

// Decode reads a file. The document is never nil: after a slip it reads on at
// the next line that looks like a key or a block, and the error holds every
// slip of the format.
func Decode(name string, data []byte) (*Doc, error) {
	src := strings.TrimPrefix(string(data), "\ufeff")
	data = data[len(data)-len(src) : len(data) : len(data)] // no spare room: see run
	d := &Doc{name: name, src: src, lines: []int{0}}
	for i := range len(data) {
		if data[i] == '\n' {
			d.lines = append(d.lines, i+1)
		}
	}
	d.root = &Table{doc: d}
	b := &builder{doc: d, in: d.root}
	for start := 0; start < len(data); {
		next, ok := b.run(data, start)
		if ok {
			break
		}
		start = next
	}
	return d, d.Err()
}

// builder hangs the parser's expressions into the tree.
type builder struct {
	doc    *Doc
	in     *Table  // the block that key lines now belong to
	spare  []Value // values are cut from a block, since a file has thousands
	tables []Table
	nested int  // lists and inline tables that are open
	lost   bool // the header above cannot be read
}

func (b *builder) newValue() *Value {
	if len(b.spare) == 0 {
		b.spare = make([]Value, 128)
	}
	v := &b.spare[0]
	b.spare = b.spare[1:]
	v.doc = b.doc
	return v
}

func (b *builder) newTable(t Table) *Table {
	if len(b.tables) == 0 {
		b.tables = make([]Table, 32)
	}
	n := &b.tables[0]
	b.tables = b.tables[1:]
	*n = t
	n.doc = b.doc
	return n
}

// word gives the text of a part of a key, as a part of the file where it stands
// there as it is.
func (b *builder) word(n *unstable.Node, start int) string {
	off := int(n.Raw.Offset) + start
	if int(n.Raw.Length) == len(n.Data) {
		return b.doc.src[off : off+len(n.Data)]
	}
	return string(n.Data)
}

// run parses from start to the end, or to a slip: then it reports it and gives
// the offset to go on from, which always lies further on.
func (b *builder) run(data []byte, start int) (next int, ok bool) {
	var p unstable.Parser
	p.Reset(data[start:])
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			b.header(e, start)
		case unstable.KeyValue:
			b.keyValue(b.in, e, start, int(e.Raw.Offset)+start)
		}
	}
	err := p.Error()
	if err == nil {
		return len(data), true
	}
	at, message := start, err.Error()
	var pe *unstable.ParserError
	if errors.As(err, &pe) {
		message = pe.Message
		// The highlight is a part of data, which has no spare room, so what is
		// left of its room tells where it begins.
		if off := len(data) - cap(pe.Highlight); off >= start {
			at = min(off, len(data)-1)
		}
	}
	b.doc.slip(at, message)
	if line := b.doc.line(at); strings.HasPrefix(strings.TrimLeft(line, " \t"), "[") && !strings.Contains(line, "=") {
		// What follows a header that cannot be read belongs to nobody we know.
		b.in, b.lost = &Table{doc: b.doc, broken: true}, true
	}
	b.in.broken = true
	return b.doc.resume(at, start, message), false
}

// resume finds the next line to go on from: the line of the slip itself when it
// is one that a list or text above ran into, else the next that looks like a
// beginning.
func (d *Doc) resume(at, start int, message string) int {
	from := d.lineStart(at)
	if ran := strings.Contains(message, "',' or ']'") || strings.Contains(message, "array") || strings.Contains(message, "inline table"); ran &&
		from > start && at == from+len(d.line(at))-len(strings.TrimLeft(d.line(at), " \t")) && beginning(d.line(at)) {
		return from
	}
	for {
		end := strings.IndexByte(d.src[from:], '\n')
		if end < 0 {
			return len(d.src)
		}
		from += end + 1
		if from >= len(d.src) || beginning(d.line(from)) {
			return from
		}
	}
}

// beginning says whether a line looks like a block or a key with its "=".
func beginning(line string) bool {
	line = strings.TrimLeft(line, " \t")
	if strings.HasPrefix(line, "[") {
		return true
	}
	key, _, ok := strings.Cut(line, "=")
	if !ok || strings.TrimSpace(key) == "" {
		return false
	}
	for _, r := range strings.TrimSpace(key) {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune(`_-. "'`, r) {
			continue
		}
		return false
	}
	return true
}

func (d *Doc) lineStart(at int) int {
	return strings.LastIndexByte(d.src[:at], '\n') + 1
}

// line gives the whole line that the offset lies in.
func (d *Doc) line(at int) string {
	s := d.src[d.lineStart(at):]
	if i := strings.IndexByte(s, '\n'); i >= 0 {
		s = s[:i]
	}
	return strings.TrimSuffix(s, "\r")
}

// deep is how many parts a dotted key may have, and how many inline tables may
// stand inside each other. No file for people needs more, and findings name the
// whole path.
const deep = 16

func (d *Doc) tooDeep(at int) {
	d.Report(&fault.Fault{Kind: fault.BadData, Where: d.where(at), What: "this is nested more than " + strconv.Itoa(deep) + " deep",
		Expected: "a few levels at most"})
}

// header opens the block of [x.y] or [[x.y]].
func (b *builder) header(e *unstable.Node, start int) {
	var parts []string
	var offs []int
	for it := e.Key(); it.Next(); {
		parts = append(parts, b.word(it.Node(), start))
		offs = append(offs, int(it.Node().Raw.Offset)+start)
	}
	at := strings.LastIndexByte(b.doc.src[:offs[0]], '[')
	if e.Kind == unstable.ArrayTable && at > 0 && b.doc.src[at-1] == '[' {
		at--
	}
	if len(parts) > deep {
		b.doc.tooDeep(offs[0])
		b.in = &Table{doc: b.doc, broken: true}
		return
	}
	if b.lost = b.lost && len(parts) > 1; b.lost { // and so does a block inside it
		b.in = &Table{doc: b.doc, broken: true}
		return
	}
	t := b.doc.root
	for i, part := range parts[:len(parts)-1] {
		t = b.descend(t, part, offs[i], offs[0])
		if t == nil {
			b.in = &Table{doc: b.doc, broken: true}
			return
		}
	}
	last := parts[len(parts)-1]
	path := strings.Join(parts, ".")
	v := t.find(last)
	switch {
	case v == nil:
		v = b.newValue()
		v.key, v.kind, v.keyAt, v.lineAt, v.at = last, Block, offs[len(offs)-1], at, at
		t.add(v)
	case v.kind != Block:
		b.doc.clash(v, offs[len(offs)-1])
		b.in = &Table{doc: b.doc, broken: true}
		return
	case len(v.tables) == 1 && v.tables[0].implied && e.Kind == unstable.Table:
		v.tables[0].implied, v.tables[0].at = false, at
		b.in = v.tables[0]
		return
	}
	n := b.newTable(Table{path: path, at: at, single: e.Kind == unstable.Table})
	v.tables = append(v.tables, n)
	b.in = n
}

// descend goes one part down a dotted key, making the table where there is
// none, and gives nil after reporting a part that holds a value already.
func (b *builder) descend(t *Table, part string, at, line int) *Table {
	v := t.find(part)
	if v == nil {
		path := part
		if t.path != "" {
			path = t.path + "." + part
		}
		n := b.newTable(Table{path: path, at: at, single: true, implied: true})
		v = b.newValue()
		v.key, v.kind, v.keyAt, v.lineAt, v.at, v.tables = part, Block, at, line, at, []*Table{n}
		t.add(v)
		return n
	}
	if v.kind != Block || len(v.tables) == 0 {
		b.doc.clash(v, at)
		return nil
	}
	return v.tables[len(v.tables)-1]
}

// clash reports a key that holds one thing and is given another.
func (d *Doc) clash(v *Value, at int) {
	line, _ := d.lineCol(v.keyAt)
	d.Report(&fault.Fault{Kind: fault.BadData, Where: d.where(at),
		What:     `"` + v.key + `" stands twice, here and on line ` + strconv.Itoa(line),
		Expected: "one value for one key",
		Mend:     `to use both ` + v.key + ` and a fact of it, put the longer one in quotation marks, as in when."` + v.key + `.…"`})
}

// keyValue hangs one key line into t.
func (b *builder) keyValue(t *Table, e *unstable.Node, start, line int) {
	var node *unstable.Node
	var space [8]int
	offs := space[:0]
	for it := e.Key(); it.Next(); {
		n := it.Node()
		if len(offs) == deep {
			b.doc.tooDeep(int(n.Raw.Offset) + start)
			return
		}
		if node != nil {
			if t = b.descend(t, b.word(node, start), offs[len(offs)-1], line); t == nil {
				return
			}
		}
		node, offs = n, append(offs, int(n.Raw.Offset)+start)
	}
	key, keyAt := b.word(node, start), offs[len(offs)-1]
	if old := t.find(key); old != nil {
		if old.kind == Block {
			b.doc.clash(old, keyAt)
			return
		}
		l, _ := b.doc.lineCol(old.keyAt)
		b.doc.Report(&fault.Fault{Kind: fault.BadData, Where: b.doc.where(keyAt), What: `"` + key + `" stands twice, here and on line ` + strconv.Itoa(l),
			Expected: "one line for one key"})
		return
	}
	// The parser gives no place for a list; it begins after the "=".
	after := int(node.Raw.Offset) + int(node.Raw.Length) + start
	for after < len(b.doc.src) && strings.IndexByte(" \t=", b.doc.src[after]) >= 0 {
		after++
	}
	v := b.value(e.Value(), start, after, key, t.path)
	v.key, v.keyAt, v.lineAt = key, keyAt, line
	if len(offs) > 1 {
		v.parts = append([]int(nil), offs...)
	}
	t.add(v)
}

// value builds the node of a value; at is its place where the parser gives none.
func (b *builder) value(n *unstable.Node, start, at int, key, path string) *Value {
	v := b.newValue()
	v.at, v.keyAt, v.lineAt = at, at, at
	if n.Raw.Length > 0 {
		v.at = int(n.Raw.Offset) + start
	}
	switch n.Kind {
	case unstable.String:
		v.kind = Text
		off := v.at + 1
		if int(n.Raw.Length) == len(n.Data)+2 && b.doc.src[off:off+len(n.Data)] == string(n.Data) {
			v.exact, v.text = true, b.doc.src[off:off+len(n.Data)]
		} else {
			v.text = string(n.Data)
		}
	case unstable.Integer, unstable.Float:
		v.kind, v.text = Figure, string(n.Data)
	case unstable.Bool:
		v.kind, v.text = Truth, string(n.Data)
	case unstable.Array:
		v.kind = List
		b.nested++
		defer func() { b.nested-- }()
		if b.nested > deep {
			b.doc.tooDeep(v.at)
			break
		}
		for it := n.Children(); it.Next(); {
			c := b.value(it.Node(), start, v.at, "", path)
			c.key = ""
			v.list = append(v.list, c)
			if len(c.tables) > 0 {
				c.tables[0].path = dotted(path, key)
			}
		}
	case unstable.InlineTable:
		v.kind = Block
		b.nested++
		defer func() { b.nested-- }()
		if b.nested > deep {
			b.doc.tooDeep(v.at)
			break
		}
		t := b.newTable(Table{path: dotted(path, key), at: v.at, single: true})
		for it := n.Children(); it.Next(); {
			if c := it.Node(); c.Kind == unstable.KeyValue {
				k := c.Key()
				k.Next()
				b.keyValue(t, c, start, int(k.Node().Raw.Offset)+start)
			}
		}
		v.tables = []*Table{t}
	default:
		v.kind, v.text = Date, string(n.Data)
	}
	return v
}

func dotted(path, key string) string {
	if path == "" || key == "" {
		return path + key
	}
	return path + "." + key
}

const curly = "“”„‟‘’‚‛«»"

// slip reports what the parser stumbled over, in a maker's words.
func (d *Doc) slip(at int, message string) {
	f := &fault.Fault{Kind: fault.BadData, Where: d.where(at)}
	line, col := d.line(at), at-d.lineStart(at)
	rest := line[min(col, len(line)):]
	r, size := utf8.DecodeRuneInString(rest)
	key, value, hasEq := strings.Cut(line, "=")
	key, value = strings.TrimSpace(key), strings.TrimSpace(strings.SplitN(value, "#", 2)[0])
	switch {
	case rest != "" && strings.ContainsRune(curly, r):
		f.What, f.Expected = curlyQuoted(rest, size)
	case strings.Contains(message, "string") && strings.Contains(line, `"`) && strings.ContainsAny(line, curly) &&
		(strings.Contains(message, "terminated") || strings.Contains(message, "new line") || strings.Contains(message, "newline") || strings.Contains(message, "not allowed")):
		f.Where = d.where(d.lineStart(at) + strings.IndexAny(line, curly))
		f.What = "the text begins with a straight quote and ends with a curly one"
		f.Expected = `"…" in straight ones`
	case strings.Contains(message, "escape"):
		f.What = `a backslash stands in the text`
		f.Expected = `text without \, or in 'single quotes'`
	case strings.Contains(message, "string") && hasEq:
		f.Where = d.where(d.lineStart(at) + strings.Index(line, value))
		f.What = "the text has no closing quotation mark"
		f.Expected = `"…" on one line`
	case strings.Contains(message, "after key"):
		f.What = "no = after the key"
		f.Expected = `name = "value"`
	case (strings.Contains(message, "start of value") || strings.Contains(message, "keyword")) && bare(value):
		f.What = value + " stands without quotation marks"
		f.Expected = `"` + value + `"`
	case strings.Contains(message, "start of value"):
		f.What = "no value after " + key + " ="
		f.Expected = `name = "value"`
	case strings.Contains(message, "expected value, not end") && hasEq:
		f.What = "no value after " + key + " ="
		f.Expected = `name = "value"`
	case strings.Contains(message, "expected newline") && hasEq && bare(value):
		f.What = value + " stands without quotation marks"
		f.Expected = `"` + value + `"`
		f.Where = d.where(d.lineStart(at) + strings.Index(line, value))
	case strings.Contains(message, "expected newline") && hasEq:
		f.What = "something follows the value"
		f.Expected = "one value, and nothing after it on its line"
		f.Mend = `quotation marks inside a text are written '…', inches are written in`
	case strings.Contains(message, "',' or ']'"):
		f.What = `a comma or the closing ] of the list is missing before here`
		f.Expected = `["one", "two"]`
	case strings.Contains(message, "array is incomplete"):
		f.What = "the list has no closing ]"
		f.Expected = `["one", "two"]`
	case strings.Contains(message, "close table name"), strings.Contains(message, "close array table name"):
		f.What = "the brackets of the block do not match"
		f.Expected = "[name] or [[name]]"
	case strings.Contains(message, "start of key"):
		f.What = "this line does not begin with a key"
		f.Expected = `name = "value", or # before a remark`
	default:
		f.What = "the line cannot be read: " + message
		f.Expected = `name = "value"`
	}
	d.Report(f)
}

// curlyQuoted says what is wrong with a text that begins with a curly quote of so many
// bytes, and how it should be.
func curlyQuoted(rest string, size int) (what, expected string) {
	inside := rest[size:]
	i := strings.IndexAny(inside, curly)
	if i < 0 {
		return rest[:size] + " is a curly quote", `straight ones, "`
	}
	_, n := utf8.DecodeRuneInString(inside[i:])
	return rest[:size+i+n] + " stands in curly quotes", `"` + inside[:i] + `" in straight ones`
}

// bare says whether a value is words without quotation marks.
func bare(value string) bool {
	return value != "" && !strings.ContainsAny(value, `"'[]{}`+curly)
}
