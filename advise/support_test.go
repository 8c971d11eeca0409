package advise

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// What goes behind the shell, and where nothing does. Source: common practice (a canvas
// that springs in a tailored front, a woven fusible in a shirt's collar, a band stiffener
// at the waist; nothing in what hangs free, stretches everywhere or is felted), and the
// rule of the handbooks that a support is no heavier than its cloth.
func TestSupportDoesItsJob(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct{ words, first, place, never string }{
		{"scarf, single-layer-rolled-hem, shell silk-habotai", "none", "", "hair-canvas-light light-nonwoven-fusible"},
		{"triangular-shawl, single-layer-hem, shell wool-challis", "none", "", "light-canvas"},
		{"half-circle-cape, bagged-lining, shell wool-melton, lining cupro-lining", "none", "", "heavy-canvas hair-canvas-heavy"},
		{"curtain, sides-lined, shell upholstery-velvet, lining sateen-lining", "none", "", "hair-canvas-light silk-organza"},
		{"leggings, single-layer-overlocked, shell swim-knit", "none", "", "waistband-stiffener woven-cotton-fusible"},
		{"full-circle-skirt, single-layer-raw, shell craft-felt", "none", "", "hair-canvas-medium"},
		{"straight-skirt, dropped-in-lining, shell wool-gabardine, lining cupro-lining", "waistband-stiffener", "waistband", "hair-canvas-heavy buckram"},
		{"shirt, single-layer-hem, shell cotton-poplin", "woven-cotton-fusible", "collar", "buckram hair-canvas-light heavy-nonwoven"},
		{"stiff-hat, bagged-lining, shell silk-taffeta, lining cupro-lining", "buckram", "whole form", "extra-light-nonwoven light-knit-fusible"},
		{"blouse, single-layer-hem, shell silk-chiffon", "silk-organza", "front", "extra-light-nonwoven light-nonwoven-fusible cotton-lawn-underlining"},
		{"coat, dropped-in-lining, shell wool-melton, lining viscose-twill", "heavy-canvas", "front", "light-nonwoven-fusible organza-interfacing"},
		{"tailored-jacket, dropped-in-lining, shell worsted-suiting, lining cupro-lining", "hair-canvas-light", "lapels", "buckram light-nonwoven-fusible"},
		{"rain-jacket, single-layer-hem, shell rainwear-laminate", "light-nonwoven-sew-in", "front", "hair-canvas-medium"},
	} {
		ans, err := a.Advise(makeUp(t, x.words), 0)
		require.NoError(t, err)
		list := ans.Interfacings
		require.Equal(t, x.first, list[0].ID, x.words)
		require.Contains(t, list[0].Place, x.place, x.words)
		for _, c := range list {
			if slices.Contains(strings.Fields(x.never), c.ID) {
				require.NotContains(t, []string{"for", WillDo}, c.Effect, "%s in %s", c.ID, x.words)
			}
		}
	}
}

// A list recommends few things, each with a reason, and lets few more pass, whatever the
// piece and the cloth; nothing is let pass between what is refused.
func TestListsAreShortAndGiveReasons(t *testing.T) {
	a := adviser(t)
	for i, p := range a.Pieces {
		m := MakeUp{Piece: p, Finish: a.Finishes[i%len(a.Finishes)], Shell: subjectsOf(a.Shells())[i*7%len(a.Shells())]}
		ans, err := a.Advise(m, 0)
		require.NoError(t, err)
		for _, list := range [][]Choice{ans.Interfacings, ans.Seams, ans.Edges, ans.Bindings, ans.Needles, ans.Threads} {
			n := map[string]int{}
			last := 0
			for _, c := range list {
				n[c.Effect]++
				require.NotEmpty(t, c.Say, "%s, %s: %s", p.ID, m.Shell.Label(), c.ID)
				at := slices.Index(choiceOrder, c.Effect)
				require.GreaterOrEqual(t, at, last, "%s, %s: %s stands behind what is worse", p.ID, m.Shell.Label(), c.ID)
				last = at
			}
			require.LessOrEqual(t, n["for"], maxRecommended+1, "%s, %s", p.ID, m.Shell.Label()) // none beside the rest
			require.LessOrEqual(t, n[WillDo], maxWillDo)
		}
	}
}

