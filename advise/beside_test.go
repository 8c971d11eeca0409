package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestBesideDoesEachOnceAndHandsPanicsOn(t *testing.T) {
	for _, n := range []int{0, 1, 7, 1000} {
		done := make([]int, n)
		beside(n, func(i int) { done[i]++ })
		for i, d := range done {
			require.Equal(t, 1, d, "%d of %d", i, n)
		}
	}
	require.PanicsWithValue(t, "no such cloth", func() {
		beside(50, func(i int) {
			if i == 20 {
				panic("no such cloth")
			}
		})
	})
}
