package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
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

// What warns of a notion goes before what recommends it, and that before what lets it pass;
// of two alike the first has the word. One of which no case speaks is left out.
func TestWhichCaseOfANotionSpeaks(t *testing.T) {
	a := *adviser(t)
	a.Rules = []*rules.Rule{{ID: "first", Because: "of the first"}, {ID: "r", Because: "of the rule"}}
	require.Same(t, a.Rules[0], a.RuleByID("first"))
	require.Same(t, a.Rules[1], a.RuleByID("r"))
	require.Nil(t, a.RuleByID("none"))
	c := a.caseOf(MakeUp{Shell: &fibres.Subject{}})
	never := a.knitsAlone(t)
	for name, x := range map[string]struct {
		cases       []NotionCase
		effect, say string
	}{
		"nothing":             {nil, "", "own"},
		"let pass":            {[]NotionCase{{Effect: WillDo}}, WillDo, "own"},
		"for, then let pass":  {[]NotionCase{{Effect: "for", Say: "a"}, {Effect: WillDo, Say: "b"}}, "for", "a"},
		"let pass, then for":  {[]NotionCase{{Effect: WillDo, Say: "b"}, {Effect: "for"}}, "for", "b"},
		"for, then against":   {[]NotionCase{{Effect: "for", Say: "a"}, {Effect: NotFor, Say: "b"}, {Effect: "for", Say: "c"}}, NotFor, "b"},
		"banned":              {[]NotionCase{{Effect: "forbids", Say: "a"}, {Effect: NotFor, Say: "b"}}, "forbids", "a"},
		"twice for":           {[]NotionCase{{Effect: "for", Say: "a"}, {Effect: "for", Say: "b"}}, "for", "a"},
		"what does not hold":  {[]NotionCase{{Effect: "for", Say: "a", When: never}}, "", "own"},
		"by a rule":           {[]NotionCase{{Effect: "for", Rule: "r"}}, "for", "of the rule"},
		"by a rule that went": {[]NotionCase{{Effect: "for", Rule: "none", Say: "a"}}, "", "own"},
	} {
		got, spoken := a.choiceOf(&Notion{ID: "n", Say: "own", Cases: x.cases}, c)
		require.Equal(t, x.effect != "", spoken, name)
		require.Equal(t, []string{x.effect, x.say}, []string{got.Effect, got.Say}, name)
	}
	a.Notions = []Notion{{ID: "a", Kind: "needle", Cases: []NotionCase{{Effect: NotFor}}}, {ID: "b", Kind: "needle"}, {ID: "c", Kind: "thread", Cases: []NotionCase{{Effect: "for", Rule: "r"}}}, {ID: "d", Kind: "needle", Cases: []NotionCase{{Effect: "for"}}}}
	list := a.notionsOf(c, "needle")
	require.Len(t, list, 2)
	require.Equal(t, "d", list[0].ID)
	require.True(t, a.saidByNotion(a.Rules[1]))
	require.False(t, a.saidByNotion(a.Rules[0]))
}

// A binding is called for where the finish is bound, where the seam or edge that is named binds,
// or one that is recommended.
func TestWhatCallsForABinding(t *testing.T) {
	a := &Adviser{Seams: []*Seam{{ID: "plain"}, {ID: "bound", Binds: true}}}
	for name, x := range map[string]struct {
		m    MakeUp
		out  AdviseAnswer
		want bool
	}{
		"nothing":          {MakeUp{}, AdviseAnswer{}, false},
		"finish":           {MakeUp{Finish: &Finish{Edge: "bound"}}, AdviseAnswer{}, true},
		"seam":             {MakeUp{Seam: a.Seams[1]}, AdviseAnswer{}, true},
		"edge":             {MakeUp{Edge: a.Seams[1]}, AdviseAnswer{}, true},
		"others":           {MakeUp{Seam: a.Seams[0], Edge: a.Seams[0]}, AdviseAnswer{}, false},
		"recommended seam": {MakeUp{}, AdviseAnswer{Seams: []Choice{{ID: "plain", Effect: "for"}, {ID: "bound", Effect: "for"}}}, true},
		"recommended edge": {MakeUp{}, AdviseAnswer{Edges: []Choice{{ID: "bound", Effect: "for"}}}, true},
		"let pass":         {MakeUp{}, AdviseAnswer{Edges: []Choice{{ID: "bound", Effect: WillDo}, {ID: "plain", Effect: "for"}}}, false},
	} {
		if x.m.Finish == nil {
			x.m.Finish = &Finish{}
		}
		require.Equal(t, x.want, a.bound(x.m, &x.out), name)
	}
}
