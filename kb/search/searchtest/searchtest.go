// Package searchtest is what every engine of a search must do, and the entries it is
// tried on.
package searchtest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/search"
)

// Run is what every engine must do, told by what a user sees.
func Run(t *testing.T, open Opener) {
	for name, test := range map[string]func(*testing.T){
		"finds and says why":                        open.findsAndSaysWhy,
		"order of the ways to be found":             open.orderOfTheWaysToBeFound,
		"other names are looked for too":            open.otherNamesAreLookedForToo,
		"phrase must stand together":                open.phraseMustStandTogether,
		"as one types":                              open.asOneTypes,
		"every beginning of a name finds it":        open.everyBeginningOfANameFindsIt,
		"filters":                                   open.filters,
		"facets do not depend on the limit":         open.facetsDoNotDependOnTheLimit,
		"own records":                               open.ownRecords,
		"own records are found as the reference is": open.ownRecordsAreFoundAsTheReferenceIs,
		"phrases are found where they stand":        open.phrasesAreFoundWhereTheyStand,
		"own records take turns":                    open.ownRecordsTakeTurns,
		"two builds answer alike":                   open.twoBuildsAnswerAlike,
		"scores never rise":                         open.scoresNeverRise,
		"empty index":                               open.emptyIndex,
		"two entries of one id are refused":         open.twoEntriesOfOneIdAreRefused,
		"closed":                                    open.closed,
		"misspelling is found and told as one":      open.misspellingIsFoundAndToldAsOne,
		"strays are found by their neighbours":      open.straysAreFoundByTheirNeighbours,
	} {
		t.Run(name, test)
	}
}

// Shelf is a small invented stock: the wardrobe of a village theatre.
func Shelf() []search.Doc {
	return []search.Doc{
		{Kind: "cloth", ID: "cotton-poplin", Name: "cotton poplin", Names: []string{"broadcloth", "popeline"}, Text: "A fine rib across; crisp, for shirts.", Fibres: []string{"cotton"}, Mass: 110},
		{Kind: "cloth", ID: "silk-georgette", Name: "silk georgette", Names: []string{"crepe georgette"}, Text: "Sheer and fluid, of hard-twisted yarn.", Fibres: []string{"silk"}, Mass: 55, Words: []string{"drapey"}},
		{Kind: "cloth", ID: "crepe-de-chine", Name: "crêpe de chine", Text: "Soft, light; the colour is deep.", Fibres: []string{"silk"}, Mass: 70},
		{Kind: "cloth", ID: "wool-flannel", Name: "wool flannel", Text: "Napped and warm; may be filled with batting. Lined with poplin for a cape.", Fibres: []string{"wool"}, Mass: 260},
		{Kind: "cloth", ID: "wool-felt", Name: "wool felt", Text: "Does not fray; grey or dyed.", Fibres: []string{"wool"}, Mass: 400},
		{Kind: "cloth", ID: "cotton-sateen", Name: "cotton sateen", Misspelt: []string{"satteen"}, Text: "Weft-faced, smooth.", Fibres: []string{"cotton"}, Mass: 150},
		{Kind: "cloth", ID: "cotton-canvas", Name: "cotton canvas", Text: "Firm. Of unknown mass here.", Fibres: []string{"cotton"}},
		{Kind: "term", ID: "wadding", Name: "wadding", Names: []string{"batting"}, Text: "A soft layer between two cloths."},
		{Kind: "term", ID: "press-stud", Name: "press stud", Names: []string{"snap fastener"}, Text: "A fastening in two halves."},
		{Kind: "piece", ID: "hooded-cape", Name: "hooded cape", Text: "Falls from the shoulder; closes with a snap fastener."},
	}
}

// Thesaurus is how makers say some of it.
var Thesaurus = map[string][]string{"floaty": {"fluid", "airy"}, "see through": {"sheer"}, "does not ravel": {"not fray"}}

// Opener opens a search over one engine.
type Opener func(search.Options) (*search.Index, error)

func (open Opener) shelf(t *testing.T, own ...search.Doc) *search.Index {
	t.Helper()
	x, err := open(search.Options{Docs: Shelf, Count: len(Shelf()), Own: search.List(own), Thesaurus: Thesaurus})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, x.Close()) })
	return x
}

// IDs are the ids found, in order.
func IDs(hits []search.Hit) string {
	var out []string
	for _, h := range hits {
		out = append(out, h.ID)
	}
	return strings.Join(out, " ")
}

