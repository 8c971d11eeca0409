package cut

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/price"
	"tenter/fibres/units"
	"tenter/internal/testkit"
)

var update = flag.Bool("update", false, "write the golden plans anew")

// plansFile holds what plans of a piece of every drawing come to, in full: a change of a
// size, a length to buy, a gap, an edge or a note is seen there, line by line, and is to
// be looked at before it is written anew.
const plansFile = "testdata/plans.golden"

// Plans are as they were: cut sizes, lengths to buy, gap, thread, binding, edges and
// corners of each part, and what is noted; on cloth that is folded, has a nap or a
// repeat, is washed first, loses nothing or much.
func TestPlansInFull(t *testing.T) {
	var b strings.Builder
	for i, name := range Drawings() {
		m := measures{}
		for _, need := range Needs(name) {
			m[need] = usualMeasures[need]
		}
		d, err := drawings[name].draw(m)
		require.NoError(t, err, name)
		ans, err := PlanQuickly(variedJob(t, i, d))
		require.NoError(t, err, name)
		fmt.Fprintf(&b, "== %s\n%s", name, testkit.Lines(t, ans, aside))
	}
	if *update {
		require.NoError(t, os.WriteFile(plansFile, []byte(b.String()), 0o600))
	}
	want, err := os.ReadFile(plansFile)
	require.NoError(t, err)
	testkit.Same(t, string(want), b.String(), "%s: right? `go test ./advise/cut -run PlansInFull -update`, and look at what changes", plansFile)
}

// aside are the keys that are not written: where figures come from, and outlines, which
// the layouts rest on.
func aside(key string, _ map[string]any) bool {
	switch key {
	case "sources", "basis", "because", "chain", "unit", "version", "outline", "words":
		return true
	}
	return false
}

// variedJob plans a draft on two layers; what can be said of cloth and seams takes turns.
func variedJob(t *testing.T, i int, d Draft) Job {
	t.Helper()
	of := func(p fibres.Property, low, typical, high float64) fibres.Estimate {
		return fibres.Figure(p, low, typical, high, fibres.Practice, "", "practice")
	}
	cost, err := price.Parse("12.50 EUR/m")
	require.NoError(t, err)
	shell := Layer{Name: "shell", Cloth: "cotton", Warp: of(fibres.ShrinkWarp, 2, 4, 9), Weft: of(fibres.ShrinkWeft, 0, 2, 5), Width: of(fibres.Width, 110, 140, 150), Price: &cost, warp: []float64{3, 4, 6}, weft: []float64{1, 2, 2}}
	lining := Layer{Name: "lining", Cloth: "viscose", Warp: of(fibres.ShrinkWarp, 1, 3, 6), Weft: of(fibres.ShrinkWeft, 0, 1, 3), Width: of(fibres.Width, 135, 140, 150), Selvedge: 1, warp: []float64{1, 3, 5}, weft: []float64{0, 1, 1}}
	shell.Folded, shell.OneWay, shell.CrossGrain, shell.Prewashed = i%2 == 1, i%3 == 1, i%5 == 2, i%7 == 3
	shell.Join, lining.Join = true, true
	if i%4 == 2 {
		shell.Repeat, shell.RepeatAcross = 16, 10
	}
	hem, edge := units.Length(4), units.Length(0.6)
	j := Job{Parts: d.Parts, Joins: d.Joins, Layers: []Layer{shell, lining}, Allowance: 1.2}
	if i%3 != 0 {
		j.Hem, j.Edge = &hem, &edge
	}
	if i%3 == 0 {
		j.Binding = &BindingWish{Shows: 0.8}
	}
	if i%4 == 3 {
		j.Layers = j.Layers[:1]
	}
	if i%6 == 5 {
		j.Units = units.Imperial
	}
	return j
}

// usualMeasures are what pieces are drawn from in tests.
var usualMeasures = measures{"parts": 4, "width": 60, "height": 80, "depth": 75, "dip": 3, "face": 38, "hood-depth": 30, "neck": 26, "crown": 14, "nape": 8, "neckline": 40, "angle": 180, "length": 75, "girth": 44,
	"facing": 6, "band": 4, "lap": 3, "around": 90, "bias": 0, "point": 12, "drop": 70, "swallowtail": 0, "casing": 5, "fullness": 2, "heading": 3, "edge": 100, "strip": 140, "inner": 5, "top": 74, "hem": 228}
