package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

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
