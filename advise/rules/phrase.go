package rules

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// mistake is a finding inside the words of a condition: at is the offset of the
// byte it is about.
type mistake struct {
	at             int
	what, expected string
	mend           string
	names          string // as in a fault
}

func wrong(at int, what, expected, mend string) *mistake {
	return &mistake{at: at, what: what, expected: expected, mend: mend}
}

func (s *mistake) fault(where string) *fault.Fault {
	return &fault.Fault{Kind: fault.BadData, Where: where, What: s.what, Expected: s.expected, Mend: s.mend, Names: s.names}
}

// forms is what the words of a condition may look like, as findings list it.
const forms = `X, not X, X or Y, at least X, at most X, over X, under X, X to Y, known, unknown`

// part is a piece of the words with its place in them.
type part struct {
	text string
	at   int
}

// trim cuts blanks off both ends.
func (p part) trim() part {
	t := strings.TrimLeft(p.text, " \t")
	p.at += len(p.text) - len(t)
	p.text = strings.TrimRight(t, " \t")
	return p
}

// after cuts a word off the front.
func (p part) after(word string) (part, bool) {
	if len(p.text) <= len(word) || !strings.EqualFold(p.text[:len(word)], word) || p.text[len(word)] != ' ' && p.text[len(word)] != '\t' {
		return p, false
	}
	return part{p.text[len(word):], p.at + len(word)}.trim(), true
}

// split parts at every " sep ".
func (p part) split(sep string) []part {
	var out []part
	for {
		i := strings.Index(p.text, sep)
		if i < 0 {
			return append(out, p.trim())
		}
		out = append(out, part{p.text[:i], p.at}.trim())
		p = part{p.text[i+len(sep):], p.at + i + len(sep)}
	}
}

// unquote takes the quotation marks off a word that stands in its own.
func (p part) unquote() part {
	if n := len(p.text); n >= 2 && (p.text[0] == '\'' || p.text[0] == '"') && p.text[n-1] == p.text[0] {
		return part{p.text[1 : n-1], p.at + 1}.trim()
	}
	return p
}

// orders are the words that set a bound, and the relation they stand for.
var orders = []struct {
	words    string
	relation Relation
}{{"at least", AtLeast}, {"at most", AtMost}, {"over", Over}, {"under", Under}}

// almost are words that people write for those of the closed list.
var almost = []struct{ said, meant string }{
	{"more than", "over"}, {"greater than", "over"}, {"above", "over"}, {"heavier than", "over"}, {">=", "at least"}, {">", "over"},
	{"less than", "under"}, {"fewer than", "under"}, {"below", "under"}, {"lighter than", "under"}, {"<=", "at most"}, {"<", "under"},
	{"no more than", "at most"}, {"no less than", "at least"}, {"up to", "at most"}, {"minimum", "at least"}, {"maximum", "at most"},
	{"is", ""}, {"=", ""}, {"anything but", "not"}, {"except", "not"},
}

// parse reads the words of a condition on a fact.
func (s *Schema) parse(fact int, words string) (Cond, *mistake) {
	f := &s.facts[fact]
	k := Cond{Fact: fact}
	p := part{words, 0}.trim()
	switch {
	case p.text == "":
		return k, wrong(0, "nothing is asked of "+f.short(), forms, "")
	case strings.EqualFold(p.text, "known") && !s.has(fact, "known"):
		k.Op = OpKnown
		return k, nil
	case strings.EqualFold(p.text, "unknown") && !s.has(fact, "unknown"):
		k.Op = OpUnknown
		return k, nil
	}
	if !s.has(fact, p.text) {
		for _, o := range orders {
			if x, ok := p.after(o.words); ok {
				return s.bound(k, o.relation, o.words, x)
			}
		}
		if x, ok := p.after("not"); ok {
			k.Not, p = true, x
			if opposite := map[string]string{"known": "unknown", "unknown": "known"}[x.text]; opposite != "" && !s.has(fact, x.text) {
				return k, wrong(0, `"`+words+`" is not one of the words for a condition`, forms, `"`+opposite+`"`)
			}
		}
		for _, a := range almost {
			if x, ok := p.after(a.said); ok {
				return k, wrong(p.at, `"`+a.said+`" is not one of the words for a condition`, forms,
					`"`+strings.TrimSpace(a.meant+" "+x.text)+`"`)
			}
		}
	}
	return s.plain(k, p)
}

// has says whether the whole text is a word of the fact's vocabulary.
func (s *Schema) has(fact int, text string) bool { return slices.Contains(s.vocab[fact], text) }

