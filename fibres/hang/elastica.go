package hang

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// gravity is standard gravity in m/s² (exact by definition).
const gravity = 9.80665

// Segment is a uniform length of a flap: how long it is, its rigidity and its
// mass. A flap with a hem has two.
type Segment struct {
	Length   units.Length
	Rigidity units.Rigidity
	Mass     units.ArealMass
}

// Flap is a strip of cloth held at one end. Clamp is the angle below the
// horizontal at which it leaves the hold: 0 leaves level, 90 hangs straight
// down, −90 points straight up. Segments run from the hold to the free end.
type Flap struct {
	Clamp    units.Angle
	Segments []Segment
}

// Point is a place on the hanging cloth: Out from the hold, Down below it, and
// the Angle of the cloth there below the horizontal.
type Point struct {
	Out, Down units.Length
	Angle     units.Angle
}

// Fall is how a flap hangs. StandOff is how far the free end lies out from the
// hold, Drop how far below it, EndAngle the angle of the cloth at its end and
// ChordAngle that of the straight line from hold to end, both below the
// horizontal. RootMoment is the bending moment at the hold in µN·m per metre of
// width. Points run from the hold to the free end, equally spaced along the cloth.
type Fall struct {
	StandOff, Drop       units.Length
	EndAngle, ChordAngle units.Angle
	RootMoment           float64
	Points               []Point
}

// Hang returns how a flap hangs under its own weight: the heavy elastica, with
// as many uniform segments as it has.
//
//	d/ds (G dθ/ds) = −N(s) cos θ,  θ(hold) = clamp,  dθ/ds(end) = 0
//
// with s along the cloth, θ below the horizontal and N the weight per width of
// all that hangs beyond s.
//
// Given: a flap with at least one segment, from the hold outwards; points, how
// many points of the curve to return, none or at least 2. The result aliases
// nothing of the input.
//
// Valid: every length and rigidity over 0, every mass 0 or more, clamp from −90°
// to 90°, at most some 2000 bending lengths. Tested for L/c from 0.05 to 50. Pointing upwards, the flap may have
// several balances: the one that droops most is returned.
// Accuracy: about 1e-10 of the length, before the cloth departs from the model.
// Errors: [*fault.Fault] of kind OutsideRange for anything outside, NaN included.
// Source: classical elastica; the self-weight case as in Peirce 1930 (from memory).
// Checked: reference_test.go, TestHangAgainstReference (own computation, two other methods).
func Hang(f Flap, points int) (Fall, error) {
	if err := f.check(points); err != nil {
		return Fall{}, err
	}
	var total float64
	for _, s := range f.Segments {
		total += float64(s.Length)
	}
	n := len(f.Segments)
	var few [4]run
	runs := few[:0]
	if n > len(few) {
		runs = make([]run, 0, n)
	}
	// From the tip inwards, in units of the whole length: k = N L² / G.
	metres := total / 100
	u, weight := 0.0, 0.0
	for i := n - 1; i >= 0; i-- {
		s := f.Segments[i]
		g := float64(s.Rigidity) * 1e-6
		w := float64(s.Mass) * 1e-3 * gravity
		l := float64(s.Length) / total
		runs = append(runs, run{
			from: u, to: u + l, rigidity: g,
			k0: weight * metres * metres / g,
			k1: w * metres * metres * metres / g,
		})
		u += l
		weight += w * l * metres
	}
	runs[n-1].to = 1
	if !(steepness(runs) < 1e5) {
		return Fall{}, &fault.Fault{Kind: fault.OutsideRange,
			What:     "it is too limp for its length to be worked out",
			Where:    fmt.Sprintf("flap of %.4g cm", total),
			Expected: "a flap of at most some 2000 bending lengths",
			Mend:     "check the rigidity for a slipped decimal point: so limp a flap hangs plumb"}
	}
	root := math.Pi/2 - radians(f.Clamp)
	sol, ok := shoot(runs, root)
	if !ok {
		return Fall{}, &fault.Fault{Kind: fault.OutsideRange,
			What:     "no balance was found for this flap",
			Where:    fmt.Sprintf("flap of %.4g cm", total),
			Expected: "lengths, rigidities and masses as cloth has them",
			Mend:     "check the figures for a slipped decimal point"}
	}
	end := sol.endState
	fall := Fall{
		StandOff:   units.Length(end.x * total),
		Drop:       units.Length(end.y * total),
		EndAngle:   degrees(math.Pi/2 - sol.tip),
		ChordAngle: degrees(math.Atan2(end.y, end.x)),
		RootMoment: end.dphi * runs[n-1].rigidity / metres * 1e6,
	}
	if points > 0 {
		fall.Points = curve(runs, sol, points, total)
	}
	return fall, nil
}

