package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/units"
)

// A turned binding lies in four layers round the edge: two folded in on each side
// (the folds counted, see cut.BindingWidth).
func TestBoundEdgeHasFourLayersMore(t *testing.T) {
	n := 0
	for _, f := range adviser(t).Finishes {
		if f.Edge == "bound" {
			n++
			require.Equal(t, f.Layers+4, f.StripLayers, f.ID)
		}
	}
	require.Greater(t, n, 2)
}

// What a make-up asks to be cut: allowances of its finish, layers, interfacing,
// binding, and what the lining sews again.
func TestCutJobOfAMakeUp(t *testing.T) {
	a := adviser(t)
	job := a.CutJob(makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill"))
	require.Len(t, job.Layers, 2)
	require.InDelta(t, 1.2, float64(job.Allowance), 1e-9)
	require.Nil(t, job.Binding)
	require.Equal(t, 2, job.Sewing.Apart, "shell and lining are put together each by itself")
	job = a.CutJob(makeUp(t, "half-circle-cape, single-layer-bound-edge, shell wool-flannel, lining viscose-twill"))
	require.Len(t, job.Layers, 1)
	require.Contains(t, job.Notes[0], "has no lining")
	require.Equal(t, cut.BindingWish{Shows: 0.8}, *job.Binding)
	require.Zero(t, *job.Edge, "nothing is turned in at a bound edge")
	require.Equal(t, 1, job.Sewing.Apart)
	job = a.CutJob(makeUp(t, "full-circle-skirt, single-layer-hem, shell cotton-poplin, interfacing cotton-lawn-underlining"))
	require.Equal(t, "underlining", job.Layers[1].Name)
	require.NotContains(t, job.Layers[1].Only, "waistband")
	job = a.CutJob(makeUp(t, "full-circle-skirt, single-layer-hem, shell cotton-poplin, interfacing light-nonwoven-fusible"))
	require.Equal(t, []string{"waistband"}, job.Layers[1].Only)
}

// A lining's side seams are sewn again; the edge that joins it is sewn once.
func TestLiningSewsItsOwnSeamsAgain(t *testing.T) {
	a := adviser(t)
	one, err := cut.Plan(a.CutJob(makeUp(t, "half-circle-cape, single-layer-hem, shell cotton-poplin")))
	require.NoError(t, err)
	two, err := cut.Plan(a.CutJob(makeUp(t, "half-circle-cape, bagged-lining, shell cotton-poplin, lining cotton-poplin")))
	require.NoError(t, err)
	for i, s := range two.Thread.Seams {
		k := 1.0
		if s.Name == "joining seams" {
			k = 2
		}
		require.InDelta(t, k*one.Thread.Seams[i].Length, s.Length, 1e-9, s.Name)
	}
}

// What hems, edges and bindings of a finish take of the cloth.
func TestAllowancesOfAFinish(t *testing.T) {
	a := adviser(t)
	for name, x := range map[string]struct {
		f         Finish
		allowance units.Length
		hem       *units.Length
	}{
		"usual":                      {Finish{Allowance: 1.2}, 1.2, nil},
		"wide":                       {Finish{Allowance: 1.5}, 1.5, nil},
		"narrow":                     {Finish{Allowance: 0.6}, 1.2, length(0.6)},
		"turned in twice":            {Finish{Allowance: 1.2, Edge: "hemmed", StripWidth: 2, StripLayers: 3, Layers: 1}, 1.2, length(4)},
		"rolled":                     {Finish{Allowance: 1.2, Edge: "rolled", StripWidth: 2, StripLayers: 2, Layers: 1}, 1.2, length(2)},
		"turned in less":             {Finish{Allowance: 1.2, Edge: "hemmed", StripWidth: 0.6, StripLayers: 3, Layers: 1}, 1.2, nil},
		"no hem":                     {Finish{Allowance: 1.2, Edge: "faced", StripWidth: 2, StripLayers: 3, Layers: 1}, 1.2, nil},
		"fewer in the strip":         {Finish{Allowance: 1.2, Edge: "hemmed", StripWidth: 2, StripLayers: 1, Layers: 2}, 1.2, nil},
		"narrow, but turned in more": {Finish{Edge: "hemmed", StripWidth: 2, StripLayers: 2, Layers: 1}, 1.2, length(2)},
	} {
		job := a.CutJob(MakeUp{Finish: &x.f})
		require.InDelta(t, float64(x.allowance), float64(job.Allowance), 1e-9, name)
		require.Equal(t, x.hem, job.Hem, name)
		require.Equal(t, x.hem, job.Edge, name)
	}
}

func length(v units.Length) *units.Length { return &v }

// An interfacing is cut for bands and facings, an underlining for all the rest; what is fused
// has no allowance, and what no part asks for is not cut.
func TestLayersOfInterfacing(t *testing.T) {
	parts := []cut.Part{{Name: "body"}, {Name: "facing", ShellOnly: true}}
	l := InterfacingLayer(&Interfacing{Name: "canvas", Role: "interfacing", Attach: "sew"}, parts)
	require.Equal(t, []string{"facing"}, l.Only)
	require.Nil(t, l.Allowance)
	require.Equal(t, "interfacing", l.Name)
	l = InterfacingLayer(&Interfacing{Role: "interlining", Attach: "fuse"}, parts)
	require.Equal(t, []string{"body"}, l.Only)
	require.Equal(t, length(0), l.Allowance)
	require.Equal(t, "interlining", l.Name)
	a := adviser(t)
	m := MakeUp{Piece: &Piece{Parts: []PiecePart{{Name: "body", Count: 1, Width: 10, Height: 10}}}, Interfacing: &Interfacing{Role: "interfacing"}}
	require.Empty(t, a.CutJob(m).Layers, "nothing of it is faced")
	m.Interfacing.Role = "underlining"
	require.Len(t, a.CutJob(m).Layers, 1)
}

// A piece that has a shape is cut as the shape draws it, another by its own parts.
func TestWhatAPieceIsCutBy(t *testing.T) {
	a := adviser(t)
	cape, err := a.Piece("half-circle-cape")
	require.NoError(t, err)
	shapes, err := a.Shapes()
	require.NoError(t, err)
	d, err := shapes.Of(cape).Draw(nil)
	require.NoError(t, err)
	parts, joins := a.Drafted(cape)
	require.Equal(t, d.Parts, parts)
	require.Equal(t, d.Joins, joins)
	own := &Piece{ID: "odd", Parts: []PiecePart{{Name: "body", Count: 1, Width: 10, Height: 10}}, Seams: []PieceSeam{{"side", 10}}}
	parts, joins = a.Drafted(own)
	require.Equal(t, own.CutParts(), parts)
	require.Equal(t, own.CutJoins(), joins)
	require.Len(t, joins, 1)
	parts, _ = a.Drafted(nil)
	require.Nil(t, parts)
}

// How a make-up is sewn: two edges of each layer lie under the needle, with what is mounted on
// them; stitch and thread are for the heavier layer, and not known where no mass is.
func TestHowAMakeUpIsSewn(t *testing.T) {
	a := *adviser(t)
	a.Needles = []Needle{{MassLow: 0, MassHigh: 100, StitchLow: 1, StitchHigh: 2, ThreadLow: 10, ThreadHigh: 30}, {MassLow: 100, MassHigh: 300, StitchLow: 3, StitchHigh: 4, ThreadLow: 30, ThreadHigh: 50}}
	of := func(mass, thick float64) *fibres.Subject {
		known := map[fibres.Property]fibres.Estimate{fibres.Mass: {Basis: fibres.Unknown}, fibres.Thickness: {Basis: fibres.Unknown}}
		if mass > 0 {
			known[fibres.Mass] = fibres.Estimate{Low: mass, Typical: mass, High: mass, Basis: fibres.Measured}
		}
		if thick > 0 {
			known[fibres.Thickness] = fibres.Estimate{Low: thick, Typical: thick, High: thick, Basis: fibres.Measured}
		}
		return &fibres.Subject{Known: known}
	}
	lined := &Finish{Lined: true}
	for name, x := range map[string]struct {
		m           MakeUp
		mm          float64
		stitch, tex float64 // mm, tex
		apart       int
	}{
		"one layer":       {MakeUp{Shell: of(80, 0.5)}, 1, 1.5, 20, 1},
		"two":             {MakeUp{Shell: of(80, 0.5), Lining: of(200, 0.25)}, 0.75, 3.5, 40, 2},
		"lined":           {MakeUp{Shell: of(200, 0.5), Lining: of(80, 0.25), Finish: lined}, 0.75, 3.5, 40, 2},
		"fused":           {MakeUp{Shell: of(200, 0.5), Lining: of(80, 0.25), Finish: &Finish{Lined: true, Joined: "fused"}}, 0.75, 3.5, 40, 1},
		"quilted":         {MakeUp{Shell: of(200, 0.5), Lining: of(80, 0.25), Finish: &Finish{Lined: true, Joined: "quilted"}}, 0.75, 3.5, 40, 1},
		"not lined":       {MakeUp{Shell: of(200, 0.5), Lining: of(80, 0.25), Finish: &Finish{}}, 0.75, 3.5, 40, 1},
		"no mass":         {MakeUp{Shell: of(0, 0.5)}, 1, 0, 0, 1},
		"no lining yet":   {MakeUp{Shell: of(100, 0.5), Finish: lined}, 1, 3.5, 40, 1},
		"over the table":  {MakeUp{Shell: of(900, 0.5)}, 1, 3.5, 40, 1},
		"mounted":         {MakeUp{Shell: of(80, 0.5), Inner: []Inner{{cut.LayerWish{Name: "underlining"}, of(50, 0.25)}}}, 1.5, 1.5, 20, 1},
		"mounted, how":    {MakeUp{Shell: of(80, 0.5), Inner: []Inner{{cut.LayerWish{Name: "underlining"}, of(50, 0)}}}, 1, 1.5, 20, 1},
		"a second lining": {MakeUp{Shell: of(80, 0.5), Inner: []Inner{{cut.LayerWish{Name: "second lining"}, of(50, 0.25)}}}, 1, 1.5, 20, 1},
		"nothing":         {MakeUp{}, 0, 0, 0, 1},
	} {
		s := a.sewing(x.m)
		require.InDelta(t, x.mm, float64(s.Thickness/units.Millimetre), 1e-9, name)
		require.InDelta(t, x.stitch, float64(s.Length/units.Millimetre), 1e-9, name)
		require.InDelta(t, x.tex, s.Tex, 1e-9, name)
		require.Equal(t, x.apart, s.Apart, name)
	}
	require.Nil(t, a.needleRow(0))
	require.Nil(t, a.needleRow(-1))
	a.Needles[0].MassLow = 50
	require.Nil(t, a.needleRow(40), "lighter than the table")
	a.Needles = nil
	require.Nil(t, a.needleRow(40))
	require.Equal(t, cut.Lockstitch, stitchOf(nil))
	require.Equal(t, cut.Stitch("504"), stitchOf(&Seam{Stitch: "504"}))
	require.Equal(t, cut.Lockstitch, stitchOf(&Seam{Stitch: "by hand"}))
}
