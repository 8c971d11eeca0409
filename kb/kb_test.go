package kb

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/memory"
	"tenter/kb/record"
)

func named(t *testing.T, b *Base, names ...string) {
	t.Helper()
	r := memory.New()
	b.Records = r
	for _, n := range names {
		_, err := r.AddSwatch(record.Swatch{Name: n, SoldAs: "cotton-sateen"})
		require.NoError(t, err)
	}
}

// A swatch goes before the cloth of its name; "cloth:" and "swatch:" say which is meant.
func TestWhichOfTwoAName(t *testing.T) {
	b := base(t)
	named(t, b, "denim", "king's blue")
	s, err := b.Subject("Denim")
	require.NoError(t, err)
	require.True(t, s.Swatch)
	require.Equal(t, "denim", b.Hidden(s).ID, "the name no longer means the cloth, and that can be told")
	s, err = b.Subject("CLOTH: denim")
	require.NoError(t, err)
	require.False(t, s.Swatch)
	require.Nil(t, b.Hidden(s))
	s, err = b.Subject("swatch:king")
	require.NoError(t, err)
	require.Equal(t, "king's blue", s.Name)
	require.Nil(t, b.Hidden(s), "no cloth is called so")
	_, err = b.Subject("swatch:lawn")
	require.ErrorContains(t, err, `there is no swatch "lawn"`)
	_, err = b.Subject("cloth:king's blue")
	require.Error(t, err)
	require.Nil(t, b.Hidden(nil))
}

func TestBeginningsOfSwatches(t *testing.T) {
	b := base(t)
	var names []string
	for i := range 6 {
		names = append(names, fmt.Sprintf("zephyr remnant %d", i+1))
	}
	named(t, b, append(names[:5:5], "quaint brocade")...)
	_, err := b.Subject("zephyr rem")
	require.ErrorContains(t, err, `several swatches begin with "zephyr rem"`)
	require.ErrorContains(t, err, "zephyr remnant 5")
	require.NotContains(t, err.Error(), "…")
	s, err := b.Subject("quaint")
	require.NoError(t, err)
	require.Equal(t, "quaint brocade", s.Name)
	_, err = b.Subject("quiant brocade")
	require.ErrorContains(t, err, `your swatch "quaint brocade"?`)

	named(t, b, names...)
	_, err = b.Subject("zephyr rem")
	require.ErrorContains(t, err, "zephyr remnant 5 …")
	require.NotContains(t, err.Error(), "zephyr remnant 6")
}
