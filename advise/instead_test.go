package advise

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// How unlike two cloths are: a step for the structure, two more for its class, a step for
// the main fibre, one for the group, and the logarithm of their weights.
func TestHowUnlikeTwoClothsAre(t *testing.T) {
	a := adviser(t)
	cloth := func(id string) *fibres.Cloth {
		require.NotNil(t, a.Cat.Cloths[id], id)
		return a.Cat.Cloths[id]
	}
	weight := func(x, y string) float64 {
		m := func(id string) float64 {
			return a.Cat.Estimate(fibres.Subject{Cloth: cloth(id)}, fibres.Mass).Typical
		}
		return math.Abs(math.Log(m(x) / m(y)))
	}
	for _, pair := range [][2]string{{"cotton-lawn", "cotton-voile"}, {"denim", "denim"}, {"wool-flannel", "silk-velvet"}, {"cotton-lawn", "craft-felt"}} {
		x, y := cloth(pair[0]), cloth(pair[1])
		want := weight(pair[0], pair[1])
		if x.Structure != y.Structure {
			want++
		}
		if x.Structure.Class != y.Structure.Class {
			want += 2
		}
		if x.Content[0].Fibre != y.Content[0].Fibre {
			want++
		}
		if x.Group != y.Group {
			want++
		}
		require.InDelta(t, want, a.unlike(x, y), 1e-9, "%v", pair)
		require.InDelta(t, want, a.unlike(y, x), 1e-9, "%v", pair)
	}
	require.Empty(t, mainFibre(&fibres.Cloth{}))
	require.Equal(t, "cotton", mainFibre(cloth("denim")))
}

// A way out suits, does for six in ten and is better than the make-up by 0.15; of one fibre and structure there is
// one, those nearer first, and no more than three.
func TestWhatIsAWayOut(t *testing.T) {
	a := adviser(t)
	ranked := func(id, verdict string, share float64) Ranked {
		return Ranked{Candidate: Candidate{ID: id, Name: id, Verdict: verdict, Share: share}, Subject: &fibres.Subject{Cloth: a.Cat.Cloths[id]}}
	}
	list := []Ranked{ranked("denim", Suits, 0.9), ranked("cotton-lawn", Suits, 0.64), ranked("wool-flannel", Borderline, 0.9), ranked("silk-taffeta", Suits, 0.65), ranked("cotton-voile", Suits, 0.8),
		ranked("linen-dress", Suits, 0.8), ranked("wool-melton", Suits, 0.7), {Candidate: Candidate{Verdict: Suits, Share: 1}, Subject: &fibres.Subject{Swatch: true}}}
	never := func(*fibres.Subject) bool { return false }
	w := waysOut{change: "cloth", share: 0.5, fails: never}
	w.take(list[3:4]) // the nearest
	w.take(slices.Delete(list, 3, 4))
	var ids []string
	for _, x := range w.found {
		ids = append(ids, x.To)
		require.Equal(t, "cloth", x.Change)
		require.Contains(t, x.Say, "would do")
	}
	require.Equal(t, []string{"silk-taffeta", "denim", "cotton-voile"}, ids)
	bad := waysOut{change: "cloth", share: 0.1, fails: never}
	bad.take([]Ranked{ranked("denim", Suits, 0.59), ranked("cotton-voile", Suits, 0.6)})
	require.Len(t, bad.found, 1, "what hardly does is no way out")
	require.Equal(t, "cotton-voile", bad.found[0].To)
}

