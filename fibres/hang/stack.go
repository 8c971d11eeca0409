package hang

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

// Layer is one sheet in one direction: its mass and its bending length.
type Layer struct {
	Mass          units.ArealMass
	BendingLength units.Length
}

// Rigidity returns the layer's flexural rigidity.
func (l Layer) Rigidity() units.Rigidity { return RigidityFromBendingLength(l.BendingLength, l.Mass) }

// StackFree returns the one layer that hangs as a stack of loose layers does:
// each bends by itself and slides on the next.
//
//	G = Σ Gi, W = Σ Wi, so c³ = Σ Wi ci³ / Σ Wi
//
// Given: the layers, in any order; none is changed.
//
// Valid: masses over 0, bending lengths 0 or more. A stack of no layers is the zero layer.
// Accuracy: the lower bound for a real stack: friction and folded edges raised c
// by 4 to 22 % when four cloths were folded once.
// Errors: none; NaN where a figure is negative or NaN.
// Source: sum of weights and rigidities; own derivation.
// Checked: reference_test.go, TestStacks.
func StackFree(layers ...Layer) Layer {
	var w, g float64
	for _, l := range layers {
		if !(l.Mass > 0 && l.BendingLength >= 0) {
			return Layer{units.ArealMass(math.NaN()), units.Length(math.NaN())}
		}
		w += float64(l.Mass)
		g += float64(l.Mass) * cube(l.BendingLength)
	}
	if w == 0 {
		return Layer{}
	}
	return Layer{units.ArealMass(w), units.Length(math.Cbrt(g / w))}
}

// StackJoined returns the bounds of a stack whose layers are held to each other:
// low, where they still slide; high, where the given part of the bond holds.
//
//	G(low) = Σ Gi,  G(full) = (Σ Gi^(1/3))³,  G(high) = G(low) + bond · (G(full) − G(low))
//
// G(full) is that of one solid sheet as thick as all of them, when each layer is
// solid and of one stuff; two alike become 8 times as rigid, c 1.587 times.
//
// Given: bond, 0 for layers that slide to 1 for layers glued all over ([Joint.Bond]
// gives customary figures); the layers, in any order; none is changed.
//
// Valid: bond 0 to 1, masses over 0, bending lengths 0 or more.
// Accuracy: bounds, not a figure. Where thickness and membrane stiffness are
// known, [Bonded] is better: cloth resists stretch more than its bending tells.
// Errors: none; NaN where a figure is out of range.
// Source: theory of laminated beams (from memory), own derivation for layers of
// one stuff.
// Checked: reference_test.go, TestStacks.
func StackJoined(bond float64, layers ...Layer) (low, high Layer) {
	low = StackFree(layers...)
	high = low
	if !(bond >= 0 && bond <= 1) {
		high.BendingLength = units.Length(math.NaN())
		return low, high
	}
	if low.Mass == 0 || bond == 0 {
		return low, high
	}
	var root float64
	for _, l := range layers {
		root += math.Cbrt(float64(l.Mass)) * float64(l.BendingLength)
	}
	free := float64(low.Mass) * cube(low.BendingLength)
	high.BendingLength = units.Length(math.Cbrt((free + bond*(root*root*root-free)) / float64(low.Mass)))
	return low, high
}

// Joint is how the layers of a stack are held to each other.
type Joint int

// The joints, from the loosest to the firmest.
const (
	Free    Joint = iota // hung together, nowhere sewn
	Edge                 // sewn together along the edges, as a bagged lining
	Quilted              // sewn together in lines over the whole
	Fused                // glued over the whole
)

// Bond returns which part of the full bond a joint gives: low, typical, high.
//
// Folding a cloth once (two layers, joined along the fold, with their friction)
// raised c by 4.5 to 21.4 %, 11.5 % in the mean, over four cloths: 0.05, 0.13 and
// 0.26 of the full bond. That is taken for [Edge]. The figures for [Quilted] and
// [Fused] are common practice, not measured.
func (j Joint) Bond() (low, typical, high float64) {
	switch j {
	case Edge:
		return 0, 0.13, 0.26
	case Quilted:
		return 0.1, 0.3, 0.6
	case Fused:
		return 0.4, 0.8, 1
	}
	return 0, 0, 0.05
}

