package advise

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
)

// answersFile holds what a few make-ups are told, in full: a change of data or code that
// moves a figure, a verdict, an order or a choice is seen there, line by line, and is to
// be looked at before it is written anew.
const answersFile = "testdata/answers.golden"

// asked in full: pieces that hang and that are tailored, one layer and three, a child, a
// knit, a measured cloth, seams and edges named, and one of which nothing is named.
var inFull = []string{
	"hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta",
	"half-circle-cape, bagged-lining, shell wool-flannel, shell mass 310 g/m2, shell bending-length 2.9 cm, shell thickness 1.1 mm, lining cupro-twill",
	"tailored-jacket, fused-front-tailored, seam welt-seam, edge faced-hem, interfacing hair-canvas-light, shell worsted-suiting, lining cupro-lining",
	"child-nightwear, single-layer-hem, wearer child, shell cotton-flannelette",
	"stretch-top, single-layer-overlocked, shell cotton-jersey",
	"coat, interlined, interfacing domette, shell wool-melton, lining viscose-twill, wish warm",
	"triangular-shawl, single-layer-rolled-hem, edge rolled-hem-hand, shell silk-chiffon",
	"curtain, sides-lined, lining sateen-lining",
}

// What a few make-ups are told is as it was: verdict, shares, reasons, home tests, lists,
// washing, pressing, sewing and order of work; what a pair is told, and what is told
// after wearing.
func TestAnswersInFull(t *testing.T) {
	a := adviser(t)
	var b strings.Builder
	for _, words := range inFull {
		m := makeUp(t, words)
		ans, err := a.Advise(m, 3)
		require.NoError(t, err, words)
		for _, list := range []*[]Choice{&ans.Interfacings, &ans.Seams, &ans.Edges, &ans.Needles, &ans.Threads, &ans.Bindings} {
			*list = (*list)[:min(5, len(*list))]
		}
		tell(t, &b, "advise "+words, ans)
	}
	pair, err := a.Pair(makeUp(t, "triangular-shawl, bagged-lining, shell cotton-lawn"), false, 4)
	require.NoError(t, err)
	tell(t, &b, "pair, of triangular-shawl, bagged-lining, shell cotton-lawn", pair)
	var worn []Worn
	for i, finding := range []string{"too-stiff", "right", "too-heavy", "creased", "parted"} {
		worn = append(worn, Worn{ID: int64(i + 1), Piece: "hooded-wrap", Finding: finding, Who: "attic sateen", At: time.Date(2026, 11, i+1, 0, 0, 0, 0, time.UTC),
			Figures: map[string]Figures{"make-up.stand-off": {1.1, 1.4, 1.8}, "make-up.mass": {150, 180, 220}, "shell.crease": {1, 2, 2}, "make-up.shrink-gap": {10, 14, 20}}})
	}
	check, err := a.WithWorn(worn).Check(makeUp(t, inFull[0]))
	require.NoError(t, err)
	tell(t, &b, "check after wearing, of "+inFull[0], check)
	if *update {
		require.NoError(t, os.WriteFile(answersFile, []byte(b.String()), 0o600))
	}
	want, err := os.ReadFile(answersFile)
	require.NoError(t, err)
	testkit.Same(t, string(want), b.String(), "%s: right? `go test ./advise -run AnswersInFull -update`, and look at what changes", answersFile)
}

// tell writes an answer a line for each thing that it tells.
func tell(t *testing.T, b *strings.Builder, of string, answer any) {
	t.Helper()
	fmt.Fprintf(b, "== %s\n%s", of, testkit.Lines(t, answer, standsInTheData))
}

// fromData are the keys of what stands in the data as it is told.
var fromData = []string{"sources", "basis", "because", "version", "how", "name", "unit", "caution", "chain", "notes", "need"}

// standsInTheData reports whether a key is not written: texts of the data, and rules
// that neither speak for the make-up nor against it, since each has its own cases.
func standsInTheData(key string, of map[string]any) bool {
	if of["rule"] != nil && (of["effect"] == "do" || of["effect"] == "caution") {
		return true
	}
	computed := slices.ContainsFunc([]string{"verdict", "cloth", "limit_c", "stand_off", "first_nm", "tex_low", "test"}, func(k string) bool { return of[k] != nil })
	return slices.Contains(fromData, key) || key == "say" && !computed
}
