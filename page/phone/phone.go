// Package phone is the site without a server: the same pages, answered from
// memory inside a browser, with the user's records as one document that whoever
// carries it keeps. page/phone/engine is the program that a browser runs,
// page/phone/folder the files that bring it there.
package phone

import (
	"bytes"
	"io"
	"net/url"
	"strings"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres"
	"tenter/kb"
	"tenter/kb/memory"
	"tenter/kb/search"
	"tenter/page"
	"tenter/page/knowledge"
)

// Options is what a phone starts with.
type Options struct {
	Document []byte // the records as they were kept last; none where nothing is recorded
	Token    string // of the forms: the same at each start, since pages outlive a start
	Prefix   string // where the site lies on its host, without a slash at its end
	Version  string
	Log      io.Writer
}

// Phone is the site and its records. It answers one thing at a time.
type Phone struct {
	site      *page.Site
	prefix    string
	reference *advise.Adviser
	records   *memory.Memory // nil while nothing is recorded
	kept      []byte         // the document that was kept last
	changed   bool           // since then
	find      finder
	warming   warming
}

// New starts the site. Records that cannot be read are an error: to start without
// them would be to write over them.
func New(o Options) (*Phone, error) {
	adv, err := advise.Load(data.FS)
	if err != nil {
		return nil, err
	}
	p := &Phone{prefix: o.Prefix, reference: adv}
	if err := p.read(o.Document); err != nil {
		return nil, err
	}
	know, err := p.knowledge()
	if err != nil {
		return nil, err
	}
	p.site, err = page.New(page.Options{Knowledge: know, Search: p.search, Version: o.Version, Log: o.Log, Token: o.Token, Phone: true,
		Own: &page.Own{Make: p.make, Again: p.again}})
	return p, err
}

// read takes the records from a document.
func (p *Phone) read(document []byte) error {
	p.records, p.kept, p.changed = nil, document, false
	if len(document) == 0 {
		return nil
	}
	m, err := memory.Read(document)
	if err == nil {
		p.records = m
	}
	return err
}

func (p *Phone) make() error {
	if p.records == nil {
		p.records = memory.New()
	}
	return nil
}

// again gives the knowledge after a change of the records.
func (p *Phone) again() (page.Knowledge, error) {
	p.changed = true
	p.find.ownChanged()
	return p.knowledge()
}

func (p *Phone) knowledge() (page.Knowledge, error) {
	if p.records == nil { // the bare nil: a typed one would pass for records
		p.warming = warming{adviser: p.reference}
		return page.Knowledge{Adviser: p.reference, Base: &kb.Base{Cat: p.reference.Cat}}, nil
	}
	adv, err := knowledge.Learned(p.reference, &kb.Base{Cat: p.reference.Cat, Records: p.records})
	if err != nil {
		return page.Knowledge{}, err
	}
	p.warming = warming{adviser: adv}
	return page.Knowledge{Adviser: adv, Base: &kb.Base{Cat: adv.Cat, Records: p.records}}, nil
}

// Answer answers a request whose address begins with the prefix. Where the records
// changed, the document is to be kept before the answer is shown: then [Phone.Kept]
// or [Phone.Lost] follows.
func (p *Phone) Answer(r page.Request) (a page.Reply, document []byte) {
	r = p.within(r)
	a = p.site.Answer(r)
	p.place(&a)
	if !p.changed {
		return a, nil
	}
	document, err := p.records.Write()
	if err != nil { // nothing of it could be kept
		return p.Lost(r, "the records could not be written down"), nil
	}
	return a, document
}

// within is a request with its address as the site knows it.
func (p *Phone) within(r page.Request) page.Request {
	at := *r.URL
	at.Path, at.RawPath = strings.TrimPrefix(at.Path, p.prefix), strings.TrimPrefix(at.RawPath, p.prefix)
	r.URL = &at
	return r
}

// Kept says that the document was kept.
func (p *Phone) Kept(document []byte) { p.kept, p.changed = document, false }

// Lost says that the document could not be kept, and why: the records are again
// those that were kept last, and the answer says so.
func (p *Phone) Lost(r page.Request, why string) page.Reply {
	if err := p.read(p.kept); err != nil {
		return p.site.Failure(r, why)
	}
	p.site.Renew()
	p.changed = false
	a := p.site.Unkept(p.within(r), why)
	p.place(&a)
	return a
}

// place writes the prefix before every address of a page. Words of a user cannot
// be taken for an address: their quotation marks are escaped.
func (p *Phone) place(a *page.Reply) {
	if to := a.Header["Location"]; strings.HasPrefix(to, "/") {
		a.Header["Location"] = p.prefix + to
	}
	if strings.HasPrefix(a.Header["Content-Type"], "text/html") {
		a.Body = Place(a.Body, p.prefix)
	}
}

