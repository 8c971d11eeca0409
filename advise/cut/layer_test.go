package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
)

func TestTreatmentTakesTheShrinkageOfItsKind(t *testing.T) {
	est := func(lo, mid, hi float64) fibres.Estimate {
		return fibres.Figure(fibres.ShrinkWarp, lo, mid, hi, fibres.Practice, "", "practice")
	}
	wash := Layer{Name: "shell", Warp: est(2, 5, 9), Weft: est(1, 2, 4)}
	wash.care.steam = [2]fibres.Estimate{est(0.2, 0.5, 1), est(0.1, 0.3, 0.6)}
	l := wash
	l.Treat(Washed)
	require.Equal(t, wash.Warp, l.Warp)
	l.Treat(DryCleaned)
	require.InDelta(t, 0.5, l.Warp.Typical, 1e-12, "steam stands for dry-cleaning that nobody tells of")
	require.Len(t, l.warp, fibres.N)
	bare := Layer{Name: "shell", Warp: est(2, 5, 9)}
	bare.Treat(Steamed)
	require.False(t, bare.Warp.Known(), "unknown, not zero")
	measured := Layer{Name: "shell"}
	require.NoError(t, measured.SetShrink(units.Range[units.Fraction]{Low: 0.05, High: 0.05}, units.Range[units.Fraction]{Low: 0.02, High: 0.02}))
	measured.Treat(DryCleaned)
	require.InDelta(t, 5, measured.Warp.Typical, 1e-12, "what was measured stays")
}
