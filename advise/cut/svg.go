package cut

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"tenter/fibres/fault"
)

// ReadSVG reads parts from a drawing: each closed path, polygon, rectangle,
// circle and ellipse is a part, named by its id. The size on paper of the drawing
// (width, height and viewBox) gives the scale; without one, 96 units are an inch,
// as the format has it. up the page is along the cloth. A part that is to be cut
// several times says data-count="2".
func ReadSVG(name string, data []byte) ([]Part, error) {
	if len(data) > maxFile {
		return nil, tooLong(name, len(data))
	}
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict = true
	d.Entity = map[string]string{}
	s := svgReader{name: name, frames: []frame{{m: matrix{2.54 / 96, 0, 0, 2.54 / 96, 0, 0}}}}
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			line, col := d.InputPos()
			return nil, &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:%d", name, line, col), What: "the drawing cannot be read: " + cause(err), Expected: "an SVG file", Err: err}
		}
		switch e := t.(type) {
		case xml.StartElement:
			line, col := d.InputPos()
			s.where = fmt.Sprintf("%s:%d:%d", name, line, col)
			s.start(e)
		case xml.EndElement:
			if len(s.frames) > 1 {
				s.frames = s.frames[:len(s.frames)-1]
			}
		}
		if len(s.found) > 20 {
			break
		}
	}
	if len(s.parts) == 0 && len(s.found) == 0 {
		s.found = append(s.found, &fault.Fault{Kind: fault.BadData, Where: name, What: "the drawing holds no closed outline", Expected: "a path that ends in Z, a polygon, a rect, a circle or an ellipse"})
	}
	for i := range s.parts {
		if s.parts[i].Name == "" {
			s.parts[i].Name = partName(name, i, len(s.parts))
		}
	}
	return s.parts, s.found.OrNil()
}

// cause is the plain part of a parser's message.
func cause(err error) string {
	var bad *xml.SyntaxError
	if errors.As(err, &bad) {
		return bad.Msg
	}
	return err.Error()
}

// matrix maps a point: x' = a·x + c·y + e, y' = b·x + d·y + f.
type matrix struct{ a, b, c, d, e, f float64 }

func (m matrix) of(p Point) Point { return Point{m.a*p.X + m.c*p.Y + m.e, m.b*p.X + m.d*p.Y + m.f} }

// times maps by n first, then by m.
func (m matrix) times(n matrix) matrix {
	return matrix{m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b, m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d, m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f}
}

// frame is what holds inside an element.
type frame struct {
	m    matrix
	skip bool // inside defs, a clip path and their like
}

type svgReader struct {
	name, where string
	frames      []frame
	parts       []Part
	found       fault.List
	root        bool
}

func (s *svgReader) bad(what, expected, mend string) {
	s.found = append(s.found, &fault.Fault{Kind: fault.BadData, Where: s.where, What: what, Expected: expected, Mend: mend})
}

// start takes an element: what holds inside it, and the parts that its shape is.
func (s *svgReader) start(e xml.StartElement) {
	f := s.frames[len(s.frames)-1]
	at := map[string]string{}
	for _, a := range e.Attr {
		at[a.Name.Local] = a.Value
	}
	switch e.Name.Local {
	case "svg":
		if !s.root {
			s.root = true
			f.m = s.paper(at)
		}
	case "defs", "clipPath", "mask", "symbol", "pattern", "marker", "text", "style", "title", "desc", "metadata":
		f.skip = true
	}
	if t := at["transform"]; t != "" {
		m, ok := transform(t)
		if !ok {
			s.bad(fmt.Sprintf("the transform %q is not understood", clipped(t)), "translate, scale, rotate, skewX, skewY or matrix", "")
		}
		f.m = f.m.times(m)
	}
	s.frames = append(s.frames, f)
	if draw := svgShapes[e.Name.Local]; draw != nil && !f.skip {
		s.add(draw(s, f.m, at), at)
	}
}

