package tenter

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
)

// Every test that docs/mechanics.md names stands in a test file of the package it is said to
// be of, so that a reader who doubts a figure can find its check.
func TestMechanicsNamesTestsThatAreThere(t *testing.T) {
	b, err := os.ReadFile("docs/mechanics.md")
	require.NoError(t, err)
	where := map[string]string{"hang": "fibres/hang", "yarn": "fibres/yarn", "shrink": "fibres/shrink", "units": "fibres/units", "fibres": "fibres", "advise": "advise", "drape": "fibres/drape", "worn": "advise/worn"}
	there := map[string]string{} // folder: all its test code
	for _, dir := range where {
		files, err := filepath.Glob(dir + "/*_test.go")
		require.NoError(t, err)
		for _, f := range files {
			src, err := os.ReadFile(f)
			require.NoError(t, err)
			there[dir] += string(src)
		}
	}
	row := regexp.MustCompile(`(hang|yarn|shrink|units|fibres|advise|drape|worn)((?: ` + "`" + `Test\w+` + "`" + `,?)+)`)
	named := 0
	for _, m := range row.FindAllStringSubmatch(string(b), -1) {
		for _, name := range regexp.MustCompile(`Test\w+`).FindAllString(m[2], -1) {
			testkit.Holds(t, there[where[m[1]]], "func "+name+"(t *testing.T)", "docs/mechanics.md: %s names it, in a test file of %s", m[1], where[m[1]])
			named++
		}
	}
	require.Greater(t, named, 40)
	require.Equal(t, named, strings.Count(string(b), "`Test"), "a test that is named without its package")
}
