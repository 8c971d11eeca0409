package making

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/fibres"
	"tenter/fibres/price"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/sheet"
	"tenter/page/words"
)

// perPage is how many cloths a list opens with.
const perPage = 12

// layer is which of the two cloths is being chosen.
type layer struct {
	stage, key              string
	mass, bend, drop, feels string
	colour                  string
	One, Many               string // how the page calls it
	put                     func(*advise.MakeUp, *fibres.Subject)
	chosen                  func(advise.MakeUp) *fibres.Subject
}

var shellLayer = layer{address.StageCloth, address.KeyShell, address.KeyMass, address.KeyBending, address.KeyDrop, address.KeyFeels, address.KeyColour,
	"cloth", "cloths",
	func(m *advise.MakeUp, s *fibres.Subject) { m.Shell = s }, func(m advise.MakeUp) *fibres.Subject { return m.Shell }}

var liningLayer = layer{address.StageLining, address.KeyLining, address.KeyLiningMass, address.KeyLiningBending, address.KeyLiningDrop, address.KeyLiningFeels, address.KeyLiningColour,
	"lining", "linings",
	func(m *advise.MakeUp, s *fibres.Subject) { m.Lining = s }, func(m advise.MakeUp) *fibres.Subject { return m.Lining }}

// Choice is the cloths to choose a layer from, narrowed and ranked.
type Choice struct {
	layer
	Fibres, Sorts, Washes        []sheet.Option
	Feels                        []sheet.Option
	Find, Mass, Drop             string
	Width, Price                 string
	KeyMass, KeyDrop, KeyFeels   string
	Own, HasOwn                  bool // only the user's swatches; there are some
	Narrowed                     bool
	Forget                       string // the address without any wish
	Groups                       []Group
	Recommended, WillDo, Against int
	Unjudged                     int // of which nothing is known that is asked
	Unknown                      int // left out since what was asked is not known of them
	Unpriced                     int // and of these, as no price is recorded
	Total                        int
	More                         string
	Skip                         string // go on without naming one
	Picked                       []Picked
	Compare, Unpick              string

	priceIn price.Price   // the currency that prices are shown in
	now     *pairing      // the make-up as it stands, where one is chosen already
	behind  *picture.Hung // what the pictures are laid over
}

// Group is what is recommended, what will do, or what speaks against it.
type Group struct {
	Title string
	Cards []Card
}

// Picked is a cloth that was picked to compare.
type Picked struct{ Name, Drop string }

// Card is a cloth as it would fall.
type Card struct {
	advise.Candidate
	Of      sheet.Link
	Picture template.HTML
	Choose  string
	Facts   string // what is known of it
	Reason  string // the one that decides
	Gap     string // how far the first cleaning parts the two
	Changes []string
	Change  string // the first two of them
	Now     bool   // it is the one chosen
	Pick    string // picks it to compare, or drops it again
	Picked  bool
}

// groupTitles are the headings of the groups.
var groupTitles = map[string]string{advise.Recommended: "Recommended", advise.WillDo: "Will do", advise.NotFor: "Against"}

// choose ranks the cloths for a layer of the make-up in hand.
func (v *View) choose(l layer) {
	c := &v.Choice
	c.layer, c.KeyMass, c.KeyDrop, c.KeyFeels = l, l.mass, l.drop, l.feels
	v.filterForm()
	wish := v.wish()
	type result struct {
		ranked            []advise.Ranked
		unknown, unpriced int
	}
	// The same ranking is asked for again while the list is read.
	key := l.key + " ranked " + v.With(keyCount, "", "units", "", address.KeyPick, "", address.KeyStep, "", address.KeyWas, "") + v.Units.String()
	r := sheet.Remember(v.Site, key, func() result {
		subjects, unknown, unpriced := v.narrowed(wish)
		if l.stage == address.StageLining {
			return result{v.Adv.RankLinings(v.Made, subjects), unknown, unpriced}
		}
		return result{v.Adv.RankShells(v.Made, subjects), unknown, unpriced}
	})
	c.Unknown, c.Unpriced, c.Total = r.unknown, r.unpriced, len(r.ranked)
	c.count(r.ranked)
	v.compareWith()
	v.picked()
	show := v.shown(len(r.ranked))
	for _, x := range r.ranked[:min(show, len(r.ranked))] {
		title := groupTitles[x.Group]
		if x.Unjudged {
			title = "Not judged"
		}
		if n := len(c.Groups); n == 0 || c.Groups[n-1].Title != title {
			c.Groups = append(c.Groups, Group{Title: title})
		}
		g := &c.Groups[len(c.Groups)-1]
		g.Cards = append(g.Cards, v.card(x))
	}
	if show < len(r.ranked) {
		next := "all"
		if show < 4*perPage {
			next = fmt.Sprint(2 * show)
		}
		c.More = v.With(keyCount, next)
	}
	if l.stage == address.StageLining {
		c.Skip = v.With(address.KeyStep, address.StageWork)
	}
}