func (open Opener) findsAndSaysWhy(t *testing.T) {
	x := open.shelf(t)
	for _, c := range []struct{ name, words, first, why string }{
		{"name", "cotton poplin", "cotton-poplin", "name"},
		{"id", "crepe-de-chine", "crepe-de-chine", "name"},
		{"name without its accent", "crepe de chine", "crepe-de-chine", "name"},
		{"name run together", "crepedechine", "crepe-de-chine", "name"},
		{"plural of a name", "cotton poplins", "cotton-poplin", "name"},
		{"capitals and blanks", "  WOOL   Felt ", "wool-felt", "name"},
		{"synonym", "broadcloth", "cotton-poplin", `synonym "broadcloth"`},
		{"synonym in two words", "broad cloth", "cotton-poplin", `synonym "broadcloth"`},
		{"listed misspelling", "satteen", "cotton-sateen", `usual misspelling "satteen"`},
		{"beginning of a name", "cotton pop", "cotton-poplin", "beginning of the name"},
		{"beginning of a synonym", "popel", "cotton-poplin", `beginning of synonym "popeline"`},
		{"word of a name", "sateen", "cotton-sateen", "name"},
		{"word of the text", "napped", "wool-flannel", "text"},
		{"other form of a word", "twist", "silk-georgette", "text"},
		{"further word", "drapey", "silk-georgette", `word "drapey"`},
		{"US spelling", "deep color", "crepe-de-chine", "text"},
		{"US spelling of grey", "gray", "wool-felt", "text"},
		{"one slip", "georgete", "silk-georgette", `spelling near "georgette"`},
		{"two neighbours swapped", "flanenl", "wool-flannel", `spelling near "flannel"`},
		{"first letter wrong", "veorgette", "silk-georgette", `spelling near "georgette"`},
		{"two slips in a long name", "crepe du chien", "crepe-de-chine", `spelling near "crêpe de chine"`},
		{"thesaurus", "floaty", "silk-georgette", `"floaty" taken as "fluid"`},
		{"thesaurus, two words", "see through silk", "silk-georgette", `name, "see through" taken as "sheer"`},
		{"fibre", "sheer silk", "silk-georgette", "name, text"},
		{"fibre that no word names", "soft silk", "crepe-de-chine", "fibre, text"},
		{"phrase", `"hard twisted"`, "silk-georgette", "text"},
		{"curly quotes", "“hard twisted”", "silk-georgette", "text"},
		{"some of the words", "warm flowing cape", "wool-flannel", `text; without "flowing"`},
		{"words that say nothing", "a cloth of grey", "wool-felt", "text"},
	} {
		t.Run(c.name, func(t *testing.T) {
			hits, _, err := x.Search(search.Query{Words: c.words})
			require.NoError(t, err)
			require.NotEmpty(t, hits)
			require.Equal(t, c.first, hits[0].ID)
			require.Equal(t, c.why, hits[0].Why)
		})
	}
}

func (open Opener) orderOfTheWaysToBeFound(t *testing.T) {
	docs := []search.Doc{
		{Kind: "cloth", ID: "f", Name: "ninom", Text: "near in spelling"},
		{Kind: "cloth", ID: "e", Name: "something else", Text: strings.Repeat("ninon ", 50)},
		{Kind: "cloth", ID: "d", Name: "a stiff ninon"},
		{Kind: "cloth", ID: "c", Name: "ninon sheeting"},
		{Kind: "cloth", ID: "b", Name: "triple voile", Names: []string{"ninon"}},
		{Kind: "cloth", ID: "a", Name: "ninon"},
	}
	x, err := open(search.Options{Docs: func() []search.Doc { return docs }})
	require.NoError(t, err)
	defer x.Close()
	hits, _, err := x.Search(search.Query{Words: "ninon"})
	require.NoError(t, err)
	require.Equal(t, "a b c d e", IDs(hits), "name, synonym, beginning, word of the name, text")
	for i := 1; i < len(hits); i++ {
		require.Greater(t, hits[i-1].Score, hits[i].Score)
	}
	hits, _, err = x.Search(search.Query{Words: "ninox"})
	require.NoError(t, err)
	require.Contains(t, IDs(hits), "f", "a guess is made when nothing is spelt so")
	require.Equal(t, `spelling near "ninon"`, hits[0].Why)
}

