package shrink_test

import (
	"fmt"

	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

func ExampleFromMarks() {
	s, _ := shrink.FromMarks(20*units.Inch, 19*units.Inch)
	fmt.Println(s)
	// Output: 5 %
}

func ExampleCutFromFinished() {
	cut, _ := shrink.CutFromFinished(100, 0.05)
	fmt.Println(cut.Centimetres())
	// Output: 105.3 cm
}

func ExampleFinishedFromCut() {
	left, _ := shrink.FinishedFromCut(105.26, 0.05)
	fmt.Println(left.Centimetres())
	// Output: 100 cm
}

func ExampleCompose() {
	// 5 % in the first wash and 3 % of the rest in the second.
	s, _ := shrink.Compose(0.05, 0.03)
	fmt.Println(s)
	// Output: 7.85 %
}

func ExampleLeftAfter() {
	// Steam takes 1 % out of a cotton that loses 10 % in the wash.
	s, _ := shrink.LeftAfter(0.10, 0.01)
	fmt.Println(s.In(units.Metric))
	// Output: 9.1 %
}

func ExampleProgressive() {
	for _, n := range []int{1, 2, 5} {
		s, _ := shrink.Progressive(0.05, 0.07, n)
		fmt.Println(n, s.In(units.Metric))
	}
	// Output:
	// 1 5 %
	// 2 6.4 %
	// 5 7 %
}

func ExampleLimitFromWashes() {
	s, _ := shrink.LimitFromWashes(0.04, 0.06, 5)
	fmt.Println(s.In(units.Metric))
	// Output: 6 %
}
