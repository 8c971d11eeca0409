package kb

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/price"
	"tenter/fibres/units"
	"tenter/kb/record"
)

// rowReader turns rows of cells into swatches.
type rowReader struct {
	b        *Base
	im       *Import
	cols     []column
	dayFirst bool
	tickets  map[string]string // sold as → what the store keeps
	labels   map[string][]record.Part
	badLabel map[string]error
	unknown  map[string]bool
	notes    int
}

// prepare settles what only a whole column tells: the unit of bare figures, the
// order of day and month.
func (r *rowReader) prepare(o ImportOptions) {
	r.tickets, r.labels, r.badLabel, r.unknown = map[string]string{}, map[string][]record.Part{}, map[string]error{}, map[string]bool{}
	for i := range r.cols {
		c := &r.cols[i]
		if c.base == "notes" {
			r.notes++
		}
		if columnUnits[c.base] != nil && c.unit == "" {
			r.bareUnit(c, o)
		}
		if c.base == "bought" {
			r.dayOrder(c)
		}
	}
}

func (r *rowReader) notice(line int, format string, args ...any) {
	r.im.Notices = append(r.im.Notices, Notice{line, fmt.Sprintf(format, args...)})
}

// bareUnit finds the unit of a column whose header names none, from the figures
// that have none either. It says what it took; where the figures tell nothing, the
// cells are refused.
func (r *rowReader) bareUnit(c *column, o ImportOptions) {
	var bare []float64
	for i := range r.im.list.rows {
		if v, ok := plainNumber(r.cell(&r.im.list.rows[i], c)); ok && v > 0 {
			bare = append(bare, v)
		}
	}
	if strings.HasPrefix(c.base, "shrink") {
		c.unit = "pct"
		return
	}
	if len(bare) == 0 {
		return
	}
	sort.Float64s(bare)
	mid, most := bare[len(bare)/2], bare[len(bare)-1]
	unit := ""
	switch {
	case c.base == "width" && o.Imperial:
		unit = "in"
	case c.base == "length" && o.Imperial:
		unit = "yd"
	case c.base == "mass" && o.Imperial:
		unit = "oz"
	case c.base == "width" && mid >= 75:
		unit = "cm"
	case c.base == "width" && mid >= 20 && most <= 72:
		unit = "in"
	case c.base == "width" && most <= 5:
		unit = "m"
	case c.base == "length" && most <= 40:
		unit = "m"
	case c.base == "length" && mid >= 40:
		unit = "cm"
	case c.base == "mass" && mid >= 30:
		unit = "gsm"
	case c.base == "mass" && most <= 20:
		unit = "oz"
	case c.base == "thickness" && most <= 40:
		unit = "mm"
	case strings.HasPrefix(c.base, "bending_length") && most <= 12:
		unit = "cm"
	}
	if unit == "" {
		r.notice(0, "column %q has no unit and its figures do not tell it; name it in the header, or with --map %q", short(r.im.Columns[c.at].Theirs), short(r.im.Columns[c.at].Theirs)+"="+c.base+"_"+columnUnits[c.base][0])
		return
	}
	c.unit = unit
	r.im.Columns[c.at].Unit = unit
	r.notice(0, "column %q has no unit: bare figures are taken as %s; another is said with --map %q", short(r.im.Columns[c.at].Theirs), unitSaid[unit], short(r.im.Columns[c.at].Theirs)+"="+c.base+"_"+otherUnit(c.base, unit))
}

var unitSaid = map[string]string{"cm": "centimetres", "mm": "millimetres", "m": "metres", "in": "inches", "yd": "yards", "gsm": "g/m2", "oz": "oz/yd2", "momme": "momme", "pct": "per cent"}

func otherUnit(base, unit string) string {
	order := []string{"in", "yd", "oz", "cm", "gsm", "mm"}
	if base == "length" {
		order = []string{"yd", "m", "cm"}
	}
	for _, u := range order {
		for _, v := range columnUnits[base] {
			if u == v && u != unit {
				return u
			}
		}
	}
	return unit
}

// dayOrder finds whether 3/11/2026 is in March or November.
func (r *rowReader) dayOrder(c *column) {
	r.dayFirst = true
	ambiguous := 0
	for i := range r.im.list.rows {
		a, b, _, ok := slashDate(r.cell(&r.im.list.rows[i], c))
		switch {
		case !ok:
		case a > 12 && b <= 12:
			return
		case b > 12 && a <= 12:
			r.dayFirst = false
			return
		default:
			ambiguous++
		}
	}
	if ambiguous > 0 {
		r.notice(0, "dates in column %q are read with the day first: 3/11/2026 is 3 November", short(r.im.Columns[c.at].Theirs))
	}
}