func (open Opener) otherNamesAreLookedForToo(t *testing.T) {
	x := open.shelf(t)
	hits, _, err := x.Search(search.Query{Words: "wadding"})
	require.NoError(t, err)
	require.Equal(t, "wadding wool-flannel", IDs(hits))
	require.Equal(t, `"wadding" is also called "batting"`, hits[1].Why)

	hits, _, err = x.Search(search.Query{Words: "cape press stud"})
	require.NoError(t, err)
	require.Equal(t, "hooded-cape", IDs(hits), "two words replaced together")
	require.Equal(t, `name, "press stud" is also called "snap fastener"`, hits[0].Why)
}

func (open Opener) phraseMustStandTogether(t *testing.T) {
	x := open.shelf(t)
	for words, want := range map[string]string{
		`"fine rib"`: "cotton-poplin", `"rib fine"`: "", `"poplin broadcloth"`: "", // the last would reach across two names
		`"light the colour"`: "crepe-de-chine", `"fine rib" shirts`: "cotton-poplin", `"fine rib" felt`: "", `fine rib"`: "cotton-poplin",
	} {
		hits, _, err := x.Search(search.Query{Words: words})
		require.NoError(t, err)
		require.Equal(t, want, IDs(hits), words)
	}
}

func (open Opener) asOneTypes(t *testing.T) {
	x := open.shelf(t)
	for _, c := range []struct{ words, first string }{
		{"g", "silk-georgette"}, {"ge", "silk-georgette"}, {"cotton c", "cotton-canvas"}, {"canvas", "cotton-canvas"},
		{"silk georget", "silk-georgette"}, {"broadcl", "cotton-poplin"}, {"cape ho", "hooded-cape"}, {"warm flan", "wool-flannel"},
	} {
		hits, _, err := x.Search(search.Query{Words: c.words, Prefix: true})
		require.NoError(t, err)
		require.NotEmpty(t, hits, c.words)
		require.Equal(t, c.first, hits[0].ID, c.words)
	}
}

func (open Opener) everyBeginningOfANameFindsIt(t *testing.T) {
	x := open.shelf(t)
	for _, d := range Shelf() {
		name := []rune(d.Name)
		for n := 1; n <= len(name); n++ {
			hits, _, err := x.Search(search.Query{Words: string(name[:n]), Prefix: true})
			require.NoError(t, err)
			require.Contains(t, IDs(hits), d.ID, string(name[:n]))
		}
	}
}

func (open Opener) filters(t *testing.T) {
	x := open.shelf(t)
	for _, c := range []struct {
		name string
		q    search.Query
		want string
	}{
		{"kind", search.Query{Words: "soft", Kinds: []string{"term"}}, "wadding"},
		{"kinds", search.Query{Words: "cape", Kinds: []string{"piece", "term"}}, "hooded-cape"},
		{"fibre", search.Query{Words: "soft", Fibre: "silk"}, "crepe-de-chine"},
		{"heaviest", search.Query{Words: "cotton", MaxMass: 120}, "cotton-poplin"},
		{"lightest", search.Query{Words: "wool", MinMass: 300}, "wool-felt"},
		{"between, no words: by address", search.Query{MinMass: 60, MaxMass: 160, Kinds: []string{"cloth"}}, "cotton-poplin cotton-sateen crepe-de-chine"},
		{"the limits are inside", search.Query{MinMass: 55, MaxMass: 55}, "silk-georgette"},
		{"a kind nobody has", search.Query{Words: "cotton", Kinds: []string{"ship"}}, ""},
		{"a word nobody has, filter all the same", search.Query{Words: "xylophone", Kinds: []string{"cloth"}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			hits, facets, err := x.Search(c.q)
			require.NoError(t, err)
			require.Equal(t, c.want, IDs(hits))
			total := 0
			for _, n := range facets["kind"] {
				total += n
			}
			require.Equal(t, len(hits), total, "facets count what was found")
		})
	}
}

func (open Opener) facetsDoNotDependOnTheLimit(t *testing.T) {
	x := open.shelf(t)
	all, many, err := x.Search(search.Query{Words: "cotton"})
	require.NoError(t, err)
	require.Len(t, all, 3)
	one, few, err := x.Search(search.Query{Words: "cotton", Limit: 1})
	require.NoError(t, err)
	require.Len(t, one, 1)
	require.Equal(t, all[0].ID, one[0].ID)
	require.Equal(t, many, few)
	require.Equal(t, search.Facets{"kind": {"cloth": 3}, "fibre": {"cotton": 3}}, few)
	_, none, err := x.Search(search.Query{Words: "cotton", NoFacets: true})
	require.NoError(t, err)
	require.Nil(t, none)
}

