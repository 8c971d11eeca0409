package card

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// However short of room a card is, no step loses what is said of hands and harm, nor
// what each cloth takes in the wash.
func TestCrowdedCardKeepsItsCautions(t *testing.T) {
	was := pageHigh[A4]
	defer func() { pageHigh[A4] = was }()
	for _, high := range []float64{was, was * 0.7} { // the second on a sheet far too short
		pageHigh[A4] = high
		c := cardOf(t, "hooded-cloak, bagged-lining, shell silk-velvet, lining viscose-twill", Options{Kind: Job, Paper: A4})
		require.Greater(t, len(c.Front.Ticks), 18, "a crowded one")
		short := 0
		for i, tick := range c.Front.Ticks {
			whole := c.Order[i].Say
			if first := firstSentence(whole); warns().MatchString(whole[len(first):]) || c.Order[i].ID == "pre-wash" {
				require.Equal(t, whole, tick.Say)
			}
			if tick.Say != whole {
				short++
			}
		}
		require.Equal(t, high < was, short > 0, "words are left out where there is no room for them alone")
	}
}
