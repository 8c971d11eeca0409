package drape

import "math"

// Vec is a place or a direction in metres: x to the right, y away, z up.
type Vec [3]float64

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Sub returns a − b.
func (a Vec) Sub(b Vec) Vec { return Vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// Mul returns k a.
func (a Vec) Mul(k float64) Vec { return Vec{k * a[0], k * a[1], k * a[2]} }

// Dot returns the scalar product.
func (a Vec) Dot(b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// Cross returns the vector product.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Len returns the length.
func (a Vec) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Unit returns the direction of a, and a itself where it is 0.
func (a Vec) Unit() Vec {
	if l := a.Len(); l > 0 {
		return a.Mul(1 / l)
	}
	return a
}
