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

func TestNearestNamesThree(t *testing.T) {
	n := wardrobe()
	for _, c := range []struct{ text, first string }{
		{"cottn", "cotton-"}, {"denin", "denim"}, {"satn", "-satin"}, {"meltn wool", "wool-melton"},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, err := n.Find(c.text)
			require.Error(t, err)
			mend := faultMend(t, err)
			require.Regexp(t, `^did you mean "[a-z-]*`+c.first, mend)
			require.Regexp(t, `^did you mean "[a-z-]+", "[a-z-]+" or "[a-z-]+"\?$`, mend)
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