func slashDate(s string) (a, b, year int, ok bool) {
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == '/' || r == '.' || r == '-' })
	if len(parts) != 3 || len(parts[0]) > 2 || len(parts[1]) > 2 {
		return 0, 0, 0, false
	}
	var n [3]int
	for i, p := range parts {
		v, err := strconv.Atoi(p)
		if err != nil || v < 0 {
			return 0, 0, 0, false
		}
		n[i] = v
	}
	if n[2] < 100 {
		n[2] += 2000
	}
	return n[0], n[1], n[2], true
}

// cell is the text of a column, as its writer meant it.
func (r *rowReader) cell(row *listRow, c *column) string {
	if c.at >= len(row.cells) {
		return ""
	}
	return strings.TrimSpace(unneutral(row.cells[c.at]))
}

// decimal turns a decimal comma to a point where the separator cannot be one.
func (r *rowReader) decimal(s string) string {
	if r.im.list.comma == ',' || r.im.list.json || strings.Count(s, ",") != 1 || strings.Contains(s, ".") {
		return s
	}
	return strings.Replace(s, ",", ".", 1)
}

// plainNumber reads a bare figure: digits, a point, an exponent.
func plainNumber(s string) (float64, bool) {
	if s == "" || len(s) > 40 {
		return 0, false
	}
	for i := range len(s) {
		c := s[i]
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != 'e' && c != 'E' && c != '+' && c != ',' {
			return 0, false
		}
	}
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsInf(v, 0) && !math.IsNaN(v)
}

var toCM = map[string]float64{"cm": 1, "mm": 0.1, "m": 100, "in": 2.54, "yd": 91.44}

// length reads a length in centimetres; a bare figure is in the column's unit.
func (r *rowReader) length(c *column, s string) (float64, error) {
	s = r.decimal(s)
	if v, ok := plainNumber(s); ok && c.unit != "" && !strings.Contains(s, ",") {
		if v < 0 {
			return 0, &fault.Fault{Kind: fault.BadData, What: quoted(s) + " is negative", Expected: "a length, such as 150 cm, 44 1/2 in or 2 yd", Mend: "leave the minus sign out"}
		}
		if c.unit == "mm" {
			return v / 10, nil
		}
		return v * toCM[c.unit], nil
	}
	bare := map[string]units.Length{"cm": units.Centimetre, "mm": units.Millimetre, "m": units.Metre, "in": units.Inch, "yd": units.Yard}[c.unit]
	l, err := units.ParseLengthIn(s, bare)
	return float64(l), err
}

func (r *rowReader) mass(c *column, s string) (float64, error) {
	s = r.decimal(s)
	if bareOunces(s) || c.unit == "oz" && !strings.Contains(strings.ToLower(r.im.Columns[c.at].Theirs), "yd") {
		r.once("ounces in column %q are taken as ounces for a square yard; of a running yard they would say more of the width", c)
	}
	if v, ok := plainNumber(s); ok && c.unit != "" && !strings.Contains(s, ",") {
		m := units.ArealMass(v)
		switch c.unit {
		case "oz":
			m *= units.OuncePerSquareYard
		case "momme":
			m *= units.MommeWeight
		}
		return float64(m), units.Within(quoted(s), m, units.ArealMassLimits)
	}
	if _, ok := plainNumber(s); ok && c.unit != "" {
		s += " " + map[string]string{"gsm": "g/m2", "oz": "oz/yd2", "momme": "momme"}[c.unit]
	}
	m, err := units.ParseArealMass(s)
	return float64(m), err
}

// bareOunces reports whether a cell says ounces without saying of what.
func bareOunces(s string) bool {
	n, ok := strings.CutSuffix(strings.TrimSuffix(strings.ToLower(s), "."), "oz")
	_, number := plainNumber(strings.TrimSpace(n))
	return ok && number
}

// once gives a notice of a column, whatever rows it is due for.
func (r *rowReader) once(format string, c *column) {
	say := fmt.Sprintf(format, short(r.im.Columns[c.at].Theirs))
	if !slices.Contains(r.im.Notices, Notice{0, say}) {
		r.im.Notices = append(r.im.Notices, Notice{0, say})
	}
}

