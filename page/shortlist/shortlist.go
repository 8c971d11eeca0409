// Package shortlist is the cloths that the user may buy, kept from shop to shop and
// from page to page: each with its price, a note, what it is for and what came of it.
// Those for one piece are judged side by side, with what was said of each.
package shortlist

import (
	"cmp"
	"embed"
	"html/template"
	"net/url"
	"slices"
	"strings"
	"time"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/question"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed shortlist.tmpl
var files embed.FS

// Pages are the list, and the address that the shop once had for a list of its own.
var Pages = []sheet.Page{
	{Pattern: place, Files: files, Template: "shortlist.tmpl", Make: build, Submit: submit},
	{Pattern: "/shop/list", Files: files, Template: "shortlist.tmpl", Make: func(_ *sheet.Site, a address.Ask) (sheet.View, error) {
		return nil, &sheet.Moved{To: a.To(place)}
	}},
}

const (
	place = "/shortlist"
	// maxKept is how many cloths are kept, maxAdded how many come at once, and
	// maxPrice and maxNote how much is written of one.
	maxKept, maxAdded, maxPrice, maxNote = 100, 24, 60, 300
)

// View is the list, in groups that are for the same piece.
type View struct {
	sheet.Sheet
	CanRecord   bool
	Pieces      bool // some of it is for a piece
	FieldErrors question.FieldErrors
	Groups      []Group
}

// Group is the cloths that are for one piece, best first.
type Group struct {
	For     string // the piece; "" where none was named
	Compare string // them side by side, property by property; "" for one alone
	Items   []Item

	shared url.Values // what is asked alike of all of them
	names  []string
}

// Item is one cloth of the list as it is judged today for what it is for.
type Item struct {
	kb.Bolt
	Seen     string
	Gone     bool // nothing is called so any more
	How      string
	To       string // the work of it, or its page
	Picture  template.HTML
	Judged   bool
	Verdict  string
	Share    float64
	Unjudged bool

	cloth, piece string
	question     url.Values
	made         advise.MakeUp
	fall         *advise.Fall
	hung         *picture.Hung
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, place, "Shortlist"), CanRecord: k.Change != nil}
	if k.Base.Records == nil {
		return v, nil
	}
	bolts, err := kb.Shortlist(k.Base.Records)
	if err != nil {
		return nil, err
	}
	for _, b := range bolts {
		v.put(v.item(b))
	}
	for i := range v.Groups {
		v.sideBySide(&v.Groups[i])
	}
	return v, nil
}

// put adds an item to the group of its piece.
func (v *View) put(x Item) {
	i := slices.IndexFunc(v.Groups, func(g Group) bool { return g.For == x.piece })
	if i < 0 {
		i = len(v.Groups)
		v.Groups = append(v.Groups, Group{For: x.piece})
	}
	g := &v.Groups[i]
	g.Items = append(g.Items, x)
	v.Pieces = v.Pieces || x.piece != ""
	if x.Gone {
		return
	}
	g.names = append(g.names, strings.ReplaceAll(x.cloth, ",", " "))
	if g.shared == nil {
		g.shared = ofMakeUp(x.question)
		return
	}
	for key := range g.shared {
		if g.shared.Get(key) != x.question.Get(key) {
			g.shared.Del(key)
		}
	}
}

// sideBySide puts the best of a group first and draws its edge in grey behind the others'.
func (v *View) sideBySide(g *Group) {
	slices.SortStableFunc(g.Items, func(x, y Item) int {
		return cmp.Or(rank(x)-rank(y), cmp.Compare(words.Tenths(y.Share), words.Tenths(x.Share)))
	})
	var best *picture.Hung
	for i := range g.Items {
		x := &g.Items[i]
		if x.hung == nil {
			continue
		}
		x.Picture = v.CardPicture(v.Ask, x.made, x.fall, best, "")
		if best == nil {
			best = x.hung
		}
	}
	if len(g.names) < 2 {
		return
	}
	pairs := []string{address.KeyPick, strings.Join(g.names, ","), address.KeyOf, address.KeyShell}
	for key := range g.shared {
		pairs = append(pairs, key, g.shared.Get(key))
	}
	g.Compare = v.To("/compare", pairs...)
}

