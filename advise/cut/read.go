package cut

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// closeBy is how near the end of an outline must come to its beginning, in cm.
const closeBy = 0.1

// maxOutlines is more parts than a drawing of one piece holds.
const maxOutlines = 300

// maxFile is more than any outline takes.
const maxFile = 4 << 20

// ReadCSV reads parts from a table of corners: the columns x and y with their
// unit (x_cm,y_cm or x_mm,y_mm or x_in,y_in) and, where there are several parts,
// part and count. The corners go round the part; y points up, along the cloth.
// The last corner may repeat the first. name is the file, for messages, and the
// name of a part that has none.
func ReadCSV(name string, data []byte) ([]Part, error) {
	if len(data) > maxFile {
		return nil, tooLong(name, len(data))
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))))
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = true
	head, err := r.Read()
	if err != nil {
		return nil, &fault.Fault{Kind: fault.BadData, Where: name, What: "there is no header row", Expected: "x_cm,y_cm and a corner on each row after it"}
	}
	c, err := newCorners(name, r, head)
	if err != nil {
		return nil, err
	}
	if err := c.read(); err != nil {
		return nil, err
	}
	return c.parts()
}

// corners reads the rows of a table of corners.
type corners struct {
	name         string // of the file
	r            *csv.Reader
	x, y         axis
	part, amount int // columns; -1 is none
	rings        []cornerRing
	found        fault.List
}

// axis is a column of figures, and how many cm one of them is.
type axis struct {
	column int
	cm     float64
}

// cornerRing is the corners of one part.
type cornerRing struct {
	name   string
	count  int
	points []Point
}

// newCorners finds the columns.
func newCorners(name string, r *csv.Reader, head []string) (*corners, error) {
	c := &corners{name: name, r: r, x: axis{column: -1}, y: axis{column: -1}, part: -1, amount: -1}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		letter, unit, _ := strings.Cut(h, "_")
		switch {
		case h == "part":
			c.part = i
		case h == "count":
			c.amount = i
		case letter == "x" || letter == "y":
			cm, ok := map[string]float64{"cm": 1, "mm": 0.1, "in": 2.54, "m": 100}[unit]
			if !ok {
				return nil, &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:1:%d", name, i+1), What: fmt.Sprintf("column %q names no unit", h), Expected: "x_cm, x_mm or x_in", Mend: "write the unit after the axis"}
			}
			if letter == "x" {
				c.x = axis{i, cm}
			} else {
				c.y = axis{i, cm}
			}
		}
	}
	if c.x.column < 0 || c.y.column < 0 {
		return nil, &fault.Fault{Kind: fault.BadData, Where: name + ":1:1", What: "the columns x and y are missing", Expected: "x_cm,y_cm in the first row", Mend: "name the unit as well: x_mm, x_in"}
	}
	return c, nil
}

// read gathers the corners part by part.
func (c *corners) read() error {
	for len(c.found) <= 20 {
		row, err := c.r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			c.found = append(c.found, &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:%d", c.name, bad.Line, bad.Column), What: "the row cannot be read: " + bad.Err.Error()})
			break
		}
		if err != nil {
			return &fault.Fault{Kind: fault.BadData, Where: c.name, What: "the file cannot be read", Err: err}
		}
		if strings.Join(row, "") != "" {
			c.take(row)
		}
	}
	return c.found.OrNil()
}

// take puts a row to the part it belongs to.
func (c *corners) take(row []string) {
	cell := func(i int) string {
		if i < 0 || i >= len(row) {
			return ""
		}
		return strings.TrimSpace(row[i])
	}
	x, okX := c.figure(row, c.x, cell(c.x.column))
	y, okY := c.figure(row, c.y, cell(c.y.column))
	if !okX || !okY {
		return
	}
	id := cell(c.part)
	if len(c.rings) == 0 || c.part >= 0 && id != "" && c.rings[len(c.rings)-1].name != id {
		c.rings = append(c.rings, cornerRing{name: id, count: 1})
	}
	last := &c.rings[len(c.rings)-1]
	if n, err := strconv.Atoi(cell(c.amount)); err == nil {
		last.count = n
	}
	last.points = append(last.points, Point{x, y})
}

