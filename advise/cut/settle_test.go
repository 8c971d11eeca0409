package cut

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A triangle that hangs over the slant of another slides down until their edges meet, by
// hand: two halves of a square of 40 cm, 15 cm apart, close to the square.
func TestPartsSlideDownToTheirOutlines(t *testing.T) {
	lower := blank{ways: []way{newWay([]Point{{0, 0}, {40, 0}, {0, 40}}, 0, false)}}
	upper := blank{ways: []way{newWay([]Point{{40, 0}, {40, 40}, {0, 40}}, 0, false)}}
	at := []laid{{}, {y: 15}}
	require.InDelta(t, 40, settle([]blank{lower, upper}, at), 5*tolerance)
	require.InDelta(t, 0, at[1].y, 5*tolerance)
	// Straight down on a box it comes to lie on top of it; beside it, on the cloth's end.
	square := blank{ways: []way{newWay([]Point{{0, 0}, {40, 0}, {40, 40}, {0, 40}}, 0, false)}}
	at = []laid{{}, {y: 90}}
	require.InDelta(t, 80, settle([]blank{square, square}, at), 5*tolerance)
	at = []laid{{}, {x: 40, y: 90}}
	require.InDelta(t, 40, settle([]blank{square, square}, at), 5*tolerance)
	require.Zero(t, at[1].y)
}
