package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/data"
)

func withHouse(t testing.TB, file string) *Adviser {
	t.Helper()
	a, err := Load(data.FS, House{Name: "house.toml", Data: []byte(file)})
	require.NoError(t, err)
	return a
}

const noDenimWrap = `[[rule]]
id      = "no-denim-wrap"
when.piece       = "hooded-wrap"
when.shell.cloth = "cotton-lawn or cotton-voile or silk-chiffon"
effect  = "forbids"
say     = "Make no hooded wrap of these."
because = "They were tried and the third witch walked out."
basis   = "practice"
sources = ["own"]
`

func TestDifferenceTellsWhatARuleChanges(t *testing.T) {
	a := withHouse(t, "")
	b := withHouse(t, noDenimWrap)
	require.Empty(t, a.Difference(a))
	list := a.Difference(b)
	require.NotEmpty(t, list)
	for _, d := range list {
		require.Equal(t, "hooded-wrap", d.Piece, "no other piece is concerned")
		require.Equal(t, 3, d.Fires["no-denim-wrap"])
		require.Greater(t, d.Cloths, 200)
		for _, v := range d.Verdict {
			require.Contains(t, []string{"cotton-lawn", "cotton-voile", "silk-chiffon"}, v.Cloth)
			require.Equal(t, Unsuited, v.Is)
			require.NotEqual(t, Unsuited, v.Was)
		}
	}
	back := b.Difference(a)
	require.Len(t, back, len(list), "taking the rule away changes the same")
	require.Equal(t, list[0].Verdict[0].Was, back[0].Verdict[0].Is)
}

func TestDifferenceOfASilencedRule(t *testing.T) {
	a := withHouse(t, "")
	const id = "lining-frays-clip-after-joining"
	b := withHouse(t, "[[silence]]\nid = \""+id+"\"\nbecause = \"We overlock every lining first.\"\n")
	list := a.Difference(b)
	require.NotEmpty(t, list)
	for _, d := range list {
		require.Equal(t, "bagged-lining", d.Finish)
		require.Empty(t, d.Verdict, "a step of the work changes no verdict")
		require.NotZero(t, d.Fires[id])
		require.Less(t, d.Fires[id], d.Cloths, "not every lining frays")
	}
}

// A rule that only speaks against a cloth moves its verdict too, and what only recommends moves
// none; a rule of the lining is tried with linings, one of both with both.
func TestDifferenceByEffect(t *testing.T) {
	a := *adviser(t)
	verdicts := func(effect, harm string) (moved int) {
		b := withHouse(t, `[[rule]]
id      = "no-lawn-wrap"
when.piece       = "hooded-wrap"
when.shell.cloth = "cotton-lawn"
effect  = "`+effect+`"
`+harm+`say     = "Make no hooded wrap of lawn."
because = "The third witch walked out."
basis   = "practice"
sources = ["own"]
`)
		for _, d := range a.Difference(b) {
			require.Equal(t, 1, d.Fires["no-lawn-wrap"])
			require.Equal(t, "shell", d.Layer)
			for _, v := range d.Verdict {
				require.NotEqual(t, v.Was, v.Is)
				moved++
			}
		}
		return moved
	}
	require.Positive(t, verdicts("against", "matter  = \"fall\"\nharm    = 4\n"))
	require.Zero(t, verdicts("for", "matter  = \"fall\"\nharm    = 2\n"))
	names := func(facts ...string) [2]bool {
		r := &rules.Rule{}
		for _, f := range facts {
			r.Parts.Facts = append(r.Parts.Facts, a.place(f))
		}
		lining, other := a.names(r)
		return [2]bool{lining, other}
	}
	require.Equal(t, [2]bool{true, false}, names("lining.fray", "piece"))
	require.Equal(t, [2]bool{false, true}, names("piece", "shell.fray"))
	require.Equal(t, [2]bool{true, true}, names("make-up.mass", "lining.cloth", "piece"))
	require.Equal(t, [2]bool{false, false}, names("piece"))
	require.Equal(t, "denim", a.usual(a.Shells(), "denim").Cloth.ID)
	require.Equal(t, a.Shells()[0], a.usual(a.Shells(), "no-cloth").Cloth)
	require.Nil(t, a.usual(nil, "no-cloth").Cloth)
}

func BenchmarkDifference(b *testing.B) {
	x := withHouse(b, "")
	y := withHouse(b, `[[rule]]
id      = "cellar-cotton"
when.shell.fibre = "cotton"
effect  = "caution"
say     = "Wash the cotton of the cellar twice."
because = "The first wash of that bolt was never the last of its dye."
basis   = "practice"
sources = ["own"]
`)
	for b.Loop() {
		if len(x.Difference(y)) == 0 {
			b.Fatal("no difference")
		}
	}
}
