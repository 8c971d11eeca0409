// Package address is what an address holds: what is made of what and how it is cut, how far
// a maker has come, what was picked; and what was typed, read as figures. It knows no page
// and no records.
package address

import (
	"maps"
	"net/url"
	"slices"
	"sort"
	"strings"

	"tenter/fibres/units"
)

// Ask is what an address asks: the page, the thing it names, and the whole
// state, which lives in the query and nowhere else.
type Ask struct {
	Path  string // as it stands in a link
	ID    string // of the thing that the path names
	Query url.Values
	Units units.System
	Long  []string // what was left out because it is too long, by its key
	Part  string   // only this part of the page is wanted, by the script
}

// The longest word of an address that is looked at: whatever is longer is no
// name of anything. Readings that are being taken may be many.
const (
	longest      = 200
	longestLines = 2000
)

// KeyLines is the readings typed so far, KeyMarks what was marked on a photograph.
const KeyLines, KeyMarks = "lines", "marks"

// Longest is the most letters of a value that is looked at.
func (a Ask) Longest() int { return longest }

// NewAsk reads an address. Keys with empty values count as left out, and
// so do over-long ones, which the page says; of a key given twice the first counts.
func NewAsk(path, id string, query url.Values) Ask {
	a := Ask{Path: path, ID: id, Query: url.Values{}}
	for key, v := range query {
		if len(v) == 0 || len(key) > 40 {
			continue
		}
		limit := longest
		if key == KeyLines || key == KeyPick || key == KeyMarks {
			limit = longestLines
		}
		switch s := strings.TrimSpace(Clean(v[0])); {
		case len(s) > limit:
			a.Long = append(a.Long, strings.NewReplacer("-", " ", "_", " ").Replace(key))
		case s != "":
			a.Query[key] = []string{s}
		}
	}
	sort.Strings(a.Long)
	if s, err := units.ParseSystem(a.Query.Get("units")); err == nil {
		a.Units = s
	}
	a.Part = a.Query.Get("part")
	delete(a.Query, "part")
	return a
}

// Clean drops what could not be seen: control signs and broken text.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == '\uFFFD' || (r >= 0x200b && r <= 0x200f) || (r >= 0x202a && r <= 0x202e) || (r >= 0x2066 && r <= 0x2069) {
			return -1
		}
		return r
	}, s)
}

// Get is the value of a key of the query.
func (a Ask) Get(key string) string { return a.Query.Get(key) }

// To is a link to another page: the units go along, and the pairs of key and
// value that are not empty.
func (a Ask) To(path string, pairs ...string) string {
	q := url.Values{}
	if a.Units != units.Metric {
		q.Set("units", a.Units.String())
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			q.Set(pairs[i], pairs[i+1])
		}
	}
	if len(q) == 0 {
		return path
	}
	return path + "?" + q.Encode()
}

// With is this address with some keys changed; an empty value takes a key away.
func (a Ask) With(pairs ...string) string {
	q := url.Values{}
	for k, v := range a.Query {
		q[k] = v
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] == "" {
			q.Del(pairs[i])
		} else {
			q.Set(pairs[i], pairs[i+1])
		}
	}
	if len(q) == 0 {
		return a.Path
	}
	return a.Path + "?" + q.Encode()
}

// Carry lists the keys of the query as hidden fields for a form that changes
// the keys named; KeySet names all measures of a shape.
func (a Ask) Carry(without ...string) []Pair {
	var out []Pair
	for _, k := range slices.Sorted(maps.Keys(a.Query)) {
		if !slices.Contains(without, k) && !(strings.HasPrefix(k, KeySet) && slices.Contains(without, KeySet)) {
			out = append(out, Pair{k, a.Query.Get(k)})
		}
	}
	return out
}

// Pair is a key with its value.
type Pair struct{ Key, Value string }
