package worn

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/draw"
)

// The table holds every class of each of its pieces, in at most 6 MB, and each picture shows cloth.
func TestTableIsWhole(t *testing.T) {
	require.Less(t, len(packed), 6<<20)
	classes := map[string]int{}
	for _, e := range table().Entries {
		classes[e.Piece]++
		require.Contains(t, Classes, e.Bending)
		if e.Why != "" {
			require.Empty(t, e.Frames)
			continue
		}
		require.LessOrEqual(t, e.Crossings, 12, "%s: a picture that would mislead", e.Piece)
		p, ok := Find(e.Piece, e.Bending)
		require.True(t, ok)
		require.Len(t, p.Sides, Turns)
		last, ok := FindSide(e.Piece, e.Bending, Turns-1)
		require.True(t, ok)
		require.Equal(t, p.Sides[Turns-1], last)
		_, beyond := FindSide(e.Piece, e.Bending, Turns)
		require.False(t, beyond)
		require.Positive(t, p.PerMetre)
		for _, s := range p.Sides {
			require.Equal(t, [2]int{Wide, Tall}, [2]int{s.W, s.H})
			require.Greater(t, clothSeen(s), 400, "%s at c %v", e.Piece, e.Bending)
		}
	}
	require.NotEmpty(t, classes)
	for piece, n := range classes {
		require.Equal(t, len(Classes), n, piece)
	}
}

// clothSeen counts the pixels of cloth: the form is never without red, these paints are.
func clothSeen(s draw.Shading) int {
	n, seen := 0, s.Paint(color.RGBA{G: 200, A: 255}, color.RGBA{B: 200, A: 255})
	for i := 0; i < len(seen.Pix); i += 4 {
		if seen.Pix[i] == 0 && seen.Pix[i+3] > 0 {
			n++
		}
	}
	return n
}

func TestNearestClassIsFound(t *testing.T) {
	c, ok := Class("full-circle-skirt", 2.1)
	require.True(t, ok)
	require.InDelta(t, 2.4, c, 1e-9)
	c, _ = Class("full-circle-skirt", 2.97)
	require.InDelta(t, 3.6, c, 1e-9, "nearer by ratio, though 2.4 is nearer in centimetres")
	c, _ = Class("full-circle-skirt", 30)
	require.InDelta(t, 5.5, c, 1e-9)
	for _, bad := range []float64{0, -1, math.NaN()} {
		_, ok = Class("full-circle-skirt", bad)
		require.False(t, ok)
	}
	_, ok = Class("tailored-jacket", 2)
	require.False(t, ok)
}

func TestTableComesBackAsWritten(t *testing.T) {
	s := draw.NewShading(4, 3)
	b, err := s.Pack()
	require.NoError(t, err)
	out, err := Write([]Entry{{Piece: "a", Bending: 1}, {Piece: "b", Bending: 2, Why: "it crosses"}}, [][][]byte{{b, b}, nil})
	require.NoError(t, err)
	x, err := Read(out)
	require.NoError(t, err)
	p, err := x.Unpack(x.Entries[0])
	require.NoError(t, err)
	require.Equal(t, []draw.Shading{s, s}, p.Sides)
	require.Equal(t, "it crosses", x.Entries[1].Why)
	_, err = Read(out[:3])
	require.Error(t, err)
	_, err = Read(out[:20])
	require.ErrorContains(t, err, "cut short")
	for _, wrong := range [][2]int{{0, 1 << 30}, {-1, 4}, {8, -4}} {
		x.Entries[0].Frames[0] = wrong
		_, err = x.Unpack(x.Entries[0])
		require.ErrorContains(t, err, "outside the table")
	}
}

// What would mislead is not found, and says why; its neighbour of another bending length does not stand in for it.
func TestWithheldIsNotFoundAndSaysWhy(t *testing.T) {
	b, err := draw.NewShading(4, 3).Pack()
	require.NoError(t, err)
	out, err := Write([]Entry{{Piece: "a", Bending: 1, Why: "it crosses"}, {Piece: "a", Bending: 2.4}}, [][][]byte{nil, {b}})
	require.NoError(t, err)
	x, err := Read(out)
	require.NoError(t, err)
	was := table
	table = func() Index { return x }
	t.Cleanup(func() { table = was })
	_, found := Find("a", 1.1)
	_, classed := Class("a", 1.1)
	require.False(t, found)
	require.False(t, classed)
	require.Equal(t, "it crosses", Withheld("a", 1.1))
	_, found = Find("a", 2)
	require.True(t, found)
	require.Empty(t, Withheld("a", 2))
	require.Empty(t, Withheld("b", 2))
}

// A picture is chosen and unpacked; at most 50 ms.
func BenchmarkFind(b *testing.B) {
	for b.Loop() {
		_, ok := Find("full-circle-skirt", 2)
		require.True(b, ok)
	}
}
