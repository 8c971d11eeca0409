package picture

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
)

// Each finish has a drawing of its own, and no two are alike.
func TestNoTwoFinishesAreDrawnAlike(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	seen := map[string]string{}
	for _, f := range adv.Finishes {
		require.NotNil(t, finishes[f.ID], "%s is drawn by its edge alone, as a finish of the user's own: draw it in finish.go", f.ID)
		drawn := string(Finish(f, ""))
		require.Empty(t, seen[drawn], "%s is drawn as %s", f.ID, seen[drawn])
		seen[drawn] = f.ID
	}
	for id := range finishes {
		_, err := adv.Finish(id)
		require.NoError(t, err, "a drawing of no finish")
	}
}

// What the name of a finish promises is in its drawing.
func TestDrawingsOfFinishesShowWhatTheyAreOf(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	for id, class := range map[string]string{"piped-edge": `"cord"`, "cased-edge": `"cord"`, "quilted": "wadding", "interlined": "wadding", "fused-front-tailored": "fused",
		"dropped-in-lining": `"free"`, "bound-together": "binding", "single-layer-bound-edge": "binding", "bagged-lining": "lining"} {
		f, err := adv.Finish(id)
		require.NoError(t, err)
		require.Contains(t, string(Finish(f, "")), class, id)
	}
}
