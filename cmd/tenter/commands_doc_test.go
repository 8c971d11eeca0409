package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The table of exit codes in the documents is that of the program.
func TestExitCodesAreDocumented(t *testing.T) {
	const doc, from, to = "../../docs/commands.md", "<!-- exit codes -->\n", "<!-- end -->"
	var b strings.Builder
	b.WriteString("\n| status | when |\n|---|---|\n")
	for _, x := range exitCodes {
		fmt.Fprintf(&b, "| %d | %s |\n", x.code, x.when)
	}
	b.WriteString("\n")
	raw, err := os.ReadFile(doc)
	require.NoError(t, err)
	before, rest, ok := strings.Cut(string(raw), from)
	require.True(t, ok)
	now, after, ok := strings.Cut(rest, to)
	require.True(t, ok)
	if *update {
		require.NoError(t, os.WriteFile(doc, []byte(before+from+b.String()+to+after), 0o644))
		return
	}
	require.Equal(t, b.String(), now)
}
