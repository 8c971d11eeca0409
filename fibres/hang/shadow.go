package hang

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Range is what is held of a figure: one in ten lies under Low, half under Typical,
// one in ten over High.
type Range struct{ Low, Typical, High float64 }

// UsualShear is the resistance to shear of woven cloth in N/m per radian where nothing is
// known of it: own judgement, loose cloth to firm.
var UsualShear = Range{7, 20, 60}

// sheetScatter is how far the sheet's drape coefficient lies from the measured one, in
// points: root mean square over ten cloths (docs/mechanics.md).
const sheetScatter = 13

// shearedLess and shearedMore are by how many points the drape coefficient of the sheet
// model moves with a quarter of the usual shear stiffness and with four times as much, at
// the bending lengths shearedAt in cm and 150 g/m².
// Source: own computation, fibres/drape, mean of two starts.
var (
	shearedAt   = [...]float64{1, 1.5, 2, 2.5, 3, 4, 5}
	shearedLess = [...]float64{-8.7, -3.6, -4.9, -3.4, -3.2, 0, -0.9}
	shearedMore = [...]float64{17.9, 7.5, 2.2, 4.6, 3.5, 0.3, 0.2}
)

// sheetSheared is the drape coefficient of the sheet model with a resistance to shear.
func sheetSheared(c units.Length, mass units.ArealMass, shear float64) float64 {
	x, by := float64(c), shearedLess[:]
	steps := math.Log(shear*150/float64(mass)/UsualShear.Typical) / math.Log(4)
	if steps > 0 {
		by = shearedMore[:]
	}
	last := len(shearedAt) - 1
	x = math.Max(shearedAt[0], math.Min(shearedAt[last], x))
	i := 0
	for i < last-1 && shearedAt[i+1] < x {
		i++
	}
	t := (x - shearedAt[i]) / (shearedAt[i+1] - shearedAt[i])
	moved := by[i] + t*(by[i+1]-by[i])
	return percent(DrapeCoefficientSheet(c) + moved*math.Min(2, math.Abs(steps)))
}

// StiffnessFromDrape returns what is held of a cloth's bending length in cm and of its
// resistance to shear in N/m per radian once its drape coefficient was read: of every
// pair of both, what was held before, times how well the sheet in three dimensions then
// falls as was read.
//
//	p(c, G | DC) ~ p(c) p(G) exp(−(DC − sheet(c, G / W))² / 2 (13² + e²))
//
// Given: the drape coefficient in per cent of a round of 30 cm over 18 cm and the reading's
// own error e in points; areal mass; what was held before of bending length and shear.
//
// Valid: 0 to 100 %, error 0 to 50, mass over 0, ranges over 0 and in order.
// Accuracy: 13 points are what the sheet was off by over ten cloths, root mean square; so
// a drape test by itself halves the doubt of a bending length, and hardly moves the shear.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Bayes' rule on a grid; own computation.
// Checked: property_test.go, TestStiffnessFromDrape.
func StiffnessFromDrape(coefficient, readingError float64, mass units.ArealMass, bending, shear Range) (Range, Range, error) {
	sound := coefficient >= 0 && coefficient <= 100 && readingError >= 0 && readingError <= 50 && mass > 0 && bending.sound() && shear.sound()
	if !sound {
		return Range{}, Range{}, &fault.Fault{Kind: fault.OutsideRange, Where: "drape", What: fmt.Sprintf("a drape coefficient of %v %% read to %v points, %v g/m2", coefficient, readingError, float64(mass)), Expected: "0 to 100 %, read to 50 points or better, of a cloth with a mass"}
	}
	cs, gs := bending.scores(), shear.scores()
	variance := sheetScatter*sheetScatter + readingError*readingError
	var ofC, ofG [gridSize]float64
	for i, c := range cs {
		for j, g := range gs {
			off := coefficient - sheetSheared(units.Length(c), mass, g)
			p := gridWeight(i) * gridWeight(j) * math.Exp(-off*off/(2*variance))
			ofC[i] += p
			ofG[j] += p
		}
	}
	return rangeOf(cs, ofC), rangeOf(gs, ofG), nil
}

// The grid: so many points, three standard deviations to either side.
const (
	gridSize  = 61
	gridReach = 3.0
	z90       = 1.2815515655446004 // of the normal distribution, one in ten beyond it
)

func gridScore(i int) float64 { return gridReach * (2*float64(i)/(gridSize-1) - 1) }

func gridWeight(i int) float64 { return math.Exp(-gridScore(i) * gridScore(i) / 2) }

func (r Range) sound() bool {
	return r.Low > 0 && r.Low <= r.Typical && r.Typical <= r.High && !math.IsInf(r.High, 0)
}

// scores are the figures at the points of the grid; the logarithm of what is held is normal on
// either side of the middle.
func (r Range) scores() (out [gridSize]float64) {
	for i := range out {
		z, side := gridScore(i), r.High
		if z < 0 {
			side = r.Low
		}
		out[i] = r.Typical * math.Exp(math.Abs(z)/z90*math.Log(side/r.Typical))
	}
	return out
}

// rangeOf reads the tenths and the half off weights at rising figures.
func rangeOf(at, weight [gridSize]float64) Range {
	sum := 0.0
	for _, w := range weight {
		sum += w
	}
	find := func(part float64) float64 {
		gone := 0.0
		for i, w := range weight {
			next := gone + w/sum
			if next >= part {
				if i == 0 {
					return at[0]
				}
				// Weights stand for the middle of their step.
				low, high := gone-weight[i-1]/sum/2, gone+w/sum/2
				t := math.Max(0, math.Min(1, (part-low)/(high-low)))
				if part > high && i < len(at)-1 {
					after := next + weight[i+1]/sum/2
					return at[i] + (at[i+1]-at[i])*(part-high)/(after-high)
				}
				return at[i-1] + (at[i]-at[i-1])*t
			}
			gone = next
		}
		return at[gridSize-1]
	}
	return Range{find(0.1), find(0.5), find(0.9)}
}
