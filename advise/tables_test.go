package advise

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// The table of a question's flap stays within 0.1 % of the mechanics.
func TestStandTable(t *testing.T) {
	for _, k := range []flapKind{{10, 0, 1, 1}, {10, 1.2, 2, 2}, {6, 2, 4, 3}, {15, 5, 1.5, 2}} {
		table := new(tables).standOff(k)
		worst := 0.0
		for c := 0.31; c < 12; c *= 1.0137 {
			want := exactStandOff(k, c)
			worst = math.Max(worst, math.Abs(table.at(c)-want)/want)
		}
		require.Less(t, worst, 0.001, "flap %+v", k)
	}
}

// The stack worked out in the loop is, member by member, that of the mechanics
// package with the member's own bond, for every way of joining.
func TestStackIsThatOfHang(t *testing.T) {
	a := adviser(t)
	seen := map[string]bool{}
	for _, f := range a.Finishes {
		if seen[f.Joined] || !f.Lined || f.Layers != 2 {
			continue
		}
		seen[f.Joined] = true
		m := makeUp(t, "hooded-wrap, shell cotton-sateen, lining silk-taffeta")
		m.Finish = f
		sh, li := a.sample(m.Shell, fibres.ShellSalt), a.sample(m.Lining, fibres.LiningSalt)
		w := a.compose(m, sh, li)
		require.Len(t, w.bend, fibres.N)
		joint, joins := jointOf(m)
		for i, got := range w.bend {
			layer := func(s *fibres.Sample) hang.Layer {
				mass, _ := s.At(fibres.Mass, i)
				c, _ := s.At(fibres.BendingLength, i)
				return hang.Layer{Mass: units.ArealMass(mass), BendingLength: units.Length(c)}
			}
			want := hang.StackFree(layer(sh), layer(li))
			if joins {
				bond := a.tables.bonds(joint)[i]
				_, want = hang.StackJoined(bond, layer(sh), layer(li))
			}
			require.InEpsilon(t, float64(want.BendingLength), got, 1e-9, "%s, member %d", f.ID, i)
		}
	}
	require.GreaterOrEqual(t, len(seen), 2)
	// the layers' own worked example: 2.318 cm (formulas for loose layers, computed)
	want := hang.StackFree(hang.Layer{Mass: 200, BendingLength: 2.5}, hang.Layer{Mass: 70, BendingLength: 1.5}).BendingLength
	require.InDelta(t, 2.318, float64(want), 0.001)
}

// Two or more alike layers joined, without a lining, agree with the mechanics too.
func TestAlikeLayersAreThoseOfHang(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "hooded-wrap, bagged-lining, shell mass 150 g/m2, shell bending-length 2 cm")
	f := *m.Finish
	f.Lined, f.Layers = false, 3
	m.Finish = &f
	w := a.compose(m, a.sample(m.Shell, fibres.ShellSalt), nil)
	one := hang.Layer{Mass: 150, BendingLength: 2}
	for i, got := range w.bend {
		_, want := hang.StackJoined(a.tables.bonds(hang.Edge)[i], one, one, one)
		require.InEpsilon(t, float64(want.BendingLength), got, 1e-9)
	}
}

// What a bond is dealt keeps within the bounds of the mechanics and reaches them.
func TestBondsSpanTheBounds(t *testing.T) {
	for _, j := range []hang.Joint{hang.Free, hang.Edge, hang.Quilted, hang.Fused} {
		low, typical, high := j.Bond()
		b := slices.Clone(new(tables).bonds(j)[:])
		slices.Sort(b)
		require.InDelta(t, low, b[0], 0.01)
		require.InDelta(t, typical, b[len(b)/2], 0.01)
		require.InDelta(t, high, b[len(b)-1], 0.01)
	}
	// Two layers of one cloth, folded: measured ×1.045 to ×1.214 (Garcia-Camacho and
	// others 2024, computed in testdata/reference/effects.csv); the dealt ones hold both.
	b := new(tables).bonds(hang.Edge)
	lo, hi := math.Inf(1), 0.0
	for _, x := range b {
		f := math.Cbrt(1 + 3*x)
		lo, hi = math.Min(lo, f), math.Max(hi, f)
	}
	require.Less(t, lo, 1.045)
	require.InDelta(t, 1.214, hi, 0.01)
}

// A strip stitched down as one sheet and one whose layers lie loose stand off
// alike, so that the loose one may be reckoned.
func TestStripStitchedOrLoose(t *testing.T) {
	for _, c := range []float64{0.8, 1.5, 2.5, 4, 6} {
		body := hang.Layer{Mass: 200, BendingLength: units.Length(c)}
		loose, bonded := hang.StackJoined(1, body, body, body, body)
		mass := float64(loose.Mass / body.Mass)
		free, stitched := float64(loose.Rigidity()/body.Rigidity()), float64(bonded.Rigidity()/body.Rigidity())
		require.InDelta(t, 4, free, 1e-9)
		require.InDelta(t, 64, stitched, 1e-9)
		for _, strip := range []units.Length{0.6, 1.2, 2.5} {
			a := hang.StandOffStrip(10, body.BendingLength, strip, free, mass)
			b := hang.StandOffStrip(10, body.BendingLength, strip, stitched, mass)
			require.InDelta(t, float64(a), float64(b), 0.1, "c %v, strip %v", c, strip)
			require.Less(t, float64(a), 1.02*float64(hang.StandOff(10, body.BendingLength)), "the mass of the strip draws the edge in")
		}
	}
}

// A pair of which one is dry-cleaned is not parted by a wash: the gap is what dry-cleaning takes,
// as the names' typical figures for it lie to those for the wash.
func TestGapOfWhatIsNotWashed(t *testing.T) {
	a := adviser(t)
	pair := func(words string) Paired {
		m := makeUp(t, words)
		p, err := a.Pair(m, false, 1)
		require.NoError(t, err)
		require.Len(t, p.Pairs, 1)
		return p.Pairs[0]
	}
	washed := pair("half-circle-cape, bagged-lining, shell cotton-sateen, lining viscose-twill")
	require.Equal(t, "wash", washed.GapIn)
	require.Contains(t, washed.Say, "the first wash parts")
	dry := pair("half-circle-cape, bagged-lining, shell silk-velvet, lining viscose-twill")
	require.Equal(t, "dry-clean", dry.GapIn)
	require.Contains(t, dry.Say, "the first dry-cleaning parts")
	require.True(t, dry.Gap.Known())
	most := 0.0
	for _, c := range []string{"silk-velvet", "viscose-twill"} {
		for _, d := range []string{"warp", "weft"} {
			e, ok := a.Cat.Shrink(fibres.Subject{Cloth: a.Cat.Cloths[c]}, d, "dry-clean")
			require.True(t, ok, "%s %s", c, d)
			most = max(most, e.High)
		}
	}
	require.LessOrEqual(t, dry.Gap.High, most/100*110.0*10*1.5, "hardly further than the one that gives most could part from one that gives nothing")
	require.Less(t, dry.Gap.Typical, washed.Gap.Typical, "viscose gives 7 % in a wash and far less in dry-cleaning")
}
