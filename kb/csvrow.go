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
		if c.kind.name == "notes" {
			r.notes++
		}
		if len(c.kind.units) > 0 && c.unit == "" {
			r.bareUnit(c, o)
		}
		if c.kind.name == "bought" {
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
	if strings.HasPrefix(c.kind.name, "shrink") {
		c.unit = "pct"
		return
	}
	if len(bare) == 0 {
		return
	}
	sort.Float64s(bare)
	mid, largest := bare[len(bare)/2], bare[len(bare)-1]
	unit := unitFrom(c.kind.name, mid, largest, o.Imperial)
	if unit == "" {
		r.notice(0, "column %q has no unit and its figures do not tell it; name it in the header, or with --map %q", short(r.im.Columns[c.at].Theirs), short(r.im.Columns[c.at].Theirs)+"="+c.kind.name+"_"+c.kind.units[0])
		return
	}
	c.unit = unit
	r.im.Columns[c.at].Unit = unit
	r.notice(0, "column %q has no unit: bare figures are taken as %s; another is said with --map %q", short(r.im.Columns[c.at].Theirs), unitText[unit], short(r.im.Columns[c.at].Theirs)+"="+c.kind.name+"_"+otherUnit(c.kind.name, unit))
}

// bareUnits tell the unit of bare figures: of a kind, by what lies in the middle of
// them and by the greatest.
var bareUnits = []struct {
	kind, unit string
	imperial   bool    // only where the user measures so
	middle     float64 // at least
	max        float64 // the largest is at most this
}{
	{kind: "width", unit: "in", imperial: true, max: math.Inf(1)},
	{kind: "length", unit: "yd", imperial: true, max: math.Inf(1)},
	{kind: "mass", unit: "oz", imperial: true, max: math.Inf(1)},
	{kind: "width", unit: "cm", middle: 75, max: math.Inf(1)},
	{kind: "width", unit: "in", middle: 20, max: 72},
	{kind: "width", unit: "m", max: 5},
	{kind: "length", unit: "m", max: 40},
	{kind: "length", unit: "cm", middle: 40, max: math.Inf(1)},
	{kind: "mass", unit: "gsm", middle: 30, max: math.Inf(1)},
	{kind: "mass", unit: "oz", max: 20},
	{kind: "thickness", unit: "mm", max: 40},
	{kind: "bending_length", unit: "cm", max: 12},
	{kind: "bending_length_warp", unit: "cm", max: 12},
	{kind: "bending_length_weft", unit: "cm", max: 12},
}

// unitFrom is the unit that figures of a kind tell, "" where they tell none.
func unitFrom(kind string, middle, largest float64, imperial bool) string {
	for _, b := range bareUnits {
		if b.kind == kind && (imperial || !b.imperial) && middle >= b.middle && largest <= b.max {
			return b.unit
		}
	}
	return ""
}

var unitText = map[string]string{"cm": "centimetres", "mm": "millimetres", "m": "metres", "in": "inches", "yd": "yards", "gsm": "g/m2", "oz": "oz/yd2", "momme": "momme", "pct": "per cent"}

