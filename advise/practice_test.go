package advise

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// What makers of hooded wraps and lined pieces commonly find. Source of every
// check in this file: common practice, no source.

func TestDrapedWrap(t *testing.T) {
	a := adviser(t)
	judge := func(words string) *judged { return a.judge(makeUp(t, "hooded-wrap, bagged-lining, "+words)) }
	// Cotton sateen with a taffeta lining is acceptable, but at the crisp limit.
	sateen := judge("shell cotton-sateen, lining silk-taffeta")
	require.NotEqual(t, Unsuited, sateen.verdict, "share %.2f", sateen.share)
	require.Less(t, sateen.share, 0.75, "it is at the limit, not well inside")
	// Anything crisper is not.
	for _, crisp := range []string{"cotton-twill", "denim", "cotton-canvas", "cotton-duck", "cotton-drill"} {
		j := judge("shell " + crisp + ", lining silk-taffeta")
		require.Equal(t, Unsuited, j.verdict, "%s, share %.2f", crisp, j.share)
		require.Less(t, j.share, sateen.share)
	}
	// Denim and cotton twill are unsuited whatever lines them.
	for _, shell := range []string{"denim", "cotton-twill"} {
		for _, lining := range []string{"silk-taffeta", "cotton-voile", "viscose-twill"} {
			j := judge("shell " + shell + ", lining " + lining)
			require.Equal(t, Unsuited, j.verdict, "%s with %s, share %.2f", shell, lining, j.share)
		}
	}
	// Viscose twill suits.
	require.Equal(t, Suits, judge("shell viscose-twill, lining cupro-lining").verdict)
	require.Equal(t, Suits, a.judge(makeUp(t, "hooded-wrap, bagged-lining, shell viscose-twill")).verdict)
}

func TestDoubleGauzeInASingleLayer(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "hooded-wrap, hood-lined-bound-edge, shell double-gauze, lining cotton-voile, edge bias-binding")
	j := a.judge(m)
	require.Equal(t, Suits, j.verdict, "share %.2f", j.share)
	ans := a.say(j)
	for _, r := range ans.Reasons {
		require.NotEqual(t, "forbids", r.Effect, r.Rule)
	}
}

// steps gives the places of steps in the order of work.
func steps(t *testing.T, words string) map[string]int {
	t.Helper()
	a := adviser(t)
	out := map[string]int{}
	for i, s := range a.order(a.judge(makeUp(t, words))) {
		out[s.Step] = i + 1
	}
	return out
}

func before(t *testing.T, at map[string]int, first, then string) {
	t.Helper()
	require.NotZero(t, at[first], "no step %s", first)
	require.NotZero(t, at[then], "no step %s", then)
	require.Less(t, at[first], at[then], "%s comes before %s", first, then)
}

func TestClippingOfALiningThatFrays(t *testing.T) {
	frays := steps(t, "hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta")
	before(t, frays, "join-layers", "clip-curves")
	for _, at := range []map[string]int{frays, steps(t, "hooded-wrap, bagged-lining, shell cotton-sateen, lining cotton-percale")} {
		before(t, at, "clip-curves", "turn")
		before(t, at, "clip-corners", "turn")
	}
}

func TestTopstitchedEdgeNeedsNoUnderstitching(t *testing.T) {
	at := steps(t, "hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta")
	require.NotZero(t, at["topstitch"])
	require.Zero(t, at["understitch"])
	a := adviser(t)
	f, err := a.Finish("bagged-lining")
	require.NoError(t, err)
	for _, s := range f.Steps {
		if s.ID == "topstitch" {
			require.Contains(t, s.Say, "6 mm")
		}
	}
}

func TestSingleLayerIsBoundOrHemmedNeverBagged(t *testing.T) {
	a := adviser(t)
	for _, f := range a.Finishes {
		if f.Layers == 1 { // a facing or a pillow's back is turned too, but bags no lining
			require.False(t, f.Turned && f.Lined, "%s: one layer cannot be bagged", f.ID)
		}
	}
	m := makeUp(t, "hooded-wrap, single-layer-bound-edge, shell double-gauze")
	edges := a.choices(a.judge(m), "edge", 4)
	require.True(t, slices.ContainsFunc(edges, func(c Choice) bool {
		return c.Effect == "for" && (strings.Contains(c.ID, "bind") || strings.Contains(c.ID, "hem"))
	}), "%v", edges)
}

func TestBagging(t *testing.T) {
	a := adviser(t)
	f, err := a.Finish("bagged-lining")
	require.NoError(t, err)
	require.True(t, f.Reversible, "bagging makes it reversible")
	require.InDelta(t, 1.2, float64(f.Allowance), 1e-9, "seam allowance 12 mm, half an inch")
	at := steps(t, "half-circle-cape, bagged-lining, shell cotton-sateen, lining cotton-percale")
	before(t, at, "turn", "close-opening")
	var opening, closing string
	for _, s := range f.Steps {
		switch s.ID {
		case "sew-parts":
			opening = s.Say
		case "close-opening":
			closing = s.Say
		}
	}
	require.Contains(t, opening, "open", "bagging asks for an opening to turn it through")
	require.Contains(t, strings.ToLower(closing), "slip-stitch")
	require.Contains(t, closing, "topstitch")
}

// says reports whether any reason or caution of an answer has all the words.
func says(a *Adviser, m MakeUp, words ...string) bool {
	for _, r := range a.say(a.judge(m)).Reasons {
		text := strings.ToLower(r.Say + " " + r.Because)
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			return true
		}
	}
	return false
}

func TestSheerLiningUnderWhite(t *testing.T) {
	a := adviser(t)
	require.True(t, says(a, makeUp(t, "half-circle-cape, bagged-lining, shell cotton-lawn, white shell, lining cotton-voile"), "lint", "thread"))
	require.False(t, says(a, makeUp(t, "half-circle-cape, bagged-lining, shell wool-melton, dark shell, lining cotton-percale"), "lint", "thread tail"))
}

func TestFullBobbinBeforeTheClosingSeam(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "half-circle-cape, bagged-lining, shell cotton-sateen, lining silk-taffeta")
	found := says(a, m, "bobbin")
	for _, s := range a.order(a.judge(m)) {
		found = found || strings.Contains(s.Say+strings.Join(s.Notes, " "), "bobbin")
	}
	require.True(t, found)
}

func TestMeasuredClothDecides(t *testing.T) {
	a := adviser(t)
	name := a.judge(makeUp(t, "hooded-wrap, bagged-lining, shell cotton-sateen"))
	s := fibres.Subject{Cloth: a.Cat.Cloths["cotton-sateen"]}
	soft := s.With(a.Cat, fibres.BendingLength, 1.4, 1.4)
	crisp := s.With(a.Cat, fibres.BendingLength, 3, 3)
	m := name.make
	m.Shell = &soft
	require.Greater(t, a.judge(m).share, 0.95, "a limp one surely does")
	m.Shell = &crisp
	require.Less(t, a.judge(m).share, 0.05, "a crisp one surely does not")
	require.Greater(t, name.share, 0.05)
	require.Less(t, name.share, 0.95, "the name alone leaves it open")
}
