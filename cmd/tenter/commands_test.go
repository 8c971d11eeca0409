package main

import (
	"io"
	"slices"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
)

// The command that the first word names is put together alone, and is the same as
// among all the others.
func TestOneCommandAlone(t *testing.T) {
	a := newApp(io.Discard, io.Discard)
	all := newRoot(a)
	for _, c := range everyName {
		require.Contains(t, commandNames(), c.name)
		alone := newRoot(a, c.name, "--help")
		require.Len(t, alone.Commands(), 1, c.name)
		require.Equal(t, c.name, alone.Commands()[0].Name())
		among, _, err := all.Find([]string{c.name})
		require.NoError(t, err)
		require.Equal(t, among.UsageString(), alone.Commands()[0].UsageString(), c.name)
	}
	for _, other := range []string{"help", "completion", "chek", "--json"} {
		ours := slices.DeleteFunc(newRoot(a, other, "check").Commands(), func(c *cobra.Command) bool { return !oneCommand(c.Name()) })
		require.Len(t, ours, len(everyName), other)
	}
}
