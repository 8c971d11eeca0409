package cut_test

import (
	"fmt"

	"tenter/advise/cut"
	"tenter/fibres/units"
)

func ExampleNeckRadius() {
	r, _ := cut.NeckRadius(44, 180) // the mayor's half-circle cape
	fmt.Println(r.Centimetres())
	// Output: 14 cm
}

func ExampleHemFromCircle() {
	h, _ := cut.HemFromCircle(14, 96, 180)
	fmt.Println(h.Centimetres())
	// Output: 345.6 cm
}

func ExampleClothForCircle() {
	w, _ := cut.ClothForCircle(14, 96, 90) // one of its two halves
	fmt.Println(w.Centimetres())
	// Output: 110 cm
}

func ExampleClipsOnCurve() {
	n, apart, _ := cut.ClipsOnCurve(22, 14)
	fmt.Println(n, apart.Millimetres())
	// Output: 20 11 mm
}

func ExampleThreadFromGeometry() {
	// Cloth 0.01 in thick, 10 stitches to the inch.
	r, _ := cut.ThreadFromGeometry(cut.Lockstitch, 0.01*units.Inch, units.Inch/10)
	fmt.Printf("%.1f times the seam\n", r)
	// Output: 2.2 times the seam
}

func ExampleThreadFromRatio() {
	r, needle, _ := cut.ThreadFromRatio(cut.Overedge3)
	fmt.Println(r, needle)
	// Output: 14 0.2
}

func ExampleThreadFromUnpicking() {
	// 15 cm of chain stitch gave 19.5 cm of needle and 62 cm of looper thread.
	l, _ := cut.ThreadFromUnpicking(100, 15, 19.5, 62, 0.15)
	fmt.Println(l.Centimetres())
	// Output: 624.8 cm
}

func ExampleThreadOnBobbin() {
	l, _ := cut.ThreadOnBobbin(1.4, 27)
	fmt.Println(l.In(units.Metric))
	// Output: 51.9 m
}

func ExampleBindingWidth() {
	w, _ := cut.BindingWidth(0.8, 0.1, cut.SingleBinding)
	fmt.Println(w.Millimetres())
	// Output: 33 mm
}

func ExampleBiasFromSquare() {
	b, _ := cut.BiasFromSquare(50, 4, 0.6, true)
	fmt.Println(b.Length.In(units.Metric), b.Strips, b.Joins)
	// Output: 552 cm 8 15
}

func ExampleSquareForBias() {
	a, _ := cut.SquareForBias(380, 4, 0.6, false)
	fmt.Println(a.Centimetres())
	// Output: 40.5 cm
}

func ExampleCurveForBinding() {
	r, _ := cut.CurveForBinding(0.8, 0.12, false)
	fmt.Println(r.Centimetres())
	// Output: 7.5 cm
}

func ExampleDropsForCurtain() {
	d, _ := cut.DropsForCurtain(300, 2, 20, 137, 220, 25, 64)
	fmt.Println(d.Widths, d.Length.Centimetres(), "a shop:", d.Shop.Centimetres())
	// Output: 5 1269 cm a shop: 1280 cm
}

func ExampleRunningMass() {
	g, _ := cut.RunningMass(270, 150)
	fmt.Println(g)
	// Output: 405
}

func ExampleArealFromRunning() {
	m, _ := cut.ArealFromRunning(405, 150)
	fmt.Println(m)
	// Output: 270 g/m2
}

func ExampleLongestCircle() {
	l, _ := cut.LongestCircle(140, 11.1, 90)
	fmt.Println(l.Centimetres())
	// Output: 128.9 cm
}

func ExampleLongestBias() {
	l, _ := cut.LongestBias(50, 4)
	fmt.Println(l.Centimetres())
	// Output: 66.7 cm
}

func ExampleBiasWithoutLoss() {
	l, _ := cut.BiasWithoutLoss(50, 4)
	fmt.Println(l.Centimetres())
	// Output: 625 cm
}

func ExampleParting() {
	edge := cut.LongEdge{Part: "cape", Length: 110, Direction: "along"}
	fmt.Println(cut.Parting(edge, cut.Loss{Warp: []float64{4}}, cut.Loss{Warp: []float64{7}}))
	// Output: [33]
}

func ExampleNeedleUS() {
	fmt.Println(cut.NeedleUS(90))
	// Output: 14
}

func ExampleNeedleMetric() {
	fmt.Println(cut.NeedleMetric(14))
	// Output: 90
}
