package kb

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A name that shops give to several cloths is all of them, one that is a cloth's own is that
// cloth, and more words than a name are refused.
func TestANameMayBeSeveralCloths(t *testing.T) {
	b := base(t)
	for _, name := range []string{"taffeta", "cloth:taffeta", " Taffeta "} {
		s, err := b.Subject(name)
		require.NoError(t, err)
		require.Len(t, s.May, 4, name)
		require.Equal(t, "taffeta", s.Label())
	}
	s, err := b.Subject("silk taffeta")
	require.NoError(t, err)
	require.Equal(t, "silk-taffeta", s.Cloth.ID)
	s, err = b.Subject("pure silk satin")
	require.NoError(t, err)
	require.Equal(t, "silk-satin", s.Cloth.ID, "a synonym of one cloth alone")
	s, err = b.Subject("wool twill")
	require.NoError(t, err)
	require.Len(t, s.May, 2, "a fibre and a weave are no mixture that holds both words")
	for _, m := range s.May {
		require.Contains(t, []string{"wool-gabardine", "wool-serge"}, m.Cloth.ID, "common practice: the twills of pure wool")
	}
	_, err = b.Subject("heavy cotton canvas xyz")
	require.ErrorContains(t, err, `no cloth is called "heavy cotton canvas xyz"`)
	require.ErrorContains(t, err, `"cotton-canvas"`)
}
