package fibres

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// An old book's width is shown, with its year, beside the width of today; a
// cloth of the past keeps the width of its time.
func TestOldWidthsDoNotRule(t *testing.T) {
	c := catalogue(t)
	e := c.Estimate(Subject{Cloth: c.Cloths["gingham"]}, Width)
	require.Equal(t, Derived, e.Basis)
	require.Greater(t, e.Typical, 100.0)
	require.NotEmpty(t, e.Differ)
	require.Less(t, e.Differ[0].Typical, 80.0)
	said := false
	for _, r := range e.Chain {
		said = said || strings.Contains(r.Found, "19")
	}
	require.True(t, said, "the chain does not say the year of the old width")

	past := c.Estimate(Subject{Cloth: c.Cloths["albatross"]}, Width)
	require.Equal(t, Published, past.Basis)
	require.Equal(t, "historical", c.Cloths["albatross"].Era)
}
