package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
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

// What is told of a rule, and as what: it may hold from a fifth on, surely from four fifths,
// and is done from half on; a colour may be open, and then nothing is sure or done.
func TestFromWhichShareARuleIsTold(t *testing.T) {
	for _, x := range []struct {
		share              float64
		open               []string
		told, firmly, done bool
	}{
		{0.19, nil, false, false, false}, {0.2, nil, true, false, false}, {0.49, nil, true, false, false}, {0.5, nil, true, false, true}, {0.79, nil, true, false, true}, {0.8, nil, true, true, true},
		{1, []string{"shell.lightness"}, true, false, false}, {0.1, []string{"shell.lightness"}, false, false, false}, {1, []string{"shell.fray"}, false, false, false},
		{1, []string{"shell.lightness", "shell.fray"}, false, false, false},
	} {
		f := rules.Firing{Share: x.share, Open: x.open}
		require.Equal(t, []bool{x.told, x.firmly, x.done}, []bool{told(f), firmly(f), done(f)}, "%+v", x)
	}
}

// Firings are of the rules that hold for some, in the order of the rules, and of seams where
// one is named; a name of several cloths goes by half of them.
func TestWhichRulesFire(t *testing.T) {
	a := *adviser(t)
	never := *adviser(t).RuleByID("knit-takes-a-ball-point")
	a.Rules = []*rules.Rule{{ID: "a"}, {ID: "b", Parts: rules.Parts{About: "seam"}}, &never}
	ids := func(m MakeUp) (out []string) {
		for _, f := range a.Firings(m) {
			out = append(out, f.Rule.ID)
		}
		return out
	}
	require.Equal(t, []string{"a"}, ids(makeUp(t, "shell denim")))
	require.Equal(t, []string{"a", "b", never.ID}, ids(makeUp(t, "shell cotton-jersey, seam plain-seam")))
	require.Equal(t, []string{"a"}, ids(MakeUp{}), "what waits for the cloth does not fire")
	knit, woven := a.Cat.Cloths["cotton-jersey"], a.Cat.Cloths["denim"]
	for part, want := range map[float64]bool{0.49: false, 0.5: true, 0.51: true} {
		require.Equal(t, want, a.MayHold(&never, &fibres.Subject{May: []fibres.Weighted{{Cloth: knit, Part: part}, {Cloth: woven, Part: 1 - part}}}), "%g", part)
	}
}
