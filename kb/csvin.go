package kb

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"sort"
	"strings"
	"unicode/utf8"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

// ImportOptions say how a list of swatches is to be read.
type ImportOptions struct {
	Name     string            // of the file, as places say it
	Map      map[string]string // their column → ours; "" leaves it out
	Imperial bool              // bare figures are inches, yards and ounces
}

// ImportColumn is one column of a list: whose it is, and how that was found.
type ImportColumn struct {
	Theirs string
	Ours   string // "" is not taken
	How    string // said, guessed, or why it is not taken
	Unit   string // of bare figures
}

// Refusal is one slip of one row.
type Refusal struct {
	Line   int
	Column string // theirs
	Fault  *fault.Fault
}

// Notice is what is worth knowing of a list that was taken; Line 0 is of all.
type Notice struct {
	Line int
	What string
}

// Import is a list of swatches as it was read, before anything is kept.
type Import struct {
	Columns []ImportColumn
	Rows    []record.SwatchRow
	Refused []Refusal // what could not be read
	Notices []Notice
	Read    int // rows that held anything

	name   string
	list   *list
	starts map[int]int // of each row by its line: where it begins in the file
}

// list is a file of rows, cut into cells.
type list struct {
	name   string
	data   []byte
	comma  rune
	json   bool
	header []string
	rows   []listRow
	broken []Refusal // rows that are no rows
}

type listRow struct {
	line       int
	start, end int // of its bytes
	cells      []string
}

// ReadSwatches reads a list as people keep it: CSV with any of the usual
// separators, or JSON. The error is about the file as a whole; slips of rows are in
// the result.
func (b *Base) ReadSwatches(data []byte, o ImportOptions) (*Import, error) {
	if o.Name == "" {
		o.Name = "the list"
	}
	l, err := readList(o.Name, data)
	if err != nil {
		return nil, err
	}
	im := &Import{name: o.Name, list: l, starts: map[int]int{}, Refused: l.broken, Read: len(l.rows) + len(l.broken)}
	cols, err := im.match(o)
	if err != nil {
		return nil, err
	}
	r := &rowReader{b: b, im: im, cols: cols}
	r.prepare(o)
	for i := range l.rows {
		row := &l.rows[i]
		im.starts[row.line] = i
		if x, ok := r.row(row); ok {
			im.Rows = append(im.Rows, x)
		}
	}
	return im, nil
}

// foreign tells a file that is no list at all.
func foreign(name string, data []byte) fault.List {
	f := &fault.Fault{Kind: fault.BadData, Where: name + ":1:1", Expected: "CSV or JSON in UTF-8"}
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		f.What, f.Expected = "the file is empty", "a row of column names, then one row for each swatch"
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		f.What, f.Mend = "the file is written in UTF-16", "save it again as CSV UTF-8"
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		f.What, f.Mend = "the file is a workbook, not CSV", "open it and save the sheet as CSV UTF-8"
	case bytes.IndexByte(data, 0) >= 0:
		f.What = "the file is not text"
	case !utf8.Valid(data):
		return badBytes(name, data)
	default:
		return nil
	}
	return fault.List{f}
}

// maxBadLines is how many lines that are not UTF-8 are named one by one.
const maxBadLines = 20

// badBytes names every line that is not UTF-8 by its first wrong byte.
func badBytes(name string, data []byte) fault.List {
	var found fault.List
	more := 0
	for line, begin := 1, 0; begin < len(data); line++ {
		end := lineAt(data, begin)
		text := data[begin:end]
		begin = end
		if utf8.Valid(text) {
			continue
		}
		if len(found) == maxBadLines {
			more++
			continue
		}
		at := 0
		for {
			r, size := utf8.DecodeRune(text[at:])
			if r == utf8.RuneError && size == 1 {
				break
			}
			at += size
		}
		f := &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:%d", name, line, 1+utf8.RuneCount(text[:at])), What: fmt.Sprintf("the byte %02x here is not UTF-8", text[at])}
		if c := text[at]; c >= 0xa1 {
			f.What += fmt.Sprintf("; in an old Western encoding it would be %q", string(rune(c)))
		}
		found = append(found, f)
	}
	last := found[len(found)-1]
	if more > 0 {
		last.What += fmt.Sprintf(" (and on %d more lines)", more)
	}
	last.Expected, last.Mend = "CSV or JSON in UTF-8", "save it again as CSV UTF-8; nothing was taken, so that no letter is spoilt"
	return found
}