// bound reads what stands after "at least" and its like.
func (s *Schema) bound(k Cond, r Relation, words string, x part) (Cond, *mistake) {
	f := &s.facts[k.Fact]
	if f.Kind != Number && f.Kind != Level {
		return k, wrong(0, f.short()+` has no order, so nothing is "`+words+`" it`, "X, not X or X or Y", "")
	}
	if i := strings.Index(x.text, " or "); i >= 0 {
		return k, wrong(x.at+i+1, `"`+words+`" takes one `+f.Kind.String()+`, not a choice`, words+" X", "")
	}
	if i := strings.Index(x.text, " to "); i >= 0 && !strings.Contains(x.text, " times ") {
		return k, wrong(x.at+i+1, `"`+words+`" takes one `+f.Kind.String()+`, not a range`, words+" X, or X to Y", "")
	}
	if other, factor, found, m := s.other(k.Fact, x); m != nil {
		return k, m
	} else if found {
		k.Op, k.V = OpFact, Val{Relation: r, Other: other, Factor: factor}
		return k, nil
	}
	if f.Kind == Level {
		i, m := s.step(k.Fact, x)
		if m != nil {
			return k, m
		}
		k.Op, k.V.Levels = OpLevels, levelsFrom(r, i, len(f.Scale))
		if k.V.Levels == 0 {
			return k, wrong(x.at, "can never fire: nothing on the scale of "+f.short()+" is "+words+" "+x.unquote().text, strings.Join(f.Scale, ", "), "")
		}
		return k, nil
	}
	v, m := s.figure(f, x)
	if m != nil {
		return k, m
	}
	k.Op, k.V.Span = OpSpan, spanFrom(r, v)
	return k, nil
}

// plain reads X, X or Y, X to Y, with a "not" before it taken off already.
func (s *Schema) plain(k Cond, p part) (Cond, *mistake) {
	f := &s.facts[k.Fact]
	if other, factor, found, m := s.other(k.Fact, p); m != nil {
		return k, m
	} else if found {
		k.Op, k.V = OpFact, Val{Relation: Same, Other: other, Factor: factor}
		return k, nil
	}
	choices := []part{p}
	if !s.has(k.Fact, p.unquote().text) {
		choices = p.split(" or ")
	}
	switch f.Kind {
	case Number:
		k.Op = OpSpan
		for i, c := range choices {
			span, m := s.span(f, c)
			if m != nil {
				return k, m
			}
			if i == 0 {
				k.V.Span = span
			} else {
				k.V.More = append(k.V.More, span)
			}
		}
	case Level, Flag:
		k.Op = OpLevels
		for _, c := range choices {
			bits, m := s.levels(k.Fact, c)
			if m != nil {
				return k, m
			}
			k.V.Levels |= bits
		}
		if all := levelsFrom(AtLeast, 0, len(s.vocab[k.Fact])); k.Not {
			k.V.Levels, k.Not = all&^k.V.Levels, false
			if k.V.Levels == 0 {
				return k, wrong(p.at, "can never fire: nothing is left on the scale of "+f.short(), strings.Join(s.vocab[k.Fact], ", "), "")
			}
		}
	default:
		k.Op = OpWords
		for _, c := range choices {
			w, m := s.word(k.Fact, c)
			if m != nil {
				return k, m
			}
			k.V.Words = append(k.V.Words, w)
		}
	}
	return k, nil
}

// levels reads a word of a scale or a range of it.
func (s *Schema) levels(fact int, p part) (uint64, *mistake) {
	n := len(s.vocab[fact])
	if lo, hi, two := strings.Cut(p.text, " to "); two && s.facts[fact].Kind == Level {
		a, m := s.step(fact, part{lo, p.at}.trim())
		if m != nil {
			return 0, m
		}
		b, m := s.step(fact, part{hi, p.at + len(lo) + len(" to ")}.trim())
		if m != nil {
			return 0, m
		}
		if a > b {
			return 0, wrong(p.at, `"`+p.text+`" runs downwards`, s.vocab[fact][b]+" to "+s.vocab[fact][a], "")
		}
		return levelsFrom(AtLeast, a, n) & levelsFrom(AtMost, b, n), nil
	}
	i, m := s.step(fact, p)
	if m != nil {
		return 0, m
	}
	return 1 << i, nil
}

// step finds a word on the scale of a level or flag.
func (s *Schema) step(fact int, p part) (int, *mistake) {
	f := &s.facts[fact]
	scale := s.vocab[fact]
	p = p.unquote()
	w := p.text
	if f.Kind == Flag || slices.Equal(scale, yesNo) {
		switch w {
		case "true":
			w = "yes"
		case "false":
			w = "no"
		}
	}
	if i := slices.Index(scale, w); i >= 0 {
		return i, nil
	}
	if f.Kind == Flag {
		return 0, wrong(p.at, f.short()+` is compared with "`+p.text+`"`, "yes or no", "")
	}
	return 0, s.offScale(fact, p)
}

