package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
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
