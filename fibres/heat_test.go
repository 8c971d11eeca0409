package fibres

import (
	"encoding/csv"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/yarn"
)

// softens reads the least temperature at which fibres soften or melt.
// Source: testdata/reference/softening.csv, each row with its own.
func softens(t *testing.T) map[string]float64 {
	t.Helper()
	f, err := os.Open("../testdata/reference/softening.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	out := map[string]float64{}
	for _, r := range rows[1:] {
		if r[2] == "decomposition" { // wool takes an iron for seconds at a heat that breaks it up in hours
			continue
		}
		for _, cell := range r[3:6] { // low, else typical
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				continue
			}
			if was, there := out[r[1]]; !there || v < was {
				out[r[1]] = v
			}
			break
		}
	}
	require.Greater(t, len(out), 15)
	return out
}

// No cloth is pressed hotter than the dots of any fibre that is more than a trace of
// it, and none at a heat that softens one, even at the low end of what its name is
// sold as.
// Source: the dots of the care label (two explanations of the signs, read); softening
// and melting figures of handbooks (from memory, as each row says).
func TestNoClothIsPressedHotterThanItsFibres(t *testing.T) {
	c := catalogue(t)
	soft := softens(t)
	for _, f := range c.Fibres {
		if !slices.Contains([]string{"cellulose", "regenerated", "protein", "mineral"}, f.Family) {
			_, ok := soft[f.ID]
			require.True(t, ok || f.ID == "rubber" || strings.HasPrefix(f.ID, "aramid") || f.ID == "melamine", "%s may melt, and its heat is not known here", f.ID)
		}
	}
	checked, softened := 0, 0
	for _, k := range c.ClothList() {
		e := c.Estimate(Subject{Cloth: k}, PressingLimit)
		require.True(t, e.Known(), "%s has no pressing limit", k.ID)
		for _, part := range k.Content {
			dots := c.Scalars("dots", part.Fibre.ID)
			if len(dots) == 0 || part.Share.Typical < 1 {
				continue
			}
			limit := dotted[int(dots[0].Value)]
			if isTrace(part) {
				require.LessOrEqual(t, e.Low, limit, "%s: %s in it may suffer, and the low end does not say so", k.ID, part.Fibre.Name)
				continue
			}
			checked++
			require.LessOrEqual(t, e.High, limit, "%s is of %s, %s", k.ID, part.Fibre.Name, yarn.Dots(dots[0].Value))
			if at, ok := soft[part.Fibre.ID]; ok && e.Typical > 0 {
				softened++
				require.Less(t, e.High, at, "%s: %s softens at %g °C", k.ID, part.Fibre.Name, at)
			}
		}
	}
	require.Greater(t, checked, 400)
	require.Greater(t, softened, 100)
}

// What no iron can be set to is no figure: a limit is zero, "do not
// iron", or at least near the coolest setting of an iron.
func TestAnIronCanBeSetToTheLimit(t *testing.T) {
	c := catalogue(t)
	for _, k := range c.ClothList() {
		if e := c.Estimate(Subject{Cloth: k}, PressingLimit); e.Known() && e.Typical > 0 {
			require.GreaterOrEqual(t, e.Typical, 75.0, k.ID)
		}
	}
	for _, id := range []string{"waxed-cotton", "oiled-silk", "foil-knit", "sequin-mesh", "fake-fur", "neoprene"} {
		require.Equal(t, "do not iron", c.Heat(Subject{Cloth: c.Cloths[id]}).Limit().String(), id)
	}
}

// Source: common practice: fleece, plush and fake fur are flattened by a plate long
// before their fibre melts.
func TestPileHasLimitsOfItsOwn(t *testing.T) {
	c := catalogue(t)
	polyester := c.Estimate(Subject{Cloth: c.Cloths["polyester-lining"]}, PressingLimit)
	for _, id := range []string{"polar-fleece", "short-plush-knit", "curly-pile-fleece", "fake-fur", "plush"} {
		e := c.Estimate(Subject{Cloth: c.Cloths[id]}, PressingLimit)
		require.True(t, e.Known(), id)
		require.Less(t, e.Typical, polyester.Typical, id)
		require.LessOrEqual(t, int(e.Typical), 110, "%s: one dot at the most", id)
	}
}

// A trace of elastane is a chance that the cloth suffers, not a ban on heat; a tenth
// of it decides.
func TestATraceOfElastaneIsAChance(t *testing.T) {
	c := catalogue(t)
	blend := func(elastane float64) Estimate {
		part := func(id string, share float64) Part {
			return Part{Fibre: c.Fibres[id], Share: Estimate{Low: share, Typical: share, High: share, Unit: "%", Basis: Measured}}
		}
		return c.Heat(Subject{Content: []Part{part("cotton", 100-elastane), part("elastane", elastane)}})
	}
	cotton := c.Heat(Subject{Content: []Part{{Fibre: c.Fibres["cotton"], Share: Estimate{Low: 100, Typical: 100, High: 100, Basis: Measured}}}})
	trace := blend(3)
	require.Equal(t, cotton.Typical, trace.Typical)
	require.LessOrEqual(t, trace.Low, 110.0)
	require.Contains(t, trace.Because, "elastane")
	require.Equal(t, 110.0, blend(10).Typical)
}

// A stack is pressed as its tenderest layer, end by end, and unknown where one layer is.
func TestHeatOfAStack(t *testing.T) {
	c := catalogue(t)
	of := func(ids ...string) Estimate {
		var layers []Subject
		for _, id := range ids {
			layers = append(layers, Subject{Cloth: c.Cloths[id]})
		}
		return c.Heat(layers...)
	}
	linen, taffeta := of("linen-dress"), of("nylon-taffeta")
	both := of("linen-dress", "nylon-taffeta")
	require.Equal(t, taffeta.Typical, both.Typical)
	require.Equal(t, taffeta.Low, both.Low)
	require.Greater(t, linen.Typical, both.Typical)
	require.Equal(t, both.Typical, of("nylon-taffeta", "linen-dress").Typical)
	require.False(t, c.Heat(Subject{Cloth: c.Cloths["linen-dress"]}, Subject{}).Known())
	require.Equal(t, "do not iron", of("linen-dress", "waxed-cotton").Limit().String())
}
