package shrink

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// each runs f on random shrinkages from low to high, the same in every run.
func each(low, high float64, f func(a, b units.Fraction, l units.Length)) {
	r := rand.New(rand.NewPCG(1914, 36))
	for range 500 {
		s := func() units.Fraction { return units.Fraction(low + (high-low)*r.Float64()) }
		f(s(), s(), units.Length(1+500*r.Float64()))
	}
}

func TestCutAndFinishedAreInverse(t *testing.T) {
	each(-0.2, 0.6, func(s, _ units.Fraction, l units.Length) {
		cut, err := CutFromFinished(l, s)
		require.NoError(t, err)
		back, err := FinishedFromCut(cut, s)
		require.NoError(t, err)
		require.InEpsilon(t, float64(l), float64(back), 1e-12)
		if s > 0 {
			require.Greater(t, cut, l)
		}
		measured, err := FromMarks(cut, back)
		require.NoError(t, err)
		require.InDelta(t, float64(s), float64(measured), 1e-9)
	})
}

func TestCutScalesWithTheLength(t *testing.T) {
	each(-0.2, 0.6, func(s, _ units.Fraction, l units.Length) {
		one, err := CutFromFinished(l, s)
		require.NoError(t, err)
		two, err := CutFromFinished(2*l, s)
		require.NoError(t, err)
		require.InEpsilon(t, 2*float64(one), float64(two), 1e-12)
	})
}

func TestComposeIsOneWashAfterTheOther(t *testing.T) {
	each(0, 0.35, func(a, b units.Fraction, l units.Length) {
		both, err := Compose(a, b)
		require.NoError(t, err)
		other, err := Compose(b, a)
		require.NoError(t, err)
		require.InDelta(t, float64(both), float64(other), 1e-12, "in either order")
		require.LessOrEqual(t, float64(both), float64(a+b), "never more than the sum")
		require.GreaterOrEqual(t, both, max(a, b))
		once, err := FinishedFromCut(l, a)
		require.NoError(t, err)
		twice, err := FinishedFromCut(once, b)
		require.NoError(t, err)
		require.InEpsilon(t, float64(l)*(1-float64(both)), float64(twice), 1e-12)
		left, err := LeftAfter(both, a)
		require.NoError(t, err)
		require.InDelta(t, float64(b), float64(left), 1e-12)
	})
}

func TestProgressiveComesNearItsLimit(t *testing.T) {
	each(0.001, 0.3, func(a, b units.Fraction, _ units.Length) {
		first, limit := min(a, b), max(a, b)
		last, step := units.Fraction(0), units.Fraction(math.Inf(1))
		for n := range 30 {
			s, err := Progressive(first, limit, n)
			require.NoError(t, err)
			if n == 0 {
				require.Zero(t, s)
			}
			if n == 1 {
				require.InDelta(t, float64(first), float64(s), 1e-12)
			}
			require.GreaterOrEqual(t, s, last, "it never grows back")
			require.LessOrEqual(t, float64(s), float64(limit)+1e-12)
			if n > 0 {
				require.LessOrEqual(t, float64(s-last), float64(step)+1e-12, "each wash takes less than the one before")
				step = s - last
			}
			last = s
		}
		end, err := Progressive(first, limit, 1000)
		require.NoError(t, err)
		if first > limit/50 {
			require.InDelta(t, float64(limit), float64(end), 1e-6)
		}
	})
	s, err := Progressive(0, 0, 5)
	require.NoError(t, err)
	require.Zero(t, s, "cloth that does not shrink")
}

func TestLimitFromWashesReadsProgressiveBack(t *testing.T) {
	each(0.005, 0.3, func(a, b units.Fraction, _ units.Length) {
		first, limit := min(a, b), max(a, b)
		if limit > 10*first {
			return // so slow that rounding decides
		}
		for _, n := range []int{2, 5, 10} {
			after, err := Progressive(first, limit, n)
			require.NoError(t, err)
			got, err := LimitFromWashes(first, after, n)
			require.NoError(t, err)
			require.InDelta(t, float64(limit), float64(got), 1e-9)
		}
	})
	got, err := LimitFromWashes(0.04, 0.04, 5)
	require.NoError(t, err)
	require.InDelta(t, 0.04, float64(got), 1e-9, "all in the first wash")
}