// svgShapes are the elements that are outlines, each with how it is drawn as rings of
// points in cm; what is wrong with one is put to the findings, and no ring comes of it.
var svgShapes = map[string]func(s *svgReader, m matrix, at map[string]string) [][]Point{
	"path":    (*svgReader).path,
	"polygon": (*svgReader).polygon,
	"rect": func(s *svgReader, m matrix, at map[string]string) [][]Point {
		x, y, w, h := s.figure(at, "x"), s.figure(at, "y"), s.figure(at, "width"), s.figure(at, "height")
		return [][]Point{{m.of(Point{x, y}), m.of(Point{x + w, y}), m.of(Point{x + w, y + h}), m.of(Point{x, y + h})}}
	},
	"circle": func(s *svgReader, m matrix, at map[string]string) [][]Point {
		r := s.figure(at, "r")
		return s.ellipse(m, at, r, r)
	},
	"ellipse": func(s *svgReader, m matrix, at map[string]string) [][]Point {
		return s.ellipse(m, at, s.figure(at, "rx"), s.figure(at, "ry"))
	},
}

// figure is the figure of an attribute, in the drawing's units.
func (s *svgReader) figure(at map[string]string, key string) float64 {
	v, ok := svgLength(at[key])
	if !ok && at[key] != "" {
		s.bad(fmt.Sprintf("%s is %q", key, clipped(at[key])), "a number", "")
	}
	return v
}

func (s *svgReader) path(m matrix, at map[string]string) [][]Point {
	rings, open, wrong := pathPoints(at["d"], m)
	switch {
	case wrong != "":
		s.bad(wrong, "path data of M L H V C S Q T A Z", "")
		return nil
	case open && len(rings) > 0:
		last := rings[len(rings)-1]
		s.found = append(s.found, openFault(s.where, last[0], last[len(last)-1]))
	}
	if open {
		return nil
	}
	return rings
}

func (s *svgReader) polygon(m matrix, at map[string]string) [][]Point {
	p, ok := numbers(at["points"])
	if !ok || len(p)%2 != 0 || len(p) < 6 {
		s.bad("the polygon's points are not pairs of numbers", "at least three points", "")
		return nil
	}
	var ring []Point
	for i := 0; i+1 < len(p); i += 2 {
		ring = append(ring, m.of(Point{p[i], p[i+1]}))
	}
	return [][]Point{ring}
}

func (s *svgReader) ellipse(m matrix, at map[string]string, rx, ry float64) [][]Point {
	x, y := s.figure(at, "cx"), s.figure(at, "cy")
	if !(rx > 0 && ry > 0) {
		s.bad("the radius is zero", "a radius above zero", "")
		return nil
	}
	var ring []Point
	n := arcPoints(math.Max(rx, ry)*m.scale(), 2*math.Pi)
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		ring = append(ring, m.of(Point{x + rx*math.Cos(a), y + ry*math.Sin(a)}))
	}
	return [][]Point{ring}
}

// add makes a part of each ring.
func (s *svgReader) add(rings [][]Point, at map[string]string) {
	n := 1
	if v, err := strconv.Atoi(at["data-count"]); err == nil {
		n = v
	}
	if k := len(s.parts) + len(rings); k > maxOutlines {
		s.parts = nil
		s.found.Add(tooMany(s.where, k))
		return
	}
	for _, r := range rings {
		for i := range r {
			r[i].Y = -r[i].Y // up the page is along the cloth
		}
		p, err := partOf(at["id"], n, fromPoints(r))
		if err != nil {
			for _, x := range fault.All(err) {
				x.Where, x.Kind = s.where, fault.BadData
				s.found = append(s.found, x)
			}
			continue
		}
		s.parts = append(s.parts, p)
	}
}