func (open Opener) ownRecords(t *testing.T) {
	own := []search.Doc{
		{Kind: "swatch", ID: "1", Name: "Blue for the king", Text: "poplin from the market, kept in box four", Fibres: []string{"cotton"}, Mass: 118},
		{Kind: "cloth", ID: "wool-felt", Name: "wool felt", Names: []string{"the hat felt"}, Text: "Ours is thin."},
	}
	x := open.shelf(t, own...)
	require.Equal(t, len(Shelf())+1, x.Count(), "one stands for another")

	hits, _, err := x.Search(search.Query{Words: "poplin market"})
	require.NoError(t, err)
	require.Equal(t, "1", IDs(hits))
	require.Equal(t, "swatch", hits[0].Kind)

	hits, _, err = x.Search(search.Query{Words: "wool felt"})
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(IDs(hits), "wool-felt"), "the own record hides the other")

	hits, _, err = x.Search(search.Query{Words: "broadcloth king"})
	require.NoError(t, err)
	require.Equal(t, "1", IDs(hits), "other names of the reference hold for own records")
	require.Equal(t, `name, "broadcloth" is also called "cotton poplin"`, hits[0].Why)
}

// What finds an entry of the reference finds the same entry as an own record,
// in the same tier and for the same reason, whatever is asked.
func (open Opener) ownRecordsAreFoundAsTheReferenceIs(t *testing.T) {
	docs, asked := Invented(150)
	docs = append(docs, Shelf()...)
	docs = append(docs, search.Doc{Kind: "cloth", ID: "odd", Name: "Ärmel-Futter T-shirt", Names: []string{"tee shirt"}, Text: "gray pajamas, mercerized; tailor's", Fibres: []string{"cotton"}, Words: []string{"do-not-fray"}, Mass: 99})
	reference, err := open(search.Options{Docs: func() []search.Doc { return docs }, Thesaurus: Thesaurus})
	require.NoError(t, err)
	defer reference.Close()
	own, err := open(search.Options{Own: search.List(docs), Thesaurus: Thesaurus})
	require.NoError(t, err)
	defer own.Close()
	var queries []search.Query
	for _, w := range []string{"cotton", "cotton poplin", "broad cloth", "georgete", "crepe de chien", "floaty", "see through silk", "grey pyjama", "tshirt", "t shirt", "armelf", "mercerised",
		"tailor", "wadding", "cape press stud", `"fine rib"`, `"rib fine"`, `"fine rib" shirts`, `"t shirt"`, "the", "batting warm", "do not fray", "tee shirts", "grey", "gray"} {
		queries = append(queries, search.Query{Words: w}, search.Query{Words: w, Prefix: true}, search.Query{Words: w, Fibre: "cotton"}, search.Query{Words: w, MaxMass: 120}, search.Query{Words: w, Kinds: []string{"cloth"}, MinMass: 60})
	}
	for i := range 120 {
		queries = append(queries, search.Query{Words: asked[i]}, search.Query{Words: asked[i] + " " + asked[i+1]}, search.Query{Words: asked[i][:3], Prefix: true}, search.Query{Words: asked[i][:2] + "q" + asked[i][2:]})
	}
	queries = append(queries, search.Query{Fibre: "cotton"}, search.Query{MinMass: 100, MaxMass: 200}, search.Query{Kinds: []string{"term"}})
	exact := 0
	for _, q := range queries {
		q.Limit = 1000
		a, fa, err := reference.Search(q)
		require.NoError(t, err)
		b, fb, err := own.Search(q)
		require.NoError(t, err)
		guessed := false // guesses differ a little: the index knows the stems of a text, not its words
		for _, h := range append(a[:len(a):len(a)], b...) {
			guessed = guessed || h.Tier() == search.Guessed || strings.Contains(h.Why, "spelling near")
		}
		shown := func(hits []search.Hit) map[string]string {
			m := map[string]string{}
			for _, h := range hits {
				if !guessed || h.Tier() > search.Guessed {
					m[h.Kind+"/"+h.ID] = fmt.Sprint(int(h.Score), h.Why)
				}
			}
			return m
		}
		require.Equal(t, shown(a), shown(b), "%+v", q)
		if !guessed {
			exact++
			require.Equal(t, fa, fb, "%+v", q)
		}
	}
	require.Greater(t, exact, len(queries)/2)
}

