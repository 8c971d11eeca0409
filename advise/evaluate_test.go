package advise

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/hang"
)

// drawn is a sample of one cloth of these figures.
func drawn(v map[fibres.Property]float64) *fibres.Sample {
	known := map[fibres.Property]fibres.Estimate{}
	for p := range fibres.NumProperties {
		known[p] = fibres.Estimate{Basis: fibres.Unknown}
	}
	for p, x := range v {
		known[p] = fibres.Estimate{Low: x, Typical: x, High: x, Basis: fibres.Measured}
	}
	return (&fibres.Catalogue{}).Sample(fibres.Subject{Known: known}, fibres.ShellSalt)
}

// How many layers of shell and lining a finish makes: of a lined one that has no lining
// yet, the lining is not counted.
func TestLayersOfAMakeUp(t *testing.T) {
	cloth := &fibres.Subject{}
	for _, x := range []struct {
		m             MakeUp
		shell, lining int
	}{
		{MakeUp{}, 1, 0},
		{MakeUp{Finish: &Finish{Layers: 0}}, 1, 0},
		{MakeUp{Finish: &Finish{Layers: 2}}, 2, 0},
		{MakeUp{Finish: &Finish{Layers: 2, Lined: true}, Lining: cloth}, 1, 1},
		{MakeUp{Finish: &Finish{Layers: 3, Lined: true}, Lining: cloth}, 2, 1},
		{MakeUp{Finish: &Finish{Layers: 3, Lined: true}}, 2, 0},
		{MakeUp{Finish: &Finish{Layers: 1, Lined: true}, Lining: cloth}, 1, 1},
		{MakeUp{Finish: &Finish{Layers: 2}, Lining: cloth}, 2, 0},
	} {
		sh, li := layersOf(x.m)
		require.Equal(t, [2]int{x.shell, x.lining}, [2]int{sh, li}, "%+v", x.m.Finish)
	}
}

// A column is of all members where one of those it is made of is; nothing comes of what
// is not known.
func TestColumnsAreMadeMemberByMember(t *testing.T) {
	x, y := []float64{1, 2, 3}, []float64{10}
	add := func(i int) float64 { return value(x, i) + value(y, i) }
	require.Equal(t, []float64{11, 12, 13}, each(add, x, y))
	require.Equal(t, []float64{11, 12, 13}, sum(x, y))
	require.Nil(t, each(add, x, nil))
	require.Equal(t, []float64{2, 4, 6}, times(x, 2))
	require.Equal(t, x, times(x, 1))
	require.Same(t, &x[0], &times(x, 1)[0], "one layer is its own column")
}

// Light through two layers is what the one lets through of what the other did (optics):
// with 2, 12, 40 and 75 % for the grades, two half-sheer layers let 16 % through, which
// is a seventh of the way from low to medium.
func TestLightThroughTwoLayers(t *testing.T) {
	for _, x := range []struct{ shell, lining, want float64 }{
		{0, 0, 0},                       // 0.04 % is less than an opaque layer lets through
		{2, 2, 1 + (0.16-0.12)/0.28},    // 0.4 × 0.4
		{3, 3, 2 + (0.5625-0.40)/0.35},  // 0.75 × 0.75
		{3, 1, 0 + (0.09-0.02)/0.10},    // 0.75 × 0.12
		{3, 0, 0},                       // 0.015
		{2.5, 3, 2 + (0.43125-0.4)/.35}, // 0.575 × 0.75
	} {
		require.InDelta(t, x.want, through(x.shell, x.lining), 1e-9, "%v", x)
		require.InDelta(t, x.want, through(x.lining, x.shell), 1e-9, "%v", x)
	}
	for grade := range 4 {
		require.InDelta(t, float64(grade), lightGrade(lightThrough(float64(grade))), 1e-9)
	}
	require.Equal(t, 3.0, lightGrade(0.8))
}

