package advise

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/fault"
)

func TestAMakeUpOfWhichTooLittleIsNamed(t *testing.T) {
	a := adviser(t)
	_, err := a.Check(MakeUp{Piece: a.Pieces[0]})
	require.Equal(t, "no cloth is named", fault.All(err)[0].What)
	_, err = a.Check(MakeUp{Shell: &fibres.Subject{Cloth: a.Cat.Cloths["denim"]}})
	require.Equal(t, "no piece is named", fault.All(err)[0].What)
	require.Equal(t, "--piece", fault.All(err)[0].Where)
}

// An answer repeats what was asked by its ids, so that it can be asked again.
func TestAnAnswerRepeatsTheMakeUp(t *testing.T) {
	m := makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill, seam plain-seam, edge bound-edge, interfacing light-canvas")
	if m.Interfacing == nil {
		t.Fatal("the make-up was not read")
	}
	m.Wearer = "child"
	s := IDsOf(m)
	require.Equal(t, MakeUpIDs{Cloth: "wool-flannel", Lining: "viscose-twill", Piece: "half-circle-cape", Finish: "bagged-lining", Wearer: "child",
		Seam: m.Seam.ID, Edge: m.Edge.ID, Interfacing: m.Interfacing.ID}, s)
	require.Equal(t, "gold", IDsOf(MakeUp{Shell: &fibres.Subject{Swatch: true, Name: "gold", Cloth: adviser(t).Cat.Cloths["denim"]}}).Cloth)
}

// What a lining is judged for depends on whether it hangs with the shell, and what was
// not named is told.
func TestWhatIsSaidOfALining(t *testing.T) {
	a := adviser(t)
	notes := func(words string) []string {
		ans, err := a.Check(makeUp(t, words))
		require.NoError(t, err)
		return ans.Notes
	}
	const alone, loose = "No lining is named: the shell is judged by itself. Add --lining to judge both together.", "has no full lining"
	require.Contains(t, notes("half-circle-cape, bagged-lining, shell wool-flannel"), alone)
	require.NotContains(t, notes("half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill"), alone)
	require.NotContains(t, notes("half-circle-cape, single-layer-hem, shell wool-flannel"), alone)
	require.Contains(t, notes("half-circle-cape, single-layer-hem, shell wool-flannel, lining viscose-twill")[0], loose)
	require.NotContains(t, strings.Join(notes("half-circle-cape, shell wool-flannel, lining viscose-twill"), " "), loose, "of no finish nobody knows")
}

// Demands stand with the worst met first; each says what is had, wanted and on which
// side the cloth misses it.
func TestDemandsTheWorstMetFirst(t *testing.T) {
	a := adviser(t)
	ans, err := a.Check(makeUp(t, "triangular-shawl, single-layer-hem, shell denim"))
	require.NoError(t, err)
	require.Greater(t, len(ans.Demands), 2)
	for i := range ans.Demands[1:] {
		require.LessOrEqual(t, ans.Demands[i].Share, ans.Demands[i+1].Share)
	}
	stands := 0
	for _, d := range ans.Demands {
		if d.Fact == "make-up.stand-off" {
			stands++
			require.True(t, d.Known)
			require.Equal(t, "cm", d.Have.Unit)
			require.Greater(t, d.Have.Typical, d.Need.Ideal[1], "denim stands out of a shawl")
			require.Less(t, d.Share, 0.5)
			require.NotEmpty(t, d.Missing)
			require.NotEmpty(t, d.Have.Sources)
		}
		if d.Known && d.Share == 1 {
			require.Empty(t, d.Missing, d.ID)
		}
	}
	require.Equal(t, 1, stands)
}

