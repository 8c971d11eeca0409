package making

import (
	"fmt"
	"html/template"
	"sort"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/price"
	"tenter/page/sheet"
)

// PieceGroup is the pieces of one sort.
type PieceGroup struct {
	Title string
	Some  []PieceCard
}

// PieceCard is a piece, drawn.
type PieceCard struct {
	sheet.Link
	Picture template.HTML
	Choose  string
}

// FinishCard is a finish, drawn.
type FinishCard struct {
	sheet.Link
	Lined   bool
	Picture template.HTML
	Choose  string
}

func (v *View) pieces() {
	at := map[string]int{}
	for _, p := range v.Adv.Pieces {
		i, ok := at[p.Group]
		if !ok {
			i = len(v.Groups)
			at[p.Group] = i
			v.Groups = append(v.Groups, PieceGroup{Title: p.Group})
		}
		l, _ := v.Link("piece", p.ID)
		v.Groups[i].Some = append(v.Groups[i].Some, PieceCard{l, v.PieceSVG(p, ""), v.With(sheet.KeyPiece, p.ID)})
	}
}

func (v *View) finishes() {
	for _, f := range v.Adv.Finishes {
		l, _ := v.Link("finish", f.ID)
		v.Finishes = append(v.Finishes, FinishCard{l, f.Lined, sheet.FinishSVG(f, ""), v.With(sheet.KeyFinish, f.ID)})
	}
	sort.SliceStable(v.Finishes, func(i, j int) bool { return !v.Finishes[i].Lined && v.Finishes[j].Lined })
}

// The keys that narrow the cloths.
const (
	keyFibre, keySort, keyWash, keyWidth, keyCount, keyOwn = "fibre", "sort", "wash", "least-width", "count", "own"
	keyMostPrice                                           = "most-price"

	perPage = 18
)

// Choice is the cloths that suit, narrowed.
type Choice struct {
	Fibres, Sorts, Washes     []sheet.Option
	Mass, Width, Price        string
	Own, HasOwn               bool // only the user's swatches; there are some
	Narrowed                  bool
	Cards                     []Card
	Suits, Borderline, Others int
	Unjudged                  int // of which nothing is known that is asked
	Unknown                   int // left out since what was asked is not known of them
	Unpriced                  int // and of these, as no price is recorded
	Total                     int
	More                      string

	priceIn price.Price // the currency that prices are shown in
}

// Card is a cloth as it would fall.
type Card struct {
	advise.Candidate
	Of      sheet.Link
	Picture template.HTML
	Choose  string
	Hand    string
	Off     string // how far its edge stands off
	Mass    string
	Price   string // where the user recorded one
}

// Facts tells what is known of it and where that puts its edge.
func (c Card) Facts() string {
	hang := c.Hand
	if c.Off != "" {
		hang = strings.TrimPrefix(hang+", stands "+c.Off+" out", ", ")
	}
	var known []string
	for _, s := range []string{hang, c.Mass, c.Price} {
		if s != "" {
			known = append(known, s)
		}
	}
	return strings.Join(known, "; ")
}

// washes are the words of the wash filter with the least level they want.
var washes = []struct {
	word  string
	level float64
}{{"by hand or machine", 1}, {"in the machine, cool", 2}, {"in the machine, warm", 3}, {"hot", 4}}

