package fibres

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// Names finds things by what people call them: id, name, synonym, misspelling,
// or a clear beginning of one.
type Names struct {
	kind    string
	entries []nameEntry
	usual   func(id string) int // how often a thing is met; nil where nobody says

	mu    sync.Mutex          // guards what follows, which is made by whoever first needs it
	label map[string]string   // id → display name
	exact map[string][]string // folded name → ids
	all   []string            // folded names, sorted, for prefixes
}

// Usually has names that fit several things list first what is met most often.
func (n *Names) Usually(usual func(id string) int) { n.usual = usual }

// use is how often a thing is met.
func (n *Names) use(id string) int {
	if n.usual == nil {
		return 0
	}
	return n.usual(id)
}

// nameEntry is what one thing answers to, besides its id.
type nameEntry struct {
	id, name, other string
	others, more    []string
}

// NewNames makes an empty index for things called kind in messages ("cloth").
func NewNames(kind string) *Names { return &Names{kind: kind} }

// Add enters a thing: its id, its display name, and every other name. All
// things are added before the first is looked up.
func (n *Names) Add(id, name string, others ...string) {
	n.add(nameEntry{id: id, name: name, others: others})
}

func (n *Names) add(e nameEntry) {
	n.entries = append(n.entries, e)
	n.mu.Lock()
	n.exact, n.all, n.label = nil, nil, nil
	n.mu.Unlock()
}

// labels is the display name of every id, made when one is first asked for.
func (n *Names) labels() map[string]string {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.label == nil {
		n.label = make(map[string]string, len(n.entries))
		for _, e := range n.entries {
			n.label[e.id] = e.name
		}
	}
	return n.label
}

// has reports whether an id was added: few names are looked up in a run, so that
// looking along the entries costs less than a map of them.
func (n *Names) has(id string) bool {
	for i := range n.entries {
		if n.entries[i].id == id {
			return true
		}
	}
	return false
}

// index is every folded name with its ids, made when a name is first asked for
// that is no id: most runs name things by their ids and never pay for it.
func (n *Names) index() map[string][]string {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.exact != nil {
		return n.exact
	}
	exact := make(map[string][]string, 4*len(n.entries))
	enter := func(id, x string) {
		if k := FoldName(x); k != "" && !contains(exact[k], id) {
			exact[k] = append(exact[k], id)
		}
	}
	for _, e := range n.entries {
		enter(e.id, e.id)
		enter(e.id, e.name)
		enter(e.id, e.other)
		for _, some := range [][]string{e.others, e.more} {
			for _, x := range some {
				enter(e.id, x)
			}
		}
	}
	n.exact = exact
	return exact
}

// FoldName is the form in which names are compared: lower case, accents
// dropped, every run of other signs one space.
func FoldName(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(s) {
		if f, ok := plainLetter[r]; ok {
			r = f
		}
		if (r >= 'a' && r <= 'z') || (r >= '0' && r <= '9') {
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(r)
		} else if r != '\'' && r != '’' {
			gap = true
		}
	}
	return b.String()
}

var plainLetter = map[rune]rune{'é': 'e', 'è': 'e', 'ê': 'e', 'ë': 'e', 'à': 'a', 'â': 'a', 'ä': 'a', 'ç': 'c',
	'ï': 'i', 'î': 'i', 'ô': 'o', 'ö': 'o', 'û': 'u', 'ü': 'u', 'ù': 'u', 'ñ': 'n'}

// longestName is longer than any name.
const longestName = 120

// Find returns the id for what the user wrote. An id or a display name wins
// over synonyms; a beginning, or a word within a name, counts when it fits one thing only. The errors
// are NotFound faults: with the nearest names, or with the list that fits.
func (n *Names) Find(text string) (string, error) {
	id, err := n.find(text)
	if errors.Is(err, errUnknownName) {
		return "", &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("no %s is called %q", n.kind, text),
			Expected: "an id, name, synonym or clear beginning of one",
			Mend:     n.nearest(FoldName(text))}
	}
	return id, err
}

// errUnknownName is said of a name that nothing has. Which names are like it takes long
// to find, and many ask only whether there is one.
var errUnknownName = errors.New("nothing is called so")

// find is Find without a guess at what may have been meant.
func (n *Names) find(text string) (string, error) {
	k := FoldName(text)
	if k == "" {
		return "", &fault.Fault{Kind: fault.WrongCall, What: "no " + n.kind + " is named",
			Expected: "an id, name, synonym or clear beginning of one", Mend: "`tenter list` shows what there is"}
	}
	if len(k) > longestName { // a page is no name: it is neither searched for nor printed
		return "", &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("no %s is called %q", n.kind, string([]rune(text)[:40])+"…"), Expected: "an id, name, synonym or clear beginning of one",
			Mend: fmt.Sprintf("a name has at most %d letters", longestName)}
	}
	if id, err := n.findWhole(text); !errors.Is(err, errUnknownName) {
		return id, err
	}
	if strings.HasSuffix(k, "s") { // taffetas, denims
		if ids := n.index()[strings.TrimSuffix(k, "s")]; len(ids) == 1 {
			return ids[0], nil
		}
	}
	// "jacket" begins the name of a jacket lining alone, and is the last word of others.
	switch ids := appendNew(n.beginning(k), n.containing(k)...); len(ids) {
	case 0:
		return "", errUnknownName
	case 1:
		return ids[0], nil
	default:
		return "", n.ambiguous(text, ids)
	}
}

