package main

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
)

// What a thing points at points back: no link is a blind alley.
func TestLinksGoBothWays(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	w := webOf(adv)
	links := 0
	for from, list := range w.out {
		for _, to := range list {
			links++
			require.Contains(t, w.of(from.kind, from.id)[to.kind], to.id, "%s does not show %s", from, to)
			require.Contains(t, w.of(to.kind, to.id)[from.kind], from.id, "%s does not show %s", to, from)
		}
	}
	require.Greater(t, links, 1000)
	for _, term := range adv.Cat.Terms {
		for _, x := range term.SeeAlso {
			require.NotEmpty(t, w.byID[x], "term %s: see also %q is nothing", term.ID, x)
		}
	}
}

// A cloth is spoken of by the rules on its name, and by those on its fibre.
func TestRulesThatSpeakOfACloth(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	w := webOf(adv)
	denim := w.ofCloth(adv.Cat.Cloths["denim"])["rule"]
	require.Contains(t, denim, "denim-and-canvas-take-a-stout-needle")
	require.Less(t, slices.Index(denim, "denim-and-canvas-take-a-stout-needle"), slices.Index(denim, "cotton-and-linen-sewn-with-cotton"),
		"the rule on its name stands before the rule on its fibre")
	require.NotContains(t, denim, "silk-keeps-water-spots")
	velvet := w.ofCloth(adv.Cat.Cloths["cotton-velvet"])["rule"]
	require.Contains(t, velvet, "velvet-cut-in-a-single-layer")
	require.NotContains(t, velvet, "silk-and-rayon-shell-washed-by-hand", "it names velvet only to leave it out")
	satin := w.ofCloth(adv.Cat.Cloths["silk-satin"])["rule"]
	require.Contains(t, satin, "satin-cut-one-way")
	require.NotContains(t, satin, "brushed-cotton-and-rayon-need-a-flammability-note", "it speaks of silk that is brushed")
	require.Contains(t, w.of("term", "muslin-uk-us")["cloth"], "calico")
	require.Contains(t, w.ofCloth(adv.Cat.Cloths["calico"])["term"], "muslin-uk-us")
}