// offScale phrases a word that is not in a vocabulary.
func (s *Schema) offScale(fact int, p part) *mistake {
	f := &s.facts[fact]
	m := &mistake{at: p.at}
	switch {
	case f.Ids != "":
		m.what = `there is no ` + f.Ids + ` "` + p.text + `"`
		m.expected, m.names = "the id of a "+f.Ids, f.Ids
	case f.Kind == Level:
		m.what = `"` + p.text + `" is not on the scale of ` + f.short()
		m.expected = strings.Join(s.vocab[fact], ", ")
	default:
		m.what = `"` + p.text + `" is not a word of ` + f.short()
		m.expected = strings.Join(s.vocab[fact], ", ")
	}
	m.mend = fault.DidYouMean(p.text, s.vocab[fact], "")
	if strings.IndexByte(p.text, ',') > 0 {
		m.mend = `a choice is written "` + strings.Join(strings.FieldsFunc(p.text, func(r rune) bool { return r == ',' || r == ' ' }), " or ") + `"`
	}
	return m
}

// word finds a word of a closed vocabulary, or takes any of an open one.
func (s *Schema) word(fact int, p part) (string, *mistake) {
	p = p.unquote()
	f := &s.facts[fact]
	switch {
	case p.text == "":
		return "", wrong(p.at, "a word is missing", forms, "")
	case s.vocab[fact] != nil && !s.has(fact, p.text):
		if strings.Contains(p.text, " to ") {
			return "", wrong(p.at, f.short()+` has no order, so there is no "`+p.text+`"`, "X, not X or X or Y", fault.DidYouMean(p.text, s.vocab[fact], ""))
		}
		return "", s.offScale(fact, p)
	}
	return p.text, nil
}

// span reads a figure or a range of figures.
func (s *Schema) span(f *Fact, p part) (Span, *mistake) {
	if !strings.Contains(p.text, " to ") {
		v, m := s.figure(f, p)
		return Span{v, v}, m
	}
	lo, hi, err := units.ParseRange(p.text)
	if err != nil {
		return Span{}, unreadable(f, p, err)
	}
	a, m := inUnit(f, p, lo)
	if m != nil {
		return Span{}, m
	}
	b, m := inUnit(f, p, hi)
	if m != nil {
		return Span{}, m
	}
	return Span{a, b}, nil
}

// figure reads one figure in the fact's unit.
func (s *Schema) figure(f *Fact, p part) (float64, *mistake) {
	q, err := units.Parse(p.text)
	if err != nil {
		if looksLikeFact(p.text) {
			return 0, s.noFact(p)
		}
		return 0, unreadable(f, p, err)
	}
	return inUnit(f, p, q)
}

// inUnit turns a figure into the fact's unit.
func inUnit(f *Fact, p part, q units.Quantity) (float64, *mistake) {
	v, err := q.In(f.Unit)
	switch {
	case err == nil:
		return v, nil
	case q.Kind == units.Number:
		return 0, wrong(p.at, f.short()+` is compared with "`+p.text+`", which has no unit`, `"`+p.text+" "+f.Unit+`"`, "")
	case f.Unit == "":
		return 0, wrong(p.at, f.short()+` is compared with "`+p.text+`"`, f.short()+" is a plain number", "")
	}
	return 0, wrong(p.at, f.short()+` is compared with "`+p.text+`"`, f.short()+" is in "+f.Unit, "")
}

// unreadable passes on what the reader of figures found.
func unreadable(f *Fact, p part, err error) *mistake {
	x := fault.All(err)[0]
	m := wrong(p.at, x.What, f.short()+" is a plain number", x.Mend)
	if f.Unit != "" {
		m.expected = f.short() + " is in " + f.Unit
	}
	return m
}