// figure reads one coordinate in cm.
func (c *corners) figure(row []string, a axis, text string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err == nil && !math.IsNaN(v) && math.Abs(v*a.cm) <= float64(maxPart) {
		return v * a.cm, true
	}
	line, col := c.r.FieldPos(0)
	if a.column < len(row) {
		line, col = c.r.FieldPos(a.column)
	}
	c.found = append(c.found, &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:%d", c.name, line, col), What: fmt.Sprintf("%q is not a coordinate", text), Expected: "a number within " + maxPart.String()})
	return 0, false
}

// parts makes a part of each ring of corners.
func (c *corners) parts() (out []Part, err error) {
	if len(c.rings) > maxOutlines {
		return nil, tooMany(c.name, len(c.rings))
	}
	var found fault.List
	for i, g := range c.rings {
		if g.name == "" {
			g.name = partName(c.name, i, len(c.rings))
		}
		p, err := partOf(g.name, g.count, fromPoints(g.points))
		if err != nil {
			found.Add(err)
			continue
		}
		out = append(out, p)
	}
	if len(c.rings) == 0 {
		found = append(found, &fault.Fault{Kind: fault.BadData, Where: c.name, What: "there are no corners", Expected: "at least three rows after the header"})
	}
	return out, found.OrNil()
}

func tooLong(name string, n int) error {
	return &fault.Fault{Kind: fault.BadData, Where: name, What: fmt.Sprintf("the file is %d bytes long", n), Expected: fmt.Sprintf("at most %d", maxFile), Mend: "draw the outline with fewer points"}
}

func tooMany(name string, n int) error {
	return &fault.Fault{Kind: fault.BadData, Where: name, What: fmt.Sprintf("the file holds %d parts", n), Expected: fmt.Sprintf("at most %d", maxOutlines), Mend: "give one part with a count"}
}

// partName names a part by its file.
func partName(file string, i, n int) string {
	s := file[strings.LastIndexAny(file, `/\`)+1:]
	if k := strings.LastIndexByte(s, '.'); k > 0 {
		s = s[:k]
	}
	if n > 1 {
		s += " " + strconv.Itoa(i+1)
	}
	return s
}

// fromPoints makes an outline of straight sides; a last point that repeats the
// first, and points that all but repeat the one before, are left out.
func fromPoints(pts []Point) Outline {
	var o Outline
	for _, p := range pts {
		if n := len(o.Sides); n > 0 && p.far(o.Sides[n-1].To) < leastEdge {
			continue
		}
		o.Sides = append(o.Sides, Side{Name: "edge", Role: Seam, To: p})
	}
	if n := len(o.Sides); n > 1 && o.Sides[n-1].To.far(o.Sides[0].To) < closeBy {
		o.Sides = o.Sides[:n-1]
	}
	return o
}

// partOf checks an outline and makes a part of it.
func partOf(name string, n int, o Outline) (Part, error) {
	if err := o.Check(); err != nil {
		f := *fault.All(err)[0]
		f.Kind = fault.BadData
		return Part{}, f.At(name)
	}
	p := outlined(name, n, o.leftward())
	return p, p.Check()
}

// openFault is the finding of an outline whose ends do not meet.
func openFault(where string, from, to Point) *fault.Fault {
	return &fault.Fault{Kind: fault.BadData, Where: where,
		What:     fmt.Sprintf("the outline is open: it ends %s from where it began (%s)", units.Length(from.far(to)).Centimetres(), place(from)),
		Expected: "a closed outline", Mend: "end the path with Z, or draw the last line to the first point"}
}
