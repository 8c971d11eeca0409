// Package yarn holds what follows from what a cloth is made of: yarn counts and
// their conversion, mass and cover from sett and count, the arithmetic of blends,
// the counting of a weave's crossings and floats, and the pressing limit of
// fibres that lie together.
//
// It takes plain figures, not names of cloth or fibre: the figures with their
// sources stand in the data.
package yarn

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// LinearDensity is mass along a yarn in tex: grams per kilometre.
type LinearDensity float64

// String writes tex.
func (d LinearDensity) String() string {
	return strconv.FormatFloat(significant(float64(d), 6), 'f', -1, 64) + " tex"
}

// Tenacity is breaking force per linear density in centinewtons per tex.
type Tenacity float64

// Units of tenacity, with standard gravity 9.80665 m/s² (exact): 1 gf/den =
// 8.825985 cN/tex, 1 gf/tex = 0.980665 cN/tex (GNU Units 2.22).
const (
	CentinewtonPerTex  Tenacity = 1
	GramForcePerTex    Tenacity = 0.980665
	GramForcePerDenier Tenacity = 8.825985
)

// CountSystem is a way of numbering yarns: mass for a length, where more is
// coarser, or length for a mass, where more is finer.
type CountSystem int

// The systems.
const (
	Tex     CountSystem = iota // grams in 1 km
	Dtex                       // grams in 10 km
	Denier                     // grams in 9 km
	Metric                     // Nm: metres in a gram
	Cotton                     // Ne: hanks of 840 yd in a pound
	Worsted                    // NeW: hanks of 560 yd in a pound
	Lea                        // NeL: leas of 300 yd of linen in a pound
	Run                        // woollen runs of 1600 yd in a pound
	Cut                        // woollen cuts of 300 yd in a pound
)

// Exact by definition: pound 453.59237 g, yard 0.9144 m.
const (
	poundG = 453.59237
	yardM  = 0.9144
)

var systems = [...]struct {
	symbol string
	name   string
	k      float64 // tex = k · count, or k / count where finer
	finer  bool
	words  []string
}{
	Tex:     {"tex", "tex", 1, false, []string{"tex"}},
	Dtex:    {"dtex", "decitex", 0.1, false, []string{"dtex", "decitex"}},
	Denier:  {"den", "denier", 1.0 / 9, false, []string{"den", "denier", "td"}},
	Metric:  {"Nm", "metric count", 1000, true, []string{"nm", "metric", "metric count"}},
	Cotton:  {"Ne", "English cotton count", poundG / (840 * yardM) * 1000, true, []string{"ne", "nec", "cotton", "cotton count", "cc", "ecc"}},
	Worsted: {"NeW", "worsted count", poundG / (560 * yardM) * 1000, true, []string{"new", "nek", "worsted", "worsted count"}},
	Lea:     {"lea", "linen lea", poundG / (300 * yardM) * 1000, true, []string{"lea", "nel", "leas", "linen", "linen lea"}},
	Run:     {"run", "woollen run", poundG / (1600 * yardM) * 1000, true, []string{"run", "runs", "woollen run"}},
	Cut:     {"cut", "woollen cut", poundG / (300 * yardM) * 1000, true, []string{"cut", "cuts", "woollen cut"}},
}

func (s CountSystem) known() bool { return s >= 0 && int(s) < len(systems) }

// String is the system's symbol: "Ne".
func (s CountSystem) String() string {
	if !s.known() {
		return "unknown"
	}
	return systems[s].symbol
}

// Name is the system in words.
func (s CountSystem) Name() string {
	if !s.known() {
		return "unknown"
	}
	return systems[s].name
}

// Finer reports whether a higher count is a finer yarn.
func (s CountSystem) Finer() bool { return s.known() && systems[s].finer }

// ParseCountSystem reads a system's symbol or name: "Ne", "cotton", "den", "lea".
func ParseCountSystem(text string) (CountSystem, error) {
	word := strings.ToLower(strings.TrimSpace(text))
	var known, symbols []string
	for i, s := range systems {
		for _, w := range s.words {
			if w == word {
				return CountSystem(i), nil
			}
		}
		known = append(known, s.words...)
		symbols = append(symbols, s.symbol)
	}
	return 0, &fault.Fault{
		Kind:     fault.WrongCall,
		What:     fmt.Sprintf("%q is not a yarn count system", text),
		Expected: strings.Join(symbols, ", "),
		Mend:     fault.DidYouMean(word, known, ""),
	}
}

