package advise

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
)

// Every piece has cloths that makers take for it, and every one of them may be a shell.
func TestEveryPieceHasPicks(t *testing.T) {
	a := adviser(t)
	for _, p := range a.Pieces {
		got := a.layerPicks(MakeUp{Piece: p, Finish: a.Finishes[1], Wearer: p.Wearer}, "shell")
		require.GreaterOrEqual(t, len(got), 8, "name %s in a pick of data/picks.toml", p.ID)
	}
	for i := range a.Picks {
		p := &a.Picks[i]
		if p.Of != "shell" && p.Of != "lining" {
			continue
		}
		for _, id := range slices.Concat(p.First, p.Also) {
			if id == noSupport {
				continue
			}
			require.Empty(t, a.Cat.Cloths[id].Era, "%s is not sold today", id)
		}
	}
}

// A pick orders what suits: the verdict and the share of a make-up are the same without it.
func TestPicksMakeNothingSuit(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "tailored-jacket, fused-front-tailored")
	with := a.RankShells(m, subjectsOf(a.Shells()))
	bare := *a
	bare.Picks = nil
	without := map[string]Ranked{}
	for _, r := range bare.RankShells(m, subjectsOf(a.Shells())) {
		without[r.ID] = r
	}
	moved := 0
	for _, r := range with {
		w := without[r.ID]
		require.Equal(t, w.Verdict, r.Verdict, r.ID)
		require.Equal(t, w.Share, r.Share, r.ID)
		if w.Group != r.Group {
			moved++
		}
		if r.Verdict == Unsuited {
			require.Equal(t, NotFor, r.Group, "%s: what does not suit is never recommended, whoever takes it", r.ID)
		}
	}
	require.Positive(t, moved, "picks part what is recommended from what will do")
}

// What is recommended first, as a maker would take it. Source: common practice.
func TestFirstPicks(t *testing.T) {
	a := adviser(t)
	for words, want := range map[string][2]string{
		"shirt, single-layer-hem":                                               {"cotton-poplin oxford-cloth chambray cotton-lawn linen-dress", "scuba-knit silk-taffeta butter-muslin"},
		"tailored-jacket, fused-front-tailored":                                 {"worsted-suiting wool-flannel tweed houndstooth wool-gabardine", "polar-fleece ponte ripstop-nylon"},
		"gored-skirt, single-layer-hem, wish hard-wearing":                      {"denim corduroy cotton-twill chino cotton-drill", "scuba-knit quilting-cotton"},
		"pencil-skirt, dropped-in-lining, shell ponte":                          {"stretch-lining tricot-knit polyester-jersey mesh-knit power-net", "acetate-taffeta calico"},
		"shift-dress, dropped-in-lining, shell linen-dress, wish washable":      {"cotton-lawn cotton-batiste cotton-voile viscose-lining cupro-lining", "flannel-back-lining quilted-lining"},
		"rain-jacket, dropped-in-lining, shell rainwear-laminate":               {"mesh-knit tricot-knit nylon-taffeta polyester-lining polyester-taffeta", "flannelette cotton-canvas"},
		"coat, dropped-in-lining, shell wool-coating, wish warm":                {"flannel-back-lining quilted-lining viscose-satin polyester-satin viscose-twill", "cotton-lawn silk-chiffon"},
		"lined-bag, bagged-lining, shell corduroy":                              {"cotton-twill cotton-drill calico cotton-canvas ticking cotton-poplin quilting-cotton", "silk-habotai viscose-jersey"},
		"curtain, sides-lined, shell linen-union":                               {"sateen-lining blackout-lining thermal-lining calico cotton-sateen", "silk-chiffon stretch-lining"},
		"half-circle-cape, bagged-lining, shell wool-flannel, wish reversible":  {"wool-flannel wool-crepe wool-challis wool-broadcloth cashmere-cloth wool-gabardine tartan-light worsted-suiting", "lame polyester-lining nylon-tulle"},
		"child-dress, dropped-in-lining, shell broderie-anglaise, wearer child": {"cotton-lawn cotton-batiste cotton-voile polycotton-poplin cotton-poplin", "silk-taffeta acetate-satin"},
		"cardigan-jacket, dropped-in-lining, shell boucle":                      {"silk-habotai silk-crepe-de-chine silk-charmeuse cupro-lining silk-twill", "polar-fleece cotton-canvas"},
		"boned-bodice, underlined, shell silk-dupion":                           {"coutil cotton-drill cotton-twill ticking linen-canvas", "silk-chiffon viscose-jersey"},
		"boned-bodice, bound-together, shell silk-dupion, wish strong":          {"coutil cotton-drill cotton-twill ticking linen-canvas", "silk-chiffon viscose-jersey"},
		"boned-bodice, underlined":                                              {"silk-dupion silk-satin silk-taffeta duchesse-satin silk-brocade cotton-sateen", "linen-canvas calico ticking"},
		"frock-coat, dropped-in-lining, shell wool-broadcloth":                  {"silk-taffeta silesia holland silk-satin silk-twill linen-dress", "polyester-satin polyester-twill-lining"},
		"necktie, underlined, shell silk-twill":                                 {"wool-flannel domett union-flannel flannelette brushed-cotton", "polyester-lining silk-chiffon"},
		"swimsuit, single-layer-hem, wish gives":                                {"swim-knit spandex-costume-knit foil-knit metallic-knit power-net mesh-knit", "wool-jersey denim"},
	} {
		ans, err := a.Advise(makeUp(t, words), 6)
		require.NoError(t, err)
		list := ans.Cloths
		if strings.Contains(words, "shell") {
			list = ans.Linings
		}
		good, n := strings.Fields(want[0]), 0
		for _, c := range list {
			require.NotContains(t, strings.Fields(want[1]), c.ID, words)
			if slices.Contains(good, c.ID) {
				n++
			}
		}
		require.GreaterOrEqual(t, n, 3, "%s: %v", words, list)
	}
}

