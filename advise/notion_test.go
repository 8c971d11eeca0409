package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Needles, threads and bindings that a maker takes first, and ones that none would.
// Source: common practice (a ball point for knits, a sharp one for close weaves and
// coatings, a wedge for leathercloth; thread of the cloth's own kind; a binding that
// bends round the edge, is thinner than the shell and is washed as it is).
func TestFirstNotions(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct{ kind, words, first, never string }{
		{"needle", "blouse, single-layer-hem, shell silk-chiffon", "standard-point", "wedge-point ball-point twin-needle"},
		{"needle", "stretch-top, single-layer-overlocked, shell cotton-interlock", "ball-point", "sharp-point wedge-point"},
		{"needle", "leggings, single-layer-overlocked, shell swim-knit", "stretch-point", "sharp-point standard-point wedge-point"},
		{"needle", "shirt, single-layer-hem, shell cotton-poplin", "sharp-point", "ball-point wedge-point"},
		{"needle", "rain-jacket, single-layer-hem, shell waxed-cotton", "sharp-point", "wedge-point ball-point"},
		{"needle", "casual-jacket, single-layer-hem, shell pu-leathercloth", "wedge-point", "standard-point ball-point"},
		{"needle", "loose-trousers, single-layer-hem, shell denim", "strong-sharp-point", "ball-point wedge-point"},
		{"needle", "tailored-jacket, dropped-in-lining, shell stretch-velvet", "ball-point", "sharp-point wedge-point"},
		{"thread", "shirt, single-layer-hem, shell cotton-poplin", "cotton-thread", "nylon-thread textured-thread strong-thread"},
		{"thread", "blouse, single-layer-hem, shell silk-crepe-de-chine", "silk-thread", "cotton-thread strong-thread nylon-thread"},
		{"thread", "leggings, single-layer-overlocked, shell swim-knit", "polyester-thread", "cotton-thread silk-thread nylon-thread"},
		{"thread", "coat, dropped-in-lining, shell wool-melton", "polyester-thread", "textured-thread cotton-thread"},
		{"thread", "rain-jacket, single-layer-hem, shell waxed-cotton", "polyester-thread", "cotton-thread"},
		{"binding", "blouse, single-layer-bound-edge, shell silk-chiffon", "net-or-organza-strip", "cotton-bias tape-or-braid leather-strip stretch-binding"},
		{"binding", "apron, single-layer-bound-edge, shell cotton-poplin", "own-bias", "lining-bias leather-strip stretch-binding"},
		{"binding", "apron, single-layer-bound-edge, shell cotton-drill", "cotton-bias", "lining-bias stretch-binding"},
		{"binding", "half-circle-cape, single-layer-bound-edge, shell tweed", "lining-bias", "own-bias stretch-binding"},
		{"binding", "blanket, single-layer-bound-edge, shell blanket-cloth", "lining-bias", "own-bias stretch-binding"},
		{"binding", "stretch-top, single-layer-bound-edge, shell cotton-jersey", "stretch-binding", "own-bias cotton-bias"},
	} {
		m := makeUp(t, x.words)
		c, _ := a.build(m)
		got := map[string]string{}
		list := a.notionsOf(c, x.kind)
		require.NotEmpty(t, list, x.words)
		for _, n := range list {
			require.NotEmpty(t, n.Say, n.ID)
			got[n.ID] = n.Effect
		}
		require.Equal(t, x.first, list[0].ID, "%s %s", x.kind, x.words)
		for _, id := range strings.Fields(x.never) {
			require.NotContains(t, []string{"for", WillDo}, got[id], "%s for %s", id, x.words)
		}
	}
}

// Every cloth has a needle and a thread to take first, and each with its reason; what
// the lists say is not said again among what to do.
func TestEveryClothHasANeedleAndAThread(t *testing.T) {
	a := adviser(t)
	piece := makeUp(t, "shirt, single-layer-hem")
	for _, k := range a.Shells() {
		m := piece
		m.Shell = subjectsOf(a.Shells())[0]
		m.Shell.Cloth = k
		c, _ := a.build(m)
		for _, kind := range []string{"needle", "thread"} {
			list := a.notionsOf(c, kind)
			require.NotEmpty(t, list, "%s for %s", kind, k.ID)
			require.Equal(t, "for", list[0].Effect, "%s for %s", kind, k.ID)
		}
	}
	ans, err := a.Advise(makeUp(t, "stretch-top, single-layer-overlocked, shell cotton-interlock"), 3)
	require.NoError(t, err)
	for _, w := range ans.Working {
		require.NotEqual(t, "knit-takes-a-ball-point", w.Rule)
	}
}

// A blind hem is right for thick hangings and pile, however thick. Source: common
// practice of curtain makers and tailors: turned once, its edge finished, it lies two
// thick, and only a yarn of the outer cloth is caught.
func TestThickClothHasABlindHem(t *testing.T) {
	a := adviser(t)
	for _, words := range []string{"curtain, sides-lined, shell upholstery-velvet, lining sateen-lining", "curtain, single-layer-hem, shell wool-serge",
		"coat, dropped-in-lining, shell wool-melton, lining viscose-twill", "curtain, sides-lined, shell velour-drape, lining sateen-lining"} {
		require.Contains(t, panelOffers(t, a, "edge", makeUp(t, words))[:3], "blind-hem", words)
	}
}