// findWhole is find for a name in full: an id, a name or another name.
func (n *Names) findWhole(text string) (string, error) {
	k := FoldName(text)
	if id := strings.ReplaceAll(k, " ", "-"); n.has(id) { // an id settles it
		return id, nil
	}
	ids := n.index()[k]
	switch {
	case len(ids) == 0:
		return "", errUnknownName
	case len(ids) == 1:
		return ids[0], nil
	}
	for _, id := range ids { // an id or the display name settles it
		if FoldName(id) == k {
			return id, nil
		}
	}
	return "", n.ambiguous(text, ids)
}

// beginning is the ids of all things of which a name begins with k.
func (n *Names) beginning(k string) []string {
	exact, all := n.index(), n.sorted()
	first := sort.SearchStrings(all, k)
	var ids []string
	for _, x := range all[first:] {
		if !strings.HasPrefix(x, k) {
			break
		}
		ids = appendNew(ids, exact[x]...)
	}
	return ids
}

// containing is the ids of all things that have k as whole words within a name: a plain
// word inside several names ("sateen").
func (n *Names) containing(k string) []string {
	exact := n.index()
	var ids []string
	for _, x := range n.sorted() {
		if strings.Contains(" "+x+" ", " "+k+" ") {
			ids = appendNew(ids, exact[x]...)
		}
	}
	return ids
}

// sorted is every folded name, for several goroutines at once.
func (n *Names) sorted() []string {
	exact := n.index()
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.all == nil {
		for x := range exact {
			n.all = append(n.all, x)
		}
		sort.Strings(n.all)
	}
	return n.all
}

// likeEnough is the part of the letter pairs that a name must share to be guessed: that
// of two letters wrong in a word of seven, or of a word in common.
const likeEnough = 0.5

// nearest names the three things whose names are most like k; what is not like it
// enough is no guess.
func (n *Names) nearest(k string) string {
	exact := n.index()
	type scored struct {
		name string
		like float64
	}
	var list []scored
	misspelt := fault.Near(k, n.sorted(), 3)
	for _, x := range n.sorted() {
		like := likeness(k, x)
		if i := slices.Index(misspelt, x); i >= 0 { // the nearest first, before what only looks alike
			like = 1 - float64(i+1)/100
		}
		for _, w := range strings.Fields(x) { // "cottn" is like one word of "cotton lawn"
			like = max(like, likeness(k, w)*0.95)
		}
		if like >= likeEnough {
			list = append(list, scored{x, like})
		}
	}
	sort.SliceStable(list, func(i, j int) bool {
		if list[i].like != list[j].like {
			return list[i].like > list[j].like
		}
		if a, b := n.use(exact[list[i].name][0]), n.use(exact[list[j].name][0]); a != b {
			return a > b
		}
		return len(list[i].name) < len(list[j].name)
	})
	var out []string
	for _, s := range list {
		for _, id := range exact[s.name] {
			if !contains(out, id) && len(out) < 3 {
				out = append(out, id)
			}
		}
	}
	if len(out) == 0 {
		return "`tenter search` looks in every text"
	}
	for i := range out {
		out[i] = `"` + out[i] + `"`
	}
	if len(out) == 1 {
		return "did you mean " + out[0] + "?"
	}
	return "did you mean " + prose.Or(out) + "?"
}

// likeness is the part of the letter pairs that two words share, their ends
// counted as letters: 1 for the same word, 0 where no pair is shared.
func likeness(a, b string) float64 {
	a, b = "^"+a+"$", "^"+b+"$"
	var taken [2 * longestName]bool // pairs of a that have found theirs in b
	shared := 0
	for i := 0; i+2 <= len(b); i++ {
		for j := 0; j+2 <= len(a) && j < len(taken); j++ {
			if !taken[j] && a[j] == b[i] && a[j+1] == b[i+1] {
				taken[j] = true
				shared++
				break
			}
		}
	}
	return 2 * float64(shared) / float64(len(a)+len(b)-2)
}

func (n *Names) ambiguous(text string, ids []string) error {
	slices.SortFunc(ids, func(a, b string) int { return cmp.Or(n.use(b)-n.use(a), strings.Compare(a, b)) })
	const maxShown = 6
	show := ids
	more := ""
	if len(show) > maxShown {
		more = fmt.Sprintf(" and %d more", len(show)-maxShown)
		show = show[:maxShown]
	}
	return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("%q fits %d %s", text, len(ids), prose.Plural(n.kind)),
		Expected: "a name that fits one alone", Mend: "name one in full: " + strings.Join(show, ", ") + more}
}

// IDs lists every id, sorted.
func (n *Names) IDs() []string {
	return keys(n.labels())
}

// Label is the display name of an id.
func (n *Names) Label(id string) string {
	if l := n.labels()[id]; l != "" {
		return l
	}
	return id
}

func contains(list []string, x string) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// Called reports whether a thing is called so in full: its id, its name or another of
// its names, not the beginning of one.
func (n *Names) Called(id, text string) bool {
	k := FoldName(text)
	return strings.ReplaceAll(k, " ", "-") == id || contains(n.index()[k], id)
}
