package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// Which job a lining has, by piece and finish and what is known of the shell.
// Source: common practice.
func TestJobOfTheLining(t *testing.T) {
	a := adviser(t)
	for words, want := range map[string]string{
		"tailored-jacket, dropped-in-lining, shell wool-flannel, lining cupro-lining":           "slide",
		"straight-skirt, dropped-in-lining, shell polyester-chiffon, lining polyester-lining":   "hide",
		"curtain, sides-lined, shell silk-dupion, lining sateen-lining":                         "curtain",
		"tailored-jacket, underlined, shell wool-crepe, lining silk-organza":                    "hold-shape",
		"quilted-waistcoat, quilted, shell silk-dupion, lining cotton-lawn":                     "warmth",
		"tote-bag, dropped-in-lining, shell cotton-canvas, lining cotton-lawn":                  "strength",
		"straight-skirt, dropped-in-lining, shell wool-flannel, lining flannelette, job warmth": "warmth",
		"straight-skirt, single-layer-hem, shell wool-flannel, lining flannelette":              "",
	} {
		m, err := a.ParseCase(words)
		require.NoError(t, err, words)
		j := a.judge(m)
		got := ""
		if j.job != nil {
			got = j.job.ID
		}
		require.Equal(t, want, got, words)
		if want != "" {
			require.Equal(t, []string{want}, j.c.Column(a.jobFact).Words, words)
		}
	}
}

// All else equal, a lining that misses a demand of its job is never above the same
// lining that meets it: whatever the demand, the members that were moved outside
// weigh no more than before.
func TestALiningThatFailsItsJobIsNeverAbove(t *testing.T) {
	a := adviser(t)
	n := 0
	for _, words := range []string{"tailored-jacket, dropped-in-lining, shell wool-flannel", "curtain, sides-lined, shell cotton-sateen", "straight-skirt, dropped-in-lining, shell wool-crepe"} {
		m := makeUp(t, words)
		for _, k := range a.Linings() {
			m.Lining = &fibres.Subject{Cloth: k}
			for _, p := range []struct {
				p           fibres.Property
				fails, does float64
			}{{fibres.ShowThrough, 3, 0}, {fibres.Slide, 0, 3}, {fibres.Sunfast, 0, 2}} {
				bad, good := m, m
				b, g := m.Lining.With(a.Cat, p.p, p.fails, p.fails), m.Lining.With(a.Cat, p.p, p.does, p.does)
				bad.Lining, good.Lining = &b, &g
				x, y := a.judge(bad), a.judge(good)
				require.LessOrEqual(t, x.share, y.share+1e-9, "%s, lining %s: %s", words, k.ID, fibres.Properties[p.p].ID)
				require.LessOrEqual(t, x.rank(), y.rank()+1e-9, "%s, lining %s: %s", words, k.ID, fibres.Properties[p.p].ID)
				n++
			}
		}
	}
	require.Greater(t, n, 500)
}

// A net is no lining of an opaque shell, whatever the job; a heavy lining does not
// give a skirt the weight that its shell lacks. Source: common practice.
func TestANetIsNoLining(t *testing.T) {
	a := adviser(t)
	for _, words := range []string{"straight-skirt, dropped-in-lining, shell wool-flannel", "half-circle-cape, bagged-lining, shell wool-flannel",
		"hooded-wrap, bagged-lining, shell silk-jersey", "curtain, sides-lined, shell cotton-sateen"} {
		for _, net := range []string{"stretch-tulle", "power-net"} {
			j := a.judge(makeUp(t, words+", lining "+net))
			require.NotEqual(t, Suits, j.verdict, "%s, %s: %.2f", words, net, j.share)
		}
	}
}

func TestALiningGivesNoBody(t *testing.T) {
	a := adviser(t)
	thin := "straight-skirt, dropped-in-lining, shell cotton-voile"
	light, heavy := a.judge(makeUp(t, thin+", lining silk-habotai")), a.judge(makeUp(t, thin+", lining cotton-drill"))
	of := func(j *judged, id string) float64 {
		i := slices.IndexFunc(j.asked, func(k asked) bool { return k.demand.ID == id })
		require.GreaterOrEqual(t, i, 0, id)
		return j.asked[i].share
	}
	require.InDelta(t, of(light, "mass"), of(heavy, "mass"), 1e-9, "the weight of the shell is that of the shell")
}

// What is only ever shut in is offered neither as a shell nor as a lining; each job
// offers its own.
func TestPoolsAreApart(t *testing.T) {
	a := adviser(t)
	ids := func(list []*fibres.Cloth) (out []string) {
		for _, c := range list {
			out = append(out, c.ID)
		}
		return out
	}
	shells, linings := ids(a.Shells()), ids(a.Linings())
	for _, id := range []string{"bump-interlining", "domette-interlining", "haircloth", "collar-canvas", "blackout-lining", "tailors-canvas"} {
		require.NotContains(t, shells, id)
		if id != "blackout-lining" {
			require.NotContains(t, linings, id)
		}
	}
	curtain := ids(a.LiningsFor(makeUp(t, "curtain, sides-lined, shell cotton-sateen")))
	jacket := ids(a.LiningsFor(makeUp(t, "tailored-jacket, dropped-in-lining, shell wool-flannel")))
	require.Contains(t, curtain, "blackout-lining")
	require.NotContains(t, jacket, "blackout-lining")
	require.Contains(t, jacket, "viscose-twill")
	for _, list := range [][]string{curtain, jacket} {
		require.NotContains(t, list, "silk-organza")
		require.NotContains(t, list, "haircloth")
	}
	require.Contains(t, ids(a.LiningsFor(makeUp(t, "tailored-jacket, underlined, shell wool-crepe"))), "silk-organza")
}

