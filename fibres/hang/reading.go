package hang

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Test is a way of measuring the bending length at home.
type Test int

// The tests.
const (
	FixedAngle Test = iota // slide the strip out until its tip meets a plane 41.5° down
	RulerDrop              // how far below the edge the tip lies
	RulerDroop             // the angle of the line from edge to tip
	HeartLoop              // the height of a heart loop
	RingLoop               // the height of a ring loop
)

var testNames = [...]string{"fixed angle", "ruler drop", "ruler droop", "heart loop", "ring loop"}

// String returns the test's name.
func (t Test) String() string {
	if t < FixedAngle || t > RingLoop {
		return ""
	}
	return testNames[t]
}

// Direction is the direction of a strip in the cloth.
type Direction int

// The directions. AnyDirection is a strip whose direction was not noted.
const (
	AnyDirection Direction = iota
	Warp
	Weft
	Bias
)

// Face is the side of the cloth that lay uppermost.
type Face int

// The faces. AnyFace is a strip whose face was not noted.
const (
	AnyFace Face = iota
	RightSide
	WrongSide
)

// Reading is one reading of one strip. Length is the overhang, or the strip in
// the loop, along the cloth. Drop is the drop of the tip (RulerDrop) or the height
// of the loop; Droop the angle (RulerDroop). LengthError and AngleError are what
// the reading may be out by, either way; 0 stands for 2 mm and 2°.
type Reading struct {
	Test        Test
	Direction   Direction
	Face        Face
	Length      units.Length
	Drop        units.Length
	Droop       units.Angle
	LengthError units.Length
	AngleError  units.Angle
}

// BendingLength returns the bending length the reading gives by itself, always by
// the exact elastica.
func (r Reading) BendingLength() (units.Length, error) {
	switch r.Test {
	case FixedAngle:
		return BendingLengthFromFixedAngle(r.Length)
	case RulerDrop:
		return BendingLengthFromDrop(r.Length, r.Drop)
	case RulerDroop:
		return BendingLengthFromElastica(r.Length, r.Droop)
	case HeartLoop:
		return BendingLengthFromLoop(Heart, r.Length, r.Drop)
	case RingLoop:
		return BendingLengthFromLoop(Ring, r.Length, r.Drop)
	}
	return 0, outside("test", fmt.Sprintf("there is no test %d", int(r.Test)), "fixed angle, ruler drop, ruler droop, heart loop or ring loop", "slide a strip out to 41.5°")
}

// Error returns by which part, in ln c, the reading may be out: what each figure
// read from a ruler does to c, taken together as the root of their squares.
func (r Reading) Error() (float64, error) {
	c, err := r.BendingLength()
	if err != nil {
		return 0, err
	}
	dl, da := r.LengthError, r.AngleError
	if dl == 0 {
		dl = 2 * units.Millimetre
	}
	if da == 0 {
		da = 2
	}
	if !positive(float64(dl)) || !positive(float64(da)) {
		return 0, outside("error of reading", fmt.Sprintf("it is %v cm, %v°", float64(dl), float64(da)), "over 0", "leave it out for 2 mm and 2°")
	}
	moved := func(by func(*Reading, float64)) float64 {
		var ends [2]float64
		n, spread := 0, 0.0
		for _, sign := range []float64{-1, 1} {
			m := r
			by(&m, sign)
			if x, err := m.BendingLength(); err == nil {
				ends[n] = math.Log(float64(x / c))
				n++
			}
		}
		switch n {
		case 2:
			spread = math.Abs(ends[1]-ends[0]) / 2
		case 1:
			spread = math.Abs(ends[0])
		default:
			spread = math.Ln2 // neither end can be read: out by 2 either way
		}
		return spread
	}
	out := moved(func(m *Reading, s float64) { m.Length += dl * units.Length(s) })
	switch r.Test {
	case RulerDrop, HeartLoop, RingLoop:
		out = math.Hypot(out, moved(func(m *Reading, s float64) { m.Drop += dl * units.Length(s) }))
	case RulerDroop:
		out = math.Hypot(out, moved(func(m *Reading, s float64) { m.Droop += da * units.Angle(s) }))
	}
	return out, nil
}

// Interval is a bending length that is not known exactly: eight cloths in ten
// that read so lie between Low and High.
type Interval struct {
	Low, Typical, High units.Length
}

// around returns an interval of a given 80 % half width in ln.
func around(typical units.Length, half float64) Interval {
	f := units.Length(math.Exp(half))
	return Interval{typical / f, typical, typical * f}
}

// half returns the larger half width in ln.
func (i Interval) half() float64 {
	return math.Max(math.Log(float64(i.High/i.Typical)), math.Log(float64(i.Typical/i.Low)))
}

// tenth is the 90th percentile of the normal distribution.
const tenth = 1.2815515655446004

