package cut

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// NeckRadius returns the radius at which the inner edge of a part circle has the
// girth of the neck or waist it goes round.
//
//	r = girth / φ
//
// Given: girth, the length of the inner edge along the seam line; φ, the angle of
// the whole piece: 360° a full circle, 180° a half, 90° a quarter.
//
// Valid: girth over 0; φ over 0 and at most 720° (two full circles).
// Accuracy: exact. The cloth stretches where the edge runs on the bias: a waist
// cut to the measure grows by some per cent (common practice: cut it smaller, or
// stay it).
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the length of an arc.
// Checked: reference_test.go, TestCirclesAgainstClosedForms.
func NeckRadius(girth units.Length, angle units.Angle) (units.Length, error) {
	if !(girth > 0) || math.IsInf(float64(girth), 0) {
		return 0, sizeFault("the girth", girth)
	}
	if err := angleFault(angle); err != nil {
		return 0, err
	}
	return girth / units.Length(float64(angle)*math.Pi/180), nil
}

// HemFromCircle returns the length of the hem of a part circle.
//
//	hem = φ · (r + length)
//
// Given: r, the radius of the inner edge, 0 where it comes to a point; length
// from there to the hem; φ as in [NeckRadius].
//
// Valid: r from 0; length over 0; φ over 0 and at most 720°.
// Accuracy: exact on paper; a bias part of the hem drops in hanging.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the length of an arc.
// Checked: reference_test.go, TestCirclesAgainstClosedForms.
func HemFromCircle(radius, length units.Length, angle units.Angle) (units.Length, error) {
	if !(radius >= 0) || math.IsInf(float64(radius), 0) {
		return 0, sizeFault("the radius", radius)
	}
	if !(length > 0) || math.IsInf(float64(length), 0) {
		return 0, sizeFault("the length", length)
	}
	if err := angleFault(angle); err != nil {
		return 0, err
	}
	return units.Length(float64(angle)*math.Pi/180) * (radius + length), nil
}

// ClothForCircle returns the narrowest cloth on which one part of a part circle
// can be laid, its straight edge along the cloth.
//
//	width = R·sin φ          up to 90°, R = r + length
//	width = R                from 90° to 180°
//	width = R·(1 − sin φ)    from 180° to 270°
//
// Given: r and length as in [HemFromCircle]; φ, the angle of one part.
//
// Valid: r from 0; length over 0; φ over 0 and at most 270°.
// Accuracy: exact, seam line to seam line; allowances come on top.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the box round a part of a ring.
// Checked: reference_test.go, TestCirclesAgainstClosedForms.
func ClothForCircle(radius, length units.Length, angle units.Angle) (units.Length, error) {
	if _, err := HemFromCircle(radius, length, angle); err != nil {
		return 0, err
	}
	if angle > 270 {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("one part of %s", angle), Expected: "at most 270°", Mend: "cut it in two parts"}
	}
	low, high := sectorOutline(float64(radius), float64(radius+length), float64(angle)*math.Pi/180).Box()
	return units.Length(high.X - low.X), nil
}

// RadiusIn writes a radius to draw an edge with: to the millimetre, or to the
// thirty-second of an inch, so that a full circle drawn with it comes out within an
// eighth (2π/64 in).
func RadiusIn(r units.Length, sys units.System) string {
	n := math.Round(float64(r/units.Inch) * 32)
	whole, part, of := math.Floor(n/32), int(n)%32, 32
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	inches := fmt.Sprintf("%.0f in", whole)
	switch {
	case part > 0 && whole == 0:
		inches = fmt.Sprintf("%d/%d in", part, of)
	case part > 0:
		inches = fmt.Sprintf("%.0f %d/%d in", whole, part, of)
	}
	return sys.Shown(r.Centimetres(), inches)
}

func angleFault(a units.Angle) error {
	if a > 0 && a <= 720 {
		return nil
	}
	f := &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the angle is %s", a), Expected: "over 0° and at most 720°", Mend: "360° is a full circle, 180° a half"}
	if math.IsNaN(float64(a)) {
		f.What = "the angle is not a number"
	}
	return f
}
