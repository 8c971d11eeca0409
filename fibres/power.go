package fibres

import "math"

// power raises one number to many powers, as [math.Pow] does to the last bit, but takes its
// logarithm once: that is most of the work of a sample. It takes the steps of the library's
// own [math.Pow] (The Go Authors, BSD licence), which its test holds it to.
type power struct {
	x, ln float64
	half  float64 // x as a part of a power of two, from ½ to 1
	twos  int
}

func powerOf(x float64) power {
	p := power{x: x, ln: math.Log(x)}
	p.half, p.twos = math.Frexp(x)
	return p
}

// to is x to the power of y. What is out of the common way is left to [math.Pow].
func (p *power) to(y float64) float64 {
	whole, part := math.Modf(math.Abs(y))
	if part == 0 || part == 0.5 || whole > 2 || !(p.x > 1 && p.x < 1e30) {
		return math.Pow(p.x, y)
	}
	if part > 0.5 {
		part--
		whole++
	}
	out, twos := math.Exp(part*p.ln), 0
	half, by := p.half, p.twos
	for i := int(whole); i != 0; i >>= 1 {
		if i&1 == 1 {
			out *= half
			twos += by
		}
		half *= half
		by <<= 1
		if half < 0.5 {
			half += half
			by--
		}
	}
	if y < 0 {
		out, twos = 1/out, -twos
	}
	return math.Ldexp(out, twos)
}
