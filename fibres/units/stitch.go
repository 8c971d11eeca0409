package units

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// perUnit is "10 spi", "12 stitches to the inch", "4/cm".
var perUnit = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(\d+(?:\.\d+)?)\s*(?:spi|(?:stitches|st|sts)?\s*(?:/|per|to the|to an|in an)\s*(in|inch|cm|centimetre|centimeter))$`)
})

// StitchFromCount reads how long a stitch is from the number of stitches in an inch or a
// centimetre, as US patterns and old machines have it: "10 spi", "4 stitches/cm". ok is false
// for anything else.
func StitchFromCount(s string) (l Length, ok bool) {
	m := perUnit().FindStringSubmatch(strings.ToLower(strings.TrimSpace(s)))
	if m == nil {
		return 0, false
	}
	n, err := strconv.ParseFloat(m[1], 64)
	if err != nil || !(n > 0) || math.IsInf(n, 0) {
		return 0, false
	}
	if strings.HasPrefix(m[2], "c") {
		return Length(1 / n), true
	}
	return Inch / Length(n), true
}

// StitchesPerInch is how many stitches of a length lie in an inch.
func StitchesPerInch(l Length) float64 { return float64(Inch / l) }
