package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// Ranking the shells by hand gives what advise gives.
func TestRankingIsThatOfAdvise(t *testing.T) {
	a := adviser(t)
	m, err := a.ParseCase("half-circle-cape, bagged-lining")
	require.NoError(t, err)
	ans, err := a.Advise(m, 0)
	require.NoError(t, err)
	var shells []*fibres.Subject
	for _, c := range a.Shells() {
		shells = append(shells, &fibres.Subject{Cloth: c})
	}
	got := a.RankShells(m, shells)
	require.Len(t, got, len(ans.Cloths))
	for i := range got {
		require.Equal(t, ans.Cloths[i], got[i].Candidate)
		require.Equal(t, got[i].ID, got[i].Subject.Cloth.ID)
	}
}

// A shell said to weigh far more than the piece bears falls in the ranking.
func TestRankingHearsWhatTheUserSays(t *testing.T) {
	a := adviser(t)
	m, err := a.ParseCase("triangular-shawl, single-layer-hem")
	require.NoError(t, err)
	plain := &fibres.Subject{Cloth: a.Cat.Cloths["viscose-twill"]}
	heavy := plain.With(a.Cat, fibres.Mass, 600, 600)
	got := a.RankShells(m, []*fibres.Subject{&heavy, plain})
	require.Same(t, plain, got[0].Subject)
	require.Greater(t, got[0].Share, got[1].Share)
}

// A cloth of which nothing is known that the piece asks is not judged: it stands
// behind those that suit, and no share is claimed for it.
func TestNothingKnownIsNotJudged(t *testing.T) {
	a := adviser(t)
	m, err := a.ParseCase("half-circle-cape, bagged-lining")
	require.NoError(t, err)
	known := &fibres.Subject{Cloth: a.Cat.Cloths["wool-flannel"]}
	nothing := &fibres.Subject{Swatch: true, Name: "remnant"}
	got := a.RankShells(m, []*fibres.Subject{nothing, known})
	require.Same(t, known, got[0].Subject)
	require.False(t, got[0].Unjudged)
	require.True(t, got[1].Unjudged)
	require.NotEqual(t, Suits, got[1].Verdict)
	require.Zero(t, got[1].Share)
	require.Contains(t, got[1].Say, "not judged")
	m.Shell = nothing
	ans, err := a.Check(m)
	require.NoError(t, err)
	require.True(t, ans.Unjudged)
	require.NotEqual(t, Suits, ans.Verdict)
	weighed := nothing.With(a.Cat, fibres.Mass, 300, 300)
	m.Shell = &weighed
	ans, err = a.Check(m)
	require.NoError(t, err)
	require.False(t, ans.Unjudged, "one figure is something to judge by")
	require.Equal(t, Suits, ans.Verdict)
}

// The flap that is drawn stands off as far as the one that is judged.
func TestFlapHangsAsItIsJudged(t *testing.T) {
	a := adviser(t)
	m, err := a.ParseCase("half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill")
	require.NoError(t, err)
	for _, c := range []units.Length{0.8, 1.5, 2.4, 4} {
		f, ok := a.FlapOf(m, c, 300)
		require.True(t, ok)
		fall, err := hang.Hang(f, 0)
		require.NoError(t, err)
		shell, lining := layersOf(m)
		strip, g, k := a.strip(m, shell+lining)
		want := exactStandOff(flapKind{m.Piece.Flap, strip, g, k}, float64(c))
		// The table of strips is good to 0.1 % of the flap.
		require.InDelta(t, want, float64(fall.StandOff), 0.002*float64(m.Piece.Flap), "c = %v", c)
	}
	_, ok := a.FlapOf(MakeUp{}, 2, 200)
	require.False(t, ok)
}

func TestVerdictIsThatOfCheck(t *testing.T) {
	a := adviser(t)
	for _, text := range []string{"half-circle-cape, shell wool-flannel", "triangular-shawl, single-layer-hem, shell cotton-duck", "cowl, shell viscose-twill"} {
		m, err := a.ParseCase(text)
		require.NoError(t, err)
		ans, err := a.Check(m)
		require.NoError(t, err)
		verdict, share := a.Verdict(m)
		require.Equal(t, ans.Verdict, verdict, text)
		require.Equal(t, ans.Share, share, text)
	}
	verdict, share := a.Verdict(MakeUp{})
	require.Equal(t, Unsuited, verdict)
	require.Zero(t, share)
}

// The flap whose fall is judged: as long as the piece says, with its strip, where there is one.
func TestTheFlapOfAMakeUp(t *testing.T) {
	a := adviser(t)
	m := MakeUp{Piece: &Piece{Flap: 12}, Finish: &Finish{Layers: 1, StripWidth: 0.5, StripLayers: 3}}
	f, ok := a.FlapOf(m, 3, 200)
	require.True(t, ok)
	g := hang.RigidityFromBendingLength(3, 200)
	require.Equal(t, []hang.Segment{{Length: 11.5, Rigidity: g, Mass: 200}, {Length: 0.5, Rigidity: g * 3, Mass: 600}}, f.Segments)
	m.Finish = nil
	f, ok = a.FlapOf(m, 3, 200)
	require.True(t, ok)
	require.Equal(t, []hang.Segment{{Length: 12, Rigidity: g, Mass: 200}}, f.Segments)
	for name, bad := range map[string]func() (hang.Flap, bool){
		"no piece": func() (hang.Flap, bool) { return a.FlapOf(MakeUp{}, 3, 200) }, "no flap": func() (hang.Flap, bool) { return a.FlapOf(MakeUp{Piece: &Piece{}}, 3, 200) },
		"not known how stiff": func() (hang.Flap, bool) { return a.FlapOf(m, 0, 200) }, "nor how heavy": func() (hang.Flap, bool) { return a.FlapOf(m, 3, 0) },
	} {
		_, ok := bad()
		require.False(t, ok, name)
	}
}