// The index finds a phrase where reading finds it.
func (open Opener) phrasesAreFoundWhereTheyStand(t *testing.T) {
	docs, asked := Invented(120)
	x, err := open(search.Options{Docs: func() []search.Doc { return docs }})
	require.NoError(t, err)
	defer x.Close()
	some := 0
	for i := range 200 {
		words := asked[i] + " " + asked[i+1] // mostly nowhere
		if i%2 == 0 {
			all := strings.Fields(docs[i%len(docs)].Text)
			words = strings.Join(all[i%80:i%80+2+i%3], " ")
		}
		if i%10 == 0 {
			words = asked[i] + " " + asked[i]
		}
		want := map[string]bool{}
		ph := search.Stems(search.Fold(words))
		for j := range docs {
			for _, part := range append(append([]string{docs[j].Name, docs[j].ID, docs[j].Text}, docs[j].Names...), docs[j].Words...) {
				if stands(search.Fold(part), ph) {
					want[docs[j].ID] = true
				}
			}
		}
		hits, facets, err := x.Search(search.Query{Words: `"` + words + `"`, Limit: 1000})
		require.NoError(t, err)
		got := map[string]bool{}
		for _, h := range hits {
			got[h.ID] = true
		}
		require.Equal(t, want, got, words)
		total := 0
		for _, n := range facets["kind"] {
			total += n
		}
		require.Equal(t, len(want), total)
		some += len(want)
	}
	require.Greater(t, some, 100)
}

func (open Opener) ownRecordsTakeTurns(t *testing.T) {
	var own []search.Doc
	for i := range 40 {
		own = append(own, search.Doc{Kind: "swatch", ID: fmt.Sprint(i), Name: fmt.Sprintf("cotton remnant %d", i)})
	}
	x := open.shelf(t, own...)
	hits, facets, err := x.Search(search.Query{Words: "cotton"})
	require.NoError(t, err)
	var kinds []string
	for _, h := range hits[:6] {
		kinds = append(kinds, h.Kind)
	}
	require.Equal(t, "swatch cloth swatch cloth swatch cloth", strings.Join(kinds, " "), "many own records do not bury the reference")
	require.Equal(t, map[string]int{"swatch": 40, "cloth": 3}, facets["kind"])
}

func (open Opener) twoBuildsAnswerAlike(t *testing.T) {
	docs, asked := Invented(400)
	var answers [2][]string
	for i := range answers {
		x, err := open(search.Options{Docs: func() []search.Doc { return docs }})
		require.NoError(t, err)
		for j := range 60 {
			for _, words := range []string{asked[j], asked[j] + " " + asked[j+1], asked[j][:2]} {
				hits, facets, err := x.Search(search.Query{Words: words})
				require.NoError(t, err)
				answers[i] = append(answers[i], fmt.Sprint(words, hits, facets))
			}
		}
		require.NoError(t, x.Close())
	}
	require.Equal(t, answers[0], answers[1])
}

func (open Opener) scoresNeverRise(t *testing.T) {
	docs, asked := Invented(300)
	x, err := open(search.Options{Docs: func() []search.Doc { return docs }})
	require.NoError(t, err)
	defer x.Close()
	for _, w := range asked[:200] {
		hits, _, err := x.Search(search.Query{Words: w})
		require.NoError(t, err)
		for i, h := range hits {
			require.NotEmpty(t, h.Why)
			require.False(t, h.Score != h.Score, "a number")
			if i > 0 {
				require.LessOrEqual(t, h.Score, hits[i-1].Score, "%q", w)
			}
		}
	}
}

func (open Opener) emptyIndex(t *testing.T) {
	x, err := open(search.Options{Own: search.List([]search.Doc{{Kind: "swatch", ID: "1", Name: "blue serge"}})})
	require.NoError(t, err)
	defer x.Close()
	hits, _, err := x.Search(search.Query{Words: "serge"})
	require.NoError(t, err)
	require.Equal(t, "1", IDs(hits))
}

func (open Opener) twoEntriesOfOneIdAreRefused(t *testing.T) {
	{
		_, err := open(search.Options{Docs: func() []search.Doc { return []search.Doc{{Kind: "cloth", ID: "a"}, {Kind: "cloth", ID: "a"}} }})
		require.ErrorContains(t, err, "cloth/a: two entries have this kind and id")
	}
}

