package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The rules that speak hold for some member, or wait for no more than a colour.
func TestWhoSpeaks(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill")
	list := a.Firings(m)
	require.Greater(t, len(list), 10)
	spoke := map[string]bool{}
	for _, f := range list {
		require.Positive(t, f.Share, f.Rule.ID)
		require.True(t, a.askable(f.Open), "%s waits for %v", f.Rule.ID, f.Open)
		require.Contains(t, a.Rules, f.Rule)
		spoke[f.Rule.ID] = true
	}
	c, _ := a.build(m)
	for _, r := range a.Rules {
		if f := r.Fire(c); judges(r, m) && f.Firm() {
			require.True(t, spoke[r.ID], "%s holds, and says nothing", r.ID)
		}
	}
}
