package units_test

import (
	"fmt"

	"tenter/fibres/units"
)

func ExampleParseLength() {
	for _, s := range []string{`44 1/2"`, "1yd 9in", "7,5 cm"} {
		l, err := units.ParseLength(s)
		fmt.Println(l, err)
	}
	// Output:
	// 113.03 cm <nil>
	// 114.3 cm <nil>
	// 7.5 cm <nil>
}

func ExampleParseArealMassRange() {
	m, err := units.ParseArealMassRange("120–150 gsm")
	fmt.Println(m.In(units.Both), err)
	// Output: 120 to 150 g/m2 (3.5 to 4.4 oz/yd2) <nil>
}

func ExampleParse() {
	q, err := units.Parse("12 mm")
	fmt.Println(q.Value, q.Kind.Unit(), err)
	_, err = units.Parse("12 qm")
	fmt.Println(err)
	// Output:
	// 1.2 cm <nil>
	// "12 qm" has an unknown unit, "qm"
	//   expected: a number with its unit, such as 12 mm, 44 1/2 in, 150 g/m2, 5 % or 150 C
	//   mend: did you mean "cm" or "dm" or "m"?
}

func ExampleLength_In() {
	hem := 15 * units.Millimetre
	fmt.Println(hem.In(units.Metric), "|", hem.In(units.Imperial), "|", hem.Millimetres())
	// Output: 1.5 cm | 5/8 in | 15 mm
}
