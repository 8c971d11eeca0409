package prose

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCapitals(t *testing.T) {
	for in, want := range map[string]string{"": "", "wash it": "Wash it", "élan": "Élan", "Wash": "Wash", "3 cm": "3 cm", "\xff": "\xff"} {
		require.Equal(t, want, Upper(in), "%q", in)
	}
	for in, want := range map[string]string{"": "", "Wash it": "wash it", "Étamine": "étamine", "UV fades it": "UV fades it", "A": "a", "A cape": "a cape", "wash": "wash"} {
		require.Equal(t, want, Lower(in), "%q", in)
	}
}

func TestLists(t *testing.T) {
	require.Empty(t, And(nil))
	require.Equal(t, "warp", And([]string{"warp"}))
	require.Equal(t, "warp and weft", And([]string{"warp", "weft"}))
	require.Equal(t, "warp, weft or bias", Or([]string{"warp", "weft", "bias"}))
}

func TestNumbers(t *testing.T) {
	for one, many := range map[string]string{"cloth": "cloths", "edge finish": "edge finishes", "swatch": "swatches", "lay": "lays", "berry": "berries",
		"canvas": "canvases", "box": "boxes", "piece": "pieces"} {
		require.Equal(t, many, Plural(one))
		require.Equal(t, "1 "+one, Count(1, one))
		require.Equal(t, "0 "+many, Count(0, one))
		require.Equal(t, "2 "+many, Count(2, one))
	}
}

func TestArticles(t *testing.T) {
	for noun, want := range map[string]string{"cape": "a cape", "apron": "an apron", "uniform": "a uniform", "underskirt": "an underskirt", "": "a "} {
		require.Equal(t, want, A(noun))
	}
}

func TestSingular(t *testing.T) {
	for words, one := range map[string]string{
		"summer dresses": "summer dress", "Dress": "dress", "scarves": "scarf", "children's skirts": "children skirt", "glass": "glass", "": "",
	} {
		require.Equal(t, one, Singular(words), words)
	}
}
