package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres"
	"tenter/kb"
	"tenter/kb/index"
	"tenter/kb/search"
	"tenter/page/knowledge"
)

// asked is one question of testdata/queries.csv with what must stand on top:
// one of the wanted things or kinds, for which the conditions hold.
type asked struct {
	set, query  string
	want, holds []string
}

func readQueries(t *testing.T) []asked {
	t.Helper()
	f, err := os.Open("testdata/queries.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []asked
	for _, r := range rows[1:] {
		q := asked{set: r[0], query: r[1], want: strings.Split(r[2], "; ")}
		if r[3] != "" {
			q.holds = strings.Split(r[3], "; ")
		}
		out = append(out, q)
	}
	return out
}

// miss says why a hit is not what was wanted, or nothing.
func (q asked) miss(adv *advise.Adviser, h search.Hit) string {
	ok := false
	for _, w := range q.want {
		ok = ok || w == h.Kind || w == h.Kind+"/"+h.ID
	}
	if !ok {
		return fmt.Sprintf("%s/%s (%s)", h.Kind, h.ID, h.Why)
	}
	for _, c := range q.holds {
		if !holds(adv, h, c) {
			return fmt.Sprintf("%s/%s (%s), of which %q does not hold", h.Kind, h.ID, h.Why, c)
		}
	}
	return ""
}

// holds tells whether a condition holds for a thing; conditions on cloths say
// nothing of a rule, a term or a piece.
func holds(adv *advise.Adviser, h search.Hit, condition string) bool {
	switch h.Kind {
	case "cloth":
		c := adv.Cat.Cloths[h.ID]
		if c == nil {
			return false
		}
		return clothHolds(adv, c, condition)
	case "seam", "edge":
		for _, s := range adv.Seams {
			if s.ID == h.ID {
				return condition != "sheer" && condition != "reversible" || condition == "sheer" && s.Sheer || condition == "reversible" && s.Reversible
			}
		}
		return false
	}
	return true
}

func clothHolds(adv *advise.Adviser, c *fibres.Cloth, condition string) bool {
	w := strings.Fields(condition)
	switch w[0] {
	case "group":
		return c.Group == w[1]
	case "class":
		return c.Structure.Class == w[1]
	case "fibre":
		for _, p := range c.Content {
			if p.Share.Typical >= 20 && p.Fibre.ID == w[1] {
				return true
			}
		}
		return false
	}
	p, ok := fibres.PropertyByID(w[0])
	if !ok || len(w) != 3 {
		panic("no such condition: " + condition)
	}
	e := adv.Cat.Estimate(fibres.Subject{Cloth: c}, p)
	limit, err := strconv.ParseFloat(w[2], 64)
	if err != nil {
		l, on := p.Scale().Level(w[2])
		if !on {
			panic("not on the scale: " + condition)
		}
		limit = float64(l)
	}
	return e.Known() && (w[1] == "<=" && e.Typical <= limit || w[1] == ">=" && e.Typical >= limit)
}

// searchable is the catalogue with an index of it in memory.
type searchable struct {
	adv  *advise.Adviser
	docs []search.Doc
	ix   *search.Index
	ask  func(search.Query) (kb.Answer, error)
}

var searchedOnce = sync.OnceValues(func() (*searchable, error) {
	adv, err := advise.Load(data.FS)
	if err != nil {
		return nil, err
	}
	th, err := kb.LoadThesaurus(data.FS)
	if err != nil {
		return nil, err
	}
	docs := knowledge.Docs(adv)
	ix, err := index.Open(index.Place{}, search.Options{Docs: func() []search.Doc { return docs }, Thesaurus: th.Means})
	return &searchable{adv, docs, ix, func(q search.Query) (kb.Answer, error) { return kb.Ask(ix, th, q) }}, err
})

// searched is what the tests of finding share: an index takes seconds to build.
func searched(t *testing.T) *searchable {
	t.Helper()
	x, err := searchedOnce()
	require.NoError(t, err)
	return x
}

// Questions as a maker puts them must mostly find what was meant on top: nine
// in ten of them. The set "held" was written with the first and never looked at
// when the search was made better, so that it tells how others will fare.
func TestQueries(t *testing.T) {
	x := searched(t)
	missed, all := map[string]int{}, map[string]int{}
	for _, q := range readQueries(t) {
		all[q.set]++
		ans, err := x.ask(search.Query{Words: q.query, Limit: 5})
		require.NoError(t, err)
		why := "nothing"
		if len(ans.Hits) > 0 {
			why = q.miss(x.adv, ans.Hits[0])
		}
		if why != "" {
			missed[q.set]++
			if !strings.HasSuffix(q.set, "held") || os.Getenv("SHOW_HELD") == q.set {
				t.Logf("%-40s %s", q.query, why)
			}
		}
	}
	// The sets "maker" and "own" were each written on one day before the search was touched
	// for them, their "held" parts to be counted only. Missed before: maker 24 of 40,
	// maker-held 14 of 20, own 8 of 20, own-held 9 of 20. Of "plain", written on a third day
	// and looked at while the search was mended, 10 of 30 were missed before.
	most := map[string]int{"first": 1, "held": 2, "maker": 5, "maker-held": 6, "own": 6, "own-held": 6, "plain": 5}
	for set, n := range all {
		t.Logf("%s: %d of %d missed", set, missed[set], n)
		assert.LessOrEqual(t, missed[set], most[set], "%s: more than before find something else", set)
	}
	require.GreaterOrEqual(t, all["first"], 80)
	require.GreaterOrEqual(t, all["held"], 45)
}

// Every entry of the index can be found by its own name.
func TestEveryEntryIsFoundByItsName(t *testing.T) {
	if testing.Short() {
		t.Skip("looks for every name there is")
	}
	x := searched(t)
	require.Equal(t, len(x.docs), x.ix.Count())
	kinds := map[string]int{}
	for _, d := range x.docs {
		kinds[d.Kind]++
		ans, err := x.ask(search.Query{Words: d.Name, Kinds: []string{d.Kind}, Limit: 20, NoFacets: true})
		require.NoError(t, err)
		require.True(t, slices.ContainsFunc(ans.Hits, func(h search.Hit) bool { return h.ID == d.ID }), "%s %s is not found by %q", d.Kind, d.ID, d.Name)
	}
	for _, k := range searchKinds {
		if k != "note" && k != "swatch" {
			require.NotZero(t, kinds[k], "nothing of the kind %s can be found", k)
		}
	}
}
