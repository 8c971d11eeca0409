package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
)

// asked is the tally of a file, every line of which can be read.
func asked(t *testing.T, a *advise.Adviser, file string) tally {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	var all tally
	all.text(a, string(text), false, false)
	require.Zero(t, all.unread, "make-ups that cannot be read")
	return all
}

// What was expected beforehand can be asked, every line of it, and is mostly met: common
// practice, written down before the product was asked. 91 of 100 were met on 2026-11-30;
// a floor under that tells a change that worsens many.
func TestExpected(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	all := asked(t, a, "expected.txt")
	require.Greater(t, all.asked, 7500)
	require.Greater(t, float64(all.accepted)/float64(all.asked), 0.895)
	require.Greater(t, float64(all.named)/float64(all.objected), 0.925)
}

// What a maker would say of linings, and of seams, edges, interfacings, needles and cloths
// to choose, can be asked and is mostly met. On 2026-11-30 it was 91 of 100 linings, 97 of
// rankings, and 93 and 98 of choices passed and free of the absurd.
func TestPairsAndChoices(t *testing.T) {
	if testing.Short() {
		t.Skip("asks some 1,400 make-ups")
	}
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	pairs, choices := asked(t, a, "pairs.txt"), asked(t, a, "choices.txt")
	part := func(n, of int) float64 { return float64(n) / float64(of) }
	require.Greater(t, pairs.asked, 800)
	require.Greater(t, part(pairs.accepted, pairs.asked), 0.88)
	require.Greater(t, part(pairs.ranked, pairs.rankings), 0.93)
	require.Greater(t, choices.choices, 500)
	require.Greater(t, part(choices.passed, choices.choices), 0.90)
	require.Greater(t, part(choices.clean, choices.choices), 0.95)
}

// What several hands say alike who did not see the product's answers is mostly met. On
// 2026-11-30 it was 82 of 100, and 80 of 100 where they objected on the matter they named.
func TestAgreed(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	all := asked(t, a, "agreed.txt")
	require.Greater(t, all.asked, 400)
	require.Greater(t, float64(all.accepted)/float64(all.asked), 0.80)
	require.Greater(t, float64(all.named)/float64(all.objected), 0.77)
	require.Greater(t, float64(all.passed)/float64(all.choices), 0.75)
	require.Greater(t, float64(all.clean)/float64(all.choices), 0.97)
}

// A ranking is met where the first is better, and a choice passes by what stands first and
// is free of the absurd by what is not offered.
func TestTallyOfRankingsAndChoices(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	var all tally
	all.text(a, `coat, dropped-in-lining, shell wool-melton, lining * | > viscose-twill nylon-net viscose-twill
blouse + scarf, shell silk-chiffon | edge: rolled-hem-hand narrow-hem machine-rolled-hem ! pinked-edge | edge: pinked-edge ! narrow-hem`, true, true)
	require.Equal(t, tally{rankings: 2, ranked: 1, choices: 4, passed: 2, clean: 2}, all)
}

// A tally takes what is expected as it is written: a reservation is met by one on the
// matter named, and a verdict is not met by its neighbour.
func TestTally(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	var all tally
	all.text(a, "# cowl\n\ncowl, single-layer-rolled-hem | S viscose-crepe | U:fall denim | S denim | U viscose-crepe\nno piece | S denim", true, true)
	require.Equal(t, tally{unread: 1, asked: 4, exact: 2, accepted: 2, objected: 2, named: all.named}, all)
	require.Positive(t, all.named)
}

func TestMain(m *testing.M) {
	_, err := advise.Load(data.FS)
	os.Exit(testkit.NeedData(m, err))
}
