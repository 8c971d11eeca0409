package hang_test

import (
	"fmt"

	"tenter/fibres/hang"
	"tenter/fibres/units"
)

func ExampleRigidityFromBendingLength() {
	g := hang.RigidityFromBendingLength(2, 150)
	fmt.Printf("%.3f µN·m, %.0f mg·cm\n", float64(g), float64(g/units.MilligramCm))
	// Output: 11.768 µN·m, 120 mg·cm
}

// The closed form reads high where the droop is large; half the overhang is right.
func ExampleBendingLengthFromClosedForm() {
	c, _ := hang.BendingLengthFromClosedForm(7, 41.5)
	fmt.Printf("%.2f cm\n", float64(c))
	// Output: 3.57 cm
}

func ExampleBendingLengthFromElastica() {
	c, _ := hang.BendingLengthFromElastica(7, 41.5)
	fmt.Printf("%.2f cm\n", float64(c))
	// Output: 3.50 cm
}

func ExampleBendingLengthFromDrop() {
	c, _ := hang.BendingLengthFromDrop(10, 5)
	fmt.Printf("%.2f cm\n", float64(c))
	// Output: 5.82 cm
}

func ExampleBendingLengthFromFixedAngle() {
	c, _ := hang.BendingLengthFromFixedAngle(4.4)
	fmt.Printf("%.1f cm\n", float64(c))
	// Output: 2.2 cm
}

// A limp crêpe for the village theatre's curtain tie: 6 cm of it as a heart.
func ExampleBendingLengthFromLoop() {
	c, _ := hang.BendingLengthFromLoop(hang.Heart, 6, 1.4)
	fmt.Printf("%.2f cm\n", float64(c))
	// Output: 0.97 cm
}

func ExampleLoopHeight() {
	h, _ := hang.LoopHeight(hang.Heart, 6, 1)
	fmt.Printf("%.2f cm\n", float64(h))
	// Output: 1.37 cm
}

// Four strips of the theatre's grey cloak cloth, two each way.
func ExampleFromReadings() {
	i, _ := hang.FromReadings([]hang.Reading{
		{Test: hang.FixedAngle, Length: 5.2, Direction: hang.Warp, Face: hang.RightSide},
		{Test: hang.FixedAngle, Length: 5.0, Direction: hang.Warp, Face: hang.WrongSide},
		{Test: hang.FixedAngle, Length: 4.4, Direction: hang.Weft, Face: hang.RightSide},
		{Test: hang.FixedAngle, Length: 4.3, Direction: hang.Weft, Face: hang.WrongSide},
	})
	fmt.Printf("%.2f cm (%.2f to %.2f)\n", float64(i.Typical), float64(i.Low), float64(i.High))
	// Output: 2.36 cm (2.19 to 2.54)
}

func ExampleOverallFromOne() {
	i, _ := hang.OverallFromOne(hang.Warp, hang.Interval{Low: 2.3, Typical: 2.5, High: 2.7})
	fmt.Printf("%.2f cm (%.2f to %.2f)\n", float64(i.Typical), float64(i.Low), float64(i.High))
	// Output: 2.34 cm (1.98 to 2.77)
}

func ExampleWithoutReading() {
	i, _ := hang.WithoutReading(120)
	fmt.Printf("%.2f cm (%.2f to %.2f)\n", float64(i.Typical), float64(i.Low), float64(i.High))
	// Output: 1.82 cm (1.27 to 2.53)
}

func ExampleOverall() {
	c, _ := hang.Overall(2.6, 2.2)
	fmt.Printf("%.2f cm\n", float64(c))
	// Output: 2.39 cm
}

func ExampleOffGrain() {
	c, _ := hang.OffGrain(2.6, 2.2, 0, 45)
	fmt.Printf("%.2f cm, give or take a factor of %.2f\n", float64(c), hang.OffGrainFactor)
	// Output: 2.38 cm, give or take a factor of 1.17
}

// A cloak lined in silk: the lining pulls the shell's stiffness down.
func ExampleStackFree() {
	s := hang.StackFree(hang.Layer{Mass: 200, BendingLength: 2.5}, hang.Layer{Mass: 70, BendingLength: 1.5})
	fmt.Printf("%.0f g/m², %.3f cm\n", float64(s.Mass), float64(s.BendingLength))
	// Output: 270 g/m², 2.318 cm
}

func ExampleStackJoined() {
	l := hang.Layer{Mass: 150, BendingLength: 2}
	low, high := hang.StackJoined(1, l, l)
	fmt.Printf("%.2f to %.2f cm\n", float64(low.BendingLength), float64(high.BendingLength))
	// Output: 2.00 to 3.17 cm
}

func ExampleStack() {
	l := hang.Layer{Mass: 150, BendingLength: 2}
	low, typical, high := hang.Stack(hang.Edge, l, l)
	fmt.Printf("%.2f, %.2f, %.2f cm\n", float64(low.BendingLength), float64(typical.BendingLength), float64(high.BendingLength))
	// Output: 2.00, 2.23, 2.42 cm
}

