package testkit

import (
	"fmt"
	"os"
	"slices"

	"tenter/fibres/fault"
)

// TellData runs the tests of the data where the data could be loaded; else it tells every
// slip in full and runs none of them. err is what loading came to.
func TellData(m interface{ Run() int }, err error) int {
	if err == nil || mended() {
		return m.Run()
	}
	fmt.Printf("--- FAIL: the data cannot be loaded\n%v\n", err)
	return 1
}

// NeedData runs the tests of a package that reads the data. A slip in the data is told by
// the tests of data; here a line says that nothing was tried.
func NeedData(m interface{ Run() int }, err error) int {
	if err == nil || mended() {
		return m.Run()
	}
	fmt.Printf("--- FAIL: the data has a slip, see `go test ./data`: %s\n", first(err))
	return 1
}

// mended reports whether the run is one that writes files anew, which may be what mends
// the data.
func mended() bool {
	return slices.Contains(os.Args, "-update") || slices.Contains(os.Args, "-test.update")
}

// first is the first line of an error: where it is, and what.
func first(err error) string {
	all := fault.All(err)
	if len(all) == 0 {
		return err.Error()
	}
	return all[0].Where + ": " + all[0].What
}