// row reads one row; ok is false where any cell of it is refused.
func (r *rowReader) row(row *listRow) (record.SwatchRow, bool) {
	out := record.SwatchRow{Line: row.line}
	w := &out.Swatch
	sound := true
	for i := range r.cols {
		c := &r.cols[i]
		s := r.cell(row, c)
		if s == "" || !freeText[c.base] && notKnown(s) {
			continue
		}
		if err := r.set(&out, w, c, s); err != nil {
			sound = false
			at := r.im.starts[row.line]
			for _, f := range fault.All(err) {
				g := *brief(f)
				g.Kind, g.Where = fault.BadData, r.im.list.place(at, c.at)
				r.im.Refused = append(r.im.Refused, Refusal{row.line, r.im.Columns[c.at].Theirs, &g})
			}
		}
	}
	if w.SoldAs != "" {
		w.SoldAs = r.soldAs(out.Line, w.SoldAs, w.Content)
	}
	return out, sound
}

// freeText are the columns that keep what is written, whatever it is.
var freeText = map[string]bool{"name": true, "sold_as": true, "colour": true, "price": true, "kept_where": true, "picture_path": true, "notes": true}

// notKnown reports whether a cell says in words that nothing is known.
func notKnown(s string) bool {
	switch strings.ToLower(strings.TrimSuffix(s, ".")) {
	case "n/a", "n.a", "na", "unknown", "not known", "?", "??", "-", "--", "–", "—", "tbc":
		return true
	}
	return false
}

func (r *rowReader) set(out *record.SwatchRow, w *record.Swatch, c *column, s string) error {
	measured := func(kind string, readings ...record.Reading) {
		out.Measured = append(out.Measured, record.Measurement{Kind: kind, Readings: readings})
	}
	switch c.base {
	case "name":
		w.Name = s
	case "sold_as":
		w.SoldAs = s // looked up when the fibres of the row are known
	case "content":
		parts, err := r.content(s)
		w.Content = parts
		return err
	case "width":
		v, err := r.length(c, s)
		if err == nil && !(v > 0 && v <= 1000) {
			err = &fault.Fault{What: fmt.Sprintf("a width of %s cm", fibres.Round(v)), Expected: "over 0 and at most 1000 cm"}
		}
		w.WidthCM = v
		return err
	case "length":
		v, err := r.length(c, s)
		if err == nil {
			w.LengthCM = &v
		}
		return err
	case "colour":
		w.Colour = s
	case "lightness":
		k := fibres.FoldName(s)
		if l := map[string]string{"medium": "mid", "middle": "mid", "pale": "light", "black": "dark", "ivory": "white", "deep": "dark", "bright": "light"}[k]; l != "" {
			k = l
		}
		w.Lightness = k
	case "price":
		w.Price = s
		if p, err := price.Parse(s); err == nil && p.Per == 0 && !p.Whole {
			w.Price += map[string]string{"m": " per metre", "yd": " per yard"}[c.unit]
		}
	case "kept_where":
		w.KeptWhere = s
	case "picture_path":
		w.PicturePath = s
	case "bought":
		t, err := r.date(s)
		w.Bought = t
		return err
	case "notes":
		if r.notes > 1 {
			s = r.im.Columns[c.at].Theirs + ": " + s
		}
		if w.Notes != "" {
			w.Notes += "\n"
		}
		w.Notes += s
	case "measurements":
		ms, err := measurementsOf(s)
		out.Measured = append(out.Measured, ms...)
		return err
	case "mass":
		v, err := r.mass(c, s)
		if err != nil {
			return err
		}
		measured("mass", record.Reading{record.ReadingMass: v})
	case "thickness":
		v, err := r.length(c, s)
		if err == nil && !(v > 0 && v <= 4) {
			err = &fault.Fault{What: fmt.Sprintf("a thickness of %s mm", fibres.Round(v*10)), Expected: "over 0 and at most 40 mm"}
		}
		if err != nil {
			return err
		}
		measured("thickness", record.Reading{"thickness_mm": v * 10})
	case "bending_length", "bending_length_warp", "bending_length_weft":
		v, err := r.length(c, s)
		if err == nil && !(v >= 0.3 && v <= 12) {
			err = &fault.Fault{What: fmt.Sprintf("a bending length of %s cm", fibres.Round(v)), Expected: "0.3 to 12 cm"}
		}
		if err != nil {
			return err
		}
		x := record.Reading{"overhang_cm": 2 * v}
		if d := strings.TrimPrefix(c.base, "bending_length_"); d != c.base {
			x["direction"] = d
		}
		measured("droop", x)
	case "shrink", "shrink_warp", "shrink_weft":
		x, err := r.shrink(c, s)
		if err != nil {
			return err
		}
		for _, d := range []string{"warp", "weft"} {
			if c.base == "shrink" || c.base == "shrink_"+d {
				measured("wash", record.Reading{"direction": d, "cycle": 1.0, "shrink_pct": x})
			}
		}
	case "fray", "stretch", "show_through":
		return r.grade(c.base, s, measured)
	}
	return nil
}