// readList cuts a file into cells.
func readList(name string, data []byte) (*list, error) {
	if found := foreign(name, data); len(found) > 0 {
		return nil, found.OrNil()
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if bytes.IndexByte(data, '\n') < 0 && bytes.IndexByte(data, '\r') >= 0 { // the lines of an old machine
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	l := &list{name: name, data: data}
	if c := bytes.TrimLeft(data, " \t\r\n"); len(c) > 0 && (c[0] == '{' || c[0] == '[') {
		l.json = true
		return l, l.readJSON()
	}
	return l, l.readCSV()
}

// separator is the sign that parts the cells: the one that the first line has most
// of, outside quotation marks.
func separator(line []byte) rune {
	count := map[rune]int{}
	inside := false
	for _, c := range string(line) {
		if c == '"' {
			inside = !inside
		} else if !inside {
			count[c]++
		}
	}
	best := ','
	for _, c := range []rune{';', '\t', '|'} {
		if count[c] > count[best] {
			best = c
		}
	}
	return best
}

func lineAt(data []byte, at int) (end int) {
	if i := bytes.IndexByte(data[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(data)
}

func (l *list) readCSV() error {
	at, line := 0, 1
	for at < len(l.data) && len(bytes.TrimSpace(l.data[at:lineAt(l.data, at)])) == 0 {
		at, line = lineAt(l.data, at), line+1
	}
	first := l.data[at:lineAt(l.data, at)]
	if t := strings.TrimSpace(string(first)); len(t) == 5 && strings.EqualFold(t[:4], "sep=") {
		l.comma = rune(t[4])
		at, line = lineAt(l.data, at), line+1
	} else {
		l.comma = separator(first)
	}
	if l.comma == '"' || l.comma == '\r' || l.comma == '\n' || l.comma == utf8.RuneError {
		l.comma = ','
	}
	for at < len(l.data) {
		r := l.reader(at)
		base := line
		for {
			begin := at + int(r.InputOffset())
			fields, err := r.Read()
			if err == io.EOF {
				return l.finish()
			}
			if err != nil {
				// Begin anew behind the line that stumbled, so that one open quotation
				// mark does not swallow the rest of the list.
				begin = l.skipBlank(begin)
				end := lineAt(l.data, begin)
				cells, ok := l.lenient(begin, end)
				number := base + bytes.Count(l.data[at:begin], []byte{'\n'})
				if l.header != nil && ok && len(cells) == len(l.header) {
					l.rows = append(l.rows, listRow{number, begin, end, cells})
				} else if l.header == nil && ok {
					l.header = cells
				} else {
					l.broken = append(l.broken, l.unreadable(number, begin, end, err))
				}
				at, line = end, number+1
				break
			}
			pos, _ := r.FieldPos(0)
			end := at + int(r.InputOffset())
			number := base + pos - 1
			switch {
			case l.header == nil:
				l.header = fields
			case empty(fields):
			default:
				if cells, f := l.counted(number, fields); f != nil {
					l.broken = append(l.broken, Refusal{number, "", f})
				} else {
					l.rows = append(l.rows, listRow{number, l.skipBlank(begin), end, cells})
				}
			}
		}
	}
	return l.finish()
}

func (l *list) reader(at int) *csv.Reader {
	r := csv.NewReader(bytes.NewReader(l.data[at:]))
	r.Comma, r.FieldsPerRecord = l.comma, -1
	return r
}

// skipBlank passes over the blank lines that csv passes over.
func (l *list) skipBlank(at int) int {
	for at < len(l.data) {
		end := lineAt(l.data, at)
		if len(bytes.TrimRight(l.data[at:end], "\r\n")) > 0 {
			return at
		}
		at = end
	}
	return at
}

// lenient reads one line in which quotation marks stand where they like: 44".
func (l *list) lenient(at, end int) ([]string, bool) {
	r := csv.NewReader(bytes.NewReader(l.data[at:end]))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = l.comma, -1, true
	fields, err := r.Read()
	if err != nil {
		return nil, false
	}
	if _, err := r.Read(); err != io.EOF {
		return nil, false
	}
	for _, f := range fields {
		if strings.ContainsAny(f, "\n") {
			return nil, false
		}
	}
	return fields, true
}

func (l *list) unreadable(line, begin, end int, err error) Refusal {
	f := &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:1", l.name, line), What: "the row cannot be read", Err: err,
		Expected: `a cell with a separator or a quotation mark in it stands in double quotes, and a quotation mark inside is doubled ("")`}
	var p *csv.ParseError
	if errors.As(err, &p) {
		switch {
		case errors.Is(err, csv.ErrBareQuote):
			f.What, f.Mend = "a quotation mark stands in a cell that does not begin with one", "for inches write in"
		case errors.Is(err, csv.ErrQuote):
			f.What, f.Mend = "a quotation mark on this row is not closed, or closes too early", "for inches write in"
		}
	}
	return Refusal{line, "", f}
}

func empty(fields []string) bool {
	for _, f := range fields {
		if strings.TrimSpace(f) != "" {
			return false
		}
	}
	return true
}

// counted fits a row to the header: empty cells too many are dropped, and empty
// ones at the end may be left out.
func (l *list) counted(line int, fields []string) ([]string, *fault.Fault) {
	n := len(l.header)
	for len(fields) > n && strings.TrimSpace(fields[len(fields)-1]) == "" {
		fields = fields[:len(fields)-1]
	}
	if len(fields) == n {
		return fields, nil
	}
	f := &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:1", l.name, line), What: fmt.Sprintf("the row has %d cells, the header %d", len(fields), n),
		Expected: "one cell for each column", Mend: "what is not known is an empty cell, and keeps its separator"}
	if len(fields) > n {
		f.Mend = "a cell with the separator in it stands in double quotes"
	}
	return nil, f
}

func (l *list) finish() error {
	if l.header == nil {
		return &fault.Fault{Kind: fault.BadData, Where: l.name + ":1:1", What: "there is no row of column names", Expected: "column names in the first row: name, sold as, width …"}
	}
	for i, h := range l.header {
		l.header[i] = strings.TrimSpace(h)
	}
	return nil
}

// place is where a cell begins: file:line:column in characters.
func (l *list) place(i, column int) string {
	row := &l.rows[i]
	if l.json || column < 0 {
		return fmt.Sprintf("%s:%d:1", l.name, row.line)
	}
	r := l.reader(row.start)
	fields, err := r.Read()
	if err != nil {
		r = csv.NewReader(bytes.NewReader(l.data[row.start:row.end]))
		r.Comma, r.FieldsPerRecord, r.LazyQuotes = l.comma, -1, true
		fields, err = r.Read()
	}
	if err != nil || column >= len(fields) {
		return fmt.Sprintf("%s:%d:1", l.name, row.line)
	}
	at, col := r.FieldPos(column)
	first, _ := r.FieldPos(0)
	begin := row.start
	for n := first; n < at; n++ {
		begin = lineAt(l.data, begin)
	}
	return fmt.Sprintf("%s:%d:%d", l.name, row.line+at-first, 1+utf8.RuneCount(l.data[begin:min(begin+col-1, len(l.data))]))
}

// brief keeps a slip to what fits on a few lines, whatever was in the cell.
func brief(f *fault.Fault) *fault.Fault {
	cut := func(s string) string {
		const maxShown = 300
		if len(s) <= maxShown {
			return s
		}
		return strings.ToValidUTF8(s[:maxShown], "") + "…"
	}
	f.What, f.Expected, f.Mend = cut(f.What), cut(f.Expected), cut(f.Mend)
	return f
}

// Resolve turns what the store refused into slips with their places in the list.
func (im *Import) Resolve(rejected []record.Rejection) []Refusal {
	out := append([]Refusal{}, im.Refused...)
	for _, r := range rejected {
		f := *brief(r.Fault)
		f.Kind = fault.BadData
		column := -1
		for i, c := range im.Columns {
			if column < 0 && storeColumn(c.Ours) == r.Column {
				column = i
			}
		}
		theirs := ""
		if column >= 0 {
			theirs = im.Columns[column].Theirs
		}
		if i, ok := im.starts[r.Line]; ok {
			f.Where = im.list.place(i, column)
		} else {
			f.Where = fmt.Sprintf("%s:%d:1", im.name, r.Line)
		}
		out = append(out, Refusal{r.Line, theirs, &f})
	}
	return out
}

// storeColumn is the column of the store that one of ours fills.
func storeColumn(ours string) string {
	base, _ := splitUnit(ours)
	switch base {
	case "width":
		return "width_cm"
	case "length":
		return "length_cm"
	}
	return base
}

// Rejects are the rows that were refused, as they stood in the file, under its
// header and with the reason in a last column.
func (im *Import) Rejects(refused []Refusal) []byte {
	why := map[int][]string{}
	for _, r := range refused {
		say := r.Fault.What
		if r.Column != "" {
			say = r.Column + ": " + say
		}
		why[r.Line] = append(why[r.Line], say)
	}
	if im.list.json {
		return im.list.rejectsJSON(why)
	}
	var b bytes.Buffer
	sep := string(im.list.comma)
	cell := func(s string) string {
		return `"` + strings.ReplaceAll(strings.Join(strings.Fields(s), " "), `"`, `""`) + `"`
	}
	w := csv.NewWriter(&b)
	w.Comma = im.list.comma
	_ = w.Write(append(append([]string{}, im.list.header...), rejectedColumn))
	w.Flush()
	raw := func(line, begin, end int) {
		if len(why[line]) == 0 {
			return
		}
		b.Write(bytes.TrimRight(im.list.data[begin:end], "\r\n"))
		b.WriteString(sep + cell(neutral(strings.Join(why[line], "; "))) + "\n")
		delete(why, line)
	}
	for i := range im.list.rows {
		r := &im.list.rows[i]
		raw(r.line, r.start, r.end)
	}
	for _, r := range im.list.broken { // a row that is none is copied by its line
		at := 0
		for n := 1; n < r.Line && at < len(im.list.data); n++ {
			at = lineAt(im.list.data, at)
		}
		raw(r.Line, at, lineAt(im.list.data, at))
	}
	return b.Bytes()
}

// rejectedColumn is the last column of a file of refused rows; an import passes
// over it.
const rejectedColumn = "rejected because"

// Kept is what became of a list.
type Kept struct {
	Read    int
	Added   int // with a dry run, how many would be
	Refused []Refusal
}

// Keep records the swatches of a list in one change: all, or with skipBad all that
// are sound. Without skipBad one slip refuses the list and nothing is changed; the
// slips are in the result either way. A dry run changes nothing.
func (b *Base) Keep(im *Import, skipBad, dry bool) (Kept, error) {
	out := Kept{Read: im.Read}
	if dry || len(im.Refused) > 0 && !skipBad {
		done, err := b.check(im.Rows)
		if err != nil {
			return out, err
		}
		out.Added, out.Refused = done.Added, im.Resolve(done.Rejected)
		if !dry {
			out.Added = 0
		}
	} else {
		done, err := b.Records.ImportSwatches(im.Rows, skipBad)
		out.Refused = im.Resolve(done.Rejected)
		if err != nil && len(done.Rejected) == 0 {
			return out, err
		}
		out.Added = done.Added
	}
	sort.SliceStable(out.Refused, func(i, j int) bool { return out.Refused[i].Line < out.Refused[j].Line })
	if dry && len(out.Refused) > 0 && !skipBad {
		out.Added = 0
	}
	return out, nil
}

// check finds what would be refused of rows; where nothing is recorded yet no name
// is taken.
func (b *Base) check(rows []record.SwatchRow) (record.Imported, error) {
	if b.Records != nil {
		return b.Records.CheckSwatches(rows)
	}
	sound, done := record.CheckRows(rows)
	done.Added = len(sound)
	return done, nil
}
