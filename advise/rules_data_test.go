package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/data"
)

// speaks parses a case of a rule and lets the rule judge it.
func speaks(t *testing.T, a *Adviser, r *rules.Rule, words, place string) (MakeUp, rules.Firing) {
	t.Helper()
	m, err := a.ParseCase(words)
	require.NoError(t, err, "%s: %q", place, words)
	c, _ := a.build(m)
	return m, r.Fire(c)
}

// Every built-in rule speaks in the make-ups that it names, and is silent in the
// others.
func TestRulesSpeakWhereTheySay(t *testing.T) {
	a := adviser(t)
	require.NotEmpty(t, a.Rules)
	for _, r := range a.Rules {
		t.Run(r.ID, func(t *testing.T) {
			require.NotEmpty(t, r.Fires, r.Place)
			require.NotEmpty(t, r.Quiet, r.Place)
			for _, words := range r.Fires {
				m, f := speaks(t, a, r, words, r.Place)
				require.True(t, judges(r, m), "%s: %q names no %s for the rule to judge", r.Place, words, r.About())
				require.Empty(t, f.Open, "%s: %q leaves open what the rule asks", r.Place, words)
				require.Greater(t, f.Share, 0.8, "%s: %q should make the rule speak", r.Place, words)
			}
			for _, words := range r.Quiet {
				m, f := speaks(t, a, r, words, r.Place)
				if judges(r, m) && len(f.Open) == 0 {
					require.Less(t, f.Share, 0.2, "%s: %q should leave the rule silent", r.Place, words)
				}
			}
		})
	}
}

// A quiet case in which nothing is known would prove nothing: at least one of
// them is silent because a condition fails.
func TestRulesAreSilencedByACondition(t *testing.T) {
	a := adviser(t)
	for _, r := range a.Rules {
		t.Run(r.ID, func(t *testing.T) {
			silenced := false
			for _, words := range r.Quiet {
				_, f := speaks(t, a, r, words, r.Place)
				silenced = silenced || f.Share < 0.2
			}
			require.True(t, silenced, "%s: every quiet case merely leaves the rule open", r.Place)
		})
	}
}

// Where one rule is for a make-up, seam, edge or interfacing, no other forbids
// the same.
func TestNoRuleForbidsWhatAnotherIsFor(t *testing.T) {
	a := adviser(t)
	for _, r := range a.Rules {
		if r.Effect != rules.For {
			continue
		}
		t.Run(r.ID, func(t *testing.T) {
			for _, words := range r.Fires {
				m, err := a.ParseCase(words)
				require.NoError(t, err)
				c, _ := a.build(m)
				for _, other := range a.Rules {
					if other.Effect != rules.Forbids || other.About() != r.About() {
						continue
					}
					f := other.Fire(c)
					require.False(t, f.Firm() && f.Share >= firm, "%s: %q: %s forbids it", r.Place, words, other.ID)
				}
			}
		})
	}
}

// A rule that changes the order of work changes the order of at least one make-up
// that it names, and no other rule undoes it there.
func TestStepsOfRulesChangeTheOrder(t *testing.T) {
	own, err := Load(data.FS) // the rules are taken out one by one, so not the shared one
	require.NoError(t, err)
	all := own.Rules
	for k, r := range all {
		if r.Step == nil {
			continue
		}
		t.Run(r.ID, func(t *testing.T) {
			changed := false
			for _, words := range r.Fires {
				m, err := own.ParseCase(words)
				require.NoError(t, err, r.Place)
				own.Rules = all
				with := own.order(own.judge(m))
				own.Rules = append(append([]*rules.Rule{}, all[:k]...), all[k+1:]...)
				without := own.order(own.judge(m))
				own.Rules = all
				if len(with) == 0 {
					continue // a case without a finish has no order
				}
				changed = changed || !sameOrder(with, without)
			}
			require.True(t, changed, "%s: the order is the same without the rule", r.Place)
		})
	}
}

func sameOrder(x, y []OrderStep) bool {
	if len(x) != len(y) {
		return false
	}
	for i := range x {
		if x[i].Step != y[i].Step || x[i].Say != y[i].Say || len(x[i].Notes) != len(y[i].Notes) {
			return false
		}
	}
	return true
}

// Each id and each sentence stands once.
func TestRulesAreEachSaidOnce(t *testing.T) {
	a := adviser(t)
	ids, says := map[string]string{}, map[string]string{}
	for _, r := range a.Rules {
		require.Empty(t, ids[r.ID], "%s: the id stands at %s already", r.Place, ids[r.ID])
		require.Empty(t, says[r.Say], "%s: says what %s says", r.Place, says[r.Say])
		ids[r.ID], says[r.Say] = r.Place, r.Place
	}
}
