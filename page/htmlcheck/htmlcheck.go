// Package htmlcheck reads pages for tests: it refuses markup that a browser
// would have to guess at, and answers questions about what is there.
package htmlcheck

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Node is an element with what is in it; a text has no Tag.
type Node struct {
	Tag  string
	Attr map[string]string
	Kids []*Node
	Text string
	Up   *Node
}

// void elements have no end.
var void = words("meta link input br hr img area base col source wbr")

// blocks may not stand in a paragraph: a browser would end it before them.
var blocks = words("p div ul ol dl table section figure h1 h2 h3 h4 h5 h6 form details main header footer nav article pre hr")

func words(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

// Parse reads a page or a part of one. The errors are those of markup: an end
// without a beginning, a block inside a paragraph, an element left open.
func Parse(page string) (*Node, error) {
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict = false
	d.Entity = xml.HTMLEntity
	root := &Node{Tag: "#"}
	p := parser{d: d, at: root}
	for {
		tok, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return root, errors.Join(append(p.found, err)...)
		}
		switch t := tok.(type) {
		case xml.StartElement:
			p.start(t)
		case xml.EndElement:
			p.end(strings.ToLower(t.Name.Local))
		case xml.CharData:
			p.at.Kids = append(p.at.Kids, &Node{Text: string(t), Up: p.at})
		}
	}
	if p.at != root {
		p.bad("<%s> is left open", p.at.Tag)
	}
	return root, errors.Join(p.found...)
}

// parser is a page that is being read.
type parser struct {
	d     *xml.Decoder
	at    *Node // the element that is open
	found []error
}

func (p *parser) bad(format string, args ...any) {
	line, _ := p.d.InputPos()
	p.found = append(p.found, fmt.Errorf("line %d: "+format, append([]any{line}, args...)...))
}

func (p *parser) start(t xml.StartElement) {
	n := &Node{Tag: strings.ToLower(t.Name.Local), Attr: map[string]string{}, Up: p.at}
	for _, a := range t.Attr {
		if _, twice := n.Attr[a.Name.Local]; twice {
			p.bad("<%s> has %s twice", n.Tag, a.Name.Local)
		}
		n.Attr[a.Name.Local] = a.Value
	}
	for u := p.at; u != nil && blocks[n.Tag]; u = u.Up {
		if u.Tag == "p" {
			p.bad("<%s> stands inside <p>", n.Tag)
		}
	}
	p.at.Kids = append(p.at.Kids, n)
	if !void[n.Tag] {
		p.at = n
	}
}

func (p *parser) end(tag string) {
	if void[tag] {
		return
	}
	if p.at.Tag != tag {
		p.bad("</%s> ends <%s>", tag, p.at.Tag)
		for u := p.at; u != nil; u = u.Up {
			if u.Tag == tag {
				p.at = u
				break
			}
		}
	}
	if p.at.Up != nil {
		p.at = p.at.Up
	}
}

// Walk visits every element.
func (n *Node) Walk(visit func(*Node)) {
	if n.Tag != "" && n.Tag != "#" {
		visit(n)
	}
	for _, k := range n.Kids {
		k.Walk(visit)
	}
}

// All finds elements by a selector: parts parted by spaces, each inside the one
// before; a part is a tag, #id, .class, [attribute] or [attribute=value], or
// several of these run together.
func (n *Node) All(selector string) []*Node {
	parts := strings.Fields(selector)
	var out []*Node
	n.Walk(func(x *Node) {
		if x == n || !x.is(parts[len(parts)-1]) {
			return
		}
		i := len(parts) - 2
		for u := x.Up; u != nil && i >= 0; u = u.Up {
			if u.is(parts[i]) {
				i--
			}
		}
		if i < 0 {
			out = append(out, x)
		}
	})
	return out
}

// One is the first element that All finds, or nil.
func (n *Node) One(selector string) *Node {
	if all := n.All(selector); len(all) > 0 {
		return all[0]
	}
	return nil
}

func (n *Node) is(part string) bool {
	for part != "" {
		end := strings.IndexAny(part[1:], "#.[")
		if end < 0 {
			end = len(part)
		} else {
			end++
		}
		if part[0] == '[' {
			end = strings.IndexByte(part, ']') + 1
		}
		if !n.has(part[:end]) {
			return false
		}
		part = part[end:]
	}
	return true
}

