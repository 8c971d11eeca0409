package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/advise/reply"
	"tenter/data"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/kb"
	"tenter/kb/index"
	"tenter/kb/search"
	"tenter/page/knowledge"
)

// searchKinds are the kinds that --kind may name, in the order in which they
// are told.
var searchKinds = []string{"cloth", "fibre", "structure", "treatment", "piece", "finish", "seam", "edge", "interfacing", "rule", "term", "source", "swatch", "note"}

// asking gathers the flags of a search.
type asking struct {
	kinds            []string
	fibre            string
	minMass, maxMass string
	limit            int
	prefix           bool
}

func newSearch(a *app) *cobra.Command {
	var q asking
	c := &cobra.Command{
		Use:     "search WORDS…",
		GroupID: groupAsk,
		Short:   "find cloths, seams, rules, terms … by words",
		Long: `Looks for words in everything: cloths, fibres, structures, treatments, pieces,
finishes, seams, edges, interfacings, rules, terms, sources, your own swatches and notes.
Say it as you would to a shopkeeper: how a cloth is ("floaty", "does not fray"),
what it is for ("lining for a wool coat"), a name of any country, roughly spelt.
Words in quotes must stand together. Each line ends with why it was found.

Without words, the filters alone make the list.` + exitStatus,
		Example: `  tenter search fabric that does not fray
  tenter search chiffon --kind cloth,rule
  tenter search floaty --fibre silk --max-mass 80gsm
  tenter search geor --prefix
  tenter search '"wrong side"' --json`,
		Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.search(strings.Join(args, " "), q)
		},
	}
	f := c.Flags()
	f.StringSliceVar(&q.kinds, "kind", nil, "only these kinds, parted by commas: cloth, seam, rule …")
	f.StringVar(&q.fibre, "fibre", "", "only what is made with this fibre")
	f.StringVar(&q.maxMass, "max-mass", "", "only cloths of at most this mass: 120gsm, 4oz/yd2")
	f.StringVar(&q.minMass, "min-mass", "", "only cloths of at least this mass")
	f.IntVar(&q.limit, "limit", 12, "most hits")
	f.BoolVar(&q.prefix, "prefix", false, "the last word is only the beginning of one")
	_ = c.RegisterFlagCompletionFunc("kind", a.complete(func(*advise.Adviser) []string { return searchKinds }))
	_ = c.RegisterFlagCompletionFunc("fibre", a.complete(func(x *advise.Adviser) []string { return x.Cat.FibreNames.IDs() }))
	return c
}

// query reads the flags. The catalogue is only loaded when a fibre is named.
func (q asking) query(a *app, words string) (search.Query, error) {
	out := search.Query{Words: words, Limit: q.limit, Prefix: q.prefix}
	var found fault.List
	if q.limit < 1 || q.limit > 1000 {
		found = append(found, &fault.Fault{Kind: fault.OutsideRange, Where: "--limit", What: fmt.Sprintf("%d hits cannot be shown", q.limit), Expected: "1 to 1000"})
	}
	for _, k := range q.kinds {
		kind := strings.ToLower(strings.TrimSpace(k))
		for _, known := range searchKinds {
			if kind == known || kind == prose.Plural(known) {
				kind = known
			}
		}
		if !contains(searchKinds, kind) {
			found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--kind", What: fmt.Sprintf("there is no kind %q", k),
				Expected: strings.Join(searchKinds, ", "), Mend: fault.DidYouMean(kind, searchKinds, "")})
		}
		out.Kinds = append(out.Kinds, kind)
	}
	if q.fibre != "" {
		adv, err := a.withoutLessons()
		if err != nil {
			return out, err
		}
		if out.Fibre, err = adv.Cat.FibreNames.Find(q.fibre); err != nil {
			for _, f := range fault.All(err) {
				found = append(found, f.At("--fibre"))
			}
		}
	}
	for _, m := range []struct {
		flag, text string
		to         *float64
	}{{"--min-mass", q.minMass, &out.MinMass}, {"--max-mass", q.maxMass, &out.MaxMass}} {
		if m.text == "" {
			continue
		}
		v, err := units.ParseArealMass(a.weight(m.flag, m.text))
		info := fibres.Properties[fibres.Mass]
		if err == nil && (float64(v) < info.Low || float64(v) > info.High) {
			err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth weighs " + m.text, Expected: fmt.Sprintf("%s to %s g/m2", fibres.Round(info.Low), fibres.Round(info.High))}
		}
		if err != nil {
			found = append(found, fault.All(err)[0].At(m.flag))
			continue
		}
		*m.to = float64(v)
	}
	if out.MinMass > 0 && out.MaxMass > 0 && out.MinMass > out.MaxMass {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--min-mass", What: "the least mass is above the greatest", Expected: "--min-mass below --max-mass"})
	}
	if strings.TrimSpace(words) == "" && len(out.Kinds) == 0 && out.Fibre == "" && out.MinMass == 0 && out.MaxMass == 0 && len(found) == 0 {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, What: "there is nothing to look for", Expected: "words, or a filter such as --fibre silk", Mend: "tenter search floaty"})
	}
	return out, found.OrNil()
}

