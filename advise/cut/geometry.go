package cut

import (
	"math"

	"tenter/fibres/units"
)

// Geometry is what follows from the outline of a part.
type Geometry struct {
	Name      string       `json:"name"`
	Count     int          `json:"count"`
	Size      [2]float64   `json:"finished_cm"`
	Area      float64      `json:"area_cm2"`
	Perimeter float64      `json:"perimeter_cm"`
	Grain     string       `json:"grain"` // height, width, either or bias
	Edges     []EdgeLine   `json:"edges"`
	Corners   []CornerLine `json:"corners"`
	Outline   [][2]float64 `json:"outline"` // the seam line, cm
}

// EdgeLine is one edge of a part. Grain says how it runs: along the warp, across
// it, on the bias (30° to 60° off), off grain, or curved through several.
type EdgeLine struct {
	Name   string  `json:"name"`
	Role   Role    `json:"role"`
	Length float64 `json:"length_cm"`
	Radius float64 `json:"radius_cm,omitempty"`
	Inward bool    `json:"inward,omitempty"` // a hollow: clipped; an outward curve is notched
	Clips  int     `json:"clips,omitempty"`
	Grain  string  `json:"grain"`
}

// CornerLine is a corner between two edges, its angle measured inside the part.
type CornerLine struct {
	Between [2]string `json:"between"`
	Angle   float64   `json:"angle_deg"`
	Inward  bool      `json:"inward,omitempty"` // more than 180°: clipped to the stitching
}

// flatCurve is the radius beyond which an allowance lies flat unclipped, in cm
// (common practice).
const flatCurve = 60.0

// ClipsOnCurve returns how many clips or notches a curved seam allowance takes,
// and how far apart they are.
//
// The spacing goes from 6 mm on a curve of 3 cm radius and under to 13 mm at
// 20 cm; a curve of more than 60 cm radius wants none.
//
// Given: length of the curved edge; radius of the curve.
//
// Valid: both over 0.
// Accuracy: the spacing of 6 to 13 mm by how sharp the curve is, is published;
// which radius is how sharp is common practice.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: a school textbook on apparel, 2012, clipping (read).
// Checked: reference_test.go, TestClipsKeepThePublishedSpacing.
func ClipsOnCurve(length, radius units.Length) (n int, apart units.Length, err error) {
	for what, l := range map[string]units.Length{"the length": length, "the radius": radius} {
		if !(l > 0) || math.IsInf(float64(length), 0) {
			return 0, 0, sizeFault(what, l)
		}
	}
	if radius > flatCurve {
		return 0, 0, nil
	}
	const tight, gentle, least, most = 3.0, 20.0, 0.6, 1.3
	t := math.Max(0, math.Min(1, (float64(radius)-tight)/(gentle-tight)))
	apart = units.Length(least + (most-least)*t)
	return int(math.Ceil(float64(length/apart)-1e-9)) - 1, apart, nil
}

// GeometryOf works out edges, corners and area of a part.
func GeometryOf(p Part) Geometry {
	o := rectangle(float64(p.Width), float64(p.Height))
	if p.Outline != nil {
		o = *p.Outline
	}
	g := Geometry{Name: p.Name, Count: p.Count, Size: [2]float64{round4(float64(p.Width)), round4(float64(p.Height))}, Area: round4(o.Area()), Perimeter: round4(o.Perimeter()),
		Grain: string(p.Grain), Edges: []EdgeLine{}, Corners: []CornerLine{}}
	warp := Point{0, 1}
	switch p.Grain {
	case "":
		g.Grain = string(AlongHeight)
	case AlongWidth:
		warp = Point{1, 0}
	case OnBias:
		warp = Point{1, 1}.mul(math.Sqrt2 / 2)
	}
	n := len(o.Sides)
	for i, s := range o.Sides {
		e := EdgeLine{Name: s.Name, Role: s.Role, Length: round4(o.Length(i))}
		if e.Role == "" {
			e.Role = Seam
		}
		out, _ := o.tangents(i)
		e.Grain = runs(out, warp)
		if s.Bulge != 0 {
			e.Radius, e.Inward, e.Grain = round4(o.radius(i)), s.Bulge < 0, "curved"
			if k, _, err := ClipsOnCurve(units.Length(e.Length), units.Length(e.Radius)); err == nil && s.Role != Hem && s.Role != Fold {
				e.Clips = k
			}
		}
		g.Edges = append(g.Edges, e)
		_, in := o.tangents(i)
		next, _ := o.tangents((i + 1) % n)
		turn := math.Atan2(in.cross(next), in.dot(next)) * 180 / math.Pi
		if math.Abs(turn) > 1 {
			g.Corners = append(g.Corners, CornerLine{Between: [2]string{s.Name, o.Sides[(i+1)%n].Name}, Angle: math.Round((180-turn)*10) / 10, Inward: turn < 0})
		}
	}
	pts, _ := o.Polygon()
	for _, q := range thin(pts, 0.05) {
		g.Outline = append(g.Outline, [2]float64{round2(q.X), round2(q.Y)})
	}
	return g
}

// tangents are the directions in which side i sets out and arrives.
func (o Outline) tangents(i int) (out, in Point) {
	d := unit(o.Sides[i].To.sub(o.from(i)))
	half := sweep(o.Sides[i].Bulge) / 2
	return d.turn(-half), d.turn(half)
}

// runs says how a direction lies to the warp.
func runs(d, warp Point) string {
	a := math.Abs(math.Atan2(d.cross(warp), d.dot(warp)) * 180 / math.Pi)
	a = math.Min(a, 180-a)
	switch {
	case a < 3:
		return "along"
	case a > 87:
		return "across"
	case a >= 30 && a <= 60:
		return "bias"
	}
	return "off grain"
}
