package advise

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// Reasons of rules are those that no demand gave.
func TestReasonsOfRules(t *testing.T) {
	list := []Reason{{Rule: "a"}, {Demand: "mass"}, {Rule: "b"}}
	require.Equal(t, []Reason{{Rule: "a"}, {Rule: "b"}}, OfRules(list))
	require.Nil(t, OfRules(nil))
}

// The keys of an answer are what scripts read: they are there whatever is found, lists as
// lists.
func TestKeysOfAnAnswer(t *testing.T) {
	a := adviser(t)
	for words, keys := range map[string][]string{
		"cowl, single-layer-hem, shell viscose-twill":                {"version", "make_up", "judged", "cloths", "linings", "interfacings", "seams", "edges", "places", "prewash", "pressing", "needle", "thread", "needles", "threads", "bindings", "order", "working", "cautions"},
		"half-circle-cape, bagged-lining, shell wool-flannel":        {"linings", "notes"},
		"hooded-wrap, bagged-lining, shell denim, wearer child":      {"make_up", "cautions"},
		"cowl, single-layer-hem, shell viscose-twill, wish washable": {"wishes"},
	} {
		ans, err := a.Advise(makeUp(t, words), 2)
		require.NoError(t, err)
		b, err := json.Marshal(ans)
		require.NoError(t, err)
		var got map[string]any
		require.NoError(t, json.Unmarshal(b, &got))
		require.Equal(t, 1.0, got["version"])
		for _, k := range keys {
			require.Contains(t, got, k, words)
			require.NotNil(t, got[k], "%s of %s", k, words)
		}
		for _, list := range []string{"linings", "seams", "edges", "interfacings"} {
			require.LessOrEqual(t, len(got[list].([]any)), 3, "%s: two were asked for, and perhaps none needed", list)
		}
	}
}
