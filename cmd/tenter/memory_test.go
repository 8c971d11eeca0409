package main

import (
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/require"
)

// A command that is called among others leaves the memory of the process alone.
func TestNoCommandRulesTheMemoryOfOthers(t *testing.T) {
	atHome(t)
	limit, percent := debug.SetMemoryLimit(-1), debug.SetGCPercent(100)
	t.Cleanup(func() { debug.SetGCPercent(percent) })
	for _, call := range [][]string{{"search", "denim"}, {"pair", "cotton-lawn", "silk-habotai", "cowl"}} {
		_, errs, code := called(t, call...)
		require.Zero(t, code, errs)
		require.Equal(t, limit, debug.SetMemoryLimit(-1), call)
		require.Equal(t, 100, debug.SetGCPercent(100), call)
	}
}
