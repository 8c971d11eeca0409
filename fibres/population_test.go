package fibres

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

func spreadOf(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += (x - mean) * (x - mean) / float64(len(v))
	}
	return mean, math.Sqrt(sd)
}

// The members of a cloth are its quantiles at the middles of 256 equal parts, in an order
// that each layer has for itself.
func TestMembersAreTheQuantilesOfTheName(t *testing.T) {
	c, k := toy(toyRow{"cloth", "stuff", "mass", 100, 120, 180}, toyRow{"structure", "mat", "fray", 0, 1, 3})
	s := c.Sample(Subject{Cloth: k}, ShellSalt)
	for _, p := range []Property{Mass, Fray} {
		e, got := c.Estimate(Subject{Cloth: k}, p), slices.Clone(s.Of(p))
		require.Len(t, got, 256)
		require.False(t, slices.IsSorted(got))
		require.NotEqual(t, got, c.Sample(Subject{Cloth: k}, LiningSalt).Of(p), "the lining has an order of its own")
		require.Equal(t, got, c.Sample(Subject{Cloth: k}, ShellSalt).Of(p), "and always the same")
		slices.Sort(got)
		for i, v := range got {
			require.InDelta(t, e.Quantile((float64(i)+0.5)/256), v, 1e-9, "%s %d", p, i)
		}
	}
	require.Nil(t, s.Of(Wash), "of what is not known there are none")
	_, ok := s.At(Wash, 3)
	require.False(t, ok)
	v, ok := s.At(Mass, 255)
	require.True(t, ok)
	require.Equal(t, s.Of(Mass)[255], v)
	one := c.Sample(Subject{Cloth: k, Known: map[Property]Estimate{Mass: Figure(Mass, 120, 120, 120, Measured, "")}}, ShellSalt)
	require.Equal(t, []float64{120}, one.Of(Mass), "one figure is shared by all")
	v, _ = one.At(Mass, 200)
	require.Equal(t, 120.0, v)
}

// A member is no lighter, heavier or stiffer than cloth can be.
func TestMembersAreHeldToWhatClothCanBe(t *testing.T) {
	c, k := toy(toyRow{"cloth", "stuff", "mass", 5, 100, 2000})
	v := c.Sample(Subject{Cloth: k}, ShellSalt).Of(Mass)
	require.Equal(t, 5.0, slices.Min(v))
	require.Equal(t, 2000.0, slices.Max(v))
}

// Warp and weft of each member stand off its overall bending length by what the other
// loses: their product is its square. Over 251 cloths the warp is 1.0677 of it, with a
// standard deviation of 0.119 in ln, the bias 1 and 0.157.
func TestDirectionsOfTheMembers(t *testing.T) {
	c := catalogue(t)
	k := c.Cloths["wool-flannel"]
	require.NotNil(t, k)
	s := c.Sample(Subject{Cloth: k}, ShellSalt)
	overall, warp, weft, bias := s.Of(BendingLength), s.Of(BendingLengthWarp), s.Of(BendingLengthWeft), s.Of(BendingLengthBias)
	var off, offBias []float64
	for i := range overall {
		require.InEpsilon(t, overall[i]*overall[i], warp[i]*weft[i], 1e-9)
		off, offBias = append(off, math.Log(warp[i]/overall[i])), append(offBias, math.Log(bias[i]/overall[i]))
	}
	mean, sd := spreadOf(off)
	require.InDelta(t, math.Log(c.Estimate(Subject{Cloth: k}, BendingLengthWarp).Typical/c.Estimate(Subject{Cloth: k}, BendingLength).Typical), mean, 1e-3)
	require.InDelta(t, 0.119, sd, 0.001)
	mean, sd = spreadOf(offBias)
	require.InDelta(t, 0, mean, 1e-3)
	require.InDelta(t, 0.157, sd, 0.001)
	hand := s.Of(Hand)
	for i := range hand {
		require.Equal(t, bandOf(overall[i]), hand[i], "the hand of a member is the band it bends in")
	}
	ruled := c.Sample(Subject{Cloth: k}.With(c, BendingLengthWarp, 2, 2), ShellSalt).Of(BendingLengthWarp)
	slices.Sort(ruled)
	require.InDelta(t, 2, ruled[128], 0.01, "a warp that was read is drawn from the reading")
	felt := c.Sample(Subject{Cloth: k}.Feeling(3, 3), ShellSalt)
	require.Equal(t, []float64{3}, felt.Of(Hand))
}

// The heavy members wear harder: the scores of mass and of a grade that follows it agree
// by the correlation that the table of properties says.
func TestGradesThatGoWithMass(t *testing.T) {
	c, k := toy(toyRow{"cloth", "stuff", "mass", 80, 120, 180}, toyRow{"cloth", "stuff", "wear", 0, 1, 2}, toyRow{"cloth", "stuff", "show-through", 0, 1, 3})
	s := c.Sample(Subject{Cloth: k}, ShellSalt)
	for p, r := range map[Property]float64{Wear: 0.4, ShowThrough: -0.6} {
		var sum float64
		parts := following(p, ShellSalt)
		for i := range N {
			z := math.Sqrt2 * math.Erfinv(2*parts[i]-1)
			sum += z * s.points[Mass].score(i) / N
			e := c.Estimate(Subject{Cloth: k}, p)
			require.Equal(t, math.Round(e.linear(parts[i])), s.Of(p)[i])
		}
		require.InDelta(t, r, sum, 0.1, "%s: 256 members scatter by 1/16", p)
	}
	flat, _ := toy(toyRow{"cloth", "stuff", "mass", 120, 120, 120}, toyRow{"cloth", "stuff", "wear", 0, 1, 2})
	v := flat.Sample(Subject{Cloth: flat.Cloths["stuff"]}, ShellSalt).Of(Wear)
	require.ElementsMatch(t, []float64{0, 1, 2}, slices.Compact(slices.Sorted(slices.Values(v))), "where all weigh the same it scatters by itself")
}
