package rules

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func silenced(t *testing.T, house ...string) ([]*Rule, []Silence, error) {
	t.Helper()
	s := testSchema(t)
	s.Imply(implies(s))
	files := []File{{Name: "data/rules/fray.toml", Data: []byte(clip)}}
	for _, h := range house {
		files = append(files, File{Name: "house.toml", Data: []byte(h), House: true})
	}
	return Load(s, files...)
}

func TestAHouseFileSilencesARule(t *testing.T) {
	rs, quiet, err := silenced(t, "[[silence]]\nid = \"lining-frays-clip-after-joining\"\nbecause = \"We overlock every lining first.\"\n")
	require.NoError(t, err)
	require.Empty(t, rs)
	require.Len(t, quiet, 1)
	require.Equal(t, "We overlock every lining first.", quiet[0].Because)
	require.Equal(t, "house.toml:1:1", quiet[0].Place)
	require.Contains(t, quiet[0].Rule.Say, "Leave the lining's curves unclipped")
}

func TestSlipsOfSilence(t *testing.T) {
	for _, c := range []struct{ name, file, want string }{
		{"no such rule", "[[silence]]\nid = \"lining-frays-clip\"\nbecause = \"x\"\n", `house.toml:2:6: no rule has the id "lining-frays-clip"`},
		{"no reason", "[[silence]]\nid = \"lining-frays-clip-after-joining\"\n", "house.toml:1:1: because is missing"},
		{"an empty reason", "[[silence]]\nid = \"lining-frays-clip-after-joining\"\nbecause = \" \"\n", "house.toml:3:11: because is empty"},
		{"no id", "[[silence]]\nbecause = \"x\"\n", "house.toml:1:1: id is missing"},
		{"twice", "[[silence]]\nid = \"lining-frays-clip-after-joining\"\nbecause = \"x\"\n[[silence]]\nid = \"lining-frays-clip-after-joining\"\nbecause = \"y\"\n", "silenced twice"},
		{"an unknown key", "[[silence]]\nid = \"lining-frays-clip-after-joining\"\nbecause = \"x\"\nuntil = \"May\"\n", `house.toml:4:1: unknown key "until"`},
		{"one bracket", "[silence]\nid = \"lining-frays-clip-after-joining\"\nbecause = \"x\"\n", "[silence] has one bracket"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := silenced(t, c.file)
			require.ErrorContains(t, err, c.want)
		})
	}
	s := testSchema(t)
	_, _, err := Load(s, File{Name: "data/rules/x.toml", Data: []byte("[[silence]]\nid = \"a\"\nbecause = \"b\"\n")})
	require.ErrorContains(t, err, `unknown key "silence"`, "only a house file may silence")
}
