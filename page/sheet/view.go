package sheet

import (
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/url"
	"strings"
	"sync"

	"tenter/advise/brief"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/page/address"
	"tenter/page/words"
)

//go:embed layout.tmpl parts.tmpl
var layout embed.FS

// Sheet is what every page has; a page is a struct that embeds it.
type Sheet struct {
	address.Ask
	words.In
	*Site
	Title  string
	Place  string // the entry of the navigation that it belongs to
	Assets Assets
	Token  string // goes with every form that changes something
	Status int    // of the answer, where it is not the usual one
}

// Assets are the addresses of the files that pages use.
type Assets struct{ Style, Script string }

// View is any page.
type View interface{ Base() *Sheet }

// Base is the sheet of a page.
func (s *Sheet) Base() *Sheet { return s }

// NewSheet begins a page.
func NewSheet(k *Site, a address.Ask, place, title string) Sheet {
	return Sheet{Ask: a, In: words.In(a.Units), Site: k, Place: place, Title: title}
}

// Page is one kind of page: where it lies, its template, how it is made from an
// address, and what becomes of a form that is sent to it.
type Page struct {
	Pattern  string // of the path: "/cloth/{id}"
	Files    fs.FS
	Template string
	Make     func(*Site, address.Ask) (View, error)
	// Submit does what a form asks. It leads on to another page with Moved, or
	// gives the page again with what could not be taken. Nil takes no forms.
	Submit func(*Site, address.Ask, Form) (View, error)
}

// Form is what was sent: its fields, and a file where there is one.
type Form struct {
	Fields   url.Values
	File     []byte
	FileName string
}

// Get is a field without what could not be seen.
func (f Form) Get(key string) string { return strings.TrimSpace(address.Clean(f.Fields.Get(key))) }

// Lines is a field of several lines, or of a list; line breaks and tabs stay.
func (f Form) Lines(key string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return r
		}
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, f.Fields.Get(key))
}

// Moved is the error that says where a page really is.
type Moved struct{ To string }

// Error says so.
func (m *Moved) Error() string { return "it is at " + m.To }

// Of hands two things to a shared part of a template: the sheet, and what the
// part shows.
type Of struct {
	S *Sheet
	V any
}

var funcs = template.FuncMap{
	"of":       func(v View, x any) Of { return Of{v.Base(), x} },
	"upper":    prose.Upper,
	"words":    words.Words,
	"inten":    words.InTen,
	"stitches": stitches,
	"join":     strings.Join,
	"means":    words.BasisMeans,
	"pretty":   words.Pretty,
	"open":     words.OpenWords,
	"notes":    words.Notes,
	"fact":     words.FactWords,
	"fragment": address.Fragment,
	"known":    knownProps,
	"unknown":  unknownProps,
	"parts":    partsOf,
	"plural": func(n int, one, many string) string {
		if n == 1 {
			return fmt.Sprintf("%d %s", n, one)
		}
		return fmt.Sprintf("%d %s", n, many)
	},
}

// around is the layout, which every page takes a copy of.
var around = sync.OnceValues(func() (*template.Template, error) {
	return template.New("layout.tmpl").Funcs(funcs).ParseFS(layout, "layout.tmpl", "parts.tmpl")
})

// partsOf are the parts of an answer that stand under some labels.
func partsOf(b brief.Brief, labels ...string) []brief.Part {
	var out []brief.Part
	for _, p := range b.Parts {
		if contains(labels, string(p.Label)) && len(p.Lines) > 0 {
			out = append(out, p)
		}
	}
	return out
}

// Parse reads the template of a page with the layout round it.
func (p Page) Parse() (*template.Template, error) {
	t, err := around()
	if err != nil {
		return nil, err
	}
	if t, err = t.Clone(); err != nil {
		return nil, err
	}
	if t, err = t.ParseFS(p.Files, p.Template); err != nil {
		return nil, fmt.Errorf("template %s: %w", p.Template, err)
	}
	return t, nil
}

// Write fills the template of a page, or only the part of it that was asked
// for.
func Write(w io.Writer, t *template.Template, v View) error {
	if part := v.Base().Part; part != "" && t.Lookup("part-"+part) != nil {
		return t.ExecuteTemplate(w, "part-"+part, v)
	}
	return t.Execute(w, v)
}

// Place is an entry of the navigation.
type Place struct{ Path, Word string }

// Places lists the navigation.
func (s *Sheet) Places() []Place {
	return []Place{{"/make", "Make"}, {"/check", "Check"}, {"/shop", "Shop"}, {"/search", "Search"}, {"/map", "Map"}, {"/swatches", "Swatches"}, {"/shortlist", "Shortlist"}, {"/list", "Reference"}}
}

// Metric and Imperial are this page in those units; the one in force is empty.
func (s *Sheet) Metric() string {
	if s.Units == units.Metric {
		return ""
	}
	return s.With(address.KeyUnits, "")
}

// Imperial is this page in imperial units, or empty where it is.
func (s *Sheet) Imperial() string {
	if s.Units == units.Imperial {
		return ""
	}
	return s.With(address.KeyUnits, units.Imperial.String())
}

// UnitsWord is the word of the units in force for a form to carry along, empty
// for the usual ones.
func (s *Sheet) UnitsWord() string {
	if s.Units == units.Metric {
		return ""
	}
	return s.Units.String()
}

// SwatchPath is the page of a swatch.
func (s *Sheet) SwatchPath(name string) string { return s.To(Link{Kind: "swatch", ID: name}.Path()) }

// Href is the address of a thing.
func (s *Sheet) Href(l Link) string { return s.To(l.Path()) }

// Cited is a basis with its sources, to be shown.
type Cited struct {
	Basis   string
	Rests   string // the basis in words, with what of the figures is not the source's
	Sources []Link
	Locator string
}

// Cite looks up the sources of a basis. What is only the basis again
// ("practice") is no source to look at.
func (s *Sheet) Cite(basis string, sources []string) Cited {
	c := Cited{Basis: basis, Rests: basis}
	for _, id := range sources {
		if l, ok := s.Link("source", id); ok && id != basis {
			c.Sources = append(c.Sources, l)
		}
	}
	return c
}

// CiteEstimate looks up the sources of an estimate, and says which of its figures are
// not theirs.
func (s *Sheet) CiteEstimate(e fibres.Estimate) Cited {
	c := s.Cite(string(e.Basis), e.Sources)
	c.Rests, c.Locator = e.Rests(), e.Locator
	return c
}

// CiteFact looks up the source of a recorded fact.
func (s *Sheet) CiteFact(f fibres.FactRow) Cited {
	c := s.Cite(string(f.Basis), []string{f.Source})
	c.Rests, c.Locator = f.Rests(), f.Locator
	return c
}

// IsNotFound reports whether an error says that nothing has a name.
func IsNotFound(err error) bool {
	var f *fault.Fault
	return errors.As(err, &f) && f.Kind == fault.NotFound
}

// Nothing is the error that nothing of a kind has the name.
func Nothing(kind, name string) error {
	return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("no %s is called %q", kind, name)}
}

// One is a list of one source.
func (s *Sheet) One(source string) []string { return []string{source} }

// BasisWords explains every basis.
func (s *Sheet) BasisWords() []words.BasisWord { return words.Bases }

// Teller says answers in a few lines, in the units of the page.
func (s Sheet) Teller() brief.Teller {
	return brief.Teller{Adviser: s.Adv, System: s.Units, Page: true}
}
