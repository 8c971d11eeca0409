package main

import (
	"math"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/fibres/hang"
	"tenter/fibres/units"
)

var grainKind = reckonKind{
	name: "grain", use: "grain --warp LENGTH --weft LENGTH --angle ANGLE", short: "bending length of a part cut off the straight grain",
	long: `The bending length along a line off the warp, as in a gore, a collar or a strip cut
on the bias: from those along warp and weft, and better along the bias too, if you
measured it. --angle is counted from the warp: 45 is the true bias, 90 the weft.`,
	example: `  tenter reckon grain --warp 2.6cm --weft 1.7cm --angle 45deg
  tenter reckon grain --warp 2.6cm --weft 1.7cm --bias 2.3cm --angle 20deg`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("warp", "", "bending length along the warp")
		f.String("weft", "", "bending length along the weft")
		f.String("bias", "", "bending length along the bias, if you measured it")
		f.String("angle", "", "angle of the line from the warp; 45 unless given")
	},
	run: runGrain,
}

func runGrain(q *given, _ []string) (*reckoned, error) {
	q.need("warp", "the bending length along the warp", "2.6cm")
	q.need("weft", "the bending length along the weft", "1.7cm")
	angle := units.Angle(45)
	if q.has("angle") {
		angle = q.angle("angle")
	}
	warp, weft, bias := q.length("warp"), q.length("weft"), q.length("bias")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	c, err := hang.OffGrain(warp, weft, bias, angle)
	if err != nil {
		return nil, err
	}
	r := &reckoned{
		Method:   "G = (cos² a / √Gwarp + sin² a / √Gweft)^-2, G being the bending length cubed",
		Valid:    "woven cloth; 0° (warp) to 90° (weft)",
		Accuracy: "without a measured bias, two cloths in three lie between low and high",
		Source:   "Peirce 1930, J. Textile Inst. 21, T377, and Cooper 1960, J. Textile Inst. 51, T317 (both from memory)",
		Sources:  []string{"peirce-1930"},
	}
	spread := math.Pow(hang.OffGrainFactor, math.Pow(math.Sin(2*float64(angle)*math.Pi/180), 2)) // none along warp and weft
	if bias > 0 {
		spread = 1
		r.Method = "G = Gwarp cos⁴ a + Gweft sin⁴ a + 2 J cos² a sin² a, G being the bending length cubed and J such that the bias comes out as measured"
		r.Accuracy = "as good as the three figures"
	}
	v := float64(c)
	r.add(derived("bending length, so far off the warp", v/spread, v, v*spread, "cm", "from its directions"))
	return r, nil
}