// The front edge of a cape: 25 cm of cloth with a 3 cm hem of two layers.
func ExampleHang() {
	g := hang.RigidityFromBendingLength(2.4, 250)
	f, _ := hang.Hang(hang.Flap{Clamp: 10, Segments: []hang.Segment{
		{Length: 22, Rigidity: g, Mass: 250},
		{Length: 3, Rigidity: 2 * g, Mass: 500},
	}}, 0)
	fmt.Printf("stands off %.1f cm, drops %.1f cm, ends at %.1f°\n", float64(f.StandOff), float64(f.Drop), float64(f.EndAngle))
	// Output: stands off 0.9 cm, drops 24.7 cm, ends at 90.0°
}

func ExampleStandOff() {
	fmt.Printf("%.2f cm\n", float64(hang.StandOff(10, 2)))
	// Output: 1.40 cm
}

func ExampleStandOffStrip() {
	fmt.Printf("%.2f cm\n", float64(hang.StandOffStrip(10, 2, 1.2, 3, 2)))
	// Output: 1.29 cm
}

func ExampleFoldWidth() {
	low, typical, high := hang.FoldWidth(2, 100)
	fmt.Printf("about %.0f cm, %.0f to %.0f\n", float64(typical), float64(low), float64(high))
	// Output: about 19 cm, 9 to 38
}

func ExampleFoldCount() {
	low, high := hang.FoldCount(300, 2, 100)
	fmt.Printf("%d to %d\n", low, high)
	// Output: 7 to 32
}

func ExampleDrapeCoefficient() {
	low, typical, high := hang.DrapeCoefficient(2)
	fmt.Printf("%.0f %% (%.0f to %.0f)\n", typical, low, high)
	// Output: 44 % (31 to 65)
}

func ExampleDrapeCoefficientEstimated() {
	low, typical, high := hang.DrapeCoefficientEstimated(2)
	fmt.Printf("%.0f %% (%.0f to %.0f)\n", typical, low, high)
	// Output: 44 % (24 to 65)
}

func ExampleDrapeCoefficientSheared() {
	low, typical, high := hang.DrapeCoefficientSheared(2, 6)
	fmt.Printf("%.0f %% (%.0f to %.0f)\n", typical, low, high)
	// Output: 52 % (31 to 65)
}

func ExampleDrapeCoefficientStrips() {
	fmt.Printf("%.1f %%\n", hang.DrapeCoefficientStrips(2, 18, 30))
	// Output: 30.9 %
}

func ExampleDrapeCoefficientRegression() {
	fmt.Printf("%.1f %%\n", hang.DrapeCoefficientRegression(2, 28.1))
	// Output: 37.4 %
}

func ExampleDrapeCoefficientSheet() {
	fmt.Printf("%.1f %%\n", hang.DrapeCoefficientSheet(2))
	// Output: 64.6 %
}

func ExampleDrapeCoefficientFromShadow() {
	dc, _ := hang.DrapeCoefficientFromShadow(420, 254.47, 706.86)
	fmt.Printf("%.1f %%\n", dc)
	// Output: 36.6 %
}

// A table napkin over a plate, to compare two cloths in the kitchen.
func ExampleRectangleOverDisc() {
	fmt.Printf("%.1f %%\n", hang.RectangleOverDisc(2.4, 18, 30, 42))
	// Output: 12.9 %
}

func ExampleBendingLengthFromRectangle() {
	c, _ := hang.BendingLengthFromRectangle(12.9, 18, 30, 42)
	fmt.Printf("%.2f cm\n", float64(c))
	// Output: 2.40 cm
}

func ExampleBand() {
	fmt.Println(hang.Band(2.4))
	// Output: firm
}

// A strip of 10 cm on a photograph of 40 pixels to the centimetre: the edge of the
// table, the tip, four marks along the strip, and two marks of a level ruler.
func ExampleFromPhotograph() {
	fall, _ := hang.Hang(hang.Flap{Segments: []hang.Segment{{Length: 10, Rigidity: hang.RigidityFromBendingLength(2.4, 180), Mass: 180}}}, 60)
	on := func(i int) hang.Mark {
		return hang.Mark{X: 300 + 40*float64(fall.Points[i].Out), Y: 200 + 40*float64(fall.Points[i].Down)}
	}
	last := len(fall.Points) - 1
	p, err := hang.FromPhotograph(hang.Photograph{Edge: on(0), Tip: on(last), Along: []hang.Mark{on(last / 5), on(2 * last / 5), on(3 * last / 5), on(4 * last / 5)},
		Ruler: [2]hang.Mark{{X: 300, Y: 900}, {X: 1100, Y: 900}}, RulerLength: 20, RulerTrue: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f cm\n", float64(p.Bending.Typical))
	// Output: 2.4 cm
}

// A shadow of 50 %, of a cloth held to be 1.4 to 2.8 cm before.
func ExampleStiffnessFromDrape() {
	c, shear, _ := hang.StiffnessFromDrape(50, 4, 150, hang.Range{Low: 1.4, Typical: 2, High: 2.8}, hang.UsualShear)
	fmt.Printf("%.1f cm (%.1f to %.1f), %.0f N/m (%.0f to %.0f)\n", c.Typical, c.Low, c.High, shear.Typical, shear.Low, shear.High)
	// Output: 1.8 cm (1.4 to 2.2), 19 N/m (7 to 58)
}
