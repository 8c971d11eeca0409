package fibres

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

func wardrobe() *Names {
	n := NewNames("finish")
	n.Add("silk-satin", "silk satin", "satin")
	n.Add("cotton-satin", "cotton satin", "satin")
	n.Add("cotton-lawn", "cotton lawn", "lawn")
	n.Add("denim", "denim", "jean cloth")
	n.Add("wool-melton", "wool melton", "melton")
	return n
}

func TestNearestNames(t *testing.T) {
	n := wardrobe()
	for _, c := range []struct{ text, said string }{
		{"cottn", `did you mean "cotton-lawn" or "cotton-satin"?`}, {"denin", `did you mean "denim"?`},
		{"satn", `did you mean "silk-satin" or "cotton-satin"?`}, {"meltn wool", `did you mean "wool-melton"?`},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, err := n.Find(c.text)
			require.Error(t, err)
			require.Equal(t, c.said, faultMend(t, err), "only what is within two slips or shares a word")
		})
	}
	_, err := n.Find("7777")
	require.Contains(t, faultMend(t, err), "tenter search", "nothing is like it")
}

func TestLikeness(t *testing.T) {
	require.InDelta(t, 1, likeness("satin", "satin"), 0)
	require.InDelta(t, 0, likeness("xx", "yy"), 0)
	require.InDelta(t, likeness("satin", "sateen"), likeness("sateen", "satin"), 0)
	require.Greater(t, likeness("satn", "satin"), likeness("satn", "lawn"))
}

func TestSeveralFinishesAreFinishes(t *testing.T) {
	_, err := wardrobe().Find("satin")
	require.ErrorContains(t, err, `"satin" fits 2 finishes`)
}

func faultMend(t *testing.T, err error) string {
	t.Helper()
	var f *fault.Fault
	require.ErrorAs(t, err, &f)
	return f.Mend
}

// Names are alike whatever their capitals, accents and signs.
func TestFoldedNames(t *testing.T) {
	for text, want := range map[string]string{"Crêpe  de-Chine": "crepe de chine", " Ü-ö ": "u o", "King's": "kings", "King’s": "kings", "4/1 satin!": "4 1 satin", "a0z9": "a0z9", "...": "", "été à l’île": "ete a lile"} {
		require.Equal(t, want, FoldName(text), "%q", text)
	}
}

// How a name is found: whole, with an s too many, by its beginning, by a word within it;
// what fits several is listed, six at the most.
func TestFindingAName(t *testing.T) {
	n := wardrobe()
	n.Add("satin-weave", "satin weave")
	for text, want := range map[string]string{"denim": "denim", "DENIM": "denim", "denims": "denim", "Silk Satin": "silk-satin", "silk-satins": "silk-satin",
		"jean": "denim", "wool": "wool-melton", "cloth": "denim", "satin we": "satin-weave", "lawns": "cotton-lawn"} {
		id, err := n.Find(text)
		require.NoError(t, err, text)
		require.Equal(t, want, id, text)
	}
	for text, want := range map[string]string{
		"cotton":                 `"cotton" fits 2 finishes`,
		" - ":                    "no finish is named",
		strings.Repeat("a", 121): `no finish is called "` + strings.Repeat("a", 40) + `…"`,
		"atin":                   `no finish is called "atin"`,
	} {
		_, err := n.Find(text)
		require.ErrorContains(t, err, want)
	}
	_, err := n.Find(strings.Repeat("a", 120))
	require.ErrorContains(t, err, strings.Repeat("a", 120), "120 letters are still looked up")
	for i := range 5 {
		n.Add("wool-"+string(rune('a'+i)), "wool "+string(rune('a'+i)))
	}
	_, err = n.Find("wool")
	require.ErrorContains(t, err, `"wool" fits 6 finishes`)
	require.NotContains(t, err.Error(), "more", "six are listed")
	n.Add("rain-jacket", "rain jacket")
	n.Add("inner", "inner sheet", "jacket sheet")
	_, err = n.Find("jacket")
	require.ErrorContains(t, err, "inner, rain-jacket", "a name that begins so is not before one that ends so")
	n.Add("wool-z", "wool z")
	_, err = n.Find("wool")
	require.ErrorContains(t, err, "wool-a, wool-b, wool-c, wool-d, wool-e, wool-melton and 1 more")
}

// The label of an id is its name; of what is no id, itself. A thing is called by any of
// its names in full.
func TestLabelsAndNames(t *testing.T) {
	n := wardrobe()
	require.Equal(t, "silk satin", n.Label("silk-satin"))
	require.Equal(t, "nothing", n.Label("nothing"))
	require.Equal(t, []string{"cotton-lawn", "cotton-satin", "denim", "silk-satin", "wool-melton"}, n.IDs())
	for text, want := range map[string]bool{"Lawn": true, "cotton lawn": true, "cotton-lawn": true, "cotton": false, "denim": false} {
		require.Equal(t, want, n.Called("cotton-lawn", text), text)
	}
	k := Cloth{ID: "a", Name: "b", Synonyms: []string{"d"}, Misspellings: []string{"e"}}
	require.Equal(t, []string{"a", "b", "d", "e"}, k.Names())
	k.USName = "c"
	require.Equal(t, []string{"a", "b", "c", "d", "e"}, k.Names())
}
