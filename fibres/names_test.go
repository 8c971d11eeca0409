package fibres

import (
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