// Count is a yarn's number: of each single yarn, how many are plied, and in which
// system. Ne 60/2 is two yarns of Ne 60, and as coarse as one of Ne 30.
type Count struct {
	Single float64
	Ply    int
	System CountSystem
}

// String writes the count as it is read: "Ne 60/2", "150 den".
func (c Count) String() string {
	n := strconv.FormatFloat(significant(c.Single, 6), 'f', -1, 64)
	if !c.System.Finer() {
		if c.Ply > 1 {
			n += fmt.Sprintf("x%d", c.Ply)
		}
		return n + " " + c.System.String()
	}
	if c.Ply > 1 {
		n += fmt.Sprintf("/%d", c.Ply)
	}
	return c.System.String() + " " + n
}

// maxPly is more than any sewing or weaving yarn has.
const maxPly = 64

// ParseCount reads a yarn count with its system before or behind it: "Ne 60/2",
// "150 den", "27 tex", "40 lea", "20x2 tex". Of the two numbers at a stroke the
// smaller is the ply, so that both ways of writing it are read: "Nm 2/28" and
// "Nm 28/2" are one yarn. In denier and decitex a stroke with more than
// [maxStrokePly] behind it counts filaments, "150/48 den"; plies are written with a
// cross there. "R 40 tex/2" is 40 tex in all.
func ParseCount(text string) (Count, error) {
	bad := func(what string) (Count, error) {
		return Count{}, &fault.Fault{
			Kind:     fault.WrongCall,
			What:     fmt.Sprintf("%q %s", text, what),
			Expected: "a yarn count with its system, such as Ne 30, Ne 60/2, Nm 34, 40 lea, 150 den, 167 dtex or 27 tex",
		}
	}
	s := strings.ToLower(strings.TrimSpace(text))
	s, resultant := cutResultant(s)
	isNumber := func(r rune) bool { return r >= '0' && r <= '9' || strings.ContainsRune(".,/×", r) }
	start := strings.IndexFunc(s, isNumber)
	if start < 0 {
		return bad("has no number")
	}
	number := s[start:]
	end := strings.IndexFunc(number, func(r rune) bool { return !isNumber(r) && r != 'x' })
	tail := ""
	if end >= 0 {
		number, tail = number[:end], number[end:]
	}
	word := strings.TrimSpace(s[:start]) + strings.TrimSpace(tail)
	if word == "" {
		return bad("names no count system")
	}
	system, err := ParseCountSystem(word)
	if err != nil {
		return Count{}, err
	}
	crossed := strings.ContainsAny(number, "×x")
	number = strings.NewReplacer(",", ".", "×", "/", "x", "/").Replace(number)
	c := Count{System: system}
	if c.Single, c.Ply, err = singleAndPly(number, crossed, resultant, system); err != nil {
		return bad(err.Error())
	}
	if _, err := LinearDensityFromCount(c); err != nil {
		return Count{}, err
	}
	return c, nil
}

// maxStrokePly is the most plies that are written with a stroke behind denier or
// decitex; more are filaments (common practice).
const maxStrokePly = 12

// cutResultant takes the R of a resultant count, "R 40 tex/2", off its text.
func cutResultant(s string) (rest string, resultant bool) {
	rest, ok := strings.CutPrefix(s, "r")
	rest = strings.TrimSpace(rest)
	if !ok || rest == "" || rest[0] < '0' || rest[0] > '9' {
		return s, false
	}
	if value, ply, both := strings.Cut(rest, "tex/"); both { // the ply stands behind the unit
		rest = strings.TrimSpace(value) + "/" + ply + " tex"
	}
	return rest, true
}

// singleAndPly reads the number of a count: that of the single yarn, and how many
// are plied.
func singleAndPly(number string, crossed, resultant bool, system CountSystem) (single float64, ply int, err error) {
	one, two, plied := strings.Cut(number, "/")
	if single, err = strconv.ParseFloat(one, 64); err != nil || !(single > 0) || math.IsInf(single, 0) {
		return 0, 0, fmt.Errorf("is not a count over 0")
	}
	if !plied {
		return single, 1, nil
	}
	count, err := strconv.ParseFloat(two, 64)
	if err != nil || !(count > 0) {
		return 0, 0, fmt.Errorf("has a ply that is not 1 to %d", maxPly)
	}
	if !crossed && count > single && single <= maxStrokePly && single == math.Trunc(single) && !resultant { // the ply stands first
		single, count = count, single
	}
	if !crossed && (system == Denier || system == Dtex) && count > maxStrokePly {
		count = 1 // filaments
	}
	if count != math.Trunc(count) || count > maxPly {
		return 0, 0, fmt.Errorf("has a ply that is not 1 to %d", maxPly)
	}
	if resultant {
		single /= count
	}
	return single, int(count), nil
}

