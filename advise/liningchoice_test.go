package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
)

// Where no lining is named the best is taken, and said; where makers take none, that stands
// first and is taken by nobody.
func TestTheLiningThatIsTaken(t *testing.T) {
	a := adviser(t)
	ans, err := a.Advise(makeUp(t, "coat, dropped-in-lining, shell wool-melton"), 3)
	require.NoError(t, err)
	taken, ok := ans.TakenLining()
	require.True(t, ok)
	require.Contains(t, ans.Notes, "The lining is taken to be "+taken.Name+"; name one with --lining.")
	require.Equal(t, taken.ID, ans.Judged.MakeUp.Lining)
	named, err := a.Advise(makeUp(t, "coat, dropped-in-lining, shell wool-melton, lining cupro-lining"), 3)
	require.NoError(t, err)
	require.Len(t, named.Linings, 1)
	require.Equal(t, "cupro-lining", named.Linings[0].ID)
	for _, n := range named.Notes {
		require.NotContains(t, n, "is taken to be")
	}
	for _, c := range ans.Linings {
		require.NotEqual(t, "wool-melton", c.ID, "the shell is no other lining")
	}
	_, ok = AdviseAnswer{Linings: []Candidate{{ID: noSupport}}}.TakenLining()
	require.False(t, ok)
}

// A shell that suits with no lining is not held against the linings: they are judged by
// themselves, and that is said.
func TestLiningsOfAShellThatDoesNotSuit(t *testing.T) {
	a := adviser(t)
	ans, err := a.Advise(makeUp(t, "coat, dropped-in-lining, shell silk-chiffon"), 3)
	require.NoError(t, err)
	require.Equal(t, Unsuited, ans.Judged.Verdict)
	require.Contains(t, ans.Notes, "The silk chiffon does not simply suit, whatever the lining is: the linings are judged by themselves.")
	for _, c := range ans.Linings {
		require.NotZero(t, c.Share, "a lining can be good though the shell is wrong: %v", c)
	}
}

// A demand that takes a fifth of the cloths under every lining is the shell's own.
func TestWhatNoLiningMends(t *testing.T) {
	a := adviser(t)
	always, mended, slight := &Demand{ID: "a"}, &Demand{ID: "b"}, &Demand{ID: "c"}
	judgedAt := func(costs ...float64) *judged {
		j := &judged{}
		for i, d := range []*Demand{always, mended, slight} {
			j.asked = append(j.asked, asked{demand: d, cost: costs[i]})
		}
		return j
	}
	b := a.beyondLinings([]*judged{judgedAt(0.9, 0.9, 0.19), judgedAt(0.2, 0.1, 0.9)})
	require.Equal(t, []*Demand{always}, b.demands)
}

// That none is needed stands first where makers take none, and is taken by nobody; with no shell
// to go by the linings are still told.
func TestNoLiningStandsFirst(t *testing.T) {
	a := *adviser(t)
	a.Picks = []Pick{{Of: "lining", First: []string{"cupro-lining"}, Also: []string{noSupport}}}
	m := makeUp(t, "coat, dropped-in-lining, shell wool-melton")
	list := func(m MakeUp) AdviseAnswer {
		var out AdviseAnswer
		a.linings(m, 3, &out)
		return out
	}
	ans := list(m)
	require.Len(t, ans.Linings, 4)
	require.Equal(t, noSupport, ans.Linings[0].ID)
	require.Equal(t, 1.0, ans.Linings[0].Share)
	require.Equal(t, "cupro-lining", ans.Linings[1].ID)
	require.Contains(t, ans.Notes, "The lining is taken to be "+ans.Linings[1].Name+"; name one with --lining.")
	a.Picks[0].Also = nil
	require.Equal(t, "cupro-lining", list(m).Linings[0].ID)
	m.Shell = nil
	ans = list(m)
	require.Len(t, ans.Linings, 3)
	require.Len(t, ans.Notes, 1, "nothing is said of a shell that nobody named: %v", ans.Notes)
}

// A second face may be the same cloth, another lining is never the shell.
func TestALiningOfTheShellsOwnCloth(t *testing.T) {
	a := adviser(t)
	has := func(words string) bool {
		m := makeUp(t, words)
		return slices.ContainsFunc(a.rankedLinings(m, &AdviseAnswer{}), func(j *judged) bool { return j.make.Lining.Cloth == m.Shell.Cloth })
	}
	require.True(t, has("half-circle-cape, bagged-lining, shell wool-flannel, wish reversible"))
	require.False(t, has("half-circle-cape, bagged-lining, shell viscose-twill"))
}

// What hangs on no lining: what is asked of the piece, the finish and the shell, and how it is
// sewn; not of the lining, its job or the layers together. Of the rules only those that speak
// against a make-up are put aside for it.
func TestWhatHangsOnNoLining(t *testing.T) {
	a := *adviser(t)
	bare := a.hangsOnNoLining()
	for name, want := range map[string]bool{"piece": true, "wishes": true, "finish.lined": true, "shell.cloth": true, "shell.mass": true, "shell.spring": true, "lining.cloth": false, "lining.mass": false, "lining.spring": false,
		"make-up.mass": false, "lining.care-lack": false, "lining.job": false, "interfacing": true, "seam": true, "edge.layers": true} {
		require.Equal(t, want, bare[a.place(name)], name)
	}
	rule := func(effect rules.Effect, facts ...string) *rules.Rule {
		r := &rules.Rule{Effect: effect}
		for _, f := range facts {
			r.Parts.Facts = append(r.Parts.Facts, a.place(f))
		}
		return r
	}
	a.Rules = []*rules.Rule{rule(rules.Against, "shell.mass"), rule(rules.Forbids, "piece"), rule(rules.For, "piece"), rule(rules.Caution, "piece"), rule(rules.Against, "piece", "lining.mass"), rule(rules.Forbids, "make-up.mass")}
	require.Equal(t, []bool{true, true, false, false, false, false}, a.beyondLinings(nil).rules)
	m := makeUp(t, "coat, dropped-in-lining, shell wool-melton, lining cupro-lining")
	m.past = &beyond{rules: []bool{true, false, false, false, false, false}}
	for i, r := range a.Rules {
		r.Parts.Facts = nil
		a.Rules[i], a.ruleAbout = r, make([]int, 6)
	}
	j := &judged{make: m, c: a.caseOf(m)}
	require.Len(t, a.objections(j), 3, "what is past is not held against it")
}

// A demand that is past is not asked.
func TestADemandThatIsPast(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "coat, dropped-in-lining, shell silk-chiffon, lining cupro-lining")
	all := a.judge(m)
	d := all.asked[0].demand
	m.past = &beyond{demands: []*Demand{d}, rules: make([]bool, len(a.Rules))}
	less := a.judge(m)
	require.Len(t, less.asked, len(all.asked)-1)
	require.NotSame(t, d, less.asked[0].demand)
}
