package main

import (
	"bytes"
	"fmt"
	"math"

	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// fall solves a uniform level flap at y = (c/L)^1.5 and returns reach and drop
// as parts of its length.
func fall(y float64) (reach, drop float64, err error) {
	if y == 0 {
		return 0, 1, nil
	}
	c := units.Length(math.Pow(y, 2.0/3))
	g := hang.RigidityFromBendingLength(c, 100)
	f, err := hang.Hang(hang.Flap{Segments: []hang.Segment{{Length: 1, Rigidity: g, Mass: 100}}}, 0)
	return float64(f.StandOff), float64(f.Drop), err
}

// fallTable writes values and slopes of the uniform flap. The slopes come from
// central differences of the sixth order on the exact solution; at y = 0 they
// are √2 and −(2 − √2), the limits of a long flap.
func fallTable(b *bytes.Buffer) error {
	const last, nodes = 1.25, 251
	const step = last / (nodes - 1)
	fmt.Fprintf(b, "const (\n\tfallStep = %v\n\tfallNodes = %d\n)\n\n", step, nodes)
	fmt.Fprintf(b, "// fallTable holds reach/L, its slope times the step, drop/L, its slope times the\n// step, at y = (c/L)^1.5 = 0, fallStep, 2 fallStep …\n")
	fmt.Fprintf(b, "var fallTable = [fallNodes][4]float64{\n")
	for i := range nodes {
		y := step * float64(i)
		r, d, err := fall(y)
		if err != nil {
			return err
		}
		sr, sd := math.Sqrt2*step, -(2-math.Sqrt2)*step
		if i > 0 {
			h := step / 4
			var dr, dd [7]float64
			for j := -3; j <= 3; j++ {
				if dr[j+3], dd[j+3], err = fall(y + h*float64(j)); err != nil {
					return err
				}
			}
			sr, sd = slope(dr, h)*step, slope(dd, h)*step
		}
		fmt.Fprintf(b, "\t{%.14g, %.11g, %.14g, %.11g},\n", r, sr, d, sd)
	}
	fmt.Fprintf(b, "}\n\n")
	return nil
}

// slope is the central difference of the sixth order.
func slope(f [7]float64, h float64) float64 {
	return (45*(f[4]-f[2]) - 9*(f[5]-f[1]) + (f[6] - f[0])) / (60 * h)
}
