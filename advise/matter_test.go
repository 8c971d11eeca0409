package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
)

// requireMatter is switched on when every rule of the project says what it is
// about and what is spoiled if it is ignored.
const requireMatter = false

func TestEveryRuleSaysItsMatterAndHarm(t *testing.T) {
	if !requireMatter {
		t.Skip("not all rules say it yet: requireMatter switches this on")
	}
	a := adviser(t)
	for _, r := range a.Rules {
		require.NotEmpty(t, r.Matter, "%s: %s has no matter", r.Place, r.ID)
		require.NotZero(t, r.Harm, "%s: %s has no harm", r.Place, r.ID)
	}
}

// A house rule with its matter and harm comes out with the word of the matter; a
// matter that there is not, and a harm off the scale, are refused where they
// stand.
func TestHouseRuleWeighs(t *testing.T) {
	rule := func(matter, harm string) []byte {
		return []byte("[[rule]]\nid = \"mine\"\nwhen.piece = \"cowl\"\neffect = \"against\"\nmatter = \"" + matter + "\"\nharm = " + harm +
			"\nsay = \"Leave it.\"\nbecause = \"It sags.\"\nbasis = \"practice\"\nsources = [\"own\"]\n")
	}
	a, err := Load(data.FS, House{Name: "mine.toml", Data: rule("lining-stiffness", "3")})
	require.NoError(t, err)
	m, err := a.ParseCase("cowl, single-layer-hem, shell denim")
	require.NoError(t, err)
	ans, err := a.Check(m)
	require.NoError(t, err)
	i := slices.IndexFunc(ans.Reasons, func(r Reason) bool { return r.Rule == "mine" })
	require.GreaterOrEqual(t, i, 0)
	require.Equal(t, "body", ans.Reasons[i].Matter)
	require.Equal(t, 3, ans.Reasons[i].Harm)
	_, err = Load(data.FS, House{Name: "mine.toml", Data: rule("lining-stifness", "3")})
	require.ErrorContains(t, err, `mine.toml:5`)
	require.ErrorContains(t, err, `did you mean`)
	_, err = Load(data.FS, House{Name: "mine.toml", Data: rule("lining-stiffness", "6")})
	require.ErrorContains(t, err, `mine.toml:6`)
}
