package reply

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
)

var adv *advise.Adviser

func TestMain(m *testing.M) {
	var err error
	adv, err = advise.Load(data.FS)
	os.Exit(testkit.NeedData(m, err))
}

// What the words name, and which of the rules that were found may answer.
func TestTo(t *testing.T) {
	rule := func(id, why string) Found { return Found{Kind: "rule", ID: id, Why: why} }
	ball, pile := rule("knit-takes-a-ball-point", "topic needle"), rule("velvet-velveteen-and-corduroy-run-up", "name")
	mirrored := rule("bias-piece-mirrored", "name") // of a bias skirt and a cowl
	for _, x := range []struct {
		words              string
		found              []Found
		asks               bool
		rule, piece, cloth string
	}{
		{words: "which needle for double gauze", found: []Found{ball}, asks: true, cloth: "double-gauze"},
		{words: "which needle for cotton jersey", found: []Found{ball}, asks: true, rule: ball.ID, cloth: "cotton-jersey"},
		{words: "which needle for knits", found: []Found{ball}, asks: true, rule: ball.ID},
		{words: "which way does velvet run", found: []Found{rule("panne-velvet-runs-down", "name"), pile}, asks: true, rule: pile.ID, cloth: "velvet"},
		{words: "velvet run", found: []Found{{Kind: "cloth", ID: "silk-velvet"}, pile}, cloth: "velvet"}, // it asks nothing: the first alone answers
		{words: "how does velvet run", found: []Found{{Kind: "cloth", ID: "silk-velvet"}, rule(pile.ID, `name; without "run"`)}, asks: true, cloth: "velvet"},
		{words: "how is a bias skirt cut", found: []Found{mirrored}, asks: true, rule: mirrored.ID, piece: "bias-skirt"},
		{words: "how is a coat or a bias skirt cut", found: []Found{mirrored}, asks: true, rule: mirrored.ID, piece: "bias-skirt"}, // one of the two is enough
		{words: "how is a coat cut", found: []Found{mirrored}, asks: true, piece: "coat"},
		{words: "line a tweed coat", piece: "coat", cloth: "tweed"},
		{words: "lining for a cape", piece: "half-circle-cape"},
		{words: "wool coating", found: nil}, // its page is what was found
		{words: "coat"},
		{words: "warm and light"},
	} {
		r := To(adv, x.words, x.found, x.asks)
		var rule, piece string
		if r.Rule != nil {
			rule = r.Rule.ID
		}
		if r.Piece != nil {
			piece = r.Piece.ID
		}
		require.Equal(t, []string{x.rule, x.piece, x.cloth}, []string{rule, piece, r.ClothID()}, x.words)
	}
}
