// Package find is the search over everything: names, other names, texts, and
// nearly right spellings.
package find

import (
	"embed"
	"net/url"
	"strings"

	"tenter/advise/reply"
	"tenter/advise/rules"
	"tenter/fibres/prose"
	"tenter/kb/search"
	"tenter/page/address"
	"tenter/page/sheet"
)

//go:embed find.tmpl
var files embed.FS

// Page lies at /search.
var Page = sheet.Page{Pattern: "/search", Files: files, Template: "find.tmpl", Make: build}

// View is what was found.
type View struct {
	sheet.Sheet
	Words   string
	Kind    string
	Hits    []Hit
	Why     string // what most of the hits are found by, told once
	Kinds   []Facet
	Asked   bool
	Without string // why there is no search
	Advice  *rules.Rule
	Next    Next
}

// Next is where a piece or a cloth that the words name is worked out.
type Next struct{ Path, Say string }

// Hit is one thing found.
type Hit struct {
	sheet.Link
	Why string
}

// Facet is a kind with how many of it were found.
type Facet struct {
	sheet.Kind
	N    int
	Over bool // there are more
}

// maxHits is how many are shown.
const maxHits = 30

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/search", "Search"), Words: a.Get("q"), Kind: a.Get("kind")}
	if v.Words == "" {
		return v, nil
	}
	v.Title = v.Words
	v.Asked = true
	if k.Search == nil {
		v.Without = "There is no search here."
		return v, nil
	}
	q := search.Query{Words: v.Words, Limit: maxHits, Prefix: a.Part != ""}
	if kd, ok := sheet.KindOf(v.Kind); ok {
		q.Kinds = []string{kd.One}
	} else {
		v.Kind = ""
	}
	ans, err := k.Search(q)
	if err != nil {
		return nil, err
	}
	var found []reply.Found
	for _, h := range ans.Hits {
		found = append(found, reply.Found{Kind: h.Kind, ID: h.ID, Why: h.Why})
		l, ok := k.Link(h.Kind, h.ID)
		switch {
		case ok:
		case h.Kind == "swatch":
			l = sheet.Link{Kind: "swatch", ID: h.ID, Name: h.Name}
		case h.Kind == "note": // its name says what it is about
			of, id, _ := strings.Cut(h.Name, " ")
			if l, ok = k.Link(of, id); !ok {
				continue
			}
			l.Say = "Your note."
		default:
			continue
		}
		v.Hits = append(v.Hits, Hit{l, h.Why})
	}
	v.tellOnce()
	if v.Kind == "" {
		r := reply.To(k.Adv, v.Words, found, ans.Asks)
		v.Advice, v.Next = r.Rule, v.next(r)
	}
	for _, kd := range sheet.Kinds {
		if n := ans.Facets["kind"][kd.One]; n > 0 {
			v.Kinds = append(v.Kinds, Facet{kd, n, ans.Facets[search.Over][kd.One] > 0})
		}
	}
	return v, nil
}

// RulePath is the address of the rule whose advice answers.
func (v *View) RulePath() string { return v.Href(sheet.Link{Kind: "rule", ID: v.Advice.ID}) }

// next is the page of the piece and the cloth that the words name.
func (v *View) next(r reply.Reply) Next {
	switch {
	case r.Piece != nil && r.Cloth != nil:
		return Next{v.To("/make?" + url.Values{"piece": {r.Piece.ID}, "shell": {r.ClothID()}}.Encode()), prose.Upper(r.Piece.Name) + " of " + r.Cloth.Label()}
	case r.Piece != nil:
		return Next{v.To("/make?" + url.Values{"piece": {r.Piece.ID}}.Encode()), "Cloth and lining for " + prose.A(r.Piece.Name)}
	case r.Cloth != nil && r.Cloth.Cloth != nil:
		return Next{v.Href(sheet.Link{Kind: "cloth", ID: r.Cloth.Cloth.ID}), "What is known of " + r.Cloth.Label()}
	}
	return Next{}
}

// tellOnce takes what most hits are found by from each of them, to be told above the list.
func (v *View) tellOnce() {
	count := map[string]int{}
	for _, h := range v.Hits {
		count[h.Why]++
	}
	for i := range v.Hits {
		if why := v.Hits[i].Why; why != "" && count[why] > 2 && 2*count[why] > len(v.Hits) {
			v.Why, v.Hits[i].Why = why, ""
		}
	}
}