// foundThing is a hit in an answer.
type foundThing struct {
	Kind      string  `json:"kind"`
	ID        string  `json:"id"`
	Name      string  `json:"name"`
	Score     float64 `json:"score"`
	Why       string  `json:"why"`
	Favourite bool    `json:"favourite,omitempty"`
}

type searchAnswer struct {
	Version     int           `json:"version"`
	Query       string        `json:"query"`
	Hits        []foundThing  `json:"hits"`
	Facets      search.Facets `json:"facets"`
	Advice      *advice       `json:"advice,omitempty"` // where a rule answers before all else
	Next        string        `json:"next,omitempty"`   // the command that works the question out, where a piece or a cloth is named
	Suggestions []suggestion  `json:"suggestions,omitempty"`

	does string // what the next command does
}

// advice is what a rule says that answers a question.
type advice struct {
	Rule    string `json:"rule"`
	Say     string `json:"say"`
	Because string `json:"because,omitempty"`
}

// workedOut is the command that works out what is asked of a piece, or of a cloth, and
// what it does; "" where neither is named, or nothing else.
func workedOut(r reply.Reply) (command, does string) {
	switch {
	case r.Piece != nil && r.Cloth != nil:
		return "tenter advise " + r.Piece.ID + " --shell " + r.ClothID(), "works it out"
	case r.Piece != nil:
		return "tenter advise " + r.Piece.ID, "chooses its cloth and lining"
	case r.Cloth != nil:
		return "tenter show " + r.ClothID(), "tells what is known of it"
	}
	return "", ""
}

// suggestion is a question that would find something.
type suggestion struct {
	Say     string `json:"say"`
	Command string `json:"command"`
}

// searchMemory is where memory is looked for again, in bytes: own records are read
// one after the other, and few are kept.
const searchMemory = 64 << 20

func (a *app) search(words string, q asking) error {
	query, err := q.query(a, words)
	if err != nil {
		return err
	}
	x, err := a.openSearch() // it may build the index, of which more lives than a search takes
	if err != nil {
		return err
	}
	defer x.close()
	limitMemory(searchMemory)
	ans, err := kb.Ask(x.ix, x.thesaurus, query)
	if err != nil {
		return err
	}
	out := searchAnswer{Version: advise.Version, Query: words, Hits: []foundThing{}, Facets: ans.Facets}
	marked, err := a.favourites()
	if err != nil {
		return err
	}
	var found []reply.Found
	for _, h := range ans.Hits {
		found = append(found, reply.Found{Kind: h.Kind, ID: h.ID, Why: h.Why})
		out.Hits = append(out.Hits, foundThing{h.Kind, h.ID, h.Name, h.Score, h.Why, marked[h.Kind+"/"+h.ID]})
	}
	adv, err := a.withoutLessons()
	if err != nil {
		return err
	}
	r := reply.To(adv, words, found, ans.Asks)
	if r.Rule != nil {
		out.Advice = &advice{r.Rule.ID, r.Rule.Say, r.Rule.Because}
	}
	out.Next, out.does = workedOut(r)
	if len(out.Hits) == 0 {
		if out.Suggestions, err = a.suggest(x, query); err != nil {
			return err
		}
	}
	if a.json {
		return a.writeJSON(out)
	}
	a.printSearch(out)
	return nil
}

func (a *app) printSearch(out searchAnswer) {
	if len(out.Hits) == 0 {
		a.para("", fmt.Sprintf("nothing was found for %q", out.Query), 2)
		for _, s := range out.Suggestions {
			a.para("  ", s.Say+": "+s.Command, 4)
		}
		return
	}
	if out.Advice != nil {
		a.para("", strings.TrimSpace(out.Advice.Say+" "+out.Advice.Because), 0)
		a.para("", "Where it holds and why: tenter rule show "+out.Advice.Rule, 2)
		fmt.Fprintln(a.out)
	}
	same := len(out.Hits) > 1
	for _, h := range out.Hits {
		same = same && h.Why == out.Hits[0].Why
	}
	var rows [][]string
	for _, h := range out.Hits {
		say := h.ID
		if h.Favourite {
			say += " *"
		}
		if !strings.EqualFold(fibres.FoldName(h.ID), fibres.FoldName(h.Name)) {
			say += ": " + strings.TrimSuffix(h.Name, ".")
		}
		if !same {
			say += " (" + h.Why + ")"
		}
		rows = append(rows, []string{h.Kind, say})
	}
	a.tabulate(0, rows)
	if s := countsText(out.Facets); s != "" {
		fmt.Fprintln(a.out)
		total := 0
		for _, n := range out.Facets["kind"] {
			total += n
		}
		if total > len(out.Hits) {
			s = fmt.Sprintf("best %d of %s", len(out.Hits), s)
		}
		if same {
			s += "; each by " + out.Hits[0].Why
		}
		a.para("", s, 0)
	}
	if out.Next != "" {
		a.tabulate(0, [][]string{{"Next", out.Next + " " + out.does}})
	}
}