func (n *Node) has(one string) bool {
	switch one[0] {
	case '#':
		return n.Attr["id"] == one[1:]
	case '.':
		return words(n.Attr["class"])[one[1:]]
	case '[':
		key, value, exact := strings.Cut(strings.Trim(one, "[]"), "=")
		got, ok := n.Attr[key]
		return ok && (!exact || got == value)
	}
	return n.Tag == one
}

// Says is all the text inside, with single spaces.
func (n *Node) Says() string {
	var b strings.Builder
	n.says(&b)
	return strings.Join(strings.Fields(b.String()), " ")
}

func (n *Node) says(b *strings.Builder) {
	b.WriteString(n.Text)
	for _, k := range n.Kids {
		k.says(b)
	}
	if blocks[n.Tag] || n.Tag == "li" || n.Tag == "text" || n.Tag == "option" {
		b.WriteByte(' ')
	}
}

// Faults lists what is wrong with a whole page beyond its markup: ids that are
// there twice or not at all, fields without a label, styles and scripts of its
// own, headings that skip a level.
func Faults(page *Node) []string {
	f := faults{ids: map[string]bool{}, labels: map[string]bool{}}
	page.Walk(f.note)
	page.Walk(func(n *Node) {
		for key, v := range n.Attr {
			f.attribute(n, key, v)
		}
		f.element(n)
	})
	if f.h1 != 1 {
		f.bad("the page has %d headings of the first level", f.h1)
	}
	if h := page.One("html"); h == nil || h.Attr["lang"] == "" {
		f.bad("the page does not say its language")
	}
	if t := page.One("title"); t == nil || t.Says() == "" {
		f.bad("the page has no title")
	}
	return f.out
}

// faults is what was found on a page so far.
type faults struct {
	ids, labels map[string]bool
	level, h1   int // of the heading before, and how many are of the first level
	out         []string
}

func (f *faults) bad(format string, args ...any) { f.out = append(f.out, fmt.Sprintf(format, args...)) }

// note gathers the ids and what is labelled.
func (f *faults) note(n *Node) {
	if id, ok := n.Attr["id"]; ok {
		if id == "" || f.ids[id] {
			f.bad("id %q is empty or there twice", id)
		}
		f.ids[id] = true
	}
	if n.Tag == "label" {
		f.labels[n.Attr["for"]] = true
	}
}

func (f *faults) attribute(n *Node, key, v string) {
	switch {
	case key == "style", strings.HasPrefix(key, "on"):
		f.bad("<%s> has %s", n.Tag, key)
	case key == "aria-labelledby", key == "aria-describedby", key == "for", key == "list":
		for _, id := range strings.Fields(v) {
			if !f.ids[id] {
				f.bad("<%s> %s names %q, which is not there", n.Tag, key, id)
			}
		}
	case key == "href" && strings.HasPrefix(v, "#") && !f.ids[v[1:]]:
		f.bad("a link leads to %q, which is not there", v)
	case (key == "href" || key == "src" || key == "action") && (strings.Contains(v, "://") || strings.HasPrefix(v, "//") || strings.HasPrefix(v, "javascript:") || v == ""):
		f.bad("<%s> %s is %q", n.Tag, key, v)
	case strings.Contains(v, "ZgotmplZ"):
		f.bad("<%s> %s was refused by the template", n.Tag, key)
	}
}

func (f *faults) element(n *Node) {
	switch n.Tag {
	case "style":
		f.bad("the page has a style of its own")
	case "script":
		if n.Attr["src"] == "" || n.Says() != "" {
			f.bad("the page has a script of its own")
		}
	case "input", "select", "textarea":
		if n.Attr["type"] != "hidden" && n.Attr["aria-label"] == "" && !f.labels[n.Attr["id"]] && n.Up.Tag != "label" {
			f.bad("<%s name=%q> has no label", n.Tag, n.Attr["name"])
		}
	case "h1", "h2", "h3", "h4":
		f.heading(n)
	case "a":
		if n.Says() == "" && n.Attr["aria-label"] == "" {
			f.bad("a link to %q has no words", n.Attr["href"])
		}
	}
}

func (f *faults) heading(n *Node) {
	l := int(n.Tag[1] - '0')
	if l > f.level+1 {
		f.bad("<%s> %q follows a heading of level %d", n.Tag, n.Says(), f.level)
	}
	f.level = l
	if l == 1 {
		f.h1++
	}
	if n.Says() == "" {
		f.bad("<%s> is empty", n.Tag)
	}
}