// The customary spread of repeated strips of one cloth, in ln, and for how many
// readings it counts (common practice: 5 to 10 % in c). Without it two readings
// that agree by luck would claim to know.
const (
	strandSpread = 0.075
	strandWeight = 4
)

// FromReadings returns what a set of readings says of one cloth.
//
//	typical: mean over readings of a face, then over faces, then √(warp · weft)
//	spread:  s² = (4 · 0.075² + Σ (ln c − ln mean)²) / (4 + n − groups)
//	half:    √((t s)² Σ weights² + reading²),  t of Student, 10 % each side
//
// Given: readings in any order, not changed. All of one direction (or none noted)
// give that direction; warp and weft together give the overall bending length.
// The error of reading does not average out: the same ruler is used each time.
//
// Valid: at least one reading, each within the range of its test; the bias only by
// itself; direction noted for all or for none.
// Accuracy: the interval is what it claims for strips cut from all over the cloth.
// Errors: [fault.List] of kind OutsideRange, each reading at its number.
// Source: ordinary statistics; the customary spread is common practice.
// Checked: reading_test.go, TestReadingsHoldTheTruth.
func FromReadings(readings []Reading) (Interval, error) {
	var l fault.List
	if len(readings) == 0 {
		l.Add(outside("readings", "there are none", "at least one, better four each of warp and weft, both faces", "cut a strip 25 mm wide and slide it over an edge"))
		return Interval{}, l
	}
	groups, worst, l := grouped(readings)
	if seen := groups.directions(); len(seen) > 1 {
		if seen[AnyDirection] {
			l.Add(outside("readings", "some have a direction and some have none", "the direction of all or of none", "note warp, weft or bias beside each reading"))
		}
		if seen[Bias] {
			l.Add(outside("readings", "the bias is mixed with warp or weft", "the bias by itself", "judge the bias strips apart"))
		}
	}
	if len(l) > 0 {
		return Interval{}, l
	}
	return groups.interval(worst), nil
}

// readingGroups are the bending lengths read of one direction and face.
type readingGroups map[readingGroup][]float64

type readingGroup struct {
	direction Direction
	face      Face
}

// grouped takes each reading by itself: what it gives, in its group, and the
// largest error of reading. What cannot be read is a fault at its number.
func grouped(readings []Reading) (groups readingGroups, worst float64, l fault.List) {
	groups = readingGroups{}
	for i, r := range readings {
		c, err := r.BendingLength()
		if err == nil {
			var e float64
			e, err = r.Error()
			worst = math.Max(worst, e)
		}
		if err != nil {
			for _, f := range fault.All(err) {
				g := *f
				g.Where = fmt.Sprintf("reading %d, %s", i+1, f.Where)
				l = append(l, &g)
			}
			continue
		}
		k := readingGroup{r.Direction, r.Face}
		groups[k] = append(groups[k], float64(c))
	}
	return groups, worst, l
}

func (g readingGroups) directions() map[Direction]bool {
	seen := map[Direction]bool{}
	for k := range g {
		seen[k.direction] = true
	}
	return seen
}

// interval takes groups together: the mean of each direction over its faces, the
// geometric mean over directions, and what the scatter within the groups and the
// error of reading leave open.
func (g readingGroups) interval(reading float64) Interval {
	sum, squares, count := map[Direction]float64{}, map[Direction]float64{}, map[Direction]int{}
	residual, n := 0.0, 0
	// A fixed order, so that the last digit does not change from run to run.
	directions := []Direction{AnyDirection, Warp, Weft, Bias}
	for _, d := range directions {
		for _, f := range []Face{AnyFace, RightSide, WrongSide} {
			read := g[readingGroup{d, f}]
			if len(read) == 0 {
				continue
			}
			mean := 0.0
			for _, c := range read {
				mean += c / float64(len(read))
			}
			for _, c := range read {
				e := math.Log(c / mean)
				residual += e * e
			}
			n += len(read)
			sum[d] += mean
			squares[d] += 1 / float64(len(read))
			count[d]++
		}
	}
	lnTypical, weight := 0.0, 0.0
	for _, d := range directions {
		if k := float64(count[d]); k > 0 {
			part := 1 / float64(len(count))
			lnTypical += part * math.Log(sum[d]/k)
			weight += part * part * squares[d] / (k * k)
		}
	}
	freedom := float64(strandWeight + n - len(g))
	s := math.Sqrt((strandWeight*strandSpread*strandSpread + residual) / freedom)
	t := student(freedom)
	half := math.Sqrt(t*t*s*s*weight + reading*reading)
	return around(units.Length(math.Exp(lnTypical)), half)
}

// student returns the 90th percentile of Student's distribution, by the expansion
// in 1/freedom round the normal one; within 0.002 from 4 degrees on.
func student(freedom float64) float64 {
	z := tenth
	z3, z5 := z*z*z, z*z*z*z*z
	z7 := z5 * z * z
	return z + (z3+z)/(4*freedom) + (5*z5+16*z3+3*z)/(96*freedom*freedom) +
		(3*z7+19*z5+17*z3-15*z)/(384*freedom*freedom*freedom)
}