// Seams, edges and interfacings that a maker would take, and ones that none would.
// Source: common practice.
func TestFirstWaysOfWorking(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct{ kind, words, want, never string }{
		{"seam", "childs-dungarees, single-layer-hem, shell denim", "flat-felled-seam", "hairline-seam mock-french-seam ladder-joined-seam"},
		{"seam", "blouse, single-layer-rolled-hem, shell silk-georgette", "french-seam", "flat-felled-seam lapped-raw-seam stretch-seam"},
		{"seam", "leggings, single-layer-hem, shell swim-knit", "overlocked-seam", "french-seam flat-felled-seam plain-seam"},
		{"seam", "poncho, single-layer-raw, shell boiled-wool", "lapped-raw-seam", "french-seam flat-felled-seam stretch-seam"},
		{"seam", "rain-jacket, single-layer-hem, shell rainwear-laminate", "taped-seam", "overlocked-seam pinked-seam hairline-seam"},
		{"seam", "coat, dropped-in-lining, shell fake-fur", "fur-overcast-seam", "french-seam flat-felled-seam"},
		{"seam", "tailored-trousers, part-lined, shell worsted-suiting", "overlocked-seam", "french-seam hairline-seam plain-seam"},
		{"edge", "scarf, single-layer-rolled-hem, shell silk-habotai", "rolled-hem-hand", "bias-binding topstitched-knit-hem raw-edge"},
		{"edge", "veil, single-layer-raw, shell nylon-tulle", "raw-edge", "double-fold-hem fringe-edge"},
		{"edge", "veil, single-layer-raw, shell silk-tulle", "raw-edge", "double-fold-hem fringe-edge"},
		{"edge", "stretch-top, single-layer-hem, shell cotton-jersey", "topstitched-knit-hem", "narrow-hem double-fold-hem fringe-edge"},
		{"edge", "poncho, single-layer-raw, shell boiled-wool", "raw-edge", "double-fold-hem rolled-hem-hand"},
		{"interfacing", "shirt, single-layer-hem, shell cotton-poplin", "woven-cotton-fusible", "horsehair-braid hair-canvas-medium waistband-stiffener"},
		{"interfacing", "tailored-jacket, fused-front-tailored, shell silk-velvet", "hair-canvas-light", "medium-nonwoven-fusible weft-insertion-medium"},
		{"interfacing", "scarf, single-layer-rolled-hem, shell silk-chiffon", "none", "hair-canvas-light buckram"},
		{"interfacing", "stiff-hat, single-layer-hem, shell wool-felt", "buckram", "light-knit-fusible extra-light-nonwoven"},
	} {
		got := panelOffers(t, a, x.kind, makeUp(t, x.words))
		require.Contains(t, got[:min(5, len(got))], x.want, x.words)
		for _, id := range strings.Fields(x.never) {
			require.NotContains(t, got, id, x.words)
		}
	}
}

