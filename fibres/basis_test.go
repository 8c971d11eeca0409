package fibres

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// What an estimate rests on is told figure by figure: a source that gives a word or
// one end of a range does not vouch for the rest.
func TestRestsNamesTheFiguresThatAreOurs(t *testing.T) {
	for _, c := range []struct {
		want string
		e    Estimate
	}{
		{"published", Estimate{Basis: Published, Given: GivesAll}},
		{"published; typical ours", Estimate{Basis: Published, Given: GivesLow | GivesHigh}},
		{"published; low and high ours", Estimate{Basis: Published, Given: GivesTypical}},
		{"published word, figures ours", Estimate{Basis: Practice, Word: Published, Given: GivesWord}},
		{"memory", Estimate{Basis: Memory, Given: GivesAll}},
		{"practice", Estimate{Basis: Practice}},
		{"derived", Estimate{Basis: Derived}},
	} {
		require.Equal(t, c.want, c.e.Rests())
	}
}

// A row whose source only describes answers with a basis of practice, but still comes
// before a row without any source; worked out from it, its source vouches for nothing.
func TestAWordRanksButVouchesForNoFigure(t *testing.T) {
	c := catalogue(t)
	e := c.Estimate(Subject{Cloth: c.Cloths["silk-noil"]}, Slip)
	require.Equal(t, Practice, e.Basis)
	require.Equal(t, Published, e.Stated())
	require.Equal(t, []string{"wikipedia-textiles"}, e.Sources)
	d := e.derived("from it")
	require.Equal(t, "derived", d.Rests())
	require.Equal(t, Derived, d.Stated())
}

func TestGivenIsAListInJSON(t *testing.T) {
	for text, want := range map[string]string{"low; high": `["low","high"]`, "word": `["word"]`, "low; typical; high": `["low","typical","high"]`} {
		g, ok := givenOf(text)
		require.True(t, ok)
		b, err := json.Marshal(g)
		require.NoError(t, err)
		require.Equal(t, want, string(b))
		var back Given
		require.NoError(t, json.Unmarshal(b, &back))
		require.Equal(t, g, back)
	}
	for _, bad := range []string{"middle", "word; low"} {
		_, ok := givenOf(bad)
		require.False(t, ok, bad)
	}
	require.Equal(t, 2, (GivesLow | GivesHigh).Figures())
	require.Equal(t, 0, GivesWord.Figures())
}
