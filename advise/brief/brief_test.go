package brief

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres"
	"tenter/fibres/units"
	"tenter/internal/testkit"
)

var adviser = testkit.Loaded(func() (*advise.Adviser, error) { return advise.Load(data.FS) })

func teller(t *testing.T) Teller {
	t.Helper()
	return Teller{Adviser: adviser(t), System: units.Metric}
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
	"hooded-cloak, bagged-lining, shell wool-flannel, lining flannelette",
	"child-cape, bagged-lining, shell wool-flannel, lining cotton-lawn, wearer child",
	"tunic, single-layer-hem, shell linen",
}

// makeUps parses the kept make-ups: every name in them must be one.
func makeUps(t *testing.T, a *advise.Adviser) map[string]advise.MakeUp {
	t.Helper()
	out := map[string]advise.MakeUp{}
	for _, text := range kept {
		m, err := a.ParseCase(text)
		require.NoError(t, err, text)
		out[text] = m
	}
	return out
}

// sampled are make-ups from the usual ones, spread over pieces, finishes and cloths.
func sampled(a *advise.Adviser) map[string]advise.MakeUp {
	out := map[string]advise.MakeUp{}
	for i, m := range usual(a) {
		if i%5 == 0 || !testing.Short() && i%2 == 0 {
			text := m.Piece.ID + ", " + m.Finish.ID + ", " + m.Shell.Label()
			if m.Lining != nil {
				text += " + " + m.Lining.Label()
			}
			out[text] = m
		}
	}
	return out
}

// answers are the verdict on a make-up and how to work it, in the units of the teller.
func answers(t *testing.T, tell Teller, text string, m advise.MakeUp) (check, work Brief) {
	t.Helper()
	ans, err := tell.Adviser.Advise(m, 6)
	require.NoError(t, err, text)
	judged, err := tell.Adviser.Check(m)
	require.NoError(t, err, text)
	return tell.Check(m, judged), tell.Work(m, ans, nil)
}

// An answer keeps its budget of words and lines. Only what keeps somebody from harm may
// take it beyond, and then nothing else is left that could go.
func TestAnswersKeepTheirBudget(t *testing.T) {
	tell := teller(t)
	total, n := 0, 0
	for text, m := range makeUps(t, tell.Adviser) {
		check, work := answers(t, tell, text, m)
		inBudget(t, tell, text, check, BudgetCheck)
		inBudget(t, tell, text, work, BudgetAdvise)
		total += check.Words()
		n++
	}
	t.Logf("mean of %d verdicts: %d words", n, total/n)
}