func TestOutsideTheRangeIsAFault(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	sNaN := units.Fraction(math.NaN())
	frac := func(_ units.Fraction, err error) error { return err }
	length := func(_ units.Length, err error) error { return err }
	for i, err := range []error{
		frac(FromMarks(0, 1)), frac(FromMarks(-1, 1)), frac(FromMarks(nan, 1)), frac(FromMarks(10, nan)), frac(FromMarks(10, 3)), frac(FromMarks(10, 13)), frac(FromMarks(inf, 1)),
		length(CutFromFinished(0, 0.1)), length(CutFromFinished(nan, 0.1)), length(CutFromFinished(10, 0.61)), length(CutFromFinished(10, 1)),
		length(CutFromFinished(10, 5)), length(CutFromFinished(10, -0.3)), length(CutFromFinished(10, sNaN)),
		length(FinishedFromCut(0, 0.1)), length(FinishedFromCut(10, sNaN)),
		frac(Compose(0.7, 0)), frac(Compose(0, 0.7)), frac(Compose(sNaN, 0)),
		frac(LeftAfter(0.7, 0)), frac(LeftAfter(0, 0.7)), frac(LeftAfter(0, sNaN)),
		frac(Progressive(0.05, 0.04, 2)), frac(Progressive(0, 0.04, 2)), frac(Progressive(-0.05, 0.04, 2)), frac(Progressive(0.05, 0.06, -1)), frac(Progressive(0.05, 0.06, 1001)),
		frac(Progressive(sNaN, 0.06, 1)), frac(Progressive(0.05, sNaN, 1)),
		frac(LimitFromWashes(0.05, 0.04, 5)), frac(LimitFromWashes(0.05, 0.25, 5)), frac(LimitFromWashes(0.05, 0.06, 1)), frac(LimitFromWashes(0, 0.06, 5)),
		frac(LimitFromWashes(sNaN, 0.06, 5)), frac(LimitFromWashes(0.05, sNaN, 5)), frac(LimitFromWashes(0.2, 0.36, 2)),
	} {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			var f *fault.Fault
			require.True(t, errors.As(err, &f), "%v", err)
			require.Equal(t, fault.OutsideRange, f.Kind)
			require.NotEmpty(t, f.Expected)
		})
	}
}

func TestRangeFaultReadsPlainly(t *testing.T) {
	_, err := CutFromFinished(100, 5)
	require.EqualError(t, err, `the shrinkage is 500 %
  expected: from −20 % (the cloth grows) to 60 %
  mend: shrinkage is the loss over the length before, as a part of one: 0.05 is 5 %`)
	_, err = FromMarks(25, 2.4)
	require.EqualError(t, err, `25 cm before and 2.4 cm after is not a shrinkage
  expected: after between 10 cm and 30 cm
  mend: measure both again between the same marks, in the same unit`)
}

func TestFeltingNote(t *testing.T) {
	require.Empty(t, FeltingNote(FeltsNo, true))
	require.Empty(t, FeltingNote(FeltsNo, false))
	seen := map[string]bool{}
	for _, c := range []struct {
		f     Felts
		moved bool
	}{{FeltsYes, true}, {FeltsSlow, true}, {FeltsYes, false}} {
		note := FeltingNote(c.f, c.moved)
		require.Contains(t, note, "felt")
		require.False(t, seen[note], "each case says its own")
		seen[note] = true
	}
	require.Contains(t, FeltingNote(FeltsYes, true), "10 to 30 %", "common practice, untreated wool in a warm machine wash")
	require.Equal(t, FeltingNote(FeltsYes, false), FeltingNote(FeltsSlow, false))
	require.Equal(t, "slow", FeltsSlow.String())
	require.Equal(t, "unknown", Felts(7).String())
	require.Empty(t, FeltingNote(Felts(7), true))
}
