package draw

import (
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"
)

// A colour is as its words say, as light as is said besides.
func TestPaintFollowsTheWords(t *testing.T) {
	light := func(c color.RGBA) int { return int(c.R) + int(c.G) + int(c.B) }
	require.Equal(t, UsualFace, Paint("", "", UsualFace))
	require.Equal(t, UsualFace, Paint("paisley", "mid", UsualFace))
	blue := Paint("Blue", "", UsualFace)
	require.Greater(t, blue.B, blue.R)
	require.Equal(t, Paint("grey", "", UsualFace), Paint("blue-grey", "", UsualFace))
	require.Less(t, light(Paint("dark green", "", UsualFace)), light(Paint("green", "", UsualFace)))
	require.Equal(t, Paint("light blue", "", UsualFace), Paint("blue", "light", UsualFace))
	order := []string{"dark", "mid", "light", "white"}
	for i := 1; i < len(order); i++ {
		require.Less(t, light(Paint("", order[i-1], UsualFace)), light(Paint("", order[i], UsualFace)), order[i])
	}
	require.Greater(t, light(Paint("black", "dark", UsualFace)), 3*0x30, "folds are seen in it")
}
