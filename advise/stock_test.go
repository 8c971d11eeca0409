package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// How shops have a cloth is found by its id, for each cloth once.
func TestStockIsFoundByTheCloth(t *testing.T) {
	a := adviser(t)
	require.True(t, slices.IsSortedFunc(a.Stock, func(x, y Stock) int {
		require.NotEqual(t, x.Cloth, y.Cloth, "a cloth stands in stocked.csv once")
		if x.Cloth < y.Cloth {
			return -1
		}
		return 1
	}))
	for i := range a.Stock {
		require.Same(t, &a.Stock[i], a.StockOf(a.Stock[i].Cloth))
	}
	for _, id := range []string{"", "a", "denim-none", "zzz"} {
		require.Nil(t, a.StockOf(id))
	}
	// Source: common practice. Denim is in every shop and slippery silk is no beginner's cloth.
	require.GreaterOrEqual(t, a.StockOf("denim").Common, 3)
	require.Less(t, a.StockOf("silk-chiffon").Ease, a.StockOf("quilting-cotton").Ease)
	require.Greater(t, a.StockOf("silk-velvet").Price, a.StockOf("calico").Price)
}
