// Package home is the first page: what this is for, and the ways in.
package home

import (
	"embed"
	"html/template"
	"math"
	"strings"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/fibres"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed home.tmpl
var files embed.FS

// Page lies at the root.
var Page = sheet.Page{Pattern: "/{$}", Files: files, Template: "home.tmpl", Make: build}

// View is the first page.
type View struct {
	sheet.Sheet
	Example *Example
	Hands   []Hand
	Kinds   []Count
}

// Example is one piece in several cloths, judged as the page is written.
type Example struct {
	Title string
	Cards []Card
}

// Card is one cloth of the example.
type Card struct {
	Name, Verdict, Answer, Say string
	Picture                    template.HTML
	To                         string
}

// What the example shows: a shawl of a village theatre, in a cloth that falls, one
// that may, and one that does not.
const examplePiece, exampleFinish = "triangular-shawl", "single-layer-hem"

var exampleCloths = []string{"wool-challis", "brocade", "oilcloth"}

func example(s *sheet.Sheet) *Example {
	piece, err := s.Adv.Piece(examplePiece)
	if err != nil {
		return nil
	}
	finish, err := s.Adv.Finish(exampleFinish)
	if err != nil {
		return nil
	}
	e := &Example{Title: "A shawl for the harvest play, in three cloths"}
	var first *picture.Hung
	for _, id := range exampleCloths {
		cloth, err := s.Subject(address.OfReference + id)
		if err != nil {
			continue
		}
		m := advise.MakeUp{Piece: piece, Finish: finish, Shell: cloth}
		ans, err := s.Adv.CheckAlone(m)
		if err != nil {
			continue
		}
		b := s.Teller().Check(m, ans)
		r := s.NewResult(m, &ans, b)
		hung := s.Hang(m, ans.Fall)
		c := Card{Name: cloth.Label(), Verdict: ans.Verdict, Answer: r.Answer, Picture: s.CardPicture(s.Ask, m, ans.Fall, first, ""),
			To: s.To("/check", address.KeyPiece, examplePiece, address.KeyFinish, exampleFinish, address.KeyShell, id)}
		if why := b.Lines(brief.Why); len(why) > 0 {
			first, _, _ := strings.Cut(why[0], "; ")
			c.Say = strings.TrimSuffix(first, ".") + "."
		}
		if first == nil {
			first = hung
		}
		e.Cards = append(e.Cards, c)
	}
	return e
}

// Hand is a band of hand with the strip that hangs so.
type Hand struct {
	Word, Range string
	Picture     template.HTML
}

// Count is a kind with how many there are.
type Count struct {
	sheet.Kind
	N int
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "", "How will it hang?")}
	v.Example = example(&v.Sheet)
	for i, w := range fibres.HandScale {
		lo, hi := fibres.HandEdges[i], fibres.HandEdges[i+1]
		h := Hand{Word: w}
		switch i {
		case 0:
			h.Range = "under " + words.In(a.Units).Quantity(hi, "cm")
		case len(fibres.HandScale) - 1:
			h.Range = words.In(a.Units).Quantity(lo, "cm") + " and over"
		default:
			h.Range = words.In(a.Units).Quantities(lo, hi, "cm")
		}
		e := fibres.Estimate{Low: lo, Typical: math.Sqrt(lo * hi), High: hi, Basis: fibres.Derived}
		h.Picture = picture.Strip(a.Units, e, "")
		v.Hands = append(v.Hands, h)
	}
	for _, kd := range sheet.Kinds {
		v.Kinds = append(v.Kinds, Count{kd, len(k.Things(kd.One))})
	}
	return v, nil
}
