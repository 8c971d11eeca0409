package main

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// figure is one answer of a reckoning, with its name.
type figure struct {
	Name string `json:"name"`
	fibres.Estimate
	exact bool // told to six digits
	asked bool // in the unit that was asked for
	// fine is a radius: in inches it is told to the thirty-second, so that the edge
	// drawn with it comes out within an eighth.
	fine bool
}

// reckoned is the answer of `reckon`: what came out, how, where it holds, how
// well, and from where. Answer is one figure or a list of them.
type reckoned struct {
	Version  int               `json:"version"`
	Kind     string            `json:"kind"`
	Inputs   map[string]string `json:"inputs"`
	Answer   any               `json:"answer"`
	Method   string            `json:"method"`
	Valid    string            `json:"valid"`
	Accuracy string            `json:"accuracy"`
	Source   string            `json:"source"`
	Sources  []string          `json:"sources"`
	Notes    []string          `json:"notes,omitempty"`

	figures []figure
}

func (r *reckoned) add(f figure)               { r.figures = append(r.figures, f) }
func (r *reckoned) note(s string, args ...any) { r.Notes = append(r.Notes, fmt.Sprintf(s, args...)) }

// derived makes a figure that was computed from what the user gave.
func derived(name string, low, typical, high float64, unit, because string) figure {
	return figure{Name: name, Estimate: fibres.Estimate{Low: low, Typical: typical, High: high, Unit: unit, Basis: fibres.Derived, Sources: []string{}, Because: because}}
}

// exactly makes a figure without a spread.
func exactly(name string, v float64, unit, because string) figure {
	f := derived(name, v, v, v, unit, because)
	f.exact = true
	return f
}

// reckonKind is one thing that can be reckoned.
type reckonKind struct {
	name, use, short, long, example string
	args                            cobra.PositionalArgs
	flags                           func(*pflag.FlagSet)
	run                             func(*given, []string) (*reckoned, error)
}

// reckonKinds are all kinds, in the order of the help.
func reckonKinds() []reckonKind {
	return []reckonKind{
		droopKind, loopKind, hangKind, stackKind, foldKind, drapeKind, grainKind,
		massKind, yarnKind, coverKind, blendKind, pressKind, shrinkKind,
		threadKind, biasKind, circleKind, gatherKind, curtainKind, buyKind, runningKind, needleKind, ticketKind, wrapsKind, convertKind,
	}
}

func newReckon(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "reckon KIND …",
		GroupID: groupAsk,
		Short:   "a calculation by itself: droop, hang, mass, yarn, shrink, press …",
		Long: `One calculation, with its method, where it holds, how well, and its source. Outside
the range of its formula it says so and gives no figure. Figures are read metric
or imperial: 7cm, 2 3/4in, 150gsm, 4.5oz/yd2, "Ne 30/2", 41.5deg.` + exitStatus,
		Example: `  tenter reckon droop --overhang 7.1cm,6.9cm,7.3cm --direction warp
  tenter reckon shrink --finished 76cm --shrink 5%
  tenter reckon convert 4.5oz/yd2 g/m2`,
		Args: onlyCommands,
		RunE: func(*cobra.Command, []string) error {
			var names []string
			for _, k := range reckonKinds() {
				names = append(names, k.name)
			}
			return &fault.Fault{Kind: fault.WrongCall, What: "which sum?", Expected: "one of " + strings.Join(names, ", "), Mend: "`tenter reckon --help` says what each is"}
		},
	}
	// so that a misspelt kind is said before the flags that only it would know
	c.FParseErrWhitelist.UnknownFlags = true
	for _, k := range reckonKinds() {
		c.AddCommand(newReckonKind(a, k))
	}
	return c
}

func newReckonKind(a *app, k reckonKind) *cobra.Command {
	c := &cobra.Command{
		Use: k.use, Short: k.short, Long: k.long + exitStatus, Example: k.example, Args: k.args,
		RunE: func(cmd *cobra.Command, args []string) error {
			q := &given{a: a, flags: cmd.Flags(), inputs: map[string]string{}}
			cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
				if f.Changed && f.Name != "help" {
					q.inputs[f.Name] = strings.Trim(f.Value.String(), "[]")
				}
			})
			if len(args) > 0 {
				q.inputs["given"] = strings.Join(args, " ")
			}
			r, err := k.run(q, args)
			if err == nil {
				err = q.found.OrNil()
			}
			if err != nil {
				return q.place(err)
			}
			return a.tellReckoned(k.name, q, r)
		},
	}
	if k.flags != nil {
		k.flags(c.Flags())
	}
	return c
}

