package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The first step of the work says what each cloth takes: no two lines of one order
// contradict each other, and wool is not washed twice, for each wash felts it further
// (FeltingNote in fibres/shrink, published).
func TestFirstStepSaysWhatEachClothTakes(t *testing.T) {
	for words, want := range map[string]string{
		"hooded-cloak, bagged-lining, shell silk-velvet, lining viscose-twill":    "Steam both cloths, do not wash them. Measure them again.",
		"half-circle-cape, bagged-lining, shell wool-flannel, lining cotton-lawn": "Wash the shell by hand, cool, and dry it flat. Wash and dry the lining",
		"apron, single-layer-hem, shell cotton-poplin":                            "Wash and dry the cloth",
		"curtain, single-layer-hem, shell silk-velvet":                            "Do not wash this cloth.", // a rule says it better
	} {
		m, err := adviser(t).ParseCase(words)
		require.NoError(t, err)
		ans, err := adviser(t).Advise(m, 1)
		require.NoError(t, err)
		require.True(t, strings.HasPrefix(ans.Order[0].Say, want), "%s: %s", words, ans.Order[0].Say)
		for _, s := range ans.Order {
			require.NotEqual(t, "steam-shell", s.Step, "it is said already: %s", words)
		}
	}
}

func TestNoFeltingClothIsWashedTwice(t *testing.T) {
	a, felting := adviser(t), 0
	for _, c := range a.Cat.ClothList() {
		m, err := a.ParseCase("half-circle-cape, shell " + c.ID)
		require.NoError(t, err)
		if w := a.preWash("shell", m.Shell, true); felts(m.Shell) {
			felting++
			require.NotContains(t, w.Say, "twice", c.ID)
		}
	}
	require.Greater(t, felting, 30)
}