// rank is how early an item stands in its group.
func rank(x Item) int {
	switch {
	case !x.Judged || x.Unjudged:
		return 3
	case x.Verdict == advise.Suits:
		return 0
	case x.Verdict == advise.Borderline:
		return 1
	}
	return 2
}

// item judges one cloth for what it is for, with what was said of it.
func (v *View) item(b kb.Bolt) Item {
	out := Item{Bolt: b, Seen: b.At.Local().Format("2 January")}
	out.question, _ = url.ParseQuery(b.Query)
	ask := address.NewAsk("", "", out.question)
	m, _ := question.MakeUp(v.Site, ask)
	out.cloth, out.piece = ask.Get(address.KeyShell), b.Piece
	if m.Shell == nil {
		out.Gone = true
		return out
	}
	pairs := ask.Kept()
	out.To = ask.To("/check", pairs...)
	if m.Piece == nil {
		if l := v.LinkOf(m.Shell); l.ID != "" {
			out.To = v.Href(l)
		}
		return out
	}
	out.piece = m.Piece.Name
	out.How = howMade(m)
	if m.Finish != nil {
		out.To = ask.To("/make", append(pairs, address.KeyStep, address.StageWork)...)
	}
	ans, err := v.Adv.CheckAlone(m)
	if err != nil {
		return out
	}
	out.Judged, out.Verdict, out.Share, out.Unjudged = true, ans.Verdict, ans.Share, ans.Unjudged
	out.made, out.fall, out.hung = m, ans.Fall, v.Hang(m, ans.Fall)
	return out
}

// howMade is the finish and the lining.
func howMade(m advise.MakeUp) string {
	if m.Finish == nil {
		return ""
	}
	if m.Lining != nil && m.Finish.Lined {
		return m.Finish.Name + ", lined with " + m.Lining.Label()
	}
	return m.Finish.Name
}

// ofMakeUp is a question without what is said of the one cloth, and of its cutting.
func ofMakeUp(q url.Values) url.Values {
	out := url.Values{}
	for _, key := range []string{address.KeyPiece, address.KeyFinish, address.KeyLining, address.KeyInterfacing, address.KeySeam, address.KeyEdge, address.KeyWearer} {
		if x := q.Get(key); x != "" {
			out.Set(key, x)
		}
	}
	return out
}

// submit adds cloths, writes a price and a note down, or takes a cloth off the list.
func submit(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	var change func(*kb.Base) error
	switch f.Get("do") {
	case "add":
		bolts, err := asked(k, a, f)
		if err != nil {
			return nil, err
		}
		change = func(b *kb.Base) error { return add(b.Records, bolts) }
	case "write":
		change = func(b *kb.Base) error { return write(k, a, b.Records, f) }
	case "remove":
		change = func(b *kb.Base) error { return kb.RemoveBolt(b.Records, f.Get("bolt")) }
	default:
		return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is asked"}
	}
	if err := k.Change(change); err != nil {
		return nil, err
	}
	return nil, &sheet.Moved{To: a.To(place)}
}

// asked are the bolts that a form wants kept: the cloth of the question, or several
// cloths in its place.
func asked(k *sheet.Site, a address.Ask, f sheet.Form) ([]kb.Bolt, error) {
	q, err := url.ParseQuery(cutTo(f.Get("for"), 1500))
	if err != nil {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: "the question cannot be read"}
	}
	var names []string
	for _, c := range strings.Split(f.Get("cloths"), ",") {
		if c = strings.TrimSpace(c); c != "" && len(names) < maxAdded {
			names = append(names, c)
		}
	}
	if len(names) == 0 {
		names = []string{q.Get(address.KeyShell)}
	} else {
		q = ofMakeUp(q)
	}
	var out []kb.Bolt
	for _, name := range names {
		q.Set(address.KeyShell, name)
		b, err := boltOf(k, a, q)
		if err != nil {
			return nil, err
		}
		if len(names) == 1 { // a layout for each of many would be waited for
			reckon(k, &b)
		}
		out = append(out, b)
	}
	return out, nil
}

