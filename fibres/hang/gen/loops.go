package main

import (
	"bytes"
	"fmt"
	"math"
)

// Loops are hung with both ends of a strip in one clamp. Half the loop is
// solved, its length 1: with t from the bottom, ψ the direction of the cloth and
// p = (half length / c)³,
//
//	ψ'' = p t cos ψ + H sin ψ
//
// from ψ = −π at the bottom to the clamp angle, where the cloth is back on the
// middle line. The unknowns are the curvature at the bottom and the pull H.
var loopStart = map[string]float64{"heart": math.Pi / 2, "ring": 0, "pear": -math.Pi / 2}

const (
	loopMax   = 12.0 // greatest strip/c
	loopNodes = 49
	loopSteps = 1000
)

// loopMarch carries a half loop from the bottom up, by the classical fourth-order rule,
// and returns direction, sideways place and height at the clamp.
func loopMarch(p, curvature, pull float64) (psi, x, y float64) {
	h := 1.0 / loopSteps
	s := [4]float64{-math.Pi, curvature, 0, 0}
	slope := func(t float64, s [4]float64) [4]float64 {
		sin, cos := math.Sincos(s[0])
		return [4]float64{s[1], p*t*cos + pull*sin, -cos, -sin}
	}
	move := func(s, k [4]float64, h float64) [4]float64 {
		for i := range s {
			s[i] += h * k[i]
		}
		return s
	}
	for i := range loopSteps {
		t := float64(i) * h
		a := slope(t, s)
		b := slope(t+h/2, move(s, a, h/2))
		c := slope(t+h/2, move(s, b, h/2))
		d := slope(t+h, move(s, c, h))
		for j := range s {
			s[j] += h / 6 * (a[j] + 2*b[j] + 2*c[j] + d[j])
		}
	}
	return s[0], s[2], s[3]
}

// loopHeight returns clamp-to-bottom height over strip length; guess holds
// curvature and pull and is moved to the solution.
func loopHeight(start, stripOverC float64, guess *[2]float64) (float64, error) {
	p := math.Pow(stripOverC/2, 3)
	miss := func(q [2]float64) [2]float64 {
		psi, x, _ := loopMarch(p, q[0], q[1])
		return [2]float64{psi - start, x}
	}
	q := *guess
	for range 60 {
		f := miss(q)
		if math.Hypot(f[0], f[1]) < 1e-12 {
			break
		}
		d := 1e-6
		f0 := miss([2]float64{q[0] + d, q[1]})
		f1 := miss([2]float64{q[0], q[1] + d})
		a, b := (f0[0]-f[0])/d, (f1[0]-f[0])/d
		c, e := (f0[1]-f[1])/d, (f1[1]-f[1])/d
		det := a*e - b*c
		dx, dy := (e*f[0]-b*f[1])/det, (a*f[1]-c*f[0])/det
		cut := math.Max(1, math.Max(math.Abs(dx)/2, math.Abs(dy)/20))
		q[0] -= dx / cut
		q[1] -= dy / cut
	}
	if f := miss(q); !(math.Hypot(f[0], f[1]) < 1e-9) {
		return 0, fmt.Errorf("loop at strip/c = %v does not close: %v", stripOverC, f)
	}
	*guess = q
	_, _, y := loopMarch(p, q[0], q[1])
	return y / 2, nil
}

func loopTable(b *bytes.Buffer) error {
	step := loopMax / (loopNodes - 1)
	fmt.Fprintf(b, "const (\n\tloopStep = %v\n\tloopNodes = %d\n)\n\n", step, loopNodes)
	fmt.Fprintf(b, "// loopTable holds, for heart, ring and pear, the height over the strip length and its\n// slope times the step, at strip/c = 0, loopStep, 2 loopStep …\n")
	fmt.Fprintf(b, "var loopTable = [3][loopNodes][2]float64{\n")
	for _, kind := range []string{"heart", "ring", "pear"} {
		start := loopStart[kind]
		// Counted from the bottom, ψ turns from −π up to the clamp's angle.
		guess := [2]float64{start + math.Pi, 0}
		before := guess
		const fine = 4 // solutions per node, for the slopes
		var h [fine*(loopNodes-1) + 4]float64
		for i := range h {
			last := guess
			if i > 1 { // go on in a straight line from the last two
				guess = [2]float64{2*last[0] - before[0], 2*last[1] - before[1]}
			}
			before = last
			v, err := loopHeight(start, float64(i)*step/fine, &guess)
			if err != nil {
				return fmt.Errorf("%s: %w", kind, err)
			}
			h[i] = v
		}
		fmt.Fprintf(b, "\t{\n")
		for i := range loopNodes {
			slopeHere := 0.0 // the height rises as (strip/c)³ at first
			if j := i * fine; i > 0 {
				slopeHere = slope([7]float64(h[j-3:j+4]), step/fine) * step
			}
			fmt.Fprintf(b, "\t\t{%.12g, %.10g},\n", h[i*fine], slopeHere)
		}
		fmt.Fprintf(b, "\t},\n")
	}
	fmt.Fprintf(b, "}\n\n")
	return nil
}