// paper is the map from the units of the drawing to centimetres.
func (s *svgReader) paper(at map[string]string) matrix {
	px := 2.54 / 96
	m := matrix{px, 0, 0, px, 0, 0}
	box, ok := numbers(at["viewBox"])
	w, wok := svgCentimetres(at["width"])
	h, hok := svgCentimetres(at["height"])
	if !ok || len(box) != 4 || !(box[2] > 0 && box[3] > 0) || !wok && !hok {
		return m
	}
	k := math.Inf(1)
	if wok {
		k = w / box[2]
	}
	if hok {
		k = math.Min(k, h/box[3])
	}
	if !(k > 0) {
		return m
	}
	return matrix{k, 0, 0, k, -box[0] * k, -box[1] * k}
}

// scale is about how much a matrix enlarges.
func (m matrix) scale() float64 { return math.Sqrt(math.Abs(m.a*m.d - m.b*m.c)) }

// svgLength reads a length in the drawing's units.
func svgLength(t string) (float64, bool) {
	t = strings.TrimSpace(t)
	if v, err := strconv.ParseFloat(strings.TrimSuffix(t, "px"), 64); err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
		return v, true
	}
	v, ok := svgCentimetres(t)
	return v * 96 / 2.54, ok
}

// svgCentimetres reads a length as printed on paper.
func svgCentimetres(t string) (float64, bool) {
	t = strings.TrimSpace(t)
	for _, u := range []struct {
		unit string
		cm   float64
	}{{"mm", 0.1}, {"cm", 1}, {"in", 2.54}, {"pt", 2.54 / 72}, {"pc", 2.54 / 6}, {"px", 2.54 / 96}, {"", 2.54 / 96}} {
		if n, ok := strings.CutSuffix(t, u.unit); ok {
			v, err := strconv.ParseFloat(strings.TrimSpace(n), 64)
			return v * u.cm, err == nil && v > 0 && !math.IsInf(v, 0)
		}
	}
	return 0, false
}

// numbers reads figures parted by blanks or commas.
func numbers(t string) ([]float64, bool) {
	sc := scanner{s: t}
	var out []float64
	for sc.more() {
		v, ok := sc.number()
		if !ok {
			return out, false
		}
		out = append(out, v)
	}
	return out, len(out) > 0
}

// transform reads a list of transforms.
func transform(t string) (matrix, bool) {
	m := matrix{1, 0, 0, 1, 0, 0}
	for t = strings.TrimSpace(t); t != ""; t = strings.TrimLeft(t, " ,\t\n\r") {
		name, rest, ok := strings.Cut(t, "(")
		args, tail, ok2 := strings.Cut(rest, ")")
		if !ok || !ok2 {
			return m, false
		}
		t = tail
		v, ok := numbers(args)
		if !ok {
			return m, false
		}
		n := len(v)
		switch name = strings.TrimSpace(name); {
		case name == "translate" && n <= 2:
			v = append(v, 0)
			m = m.times(matrix{1, 0, 0, 1, v[0], v[1]})
		case name == "scale" && n <= 2:
			v = append(v, v[0])
			m = m.times(matrix{v[0], 0, 0, v[1], 0, 0})
		case name == "rotate" && (n == 1 || n == 3):
			v = append(v, 0, 0)
			s, c := math.Sincos(v[0] * math.Pi / 180)
			m = m.times(matrix{1, 0, 0, 1, v[1], v[2]}).times(matrix{c, s, -s, c, 0, 0}).times(matrix{1, 0, 0, 1, -v[1], -v[2]})
		case name == "skewX" && n == 1:
			m = m.times(matrix{1, 0, math.Tan(v[0] * math.Pi / 180), 1, 0, 0})
		case name == "skewY" && n == 1:
			m = m.times(matrix{1, math.Tan(v[0] * math.Pi / 180), 0, 1, 0, 0})
		case name == "matrix" && n == 6:
			m = m.times(matrix{v[0], v[1], v[2], v[3], v[4], v[5]})
		default:
			return m, false
		}
	}
	return m, true
}
