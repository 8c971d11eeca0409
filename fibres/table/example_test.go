package table_test

import (
	"fmt"

	"tenter/fibres/table"
)

func ExampleRead() {
	list := []byte("name,mass_gsm\ncloak wool,7O\n")
	t, err := table.Read("wardrobe.csv", list, []string{"name", "mass_gsm"})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range t.Rows {
		if _, _, f := t.Rows[i].Cell("mass_gsm").Float(5, 2000, "g/m2"); f != nil {
			fmt.Println(f)
		}
	}
	// Output:
	// wardrobe.csv:2:12: mass_gsm is "7O", not a number
	//   expected: g/m2, 5 to 2000
	//   mend: a letter O stands where a zero was meant
}