func (r *rowReader) grade(base, s string, measured func(string, ...record.Reading)) error {
	k := fibres.FoldName(s)
	if base == "stretch" {
		v, err := units.ParsePercent(r.decimal(s))
		if l, ok := fibres.StretchScale.Level(k); ok {
			v, err = units.Fraction([]float64{0, 0.08, 0.18, 0.4}[l]), nil
		}
		if err != nil {
			return &fault.Fault{What: quoted(s) + " is neither a grade nor a percentage", Expected: strings.Join(fibres.StretchScale, ", ") + ", or 12%"}
		}
		measured("stretch", record.Reading{"stretch_pct": float64(v) * 100})
		return nil
	}
	if k == "opaque" || k == "no" {
		k = "none"
	}
	if k == "sheer" || k == "yes" {
		k = "high"
	}
	if _, ok := fibres.FrayScale.Level(k); !ok {
		return &fault.Fault{What: quoted(s) + " is no grade", Expected: strings.Join(fibres.FrayScale, ", "), Mend: fault.DidYouMean(k, fibres.FrayScale, "")}
	}
	measured(strings.ReplaceAll(base, "_", "-"), record.Reading{"level": k})
	return nil
}

// shrink reads a percentage; a cloth that grew has a minus sign.
func (r *rowReader) shrink(c *column, s string) (float64, error) {
	t := r.decimal(s)
	grown := strings.HasPrefix(t, "-") || strings.HasPrefix(t, "−")
	f, err := units.ParsePercent(strings.TrimLeft(t, "-−"))
	v := float64(f) * 100
	if n, ok := plainNumber(t); ok && !strings.Contains(t, ",") {
		v, err = math.Abs(n), nil
		if v > 0 && v < 0.3 {
			r.once("bare figures under 0.3 in column %q are taken as per cent, as they stand: 0.04 is 0.04 %%, not 4 %%", c)
		}
	}
	if grown {
		v = -v
	}
	if err == nil && !(v >= -20 && v <= 60) {
		err = &fault.Fault{What: fmt.Sprintf("a shrinkage of %s %%", fibres.Round(v)), Expected: "from −20 % (the cloth grew) to 60 %", Mend: "shrinkage is the loss over the length before"}
	}
	return v, err
}

// soldAs is what the store keeps of a ticket: the id of the cloth where it names
// one, else its words, which is told once. A ticket that only says the weave is read
// with the fibres of its row: twill of wool is no cotton twill.
func (r *rowReader) soldAs(line int, s string, label []record.Part) string {
	fibre := ""
	if len(label) > 0 {
		fibre = slices.MaxFunc(label, func(a, b record.Part) int { return cmp.Compare(a.Percent, b.Percent) }).Fibre
	}
	key := s + "|" + fibre
	if id, there := r.tickets[key]; there {
		return id
	}
	r.tickets[key] = r.ticket(line, s, fibre)
	return r.tickets[key]
}

func (r *rowReader) ticket(line int, s, fibre string) string {
	names := r.b.Cat.ClothNames
	id, err := names.Find(s)
	if err == nil && (fibre == "" || r.holds(id, fibre) || r.calledSo(id, s)) {
		return id
	}
	if f := r.b.Cat.Fibres[fibre]; f != nil {
		for _, n := range append([]string{f.Name, f.USName}, f.Synonyms...) {
			if with, err := names.Find(n + " " + s); n != "" && err == nil && r.calledSo(with, n+" "+s) && r.holds(with, fibre) {
				return with
			}
		}
	}
	if err == nil {
		r.notice(line, "%s names %s, which holds no %s: kept as it is written, without the ranges of a name", quoted(s), r.b.Cat.Cloths[id].Name, fibre)
		return s
	}
	f := fault.All(err)[0]
	r.notice(line, "%s: kept as it is written, without the ranges of a name; %s", f.What, f.Mend)
	return s
}

