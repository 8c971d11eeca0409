package main

import (
	"bytes"
	"fmt"
	"math"

	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// The stand-off of a flap with an edge strip is that of a uniform flap whose
// mass is μ times as great. (μ − 1)/(strip/L) is smooth in four variables, each
// mapped to −1..1, and is fitted by a product of Chebyshev series.
const (
	stripScale   = 0.5 // y at half of y/(y + scale)
	stripYMax    = 6   // beyond, the flap is as good as straight and μ stays
	stripPartMax = 0.5 // strip/L
	stripMassMin = 0.5 // mass ratio
	stripMassMax = 6
	stripSoftMax = 2    // 1 / rigidity ratio
	stripDrop    = 5e-4 // coefficients below this are left out
)

// stripNodes are the numbers of nodes in y, strip/L, mass ratio, softness.
var stripNodes = [4]int{12, 6, 6, 5}

// stripFrom maps −1..1 back to the four variables.
func stripFrom(x [4]float64) (y, part, mass, soft float64) {
	z := (x[0] + 1) / 2 * stripYMax / (stripYMax + stripScale)
	low, high := math.Sqrt(stripMassMin), math.Sqrt(stripMassMax)
	root := low + (x[2]+1)/2*(high-low)
	return stripScale * z / (1 - z), (x[1] + 1) / 2 * stripPartMax, root * root, (x[3] + 1) / 2 * stripSoftMax
}

// stripMass returns (μ − 1)/(strip/L).
func stripMass(y, part, mass, soft float64) (float64, error) {
	c := units.Length(math.Pow(y, 2.0/3))
	g := hang.RigidityFromBendingLength(c, 100)
	rigid := g * units.Rigidity(1/math.Max(soft, 1e-6))
	f, err := hang.Hang(hang.Flap{Segments: []hang.Segment{
		{Length: units.Length(1 - part), Rigidity: g, Mass: 100},
		{Length: units.Length(part), Rigidity: rigid, Mass: units.ArealMass(100 * mass)},
	}}, 0)
	if err != nil {
		return 0, err
	}
	// Find the uniform flap with the same stand-off, in ln y, by the Illinois rule.
	off := func(lnY float64) float64 {
		r, _, e := fall(math.Exp(lnY))
		if e != nil {
			err = e
		}
		return r - float64(f.StandOff)
	}
	a, b := math.Log(y)-2, math.Log(y)+2 // μ from 1/50 to 50
	fa, fb := off(a), off(b)
	m, side := a, 0
	for range 100 {
		last := m
		m = (a*fb - b*fa) / (fb - fa)
		fm := off(m)
		if fm == 0 || math.Abs(m-last) < 1e-11 {
			break
		}
		if fm < 0 {
			a, fa = m, fm
			if side < 0 {
				fb /= 2
			}
			side = -1
		} else {
			b, fb = m, fm
			if side > 0 {
				fa /= 2
			}
			side = 1
		}
	}
	if err != nil {
		return 0, err
	}
	e := math.Exp(m)
	return (y*y/(e*e) - 1) / part, nil
}

// stripTable writes the fit: rows along y, one for each product of degrees in the
// other three.
func stripTable(b *bytes.Buffer) error {
	fmt.Fprintf(b, "// Bounds of the strip table: y, strip/L, mass ratio, and 1 / rigidity ratio.\nconst (\n\tstripScale = %v\n\tstripYMax = %v\n\tstripPartMax = %v\n\tstripMassMin = %v\n\tstripMassMax = %v\n\tstripSoftMax = %v\n)\n\n",
		stripScale, stripYMax, stripPartMax, stripMassMin, stripMassMax, stripSoftMax)
	fmt.Fprintf(b, "// Numbers of degrees in y, strip/L, mass and softness.\nconst (\n\tstripYs = %d\n\tstripParts = %d\n\tstripMasses = %d\n\tstripSofts = %d\n)\n\n",
		stripNodes[0], stripNodes[1], stripNodes[2], stripNodes[3])
	g := stripGrid{n: stripNodes}
	g.val = make([]float64, g.n[0]*g.n[1]*g.n[2]*g.n[3])
	err := g.each(func(i [4]int) error {
		var x [4]float64
		for k := range x {
			x[k] = math.Cos(math.Pi * (float64(i[k]) + 0.5) / float64(g.n[k]))
		}
		y, part, mass, soft := stripFrom(x)
		v, err := stripMass(y, part, mass, soft)
		g.val[g.at(i)] = v
		return err
	})
	if err != nil {
		return err
	}
	for k := range g.n {
		g.transform(k)
	}
	g.write(b)
	return nil
}

// stripGrid holds a figure at each node of the four variables, and after all are
// transformed the coefficients of its Chebyshev series.
type stripGrid struct {
	n   [4]int
	val []float64
}

func (g stripGrid) at(i [4]int) int { return ((i[3]*g.n[2]+i[2])*g.n[1]+i[1])*g.n[0] + i[0] }

func (g stripGrid) each(do func(i [4]int) error) error {
	var i [4]int
	for i[3] = 0; i[3] < g.n[3]; i[3]++ {
		for i[2] = 0; i[2] < g.n[2]; i[2]++ {
			for i[1] = 0; i[1] < g.n[1]; i[1]++ {
				for i[0] = 0; i[0] < g.n[0]; i[0]++ {
					if err := do(i); err != nil {
						return err
					}
				}
			}
		}
	}
	return nil
}

// transform turns the figures along variable k into coefficients.
func (g *stripGrid) transform(k int) {
	stride := [4]int{1, g.n[0], g.n[0] * g.n[1], g.n[0] * g.n[1] * g.n[2]}[k]
	n := g.n[k]
	next := make([]float64, len(g.val))
	_ = g.each(func(i [4]int) error {
		base := g.at(i) - i[k]*stride
		s := 0.0
		for j := range n {
			s += g.val[base+j*stride] * math.Cos(math.Pi*float64(i[k])*(float64(j)+0.5)/float64(n))
		}
		s *= 2 / float64(n)
		if i[k] == 0 {
			s /= 2
		}
		next[g.at(i)] = s
		return nil
	})
	g.val = next
}

// write writes what matters: rows along the first variable, cut where the rest is small.
func (g stripGrid) write(b *bytes.Buffer) {
	var rows, coefs bytes.Buffer
	for a := range g.n[3] {
		for m := range g.n[2] {
			for p := range g.n[1] {
				base := g.at([4]int{0, p, m, a})
				last := 0
				for j := range g.n[0] {
					if math.Abs(g.val[base+j]) > stripDrop {
						last = j + 1
					}
				}
				if last == 0 {
					continue
				}
				fmt.Fprintf(&rows, "{%d, %d, %d, %d}, ", p, m, a, last)
				for j := range last {
					fmt.Fprintf(&coefs, "%.7g, ", g.val[base+j])
				}
				coefs.WriteByte('\n')
			}
		}
	}
	fmt.Fprintf(b, "// stripRows are the degrees in strip/L, mass, softness of each row of stripCoefs, and\n// how many coefficients in y it has.\nvar stripRows = [...][4]uint8{\n%s\n}\n\n", rows.String())
	fmt.Fprintf(b, "var stripCoefs = [...]float64{\n%s}\n", coefs.String())
}