// extremes are cloths that part what will do from what will not, each in its way: sheer,
// thick, giving, fraying, felted, coated, pile, stiff, open, smooth: forty of them.
var extremes = []string{
	"silk-chiffon", "wool-coating", "cotton-jersey", "tweed", "boiled-wool", "rainwear-laminate", "fake-fur", "cotton-canvas",
	"cotton-lawn", "nylon-tulle", "silk-taffeta", "swim-knit", "silk-georgette", "polyester-organza", "silk-satin", "viscose-twill",
	"wool-crepe", "wool-gabardine", "worsted-suiting", "wool-melton", "denim", "waxed-cotton", "pu-leathercloth", "cotton-velvet",
	"upholstery-velvet", "corduroy", "velveteen", "polar-fleece", "sweatshirt-fleece", "terry-towelling", "craft-felt", "raschel-lace",
	"lame", "linen-dress", "double-gauze", "cotton-sateen", "ponte", "stretch-velvet", "quilted-cotton", "jute-hessian",
}

// Verdict, finish and list of edges agree, over every piece with every finish and the
// cloths of [extremes] dealt round: what comes first is an edge of the finish, and
// nothing that is banned is offered.
func TestFinishAndEdgesAgree(t *testing.T) {
	a := adviser(t)
	tried := 0
	for pi, p := range a.Pieces {
		for fi, f := range a.Finishes {
			m := MakeUp{Piece: p, Finish: f, Shell: &fibres.Subject{Cloth: a.Cat.Cloths[extremes[(pi*5+fi)%len(extremes)]]}}
			list := a.choices(&judged{make: m}, "edge", 0)
			if len(list) == 0 || list[0].Effect != "for" {
				continue // no edge of this finish holds in such a cloth
			}
			tried++
			what := m.Shell.Label() + " in " + p.ID + ", " + f.ID
			first := m
			first.Edge, _ = a.Seam("edge", list[0].ID)
			c, _ := a.build(first)
			for _, r := range a.Rules {
				if r.About() == "edge" && r.Matter == "edge-by-finish" {
					require.Zero(t, r.Fire(c).Share, "%s: %s comes first and is of another finish", what, list[0].ID)
				}
			}
		}
	}
	require.Greater(t, tried, 1500)
}

// A lining that fails its job is never above one that meets it, all else equal: each
// demand of each job on a property of the lining, asked of one lining with the property
// where the job wants it and where it fails.
func TestLiningThatFailsItsJobIsNotAbove(t *testing.T) {
	a := adviser(t)
	tried := 0
	for words, job := range map[string]string{
		"tailored-jacket, dropped-in-lining, shell wool-flannel, lining viscose-lining": "slide",
		"coat, dropped-in-lining, shell wool-coating, lining brushed-cotton":            "warmth",
		"shift-dress, dropped-in-lining, shell silk-chiffon, lining silk-habotai":       "hide",
		"curtain, sides-lined, shell silk-dupion, lining sateen-lining":                 "curtain",
		"straight-skirt, underlined, shell silk-dupion, lining cotton-batiste":          "hold-shape",
		"half-circle-cape, bagged-lining, shell wool-flannel, lining wool-challis":      "second-face",
		"boned-bodice, dropped-in-lining, shell silk-dupion, lining cotton-drill":       "foundation",
		"lined-bag, bagged-lining, shell corduroy, lining cotton-twill":                 "strength",
		"bed-quilt, quilted, shell quilting-cotton, lining cotton-sateen":               "backing",
	} {
		m := makeUp(t, words+", job "+job)
		for _, d := range m.Job.Demands {
			name, of, _ := strings.Cut(d.Fact, ".")
			p, known := fibres.PropertyByID(of)
			if name != "lining" || !known {
				continue
			}
			if c, _ := a.build(m); d.when != nil && d.when.Fire(c).Share < firm {
				continue // it is not asked of these
			}
			meets, fails := d.Ideal, d.Limit.High+1
			if d.Limit.Low > 0 && d.Limit.Low >= 1 {
				fails = d.Limit.Low - 1
			}
			if fibres.Properties[p].Scale != nil && (fails < 0 || fails >= float64(len(fibres.Properties[p].Scale))) {
				continue // no word lies beyond the limit
			}
			share := func(low, high float64) float64 {
				mm := m
				l := m.Lining.With(a.Cat, p, low, high)
				mm.Lining = &l
				return a.judge(mm).share
			}
			tried++
			good, bad := share(meets.Low, math.Max(meets.Low, meets.High)), share(fails, fails)
			require.LessOrEqual(t, bad, good+1e-9, "%s: %s", words, d.Say)
		}
	}
	require.Greater(t, tried, 8)
}