// What a lining brings: masses and thicknesses add, the tenderer layer decides iron and
// wash, the rougher face is the lining's, and of a lining that is softer by c and lighter
// by m the rigidity is m c³ times the shell's.
func TestWhatALiningBrings(t *testing.T) {
	a := adviser(t)
	sh := drawn(map[fibres.Property]float64{fibres.Mass: 200, fibres.Thickness: 0.5, fibres.BendingLength: 2, fibres.PressingLimit: 150, fibres.ShowThrough: 0, fibres.Wash: 4, fibres.Wear: 1,
		fibres.Stretch: 2, fibres.Rough: 2, fibres.Warmth: 1, fibres.Flame: 1, fibres.Water: 0})
	li := drawn(map[fibres.Property]float64{fibres.Mass: 100, fibres.Thickness: 0.2, fibres.BendingLength: 1, fibres.PressingLimit: 110, fibres.ShowThrough: 1, fibres.Wash: 2, fibres.Wear: 3,
		fibres.Stretch: 1, fibres.Rough: 0, fibres.Warmth: 1, fibres.Flame: 2, fibres.Water: 1})
	m := MakeUp{Finish: &Finish{Layers: 2, Lined: true}, Shell: &fibres.Subject{}, Lining: &fibres.Subject{}}
	w := a.compose(m, sh, li)
	for what, x := range map[string][2]float64{
		"mass": {300, w.mass[0]}, "thickness": {0.7, w.thick[0]}, "iron": {110, w.press[0]}, "wash": {2, w.wash[0]}, "feel": {0, w.skin[0]}, "warmth": {2, w.warm[0]}, "flame": {2, w.flame[0]},
		"water": {1, w.water[0]}, "wear": {1, w.wear[0]}, "stretch": {2, w.stretch[0]}, "mass of the shell": {200, w.outer.mass[0]}, "thickness of the shell": {0.5, w.outer.thick[0]},
		"bending length of the shell": {2, w.outer.bend[0]}, "mass of the lining over the shell's": {0.5, w.pair.mass[0]}, "bending length over the shell's": {0.5, w.pair.bend[0]},
		"rigidity over the shell's": {0.0625, w.pair.rigid[0]}, "lack of stretch": {1, w.pair.stretch[0]}, "lack of washing": {2, w.pair.wash[0]},
	} {
		require.InDelta(t, x[0], x[1], 1e-9, what)
	}
	// Loose layers: rigidities and masses add, G = m c³ (Peirce 1930, from memory).
	require.InDelta(t, math.Cbrt((200*8+100*1)/300.0), value(w.bend, 0), 1e-9)
	require.InDelta(t, math.Cbrt((200*8+100*1)/300.0), value(w.bend, fibres.N-1), 1e-9)

	bears := w
	bears.support(&Job{Bears: true}, sh, li)
	require.Equal(t, 3.0, bears.wear[0], "the stronger layer takes the load")
	require.Equal(t, 1.0, bears.stretch[0], "and the firmer one holds")
	require.Equal(t, 300.0, bears.outer.mass[0], "body and weight are those of both")
	strong := w
	strong.support(&Job{Strengthens: true}, sh, li)
	require.Equal(t, 3.0, strong.wear[0])
	require.Equal(t, 2.0, strong.stretch[0])
	require.Equal(t, 200.0, strong.outer.mass[0])
	plain := w
	plain.support(nil, sh, li)
	require.Equal(t, 1.0, plain.wear[0])

	alone := a.compose(MakeUp{Finish: &Finish{Layers: 2}, Shell: &fibres.Subject{}}, sh, nil)
	require.Equal(t, []float64{400, 1, 2}, []float64{alone.mass[0], alone.thick[0], alone.warm[0]}, "two layers of the shell")
}

// A flameproof layer goes out, and the other burns as it did; an interlining holds two
// grades more of air, but no make-up is warmer than the scale.
func TestWishesAndInterliningsOfAMakeUp(t *testing.T) {
	sh := drawn(map[fibres.Property]float64{fibres.Flame: 2})
	require.Equal(t, []float64{2}, flameOf(MakeUp{}, "shell-flameproof", sh))
	inter := MakeUp{Interfacing: &Interfacing{Role: "interlining"}}
	top := float64(len(fibres.Properties[fibres.Warmth].Scale) - 1)
	require.Equal(t, []float64{2, top}, interlined(inter, []float64{0, top - 1}))
	require.Equal(t, []float64{0, top - 1}, interlined(MakeUp{}, []float64{0, top - 1}))
	require.Equal(t, []float64{top}, interlined(MakeUp{}, []float64{top + 3}))
	warm := []float64{0, top}
	require.Same(t, &warm[0], &interlined(MakeUp{}, warm)[0], "what stays as it is is not copied for thousands of make-ups")
	proofed := MakeUp{Wishes: []*Wish{{ID: "shell-flameproof"}}}
	require.Equal(t, []float64{0}, flameOf(proofed, "shell-flameproof", sh))
	require.Equal(t, []float64{2}, flameOf(proofed, "lining-flameproof", sh))
}

