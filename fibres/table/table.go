// Package table reads CSV and knows the place of every cell, so that a finding
// can say file:line:column, with columns counted in characters.
package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"tenter/fibres/fault"
)

// Table is one file: a header and its rows.
type Table struct {
	Name    string // as it is printed in a place: "data/mass.csv"
	Columns []string
	Rows    []Row

	headerLine int
	data       []byte // the file without its byte-order mark; places are found in it
}

// Row is one line of cells, as many as the table has columns.
type Row struct {
	table  *Table
	fields []string
	start  int // where in data the search for this row's cells begins
	line   int // of the first cell, from 1
}

// Read reads a CSV file that is to have the wanted columns, in any order; with
// none wanted any header will do. It reads on after a finding and returns all of
// them as a [fault.List] of bad data. The table is never nil: it holds the rows
// that could be read, and a column that is missing is empty in each of them.
//
// A byte-order mark and lines that end in carriage return and line feed are
// accepted. Blank lines are passed over. The table keeps data: it must not be
// changed afterwards.
func Read(name string, data []byte, want []string) (*Table, error) {
	t := &Table{Name: name, data: bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))}
	var faults fault.List
	if f := t.foreign(); f != nil {
		return t, fault.List{f}
	}
	faults = append(faults, t.encoding()...)

	r := csv.NewReader(bytes.NewReader(t.data))
	r.FieldsPerRecord = -1
	missing := 0
	t.Rows = make([]Row, 0, bytes.Count(t.data, []byte{'\n'})+1)
	for {
		start := int(r.InputOffset())
		fields, err := r.Read()
		if err == io.EOF {
			break
		}
		switch {
		case err != nil:
			faults = append(faults, t.unreadable(err))
			if t.Columns == nil {
				return t, faults.OrNil() // without a header no row can be judged
			}
		case t.Columns == nil:
			t.Columns = fields
			t.headerLine, _ = r.FieldPos(0)
			wrong := t.header(want)
			missing = len(wrong) // a header that is wrong is told once, and not of every row
			faults = append(faults, wrong...)
			if len(fields) == 1 && len(want) != 1 && len(faults) > 0 {
				// Not one cell is where it belongs: one finding says it better.
				return t, faults.OrNil()
			}
		case len(fields) != len(t.Columns) && missing == 0:
			line, _ := r.FieldPos(0)
			faults = append(faults, t.count(line, len(fields)))
		default:
			line, _ := r.FieldPos(0)
			t.Rows = append(t.Rows, Row{t, fields, start, line})
		}
	}
	if t.Columns == nil && len(faults) == 0 {
		faults = append(faults, &fault.Fault{
			Kind:     fault.BadData,
			Where:    name + ":1:1",
			What:     "the file is empty",
			Expected: columnsWanted(want),
		})
	}
	if missing > 0 {
		t.Rows = nil // nothing can be told of a row whose cells have no names
	}
	return t, faults.OrNil()
}

// Index is the number of a column from 0, or -1: look it up once and use
// [Row.At] in long loops.
func (t *Table) Index(column string) int { return slices.Index(t.Columns, column) }

// Cell is the cell in the named column. A column that the table does not have
// gives an empty cell.
func (r *Row) Cell(column string) Cell {
	i := r.table.Index(column)
	if i < 0 {
		return Cell{row: r, column: column, index: -1}
	}
	return r.At(i)
}

// At is the cell in column i, counted from 0 as by [Table.Index]; outside the
// row it is empty.
func (r *Row) At(i int) Cell {
	if i < 0 || i >= len(r.fields) {
		return Cell{row: r, index: -1}
	}
	return Cell{Text: strings.TrimSpace(r.fields[i]), row: r, column: r.table.Columns[i], index: i}
}

// Where is the place of the row's first cell.
func (r *Row) Where() string { return r.At(0).Where() }

// Fault is a finding about the row as a whole.
func (r *Row) Fault(what, expected, mend string) *fault.Fault {
	return &fault.Fault{Kind: fault.BadData, Where: r.Where(), What: what, Expected: expected, Mend: mend}
}

// place finds line and column, in characters, of a field. Places are wanted
// only when something is wrong, so the row is read once more here and nothing
// is kept for the thousands of rows that are well.
func (r *Row) place(i int) (line, column int) {
	c := csv.NewReader(bytes.NewReader(r.table.data[r.start:]))
	c.FieldsPerRecord = -1
	fields, err := c.Read()
	if err != nil || len(fields) == 0 {
		return r.line, 1
	}
	if i < 0 || i >= len(fields) {
		i = 0
	}
	first, _ := c.FieldPos(0)
	line, col := c.FieldPos(i)
	return r.line + line - first, r.table.characters(r.start, line, col)
}

// characters turns a byte column on a line, counted from an offset at the start
// of a line, into a column in characters.
func (t *Table) characters(start, line, col int) int {
	rest := t.data[start:]
	for n := 1; n < line; n++ {
		i := bytes.IndexByte(rest, '\n')
		if i < 0 {
			break
		}
		rest = rest[i+1:]
	}
	return 1 + utf8.RuneCount(rest[:min(max(col-1, 0), len(rest))])
}

func (t *Table) at(line, column int) string {
	return fmt.Sprintf("%s:%d:%d", t.Name, line, column)
}