// Why makers take what comes to mind first is told of that, and not of what is as right;
// what goes over other picks has the first word, and a pick that gives no reason none.
func TestWhyMakersTakeIt(t *testing.T) {
	a := *adviser(t)
	always := &rules.Rule{}
	a.Picks = []Pick{{Of: "seam", When: always, First: []string{"plain-seam", "french-seam"}, Also: []string{"welt-seam"}, Say: "It is quick."},
		{Of: "seam", When: always, First: []string{"french-seam"}, Over: true, Say: "It shuts the edges in."}, {Of: "seam", When: always, First: []string{"welt-seam"}}, {Of: "edge", When: always, First: []string{"welt-seam"}, Say: "It is of edges."}}
	c, _ := a.build(makeUp(t, "blouse, single-layer-hem, shell silk-chiffon"))
	require.Equal(t, map[string]string{"plain-seam": "It is quick.", "french-seam": "It shuts the edges in."}, a.pickSays(c, "seam"))
}

// How surely makers take a thing: what comes to mind first, three quarters of that what is as
// right, and two fifths of either beside a pick that goes over the rest. The surest pick counts.
func TestHowSurelyMakersTakeIt(t *testing.T) {
	a := *adviser(t)
	a.Picks = nil
	c := a.caseOf(makeUp(t, "shell denim"))
	require.Nil(t, a.picksFor(c, "seam"))
	never := a.knitsAlone(t)
	a.Picks = []Pick{{Of: "edge", First: []string{"e"}}, {Of: "seam", First: []string{"n"}, When: never}}
	require.Nil(t, a.picksFor(c, "seam"), "what holds for none says nothing")
	a.Picks = append(a.Picks, Pick{Of: "seam", First: []string{"a", "b"}, Also: []string{"c"}}, Pick{Of: "seam", First: []string{"c"}, Also: []string{"a"}})
	require.Equal(t, map[string]float64{"a": 1, "b": 1, "c": 1}, a.picksFor(c, "seam"))
	a.Picks = a.Picks[:3]
	require.Equal(t, map[string]float64{"a": 1, "b": 1, "c": 0.75}, a.picksFor(c, "seam"))
	a.Picks = append(a.Picks, Pick{Of: "seam", Over: true, First: []string{"b"}, Also: []string{"d"}})
	got := a.picksFor(c, "seam")
	for id, want := range map[string]float64{"a": 0.4, "b": 1, "c": 0.3, "d": 0.75} {
		require.InDelta(t, want, got[id], 1e-9, id)
	}
	require.Len(t, got, 4)
	a.Picks[3].When = never
	require.Equal(t, 1.0, a.picksFor(c, "seam")["a"], "one that goes over the rest counts where it holds")

	knit := makeUp(t, "coat, dropped-in-lining, shell cotton-jersey, lining cupro-lining")
	a.Picks = []Pick{{Of: "shell", First: []string{"s"}, When: never}, {Of: "lining", First: []string{"l"}, When: never}}
	require.Nil(t, a.layerPicks(knit, "shell"), "a shell is picked for what is made of it, not for itself")
	require.Equal(t, map[string]float64{"l": 1}, a.layerPicks(knit, "lining"))
	require.Equal(t, 1.0, held(nil, c))
	require.Zero(t, held(never, a.caseOf(MakeUp{})), "open")
}

// A lining is picked for its job, which nobody need name; a shell is picked without.
func TestLiningsArePickedForTheirJob(t *testing.T) {
	a := *adviser(t)
	slides := &rules.Rule{Parts: rules.Parts{Conds: []rules.Cond{{Fact: a.jobFact, Op: rules.OpWords, V: rules.Val{Words: []string{"slide"}}}}, Facts: []int{a.jobFact}, Names: []string{"lining.job"}}}
	a.Picks = []Pick{{Of: "lining", First: []string{"l"}, When: slides}, {Of: "shell", First: []string{"s"}, When: slides}}
	jacket := makeUp(t, "tailored-jacket, dropped-in-lining, shell wool-flannel")
	require.Equal(t, map[string]float64{"l": 1}, a.layerPicks(jacket, "lining"))
	require.Nil(t, a.layerPicks(jacket, "shell"))
	require.Nil(t, a.layerPicks(makeUp(t, "curtain, sides-lined, shell cotton-sateen"), "lining"), "a curtain's lining has another job")
}
