package yarn_test

import (
	"fmt"

	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

func ExampleLinearDensityFromCount() {
	c, _ := yarn.ParseCount("Ne 60/2")
	d, _ := yarn.LinearDensityFromCount(c)
	fmt.Println(d)
	// Output: 19.6847 tex
}

func ExampleCountFromLinearDensity() {
	c, _ := yarn.CountFromLinearDensity(27, yarn.Metric)
	fmt.Println(c)
	// Output: Nm 37.037
}

func ExampleConvertCount() {
	c, _ := yarn.ConvertCount(yarn.Count{Single: 150, System: yarn.Denier}, yarn.Dtex)
	fmt.Println(c)
	// Output: 166.667 dtex
}

var warp, weft = yarn.Threads{Sett: 52.4, Yarn: 14.76, Crimp: 0.08}, yarn.Threads{Sett: 28.3, Yarn: 14.76, Crimp: 0.04}

func ExampleArealMassFromSett() {
	w, _ := yarn.ArealMassFromSett(warp, weft)
	fmt.Println(w.In(units.Both))
	// Output: 127 g/m2 (3.7 oz/yd2)
}

func ExampleArealMassFromRunningMass() {
	w, _ := yarn.ArealMassFromRunningMass(300, 150)
	fmt.Println(w)
	// Output: 200 g/m2
}

func ExampleArealMassFromSample() {
	w, _ := yarn.ArealMassFromSample(1.85, 100)
	fmt.Println(w)
	// Output: 185 g/m2
}

func ExampleCoverFactor() {
	k, _ := yarn.CoverFactor(warp)
	fmt.Printf("%.1f\n", k)
	// Output: 21.0
}

func ExampleClothCover() {
	k, _ := yarn.ClothCover(21.043, 11.365)
	fmt.Printf("%.3f\n", k)
	// Output: 23.867
}

func ExampleOpenShareFromCover() {
	open, _ := yarn.OpenShareFromCover(23.867)
	fmt.Println(open.In(units.Metric))
	// Output: 15 %
}

func ExampleShowThroughFromOpenShare() {
	low, typical, high, _ := yarn.ShowThroughFromOpenShare(0.15)
	in := yarn.ShowThroughWords
	fmt.Println(in[low], in[typical], in[high])
	// Output: none low medium
}

// blend is 65 % polyester and 35 % cotton, with the EU allowances.
var blend = []yarn.Part{{Share: 0.65, Allowance: 0.015}, {Share: 0.35, Allowance: 0.085}}

func ExampleAllowanceSharesFromDry() {
	s, _ := yarn.AllowanceSharesFromDry(blend)
	fmt.Println(s)
	// Output: [63.468 % 36.532 %]
}

func ExampleDrySharesFromAllowance() {
	s, _ := yarn.DrySharesFromAllowance(blend)
	fmt.Println(s)
	// Output: [66.5017 % 33.4983 %]
}

func ExampleBlendDensity() {
	d, _ := yarn.BlendDensity([]yarn.Dense{{Share: 0.65, Density: 1.39}, {Share: 0.35, Density: 1.52}})
	fmt.Printf("%.4f\n", d)
	// Output: 1.4329
}

func ExampleVolumeShares() {
	v, _ := yarn.VolumeShares([]yarn.Dense{{Share: 0.65, Density: 1.39}, {Share: 0.35, Density: 1.52}})
	fmt.Println(v)
	// Output: [67.0058 % 32.9942 %]
}

func ExampleWithinLabelTolerance() {
	ok, most, _ := yarn.WithinLabelTolerance([]units.Fraction{0.6, 0.4}, []units.Fraction{0.569, 0.431})
	fmt.Println(ok, most)
	// Output: false 3.1 %
}

func ExamplePressingLimit() {
	cotton, elastane := yarn.Limit{Known: true, Iron: true, Celsius: 200}, yarn.Limit{Known: true, Iron: true, Celsius: 110}
	l, _ := yarn.PressingLimit([]yarn.Pressed{{Share: 0.97, Limit: cotton}, {Share: 0.03, Limit: elastane}})
	fmt.Println(l)
	// Output: 110 °C
}

func ExampleFuseInto() {
	wool := yarn.Limit{Known: true, Iron: true, Celsius: 150}
	f, _ := yarn.FuseInto(wool, units.Range[units.Temperature]{Low: 130, High: 160})
	fmt.Println(f.Possible, f.At.In(units.Metric))
	// Output: true 130 to 150 °C
}

func ExampleParseLiftPlan() {
	satin, _ := yarn.ParseLiftPlan("11110;10111;11101;01111;11011")
	fmt.Println(satin.CrossingFirmness(), satin.Floats().LongestFace())
	// Output: 0.8 4
}

func ExampleTicketFromLinearDensity() {
	n, _ := yarn.TicketFromLinearDensity(25, yarn.MetricTicket)
	fmt.Println(n)
	// Output: 120
}

func ExampleLinearDensityFromTicket() {
	d, _ := yarn.LinearDensityFromTicket(120, yarn.MetricTicket)
	fmt.Println(d)
	// Output: 25 tex
}

func ExampleDiametersPerInch() {
	n, _ := yarn.DiametersPerInch(147.635, 0.9)
	fmt.Printf("%.0f\n", n)
	// Output: 52
}
