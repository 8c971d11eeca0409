package advise

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/data"
	"tenter/fibres"
)

// An underlining, an interlining and a second lining in one make-up: each is cut, washed,
// weighed and pressed with the rest. Checked by sums of the layers' own figures.
func TestFurtherLayersAreOfTheMakeUp(t *testing.T) {
	adv, err := Load(data.FS)
	require.NoError(t, err)
	const plain = "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill"
	one := func(words string) (MakeUp, AdviseAnswer, composite) {
		m, err := adv.ParseCase(words)
		require.NoError(t, err)
		ans, err := adv.Advise(m, 1)
		require.NoError(t, err)
		_, w := adv.build(m)
		return m, ans, w
	}
	_, without, bare := one(plain)
	m, with, w := one(plain + ", layer underlining=cotton-lawn, layer interlining=brushed-cotton, layer second lining=acetate-satin; parts=cape")
	require.Len(t, m.Inner, 3)

	mean := func(v []float64) (sum float64) {
		for _, x := range v {
			sum += x / float64(len(v))
		}
		return sum
	}
	require.Greater(t, mean(w.mass), mean(bare.mass)+100, "three layers more")
	require.Greater(t, mean(w.thick), mean(bare.thick))
	require.Greater(t, mean(w.warm), mean(bare.warm))
	require.Less(t, mean(w.show), mean(bare.show)+1e-9, "no more shows through")
	require.NotEqual(t, mean(w.bend), mean(bare.bend), "they hang with it")
	require.Greater(t, mean(w.outer.mass), mean(bare.outer.mass), "an underlining is one with the shell")

	require.Len(t, with.PreWash, len(without.PreWash)+3)
	require.Equal(t, "underlining", with.PreWash[2].Layer)
	require.Less(t, with.Pressing.Limit.Typical, without.Pressing.Limit.Typical, "acetate takes less heat than wool and viscose")
	require.Equal(t, InnerIDs{"second lining", "acetate-satin"}, with.MakeUp.Layers[2])

	plan, err := cut.Plan(adv.CutJob(m))
	require.NoError(t, err)
	require.Len(t, plan.Layers, 5)
	require.Len(t, plan.Layers[4].Pieces, 1, "the cape alone")
	require.Equal(t, *with.Thread.Metres, plan.Thread.Total)

	err = m.AddInner(cut.LayerWish{Name: "underlining"}, m.Shell)
	require.ErrorContains(t, err, "already")
	m, err = adv.ParseCase(plain + ", layer underlining=cotton-lawn; parts=crown")
	require.NoError(t, err)
	_, err = cut.Plan(adv.CutJob(m))
	require.ErrorContains(t, err, `no part "crown"`)
}

// A further layer is judged by its job: an interlining must hold air and have room, an
// underlining must not give. Source: common practice (testdata/reference/expert).
func TestFurtherLayersHaveJobs(t *testing.T) {
	a := adviser(t)
	coat := "coat, dropped-in-lining, shell wool-coating, lining viscose-twill, layer interlining="
	jacket := "close-jacket, dropped-in-lining, shell wool-crepe, lining viscose-twill, layer "
	for _, x := range []struct{ better, worse, matter string }{
		{coat + "domett", coat + "nylon-tulle", "warmth"},
		{jacket + "interlining=brushed-cotton", jacket + "interlining=fake-fur", "bulk"},
		{jacket + "underlining=silk-organza", jacket + "underlining=cotton-jersey", "stretch"},
		{jacket + "underlining=cotton-batiste", jacket + "underlining=collar-canvas", "body"},
	} {
		good, bad := a.judge(makeUp(t, x.better)), a.judge(makeUp(t, x.worse))
		require.Greater(t, good.share, bad.share, x.worse)
		require.NotEqual(t, Suits, bad.verdict, x.worse)
		require.Contains(t, objectedTo(a.say(bad)), x.matter, x.worse)
	}
}

// Each layer has a name of its own, and the layers that every make-up may have keep theirs.
func TestNamesOfFurtherLayers(t *testing.T) {
	s := &fibres.Subject{}
	m := MakeUp{Interfacing: &Interfacing{Role: "interlining"}}
	require.NoError(t, m.AddInner(cut.LayerWish{Name: "underlining"}, s))
	for _, name := range []string{"shell", "lining", "interfacing", "interlining", "underlining"} {
		require.Error(t, m.AddInner(cut.LayerWish{Name: name}, s), name)
	}
	require.Len(t, m.Inner, 1)
	bare := MakeUp{}
	require.NoError(t, bare.AddInner(cut.LayerWish{Name: "interlining"}, s))
}

// What a further layer brings, in figures; an underlining is one with the shell.
func TestWhatAFurtherLayerBrings(t *testing.T) {
	a := adviser(t)
	sh := drawn(map[fibres.Property]float64{fibres.Mass: 200, fibres.Thickness: 0.5, fibres.BendingLength: 2, fibres.Warmth: 1, fibres.PressingLimit: 150, fibres.Wash: 3, fibres.ShowThrough: 3, fibres.Flame: 1})
	in := &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{}}
	for p := range fibres.NumProperties {
		in.Known[p] = fibres.Estimate{Basis: fibres.Unknown}
	}
	for p, v := range map[fibres.Property]float64{fibres.Mass: 100, fibres.Thickness: 0.2, fibres.BendingLength: 1, fibres.Warmth: 1, fibres.PressingLimit: 110, fibres.Wash: 1, fibres.ShowThrough: 3, fibres.Flame: 2} {
		in.Known[p] = fibres.Estimate{Low: v, Typical: v, High: v, Basis: fibres.Measured}
	}
	of := func(name string) composite {
		return a.compose(MakeUp{Shell: &fibres.Subject{}, Seam: &Seam{Layers: 2, OfShell: 2}, Inner: []Inner{{cut.LayerWish{Name: name}, in}}}, sh, nil)
	}
	w := of("second lining")
	bend := math.Cbrt((200*8 + 100*1) / 300.0)
	for what, x := range map[string][2]float64{"mass": {300, w.mass[0]}, "thickness": {0.7, w.thick[0]}, "warmth": {2, w.warm[0]}, "iron": {110, w.press[0]}, "wash": {1, w.wash[0]}, "show": {through(3, 3), w.show[0]},
		"flame": {2, w.flame[0]}, "bend": {bend, w.bend[0]}, "outer mass": {200, w.outer.mass[0]}, "seam": {1, w.seam[0]}} {
		require.InDelta(t, x[0], x[1], 1e-9, what)
	}
	w = of("underlining")
	require.InDelta(t, 300, w.outer.mass[0], 1e-9)
	require.InDelta(t, 0.7, w.outer.thick[0], 1e-9)
	require.InDelta(t, 1.4, w.seam[0], 1e-9)
}