// Seams and edges by place: only places that the piece has, and each sewn as a maker
// would there. Source: common practice.
func TestSewnByPlace(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct{ words, place, id string }{
		{"half-circle-cape, bagged-lining, shell wool-melton, lining cupro-lining", "neck seam", "enclosed-edge"},
		{"half-circle-cape, single-layer-hem, shell wool-flannel", "front edge", "faced-hem"},
		{"stretch-top, single-layer-overlocked, shell cotton-jersey", "neck seam", "bias-binding"},
		{"hooded-wrap, single-layer-hem, shell viscose-twill", "hood seam", "french-seam"},
		{"hooded-wrap, bagged-lining, shell cotton-sateen, lining cupro-lining", "hood seam", "plain-seam"},
		{"tailored-jacket, dropped-in-lining, shell worsted-suiting, lining cupro-lining", "armholes", "plain-seam"},
		{"shirt, single-layer-hem, shell cotton-poplin", "armholes", "flat-felled-seam"},
		{"tailored-trousers, single-layer-hem, shell worsted-suiting", "seat seam", "flat-felled-seam"},
		{"curtain, sides-lined, shell upholstery-velvet, lining sateen-lining", "lower hem", "blind-hem"},
	} {
		ans, err := a.Advise(makeUp(t, x.words), 0)
		require.NoError(t, err)
		i := slices.IndexFunc(ans.Places, func(s Sewn) bool { return slices.Contains(s.Places, x.place) })
		require.GreaterOrEqual(t, i, 0, "%s: %s", x.words, x.place)
		require.Equal(t, x.id, ans.Places[i].ID, "%s: %s", x.words, x.place)
		require.Positive(t, ans.Places[i].Layers)
	}
	scarf, err := a.Advise(makeUp(t, "scarf, single-layer-rolled-hem, shell silk-habotai"), 0)
	require.NoError(t, err)
	for _, s := range scarf.Places {
		require.Equal(t, "edge", s.Kind, "a scarf has no seam")
	}
}

// A tape may be had in any make-up, whatever its name; what lies under the whole shell
// is let pass where the finish takes it, and nowhere else, as the data say of both.
func TestTapesAndWhatAFinishTakes(t *testing.T) {
	a := adviser(t)
	job := &Job{None: true, Say: "Leave interfacing out."}
	for _, x := range []struct{ words, id, effect, say string }{
		{"half-circle-cape, bagged-lining, shell wool-melton, lining cupro-lining", "stay-tape", WillDo, ""},
		{"half-circle-cape, bagged-lining, shell wool-melton, lining cupro-lining", "wigan", NotFor, job.Say},
		{"coat, interlined, shell wool-melton, lining viscose-twill", "domette", "for", ""},
		{"coat, interlined, shell wool-melton, lining viscose-twill", "wigan", NotFor, job.Say},
		{"coat, dropped-in-lining, shell wool-melton, lining viscose-twill", "domette", NotFor, job.Say},
	} {
		s, err := a.Interfacing(x.id)
		require.NoError(t, err)
		c := Choice{ID: x.id, Effect: "for"}
		a.support(makeUp(t, x.words), s, job, &c, 0)
		require.Equal(t, []string{x.effect, x.say}, []string{c.Effect, c.Say}, "%s: %s", x.words, x.id)
	}
}

// What the data say of tapes and of what a finish takes is read, and a role that there
// is not is refused.
func TestNarrowAndTakesAreRead(t *testing.T) {
	l := bareLoader(t)
	require.Empty(t, l.readAs("[[interfacing]]\nid = \"twill-ribbon\"\nname = \"twill ribbon\"\nstructure = \"woven\"\nattach = \"sew\"\nrole = \"interfacing\"\nnarrow = true\nsay = \"A ribbon.\"\nbasis = \"practice\"\nsources = [\"practice\"]\n", l.interfacings))
	require.True(t, l.a.Interfacings[0].Narrow)
	x := l.a.Interfacings[0]
	require.Equal(t, make([]float64, 7), []float64{x.MassLow, x.MassHigh, x.ShellMassLow, x.ShellMassHigh, x.HeatLow, x.HeatHigh, x.Stiffness}, "what nobody says of it is nothing")
	const finish = "[[finish]]\nid = \"mounted\"\nname = \"mounted\"\nlayers = 2\nlined = true\njoined = \"edge\"\nedge = \"hemmed\"\nsay = \"It is.\"\nbasis = \"practice\"\nsources = [\"practice\"]\n"
	l = bareLoader(t)
	require.Empty(t, l.readAs(finish+"takes = [\"underlining\"]\n", l.finishes))
	require.Equal(t, []string{"underlining"}, l.a.Finishes[0].Takes)
	l = bareLoader(t)
	require.Contains(t, l.readAs(finish+"takes = [\"underlinning\"]\n", l.finishes)[0], `takes has "underlinning"`)
}