func (c *Choice) count(ranked []advise.Ranked) {
	for _, x := range ranked {
		switch {
		case x.Unjudged:
			c.Unjudged++
		case x.Group == advise.Recommended:
			c.Recommended++
		case x.Group == advise.WillDo:
			c.WillDo++
		default:
			c.Against++
		}
	}
}

// shown is how many of the list the address asks for.
func (v *View) shown(all int) int {
	switch n := v.Get(keyCount); n {
	case "all":
		return all
	case fmt.Sprint(2 * perPage):
		return 2 * perPage
	case fmt.Sprint(4 * perPage):
		return 4 * perPage
	}
	return perPage
}

// compareWith finds what the candidates are laid over: the make-up with the cloth
// that is chosen already, or for a first lining the shell by itself.
func (v *View) compareWith() {
	c := &v.Choice
	m := v.Made
	if c.chosen(m) == nil {
		if c.stage == address.StageLining {
			if ans, err := v.Adv.CheckAlone(m); err == nil {
				c.behind = v.Hang(m, ans.Fall)
			}
		}
		return
	}
	ans, err := v.Adv.CheckAlone(m)
	if err != nil {
		return
	}
	now := v.pairingOf(m, ans)
	c.now, c.behind = &now, v.Hang(m, ans.Fall)
}

// picked lists what was picked to compare, each with the way to drop it again.
func (v *View) picked() {
	c := &v.Choice
	list := v.Picks()
	for _, name := range list {
		s, err := v.Subject(name)
		if err != nil {
			continue
		}
		c.Picked = append(c.Picked, Picked{s.Label(), v.With(address.KeyPick, address.Toggled(list, name))})
	}
	if len(c.Picked) > 0 {
		c.Compare = v.To("/compare", append(v.Kept(), address.KeyPick, strings.Join(list, ","), address.KeyOf, c.key)...)
		c.Unpick = v.With(address.KeyPick, "")
	}
}

// card draws one candidate.
func (v *View) card(x advise.Ranked) Card {
	c := &v.Choice
	m := v.Made
	c.put(&m, x.Subject)
	list := v.Picks()
	card := Card{Candidate: x.Candidate, Of: v.LinkOf(x.Subject), Now: v.Get(c.key) != "" && c.chosen(v.Made) != nil && c.chosen(v.Made).Label() == x.Subject.Label(),
		Pick: v.With(address.KeyPick, address.Toggled(list, x.ID)) + "#c-" + address.Fragment(x.ID), Picked: slices.Contains(list, x.ID)}
	card.Choose = v.chooses(x.ID)
	ans, err := v.Adv.CheckAlone(m)
	if err != nil {
		return card
	}
	behind := c.behind
	if card.Now {
		behind = nil
	}
	card.Picture = v.CardPicture(v.Ask, m, ans.Fall, behind, "")
	card.Facts = v.facts(x.Subject, ans.Fall)
	card.Reason = v.reason(m, x, ans)
	if c.stage == address.StageLining || c.now != nil {
		p := v.pairingOf(m, ans)
		if p.gap.Known() && c.stage == address.StageLining {
			card.Gap = gapIn[p.gapIn] + " parts them by " + v.Quantity(p.gap.Typical, "mm")
		}
		if c.now != nil && !card.Now {
			card.Changes = v.changes(*c.now, p)
			changes := card.Changes
			if len(changes) > 1 && x.Verdict != c.now.answer.Verdict {
				changes = changes[1:] // the verdict stands above it already
			}
			card.Change = strings.Join(changes[:min(len(changes), 2)], "; ")
		}
	}
	return card
}

// chooses is the address with a cloth chosen; a swap remembers what it takes the
// place of, so that the work can tell the difference.
func (v *View) chooses(id string) string {
	c := &v.Choice
	was := ""
	if now := v.Get(c.key); now != "" && now != id {
		was = c.key + ":" + now
	}
	return v.With(c.key, id, keyCount, "", address.KeyStep, "", address.KeyPick, "", address.KeyWas, was, keyFind, "")
}

// facts tells what is known of a candidate: its hand, its mass, its price.
func (v *View) facts(s *fibres.Subject, f *advise.Fall) string {
	var out []string
	if f != nil && f.Hand.Known() {
		out = append(out, words.Words(f.Hand))
	}
	if e := v.Adv.Cat.Estimate(*s, fibres.Mass); e.Known() {
		out = append(out, v.Quantities(e.Low, e.High, e.Unit))
	}
	if p := v.PriceOf(s, v.Choice.priceIn); p != nil {
		say := p.Say(v.Units)
		if !s.Swatch {
			say = "from " + say + " among your swatches"
		}
		out = append(out, say)
	}
	return strings.Join(out, "; ")
}

// reason is the one that decides: what speaks against a cloth that does not suit,
// the reservation of one that does, else what speaks for it.
func (v *View) reason(m advise.MakeUp, x advise.Ranked, ans advise.CheckAnswer) string {
	if x.Unjudged {
		return prose.Upper(x.Say) + "."
	}
	if of, line := v.Teller().Deciding(m, ans); line != "" && (x.Verdict != advise.Suits || of == brief.But) {
		return line
	}
	return prose.Upper(x.Why) + "."
}