func (v *View) cloths() {
	c := &v.Choice
	c.Mass, c.Width, c.Price = v.Get(sheet.KeyMass), v.Get(keyWidth), v.Get(keyMostPrice)
	c.Own, c.HasOwn = v.Get(keyOwn) != "", v.HasOwn()
	for _, l := range v.Things("fibre") {
		c.Fibres = append(c.Fibres, sheet.Option{Value: l.ID, Word: l.Name, Chosen: l.ID == v.Get(keyFibre)})
	}
	sorts := map[string]bool{}
	for _, k := range v.Adv.Shells() {
		sorts[k.Group] = true
	}
	for s := range sorts {
		c.Sorts = append(c.Sorts, sheet.Option{Value: s, Word: s, Chosen: s == v.Get(keySort)})
	}
	sort.Slice(c.Sorts, func(i, j int) bool { return c.Sorts[i].Word < c.Sorts[j].Word })
	for _, w := range washes {
		c.Washes = append(c.Washes, sheet.Option{Value: w.word, Word: w.word, Chosen: w.word == v.Get(keyWash)})
	}
	for _, key := range []string{keyFibre, keySort, keyWash, keyWidth, keyOwn, keyMostPrice, sheet.KeyMass} {
		c.Narrowed = c.Narrowed || v.Get(key) != ""
	}
	type result struct {
		ranked            []advise.Ranked
		unknown, unpriced int
	}
	wish := v.wish()
	// The same ranking is asked for again while the list is read.
	r := sheet.Remember(v.Site, "shells "+v.With(keyCount, "", "units", "")+v.Units.String(), func() result {
		subjects, unknown, unpriced := v.narrowed(wish)
		return result{v.Adv.RankShells(v.Made, subjects), unknown, unpriced}
	})
	c.Unknown, c.Unpriced, c.Total = r.unknown, r.unpriced, len(r.ranked)
	for _, x := range r.ranked {
		switch {
		case x.Unjudged:
			c.Unjudged++
		case x.Verdict == advise.Suits:
			c.Suits++
		case x.Verdict == advise.Borderline:
			c.Borderline++
		default:
			c.Others++
		}
	}
	show := perPage
	for _, n := range []int{2 * perPage, 4 * perPage, len(r.ranked)} {
		if v.Get(keyCount) == fmt.Sprint(n) || (n == len(r.ranked) && v.Get(keyCount) == "all") {
			show = n
		}
	}
	for i, x := range r.ranked {
		if i == show {
			next := fmt.Sprint(2 * show)
			if show >= 4*perPage {
				next = "all"
			}
			c.More = v.With(keyCount, next)
			break
		}
		c.Cards = append(c.Cards, v.card(x))
	}
}

// card draws one candidate.
func (v *View) card(x advise.Ranked) Card {
	m := v.Made
	m.Shell = x.Subject
	card := Card{Candidate: x.Candidate, Choose: v.With(sheet.KeyShell, x.ID, keyCount, "")}
	card.Of = v.LinkOf(x.Subject)
	if ans, err := v.Adv.Check(m); err == nil && ans.Fall != nil {
		card.Picture = v.FallSVG(v.Ask, m, ans.Fall, "")
		card.Hand = sheet.Words(ans.Fall.Hand)
		if ans.Fall.StandOff.Known() {
			card.Off = v.Quantity(ans.Fall.StandOff.Typical, "cm")
		}
	}
	if e := v.Adv.Cat.Estimate(*x.Subject, fibres.Mass); e.Known() {
		card.Mass = v.Quantities(e.Low, e.High, e.Unit)
	}
	if p := v.PriceOf(x.Subject, v.Choice.priceIn); p != nil {
		card.Price = p.Say(v.Units)
		if !x.Subject.Swatch {
			card.Price = "from " + card.Price + " among your swatches"
		}
	}
	return card
}

// wish is what the address asks of the cloths; nought asks nothing.
type wish struct {
	fibre, sort       string
	wash              float64 // least level
	massLow, massHigh float64
	width             float64
	own               bool // of the user's swatches alone
	price             *price.Price
}

func (v *View) wish() wish {
	w := wish{fibre: strings.ToLower(v.Get(keyFibre)), sort: v.Get(keySort), own: v.Get(keyOwn) != ""}
	for _, x := range washes {
		if x.word == v.Get(keyWash) {
			w.wash = x.level
		}
	}
	if s := v.Get(sheet.KeyMass); s != "" {
		if r, err := sheet.ParseMass(s, v.Units); err != nil {
			v.trouble(sheet.KeyMass, s, err)
		} else {
			w.massLow, w.massHigh = float64(r.Low), float64(r.High)
		}
	}
	if s := v.Get(keyWidth); s != "" {
		if l, err := sheet.ParseWidth(s, v.Units); err != nil {
			v.trouble(keyWidth, s, err)
		} else {
			w.width = float64(l)
		}
	}
	if s := v.Get(keyMostPrice); s != "" {
		if p, err := sheet.ParsePrice(s, v.Units); err != nil {
			v.trouble(keyMostPrice, s, err)
		} else {
			w.price, v.Choice.priceIn = &p, p
		}
	}
	return w
}