// Stack returns a stack of layers held so: low, typical and high by [Joint.Bond].
//
// Given: the joint; the layers, in any order; none is changed.
//
// Valid: as [StackJoined].
// Accuracy: as the bonds: measured for [Edge] only, on four cloths.
// Errors: none; NaN where a figure is out of range.
// Source: [StackJoined] and [Joint.Bond].
// Checked: reference_test.go, TestJoinedLayersAgainstMeasured.
func Stack(j Joint, layers ...Layer) (low, typical, high Layer) {
	l, t, h := j.Bond()
	_, low = StackJoined(l, layers...)
	_, typical = StackJoined(t, layers...)
	_, high = StackJoined(h, layers...)
	return low, typical, high
}

// Ratios are the rigidity and mass of an edge strip as multiples of the body's.
type Ratios struct {
	Rigidity, Mass float64
}

// EdgeStrip returns what a strip along the edge weighs and resists, as multiples
// of the body beside it: free, where its layers slide; stitched, where they are
// held as one sheet.
//
// Given: the body as one layer ([StackFree] makes one of several); the layers that
// lie in the strip, body and allowances alike.
//
// Valid: as [StackFree], and a body of some rigidity.
// Accuracy: bounds. A pressed, topstitched edge lies between.
// Errors: none; NaN where a figure is out of range.
// Source: own derivation.
// Checked: reference_test.go, TestStacks.
func EdgeStrip(body Layer, strip ...Layer) (free, stitched Ratios) {
	low, high := StackJoined(1, strip...)
	m := float64(low.Mass / body.Mass)
	b := cube(body.BendingLength)
	free = Ratios{m * cube(low.BendingLength) / b, m}
	stitched = Ratios{m * cube(high.BendingLength) / b, m}
	return free, stitched
}

// Sheet is a layer whose thickness and resistance to stretch are known too:
// Thickness, and Membrane in newtons per metre of width.
type Sheet struct {
	Layer
	Thickness units.Length
	Membrane  float64
}

// Bonded returns two sheets glued to each other.
//
//	G = G1 + G2 + e d² A1 A2 / (A1 + A2),  d = (t1 + t2) / 2
//
// Given: bond e from 0, sliding, to 1, glued all over; the two sheets, with
// thickness t and membrane stiffness A along the strip.
//
// Valid: bond 0 to 1, masses, thicknesses and membrane stiffnesses over 0, bending lengths 0 or more.
// Accuracy: an upper bound at e = 1. Cloth resists stretch far more than a solid
// sheet of its bending stiffness would, so this may lie far above [StackJoined].
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: theory of laminated beams (from memory).
// Checked: reference_test.go, TestStacks.
func Bonded(bond float64, a, b Sheet) (Layer, error) {
	if !(bond >= 0 && bond <= 1) {
		return Layer{}, outside("bond", fmt.Sprintf("it is %v", bond), "0 (slides) to 1 (glued all over)", "Joint.Bond gives customary figures")
	}
	for i, s := range []Sheet{a, b} {
		if !positive(float64(s.Mass)) || !positive(float64(s.Thickness)) || !positive(s.Membrane) ||
			!(s.BendingLength >= 0) || math.IsInf(float64(s.BendingLength), 0) {
			return Layer{}, outside(fmt.Sprintf("sheet %d", i+1), "a figure of it is not over 0", "mass, thickness, membrane stiffness over 0, bending length 0 or more",
				"where thickness or stretch is not known, StackJoined gives bounds")
		}
	}
	free := StackFree(a.Layer, b.Layer)
	d := float64(a.Thickness+b.Thickness) / 2 / 100
	extra := bond * d * d * a.Membrane * b.Membrane / (a.Membrane + b.Membrane) * 1e6 // µN·m
	c, err := BendingLengthFromRigidity(free.Rigidity()+units.Rigidity(extra), free.Mass)
	return Layer{free.Mass, c}, err
}
