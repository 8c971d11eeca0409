package main

import (
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/advise/worn"
	"tenter/data"
	"tenter/draw"
	table "tenter/draw/worn"
)

// A sample of the built-in table is computed anew: the same cloth shows from the front, within a
// tenth, and in as many folds, but two.
func TestTableIsWhatIsComputed(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of computing")
	}
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	shapes, err := adv.Shapes()
	require.NoError(t, err)
	find := func(id string) *cut.Shape {
		for _, s := range shapes.List {
			if s.ID == id {
				return s
			}
		}
		return nil
	}
	const piece, class = "bias-skirt", 2.4
	want, ok := table.Find(piece, class)
	require.True(t, ok)
	w, err := worn.Wear(piece, find, nil, worn.Adult, "")
	require.NoError(t, err)
	entries, frames, err := Compute(piece, w, []float64{class})
	require.NoError(t, err)
	require.InDelta(t, want.Folds, entries[0].Folds, 2)
	b, err := table.Write(entries, frames)
	require.NoError(t, err)
	x, err := table.Read(b)
	require.NoError(t, err)
	have, err := x.Unpack(x.Entries[0])
	require.NoError(t, err)
	perMetre := want.PerMetre * want.PerMetre / (have.PerMetre * have.PerMetre) // the frame holds all classes
	for i := range want.Sides {
		require.InEpsilon(t, clothSeen(want.Sides[i]), clothSeen(have.Sides[i])*perMetre, 0.1, "side %d", i)
	}
}

// clothSeen counts the pixels of cloth: the form is never without red, these paints are.
func clothSeen(s draw.Shading) float64 {
	n, seen := 0.0, s.Paint(color.RGBA{G: 200, A: 255}, color.RGBA{B: 200, A: 255})
	for i := 0; i < len(seen.Pix); i += 4 {
		if seen.Pix[i] == 0 && seen.Pix[i+3] > 0 {
			n++
		}
	}
	return n
}