func (f Flap) check(points int) error {
	var l fault.List
	bad := func(where, what, expected, mend string) {
		l = append(l, &fault.Fault{Kind: fault.OutsideRange, Where: where, What: what, Expected: expected, Mend: mend})
	}
	if len(f.Segments) == 0 {
		bad("flap", "it has no segment", "at least one length of cloth", "give a length, a rigidity and a mass")
	}
	if !(f.Clamp >= -90 && f.Clamp <= 90) {
		bad("clamp", fmt.Sprintf("it is %v°", float64(f.Clamp)), "−90° to 90° below the horizontal", "0 is level, 90 straight down")
	}
	if points < 0 || points == 1 {
		bad("points", fmt.Sprintf("%d points make no curve", points), "0, or 2 and more", "ask for 0 where the curve is not wanted")
	}
	for i, s := range f.Segments {
		at := fmt.Sprintf("segment %d", i+1)
		if !positive(float64(s.Length)) {
			bad(at, fmt.Sprintf("length is %v cm", float64(s.Length)), "over 0 cm", "measure along the cloth")
		}
		if !positive(float64(s.Rigidity)) {
			bad(at, fmt.Sprintf("rigidity is %v µN·m", float64(s.Rigidity)), "over 0 µN·m", "RigidityFromBendingLength gives it")
		}
		if m := float64(s.Mass); !(m >= 0) || math.IsInf(m, 0) {
			bad(at, fmt.Sprintf("mass is %v g/m²", m), "0 g/m² or more", "weigh a square of the cloth")
		}
	}
	return l.OrNil()
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

func radians(a units.Angle) float64 { return float64(a) * math.Pi / 180 }
func degrees(r float64) units.Angle { return units.Angle(r * 180 / math.Pi) }

// run is a uniform stretch counted from the tip, u from 0 to 1 over the whole
// flap. With φ the angle from the downward vertical, φ” = (k0 + k1 (u − from)) sin φ.
type run struct {
	from, to float64
	k0, k1   float64
	rigidity float64
}

// steepness returns ∫ √k du, about the logarithm by which a lean grows from the
// free end to the hold.
func steepness(runs []run) float64 {
	sum := 0.0
	for _, r := range runs {
		l := r.to - r.from
		a, b := math.Sqrt(r.k0), math.Sqrt(r.k0+r.k1*l)
		// The mean of a square root between a² and b², without a difference that could cancel.
		if a+b > 0 {
			sum += l * 2 / 3 * (a*a + a*b + b*b) / (a + b)
		}
	}
	return sum
}

// state is where a march has come to. eta is dφ/dφ(start), which Newton needs.
type state struct {
	u         float64
	phi, dphi float64
	eta, deta float64
	x, y      float64
}

// solution is a balanced flap. Below start the cloth hangs plumb to within
// e^-plumb; the march begins there.
type solution struct {
	start    state
	startRun int
	tip      float64 // φ at the tip
	endState state
}

// plumb is the logarithm of how little a cloth may lean before it is taken to
// hang straight: e^-38 is below the last bit of a sum of order one.
const plumb = 38

// shoot finds φ at the tip such that φ at the hold equals root, marching from
// the tip to the hold: the direction in which a departure from the vertical
// grows, so that rounding does not.
func shoot(runs []run, root float64) (solution, bool) {
	if root < 1e-15 {
		return solution{endState: state{u: 1, y: 1, eta: 1}}, true
	}
	_, gain := linear(runs, math.Inf(1))
	start, startGain := linear(runs, gain-plumb)
	// Where sin φ < φ the true gain is smaller than the linear one, so this
	// lies below the root; the map is concave in λ on the stable branch, so
	// Newton climbs to the first root without passing it.
	lambda := math.Log(root) - (gain - startGain)
	low, high := lambda, math.Inf(1)
	target := math.Log(root)
	var sol solution
	for i := 0; i < 100; i++ {
		phi := math.Exp(lambda)
		s := state{u: start.u, phi: phi, dphi: start.r * phi, eta: 1, deta: start.r, y: start.u}
		end := march(runs, start.run, s)
		sol = solution{start: s, startRun: start.run, tip: math.Exp(lambda - startGain), endState: end}
		f := math.Inf(1)
		if end.phi > 0 {
			f = math.Log(end.phi) - target
		}
		if math.IsNaN(end.phi) {
			return sol, false
		}
		if math.Abs(f) < 1e-13 {
			return sol, true
		}
		if f > 0 {
			high = lambda
		} else {
			low = lambda
		}
		slope := phi * end.eta / end.phi
		next := lambda - f/slope
		if !(slope > 1e-9) || math.IsInf(f, 1) {
			next = lambda + 0.1
		}
		if next <= low || next >= high {
			if math.IsInf(high, 1) {
				next = low + 0.05
			} else {
				next = (low + high) / 2
			}
		}
		if math.Abs(next-lambda) < 1e-15*math.Max(1, math.Abs(lambda)) {
			return sol, true
		}
		lambda = next
	}
	return sol, !math.IsInf(high, 1)
}

type plumbPoint struct {
	u   float64
	r   float64 // φ'/φ
	run int
}

// linear marches φ” = k φ from the tip, keeping only φ'/φ and log φ, and stops
// where log φ reaches limit or at the hold. Nothing can overflow in it, however
// long the flap.
func linear(runs []run, limit float64) (plumbPoint, float64) {
	const order = 14
	slope, gain := 0.0, 0.0
	for i, r := range runs {
		if i > 0 {
			slope *= runs[i-1].rigidity / r.rigidity
		}
		u := r.from
		for u < r.to {
			if gain >= limit {
				return plumbPoint{u, slope, i}, gain
			}
			k0 := r.k0 + r.k1*(u-r.from)
			h := r.to - u
			h = math.Min(h, 0.7/(math.Sqrt(k0)+math.Cbrt(r.k1)))
			a2, a1, a0 := 0.0, 1.0, slope // a[n-1], a[n], a[n+1] for n = 0
			v, d, p := 1+slope*h, slope, h
			for n := 0; n <= order; n++ {
				c := (k0*a1 + r.k1*a2) / float64((n+1)*(n+2))
				d += float64(n+2) * c * p
				p *= h
				v += c * p
				a2, a1, a0 = a1, a0, c
			}
			gain += math.Log(v)
			slope = d / v
			u += h
			if r.to-u < 1e-15 {
				u = r.to
			}
		}
	}
	return plumbPoint{1, slope, len(runs) - 1}, gain
}

// order is the degree of the Taylor step, reachOfStep the part of the estimated
// radius of convergence that one step covers: 0.15^17 is 1e-14.
const (
	order       = 18
	reachOfStep = 0.18
)

// stepper holds the Taylor coefficients of one step.
type stepper struct {
	a, s, c, e [order + 1]float64
}

// march carries the state from its place to the hold.
func march(runs []run, first int, st state) state {
	var t stepper
	return t.march(runs, first, st, func(state, float64) {})
}

// march carries the state on and calls visit after each step, with the state
// before it and the step's length, while t holds its coefficients.
func (t *stepper) march(runs []run, first int, st state, visit func(from state, h float64)) state {
	for i := first; i < len(runs); i++ {
		r := &runs[i]
		if i > first {
			q := runs[i-1].rigidity / r.rigidity
			st.dphi *= q
			st.deta *= q
		}
		for st.u < r.to {
			h := t.step(st, r.k0+r.k1*(st.u-r.from), r.k1)
			last := false
			if left := r.to - st.u; !(h < left*(1-1e-12)) {
				h, last = left, true
			}
			next := t.at(st, h)
			visit(st, h)
			st = next
			if last {
				st.u = r.to
			}
			if math.IsNaN(st.phi) {
				return st
			}
		}
	}
	return st
}

// step fills the coefficients at a state and returns a step length that keeps
// the truncation near the last bit.
func (t *stepper) step(st state, k0, k1 float64) float64 {
	t.a[0], t.a[1] = st.phi, st.dphi
	t.e[0], t.e[1] = st.eta, st.deta
	t.s[0], t.c[0] = math.Sincos(st.phi)
	var prod float64 // (c·e)[n-1]
	for n := 0; n < order; n++ {
		var ce float64
		for j := 0; j <= n; j++ {
			ce += t.c[j] * t.e[n-j]
		}
		if n+2 <= order {
			q := 1 / float64((n+1)*(n+2))
			a := k0 * t.s[n]
			if n > 0 {
				a += k1 * t.s[n-1]
			}
			t.a[n+2] = a * q
			t.e[n+2] = (k0*ce + k1*prod) * q
		}
		prod = ce
		var s, c float64
		for j := 0; j <= n; j++ {
			d := float64(j+1) * t.a[j+1]
			s += d * t.c[n-j]
			c -= d * t.s[n-j]
		}
		t.s[n+1], t.c[n+1] = s/float64(n+1), c/float64(n+1)
	}
	// Three terms, because at a free end only every third is not 0.
	size := math.Log(math.Abs(t.a[0]))
	slowest := math.Inf(-1)
	for n := order - 2; n <= order; n++ {
		if a := math.Abs(t.a[n]); a > 0 {
			slowest = math.Max(slowest, (math.Log(a)-size)/float64(n))
		}
	}
	return reachOfStep * math.Exp(-slowest)
}

// at evaluates the step's polynomials h beyond the state they were made at.
func (t *stepper) at(st state, h float64) state {
	var phi, dphi, eta, deta, x, y float64
	for n := order; n >= 0; n-- {
		f := float64(n)
		phi = phi*h + t.a[n]
		eta = eta*h + t.e[n]
		if n > 0 {
			dphi = dphi*h + f*t.a[n]
			deta = deta*h + f*t.e[n]
		}
		x = x*h + t.s[n]/(f+1)
		y = y*h + t.c[n]/(f+1)
	}
	return state{st.u + h, phi, dphi, eta, deta, st.x + x*h, st.y + y*h}
}

// curve returns equally spaced points of a solved flap, hold first.
func curve(runs []run, sol solution, points int, total float64) []Point {
	out := make([]Point, points)
	end := sol.endState
	put := func(i int, s state) {
		out[i] = Point{
			Out:   units.Length((end.x - s.x) * total),
			Down:  units.Length((end.y - s.y) * total),
			Angle: degrees(math.Pi/2 - s.phi),
		}
	}
	// Point i lies u = 1 − i/(points−1) from the tip.
	next := points - 1
	u := func(i int) float64 { return 1 - float64(i)/float64(points-1) }
	for next >= 0 && u(next) <= sol.start.u {
		phi := 0.0
		if next == points-1 {
			phi = sol.tip
		}
		put(next, state{phi: phi, y: u(next)})
		next--
	}
	if sol.start.phi > 0 {
		var t stepper
		t.march(runs, sol.startRun, sol.start, func(from state, h float64) {
			for next >= 0 && u(next) <= from.u+h+1e-14 {
				put(next, t.at(from, u(next)-from.u))
				next--
			}
		})
	}
	for ; next >= 0; next-- {
		if sol.start.phi > 0 {
			put(next, end)
			continue
		}
		put(next, state{y: u(next)})
	}
	return out
}
