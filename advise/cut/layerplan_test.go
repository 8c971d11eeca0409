package cut

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
)

// shrinking is a cloth 150 cm wide that loses a twentieth along and a fiftieth across.
func shrinking() Layer {
	return Layer{Name: "shell", Cloth: "cotton", Warp: fibres.Figure(fibres.ShrinkWarp, 2, 5, 9, fibres.Practice, "", "practice"), Weft: fibres.Figure(fibres.ShrinkWeft, 0, 2, 4, fibres.Practice, "", "practice"),
		Width: fibres.Figure(fibres.Width, 140, 150, 160, fibres.Practice, "", "practice")}
}

// Washed before it is cut or after, a cloth has to be as long: every part lies where it
// lay, drawn together as the cloth is, and so does the figure that it begins on.
func TestWashedFirstItTakesAsMuch(t *testing.T) {
	hood, err := drawHood(measures{"face": 38, "depth": 30, "neck": 26, "crown": 14, "nape": 8})
	require.NoError(t, err)
	parts := append(hood.Parts, Part{Name: "panel", Count: 3, Width: 60, Height: 90})
	for _, repeat := range []units.Length{0, 16} {
		l := shrinking()
		l.Repeat = repeat
		ans, err := Plan(Job{Parts: parts, Layers: []Layer{l}, Allowance: 1.2})
		require.NoError(t, err)
		a := ans.Layers[0]
		require.NotNil(t, a.Washed)
		require.Equal(t, a.Buy.Length.Typical, a.Washed.Length.Typical)
		require.Equal(t, a.Buy.Length.High, a.Washed.Length.High)
		require.InDelta(t, 150*0.98, a.Washed.Usable, 1e-9)
		require.Len(t, a.Washed.Lie, len(a.Buy.Lie))
		for i, x := range a.Buy.Lie {
			y := a.Washed.Lie[i]
			require.InDelta(t, x.X*0.98, y.X, 1e-3)
			require.InDelta(t, x.Y*0.95, y.Y, 1e-3)
			require.InDelta(t, x.Along*0.95, y.Along, 1e-3)
			if x.Outline != nil {
				require.InDelta(t, 0.98*0.95, within(y)/within(x), 2e-3, "its outline")
			}
		}
	}
}

// Other widths are laid out for whoever asks, and change nothing else of the plan.
func TestOtherWidthsAreLaidOutWhenAskedFor(t *testing.T) {
	job := Job{Parts: []Part{{Name: "panel", Count: 3, Width: 60, Height: 90}}, Layers: []Layer{shrinking()}, Allowance: 1.2}
	plain, err := Plan(job)
	require.NoError(t, err)
	require.Empty(t, plain.Layers[0].Widths)
	job.CommonWidths = true
	wide, err := Plan(job)
	require.NoError(t, err)
	require.Len(t, wide.Layers[0].Widths, len(CommonWidths))
	require.Greater(t, wide.Layers[0].Widths[0].Length, wide.Layers[0].Widths[3].Length, "90 cm take more than 150 cm")
	require.Equal(t, plain.Layers[0].Buy, wide.Layers[0].Buy)
	job.Layers[0].SetWidth(units.Range[units.Length]{Low: 150, High: 150})
	given, err := Plan(job)
	require.NoError(t, err)
	require.Empty(t, given.Layers[0].Widths, "its width is said")
	job.Widths = []units.Length{110}
	named, err := Plan(job)
	require.NoError(t, err)
	require.Len(t, named.Layers[0].Widths, 1)
}

// within is the area in the outline of a part that lies on the cloth.
func within(l Lie) float64 {
	var pts []Point
	for _, p := range l.Outline {
		pts = append(pts, Point{p[0], p[1]})
	}
	return area(pts)
}

// A hem that nothing is known of is said; where the outline has one it is in the sizes.
func TestUnknownHemsAreSaid(t *testing.T) {
	hem := units.Length(4)
	l := Layer{Name: "shell", Cloth: "cotton", Width: fibres.Figure(fibres.Width, 140, 140, 140, fibres.Practice, "", "practice"), Prewashed: true}
	plain := Part{Name: "panel", Count: 1, Width: 60, Height: 80}
	ans, err := Plan(Job{Parts: []Part{plain}, Layers: []Layer{l}, Allowance: 1.2, Hem: &hem, Edge: &hem})
	require.NoError(t, err)
	require.Contains(t, ans.Notes, "Which edges are seams is not known of these parts: leave 4 cm at hems and free edges, not 1.2 cm.")
	require.Equal(t, "12 mm on each edge", ans.Layers[0].Allowances(0), "no more is in the sizes")

	o := rectangle(60, 80)
	for i := range o.Sides {
		o.Sides[i].Role = Seam
	}
	o.Sides[0].Role = Hem // along the foot
	known := outlined("panel", 1, o)
	ans, err = Plan(Job{Parts: []Part{known}, Layers: []Layer{l}, Allowance: 1.2, Hem: &hem, Edge: &hem})
	require.NoError(t, err)
	require.Empty(t, ans.Notes)
	require.Equal(t, "12 mm at seams, 40 mm at hems", ans.Layers[0].Allowances(0))
	require.InDelta(t, 80+1.2+4, ans.Layers[0].Pieces[0].Cut[1], 1e-6, "the foot has its hem")
}

func TestPlanIsInOrderAndRepeatable(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 5 {
		parts := anyParts(r, 1+r.IntN(4))
		l := Layer{Name: "shell", Cloth: "cotton", Warp: fibres.Figure(fibres.ShrinkWarp, 1, 4, 9, fibres.Practice, "", "practice"), Weft: fibres.Figure(fibres.ShrinkWeft, 0, 2, 5, fibres.Practice, "", "practice"),
			Width: fibres.Figure(fibres.Width, 110, 150, 160, fibres.Practice, "", "practice")}
		j := Job{Parts: parts, Layers: []Layer{l}, Allowance: 1}
		a, err := Plan(j)
		require.NoError(t, err)
		b, err := Plan(j)
		require.NoError(t, err)
		require.Equal(t, a, b, "the same in every run")
		x := a.Layers[0]
		e := x.Buy.Length
		require.True(t, e.Low <= e.Typical && e.Typical <= e.High, "%v", e)
		require.GreaterOrEqual(t, e.Typical, x.Buy.Bound-tolerance)
		if x.Washed != nil {
			e := x.Washed.Length
			require.True(t, e.Low <= e.Typical && e.Typical <= e.High, "%v", e)
		}
		for _, p := range x.Pieces {
			for k := range 2 {
				require.True(t, p.Finished[k] < p.Washed[k] && p.Washed[k] <= p.Low[k] && p.Low[k] <= p.Cut[k] && p.Cut[k] <= p.High[k], "%+v", p)
			}
		}
	}
}