// OverallFromOne returns the overall bending length where only one direction was
// measured.
//
//	overall = 0.937 · warp = 1.067 · weft, each within 11 % (one standard deviation)
//
// Given: the direction; its interval.
//
// Valid: Warp or Weft; an interval with 0 < Low ≤ Typical ≤ High.
// Accuracy: the 11 % are put to the interval: medians and spread over 251 cloths.
// Errors: [*fault.Fault] of kind OutsideRange otherwise.
// Source: computed from an open set of 251 measured cloths (Feng and others 2022).
// Checked: reading_test.go, TestOverallFromOne.
func OverallFromOne(d Direction, i Interval) (Interval, error) {
	factor := units.Length(0)
	switch d {
	case Warp:
		factor = 0.937
	case Weft:
		factor = 1.067
	default:
		return Interval{}, outside("direction", "only warp or weft tells the whole", "warp or weft", "measure a strip along the selvedge")
	}
	if !(i.Low > 0 && i.Low <= i.Typical && i.Typical <= i.High && !math.IsInf(float64(i.High), 0)) {
		return Interval{}, outside("interval", fmt.Sprintf("%v, %v, %v cm are not in order", float64(i.Low), float64(i.Typical), float64(i.High)), "low, typical and high over 0, in order", "FromReadings gives one")
	}
	return around(i.Typical*factor, math.Hypot(i.half(), tenth*0.113)), nil
}

// WithoutReading returns what is known of the overall bending length of a cloth of
// which only the mass is known: next to nothing.
//
//	c = 1.27 W^0.0748, eight cloths in ten within 0.70 to 1.39 times
//
// Given: mass W in g/m².
//
// Valid: 10 to 1000 g/m²; the fit saw 15 to 870.
// Accuracy: mass explains 4 % of the spread. 200 of the 251 cloths lie inside; of 4
// readings of one denim by another laboratory 2, the others being stiffer.
// It is a reason to measure, not a figure to trust.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: fitted to an open set of 251 measured cloths (Feng and others 2022).
// Checked: reference_test.go, TestWithoutReading.
func WithoutReading(mass units.ArealMass) (Interval, error) {
	if !(mass >= 10 && mass <= 1000) {
		return Interval{}, outside("mass", fmt.Sprintf("it is %v g/m²", float64(mass)), "10 to 1000 g/m²", "weigh a square of the cloth")
	}
	c := units.Length(1.27 * math.Pow(float64(mass), 0.0748))
	return Interval{c * 0.70, c, c * 1.39}, nil
}

// TestFor returns which test suits a cloth of about this bending length, and how
// to do it. A bending length of 0 or NaN is not known yet.
func TestFor(c units.Length) (Test, string) {
	switch {
	case !(c > 0):
		return FixedAngle, "Slide a strip 25 mm wide out over an edge until its tip meets a line 41.5° down; half the overhang is the bending length. If the strip twists or curls, hang a heart loop instead."
	case c < 0.8:
		strip := math.Max(2, math.Round(5*float64(c)))
		how := fmt.Sprintf("Limp: hang a strip of about %.0f cm as a heart loop, both ends upwards in one clamp, and measure clamp to bottom", strip)
		if h, err := LoopHeight(Heart, units.Length(strip), c); err == nil {
			how += fmt.Sprintf(", about %.1f cm", float64(h))
		}
		return HeartLoop, how + "."
	case c <= 5:
		return FixedAngle, fmt.Sprintf("Slide a strip 25 mm wide out over an edge until its tip meets a line 41.5° down, at about %.0f cm; half the overhang is the bending length.", 2*float64(c))
	default:
		return RulerDrop, fmt.Sprintf("Stiff: let a long strip hang out about %.0f cm and measure how far its tip drops.", 1.7*float64(c))
	}
}

// Doubt returns what makes a reading poor, or "" where nothing does.
func (r Reading) Doubt() string {
	c, err := r.BendingLength()
	if err != nil {
		return ""
	}
	out := float64(r.Length / c)
	switch r.Test {
	case FixedAngle:
		if c < 0.8 {
			return "So limp a strip is hard to read: hang a heart loop as well."
		}
	case RulerDrop, RulerDroop:
		if out < 1.44 {
			return "It hardly droops: let it hang out further, to a droop of 20° to 60°."
		}
		if out > 2.64 {
			return "It hangs nearly plumb: pull it back, to a droop of 20° to 60°."
		}
	case HeartLoop, RingLoop:
		if out < 3 {
			return "The loop hardly sags: take a longer strip, 3 to 8 times the bending length."
		}
		if out > 8 {
			return "The loop hangs as two lines: take a shorter strip, 3 to 8 times the bending length."
		}
	}
	return ""
}