// An underlining mounted on the shell adds its rigidity and its mass: the bending length
// goes with the cube root of the one over the other.
func TestAnUnderliningStiffens(t *testing.T) {
	x := &Interfacing{Role: "underlining", Stiffness: 0.7, MassLow: 50, MassHigh: 100}
	require.InDelta(t, math.Cbrt(1.7/1.5), underlined(MakeUp{Interfacing: x}), 1e-12)
	for _, m := range []MakeUp{{}, {Interfacing: &Interfacing{Role: "interfacing", Stiffness: 2}}, {Interfacing: &Interfacing{Role: "underlining", MassLow: 50, MassHigh: 100}}} {
		require.Equal(t, 1.0, underlined(m))
	}
}

// The strip along the edge: its layers over those of the body, no wider than half the flap.
func TestTheStripAlongAnEdge(t *testing.T) {
	a := adviser(t)
	m := MakeUp{Piece: &Piece{Flap: 10}, Finish: &Finish{StripWidth: 2, StripLayers: 3}}
	w, g, k := a.strip(m, 1)
	require.Equal(t, []float64{2, 3, 3}, []float64{float64(w), g, k})
	w, g, k = a.strip(m, 2)
	require.Equal(t, []float64{2, 1.5, 1.5}, []float64{float64(w), g, k})
	m.Piece.Flap, m.Interfacing = 3, &Interfacing{Role: "interfacing", Stiffness: 0.8}
	w, g, k = a.strip(m, 1)
	require.InDeltaSlice(t, []float64{1.5, 3.8, 3}, []float64{float64(w), g, k}, 1e-12)
	m.Finish.StripWidth = 0
	w, g, k = a.strip(m, 1)
	require.Equal(t, []float64{0, 1, 1}, []float64{float64(w), g, k})
}

// Folds are told of what hangs, and where it is known how stiff it is.
func TestFoldsOfWhatHangs(t *testing.T) {
	bend := []float64{2}
	require.Nil(t, foldWidth(nil, bend))
	require.Nil(t, foldWidth(&Piece{}, bend))
	require.Nil(t, foldWidth(&Piece{Hang: 60}, nil))
	got := foldWidth(&Piece{Hang: 60}, bend)
	require.Len(t, got, 1)
	require.Greater(t, got[0], 2.0)
	require.Less(t, got[0], 60.0)
	require.NotNil(t, foldWidth(&Piece{Hang: 0.5}, bend), "what hangs a little hangs")
}

// The population of a name is drawn once; that of a cloth of which more is known is its own.
func TestWhatIsDrawnOnce(t *testing.T) {
	k := adviser(t).Cat.Cloths["denim"]
	require.True(t, kept(&fibres.Subject{Cloth: k}))
	require.True(t, kept(&fibres.Subject{May: []fibres.Weighted{{Cloth: k, Part: 1}}}))
	require.False(t, kept(&fibres.Subject{Name: "mine"}))
	require.False(t, kept(&fibres.Subject{Cloth: k, Known: map[fibres.Property]fibres.Estimate{fibres.Mass: {Typical: 300}}}))
}

// Under the needle lie the layers of shell, each as thick as it is, and strips of 0.25 mm.
func TestHowThickASeamIs(t *testing.T) {
	require.Equal(t, []float64{1.5, 2.5}, underNeedle(&Seam{Layers: 4, OfShell: 2}, []float64{0.5, 1}))
	require.Equal(t, []float64{1.5}, underNeedle(&Seam{Layers: 3, OfShell: 3}, []float64{0.5}))
	require.Nil(t, underNeedle(nil, []float64{0.5}))
	require.Nil(t, underNeedle(&Seam{Layers: 4, OfShell: 2}, nil))
}

// By how many grades a lining has less than its shell: more of it is no lack.
func TestWhatALiningLacks(t *testing.T) {
	for _, x := range [][3]float64{{2, 0, 2}, {2, 2, 0}, {0, 2, 0}} {
		require.Equal(t, x[2], lack(x[0], x[1]))
	}
}

