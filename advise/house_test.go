package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
)

const hood = `[[piece]]
id       = "ID"
name     = "witch's hood"
group    = "hood"
shape    = "shaped"
support  = "head"
hang     = "40 cm"
flap     = "10 cm"
features = ["hood"]
faces    = 1
wearer   = "adult"
wash     = "seldom"
stage    = true
say      = "A hood for the third witch."
basis    = "practice"
sources  = ["own"]
[[piece.demand]]
id    = "mass"
fact  = "make-up.mass"
ideal = "60 to 90 g/m2"
limit = "50 to 100 g/m2"
say   = "It must not slip."
basis = "practice"
sources = ["own"]
`

func TestAHouseFileMayHoldPiecesAndRules(t *testing.T) {
	file := strings.Replace(hood, "ID", "witch-hood", 1) + `[[rule]]
id      = "no-denim-hood"
when.piece       = "witch-hood"
when.shell.cloth = "denim"
effect  = "forbids"
say     = "Make no witch's hood of denim."
because = "The third witch walked out."
basis   = "practice"
sources = ["own"]
`
	a, err := Load(data.FS, House{Name: "house.toml", Data: []byte(file)})
	require.NoError(t, err)
	p, err := a.Piece("witch's hood")
	require.NoError(t, err)
	require.Equal(t, "witch-hood", p.ID)
	require.Contains(t, a.PieceNames.IDs(), "witch-hood")
	rules := 0
	for _, r := range a.Rules {
		if r.ID == "no-denim-hood" {
			rules++
		}
	}
	require.Equal(t, 1, rules)
}

func TestAHousePieceStandsForTheBuiltIn(t *testing.T) {
	plain, err := Load(data.FS)
	require.NoError(t, err)
	a, err := Load(data.FS, House{Name: "house.toml", Data: []byte(strings.Replace(hood, "ID", "cowl", 1))})
	require.NoError(t, err)
	require.Len(t, a.Pieces, len(plain.Pieces))
	require.Equal(t, plain.PieceNames.IDs(), a.PieceNames.IDs())
	p, err := a.Piece("cowl")
	require.NoError(t, err)
	require.Equal(t, "witch's hood", p.Name)
}

func TestSlipsOfAHousePieceAreToldOnce(t *testing.T) {
	for _, c := range []struct{ was, is, want string }{
		{`wash     = "seldom"`, `wash     = "seldm"`, `house.toml:12:12: wash is "seldm"`},
		{`faces    = 1`, `face     = 1`, `house.toml:10:1: unknown key "face"`},
		{`[[piece.demand]]`, `[piece.demand]`, "house.toml:17:"},
		{`name     = "witch's hood"`, `name     = "witch's hood`, "house.toml:3:"},
		{`[[piece]]`, "[[pice]]\nid = \"x\"\n[[piece]]", `house.toml:1:1: unknown key "pice"`},
	} {
		_, err := Load(data.FS, House{Name: "house.toml", Data: []byte(strings.Replace(strings.Replace(hood, "ID", "witch-hood", 1), c.was, c.is, 1))})
		require.ErrorContains(t, err, c.want)
		require.Equal(t, 1, strings.Count(err.Error(), c.want), err.Error())
	}
}

func TestASilencedRuleIsNotSaid(t *testing.T) {
	const id = "lining-frays-clip-after-joining"
	a, err := Load(data.FS, House{Name: "house.toml", Data: []byte("[[silence]]\nid = \"" + id + "\"\nbecause = \"We overlock every lining first.\"\n")})
	require.NoError(t, err)
	for _, r := range a.Rules {
		require.NotEqual(t, id, r.ID)
	}
	require.Len(t, a.Silenced, 1)
	require.Equal(t, id, a.Silenced[0].Rule.ID)
}
