package kb

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// What an export calls a column is read back as that column, with that unit; and no word of a
// header means two columns.
func TestColumnsKnowTheirOwnNames(t *testing.T) {
	called := map[string]string{}
	for _, k := range columnKinds {
		require.NotNil(t, k.set, k.name)
		require.Equal(t, k.name, kindOf(k.name).name)
		ours, _ := guess(k.name)
		require.Equal(t, k.name, ours)
		for _, u := range k.units {
			ours, unit := guess(k.name + "_" + u)
			require.Equal(t, []string{k.name, u}, []string{ours, unit})
		}
		for _, w := range k.called {
			require.Empty(t, called[w], "%q is %s too", w, k.name)
			require.Equal(t, fibres.FoldName(w), w, "it is compared folded")
			called[w] = k.name
		}
	}
	require.Nil(t, kindOf("selvedge"))
	require.Len(t, Columns, len(columnKinds))
}
