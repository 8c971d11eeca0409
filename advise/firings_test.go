package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
)

// A rule may hold for a cloth unless it is known to fail for most that are called so: a
// name of several goes by what is mostly sold under it, and what hangs on the piece is open.
func TestMayHold(t *testing.T) {
	a := adviser(t)
	rule := func(id string) *rules.Rule {
		for _, r := range a.Rules {
			if r.ID == id {
				return r
			}
		}
		t.Fatalf("no rule %s", id)
		return nil
	}
	for _, x := range []struct {
		rule, cloth string
		want        bool
	}{
		{"knit-takes-a-ball-point", "cotton jersey", true},
		{"knit-takes-a-ball-point", "double gauze", false},
		{"panne-velvet-runs-down", "panne velvet", true},
		{"panne-velvet-runs-down", "velvet", false}, // most of it is polyester or cotton velvet
		{"velvet-velveteen-and-corduroy-run-up", "velvet", true},
		{"covered-hem-is-for-a-knit", "cotton poplin", true}, // its edge is open
	} {
		s, err := a.Cat.Find(x.cloth)
		require.NoError(t, err)
		require.Equal(t, x.want, a.MayHold(rule(x.rule), s), "%s, %s", x.rule, x.cloth)
	}
	for id, want := range map[string]bool{"bias-skirt": true, "coat": false} {
		p, err := a.Piece(id)
		require.NoError(t, err)
		require.Equal(t, want, a.MayHoldFor(rule("bias-piece-mirrored"), p), id)
		require.True(t, a.MayHoldFor(rule("knit-takes-a-ball-point"), p), "the cloth is open")
	}
}