// A doubt is settled by the home test of what the demand is made of; the doubt that
// weighs most comes first, a test comes once, and what was measured is not asked again.
func TestWhatSettlesTheDoubt(t *testing.T) {
	a := adviser(t)
	ask := func(m MakeUp) []Settle {
		ans, err := a.Check(m)
		require.NoError(t, err)
		return ans.Settle
	}
	m := makeUp(t, "triangular-shawl, bagged-lining, shell cotton-lawn, lining silk-taffeta")
	list := ask(m)
	require.NotEmpty(t, list)
	seen := map[string]bool{}
	for _, s := range list {
		require.False(t, seen[s.Test], "%s stands twice", s.Test)
		seen[s.Test] = true
		require.Contains(t, s.Say, " test on shell and lining decides ")
		require.NotEmpty(t, s.How)
	}
	require.True(t, seen["ruler-droop"])
	one := m.Shell.With(a.Cat, fibres.BendingLength, 1.2, 1.2)
	m.Shell = &one
	require.Equal(t, "ruler-droop", settledBy(ask(m), "ruler-droop"), "the lining is not measured yet")
	two := m.Lining.With(a.Cat, fibres.BendingLength, 1.2, 1.2)
	m.Lining = &two
	require.Empty(t, settledBy(ask(m), "ruler-droop"))

	require.True(t, tested(&one, "ruler-droop"))
	require.False(t, tested(&one, "scale"))
	require.False(t, tested(nil, "ruler-droop"))
	require.False(t, tested(&fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.Mass: {Basis: fibres.Derived}}}, "scale"), "what was reckoned was not tested")
}

func settledBy(list []Settle, test string) string {
	for _, s := range list {
		if s.Test == test {
			return s.Test
		}
	}
	return ""
}

// The fall is told where the bending length is known, and a flap only of a piece that has one.
func TestTheFallOfAMakeUp(t *testing.T) {
	a := adviser(t)
	f := a.FallOf(MakeUp{Shell: &fibres.Subject{Cloth: a.Cat.Cloths["denim"]}})
	require.NotNil(t, f)
	require.Zero(t, f.StandOff.Typical)
	require.Equal(t, "g/m2", f.Mass.Unit)
	require.InEpsilon(t, a.Cat.Estimate(fibres.Subject{Cloth: a.Cat.Cloths["denim"]}, fibres.Mass).Typical, f.Mass.Typical, 0.05)
	cape := a.FallOf(makeUp(t, "half-circle-cape, single-layer-hem, shell denim"))
	require.Greater(t, cape.StandOff.Typical, 0.0)
	require.Zero(t, f.FoldWidth.Typical)
	require.Greater(t, cape.FoldWidth.Typical, 0.0)
	require.Contains(t, cape.FoldWidth.Because, "right within a factor of two")
	require.Nil(t, a.FallOf(MakeUp{}))
}

// A demand in an answer: what is asked in words where it is graded, and nothing is had of what
// is not known.
func TestADemandInAnAnswer(t *testing.T) {
	a := adviser(t)
	fray := a.place("shell.fray")
	d := &Demand{ID: "fray", Fact: "shell.fray", fact: fray, graded: true, scale: fibres.FrayScale, Words: [2]string{"none", "low"}, Ideal: Bounds{0, 1}, Limit: Bounds{0, 2}}
	j := &judged{make: MakeUp{Shell: &fibres.Subject{}}}
	got := a.sayDemand(j, asked{demand: d, known: true, column: []float64{3}, share: 0, allow: 1})
	require.Equal(t, []string{"none", "low"}, got.Need.Words)
	require.Equal(t, [2]float64{0, 1}, got.Need.Ideal)
	require.Equal(t, [2]float64{0, 2}, got.Need.Limit)
	require.Equal(t, 3.0, got.Have.Typical)
	require.NotEmpty(t, got.Missing)
	require.Empty(t, a.sayDemand(j, asked{demand: d, known: true, column: []float64{1}, share: 1}).Missing)
	unknown := a.sayDemand(j, asked{demand: d})
	require.Equal(t, fibres.Unknown, unknown.Have.Basis)
	require.Equal(t, "not known of this cloth", unknown.Have.Because)
	require.Nil(t, a.sayDemand(j, asked{demand: &Demand{Fact: "make-up.mass", fact: a.place("make-up.mass")}}).Need.Words, "figures have no words")
}

