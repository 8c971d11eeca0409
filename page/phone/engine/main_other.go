//go:build !js

package main

import (
	"fmt"
	"os"
)

// Outside a browser there is nothing to run.
func main() {
	fmt.Fprintln(os.Stderr, "this is the part of tenter that a browser runs; `tenter page export` builds it")
	os.Exit(2)
}
