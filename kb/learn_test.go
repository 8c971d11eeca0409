package kb

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/kb/memory"
	"tenter/kb/record"
)

// Own swatches teach of the cloth that they were sold as, and only where they were measured; the
// user can switch that off.
func TestLessonsAreMeasuredSwatchesOfAName(t *testing.T) {
	b := base(t)
	on, err := b.Learns()
	require.NoError(t, err)
	require.True(t, on, "nothing recorded: nothing was switched off")
	lessons, err := b.Lessons()
	require.NoError(t, err)
	require.Empty(t, lessons)

	r := memory.New()
	b.Records = r
	weigh := func(name, soldAs string) {
		w, err := r.AddSwatch(record.Swatch{Name: name, SoldAs: soldAs})
		require.NoError(t, err)
		_, err = r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 150.0}}})
		require.NoError(t, err)
	}
	weigh("king's blue", "cotton-sateen")
	weigh("found", "")
	_, err = r.AddSwatch(record.Swatch{Name: "never weighed", SoldAs: "cotton-sateen"})
	require.NoError(t, err)
	lessons, err = b.Lessons()
	require.NoError(t, err)
	require.Len(t, lessons, 1)
	require.Equal(t, "king's blue", lessons[0].Swatch)
	require.Equal(t, "cotton-sateen", lessons[0].Cloth.ID)
	require.InDelta(t, 150, lessons[0].Known[fibres.Mass].Typical, 1e-9)

	on, err = b.Learns()
	require.NoError(t, err)
	require.True(t, on)
	require.NoError(t, r.SetSetting(SettingLearn, false))
	on, err = b.Learns()
	require.NoError(t, err)
	require.False(t, on)
}
