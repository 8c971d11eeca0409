package hang

import (
	"math"

	"tenter/fibres/units"
)

// The fall of a uniform flap from a level hold depends on c/L alone. It is
// tabulated against y = (c/L)^1.5, in which both ends are smooth: a long flap
// stands off √2 y L, and a short one follows the series below. Between nodes a
// cubic is drawn from values and slopes.

// seriesFrom is the y above which the series in ε² = (L/c)^6 is used; the first
// term left out is then under 1e-11.
const seriesFrom = fallStep * (fallNodes - 1)

// Coefficients of reach/L = Σ r[n] ε^2n and drop/L = ε Σ d[n] ε^2n, ε = (L/c)³,
// from solving the elastica as a power series in ε in exact fractions.
var (
	reachSeries = [...]float64{
		1, -1.0 / 112, 209.0 / 1164800, -89429.0 / 19475456000,
		1.327089505456579e-07, -4.126964168303421e-09, 1.3478472737336642e-10,
	}
	dropSeries = [...]float64{
		1.0 / 8, -1.0 / 640, 549.0 / 15769600, -10069.0 / 10723328000,
		2.8006110637082184e-08, -8.893789875007366e-10, 2.948385681301557e-11,
	}
)

// uniformReach returns reach/L at y = (c/L)^1.5.
func uniformReach(y float64) float64 {
	if y < seriesFrom {
		return hermite(y, 0)
	}
	e := 1 / (y * y)
	return sum(reachSeries[:], e*e)
}

// uniformDrop returns drop/L at y = (c/L)^1.5.
func uniformDrop(y float64) float64 {
	if y < seriesFrom {
		return hermite(y, 2)
	}
	e := 1 / (y * y)
	return e * sum(dropSeries[:], e*e)
}

func sum(c []float64, x float64) float64 {
	s := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		s = s*x + c[i]
	}
	return s
}

// hermite reads the table: column 0 is reach/L, 2 is drop/L, each followed by
// its slope times the step.
func hermite(y float64, column int) float64 {
	q := y * (1 / fallStep)
	i := int(q)
	if i > fallNodes-2 {
		i = fallNodes - 2
	}
	t := q - float64(i)
	a, b := &fallTable[i], &fallTable[i+1]
	p, m, r, n := a[column], a[column+1], b[column], b[column+1]
	d := r - p
	return p + t*(m+t*(3*d-2*m-n+t*(m+n-2*d)))
}

// StandOff returns how far the free end of a uniform flap lies out from a level
// hold.
//
//	stand-off = L · R(L/c), R from the exact heavy elastica
//
// Given: the length of the flap along the cloth and its bending length.
//
// Valid: both over 0. Depends on L/c alone, rises with c without end point:
// towards L for a stiff cloth, as √2 c^1.5 / √L for a limp one.
// Accuracy: 1e-8 of the length against [Hang] for every L/c.
// Errors: none; NaN for a negative length or NaN, 0 where either is 0.
// Source: table made by solving [Hang]; see gen.
// Checked: standoff_test.go, TestStandOffAgainstHang.
func StandOff(length, c units.Length) units.Length {
	if !(length >= 0 && c >= 0) {
		return units.Length(math.NaN())
	}
	if length == 0 || c == 0 {
		return 0
	}
	x := float64(c / length)
	return length * units.Length(uniformReach(x*math.Sqrt(x)))
}

