// Package shop is the way of a maker who stands before a bolt with a phone in one
// hand: what is made, what this bolt is, will it do, which lining of one's own, how
// much; what may be bought is kept on the shortlist.
package shop

import (
	"cmp"
	"embed"
	"html/template"
	"math"
	"slices"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/question"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed *.tmpl
var files embed.FS

const place = "/shop"

// Page lies at /shop: the questions before a bolt.
var Page = sheet.Page{Pattern: place, Files: files, Template: "shop.tmpl", Make: build}

// The keys that only the shop asks; they turn into those that all pages know.
const (
	keyFeels = "feels" // how heavy it feels
	keyFalls = "falls" // how a hand's breadth of it hangs over a straight edge
	keyFibre = "fibre" // where the ticket names no cloth
	keyWeave = "weave"
)

// View is one screen of the way.
type View struct {
	sheet.Sheet
	FieldErrors      question.FieldErrors
	Made             advise.MakeUp
	Stage            string // piece, bolt or answer
	Pieces, Finishes []sheet.OptionGroup
	Bolt             Bolt
	Near             []Named // cloths of the fibre and weave that were said
	Answer           *Answer
}

// Bolt is the form for one bolt.
type Bolt struct {
	Shell, Mass, Width, Price string
	Cloths                    []sheet.Link
	Fibres, Weaves            []sheet.Option
	Feels                     []sheet.Option
	Falls                     []Fall
}

// Fall is a way in which a hand's breadth of cloth may hang.
type Fall struct {
	Word    string
	Picture template.HTML
}

// Named is a cloth with where it leads to.
type Named struct{ Name, Say, Path string }

// Answer is what is told of the bolt.
type Answer struct {
	Result      *sheet.Result
	Own, Others []Named // linings
	HasOwn      bool
	Another     string // the same piece, another bolt
	Whole, Cut  string
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	if to := settled(a); to != "" {
		return nil, &sheet.Moved{To: to}
	}
	v := &View{Sheet: sheet.NewSheet(k, a, place, "In the shop")}
	v.Made, v.FieldErrors = question.MakeUp(k, a)
	switch {
	case v.Made.Piece == nil || v.Made.Finish == nil:
		v.Stage = "piece"
		v.pieces()
		return v, nil
	case v.Made.Shell == nil:
		v.Stage, v.Title = "bolt", "This bolt"
		v.bolt()
		return v, nil
	}
	v.Stage, v.Title = "answer", prose.Upper(v.Made.Shell.Label())+" for a "+v.Made.Piece.Name
	return v, v.answer()
}

// feels are masses by the feel of cloth in the hand, in g/m²: common practice, and
// wide for that reason.
var feels = []struct{ word, mass string }{
	{"like a handkerchief", "30-90gsm"}, {"like a shirt", "90-150gsm"}, {"like a skirt or light trousers", "150-230gsm"},
	{"like jeans", "230-400gsm"}, {"heavier than jeans", "400-800gsm"},
}

// settled is the same question in the words of all pages, where it was asked in
// those of the shop; else empty.
func settled(a address.Ask) string {
	if a.Get(keyFeels) == "" && a.Get(keyFalls) == "" {
		return ""
	}
	pairs := []string{keyFeels, "", keyFalls, ""}
	for _, f := range feels {
		if f.word == a.Get(keyFeels) && a.Get(address.KeyMass) == "" {
			pairs = append(pairs, address.KeyMass, f.mass)
		}
	}
	for i, word := range fibres.HandScale {
		if word == a.Get(keyFalls) && a.Get(address.KeyBending) == "" {
			pairs = append(pairs, address.KeyBending, bendingOf(i))
		}
	}
	return a.With(pairs...)
}

// bendingOf is the band of bending lengths of a hand.
func bendingOf(level int) string {
	low, high := fibres.HandEdges[level], fibres.HandEdges[level+1]
	limits := fibres.Properties[fibres.BendingLength]
	return fibres.Round(max(low, limits.Low)) + "-" + fibres.Round(min(high, limits.High)) + "cm"
}

func (v *View) pieces() {
	piece, finish := v.Get(address.KeyPiece), v.Get(address.KeyFinish)
	if v.Made.Piece != nil {
		piece = v.Made.Piece.ID
	}
	if v.Made.Finish != nil {
		finish = v.Made.Finish.ID
	}
	v.Pieces, v.Finishes = v.PieceOptions(piece), v.FinishOptions(finish)
}

func (v *View) bolt() {
	b := &v.Bolt
	b.Shell, b.Mass, b.Width, b.Price = v.Get(address.KeyShell), v.Get(address.KeyMass), v.Get(address.KeyWidth), v.Get(address.KeyPrice)
	b.Cloths = v.Things("cloth")
	b.Fibres, b.Weaves = v.Options("fibre", v.Get(keyFibre)), v.Options("structure", v.Get(keyWeave))
	for _, f := range feels {
		b.Feels = append(b.Feels, sheet.Option{Value: f.word, Word: f.word})
	}
	for i, word := range fibres.HandScale {
		low, high := fibres.HandEdges[i], fibres.HandEdges[i+1]
		e := fibres.Estimate{Low: low, Typical: math.Sqrt(low * high), High: high, Basis: fibres.Derived}
		b.Falls = append(b.Falls, Fall{word, picture.Strip(v.Units, e, "")})
	}
	v.Near = v.near()
}

const maxNear = 8

// near lists the cloths of the fibre and weave that were said, those first that
// most shops have.
func (v *View) near() []Named {
	fibre, weave := v.Get(keyFibre), v.Get(keyWeave)
	if fibre == "" && weave == "" {
		return nil
	}
	var fit []*fibres.Cloth
	for _, c := range v.Adv.Shells() {
		if (fibre == "" || c.Has(fibre, 50)) && (weave == "" || c.Structure.ID == weave) {
			fit = append(fit, c)
		}
	}
	slices.SortStableFunc(fit, func(x, y *fibres.Cloth) int { return cmp.Compare(v.commonness(y), v.commonness(x)) })
	var out []Named
	for _, c := range fit[:min(len(fit), maxNear)] {
		out = append(out, Named{c.Name, c.Describe, v.With(address.KeyShell, c.ID, keyFibre, "", keyWeave, "")})
	}
	return out
}

// commonness is how often shops have a cloth.
func (v *View) commonness(c *fibres.Cloth) int {
	if s := v.Adv.StockOf(c.ID); s != nil {
		return s.Common
	}
	return 0
}

// answer judges the bolt.
func (v *View) answer() error {
	m := v.Made
	ans, err := v.Adv.Check(m)
	if err != nil {
		return err
	}
	b := v.Teller().Check(m, ans)
	if buy := v.howMuch(); buy != "" { // before what to mind: it stands on the first screen
		at := slices.IndexFunc(b.Parts, func(p brief.Part) bool { return p.Label == brief.Mind })
		if at < 0 {
			at = len(b.Parts)
		}
		b.Parts = slices.Insert(slices.Clone(b.Parts), at, brief.Part{Label: brief.BuyIt, Lines: []string{buy}})
	}
	a := &Answer{Result: v.NewResult(m, &ans, b), HasOwn: v.HasOwn()}
	a.Result.Title = prose.Upper(m.Shell.Label())
	if m.Lining != nil {
		a.Result.Title += ", lined with " + m.Lining.Label()
	}
	if m.Finish.Lined && m.Lining == nil {
		v.linings(a)
	}
	all := v.all()
	a.Cut, a.Whole = v.To("/cut", all...), v.To("/check", all...)
	a.Another = v.To(place, address.KeyPiece, m.Piece.ID, address.KeyFinish, m.Finish.ID)
	a.Result.Next = []sheet.Go{{Word: "Another bolt", To: a.Another}, {Word: "Shopping card", To: v.To("/card", append(all, "kind", "shopping")...)}}
	v.Answer = a
	return nil
}

// howMuch is what to buy of each cloth and what it costs. What cannot be laid out is
// told beside its field.
func (v *View) howMuch() string {
	plan, wrong, err := question.Plan(v.Site, v.Ask, v.Made)
	v.FieldErrors = append(v.FieldErrors, wrong...)
	if err != nil {
		v.FieldErrors.Add(address.KeyWidth, v.Get(address.KeyWidth), err)
		return ""
	}
	buy := prose.Upper(v.Teller().Buy(&plan))
	for _, l := range plan.Layers {
		if cost := l.Buy.CostIn(v.Units); l.Layer == "shell" && cost != "" {
			buy += ": " + cost
		}
	}
	return buy + "."
}

const maxLinings = 3

// linings ranks the user's own swatches, and what the reference has.
func (v *View) linings(a *Answer) {
	m := v.Made
	name := func(r advise.Ranked) Named {
		return Named{r.Name, r.Verdict + ", " + words.InTen(r.Share), v.With(address.KeyLining, r.ID)}
	}
	var own []*fibres.Subject
	for _, s := range v.OwnSubjects() {
		if s.Name != m.Shell.Name || !m.Shell.Swatch {
			own = append(own, s)
		}
	}
	for _, r := range v.Adv.RankLinings(m, own) {
		if len(a.Own) < maxLinings && r.Verdict != advise.Unsuited && !r.Unjudged {
			a.Own = append(a.Own, name(r))
		}
	}
	var all []*fibres.Subject
	for _, c := range v.Adv.LiningsFor(m) {
		all = append(all, &fibres.Subject{Cloth: c})
	}
	for _, r := range v.Adv.RankLinings(m, all) {
		if len(a.Others) < maxLinings && r.Verdict == advise.Suits {
			a.Others = append(a.Others, name(r))
		}
	}
}

// all is the whole question as it stands, for other pages.
func (v *View) all() []string {
	var out []string
	for _, p := range v.Carry() {
		out = append(out, p.Key, p.Value)
	}
	return out
}
