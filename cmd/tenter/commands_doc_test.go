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

// docs/mechanics.md names every kind of reckoning, in the order of the help.
func TestKindsOfReckoningAreDocumented(t *testing.T) {
	var names []string
	for _, k := range reckonKinds() {
		names = append(names, "`"+k.name+"`")
	}
	doc, err := os.ReadFile("../../docs/mechanics.md")
	require.NoError(t, err)
	said := strings.Join(strings.Fields(string(doc)), " ")
	require.True(t, strings.Contains(said, strings.Join(names, ", ")+". Outside"), "docs/mechanics.md lists other kinds than %s", strings.Join(names, ", "))
}