// boltOf is the cloth that a question asks about, with the verdict of today.
func boltOf(k *sheet.Site, a address.Ask, q url.Values) (kb.Bolt, error) {
	s := sheet.NewSheet(k, address.NewAsk("", "", q), place, "")
	m, _ := question.MakeUp(k, s.Ask)
	if m.Shell == nil {
		return kb.Bolt{}, &fault.Fault{Kind: fault.WrongCall, What: "the shortlist wants a cloth", Expected: "one that is known, or a swatch of yours"}
	}
	b := kb.Bolt{At: time.Now().UTC().Truncate(time.Second), Query: s.Question(), Name: m.Shell.Label()}
	if typed := q.Get(address.KeyPrice); typed != "" {
		b.Price = priceOf(a, typed)
	} else if m.Shell.Price != nil {
		b.Price = m.Shell.Price.Say(a.Units)
	}
	if m.Piece == nil {
		return b, nil
	}
	b.Piece = m.Piece.Name
	ans, err := k.Adv.CheckAlone(m)
	if err != nil {
		return b, err
	}
	b.Verdict = strings.TrimSuffix(s.Teller().Check(m, ans).Head, ".")
	return b, nil
}

// priceOf is a price as all pages say it, or the words themselves where they are no
// price of a length.
func priceOf(a address.Ask, typed string) string {
	if p, err := address.ParsePrice(typed, a.Units); err == nil {
		return p.Say(a.Units)
	}
	return typed
}

// reckon works out how much to buy and what it costs. What cannot be laid out is told
// on the page of the cutting.
func reckon(k *sheet.Site, b *kb.Bolt) {
	b.Buy, b.Cost = "", ""
	q, _ := url.ParseQuery(b.Query)
	s := sheet.NewSheet(k, address.NewAsk("", "", q), place, "")
	m, _ := question.MakeUp(k, s.Ask)
	if m.Piece == nil || m.Shell == nil {
		return
	}
	plan, _, err := question.Plan(k, s.Ask, m)
	if err != nil {
		return
	}
	b.Buy = s.Teller().Buy(&plan)
	for _, l := range plan.Layers {
		if l.Layer == "shell" {
			b.Cost = l.Buy.CostIn(s.Units)
		}
	}
}

// add puts bolts on the list. One that is there already keeps its place, its note, and
// its price where none is said now.
func add(r kb.Records, bolts []kb.Bolt) error {
	list, err := kb.Shortlist(r)
	if err != nil {
		return err
	}
	n := len(list)
	for _, b := range bolts {
		if i := slices.IndexFunc(list, func(x kb.Bolt) bool { return same(x.Query, b.Query) }); i >= 0 {
			b.ID, b.Note = list[i].ID, list[i].Note
			b.Price = cmp.Or(b.Price, list[i].Price)
		} else if n++; n > maxKept {
			return &fault.Fault{Kind: fault.WrongCall, What: "the shortlist is full", Expected: "at most 100 cloths; take some off it first"}
		}
		if err := kb.PutBolt(r, b); err != nil {
			return err
		}
	}
	return nil
}

// same reports whether two questions are of one cloth for one make-up, whatever it costs.
func same(a, b string) bool {
	without := func(s string) string {
		q, _ := url.ParseQuery(s)
		q.Del(address.KeyPrice)
		q.Del(address.KeyLiningPrice)
		return q.Encode()
	}
	return without(a) == without(b)
}

// write puts down the price and the note of a bolt, and what it costs at that price.
func write(k *sheet.Site, a address.Ask, r kb.Records, f sheet.Form) error {
	list, err := kb.Shortlist(r)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(list, func(b kb.Bolt) bool { return b.ID == f.Get("bolt") })
	if i < 0 {
		return &fault.Fault{Kind: fault.NotFound, What: "that cloth is not on the list any more"}
	}
	b := list[i]
	b.Note = cutTo(f.Get("note"), maxNote)
	if price := cutTo(f.Get("price"), maxPrice); price != b.Price {
		b.Price = priceOf(a, price)
		q, _ := url.ParseQuery(b.Query)
		q.Del(address.KeyPrice)
		if _, err := address.ParsePrice(price, a.Units); err == nil {
			q.Set(address.KeyPrice, price)
		}
		b.Query = q.Encode()
		reckon(k, &b)
	}
	return kb.PutBolt(r, b)
}

func cutTo(s string, limit int) string {
	if r := []rune(s); len(r) > limit {
		return string(r[:limit])
	}
	return s
}
