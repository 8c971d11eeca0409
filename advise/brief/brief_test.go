package brief

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres/units"
)

var loaded = sync.OnceValues(func() (*advise.Adviser, error) { return advise.Load(data.FS) })

func teller(t *testing.T) Teller {
	t.Helper()
	a, err := loaded()
	require.NoError(t, err)
	return Teller{Adviser: a, System: units.Metric}
}

// kept are make-ups of every verdict and sort: named and measured, child, stage, sheer,
// pile, knit, coated, lined and single (invented; nothing is asserted of one of them alone).
var kept = []string{
	"triangular-shawl, bagged-lining, shell cotton-lawn, lining silk-taffeta",
	"triangular-shawl, bagged-lining, shell wool-challis, lining silk-pongee",
	"triangular-shawl, bagged-lining, shell denim",
	"cowl, single-layer-bound-edge, shell double-gauze",
	"cowl, single-layer-bound-edge, shell viscose-twill",
	"half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill",
	"half-circle-cape, bagged-lining, shell silk-chiffon",
	"half-circle-cape, single-layer-hem, shell melton",
	"full-circle-skirt, single-layer-hem, shell silk-velvet",
	"full-circle-skirt, single-layer-hem, shell cotton-poplin",
	"gathered-skirt, single-layer-hem, shell cotton-voile",
	"wide-sash, single-layer-hem, shell silk-taffeta",
	"wide-sash, bagged-lining, shell cotton-sateen, lining silk-habotai",
	"stage-curtain, single-layer-hem, shell cotton-velveteen",
	"veil, single-layer-hem, shell silk-chiffon",
	"tote-bag, bagged-lining, shell cotton-canvas, lining cotton-percale",
	"apron, single-layer-hem, shell cotton-drill",
	"coat, bagged-lining, shell melton, lining viscose-lining",
	"leggings, single-layer-hem, shell cotton-jersey",
	"hooded-cloak, bagged-lining, shell wool-flannel, lining cotton-flannel",
	"child-cape, bagged-lining, shell wool-flannel, lining cotton-lawn, wearer child",
	"tunic, single-layer-hem, shell linen",
}

// makeUps parses the kept make-ups; a name that the data do not have is passed over,
// but most must be there.
func makeUps(t *testing.T, a *advise.Adviser) map[string]advise.MakeUp {
	t.Helper()
	out := map[string]advise.MakeUp{}
	for _, text := range kept {
		if m, err := a.ParseCase(text); err == nil {
			out[text] = m
		}
	}
	require.Greater(t, len(out), len(kept)*3/4, "most of the kept make-ups are of cloths and pieces that there are")
	return out
}

// checkBudget is how many words a verdict may take (our own limit), safety of the
// make-up apart.
const checkBudget = 150

func TestVerdictsAreShort(t *testing.T) {
	tell := teller(t)
	total, n := 0, 0
	for text, m := range makeUps(t, tell.Adviser) {
		ans, err := tell.Adviser.Check(m)
		require.NoError(t, err, text)
		b := tell.Check(m, ans)
		words := b.Words()
		for _, l := range b.Lines(Mind) {
			if safetyLine(tell.Adviser, l) {
				words -= len(strings.Fields(l))
			}
		}
		require.LessOrEqual(t, words, checkBudget, "%s:\n%+v", text, b)
		total += words
		n++
	}
	t.Logf("mean of %d verdicts: %d words", n, total/n)
}

// safetyLine reports whether a line is of a rule that keeps somebody from harm.
func safetyLine(a *advise.Adviser, line string) bool {
	for _, r := range a.Rules {
		if r.Say == line {
			return r.Harm == hurts
		}
	}
	return false
}

