package card

import (
	"html"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// The card holds the figures of the one plan: what to buy of each cloth, and what each
// part is finished and cut at.
func TestCardHoldsTheFiguresOfThePlan(t *testing.T) {
	for name, words := range makings {
		t.Run(name, func(t *testing.T) {
			_, _, plan := made(t, words)
			text := html.UnescapeString(written(t, cardOf(t, words, Options{Kind: Job, Paper: A4})))
			for _, l := range plan.Layers {
				require.Contains(t, text, units.Length(l.Buy.Length.Typical).OffTheBolt(units.Metric), l.Cloth)
				for _, p := range l.Pieces {
					for _, size := range [][2]float64{p.Finished, p.Washed} {
						require.Contains(t, text, units.Length(size[1]).Centimetres(), "%s of the %s", p.Name, l.Layer)
					}
				}
			}
		})
	}
}
