// Package shortlist is the cloths that the user keeps in mind, from shop to shop,
// each with a price, a note and what it is for.
package shortlist

import (
	"embed"
	"html/template"
	"net/url"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/page/sheet"
)

//go:embed shortlist.tmpl
var files embed.FS

// Page lies at /shortlist.
var Page = sheet.Page{Pattern: place, Files: files, Template: "shortlist.tmpl", Make: build, Submit: submit}

const (
	place = "/shortlist"
	// setting is the key under which the list is kept among the user's settings.
	setting = "shortlist"
	// mostKept is how many cloths are kept, and longestNote how much is written of one.
	mostKept    = 100
	longestNote = 300
)

// Kept is one cloth of the list.
type Kept struct {
	Cloth string `json:"cloth"`
	For   string `json:"for,omitempty"` // what it is to become, as the query of an address
	Price string `json:"price,omitempty"`
	Note  string `json:"note,omitempty"`
}

// View is the list.
type View struct {
	sheet.Sheet
	CanRecord   bool
	Added       bool
	FieldErrors sheet.FieldErrors
	Items       []Item
	Compare     []Question // what of it can be laid side by side
}

// Item is one cloth of the list as it is judged for what it is for.
type Item struct {
	Kept
	N        int
	Of       sheet.Link
	Name     string
	Gone     bool // nothing is called so any more
	For      string
	To       string // the work of it, or its page
	Picture  template.HTML
	Judged   bool
	Verdict  string
	Share    float64
	Unjudged bool
}

// Question is several cloths of the list that are for the same make-up.
type Question struct {
	For, To string
	N       int
}

// List reads the list.
func List(k *sheet.Site) []Kept {
	if k.Base.Records == nil {
		return nil
	}
	var out []Kept
	if _, err := k.Base.Records.Setting(setting, &out); err != nil {
		return nil
	}
	return out
}

func build(k *sheet.Site, a sheet.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, place, "Shortlist"), CanRecord: k.Change != nil, Added: a.Get("added") != ""}
	at := map[string]int{}
	for i, x := range List(k) {
		item := v.item(i, x)
		v.Items = append(v.Items, item)
		q := withoutShell(x.For)
		if item.Gone || q.Get(sheet.KeyPiece) == "" {
			continue
		}
		key := q.Encode()
		j, ok := at[key]
		if !ok {
			j = len(v.Compare)
			at[key] = j
			v.Compare = append(v.Compare, Question{For: item.For})
		}
		v.Compare[j].N++
		old, _ := url.ParseQuery(strings.TrimPrefix(v.Compare[j].To, "/compare?"))
		q.Set(sheet.KeyOf, sheet.KeyShell)
		q.Set(sheet.KeyPick, strings.TrimPrefix(old.Get(sheet.KeyPick)+","+strings.ReplaceAll(x.Cloth, ",", " "), ","))
		v.Compare[j].To = "/compare?" + q.Encode()
	}
	v.Compare = slices.DeleteFunc(v.Compare, func(q Question) bool { return q.N < 2 })
	return v, nil
}

func withoutShell(query string) url.Values {
	q, _ := url.ParseQuery(query)
	for _, key := range []string{sheet.KeyShell, sheet.KeyMass, sheet.KeyBending, sheet.KeyDrop, sheet.KeyFeels, sheet.KeyColour} {
		q.Del(key)
	}
	return q
}

// item judges one cloth for what it is for.
func (v *View) item(i int, x Kept) Item {
	out := Item{Kept: x, N: i, Name: x.Cloth}
	s, err := v.Subject(x.Cloth)
	if err != nil {
		out.Gone = true
		return out
	}
	out.Of, out.Name = v.LinkOf(s), s.Label()
	out.To = v.To("/check", sheet.KeyShell, x.Cloth)
	if out.Of.ID != "" {
		out.To = v.Href(out.Of)
	}
	q, err := url.ParseQuery(x.For)
	if err != nil || q.Get(sheet.KeyPiece) == "" {
		return out
	}
	q.Set(sheet.KeyShell, x.Cloth)
	ask := sheet.NewAsk("/make", "", q)
	m, _ := ask.MakeUp(v.Site)
	if m.Piece == nil || m.Shell == nil {
		return out
	}
	out.For = forWords(m)
	out.To = "/check?" + q.Encode()
	ans, err := v.Adv.Check(m)
	if err != nil {
		return out
	}
	out.Judged, out.Verdict, out.Share, out.Unjudged = true, ans.Verdict, ans.Share, ans.Unjudged
	out.Picture = v.FallSVG(v.Ask, m, ans.Fall, "")
	return out
}

func forWords(m advise.MakeUp) string {
	out := m.Piece.Name
	if m.Finish != nil {
		out += ", " + m.Finish.Name
	}
	if m.Lining != nil && m.Finish != nil && m.Finish.Lined {
		out += ", lined with " + m.Lining.Label()
	}
	return out
}

// submit adds cloths, writes prices and notes down, or takes a cloth off the list.
func submit(k *sheet.Site, a sheet.Ask, f sheet.Form) (sheet.View, error) {
	list := List(k)
	to := a.To(place)
	switch f.Get("do") {
	case "add":
		list = added(list, strings.Split(f.Get("cloths"), ","), f.Get("for"))
		to = a.To(place, "added", "yes")
	case "write":
		i, err := numbered(list, f)
		if err != nil {
			return nil, err
		}
		list[i].Price, list[i].Note = cutTo(f.Get("price"), 60), cutTo(f.Get("note"), longestNote)
	case "remove":
		i, err := numbered(list, f)
		if err != nil {
			return nil, err
		}
		list = slices.Delete(list, i, i+1)
	default:
		return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is asked"}
	}
	err := k.Change(func(b *kb.Base) error { return b.Records.SetSetting(setting, list) })
	if err != nil {
		return nil, err
	}
	return nil, &sheet.Moved{To: to}
}

// added puts cloths on the list, unless they stand there for the same make-up.
func added(list []Kept, cloths []string, purpose string) []Kept {
	for _, c := range cloths {
		c = strings.TrimSpace(c)
		there := func(x Kept) bool {
			return x.Cloth == c && withoutShell(x.For).Encode() == withoutShell(purpose).Encode()
		}
		if c != "" && len(list) < mostKept && !slices.ContainsFunc(list, there) {
			list = append(list, Kept{Cloth: cutTo(c, 200), For: cutTo(purpose, 1500)})
		}
	}
	return list
}

// numbered finds the row that a form is about. The cloth goes along with the number,
// so that a page that was left open does not change another row.
func numbered(list []Kept, f sheet.Form) (int, error) {
	for i, x := range list {
		if x.Cloth == f.Get("cloth") && x.For == f.Get("for") {
			return i, nil
		}
	}
	return 0, &fault.Fault{Kind: fault.NotFound, What: "that cloth is not on the list any more"}
}

func cutTo(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most])
	}
	return s
}
