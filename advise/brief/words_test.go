package brief

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A graded matter is told as a maker says it of a cloth, not by the words of its scale,
// and by where the wanted range ends: from the bottom, to the top, or between.
func TestGradesAreSaidOfACloth(t *testing.T) {
	tell := teller(t)
	for words, want := range map[string]string{
		"shell hessian, nightgown, single-layer-hem":                           "This cloth: scratchy; wanted: at most soft on the skin.",
		"shell cotton-poplin, raincoat, fused-front-tailored":                  "This cloth: soaks up water or wets slowly; wanted: at least sheds a shower.",
		"shell cotton-drill, banner, single-layer-hem":                         "This cloth: burns or flares up; wanted: at most burns slowly.",
		"shell wool-melton, leggings, single-layer-hem":                        "This cloth: does not stretch or gives a little; wanted: stretches very much.",
		"shell viscose-twill, lining silk-habotai, hooded-wrap, bagged-lining": "The lining: nearly opaque to sheer; wanted: at most half sheer.",
		"shell silk-velvet, apron, single-layer-hem":                           "This cloth: dry-clean only; wanted: at least washable, warm.",
	} {
		m, err := tell.Adviser.ParseCase(words)
		require.NoError(t, err, words)
		ans, err := tell.Adviser.Check(m)
		require.NoError(t, err, words)
		text := ""
		for _, d := range ans.Demands {
			if levels, ok := tell.levels(m, d); ok {
				text += levels + "\n"
			}
		}
		require.Contains(t, text, want, words)
	}
}