func TestNothingIsSaidTwiceInOneAnswer(t *testing.T) {
	tell := teller(t)
	for text, m := range makeUps(t, tell.Adviser) {
		ans, err := tell.Adviser.Check(m)
		require.NoError(t, err, text)
		seen := map[string]bool{}
		for _, p := range tell.Check(m, ans).Parts {
			for _, l := range p.Lines {
				k := strings.ToLower(l)
				require.False(t, seen[k], "%s says twice: %s", text, l)
				seen[k] = true
			}
		}
	}
}

// Every rule that keeps somebody from harm is told in its own case, however full the
// answer is: in the verdict, or under a step where it is a danger of the bench.
func TestSafetyIsNeverCutToFit(t *testing.T) {
	tell := teller(t)
	asked := 0
	for _, r := range tell.Adviser.Rules {
		if r.Harm != hurts || atBench(r) || len(r.Fires) == 0 || judgedAlready(note{rule: r}) {
			continue
		}
		m, err := tell.Adviser.ParseCase(r.Fires[0])
		require.NoError(t, err, r.ID)
		if m.Piece == nil || m.Shell == nil {
			continue
		}
		ans, err := tell.Adviser.Check(m)
		require.NoError(t, err, r.ID)
		asked++
		require.True(t, tellsMatter(tell, tell.Check(m, ans), r.Matter), "%s: nothing of the matter %s is said for %q", r.ID, r.Matter, r.Fires[0])
	}
	require.Greater(t, asked, 10, "cases in which safety is at stake")
}

// tellsMatter reports whether an answer has a line of a rule of the matter.
func tellsMatter(tell Teller, b Brief, matter string) bool {
	for _, r := range tell.Adviser.Rules {
		if r.Matter != matter {
			continue
		}
		for _, l := range b.Lines(Mind) {
			if l == r.Say {
				return true
			}
		}
	}
	return false
}

// A verdict that is not "suits" says why; one that does not do offers a way out where
// there is one.
func TestNoBringsReasonAndWayOut(t *testing.T) {
	tell := teller(t)
	noes := 0
	for text, m := range makeUps(t, tell.Adviser) {
		ans, err := tell.Adviser.Check(m)
		require.NoError(t, err, text)
		b := tell.Check(m, ans)
		require.NotEmpty(t, b.Lines(Why), text)
		if ans.Verdict == advise.Suits {
			require.Empty(t, b.Lines(Instead), text)
			require.True(t, strings.HasPrefix(b.Head, "Suits"), b.Head)
			continue
		}
		noes++
		if len(ans.Instead) > 0 {
			require.NotEmpty(t, append(b.Lines(Instead), b.Lines(Change)...), text)
		}
	}
	require.NotZero(t, noes)
}

func TestWorkIsOrderedAndShort(t *testing.T) {
	tell := teller(t)
	for text, m := range makeUps(t, tell.Adviser) {
		ans, err := tell.Adviser.Advise(m, 6)
		require.NoError(t, err, text)
		b := tell.Work(m, ans, nil)
		require.NotEmpty(t, b.Steps, text)
		for _, s := range b.Steps {
			require.LessOrEqual(t, len(strings.Fields(s.Say)), maxStepWords+6, "%s: %s", text, s.Say)
		}
		at := -1
		for _, p := range b.Parts {
			i := slices.Index(labels, p.Label)
			require.GreaterOrEqual(t, i, at, "%s: %s stands in the wrong place", text, p.Label)
			at = i
		}
	}
}

func TestSeveral(t *testing.T) {
	for _, x := range []struct{ name, want string }{
		{"cotton lawn", "cotton lawns"}, {"double gauze", "double gauzes"}, {"batiste", "batistes"},
		{"broadcloth (US)", "cloths sold as broadcloth (US)"}, {"canvas", "cloths sold as canvas"}, {"viscose lining", "cloths sold as viscose lining"},
		{"dimity", "dimities"}, {"viscose crêpe", "cloths sold as viscose crêpe"}, {"mesh", "meshes"},
	} {
		require.Equal(t, x.want, several(x.name))
	}
}
