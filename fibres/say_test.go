package fibres_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
)

func TestEstimateIsToldInTheUnitsAsked(t *testing.T) {
	mass := fibres.Figure(fibres.Mass, 120, 150, 180, fibres.Practice, "")
	iron := fibres.Figure(fibres.PressingLimit, 110, 150, 150, fibres.Practice, "")
	for _, x := range []struct {
		name string
		e    fibres.Estimate
		sys  units.System
		want string
	}{
		{"metric range", mass, units.Metric, "120 – 150 – 180 g/m2"},
		{"imperial range", mass, units.Imperial, "3.5 oz/yd2 – 4.4 oz/yd2 – 5.3 oz/yd2"}, // 33.906 g/m² to the ounce per square yard
		{"degrees", iron, units.Metric, "110 – 150 – 150 °C"},
		{"no iron at all", fibres.Figure(fibres.PressingLimit, 0, 0, 0, fibres.Practice, ""), units.Metric, "do not iron"},
		{"one figure", fibres.Figure(fibres.BendingLength, 0.8, 0.8, 0.8, fibres.Measured, ""), units.Metric, "0.8 cm"},
		{"words stay words", fibres.Figure(fibres.Fray, 1, 2, 2, fibres.Practice, ""), units.Imperial, "low – medium"},
		{"nothing known", fibres.Estimate{}, units.Imperial, "not known"},
	} {
		t.Run(x.name, func(t *testing.T) { require.Equal(t, x.want, x.e.In(x.sys)) })
	}
}

func TestQuantitiesKeepCentimetresForAFall(t *testing.T) {
	require.Equal(t, "0.5 to 1.4 cm", fibres.Quantities(0.5, 1.4, "cm", units.Metric))
	require.Equal(t, "0.5 cm", fibres.Quantity(0.5, "cm", units.Metric))
	require.Equal(t, "30 in", fibres.Quantity(76.2, "cm", units.Imperial))
	require.Equal(t, "5 %", fibres.Quantity(5, "%", units.Imperial))
}