// countsText is "12 cloths, 3 terms", the most first.
func countsText(f search.Facets) string {
	counts := f["kind"]
	var kinds []string
	for k := range counts {
		kinds = append(kinds, k)
	}
	sort.Slice(kinds, func(i, j int) bool {
		if counts[kinds[i]] != counts[kinds[j]] {
			return counts[kinds[i]] > counts[kinds[j]]
		}
		return kinds[i] < kinds[j]
	})
	var out []string
	for _, k := range kinds {
		counted := prose.Count(counts[k], k)
		if f[search.Over][k] > 0 {
			counted = "over " + counted
		}
		out = append(out, counted)
	}
	return strings.Join(out, ", ")
}

// suggest offers questions that would find something: without the filters, or
// by the nearest names.
func (a *app) suggest(x *searcher, q search.Query) ([]suggestion, error) {
	var out []suggestion
	quoted := "tenter search " + shellWord(q.Words)
	if q.Words != "" && (len(q.Kinds) > 0 || q.Fibre != "" || q.MaxMass > 0 || q.MinMass > 0) {
		free, err := kb.Ask(x.ix, x.thesaurus, search.Query{Words: q.Words, Limit: 1})
		if err != nil {
			return nil, err
		}
		if s := countsText(free.Facets); s != "" {
			out = append(out, suggestion{"without the filters: " + s, quoted})
		}
	}
	adv, err := a.withoutLessons()
	if err != nil {
		return nil, err
	}
	var names []string
	ids := map[string]string{}
	for _, c := range adv.Cat.ClothList() {
		names = append(names, c.Name)
		ids[c.Name] = c.ID
	}
	for _, t := range things(adv) {
		names = append(names, t.name)
		ids[t.name] = t.id
	}
	for _, n := range fault.Near(q.Words, names, 3) {
		out = append(out, suggestion{"did you mean " + strconv.Quote(n), "tenter show " + ids[n]})
	}
	if len(out) == 0 {
		out = append(out, suggestion{"fewer or plainer words may find it; all cloths", "tenter list cloths"})
	}
	return out, nil
}

// shellWord quotes words for a command line where they need it.
func shellWord(s string) string {
	if strings.ContainsAny(s, "\"'$`\\!*?&|;<>()") {
		return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
	}
	return s
}

// searcher is an open index with the thesaurus that reads questions to it.
type searcher struct {
	ix        *search.Index
	thesaurus *kb.Thesaurus
}

func (x *searcher) close() { _ = x.ix.Close() }

// openSearch opens the index. The adviser is loaded only when the index must be
// built, since its entries need every estimate.
func (a *app) openSearch() (*searcher, error) {
	t, err := kb.LoadThesaurus(data.FS)
	if err != nil {
		return nil, err
	}
	house, unreadable := houseFiles()
	if len(house)+len(unreadable) > 0 { // what is searched is what can be read of them
		if _, err := a.adv(); err != nil {
			return nil, err
		}
		house = a.reference().house
	}
	key, err := searchKey(house)
	if err != nil {
		return nil, err
	}
	own, err := a.searchedRecords()
	if err != nil {
		return nil, err
	}
	var failed error
	ix, err := index.Open(index.Place{Dir: cacheDir(), Key: key}, search.Options{Own: own, Thesaurus: t.Means, Docs: func() []search.Doc {
		adv, err := a.adv()
		if err != nil {
			failed = err
			return nil
		}
		return knowledge.Docs(adv)
	}})
	if err == nil && failed != nil {
		_ = ix.Close()
	}
	if failed != nil {
		return nil, failed
	}
	if err != nil {
		return nil, err
	}
	return &searcher{ix, t}, nil
}

// docsEdition is raised when what is written into the index changes with
// neither the data nor the program's file.
const docsEdition = "2"

// searchKey names the index: what it would be built from. The data's own bytes
// are hashed, and the program's file is told by its size and time.
func searchKey(house []advise.House) (string, error) {
	h := sha256.New()
	fmt.Fprintln(h, docsEdition)
	err := fs.WalkDir(data.FS, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(data.FS, path)
		if err != nil {
			return err
		}
		fmt.Fprintln(h, path, len(b))
		_, err = h.Write(b)
		return err
	})
	if err != nil {
		return "", err
	}
	for _, f := range house {
		fmt.Fprintln(h, f.Name, len(f.Data))
		_, _ = h.Write(f.Data)
	}
	if exe, err := os.Executable(); err == nil {
		if st, err := os.Stat(exe); err == nil {
			fmt.Fprintln(h, filepath.Base(exe), st.Size(), st.ModTime().UnixNano())
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// searchedRecords are the user's swatches and notes as the search asks for them.
func (a *app) searchedRecords() (search.Own, error) {
	s, err := a.readRecords()
	if err != nil || s == nil {
		return nil, err
	}
	return kb.Own(s)
}
