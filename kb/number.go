package kb

import "strconv"

// number writes a figure so that it reads back as the same.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