// Home tests stand by how much of the doubt they settle: first of demands, an even split
// before all else, then of rules that may apply, no more than four; each once.
func TestInWhichOrderDoubtsAreSettled(t *testing.T) {
	a := adviser(t)
	ask := func(id string, share float64) asked {
		return asked{demand: &Demand{ID: id, fact: a.place("shell." + id)}, known: share >= 0, share: max(0, share)}
	}
	denim := a.Cat.Cloths["denim"]
	settled := func(m MakeUp, ans CheckAnswer, asked ...asked) (out []string) {
		j := &judged{make: m, asked: asked}
		j.c = a.caseOf(m)
		for _, s := range a.settle(j, ans) {
			out = append(out, s.Test+": "+s.Decides)
		}
		return out
	}
	plain := MakeUp{Shell: &fibres.Subject{Cloth: denim}}
	require.Equal(t, []string{"thumbnail-fray: fray", "scale: mass", "fist-crush: crease", "pile-of-ten: thickness"},
		settled(plain, CheckAnswer{}, ask("crease", 0.9), ask("mass", 0.3), ask("fray", 0.5), ask("stretch", 0.95), ask("wear", 0.05), ask("thickness", -1), ask("slip", 1)))
	require.Equal(t, []string{"scale: mass"}, settled(plain, CheckAnswer{}, ask("mass", 0.94), ask("mass", 0.93)), "each once")
	require.Len(t, settled(plain, CheckAnswer{}, ask("mass", 0.06)), 1)
	require.Empty(t, settled(plain, CheckAnswer{}, asked{demand: &Demand{fact: a.place("piece")}, known: true, share: 0.5}), "no test settles what was said")

	weighed := plain.Shell.With(a.Cat, fibres.Mass, 300, 300)
	require.Empty(t, settled(MakeUp{Shell: &weighed}, CheckAnswer{}, ask("mass", 0.5)))
	require.Len(t, settled(MakeUp{Shell: &weighed, Lining: plain.Shell}, CheckAnswer{}, ask("mass", 0.5)), 1, "the lining is not weighed")
	require.Len(t, settled(MakeUp{Shell: plain.Shell, Lining: &weighed}, CheckAnswer{}, ask("mass", 0.5)), 1, "the shell is not weighed")
	require.Empty(t, settled(MakeUp{Shell: &weighed, Lining: &weighed}, CheckAnswer{}, ask("mass", 0.5)))

	fray := a.place("shell.fray")
	i := slices.IndexFunc(a.Rules, func(r *rules.Rule) bool {
		tested := slices.DeleteFunc(slices.Clone(r.Facts()), func(f int) bool { _, ok := a.testFor(f); return !ok })
		return slices.Equal(tested, []int{fray})
	})
	require.GreaterOrEqual(t, i, 0, "no rule asks of the fray of the shell, and of nothing else that a test settles")
	maybe := Reason{Rule: a.Rules[i].ID}
	require.Equal(t, []string{"thumbnail-fray: fray"}, settled(plain, CheckAnswer{Reasons: []Reason{maybe}}))
	firm, open := maybe, maybe
	firm.Firm, open.Open = true, []string{"shell.lightness"}
	require.Empty(t, settled(plain, CheckAnswer{Reasons: []Reason{firm, open, {Rule: "none"}}}))
	three := []asked{ask("mass", 0.5), ask("crease", 0.5), ask("slip", 0.5)}
	require.Len(t, settled(plain, CheckAnswer{Reasons: []Reason{maybe}}, three...), 4)
	require.Len(t, settled(plain, CheckAnswer{Reasons: []Reason{maybe}}, append(three, ask("wear", 0.5))...), 4, "no fifth for a rule")
	known := plain.Shell.With(a.Cat, fibres.Mass, 300, 300)
	known.Known = map[fibres.Property]fibres.Estimate{fibres.Fray: {Low: 2, Typical: 2, High: 2, Basis: fibres.Published}}
	require.Empty(t, settled(MakeUp{Shell: &known}, CheckAnswer{Reasons: []Reason{maybe}}), "all of them fray alike")
}
