package search

import (
	"path"
	"slices"
	"strings"
	"testing"
)

// What holds a word, by its stem or as the beginning of another, holds one of its roots.
func TestRootsAreNeverMissed(t *testing.T) {
	words := append(strings.Fields("grey pyjamas fibre colours theatre woollens sulphur metres centred mercerising ties dying dyeing relational sensibility hopping filing knitted happily ponies curtains organdie universally a by"),
		strings.Fields("gray pajamas fiber colors theater woolens sulfur meters centered mercerizing")...)
	for _, written := range words {
		rooted(t, written)
	}
}

// Every rule of the stemmer has its turn: beginnings of all kinds with one or two of the
// endings that English has.
func TestRootsOfEveryEnding(t *testing.T) {
	begins := strings.Fields("s w dr siz cr silk fab organ hop relat stop ag lad possi col gray cand mercer sens nap fel al on oper utili wool vapo ti pon re")
	ends := strings.Fields("e ed es s ing er ers y ies ied able ably ability abilities ible ibly al ally ality ation ations ational ator ate ated ating ant ance ancy ent ence ency eed ful fulness ic ical icate icity ise ised iser ising isation ism iveness ive ivity ize ized izer izes izing ization ization less li logi ly ment n ness or our ous ously ousness sion sses tion tional t ll lled lling")
	endings := append([]string{""}, ends...)
	for _, b := range begins {
		for _, e := range endings {
			for _, f := range endings {
				rooted(t, b+e+f)
				whole(t, b+e+f)
			}
		}
	}
}

// rooted fails where a written word, or one that begins as it does, would be passed over.
func rooted(t *testing.T, written string) {
	t.Helper()
	d := squeeze(&Doc{Text: written})
	for _, w := range tokens(written, 0) {
		for n := 2; n <= len(w); n++ {
			if r := roots(w[:n], stem(w[:n])); !slices.ContainsFunc(r, func(r string) bool { return strings.Contains(d, r) }) {
				t.Errorf("%s holds none of %v, which is asked for %q", written, r, w[:n])
			}
		}
	}
}

// whole fails where a word that is written would not be taken for one with its own stem.
func whole(t *testing.T, written string) {
	t.Helper()
	text := " " + written + " "
	for _, w := range tokens(written, 0) {
		fits := slices.ContainsFunc(roots(w, stem(w)), func(root string) bool {
			ok, err := path.Match(wholeOf(root), text)
			return err == nil && ok
		})
		if !fits {
			t.Errorf("%s is not taken for a word of the stem %s", written, stem(w))
		}
	}
}

// wholeOf is the pattern of a root.
func wholeOf(root string) string {
	a := Ask{}
	return a.narrow(all([][]string{{root}})).Whole[0][0]
}
