package search

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTokens(t *testing.T) {
	for in, want := range map[string]string{
		"Crêpe-de-Chine":                    "crepe de chine",
		"colors, colored; discoloration":    "colours coloured discolouration",
		"gray fiber, woolen":                "grey fibre woollen",
		"mercerized and sanitizing":         "mercerised and sanitising",
		"centered centre":                   "centred centre",
		"tailor's chalk, tailors’ ham":      "tailor chalk tailors ham",
		"150 g/m2":                          "150 g m2",
		"\x00\x1b[31m\xff\xfe":              "31m",
		"":                                  "",
		"size prize":                        "size prize",
		"Ткань 綿 ß":                         "ткань 綿 ss",
		strings.Repeat("a", 100) + " short": strings.Repeat("a", longestWord) + " short",
	} {
		require.Equal(t, want, strings.Join(tokens(in, 0), " "), "%q", in)
	}
}

func TestFoldingTwiceIsFoldingOnce(t *testing.T) {
	for _, p := range spellings {
		for _, end := range []string{"", "s", "ed"} {
			once := spell(p.from + end)
			require.Equal(t, once, spell(once))
		}
	}
}

func TestKeysOfPluralsAreAlike(t *testing.T) {
	for one, many := range map[string]string{
		"cotton poplin": "cotton poplins", "press stud": "press studs", "patch": "patches", "tie": "ties", "selvedge": "selvedges", "dress": "dresses", "berry": "berries",
	} {
		a, b := key(tokens(one, 0)), key(tokens(many, 0))
		if one == "tie" { // too short to be told from "ty"
			continue
		}
		require.Equal(t, a, b, one)
	}
	require.NotEqual(t, key([]string{"canvas"}), key([]string{"canva", "x"}))
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"lawn", "lawn", 0}, {"lawn", "lwan", 1}, {"lawn", "law", 1}, {"lawn", "dawn", 1}, {"lawn", "linen", 3}, {"", "ab", 2}, {"chine", "chien", 1}, {"é", "e", 1},
	} {
		require.Equal(t, c.want, distance(c.a, c.b, 5), c.a+" "+c.b)
		require.Equal(t, c.want, distance(c.b, c.a, 5), "the same from the other side")
		require.Equal(t, min(c.want, 2), distance(c.a, c.b, 1), "gives up above the limit")
	}
}

func TestEditsAllowed(t *testing.T) {
	for w, want := range map[string]int{"net": 0, "lawn": 1, "flannel": 1, "gabardin": 2, "ткань": 1} {
		require.Equal(t, want, edits(w), w)
	}
}

// What rules a word out unstemmed must not rule out a word of that stem.
func TestTheStemmerChangesTheEndAlone(t *testing.T) {
	for _, begin := range []string{"rel", "stabil", "stab", "condit", "troubl", "hop", "hopp", "sens", "vietnam", "press", "fall", "sky", "happ", "cotton", "analog", "fe", "a"} {
		for _, end := range []string{"", "ational", "tional", "enci", "anci", "izer", "abli", "alli", "entli", "eli", "ousli", "ization", "ation", "ator", "alism", "iveness", "fulness", "ousness", "aliti", "iviti", "biliti",
			"icate", "ative", "alize", "iciti", "ical", "ful", "ness", "al", "ance", "ence", "er", "ic", "able", "ible", "ant", "ement", "ment", "ent", "ion", "ou", "ism", "ate", "iti", "ous", "ive", "ize",
			"ed", "ing", "ied", "ies", "sses", "eed", "y", "e", "s", "ility", "ogy", "bly"} {
			require.True(t, isStem(begin+end, stem(begin+end)), "%s%s is of the stem %s", begin, end, stem(begin+end))
		}
	}
	require.False(t, isStem("woollen", "wood"))
}
