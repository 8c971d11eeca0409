package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

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
	require.Nil(t, a.FallOf(MakeUp{}))
}
