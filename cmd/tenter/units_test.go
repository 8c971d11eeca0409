package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// inUnits are calls of every command that tells a figure. Calls of `reckon` are added from
// the examples of its help.
var inUnits = []string{
	`check "cotton lawn" --piece triangular-shawl --finish bagged-lining --lining silk-taffeta`,
	`check "cotton lawn" --piece triangular-shawl --finish bagged-lining --lining silk-taffeta --all`,
	`check denim --piece triangular-shawl`,
	`check denim "wool challis" --piece cowl`,
	`check "cotton sateen" --all`,
	`advise --piece triangular-shawl --finish bagged-lining --all`,
	`advise --piece child-cape --finish bagged-lining --shell wool-flannel --lining viscose-twill --all`,
	`advise --piece stage-curtain --finish single-layer-hem --shell velour-drape --all`,
	`cut half-circle-cape --shell wool-flannel --lining viscose-twill --finish bagged-lining --width 150cm --all`,
	`pair "cotton lawn" --piece triangular-shawl --finish bagged-lining --all`,
	`pair "cotton lawn" silk-pongee --piece triangular-shawl --finish bagged-lining --all`,
	`show "cotton sateen" --all`, `show "cotton sateen" --why mass`, `show wool-challis --why shrink-warp`, `show wool`, `show satin`, `show half-circle-cape`,
	`show bagged-lining`, `show narrow-hem`, `show light-canvas`, `show "bending length"`,
	`compare "cotton lawn" wool-challis`, `source practice`,
	`list seams`, `list edges`, `list interfacings`, `list cloths`, `rule list`, `rule show fusible-over-half-the-cloth-goes-boardy`,
	`test droop`, `test scale`, `test wash`, `test book`, `search hem for a circle`, `search how wide is a hem`,
	`drape disc --shell cotton-poplin --quick`,
	`swatch list --store demo`, `swatch show "attic lawn" --store demo`, `check "attic lawn" --piece cowl --store demo --all`, `learn --store demo`,
	`swatch measure "attic lawn" droop 3cm 3.1cm --store demo`, `swatch measure "attic lawn" scale 1.5g 10x10cm --store demo`,
	`swatch measure "attic lawn" droop 60cm --store demo`, `swatch measure "attic lawn" scale 900g 10x10cm --store demo`,
	`check denim --piece cowl --mass 5000gsm`, `check denim --piece cowl --bending-length 40cm`, `check denim --piece cowl --overhang 200cm`, `check denim --piece cowl --width 4000cm`,
	`cut cowl --shell denim --width 20cm`, `search x --max-mass 9000gsm`, `reckon droop --overhang 700cm --droop 41`, `reckon hang --length 90m --bending-length 2cm`,
}

// entered is what is said of how a figure is typed, which the user may do in any unit, and
// what a source or a rule's own case holds word for word.
var entered = regexp.MustCompile(`"[a-z][^"]*"|"\d[\w.]*"|\b\d[\d.]*[cmg]+: |\d+gsm|--[\w-]+ \S+|(?:fires|quiet) for .*|\d+/cm|\[[^\]]*\]`)

var (
	metricFigure   = regexp.MustCompile(`\d ?(mm|cm|m|kg|g|g/m[2²]|g/cm3|°C)\b`)
	imperialFigure = regexp.MustCompile(`\d ?(in|yd|oz|lb|oz/yd[2²]|oz/in3|°F)\b|\d"|to the inch`)
)

// everyCallInUnits runs the calls, and the examples of reckon, in one system.
func everyCallInUnits(t *testing.T, system string, see func(call, out string)) {
	t.Helper()
	calls := append([]string{}, inUnits...)
	for _, k := range reckonKinds() {
		if k.name == "convert" || k.name == "yarn" || k.name == "wraps" || k.name == "ticket" { // what was asked for is told in the unit that was asked for
			continue
		}
		example, _, _ := strings.Cut(strings.ReplaceAll(k.example, "\\\n", " "), "\n")
		calls = append(calls, strings.TrimPrefix(strings.TrimSpace(example), "tenter "))
	}
	for i, call := range calls {
		if testing.Short() && i%3 > 0 {
			continue
		}
		out, errs, _ := called(t, append(shellFields(call), "--units", system)...)
		require.NotEmpty(t, out+errs, call)
		see(call, entered.ReplaceAllString(strings.Join(strings.Fields(out+errs), " "), ""))
	}
}

// shellFields parts a call as a shell does, double quotes holding words together.
func shellFields(call string) []string {
	var out []string
	for i, part := range strings.Split(call, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

// With --units imperial nothing that is printed has a metric figure left: no answer, step,
// rule, sum, swatch or error.
func TestImperialLeavesNoMetricFigure(t *testing.T) {
	atHome(t)
	_, errs, code := called(t, "demo")
	require.Zero(t, code, errs)
	require.Regexp(t, metricFigure, "Grade: shell 6 mm, lining 3 mm.", "the check finds what it is for")
	everyCallInUnits(t, "imperial", func(call, out string) {
		if at := metricFigure.FindStringIndex(out); at != nil {
			t.Errorf("%s: … %s", call, out[max(0, at[0]-60):min(len(out), at[1]+20)])
		}
	})
}

// With --units both each metric figure has the other system's close behind it.
func TestBothTellsBothSystems(t *testing.T) {
	atHome(t)
	_, errs, code := called(t, "demo")
	require.Zero(t, code, errs)
	const near = 110 // characters: a range of ranges is told in one system, then in the other
	everyCallInUnits(t, "both", func(call, out string) {
		if strings.HasPrefix(call, "test ") { // a drawing, and the calls that record it, are in one system
			return
		}
		for _, at := range metricFigure.FindAllStringIndex(out, -1) {
			if !imperialFigure.MatchString(out[at[1]:min(len(out), at[1]+near)]) {
				t.Errorf("%s: … %s", call, out[max(0, at[0]-60):min(len(out), at[1]+40)])
			}
		}
	})
}