// What a maker says of glue goes before all else; a tape may be had anywhere; what nothing asks
// for is refused, unless makers take it where none is needed.
func TestWhatSpeaksForASupport(t *testing.T) {
	a := adviser(t)
	wish := func(id string) MakeUp { return MakeUp{Shell: &fibres.Subject{}, Wishes: []*Wish{{ID: id}}} }
	glued, sewn, tape := &Interfacing{Role: "interfacing", Attach: "fuse"}, &Interfacing{Role: "interfacing", Attach: "sew"}, &Interfacing{Role: "interfacing", Narrow: true}
	none, some, other := &Job{None: true, Say: "none", Roles: []string{"interfacing"}}, &Job{Roles: []string{"interfacing"}, Place: "collar", Say: "it stands"}, &Job{Roles: []string{"underlining"}}
	for name, x := range map[string]struct {
		m      MakeUp
		s      *Interfacing
		job    *Job
		picked float64
		effect string
		place  string
	}{
		"no glue":        {wish("no-glue"), glued, some, 1, NotFor, ""},
		"no glue, sewn":  {wish("no-glue"), sewn, some, 0, "for", "collar"},
		"glue":           {wish("fusible"), glued, some, 0, "for", "collar"},
		"glue, sewn":     {wish("fusible"), sewn, some, 1, NotFor, ""},
		"tape":           {MakeUp{Shell: &fibres.Subject{}}, tape, none, 0, WillDo, ""},
		"none":           {MakeUp{Shell: &fibres.Subject{}}, sewn, none, 0, NotFor, ""},
		"none, taken":    {MakeUp{Shell: &fibres.Subject{}}, sewn, none, 0.1, WillDo, ""},
		"nothing for it": {MakeUp{Shell: &fibres.Subject{}}, sewn, other, 1, NotFor, ""},
		"its work":       {MakeUp{Shell: &fibres.Subject{}}, sewn, some, 0, "for", "collar"},
	} {
		c := Choice{Effect: "for"}
		a.support(x.m, x.s, x.job, &c, x.picked)
		require.Equal(t, []string{x.effect, x.place}, []string{c.Effect, c.Place}, name)
	}
}

// A support does its job from three tenths on, and is recommended from six; the demand that is
// met worst decides, and what is not known does not.
func TestHowFarASupportDoesItsJob(t *testing.T) {
	a := adviser(t)
	stiff, hand := a.place("interfacing.stiffness"), a.place("interfacing.mass")
	job := &Job{Place: "collar", Say: "it stands", Demands: []Demand{{fact: hand, Say: "mass", Ideal: Bounds{0, 100}, Limit: Bounds{0, 200}}, {fact: stiff, Say: "stiff", Ideal: Bounds{0, 1}, Limit: Bounds{0, 2}}}}
	for v, want := range map[float64][]string{1: {"for", "own", "collar"}, 1.375: {"for", "own", "collar"}, 1.5: {WillDo, "own", ""}, 1.6875: {WillDo, "own", ""}, 1.75: {NotFor, "stiff", ""}, 3: {NotFor, "stiff", ""}, 0: {"for", "own", "collar"}} {
		c := Choice{Effect: "for", Say: "own"}
		a.supportMeets(MakeUp{Shell: &fibres.Subject{}}, &Interfacing{Stiffness: v, MassLow: 110, MassHigh: 110}, job, &c)
		require.Equal(t, want, []string{c.Effect, c.Say, c.Place}, "%g", v)
	}
	c := Choice{Effect: WillDo}
	a.supportMeets(MakeUp{Shell: &fibres.Subject{}}, &Interfacing{Stiffness: 1}, job, &c)
	require.Equal(t, []string{WillDo, ""}, []string{c.Effect, c.Place}, "its place is told of what is recommended")
}

// A list recommends four things and lets five more pass, those that stand first; a reason is
// given for what is recommended, and not twice.
func TestAListIsKeptShort(t *testing.T) {
	var list []Choice
	for range 6 {
		list = append(list, Choice{Effect: "for", Say: "say", Why: "why", Place: "collar"})
	}
	for range 5 {
		list = append(list, Choice{Effect: WillDo, Say: "say", Why: "why"})
	}
	list = append(list, Choice{Effect: NotFor, Say: "not", Why: "why"})
	got := fewest(list)
	for i, want := range []string{"for", "for", "for", "for", WillDo, WillDo, WillDo, WillDo, WillDo, NotFor, NotFor, NotFor} {
		require.Equal(t, want, got[i].Effect, "%d", i)
		require.Equal(t, want == "for", got[i].Why == "why", "%d", i)
		require.Equal(t, want == "for", got[i].Place == "collar", "%d", i)
	}
	require.Equal(t, othersUsual, got[9].Say)
	require.Equal(t, "not", got[11].Say)
	require.Empty(t, fewest([]Choice{{Effect: "for", Say: "same", Why: "same"}})[0].Why)
}
