package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
)

// What was expected beforehand can be asked, every line of it, and is mostly met: common
// practice, written down before the product was asked. 87 of 100 were met on 2026-11-30;
// a floor under that tells a change that worsens many.
func TestExpected(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	text, err := os.ReadFile("expected.txt")
	require.NoError(t, err)
	var all tally
	all.text(a, string(text), false, false)
	require.Zero(t, all.unread, "make-ups that cannot be read")
	require.Greater(t, all.asked, 4300)
	require.Greater(t, float64(all.accepted)/float64(all.asked), 0.84)
	require.Greater(t, float64(all.named)/float64(all.objected), 0.86)
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