// How layers hang: what is mounted on the shell stiffens it, alone, joined and lined; one layer
// without it is the shell's own column; where nothing joins, figures that are known exactly are
// one figure, and a joining spreads them over the members.
func TestHowLayersHang(t *testing.T) {
	a := adviser(t)
	sh := drawn(map[fibres.Property]float64{fibres.Mass: 200, fibres.BendingLength: 2, fibres.Thickness: 0.5})
	li := drawn(map[fibres.Property]float64{fibres.Mass: 100, fibres.BendingLength: 1, fibres.Thickness: 0.2})
	mount := &Interfacing{Role: "underlining", Stiffness: 7, MassLow: 0, MassHigh: 0} // its rigidity eightfold: twice the bending length
	single, double := &Finish{Layers: 1}, &Finish{Layers: 2, Joined: "fused"}
	lined := &Finish{Layers: 2, Lined: true}
	bend := func(m MakeUp) []float64 {
		l := li
		if m.Lining == nil {
			l = nil
		}
		return a.compose(m, sh, l).bend
	}
	require.Equal(t, []float64{2}, bend(MakeUp{Finish: single}))
	require.Same(t, &sh.Of(fibres.BendingLength)[0], &bend(MakeUp{Finish: single})[0])
	require.InDelta(t, 4, bend(MakeUp{Finish: single, Interfacing: mount})[0], 1e-9)
	bond := bondsOf(hang.Fused)
	plain, mounted := bend(MakeUp{Finish: double}), bend(MakeUp{Finish: double, Interfacing: mount})
	require.Len(t, plain, fibres.N)
	for _, i := range []int{0, 100} {
		require.InDelta(t, 2*math.Cbrt(1+bond[i]*3), plain[i], 1e-9)
		require.InDelta(t, 2*plain[i], mounted[i], 1e-9)
	}
	require.Len(t, bend(MakeUp{Finish: &Finish{Layers: 1, Joined: "fused"}}), 1, "one layer is joined to nothing")
	cloth := &fibres.Subject{}
	loose := bend(MakeUp{Finish: lined, Lining: cloth})
	require.Len(t, loose, 1)
	require.InDelta(t, 2*loose[0], bend(MakeUp{Finish: lined, Lining: cloth, Interfacing: mount})[0], 1e-9)

	outer := a.compose(MakeUp{Finish: lined, Lining: cloth, Interfacing: mount}, sh, li).outer.bend
	require.InDelta(t, 4, outer[0], 1e-9)
	behind := a.compose(MakeUp{Interfacing: &Interfacing{MassLow: 25, MassHigh: 100}}, sh, nil).behind
	require.Equal(t, []float64{0.25}, behind, "the mean of 25 and 100 g/m2 as they double is 50")
	require.Nil(t, a.compose(MakeUp{Interfacing: &Interfacing{}}, sh, nil).behind, "of an interfacing that nobody has weighed")
}

// The stand-off is that of the flap with the strip that lies along it, over the layers of the
// make-up; a piece without a flap has none.
func TestWhatStandsOff(t *testing.T) {
	a := adviser(t)
	sh := drawn(map[fibres.Property]float64{fibres.Mass: 200, fibres.BendingLength: 3})
	li := drawn(map[fibres.Property]float64{fibres.Mass: 100, fibres.BendingLength: 1})
	finish := &Finish{Layers: 2, Lined: true, StripWidth: 2, StripLayers: 4}
	w := a.compose(MakeUp{Piece: &Piece{Flap: 12}, Finish: finish, Shell: &fibres.Subject{}, Lining: &fibres.Subject{}}, sh, li)
	require.InDelta(t, exactStandOff(flapKind{12, 2, 2, 2}, w.bend[0]), w.stand()[0], 0.01)
	tiny := a.compose(MakeUp{Piece: &Piece{Flap: 0.5}}, sh, nil)
	require.NotNil(t, tiny.stand())
	none := a.compose(MakeUp{Piece: &Piece{}}, sh, nil)
	require.Nil(t, none.stand())
	require.Equal(t, []float64{float64(hang.Band(3) - hang.Fluid)}, none.hand())
}
