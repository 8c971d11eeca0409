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

// A way out has not the fault that it is to be the way out of: the cover of a seat in the
// garden that soaks up the rain is not made of unproofed canvas instead.
func TestAWayOutHasAnotherFaultIfAny(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "seat-cushion, piped-edge, shell furnishing-repp, wish outdoors")
	ans, err := a.Check(m)
	require.NoError(t, err)
	was := failingOf(ans)
	require.Equal(t, "water", was.matter)
	of := func(id string) MakeUp {
		mm := m
		mm.Shell = &fibres.Subject{Cloth: a.Cat.Cloths[id]}
		return mm
	}
	var cloths int
	for _, x := range ans.Instead {
		if x.Change == "cloth" {
			cloths++
			require.False(t, a.failsSo(of(x.To), "water"), x.To)
		}
	}
	require.Positive(t, cloths)
	require.True(t, a.failsSo(of("cotton-canvas"), "water"))
	require.False(t, a.failsSo(of("cotton-canvas"), ""), "where nothing decides there is no fault to have again")
	otherwise := a.nearestCloths(m, failing{share: was.share})
	require.True(t, slices.ContainsFunc(otherwise, func(x Instead) bool { return a.failsSo(of(x.To), "water") }), "some that soak would do otherwise: %v", otherwise)
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

// Cloths that would do stand by how near they are to the shell, and of a name of several to the
// nearest of them; of a cloth without a name nothing is near.
func TestNearestCloths(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "half-circle-cape, single-layer-hem, shell cotton-duck")
	near := func(m MakeUp, like ...string) {
		t.Helper()
		far := func(id string) float64 {
			d := math.Inf(1)
			for _, k := range like {
				d = math.Min(d, a.unlike(a.Cat.Cloths[k], a.Cat.Cloths[id]))
			}
			return d - a.layerPicks(m, "shell")[id]
		}
		list := a.nearestCloths(m, failing{})
		require.Len(t, list, maxWaysOut)
		for i := range list[1:] {
			require.LessOrEqual(t, far(list[i].To), far(list[i+1].To), "%v", list)
		}
		for _, k := range a.Shells() { // none is nearer that would do
			if far(k.ID) < far(list[0].To) {
				mm := m
				mm.Shell = &fibres.Subject{Cloth: k}
				v, s := a.Verdict(mm)
				require.False(t, isWayOut(v, s, 0), k.ID)
			}
		}
	}
	near(m, "cotton-duck")
	m.Shell = &fibres.Subject{Name: "duck", May: []fibres.Weighted{{Cloth: a.Cat.Cloths["cotton-duck"], Part: 0.5}, {Cloth: a.Cat.Cloths["craft-felt"], Part: 0.5}}}
	near(m, "cotton-duck", "craft-felt")
	require.Empty(t, a.nearestCloths(m, failing{share: 0.9}), "none is better by so much")
	m.Shell = &fibres.Subject{Swatch: true, Name: "mine"}
	require.Empty(t, a.nearestCloths(m, failing{}))
}

// Other finishes that would do stand by their shares; a lined one only where a lining is named,
// and never the finish itself. Other pieces are of the same wearer, those of the group first.
func TestOtherFinishesAndPieces(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "half-circle-cape, single-layer-hem, shell wool-flannel")
	finishes := func(m MakeUp) []Instead {
		list := a.otherFinishes(m, 0)
		require.NotEmpty(t, list)
		require.LessOrEqual(t, len(list), maxWaysOut)
		for i, x := range list {
			require.NotEqual(t, m.Finish.ID, x.To)
			if i > 0 {
				require.GreaterOrEqual(t, list[i-1].Share, x.Share)
			}
		}
		return list
	}
	for _, x := range finishes(m) {
		f, err := a.Finish(x.To)
		require.NoError(t, err)
		require.False(t, f.Lined, x.To)
	}
	m.Lining = &fibres.Subject{Cloth: a.Cat.Cloths["viscose-twill"]}
	lined := 0
	for _, f := range a.Finishes {
		mm := m
		mm.Finish = f
		if v, s := a.Verdict(mm); f.Lined && isWayOut(v, s, 0) {
			lined++
		}
	}
	require.Positive(t, lined)
	finishes(m)
	m.Finish = nil
	require.Nil(t, a.otherFinishes(m, 0))

	pieces := a.otherPieces(makeUp(t, "half-circle-cape, single-layer-hem, shell wool-flannel"))
	require.Len(t, pieces, maxWaysOut)
	cape, _ := a.Piece("half-circle-cape")
	own := true
	for _, x := range pieces {
		p, err := a.Piece(x.To)
		require.NoError(t, err)
		require.NotSame(t, cape, p)
		require.Equal(t, cape.Wearer, p.Wearer)
		require.True(t, own || p.Group != cape.Group, "%v: the piece's own group goes first", pieces)
		own = p.Group == cape.Group
	}
}

// Another lining is looked for where there is one that hangs with the shell.
func TestWhereAnotherLiningIsLookedFor(t *testing.T) {
	a := adviser(t)
	changes := func(m MakeUp) map[string]int {
		n := map[string]int{}
		for _, x := range a.instead(m, failing{}) {
			n[x.Change]++
		}
		return n
	}
	m := makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining craft-felt")
	require.Positive(t, changes(m)["lining"])
	m.Finish = nil
	n := changes(m)
	require.Zero(t, n["lining"])
	require.Positive(t, n["cloth"])
}

// Where nobody knows what a cloth weighs, its weight makes it no less like.
func TestUnlikeWithoutAWeight(t *testing.T) {
	a := adviser(t)
	denim := a.Cat.Cloths["denim"]
	bare := *denim
	bare.ID = "no-such-cloth"
	require.Zero(t, a.unlike(denim, &bare))
	require.Zero(t, a.unlike(&bare, denim))
}