func (open Opener) closed(t *testing.T) {
	x, err := open(search.Options{Docs: Shelf})
	require.NoError(t, err)
	require.NoError(t, x.Close())
	_, _, err = x.Search(search.Query{Words: "felt"})
	require.ErrorContains(t, err, "closed")
}

// Of words that stand nowhere, those that are near a word that does find it, whether it
// is of the reference or an own record.
func (open Opener) straysAreFoundByTheirNeighbours(t *testing.T) {
	x := open.shelf(t, search.Doc{Kind: "note", ID: "1", Name: "note on a remnant", Text: "from the attic"})
	for words, want := range map[string]string{"fom the atic": "1", "fom the gorgette": "silk-georgette"} {
		hits, facets, err := x.Search(search.Query{Words: words})
		require.NoError(t, err)
		require.Equal(t, want, IDs(hits), words)
		require.Contains(t, hits[0].Why, `; without "fom"`)
		require.Len(t, facets["kind"], 1)
	}
	hits, _, err := x.Search(search.Query{Words: "fom the felt"})
	require.NoError(t, err)
	require.Equal(t, "wool-felt", IDs(hits), "a word that stands somewhere goes before any guess")
}

func (open Opener) misspellingIsFoundAndToldAsOne(t *testing.T) {
	x, err := open(search.Options{Docs: func() []search.Doc {
		return []search.Doc{{Kind: "cloth", ID: "wool-gabardine", Name: "wool gabardine", Names: []string{"worsted gabardine"}, Misspelt: []string{"gaberdeen"}}}
	}})
	require.NoError(t, err)
	defer x.Close()
	for _, c := range []struct{ words, why string }{
		{"gaberdeen", `usual misspelling "gaberdeen"`},
		{"worsted gabardine", `synonym "worsted gabardine"`},
		{"gaberd", `beginning of usual misspelling "gaberdeen"`},
	} {
		t.Run(c.words, func(t *testing.T) {
			hits, _, err := x.Search(search.Query{Words: c.words})
			require.NoError(t, err)
			require.Len(t, hits, 1)
			require.Equal(t, c.why, hits[0].Why)
		})
	}
}

// stands tells whether the stems stand side by side among words.
func stands(words, stems []string) bool {
	for i := 0; i+len(stems) <= len(words); i++ {
		if slices.Equal(search.Stems(words[i:i+len(stems)]), stems) {
			return true
		}
	}
	return false
}

// Invented makes entries of invented words, common and rare ones as in prose:
// the same ones each time.
func Invented(n int) ([]search.Doc, []string) {
	r := rand.New(rand.NewPCG(1, uint64(n)))
	onset := strings.Fields("b br c ch cr d dr f fl g gr h j k l m n p pl r s sh sl st t tr v w")
	vowel := strings.Fields("a e i o u ai ee ou")
	coda := strings.Fields("n m l r s t ck ff nd ss x")
	vocabulary := make([]string, 0, 20000)
	seen := map[string]bool{}
	for len(vocabulary) < cap(vocabulary) {
		var b strings.Builder
		for range 2 + r.IntN(2) {
			b.WriteString(onset[r.IntN(len(onset))])
			b.WriteString(vowel[r.IntN(len(vowel))])
		}
		b.WriteString(coda[r.IntN(len(coda))])
		if w := b.String(); !seen[w] {
			seen[w] = true
			vocabulary = append(vocabulary, w)
		}
	}
	z := rand.NewZipf(r, 1.07, 4, uint64(len(vocabulary)-1))
	words := func(n int) string {
		out := make([]string, n)
		for i := range out {
			out[i] = vocabulary[z.Uint64()]
		}
		return strings.Join(out, " ")
	}
	fibres := strings.Fields("cotton linen silk wool viscose polyester polyamide hemp")
	kinds := strings.Fields("cloth cloth cloth cloth swatch term piece")
	docs := make([]search.Doc, n)
	for i := range docs {
		docs[i] = search.Doc{Kind: kinds[r.IntN(len(kinds))], ID: fmt.Sprintf("entry-%d", i), Name: words(1 + r.IntN(3)), Names: []string{words(1 + r.IntN(2)), words(2)},
			Text: words(100), Fibres: []string{fibres[r.IntN(len(fibres))]}, Mass: 20 + 500*r.Float64(), Words: []string{words(1)}}
	}
	asked := make([]string, 4000)
	for i := range asked {
		asked[i] = vocabulary[z.Uint64()]
	}
	return docs, asked
}