func inBudget(t *testing.T, tell Teller, text string, b Brief, max Budget) {
	t.Helper()
	if b.Words() <= max.Words && b.Height() <= max.Lines {
		return
	}
	words, lines := b.Words(), b.Height()
	for _, l := range b.Lines(Mind) {
		if safetyLine(tell.Adviser, l) {
			words, lines = words-len(strings.Fields(l)), lines-wrapped(l, columns-labelWide)
			continue
		}
		require.LessOrEqual(t, len(b.Lines(Mind)), b.kept, "%s: advice stands in an answer that is too long: %s", text, l)
	}
	require.LessOrEqual(t, words, max.Words, "%s:\n%+v", text, b)
	require.LessOrEqual(t, lines, max.Lines, "%s:\n%+v", text, b)
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

// One voice speaks on a matter, and nothing is said twice, over pieces, finishes and
// cloths. A safety matter may stand under a step and nowhere else.
func TestOneVoicePerMatter(t *testing.T) {
	tell := teller(t)
	matter := map[string]string{}
	for _, r := range tell.Adviser.Rules {
		matter[r.Say] = r.Matter
	}
	for text, m := range sampled(tell.Adviser) {
		check, work := answers(t, tell, text, m)
		for _, b := range []Brief{check, work} {
			said, voices := map[string]bool{}, map[string]string{}
			hear := func(line string) {
				k := strings.ToLower(line)
				require.False(t, said[k], "%s says twice: %s", text, line)
				said[k] = true
				if x := matter[line]; x != "" {
					require.Empty(t, voices[x], "%s: two voices on %s: %q", text, x, line)
					voices[x] = line
				}
			}
			for _, p := range b.Parts {
				for _, l := range p.Lines {
					hear(l)
				}
			}
			for _, s := range b.Steps {
				for _, l := range s.Mind {
					hear(l)
				}
			}
		}
	}
}

// With imperial units no metric figure is left in an answer, and with both every
// length has its inches.
func TestImperialLeavesNoMetricFigure(t *testing.T) {
	metric := regexp.MustCompile(`\d ?(mm|cm|m|g/m[2²]|°C)([^a-z0-9²/]|$)`)
	require.True(t, metric.MatchString("Grade: shell 6 mm, lining 3 mm."), "the check finds what it is for")
	tell := teller(t)
	tell.System = units.Imperial
	for text, m := range sampled(tell.Adviser) {
		check, work := answers(t, tell, text, m)
		for _, b := range []Brief{check, work} {
			for _, line := range allText(b) {
				require.False(t, metric.MatchString(line), "%s: %s", text, line)
			}
		}
	}
	tell.System = units.Both
	m := makeUps(t, tell.Adviser)["half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill"]
	_, work := answers(t, tell, "", m)
	cm := regexp.MustCompile(`\d ?(cm|mm)\b`)
	for _, line := range allText(work) {
		if cm.MatchString(line) {
			require.Regexp(t, `\bin\b|to the inch`, line)
		}
	}
}

// allText is every line of an answer.
func allText(b Brief) []string {
	out := []string{b.Head}
	for _, p := range b.Parts {
		out = append(out, p.Lines...)
		for _, r := range p.Rows {
			out = append(out, r...)
		}
	}
	for _, s := range b.Steps {
		out = append(append(out, s.Say), s.Mind...)
	}
	return out
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
		require.NotEmpty(t, append(b.Lines(Why), b.Lines(But)...), text)
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
		require.True(t, len(b.Steps) > 0 || ans.Judged.Verdict == advise.Unsuited, "%s has no order of work", text)
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

// What could be made of a cloth begins with what shops say it is bought for (data/stocked.csv,
// common practice): no hat before a dress of sateen.
func TestPiecesBeginWithWhatTheClothIsBoughtFor(t *testing.T) {
	tell := teller(t)
	for id, wants := range map[string]string{"cotton-sateen": "dress", "cotton-lawn": "blouse", "wool-flannel": "skirt", "denim": "skirt"} {
		s := &fibres.Subject{Cloth: tell.Adviser.Cat.Cloths[id]}
		b := tell.Pieces(s, tell.Adviser.RankPieces(advise.MakeUp{Shell: s}))
		var yes []string
		for _, p := range b.Parts {
			if p.Label == "Yes" {
				for _, r := range p.Rows {
					yes = append(yes, r[0])
				}
			}
		}
		require.Contains(t, strings.Join(yes, "; "), wants, id)
		require.NotContains(t, yes[0], "hat", id)
	}
}

// What speaks for a make-up that suits is met, and is not that the cloth hides what is
// behind it, unless the thing is sheer on purpose.
func TestWhyIsAReason(t *testing.T) {
	a, tell := adviser(t), teller(t)
	for _, text := range []string{
		"ball-skirt, single-layer-hem, shell silk-taffeta", "childs-dungarees, single-layer-hem, shell needlecord",
		"evening-cape, single-layer-hem, shell silk-velvet", "tailored-trousers, single-layer-hem, shell wool-serge",
		"half-circle-skirt, single-layer-hem, shell viscose-twill", "veil, single-layer-hem, shell silk-chiffon",
	} {
		m, err := a.ParseCase(text)
		require.NoError(t, err)
		ans, err := a.Check(m)
		require.NoError(t, err)
		require.Equal(t, advise.Suits, ans.Verdict, text)
		d := deciding(m, ans.Demands)
		require.NotNil(t, d, text)
		require.GreaterOrEqual(t, d.Share, 0.75, text)
		if strings.HasSuffix(d.Fact, "show-through") {
			require.Equal(t, "veil", m.Piece.ID)
		}
		check := tell.Check(m, ans)
		require.NotContains(t, strings.Join(check.Lines(Why), " "), "slip under it", text)
	}
}