// StandOffStrip returns the stand-off of a flap whose last strip is stiffer and
// heavier than the rest: a hem, a turned edge, a binding.
//
// Given: the length of the whole flap along the cloth; c, the bending length of
// the part without the strip; strip, the width of the edge strip; the rigidity
// and the mass of the strip as multiples of the rest.
//
// Valid: lengths 0 or more, ratios over 0. A strip as long as the flap or longer
// leaves a uniform flap of the strip's own bending length. Tabulated for a strip up
// to half the flap, a mass ratio of 0.5 to 6 and a rigidity ratio of 0.5 or more;
// elsewhere the elastica is solved, which takes some fifty times as long.
// Accuracy: 0.1 % of the flap's length against [Hang], 0.005 % root mean square.
// Errors: none; NaN for a negative figure or NaN.
// Source: table made by solving [Hang] with two segments; see gen.
// Checked: standoff_test.go, TestStandOffStripAgainstHang.
func StandOffStrip(length, c, strip units.Length, rigidityRatio, massRatio float64) units.Length {
	if !(length >= 0 && c >= 0 && strip >= 0 && rigidityRatio > 0 && massRatio > 0) {
		return units.Length(math.NaN())
	}
	if strip == 0 || (rigidityRatio == 1 && massRatio == 1) {
		return StandOff(length, c)
	}
	if strip >= length {
		return StandOff(length, c*units.Length(math.Cbrt(rigidityRatio/massRatio)))
	}
	if length == 0 || c == 0 {
		return 0
	}
	x := float64(c / length)
	y, part, soft := x*math.Sqrt(x), float64(strip/length), 1/rigidityRatio
	if part <= stripPartMax && massRatio >= stripMassMin && massRatio <= stripMassMax && soft <= stripSoftMax {
		return length * units.Length(uniformReach(y/math.Sqrt(stripMass(y, part, massRatio, soft))))
	}
	weight := 1 + (massRatio-1)*part // of the whole, as a multiple of a flap without the strip
	if bend := y / math.Sqrt(weight); x*longFlap < min(1, weight) && 1-part >= clampReach*bend {
		return length * units.Length(uniformReach(bend))
	}
	k := 1 / (y * y)
	runs := [2]run{
		{from: 0, to: part, k1: k * massRatio / rigidityRatio, rigidity: rigidityRatio},
		{from: part, to: 1, k0: k * massRatio * part, k1: k, rigidity: 1},
	}
	sol, ok := shoot(runs[:], math.Pi/2)
	if !ok {
		return units.Length(math.NaN())
	}
	return length * units.Length(sol.endState.x)
}

// A flap of very many bending lengths hangs straight but for a bend at the clamp, which
// knows no more of the strip than its weight: it stands off as a uniform flap of the whole
// weight does, within 0.006 %. To solve it as it stands would take seconds.
const (
	longFlap   = 300 // bending lengths
	clampReach = 20  // how often the bend, √(c³/L) long by the weight, must lie between clamp and strip
)

// stripMass returns μ: a uniform flap μ times as heavy stands off as far as the
// flap with the strip. It adds up the Chebyshev products of the table.
func stripMass(y, part, mass, soft float64) float64 {
	low := math.Sqrt(stripMassMin)
	span := math.Sqrt(stripMassMax) - low
	var ty [stripYs]float64
	var tp [stripParts]float64
	var tm [stripMasses]float64
	var ts [stripSofts]float64
	const full = (stripYMax + stripScale) / stripYMax
	y = math.Min(y, stripYMax)
	chebyshev(ty[:], 2*full*y/(y+stripScale)-1)
	chebyshev(tp[:], 2*part/stripPartMax-1)
	chebyshev(tm[:], 2*(math.Sqrt(mass)-low)/span-1)
	chebyshev(ts[:], 2*soft/stripSoftMax-1)
	sum, at := 0.0, 0
	for i := range stripRows {
		r := &stripRows[i]
		n := int(r[3])
		row := 0.0
		for j, c := range stripCoefs[at : at+n] {
			row += c * ty[j]
		}
		at += n
		sum += row * tp[r[0]] * tm[r[1]] * ts[r[2]]
	}
	return 1 + part*sum
}

// chebyshev fills t with T0(x), T1(x) …
func chebyshev(t []float64, x float64) {
	t[0], t[1] = 1, x
	for i := 2; i < len(t); i++ {
		t[i] = 2*x*t[i-1] - t[i-2]
	}
}