// holds reports whether cloths of a name hold a fibre.
func (r *rowReader) holds(cloth, fibre string) bool {
	return slices.ContainsFunc(r.b.Cat.Cloths[cloth].Content, func(p fibres.Part) bool { return p.Fibre.ID == fibre && p.Share.High >= 1 })
}

// calledSo reports whether a cloth has that very id or name, and not only among
// its synonyms.
func (r *rowReader) calledSo(cloth, s string) bool {
	k := r.b.Cat.Cloths[cloth]
	return cloth == s || fibres.FoldName(s) != "" && fibres.FoldName(k.Name) == fibres.FoldName(s)
}

// content reads a label, each once.
func (r *rowReader) content(s string) ([]record.Part, error) {
	if err := r.badLabel[s]; err != nil {
		return nil, err
	}
	if p, there := r.labels[s]; there {
		return append([]record.Part{}, p...), nil
	}
	var parts []record.Part
	var err error
	if strings.HasPrefix(s, "[") {
		if json.Unmarshal([]byte(s), &parts) != nil {
			err = &fault.Fault{What: "the label is no list of fibres and shares", Expected: `60% cotton, 40% linen`}
		}
	} else {
		parts, err = r.b.ParseContent(s)
	}
	if err != nil {
		r.badLabel[s] = err
		return nil, err
	}
	r.labels[s] = parts
	return append([]record.Part{}, parts...), nil
}

var months = []string{"2 January 2006", "2 Jan 2006", "January 2 2006", "Jan 2 2006", "January 2006", "Jan 2006", "2006-01", "2006", time.RFC3339}

func (r *rowReader) date(s string) (time.Time, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		if a, b, y, ok := slashDate(s); ok {
			if !r.dayFirst {
				a, b = b, a
			}
			t = time.Date(y, time.Month(b), a, 0, 0, 0, 0, time.UTC)
			if b >= 1 && b <= 12 && t.Day() == a && t.Year() == y {
				err = nil
			}
		}
	}
	clear := strings.Join(strings.Fields(strings.ReplaceAll(s, ",", " ")), " ")
	for _, m := range months {
		if err == nil {
			break
		}
		t, err = time.Parse(m, clear)
	}
	if err != nil || t.Year() < 1700 || t.Year() > 2200 {
		return time.Time{}, &fault.Fault{What: quoted(s) + " is no date", Expected: "a day, such as 2026-11-25, 25/11/2026 or 25 Nov 2026"}
	}
	return t.UTC(), nil
}

func measurementsOf(s string) ([]record.Measurement, error) {
	var list []record.MeasurementJSON
	if err := json.Unmarshal([]byte(s), &list); err != nil {
		return nil, &fault.Fault{What: "the measurements are not as an export writes them", Expected: `[{"kind":"mass","taken":"2026-11-25","readings":[{"mass_gsm":150}]}]`}
	}
	var out []record.Measurement
	for i, k := range list {
		if k.Removed != "" {
			continue
		}
		m := record.Measurement{Kind: k.Kind, Readings: k.Readings, Note: k.Note}
		if k.Taken != "" {
			t, err := time.Parse(time.RFC3339, k.Taken)
			if err != nil {
				t, err = time.Parse(time.DateOnly, k.Taken)
			}
			if err != nil {
				return nil, &fault.Fault{What: fmt.Sprintf("measurement %d was taken on %s", i+1, quoted(k.Taken)), Expected: "a day, such as 2026-11-25"}
			}
			m.Taken = t
		}
		out = append(out, m)
	}
	return out, nil
}

// formula reports whether a spreadsheet would take a cell for a formula, or would if
// the apostrophes before it were gone.
func formula(s string) bool {
	t := strings.TrimLeft(s, "'")
	return t != "" && strings.IndexByte("=+-@\t\r", t[0]) >= 0
}

// neutral puts an apostrophe before what a spreadsheet would take for a formula.
func neutral(s string) string {
	if formula(s) {
		return "'" + s
	}
	return s
}

// unneutral takes it away again.
func unneutral(s string) string {
	if strings.HasPrefix(s, "'") && formula(s) {
		return s[1:]
	}
	return s
}