// other reads another fact, with or without "1.2 times" before it. It is not
// found where the words are a word of the vocabulary, or no fact at all.
func (s *Schema) other(fact int, p part) (other int, factor float64, found bool, m *mistake) {
	f := &s.facts[fact]
	name, factor := p, 1.0
	if n, rest, ok := strings.Cut(p.text, " times "); ok {
		v, err := strconv.ParseFloat(strings.TrimSpace(n), 64)
		if err != nil || v <= 0 || math.IsInf(v, 0) || v != v {
			return 0, 0, false, wrong(p.at, `"`+n+`" is not a number of times`, `"over 1.2 times shell.mass"`, "")
		}
		if f.Kind != Number {
			return 0, 0, false, wrong(p.at, f.short()+" is no figure, so nothing is so many times it", forms, "")
		}
		factor = v
		name = part{rest, p.at + len(n) + len(" times ")}.trim()
	}
	if factor == 1 && s.has(fact, name.unquote().text) {
		return 0, 0, false, nil
	}
	i, ok := s.index[name.text]
	if !ok {
		if name != p || looksLikeFact(name.text) && s.vocab[fact] == nil && f.Kind != Number {
			return 0, 0, false, s.noFact(name)
		}
		if looksLikeFact(name.text) && f.Kind == Level {
			return 0, 0, false, s.noFact(name)
		}
		return 0, 0, false, nil
	}
	g := &s.facts[i]
	switch {
	case i == fact:
		return 0, 0, false, wrong(name.at, f.short()+" is compared with itself", "another fact", "")
	case g.Kind != f.Kind && !(f.Kind == Word && g.Kind == Set || f.Kind == Set && g.Kind == Word):
		return 0, 0, false, wrong(name.at, f.short()+" is compared with "+g.Name+", which is a "+g.Kind.String(), "a fact that is a "+f.Kind.String()+" too", "")
	case f.Kind == Level && !slices.Equal(f.Scale, g.Scale):
		return 0, 0, false, wrong(name.at, f.short()+" and "+g.Name+" are on different scales", strings.Join(f.Scale, ", "), "")
	case f.Kind == Number:
		q := units.Quantity{Value: 1, Kind: kindOf(g.Unit)}
		unit, err := q.In(f.Unit)
		base, err2 := q.In(g.Unit)
		if err != nil || err2 != nil {
			return 0, 0, false, wrong(name.at, f.short()+" is compared with "+g.Name+", which is in "+g.Unit, f.short()+" is in "+f.Unit, "")
		}
		if kindOf(f.Unit) != units.OfTemperature { // a degree is a degree; its zero is not
			factor *= unit / base
		}
	}
	return i, factor, true, nil
}

// looksLikeFact says whether words were meant as a fact: "shell.mas".
func looksLikeFact(s string) bool {
	i := strings.IndexByte(s, '.')
	return i > 0 && i < len(s)-1 && !strings.ContainsAny(s, " \t0123456789")
}

// noFact phrases an unknown fact.
func (s *Schema) noFact(p part) *mistake {
	group, rest, _ := strings.Cut(p.text, ".")
	in, all := s.names(group)
	m := &mistake{at: p.at, what: `unknown fact "` + p.text + `"`, expected: "a fact of " + prose.Or(s.groups()), mend: "`tenter rule facts` lists them all"}
	near := fault.DidYouMean(p.text, all, "")
	if len(in) > 0 && rest != "" {
		// The group is right, so the likeness of whole names says little.
		like := fault.Near(rest, in, 2)
		for i := range like {
			like[i] = `"` + group + "." + like[i] + `"`
		}
		if near = ""; len(like) > 0 {
			near = "did you mean " + strings.Join(like, " or ") + "?"
		}
		slices.Sort(in)
		more := ""
		if len(in) > 6 {
			in, more = in[:6], " …"
		}
		m.expected = "a fact of " + group + ", one of " + strings.Join(in, ", ") + more
	}
	if len(in) == 0 && rest != "" {
		var groups []string
		for _, n := range all {
			if g, r, _ := strings.Cut(n, "."); r == rest {
				groups = append(groups, g)
			}
		}
		if like := fault.Near(group, groups, 1); len(like) > 0 {
			near = `did you mean "` + like[0] + "." + rest + `"?`
		}
	}
	if near != "" {
		m.mend = near + " " + m.mend
	}
	return m
}

// levelsFrom marks the words of a scale that stand in the relation to word i.
func levelsFrom(r Relation, i, n int) uint64 {
	all := ^uint64(0) >> (64 - n)
	switch r {
	case Under:
		return 1<<i - 1
	case AtMost:
		return all & (1<<(i+1) - 1)
	case AtLeast:
		return all &^ (1<<i - 1)
	case Over:
		return all &^ (1<<(i+1) - 1)
	}
	return 1 << i
}

// spanFrom gives the numbers that stand in the relation to v.
func spanFrom(r Relation, v float64) Span {
	switch r {
	case Under:
		return Span{lowest, math.Nextafter(v, lowest)}
	case AtMost:
		return Span{lowest, v}
	case AtLeast:
		return Span{v, highest}
	case Over:
		return Span{math.Nextafter(v, highest), highest}
	}
	return Span{v, v}
}