// tellReckoned completes a reckoning and prints it.
func (a *app) tellReckoned(kind string, q *given, r *reckoned) error {
	r.Version, r.Kind, r.Inputs = advise.Version, kind, q.inputs
	if r.Sources == nil {
		r.Sources = []string{}
	}
	for i := range r.figures {
		if len(r.figures[i].Sources) == 0 {
			r.figures[i].Sources = r.Sources
		}
	}
	switch len(r.figures) {
	case 1:
		r.Answer = r.figures[0]
	default:
		r.Answer = r.figures
	}
	if a.json {
		return a.writeJSON(r)
	}
	var rows [][]string
	for _, f := range r.figures {
		f.asked = kind == "convert"
		rows = append(rows, []string{f.Name, a.figureWords(f)})
	}
	a.tabulate(0, rows)
	fmt.Fprintln(a.out)
	a.tabulate(2, [][]string{{"method", units.Prose(r.Method, a.system)}, {"holds for", units.Prose(r.Valid, a.system)}, {"how well", units.Prose(r.Accuracy, a.system)}, {"source", r.Source}})
	for _, n := range r.Notes {
		a.para("  note: ", units.Prose(n, a.system), 8)
	}
	return nil
}

// figureWords prints a figure in the units of the answer.
func (a *app) figureWords(f figure) string {
	if !f.Known() {
		return "not known: " + f.Because
	}
	if f.exact {
		return a.exactWords(f)
	}
	if f.Words != nil {
		return words(f.Estimate)
	}
	if f.fine && a.system != units.Metric {
		return cut.RadiusIn(units.Length(f.Typical), a.system)
	}
	if a.system != units.Metric && (f.Unit == "cm" || f.Unit == "g/m2" || f.Unit == "C") {
		s := a.quantity(f.Typical, f.Unit)
		if both := a.quantities(f.Low, f.High, f.Unit); f.Low != f.High && both != s {
			s += " (" + both + ")"
		}
		return s
	}
	if to, ok := inInches[f.Unit]; ok && a.system == units.Imperial {
		f.Low, f.Typical, f.High, f.Unit = f.Low*to.times, f.Typical*to.times, f.High*to.times, to.unit
	}
	s := threeDigits(f)
	if to, ok := inInches[f.Unit]; ok && a.system == units.Both {
		f.Low, f.Typical, f.High, f.Unit = f.Low*to.times, f.Typical*to.times, f.High*to.times, to.unit
		s += "; " + threeDigits(f)
	}
	return s
}

// threeDigits prints a figure in its own unit.
func threeDigits(f figure) string {
	unit := degrees(f.Unit)
	if f.Unit == "C" {
		unit = "°C"
	}
	s := strings.TrimSpace(digits(f.Typical, 3) + " " + unit)
	if f.Low != f.High {
		s += " (" + strings.TrimSpace(digits(f.Low, 3)+" to "+digits(f.High, 3)+" "+unit) + ")"
	}
	return s
}

// inInches are the units of the data in those of a tape and a scale marked in inches
// and ounces: by what a figure is multiplied, and what it is then called.
var inInches = map[string]struct {
	times float64
	unit  string
}{
	"mm": {1 / 25.4, "in"}, "cm": {1 / 2.54, "in"}, "m": {1 / 0.9144, "yd"}, "g": {1 / units.Ounce, "oz"},
	"g/m2": {1 / float64(units.OuncePerSquareYard), "oz/yd2"}, "g/cm3": {16.387064 / units.Ounce, "oz/in3"},
}

// exactWords prints a figure without a spread, in the unit that was asked for or in
// those of the answer.
func (a *app) exactWords(f figure) string {
	say := strings.TrimSpace(sixDigits(f.Typical) + " " + degrees(f.Unit))
	to, ok := inInches[f.Unit]
	if f.asked || !ok || a.system == units.Metric {
		return say
	}
	in := digits(f.Typical*to.times, 4) + " " + to.unit
	if a.system == units.Both {
		return say + " (" + in + ")"
	}
	return in
}

// degrees writes the unit of an angle as a sign.
func degrees(unit string) string {
	switch unit {
	case "deg":
		return "°"
	case "1":
		return ""
	}
	return unit
}

func sixDigits(v float64) string { return digits(v, 6) }

