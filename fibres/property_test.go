package fibres

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
)

// Each row of the table says all of a property: what is left out of it would be left
// out of an answer in silence.
func TestEveryPropertyIsWhole(t *testing.T) {
	for p := range NumProperties {
		t.Run(Properties[p].ID, func(t *testing.T) { require.Empty(t, gaps(Properties[p])) })
	}
}

// gaps lists what the row of a property leaves out.
func gaps(i PropertyInfo) []string {
	var out []string
	need := func(ok bool, format string, a ...any) {
		if !ok {
			out = append(out, fmt.Sprintf(format, a...))
		}
	}
	need(regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`).MatchString(i.ID), "id %q", i.ID)
	need(i.Name != "" && i.Doc != "", "no name or no doc")
	need(Tests[i.Test].How != "", "no home test settles it")
	need(i.Compared[0] != "" && i.Compared[1] != "" && i.Compared[0] != i.Compared[1], "no words beside others of its name")
	need(i.Failing[0] != "" && i.Failing[1] != "" && i.Failing[0] != i.Failing[1], "no words for too little and too much")
	if i.Scale == nil {
		need(i.Unit != "" && i.Low < i.High, "no unit or no range")
		need(i.Levels == nil, "levels without a scale")
	} else {
		need(i.Unit == "" && i.Low == 0 && i.High == 0, "a scale beside a unit")
		need(len(i.Levels) == len(i.Scale), "%d phrases for %d levels", len(i.Levels), len(i.Scale))
		need(len(slices.Compact(slices.Clone(i.Levels))) == len(i.Levels), "two levels are said alike")
		need(i.Ruled, "a grade that no rule may ask of a layer")
		for _, w := range i.Scale {
			need(regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`).MatchString(w), "a rule cannot write the level %q", w)
		}
	}
	if i.File == "" {
		need(i.Derive != NotDerived, "neither recorded nor derived")
		return out
	}
	b, err := data.FS.ReadFile(i.File)
	need(err == nil, "no file %s", i.File)
	header, _, _ := strings.Cut(string(b), "\n")
	for _, end := range []string{"_low", "_typical", "_high"} {
		need(slices.Contains(strings.Split(header, ","), i.Stem+end), "%s has no column %s", i.File, i.Stem+end)
	}
	if i.Row != "" {
		need(slices.ContainsFunc(sharedFiles, func(f factFile) bool {
			return f.File == i.File && f.Stem == i.Stem && strings.HasPrefix(i.Row, f.ID+" ")
		}), "no shared file holds its rows %q", i.Row)
	}
	return out
}

// A row with a gap is refused: each of these leaves one thing out.
func TestGapsAreFound(t *testing.T) {
	for name, spoil := range map[string]func(*PropertyInfo){
		"home test":  func(i *PropertyInfo) { i.Test = "guess" },
		"levels":     func(i *PropertyInfo) { i.Levels = i.Levels[1:] },
		"file":       func(i *PropertyInfo) { i.File = "frays.csv" },
		"column":     func(i *PropertyInfo) { i.Stem = "frays" },
		"compared":   func(i *PropertyInfo) { i.Compared[1] = "" },
		"failing":    func(i *PropertyInfo) { i.Failing[0] = i.Failing[1] },
		"scale":      func(i *PropertyInfo) { i.Scale = Scale{"none", "a bit", "some", "much"} },
		"no scale":   func(i *PropertyInfo) { i.Scale = nil },
		"no rule":    func(i *PropertyInfo) { i.Ruled = false },
		"doc":        func(i *PropertyInfo) { i.Doc = "" },
		"shared row": func(i *PropertyInfo) { i.Row = "frays warp" },
	} {
		i := Properties[Fray]
		i.Levels = slices.Clone(i.Levels)
		spoil(&i)
		require.NotEmpty(t, gaps(i), name)
	}
}

// The table in the documents is the table in the code.
func TestPropertiesAreDocumented(t *testing.T) {
	var s strings.Builder
	s.WriteString("| property | unit or scale | rows | derived from | home test | kept by a swatch |\n|---|---|---|---|---|---|\n")
	for p := range NumProperties {
		i := &Properties[p]
		unit := i.Unit
		if i.Scale != nil {
			unit = strings.Join(i.Scale, ", ")
		}
		of := "–"
		if i.File != "" {
			of = "`" + i.File + "`: " + strings.Join(append([]string{"cloth"}, i.Of...), ", ")
		}
		kept := "no"
		if i.Recorded() {
			kept = "yes"
		}
		fmt.Fprintf(&s, "| `%s`: %s | %s | %s | %s | %s | %s |\n", i.ID, i.Doc, unit, of, i.Derive, i.Test, kept)
	}
	const path = "../DEVELOPERS.md"
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	block := regexp.MustCompile(`(?s)(<!-- properties -->\n).*?(<!-- end -->)`)
	require.True(t, block.Match(b), "DEVELOPERS.md has no block <!-- properties -->")
	want := block.ReplaceAllString(string(b), "${1}\n"+s.String()+"\n${2}")
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(want), 0o644))
		return
	}
	require.True(t, want == string(b), "the table of properties in DEVELOPERS.md is stale: go test ./fibres -run PropertiesAreDocumented -update")
}

func TestPropertyByID(t *testing.T) {
	for p := range NumProperties {
		got, ok := PropertyByID(p.String())
		require.True(t, ok)
		require.Equal(t, p, got)
	}
	_, ok := PropertyByID("frey")
	require.False(t, ok)
}

func TestScaleWords(t *testing.T) {
	for v, want := range map[float64]string{-1: "none", 0.4: "none", 0.6: "low", 3: "high", 9: "high"} {
		require.Equal(t, want, FrayScale.Word(v), "%g", v)
	}
}