// narrowed lists the shells that pass the wishes, each narrowed by the mass
// that is said, and counts those of which it is not known whether they do: of the
// unknown so many as no price is recorded of.
func (v *View) narrowed(w wish) (out []*fibres.Subject, unknown, unpriced int) {
	for _, s := range v.candidates(w.own) {
		c := s.Cloth
		if (w.fibre != "" && !holds(s, w.fibre)) || (w.sort != "" && (c == nil || c.Group != w.sort)) {
			continue
		}
		known := true
		pass := func(p fibres.Property, ok func(fibres.Estimate) bool) bool {
			e := v.Adv.Cat.Estimate(*s, p)
			if !e.Known() {
				known = false
				return true
			}
			return ok(e)
		}
		if w.wash > 0 && !pass(fibres.Wash, func(e fibres.Estimate) bool { return e.Typical >= w.wash }) {
			continue
		}
		if w.width > 0 && !pass(fibres.Width, func(e fibres.Estimate) bool { return e.Typical >= w.width }) {
			continue
		}
		if w.massHigh > 0 {
			if !pass(fibres.Mass, func(e fibres.Estimate) bool { return e.Low <= w.massHigh && e.High >= w.massLow }) {
				continue
			}
			if !s.Swatch {
				s = v.Narrow(v.Site, s)
			}
		}
		if w.price != nil {
			p := v.PriceOf(s, *w.price)
			if p == nil {
				unknown++
				unpriced++
				continue
			}
			most, _ := w.price.PerMetre()
			if cost, _ := p.PerMetre(); cost > most*(1+1e-9) {
				continue
			}
		}
		if !known {
			unknown++
			continue
		}
		out = append(out, s)
	}
	return out, unknown, unpriced
}

// candidates are all cloths that may be a shell, or the user's own swatches.
func (v *View) candidates(own bool) []*fibres.Subject {
	if own {
		return v.OwnSubjects()
	}
	var out []*fibres.Subject
	for _, c := range v.Adv.Shells() {
		out = append(out, &fibres.Subject{Cloth: c})
	}
	return out
}

// holds reports whether a fifth or more of a cloth is of a fibre, by its own
// label where it has one.
func holds(s *fibres.Subject, fibre string) bool {
	if len(s.Content) > 0 {
		for _, p := range s.Content {
			if p.Fibre.ID == fibre && p.Share.Typical >= 20 {
				return true
			}
		}
		return false
	}
	return s.Cloth != nil && s.Cloth.Has(fibre, 20)
}

func (v *View) trouble(key, value string, err error) {
	if v.FieldErrors.At(key) == nil {
		v.FieldErrors.Add(key, value, err)
	}
}

// LiningCard is a lining with what speaks for and against it.
type LiningCard struct {
	advise.Paired
	Of      sheet.Link
	Picture template.HTML
	Choose  string
	Gap     string   // how far the first cleaning parts the two
	Changes []string // against the lining in hand
}

const mostLinings = 12

func (v *View) linings() error {
	if v.Made.Finish.Lined {
		v.Skip = v.With(keyStep, doWork)
	}
	list, err := v.pairs()
	if err != nil {
		return err
	}
	for _, p := range list[:min(len(list), mostLinings)] {
		c, _ := v.lining(p, nil)
		v.Linings = append(v.Linings, c)
	}
	return nil
}

// pairs ranks every lining for the shell in hand.
func (v *View) pairs() ([]advise.Paired, error) {
	m := v.Made
	m.Lining = nil
	type result struct {
		pairs []advise.Paired
		err   error
	}
	key := "linings " + v.With(sheet.KeyLining, "", sheet.KeyLiningMass, "", sheet.KeyLiningBending, "", sheet.KeyLiningColour, "", keyStep, "", "units", "") + v.Units.String()
	r := sheet.Remember(v.Site, key, func() result {
		ans, err := v.Adv.Pair(m, false, mostLinings+1)
		return result{ans.Pairs, err}
	})
	return r.pairs, r.err
}

// lining draws one lining; with a make-up in hand it tells what would change.
func (v *View) lining(p advise.Paired, now *pairing) (LiningCard, error) {
	c := LiningCard{Paired: p, Choose: v.With(sheet.KeyLining, p.Lining, keyStep, "", sheet.KeyLiningMass, "", sheet.KeyLiningBending, "", sheet.KeyLiningColour, "")}
	c.Of, _ = v.Link("cloth", p.Lining)
	if p.Gap.Known() {
		c.Gap = gapIn[p.GapIn] + " parts them by about " + v.Quantity(p.Gap.Typical, "mm") + " over the longest edge"
	}
	s, err := v.Subject(p.Lining)
	if err != nil {
		return c, err
	}
	m := v.Made
	m.Lining = s
	ans, err := v.Adv.Check(m)
	if err != nil {
		return c, err
	}
	c.Picture = v.FallSVG(v.Ask, m, ans.Fall, "")
	if now != nil {
		c.Changes = v.changes(*now, pairing{ans, p.Gap, p.GapIn})
	}
	return c, nil
}