// digits writes a figure to so many significant digits, without an exponent.
func digits(v float64, n int) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		return strconv.FormatFloat(v, 'g', n, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// given reads what the user gave a reckoning; what cannot be read is gathered,
// so that all of it is said at once.
type given struct {
	a      *app
	flags  *pflag.FlagSet
	found  fault.List
	inputs map[string]string
}

func (q *given) bad(flag string, err error) {
	for _, f := range fault.All(err) {
		g := *f
		if g.Where == "" {
			g.Where = "--" + flag
		}
		q.found = append(q.found, &g)
	}
}

func (q *given) refuse(flag, what, expected, mend string) {
	q.found = append(q.found, &fault.Fault{Kind: fault.WrongCall, Where: "--" + flag, What: what, Expected: expected, Mend: mend})
}

// place puts the flags that were given to a fault of the mechanics, whose place
// is the name of its figure.
func (q *given) place(err error) error {
	var given []string
	for k, v := range q.inputs {
		if k == "given" {
			given = append(given, v)
		} else {
			given = append(given, "--"+k+" "+v)
		}
	}
	sort.Strings(given)
	var out fault.List
	for _, f := range fault.All(err) {
		g := *f
		if g.Kind == fault.OutsideRange && !strings.HasPrefix(g.Where, "--") {
			if g.Where != "" && !strings.HasPrefix(g.What, g.Where) {
				g.What = g.Where + ": " + g.What
			}
			g.Where = strings.Join(given, " ")
		}
		out = append(out, &g)
	}
	return out.OrNil()
}

func (q *given) has(flag string) bool { return q.flags.Changed(flag) }

func (q *given) text(flag string) string {
	s, err := q.flags.GetString(flag)
	if err != nil {
		return ""
	}
	return s
}

// list is a flag that may be given several times, or with commas.
func (q *given) list(flag string) []string {
	s, err := q.flags.GetStringArray(flag)
	if err != nil {
		return nil
	}
	return s
}

// need refuses the call where a flag is missing.
func (q *given) need(flag, what, example string) bool {
	if q.has(flag) {
		return true
	}
	q.refuse(flag, "it is not given", what, "--"+flag+" "+example)
	return false
}

// length reads a length; a bare number is centimetres.
func (q *given) length(flag string) units.Length {
	if !q.has(flag) {
		return 0
	}
	l, err := units.ParseLengthIn(q.text(flag), units.Centimetre)
	if err != nil {
		q.bad(flag, err)
	}
	return l
}

// stitch reads the length of a stitch, also as stitches to the inch.
func (q *given) stitch(flag string) units.Length {
	if l, ok := units.StitchFromCount(q.text(flag)); ok {
		return l
	}
	return q.length(flag)
}

// lengths reads lengths parted by commas.
func (q *given) lengths(flag string) []units.Length {
	if !q.has(flag) {
		return nil
	}
	var out []units.Length
	for _, t := range strings.Split(q.text(flag), ",") {
		l, err := units.ParseLengthIn(t, units.Centimetre)
		if err != nil {
			q.bad(flag, err)
			continue
		}
		out = append(out, l)
	}
	return out
}

// lengthRange reads a length or a range of lengths; a bare number is
// centimetres.
func (q *given) lengthRange(flag string) units.Range[units.Length] {
	if !q.has(flag) {
		return units.Range[units.Length]{}
	}
	r, err := units.ParseLengthRange(q.text(flag), units.Centimetre)
	if err != nil {
		q.bad(flag, err)
	}
	return r
}

func (q *given) angle(flag string) units.Angle {
	if !q.has(flag) {
		return 0
	}
	v, err := units.ParseAngle(strings.TrimPrefix(q.text(flag), "-"))
	if err != nil {
		q.bad(flag, err)
	}
	if strings.HasPrefix(q.text(flag), "-") {
		v = -v
	}
	return v
}

// areal reads a mass per area; a bare number is g/m².
func (q *given) areal(flag string) units.ArealMass {
	if !q.has(flag) {
		return 0
	}
	t := q.text(flag)
	if _, err := strconv.ParseFloat(t, 64); err == nil {
		t += " g/m2"
	}
	m, err := units.ParseArealMass(q.a.weight("--"+flag, t))
	if err != nil {
		q.bad(flag, err)
	}
	return m
}

// fraction reads a percentage; a bare number is per cent.
func (q *given) fraction(flag string) units.Fraction {
	return q.fractionRange(flag).Low
}

func (q *given) fractionRange(flag string) units.Range[units.Fraction] {
	if !q.has(flag) {
		return units.Range[units.Fraction]{}
	}
	t := q.text(flag)
	grown := strings.HasPrefix(t, "-") || strings.HasPrefix(t, "−")
	r, err := units.ParsePercentRange(strings.TrimLeft(t, "-−"))
	if err != nil {
		q.bad(flag, err)
	}
	if grown { // a cloth that grew
		r.Low, r.High = -r.High, -r.Low
	}
	return r
}

func (q *given) number(flag string) float64 {
	if !q.has(flag) {
		return 0
	}
	v, err := strconv.ParseFloat(strings.Replace(q.text(flag), ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		q.refuse(flag, fmt.Sprintf("%q is not a number", q.text(flag)), "a plain number", "")
		return 0
	}
	return v
}

// bending reads the bending length that several kinds start from: given, or by
// a fixed-angle overhang.
func (q *given) bending() units.Range[units.Length] {
	before, flag := len(q.found), "bending-length"
	var r units.Range[units.Length]
	switch {
	case q.has("overhang") && !q.has(flag):
		flag = "overhang"
		l := q.length(flag)
		r = units.Range[units.Length]{Low: l / 2, High: l / 2}
	case !q.need(flag, "the bending length, one figure or a range", "2cm, or --overhang of the 41.5° ruler test"):
		return r
	default:
		r = q.lengthRange(flag)
	}
	if len(q.found) == before && !(r.Low >= 0.05 && r.High <= 50) {
		f := &fault.Fault{Kind: fault.OutsideRange, Where: "--" + flag, What: "no cloth has a bending length of " + q.text(flag), Expected: "0.05 to 50 cm", Mend: "half the overhang of the 41.5° ruler test"}
		if flag == "overhang" {
			f.What, f.Expected, f.Mend = "no cloth hangs over by "+q.text(flag), "0.1 to 100 cm", ""
		}
		q.found = append(q.found, f)
	}
	return r
}

// middleOf is the geometric middle of a range.
func middleOf[Q units.Measure](r units.Range[Q]) Q {
	if r.Low == r.High {
		return r.Low
	}
	return Q(math.Sqrt(float64(r.Low) * float64(r.High)))
}

// spreadOver evaluates a function at the ends and the middle of a range, and
// orders what comes out.
func spreadOver(r units.Range[units.Length], f func(units.Length) (float64, error)) (low, typical, high float64, err error) {
	var v [3]float64
	for i, c := range []units.Length{r.Low, middleOf(r), r.High} {
		if v[i], err = f(c); err != nil {
			return 0, 0, 0, err
		}
	}
	return math.Min(v[0], v[2]), v[1], math.Max(v[0], v[2]), nil
}

// grams reads a mass: "1.52 g", "0.05 oz", "2 kg".
func (q *given) grams(flag string) float64 {
	if !q.has(flag) {
		return 0
	}
	t := strings.ToLower(strings.TrimSpace(q.text(flag)))
	for _, u := range []struct {
		word string
		g    float64
	}{{"kg", 1000}, {"mg", 0.001}, {"ounces", 28.349523125}, {"ounce", 28.349523125}, {"oz", 28.349523125}, {"lb", 453.59237}, {"grams", 1}, {"gram", 1}, {"g", 1}} {
		n, ok := strings.CutSuffix(t, u.word)
		if !ok {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(n), ",", ".", 1), 64)
		if err != nil || !(v > 0) || math.IsInf(v, 0) {
			break
		}
		return v * u.g
	}
	q.refuse(flag, fmt.Sprintf("%q is not a mass", q.text(flag)), "grams or ounces, above zero, such as 1.52g or 0.05oz", "")
	return 0
}

// sides reads "10x10cm" as two lengths.
func (q *given) sides(flag string) (a, b units.Length) {
	if !q.has(flag) {
		return 0, 0
	}
	t := strings.NewReplacer("×", "x", " by ", "x", "X", "x").Replace(q.text(flag))
	first, second, ok := strings.Cut(t, "x")
	if !ok {
		q.refuse(flag, fmt.Sprintf("%q is not two sides", q.text(flag)), "width by height, such as 10x10cm", "")
		return 0, 0
	}
	b, err := units.ParseLengthIn(second, units.Centimetre)
	if err != nil {
		q.bad(flag, err)
		return 0, 0
	}
	if a, err = units.ParseLength(first); err != nil { // the unit of the second serves both
		if a, err = units.ParseLengthIn(strings.TrimSpace(first)+strings.TrimLeft(strings.TrimSpace(second), "0123456789.,/ "), units.Centimetre); err != nil {
			q.bad(flag, err)
		}
	}
	return a, b
}