// What each job of a lining refuses and lets pass. Source: common practice (the criteria by
// job of a layer that go with testdata/reference/expert).
func TestJobsAskWhatMakersAsk(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct{ words, verdict, matter string }{
		{"breeches, dropped-in-lining, shell corduroy, lining cotton-poplin", Suits, ""}, // no sleeve to slide in
		{"waistcoat, dropped-in-lining, shell worsted-suiting, lining cotton-sateen", Suits, ""},
		{"coat, dropped-in-lining, shell wool-coating, lining viscose-twill", Suits, ""},
		{"tailored-jacket, dropped-in-lining, shell tweed, lining brushed-cotton", Unsuited, "slide"},
		{"bias-dress, dropped-in-lining, shell viscose-crepe, lining cupro-lining", Suits, ""}, // soft under softer
		{"bias-dress, dropped-in-lining, shell silk-charmeuse, lining cotton-sateen", Unsuited, "body"},
		{"pencil-skirt, dropped-in-lining, shell ponte, lining stretch-lining", Suits, ""},
		{"pencil-skirt, dropped-in-lining, shell ponte, lining cupro-lining", Unsuited, "stretch"},
		{"curtain, sides-lined, shell cotton-sateen, lining sateen-lining", Suits, ""},
		{"curtain, sides-lined, shell cotton-sateen, lining polyester-jersey", Unsuited, "stretch"},
		{"bed-quilt, quilted, shell quilting-cotton, lining cotton-poplin, job backing", Suits, ""},
		{"bed-quilt, quilted, shell quilting-cotton, lining cotton-canvas, job backing", Unsuited, "body"},
		{"floating-dress, dropped-in-lining, shell silk-chiffon, lining silk-crepe-de-chine", Suits, ""},
		{"floating-dress, dropped-in-lining, shell silk-chiffon, lining silk-organza", Unsuited, "show-through"},
	} {
		ans := a.say(a.judge(makeUp(t, x.words)))
		require.Equal(t, x.verdict, ans.Verdict, "%s: %.2f", x.words, ans.Share)
		if x.matter != "" {
			require.Contains(t, objectedTo(ans), x.matter, x.words)
		}
	}
}

// Shells of a bodice that its foundation carries are judged for what they show, before the
// foundation is named as after. Source: common practice.
func TestAFoundationIsWaitedFor(t *testing.T) {
	a := adviser(t)
	ans, err := a.Advise(makeUp(t, "boned-bodice, underlined"), 6)
	require.NoError(t, err)
	var got []string
	for _, c := range ans.Cloths {
		got = append(got, c.ID)
	}
	require.Contains(t, got, "silk-dupion")
	require.NotContains(t, got, "linen-canvas")
	for _, foundation := range []string{"", ", lining coutil"} {
		require.Equal(t, Suits, a.judge(makeUp(t, "boned-bodice, underlined, shell silk-satin"+foundation)).verdict, foundation)
	}
	require.Equal(t, Unsuited, a.judge(makeUp(t, "boned-bodice, underlined, shell silk-satin, lining cotton-voile")).verdict)
}

// Which cloths are offered for a job: those used for it and those named besides, of today and
// not refused; what makers take for it too. What is seen as the shell is may be any.
func TestWhoIsOfferedForAJob(t *testing.T) {
	old := &fibres.Cloth{ID: "old", Era: "historical", UsedFor: []string{"lining"}}
	j := &Job{UsedFor: []string{"lining"}, Also: []string{"net", "old"}, Never: []string{"felt"}}
	for _, x := range []struct {
		k    *fibres.Cloth
		want bool
	}{{&fibres.Cloth{ID: "a", UsedFor: []string{"coat", "lining"}}, true}, {&fibres.Cloth{ID: "a", UsedFor: []string{"coat"}}, false}, {&fibres.Cloth{ID: "net"}, true}, {&fibres.Cloth{ID: "felt", UsedFor: []string{"lining"}}, false}, {old, false}} {
		require.Equal(t, x.want, j.offers(x.k), x.k.ID)
	}
	require.True(t, j.lines())
	require.False(t, (&Job{ID: "warmth", UsedFor: []string{"lining"}}).lines())
	require.False(t, (&Job{ID: "hold-shape", UsedFor: []string{"lining"}}).lines())
	require.False(t, (&Job{UsedFor: []string{"blind"}}).lines())
	require.True(t, (&Job{}).seen())
	require.False(t, j.seen())
	require.False(t, (*Job)(nil).seen())

	a := *adviser(t)
	a.Picks = []Pick{{Of: "lining", First: []string{"denim", "craft-felt"}}}
	m := makeUp(t, "coat, dropped-in-lining, shell wool-melton")
	ids := func(j *Job) (out []string) {
		for _, k := range a.liningsFor(m, j) {
			out = append(out, k.ID)
		}
		return out
	}
	got := ids(&Job{UsedFor: []string{"no use"}, Also: []string{"calico"}, Never: []string{"craft-felt"}})
	require.ElementsMatch(t, []string{"calico", "denim"}, got)
	require.Len(t, ids(nil), len(a.Linings()))
	require.Len(t, ids(&Job{}), len(a.Shells()))
	for _, k := range a.Shells() {
		require.NotEqual(t, "lining", k.Group)
		require.Empty(t, k.Era)
	}
}
