package advise

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tenter/advise/plain"
	"tenter/fibres"
	"tenter/fibres/fault"
)

// Wish is something that a maker can say beside the make-up itself: a wish, which
// asks something of the cloth (washable, warm), or a fact, which is so (the cloth
// was washed before it was cut). Rules may ask for both.
type Wish struct {
	ID, Name string
	Synonyms []string
	Fact     bool     // it is so, and asks nothing
	Prefer   []string // what moves to the front of a list: one of [Preferences], "more" or "less" of a property, "used for" something, "made of" fibres or families; none for its demands alone
	Against  []string // ids of wishes that cannot be said with it
	Demands  []Demand
	Say      string
	Cite
}

// Preferences are what a wish may put first in a list, beside what it demands.
var Preferences = []string{"ease", "price", "common", "era"}

// steered is the property that a preference steers by, and whether more of it is
// preferred (1), less (-1), or none is named (0).
func steered(prefer string) (p fibres.Property, sign float64) {
	way, id, _ := strings.Cut(prefer, " ")
	p, ok := fibres.PropertyByID(id)
	switch {
	case ok && way == "more":
		return p, 1
	case ok && way == "less":
		return p, -1
	}
	return 0, 0
}

// wishes reads wishes.toml, but for the demands, whose conditions name facts that name
// the wishes.
func (l *loader) wishes(doc *plain.Doc) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("wish") {
		w := &Wish{}
		w.ID, w.Name, w.Synonyms, w.Say = l.named(t, l.a.WishNames, seen)
		w.Fact = l.flag(t, "fact")
		if t.Has("prefer") {
			w.Prefer = l.preferences(t)
		}
		w.Against = t.Strings("against")
		w.Cite = l.cite(t)
		l.a.Wishes = append(l.a.Wishes, w)
		for _, d := range t.Tables("demand") {
			d.Leaves() // read when the facts are known
		}
	}
}

// wishDemands reads what the wishes ask.
func (l *loader) wishDemands(doc *plain.Doc) {
	for i, t := range doc.Tables("wish") {
		l.a.Wishes[i].Demands = l.demands(t)
		t.Leaves()
	}
}

// preferences reads what a wish puts first, parted by " and ".
func (l *loader) preferences(t *plain.Table) []string {
	list := strings.Split(t.String("prefer"), " and ")
	for _, way := range list {
		if !l.prefers(way) {
			t.Fault("prefer", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("prefer is %q", way),
				Expected: strings.Join(Preferences, ", ") + `, "more" or "less" of a property, "used for" something, or "made of" fibres or families parted by "or"`})
		}
	}
	return list
}

// prefers reports whether a list can be ordered so.
func (l *loader) prefers(way string) bool {
	if made, ok := strings.CutPrefix(way, madeOfWay); ok {
		for f := range strings.SplitSeq(made, " or ") {
			if l.a.Cat.Fibres[f] == nil && !slices.Contains(families, f) {
				return false
			}
		}
		return true
	}
	use, ok := strings.CutPrefix(way, usedForWay)
	_, sign := steered(way)
	return ok && use != "" || sign != 0 || slices.Contains(Preferences, way)
}

// How a preference begins that names a use, and one that names fibres or families.
const (
	usedForWay = "used for "
	madeOfWay  = "made of "
)

// Wish finds a wish or a fact by what it is called.
func (a *Adviser) Wish(name string) (*Wish, error) {
	id, err := a.WishNames.Find(name)
	if err != nil {
		return nil, err
	}
	for _, w := range a.Wishes {
		if w.ID == id {
			return w, nil
		}
	}
	return nil, nil
}

// WishesOf reads wishes that are named one by one or parted by commas. Two that
// cannot both be so are a wrong call.
func (a *Adviser) WishesOf(names ...string) ([]*Wish, error) {
	var out []*Wish
	var found fault.List
	for _, n := range names {
		for name := range strings.SplitSeq(n, ",") {
			if strings.TrimSpace(name) == "" {
				continue
			}
			w, err := a.Wish(name)
			found.Add(err)
			if w == nil || has(out, w.ID) {
				continue
			}
			for _, x := range out {
				if slices.Contains(w.Against, x.ID) || slices.Contains(x.Against, w.ID) {
					found.Add(&fault.Fault{Kind: fault.WrongCall, What: "it cannot be " + x.Name + " and " + w.Name, Expected: "one of the two"})
				}
			}
			out = append(out, w)
		}
	}
	return out, found.OrNil()
}

// has reports whether a wish of the id is among them.
func has(list []*Wish, id string) bool {
	for _, w := range list {
		if w.ID == id {
			return true
		}
	}
	return false
}

// dryCleaned is the fact that a piece is never washed, whatever it is.
const dryCleaned = "dry-cleaned"

// Wished reports whether the maker says so.
func (m MakeUp) Wished(id string) bool { return has(m.Wishes, id) }

// wishedFibre is the share in per cent of the shell that is of the fibres that the wishes
// put first; not a number where none does, or where nothing is known of its fibres.
func (m MakeUp) wishedFibre() float64 {
	least := math.NaN()
	if m.Shell == nil || len(m.Shell.Made()) == 0 {
		return least
	}
	for _, w := range m.Wishes {
		for _, way := range w.Prefer {
			if made, ok := strings.CutPrefix(way, madeOfWay); ok {
				if share := madeOf(m.Shell.Made(), made); math.IsNaN(least) || share < least {
					least = share
				}
			}
		}
	}
	return least
}

// wishIDs are the ids of what the maker says.
func (m MakeUp) wishIDs() []string {
	var out []string
	for _, w := range m.Wishes {
		out = append(out, w.ID)
	}
	return out
}

// wishDemands are what the wishes ask of the make-up.
func wishDemands(m MakeUp) []*Demand {
	var out []*Demand
	for _, w := range m.Wishes {
		for i := range w.Demands {
			out = append(out, &w.Demands[i])
		}
	}
	return out
}

// WishEcho is a wish that was heard, as answers repeat it.
type WishEcho struct {
	Wish string `json:"wish"`
	Say  string `json:"say"`
}

// wishEchoes repeats what was wished.
func wishEchoes(m MakeUp) []WishEcho {
	var out []WishEcho
	for _, w := range m.Wishes {
		out = append(out, WishEcho{w.ID, w.Say})
	}
	return out
}