func otherUnit(base, unit string) string {
	order := []string{"in", "yd", "oz", "cm", "gsm", "mm"}
	if base == "length" {
		order = []string{"yd", "m", "cm"}
	}
	for _, u := range order {
		for _, v := range kindOf(base).units {
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
		if s == "" || !c.kind.freeText && notKnown(s) {
			continue
		}
		if err := c.kind.set(r, &out, c, s); err != nil {
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

// notKnown reports whether a cell says in words that nothing is known.
func notKnown(s string) bool {
	switch strings.ToLower(strings.TrimSuffix(s, ".")) {
	case "n/a", "n.a", "na", "unknown", "not known", "?", "??", "-", "--", "–", "—", "tbc":
		return true
	}
	return false
}

// asWritten is the setter of a column whose words are kept as they are. What a swatch was
// sold as is looked up when the fibres of its row are known.
func asWritten(of func(*record.Swatch) *string) setter {
	return func(_ *rowReader, out *record.SwatchRow, _ *column, s string) error {
		*of(&out.Swatch) = s
		return nil
	}
}

func (r *rowReader) setContent(out *record.SwatchRow, _ *column, s string) (err error) {
	out.Swatch.Content, err = r.content(s)
	return err
}

// lengthWithin reads a length that is over one bound and at most another, in
// centimetres.
func (r *rowReader) lengthWithin(c *column, s string, low, high float64, otherwise func(v float64) *fault.Fault) (float64, error) {
	v, err := r.length(c, s)
	if err == nil && !(v > low && v <= high) {
		err = otherwise(v)
	}
	return v, err
}

func (r *rowReader) setWidth(out *record.SwatchRow, c *column, s string) (err error) {
	out.Swatch.WidthCM, err = r.lengthWithin(c, s, 0, 1000, func(v float64) *fault.Fault {
		return &fault.Fault{What: fmt.Sprintf("a width of %s cm", fibres.Round(v)), Expected: "over 0 and at most 1000 cm"}
	})
	return err
}

func (r *rowReader) setLength(out *record.SwatchRow, c *column, s string) error {
	v, err := r.length(c, s)
	if err == nil {
		out.Swatch.LengthCM = &v
	}
	return err
}

// lightnessCalled are further words for how light a colour is.
var lightnessCalled = map[string]string{"medium": "mid", "middle": "mid", "pale": "light", "black": "dark", "ivory": "white", "deep": "dark", "bright": "light"}

func (r *rowReader) setLightness(out *record.SwatchRow, _ *column, s string) error {
	k := fibres.FoldName(s)
	out.Swatch.Lightness = cmp.Or(lightnessCalled[k], k)
	return nil
}

func (r *rowReader) setPrice(out *record.SwatchRow, c *column, s string) error {
	out.Swatch.Price = s
	if p, err := price.Parse(s); err == nil && p.Per == 0 && !p.Whole {
		out.Swatch.Price += map[string]string{"m": " per metre", "yd": " per yard"}[c.unit]
	}
	return nil
}

func (r *rowReader) setBought(out *record.SwatchRow, _ *column, s string) (err error) {
	out.Swatch.Bought, err = r.date(s)
	return err
}

// addNote adds to the notes, under the column's name where several hold notes.
func (r *rowReader) addNote(out *record.SwatchRow, c *column, s string) error {
	if r.notes > 1 {
		s = r.im.Columns[c.at].Theirs + ": " + s
	}
	if out.Swatch.Notes != "" {
		out.Swatch.Notes += "\n"
	}
	out.Swatch.Notes += s
	return nil
}

func (r *rowReader) addMeasurements(out *record.SwatchRow, _ *column, s string) error {
	ms, err := measurementsOf(s)
	out.Measured = append(out.Measured, ms...)
	return err
}

// measured adds one measurement of one reading.
func measured(out *record.SwatchRow, kind string, x record.Reading) {
	out.Measured = append(out.Measured, record.Measurement{Kind: kind, Readings: []record.Reading{x}})
}

func (r *rowReader) addMass(out *record.SwatchRow, c *column, s string) error {
	v, err := r.mass(c, s)
	if err == nil {
		measured(out, "mass", record.Reading{record.ReadingMass: v})
	}
	return err
}

func (r *rowReader) addThickness(out *record.SwatchRow, c *column, s string) error {
	v, err := r.lengthWithin(c, s, 0, 4, func(v float64) *fault.Fault {
		return &fault.Fault{What: fmt.Sprintf("a thickness of %s mm", fibres.Round(v*10)), Expected: "over 0 and at most 40 mm"}
	})
	if err == nil {
		measured(out, "thickness", record.Reading{"thickness_mm": v * 10})
	}
	return err
}

// droop is the setter of a bending length: the overhang of the ruler droop is twice
// as long. An empty direction is the overall figure.
func droop(direction string) setter {
	return func(r *rowReader, out *record.SwatchRow, c *column, s string) error {
		v, err := r.length(c, s)
		if err == nil && !(v >= 0.3 && v <= 12) {
			err = &fault.Fault{What: fmt.Sprintf("a bending length of %s cm", fibres.Round(v)), Expected: "0.3 to 12 cm"}
		}
		if err != nil {
			return err
		}
		x := record.Reading{"overhang_cm": 2 * v}
		if direction != "" {
			x["direction"] = direction
		}
		measured(out, "droop", x)
		return nil
	}
}

// washed is the setter of a shrinkage, of one direction or of both.
func washed(directions ...string) setter {
	return func(r *rowReader, out *record.SwatchRow, c *column, s string) error {
		v, err := r.shrink(c, s)
		if err != nil {
			return err
		}
		for _, d := range directions {
			measured(out, "wash", record.Reading{"direction": d, "cycle": 1.0, "shrink_pct": v})
		}
		return nil
	}
}

// gradeCalled are further words for a grade.
var gradeCalled = map[string]string{"opaque": "none", "no": "none", "sheer": "high", "yes": "high"}

// levelOf is the setter of a grade, none to high.
func levelOf(kind string) setter {
	return func(_ *rowReader, out *record.SwatchRow, _ *column, s string) error {
		k := fibres.FoldName(s)
		k = cmp.Or(gradeCalled[k], k)
		if _, ok := fibres.FrayScale.Level(k); !ok {
			return &fault.Fault{What: quoted(s) + " is no grade", Expected: strings.Join(fibres.FrayScale, ", "), Mend: fault.DidYouMean(k, fibres.FrayScale, "")}
		}
		measured(out, kind, record.Reading{"level": k})
		return nil
	}
}

// stretchOf is what a grade of stretch stands for, as the middle of its band.
var stretchOf = []float64{0, 0.08, 0.18, 0.4}

func (r *rowReader) addStretch(out *record.SwatchRow, _ *column, s string) error {
	v, err := units.ParsePercent(r.decimal(s))
	if l, ok := fibres.StretchScale.Level(fibres.FoldName(s)); ok {
		v, err = units.Fraction(stretchOf[l]), nil
	}
	if err != nil {
		return &fault.Fault{What: quoted(s) + " is neither a grade nor a percentage", Expected: strings.Join(fibres.StretchScale, ", ") + ", or 12%"}
	}
	measured(out, "stretch", record.Reading{"stretch_pct": float64(v) * 100})
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
			if with, err := names.Find(n + " " + s); err == nil && r.calledSo(with, n+" "+s) && r.holds(with, fibre) {
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