// linearLimits runs from the finest microfilament to rope.
const (
	minTex LinearDensity = 0.01
	maxTex LinearDensity = 100000
)

// LinearDensityFromCount returns the tex of a yarn from its count.
//
//	tex = ply · k · N   (tex, dtex, denier),   tex = ply · k / N   (the rest)
//
// Given: the count of the single yarn, the number plied (0 counts as 1) and the
// system; k is 1000 for Nm, 590.5412 for Ne, 885.8119 for worsted, 1653.5155 for
// lea.
//
// Valid: a count over 0, a ply from 1 to 64, a result from 0.01 to 100,000 tex.
// Accuracy: exact conversion. Plying takes up a little length, so that a plied
// yarn is some 2 to 5 % heavier than this (common practice); the trade leaves it
// out.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: GNU Units 2.22 for the definitions of the systems.
// Checked: reference_test.go, TestCountsAgainstGNUUnits.
func LinearDensityFromCount(c Count) (LinearDensity, error) {
	if !c.System.known() {
		return 0, outside("the count system", "it is not one of those known", "tex, dtex, den, Nm, Ne, NeW, lea, run or cut", "")
	}
	ply := max(c.Ply, 1)
	if c.Ply < 0 || ply > maxPly {
		return 0, outside("the ply", fmt.Sprintf("it is %d", c.Ply), fmt.Sprintf("1 to %d", maxPly), "")
	}
	s := systems[c.System]
	d := LinearDensity(s.k * c.Single * float64(ply))
	if s.finer {
		d = LinearDensity(s.k / c.Single * float64(ply))
	}
	if !(c.Single > 0) || !(d >= minTex && d <= maxTex) {
		return 0, outside("the yarn count", fmt.Sprintf("it is %v %s", c.Single, c.System),
			fmt.Sprintf("a count over 0 of a yarn of %v to %v tex", float64(minTex), float64(maxTex)), "")
	}
	return d, nil
}

// CountFromLinearDensity returns the count of a single yarn in a system.
//
//	N = tex / k   (tex, dtex, denier),   N = k / tex   (the rest)
//
// Given: linear density in tex; the system.
//
// Valid: 0.01 to 100,000 tex.
// Accuracy: exact conversion.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: GNU Units 2.22 for the definitions of the systems.
// Checked: reference_test.go, TestCountsAgainstGNUUnits.
func CountFromLinearDensity(d LinearDensity, system CountSystem) (Count, error) {
	if !system.known() {
		return Count{}, outside("the count system", "it is not one of those known", "tex, dtex, den, Nm, Ne, NeW, lea, run or cut", "")
	}
	if err := yarnWeight(d); err != nil {
		return Count{}, err
	}
	s := systems[system]
	n := float64(d) / s.k
	if s.finer {
		n = s.k / float64(d)
	}
	return Count{n, 1, system}, nil
}

// ConvertCount returns a yarn's count in another system; a plied yarn becomes the
// single yarn as coarse as the whole.
//
// Given: the count; the system wanted.
//
// Valid: as [LinearDensityFromCount].
// Accuracy: exact conversion; a plied yarn's take-up is left out.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: GNU Units 2.22 for the definitions of the systems.
// Checked: reference_test.go, TestCountsAgainstGNUUnits.
func ConvertCount(c Count, to CountSystem) (Count, error) {
	d, err := LinearDensityFromCount(c)
	if err != nil {
		return Count{}, err
	}
	return CountFromLinearDensity(d, to)
}

func yarnWeight(d LinearDensity) error {
	if d >= minTex && d <= maxTex {
		return nil
	}
	return outside("the yarn", fmt.Sprintf("it is %v tex", float64(d)), fmt.Sprintf("%v to %v tex", float64(minTex), float64(maxTex)), "")
}

// outside is the fault of a figure for which a formula does not hold.
func outside(what, is, expected, mend string) *fault.Fault {
	return &fault.Fault{Kind: fault.OutsideRange, What: what + ": " + is, Expected: expected, Mend: mend}
}

func significant(v float64, n int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// percent prints a share.
func percent(f units.Fraction) string {
	if f < 0 {
		return "−" + (-f).String()
	}
	return f.String()
}