// What suits has no way out, what does not has some that suit.
func TestWaysOutOfWhatDoesNotSuit(t *testing.T) {
	a := adviser(t)
	good, err := a.Check(makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill"))
	require.NoError(t, err)
	require.Equal(t, Suits, good.Verdict)
	require.Empty(t, good.Instead)
	m := makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining craft-felt")
	bad, err := a.Check(m)
	require.NoError(t, err)
	require.NotEqual(t, Suits, bad.Verdict)
	share, list := bad.Share, bad.Instead
	count := map[string]int{}
	for _, x := range list {
		count[x.Change]++
		require.Equal(t, Suits, x.Verdict, "%+v", x)
		if x.Change != "piece" {
			require.GreaterOrEqual(t, x.Share, share+0.15)
		}
		if x.Change == "piece" {
			p, err := a.Piece(x.To)
			require.NoError(t, err)
			require.Equal(t, m.Piece.Wearer, p.Wearer, "a cape for a grown person is not replaced by a child's")
		}
	}
	require.Positive(t, count["lining"], "the shell would do: another lining goes before another cloth")
	require.Zero(t, count["cloth"])
	for _, n := range count {
		require.LessOrEqual(t, n, 3)
	}
}

// Where the shell would do, one other lining is a way out as much as three are, and no
// other cloth is offered beside it.
func TestOneOtherLiningIsAWayOut(t *testing.T) {
	a := adviser(t)
	tried := 0
	for _, text := range []string{"bedroom-curtain, part-lined, shell cotton-poplin, lining cotton-sateen", "waist-apron, sides-lined, shell cotton-crash, lining silk-crepe-de-chine",
		"smock, piped-edge, shell swim-knit, lining pongee", "neckerchief, bagged-lining, shell linen-dress, lining silk-twill"} {
		m := makeUp(t, text)
		_, share := a.Verdict(m)
		if others := a.otherLinings(m, failing{share: share}); len(others) == 1 {
			tried++
			list := a.instead(m, failing{share: share})
			require.Equal(t, others[0], list[0], text)
			require.False(t, slices.ContainsFunc(list, func(x Instead) bool { return x.Change == "cloth" }), text)
		}
	}
	require.Positive(t, tried, "each of these has another number of other linings now: name some that have one")
}

// A way out is what the wish asks for too: no work cloth for the evening.
func TestWaysOutGrantTheWish(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "evening-bag, bagged-lining, shell denim, lining calico")
	m.Lining = nil
	evening, err := a.Wish("evening")
	require.NoError(t, err)
	wishes := []*Wish{evening}
	require.True(t, slices.ContainsFunc(a.nearestCloths(m, failing{share: 0.3}), func(x Instead) bool { return !a.grants(wishes, a.Cat.Cloths[x.To]) }), "without the wish work cloths are near")
	m.Wishes = wishes
	ways := a.nearestCloths(m, failing{share: 0.3})
	require.NotEmpty(t, ways)
	for _, x := range ways {
		k := a.Cat.Cloths[x.To]
		require.True(t, slices.ContainsFunc(append(slices.Clone(k.UsedFor), a.StockOf(k.ID).BoughtFor...), func(u string) bool { return strings.Contains(u, "evening") }), x.To)
	}
}

// A way out has not the fault that it is to be the way out of: a flag that soaks up the
// rain is not made of canvas instead.
func TestAWayOutHasAnotherFaultIfAny(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "outdoor-flag, single-layer-hem, shell bunting, wish outdoors")
	ans, err := a.Check(m)
	require.NoError(t, err)
	was := failingOf(ans)
	require.Equal(t, "water", was.matter)
	for _, x := range ans.Instead {
		if x.Change != "cloth" {
			continue
		}
		mm := m
		mm.Shell = &fibres.Subject{Cloth: a.Cat.Cloths[x.To]}
		require.False(t, a.failsSo(mm, "water"), x.To)
	}
	soaks := m
	soaks.Shell = &fibres.Subject{Cloth: a.Cat.Cloths["holland"]}
	require.True(t, a.failsSo(soaks, "water"))
	require.False(t, a.failsSo(soaks, ""), "where nothing decides there is no fault to have again")
	require.True(t, slices.ContainsFunc(a.nearestCloths(m, failing{share: was.share}), func(x Instead) bool { return x.To == "holland" }), "it would do otherwise, and is near")
}

// What makers take for the piece is a step nearer than what is only like the cloth.
func TestWaysOutAreWhatMakersTake(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "tailored-jacket, bagged-lining, shell silk-habotai, wish warm")
	ans, err := a.Check(m)
	require.NoError(t, err)
	taken := a.layerPicks(m, "shell")
	for _, x := range ans.Instead {
		if x.Change == "cloth" {
			require.Positive(t, taken[x.To], x.To)
		}
	}
}