// Place writes a prefix before every address of a page.
func Place(html []byte, prefix string) []byte {
	for _, attribute := range []string{`href="`, `src="`, `action="`} {
		html = bytes.ReplaceAll(html, []byte(" "+attribute+"/"), []byte(" "+attribute+prefix+"/"))
	}
	return html
}

// finder searches the reference and the records, both read through: it is made
// when the first word is looked for, or ahead of it, step by step.
type finder struct {
	thesaurus *kb.Thesaurus
	docs      []search.Doc
	reference *search.Index
	own       *search.Index // with the records; nil after a change
}

func (f *finder) ownChanged() { f.own = nil }

// step makes the next part of the finder, and tells whether there is more to make.
func (f *finder) step(a *advise.Adviser) (more bool, err error) {
	switch {
	case f.thesaurus == nil:
		f.thesaurus, err = kb.LoadThesaurus(data.FS)
	case f.docs == nil && f.reference == nil:
		f.docs = knowledge.Docs(a)
	case f.reference == nil:
		docs := f.docs
		f.docs = nil
		f.reference, err = search.InMemory(search.Options{Docs: func() []search.Doc { return docs }, Thesaurus: f.thesaurus.Means})
	default:
		return false, nil
	}
	return true, err
}

func (p *Phone) search(q search.Query) (kb.Answer, error) {
	f := &p.find
	for more := true; more; {
		var err error
		if more, err = f.step(p.reference); err != nil {
			return kb.Answer{}, err
		}
	}
	if f.own == nil {
		var docs []search.Doc
		if p.records != nil {
			var err error
			if docs, err = kb.OwnDocs(p.records); err != nil {
				return kb.Answer{}, err
			}
		}
		var err error
		if f.own, err = f.reference.With(search.List(docs)); err != nil {
			return kb.Answer{}, err
		}
	}
	return kb.Ask(f.own, f.thesaurus, q)
}

// warming is work done ahead while nothing is asked, in the order in which a maker goes on: the pages
// of the shop are read in, the cloths of each name are drawn, which the first ranking waits for, then
// what the first search, the first card and the first lining wait for.
type warming struct {
	adviser *advise.Adviser
	todo    []func() (more bool) // each is called again as long as there is more of it
}

// before are addresses whose pages cost little but the reading of their templates, and after are
// those whose code a browser compiles when they are first asked for.
var (
	before = []string{"/shop?piece=cowl&finish=bagged-lining", "/check", "/cut", "/make", "/swatches", "/records"}
	after  = []string{"/check?piece=wide-sash&finish=single-layer-hem&shell=cotton-voile", "/card?piece=wide-sash&finish=single-layer-hem&shell=cotton-voile", "/cloth/cotton-voile"}
)

// someEntries is how many entries of the search are split at a time.
const someEntries = 40

// Warm does one small piece of it, and tells whether there is more.
func (p *Phone) Warm() (more bool) {
	w := &p.warming
	if w.todo == nil {
		w.todo = p.ahead()
	}
	if len(w.todo) == 0 {
		return false
	}
	if !w.todo[0]() {
		w.todo = w.todo[1:]
	}
	return len(w.todo) > 0
}

// ahead are the pieces of the work.
func (p *Phone) ahead() (out []func() bool) {
	adv := p.warming.adviser
	pages := func(addresses []string) {
		for _, a := range addresses {
			out = append(out, func() bool {
				if at, err := url.Parse(a); err == nil {
					p.site.Answer(page.Request{Method: "GET", URL: at})
				}
				return false
			})
		}
	}
	m, err := adv.ParseCase("half-circle-cape, bagged-lining")
	shells := adv.Shells()
	pages(before)
	if err == nil {
		out = append(out, each(shells, func(c *fibres.Cloth) { adv.RankShells(m, []*fibres.Subject{{Cloth: c}}) }))
	}
	pages(after)
	out = append(out, func() bool {
		more, err := p.find.step(p.reference)
		return more && err == nil
	}, func() bool { return p.find.reference != nil && p.find.reference.Prepare(someEntries) })
	if err == nil {
		lined := m
		lined.Shell = &fibres.Subject{Cloth: shells[0]}
		out = append(out, each(adv.Linings(), func(c *fibres.Cloth) { adv.RankLinings(lined, []*fibres.Subject{{Cloth: c}}) }))
	}
	return out
}

// each takes one of a list at a time.
func each[T any](list []T, work func(T)) func() bool {
	return func() bool {
		if len(list) > 0 {
			work(list[0])
			list = list[1:]
		}
		return len(list) > 0
	}
}
