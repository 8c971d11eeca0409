package fibres

import (
	"fmt"
	"math"
)

// Readings is what repeated readings of one cloth say of a property.
type Readings struct {
	Estimate
	Count  int
	Spread float64 // standard deviation of the readings, in ln or in the unit
}

// customaryWeight is for how many readings the customary spread counts: without
// it two readings that agree by luck would claim to know.
const customaryWeight = 4

// Pool takes readings of one figure together: their mean, half of the interval that holds
// eight in ten, and their own scatter.
func Pool(values []float64, customary, reading float64) (mean, half, spread float64) {
	n := float64(len(values))
	for _, v := range values {
		mean += v / n
	}
	squares := 0.0
	for _, v := range values {
		squares += (v - mean) * (v - mean)
	}
	if n > 1 {
		spread = math.Sqrt(squares / (n - 1))
	}
	freedom := customaryWeight + n - 1
	s := math.Sqrt((customaryWeight*customary*customary + squares) / freedom)
	t := student(freedom)
	return mean, math.Sqrt(t*t*s*s/n + reading*reading), spread
}

// FromReadings pools readings of one figure of one cloth.
//
//	s²   = (4 customary² + Σ (x − mean)²) / (4 + n − 1)
//	half = √((t s)² / n + reading²),   t of Student, 10 % each side
//
// Given: readings in the unit of the property; the spread that strips or squares
// of one cloth customarily have, and what one reading may be out by, which does
// not average out since the same scale and ruler serve. Mass and thickness are
// pooled in ln, the two errors then being parts of one; shrinkage in points.
//
// Valid: at least one reading; those in ln over 0. Otherwise the estimate is
// unknown.
// Source: ordinary statistics; customary spreads are common practice.
// Checked: readings_test.go, TestReadingsHoldTheTruth.
func FromReadings(p Property, values []float64, customary, reading float64, because string) Readings {
	ln := p != ShrinkWarp && p != ShrinkWeft
	out := Readings{Estimate: unknown(p, "no reading"), Count: len(values)}
	if len(values) == 0 {
		return out
	}
	at := make([]float64, len(values))
	for i, v := range values {
		if ln {
			if !(v > 0) {
				return out
			}
			v = math.Log(v)
		}
		at[i] = v
	}
	mean, half, spread := Pool(at, customary, reading)
	out.Spread = spread
	lo, hi := mean-half, mean+half
	if ln {
		mean, lo, hi = math.Exp(mean), math.Exp(lo), math.Exp(hi)
	}
	if because == "" {
		because = fmt.Sprintf("your readings, %d of them", len(values))
	}
	out.Estimate = Figure(p, lo, mean, hi, Measured, because)
	return out
}

// student is the 90th percentile of Student's distribution, by the expansion in
// 1/freedom round the normal one; within 0.002 from 4 degrees on.
func student(freedom float64) float64 {
	z := z90
	z3, z5 := z*z*z, z*z*z*z*z
	return z + (z3+z)/(4*freedom) + (5*z5+16*z3+3*z)/(96*freedom*freedom) +
		(3*z5*z*z+19*z5+17*z3-15*z)/(384*freedom*freedom*freedom)
}

// Part is which part of a population lies below a figure: 0.7 where seven
// cloths in ten sold under the name have less. ok is false where nothing is
// known of the population.
func (e Estimate) Part(v float64) (part float64, ok bool) {
	switch {
	case !e.Known():
		return 0, false
	case len(e.Words) == 3: // the levels below it, and half of its own
		below, own := 0.0, 0.0
		const n = 1000
		for i := range n {
			switch l := math.Round(e.linear((float64(i) + 0.5) / n)); {
			case l < v:
				below++
			case l == v:
				own++
			}
		}
		return (below + own/2) / n, true
	case e.Low == e.High:
		switch {
		case v < e.Low:
			return 0, true
		case v > e.Low:
			return 1, true
		}
		return 0.5, true
	}
	return normalCDF(e.z(v)), true
}