// foreign tells a file that is no UTF-8 CSV at all, where reading on would only
// heap up findings.
func (t *Table) foreign() *fault.Fault {
	f := &fault.Fault{Kind: fault.BadData, Where: t.at(1, 1), Expected: "CSV in UTF-8: one line for each row, cells parted by commas"}
	switch {
	case bytes.HasPrefix(t.data, []byte("\xff\xfe")), bytes.HasPrefix(t.data, []byte("\xfe\xff")):
		f.What = "the file is written in UTF-16"
		f.Mend = "save it again as CSV UTF-8"
	case bytes.HasPrefix(t.data, []byte("PK\x03\x04")):
		f.What = "the file is a workbook, not CSV"
		f.Mend = "open it and save the sheet as CSV UTF-8"
	case bytes.IndexByte(t.data, 0) >= 0:
		f.What = "the file is not text"
	case bytes.IndexByte(t.data, '\n') < 0 && bytes.IndexByte(bytes.TrimRight(t.data, "\r"), '\r') >= 0:
		f.What = "the lines end in a carriage return alone"
		f.Mend = "save it again with line feeds"
	default:
		return nil
	}
	return f
}

// encoding names every line with bytes that are not UTF-8.
func (t *Table) encoding() fault.List {
	if utf8.Valid(t.data) {
		return nil
	}
	var l fault.List
	for n, line := range bytes.Split(t.data, []byte{'\n'}) {
		if utf8.Valid(line) {
			continue
		}
		good := 0
		for good < len(line) {
			r, size := utf8.DecodeRune(line[good:])
			if r == utf8.RuneError && size == 1 {
				break
			}
			good += size
		}
		l = append(l, &fault.Fault{
			Kind:     fault.BadData,
			Where:    t.at(n+1, 1+utf8.RuneCount(line[:good])),
			What:     fmt.Sprintf("the byte %02x here is not UTF-8", line[good]),
			Expected: "a file saved as UTF-8",
			Mend:     "save it again as CSV UTF-8, or type the letter anew",
		})
	}
	return l
}

// unreadable says in plain words what encoding/csv stumbled on.
func (t *Table) unreadable(err error) *fault.Fault {
	f := &fault.Fault{Kind: fault.BadData, Where: t.Name, What: err.Error(), Err: err}
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return f
	}
	f.Where = t.at(p.Line, t.characters(0, p.Line, p.Column))
	f.Expected = `a cell with a comma or a quotation mark in it stands in double quotes, and a quotation mark inside is doubled ("")`
	switch {
	case errors.Is(err, csv.ErrBareQuote):
		f.What = "a quotation mark stands in a cell that does not begin with one"
		f.Mend = "for inches write in"
	case errors.Is(err, csv.ErrQuote):
		f.What = "a quotation mark closes too early"
		if p.StartLine != p.Line {
			f.What = "a quotation mark on this row is not closed"
			f.Where = t.at(p.StartLine, 1)
		}
	}
	return f
}

func columnsWanted(want []string) string {
	if len(want) == 0 {
		return "a header row that names the columns"
	}
	return "a header row: " + strings.Join(want, ",")
}

// header compares the columns with the wanted ones.
func (t *Table) header(want []string) fault.List {
	var l fault.List
	add := func(i int, what, expected, mend string) {
		where := t.at(1, 1)
		if i >= 0 {
			row := Row{t, t.Columns, 0, t.headerLine}
			where = t.at(row.place(i))
		}
		l = append(l, &fault.Fault{Kind: fault.BadData, Where: where, What: what, Expected: expected, Mend: mend})
	}
	if len(t.Columns) == 1 && len(want) != 1 {
		for _, sep := range []struct{ sign, name string }{{";", "semicolons"}, {"\t", "tabs"}} {
			if strings.Contains(t.Columns[0], sep.sign) {
				add(0, "the cells are parted by "+sep.name, "commas", "save it again with commas; a decimal comma becomes a point")
				return l
			}
		}
	}
	for i, c := range t.Columns {
		t.Columns[i] = strings.TrimSpace(c)
	}
	missing := slices.DeleteFunc(slices.Clone(want), func(w string) bool { return slices.Contains(t.Columns, w) })
	for i, c := range t.Columns {
		switch {
		case c == "":
			add(i, fmt.Sprintf("column %d has no name", i+1), columnsWanted(want), "")
		case slices.Index(t.Columns, c) < i:
			add(i, fmt.Sprintf("column %q stands twice", c), "each column once", "")
		case len(want) > 0 && !slices.Contains(want, c):
			mend := "leave it out"
			if near := fault.Near(c, missing, 1); len(near) > 0 {
				mend = fmt.Sprintf("did you mean %q?", near[0])
				missing = slices.DeleteFunc(missing, func(w string) bool { return w == near[0] })
			}
			add(i, fmt.Sprintf("unknown column %q", c), columnsWanted(want), mend)
		}
	}
	for _, w := range missing {
		add(-1, fmt.Sprintf("column %q is missing", w), columnsWanted(want), "")
	}
	return l
}

func (t *Table) count(line, got int) *fault.Fault {
	f := &fault.Fault{
		Kind:     fault.BadData,
		Where:    t.at(line, 1),
		What:     fmt.Sprintf("the row has %d cells, the header %d", got, len(t.Columns)),
		Expected: "one cell for each column",
		Mend:     "what is not known is an empty cell, and keeps its comma",
	}
	if got > len(t.Columns) {
		f.Mend = "a cell with a comma in it stands in double quotes"
	}
	return f
}
