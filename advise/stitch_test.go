package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A stitch type is told in words, its number behind. Source: ISO 4915, classes as read,
// the names of types from memory.
func TestStitchesInWords(t *testing.T) {
	for stitch, want := range map[string]string{
		"301": "lockstitch (301)", "301 or 401": "lockstitch (301) or double chain stitch (401)", "504, then 301": "overedge of three threads (504), then lockstitch (301)",
		"200 class": "by hand (200 class)", "500 class": "overedge (500 class)", "": "", "699": "699", "3010": "3010", "701": "701", "by hand": "by hand",
	} {
		require.Equal(t, want, (&Seam{Stitch: stitch}).StitchWords(), stitch)
	}
	for _, s := range adviser(t).Seams {
		require.NotRegexp(t, `^\d`, s.StitchWords(), "the stitch of %s has no name", s.ID)
	}
}
