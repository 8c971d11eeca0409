package card

import (
	"fmt"
	"html"
	"maps"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
)

// The card holds the figures of the one plan: what to buy of each cloth, what each
// part is cut at and from which layers, the thread, the strip of a binding, and how
// far the layers part in the wash.
func TestCardHoldsTheFiguresOfThePlan(t *testing.T) {
	bound, parted := 0, 0
	all := maps.Clone(makings)
	all["four layers"] = "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill, layer underlining=cotton-lawn, layer second lining=silk-habotai; parts=cape"
	for name, words := range all {
		t.Run(name, func(t *testing.T) {
			_, _, plan := made(t, words)
			c := cardOf(t, words, Options{Kind: Job, Paper: A4})
			text := html.UnescapeString(written(t, c))
			front, _, _ := strings.Cut(text, `class="more"`)
			for _, l := range plan.Layers {
				b := l.Buy
				if l.Washed != nil {
					b = *l.Washed
				}
				require.Contains(t, front, l.Layer+": "+l.Cloth)
				require.Contains(t, front, units.Length(b.Length.Typical).OffTheBolt(units.Metric), l.Cloth)
				require.Contains(t, front, units.Length(b.Length.High).OffTheBolt(units.Metric), "%s, to be safe", l.Cloth)
				require.Contains(t, front, l.Allowances(units.Metric))
				for _, p := range l.Pieces {
					row := fmt.Sprintf("%s × %d", p.Name, p.Count)
					i := indexOfCut(c.Front.Cut, row, units.TapeBy(units.Length(p.Washed[0]), units.Length(p.Washed[1]), units.Metric))
					require.GreaterOrEqual(t, i, 0, "%s of the %s", row, l.Layer)
					require.Contains(t, c.Front.Cut[i].From, l.Layer)
					require.Contains(t, text, units.Length(p.Finished[1]).Centimetres(), "%s finished", p.Name)
				}
			}
			require.Contains(t, front, ">"+fibres.Round(plan.Thread.Total.Typical)+" m<", "thread in large figures")
			if b := plan.Binding; b != nil {
				bound++
				require.Contains(t, front, units.TapeBy(units.Length(b.Width/10), units.Length(b.Length), units.Metric), "the strip of the binding")
				require.Contains(t, front, fmt.Sprintf("%d strips", b.Strips))
			}
			if g := plan.Gap; g != nil && g.MM.Typical > g.Limit {
				parted++
				require.Contains(t, front, fibres.Quantity(g.MM.Typical, "mm", units.Metric)+" over "+fibres.Quantity(g.EdgeCM, "cm", units.Metric))
			}
		})
	}
	require.Positive(t, bound)
	require.Positive(t, parted)
}

func indexOfCut(list []FrontCut, part, size string) int {
	for i, x := range list {
		if x.Part == part && x.Size == size {
			return i
		}
	}
	return -1
}
