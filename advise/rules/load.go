package rules

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tenter/advise/plain"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// File is a file of rules.
type File struct {
	Name  string // as findings name it
	Data  []byte
	House bool // the user's own: "own" is a source, and fires and quiet may be left out

	// Elsewhere are blocks of the file that somebody else reads.
	Elsewhere []string
}

// Silence is a rule that a house file takes away, and why.
type Silence struct {
	ID      string
	Because string
	Place   string // file:line:column of the block that says so
	Rule    *Rule  // what is no longer said
}

// Load reads the files in their order, checks every rule, and checks the rules
// against each other; the rules that house files silence are told apart. A rule that
// is replaced is not returned. The error holds every finding of every file; the rules
// that are sound are returned with it, so that a check can go on to try them.
func Load(schema *Schema, files ...File) ([]*Rule, []Silence, error) {
	l := &loader{schema: schema, byID: map[string]*Rule{}}
	for _, f := range files {
		l.file(f)
	}
	silenced := l.silence()
	l.steps()
	l.rules = slices.DeleteFunc(l.rules, func(r *Rule) bool { return l.byID[r.ID] != r })
	scratch := schema.NewCase(1)
	for _, r := range l.rules {
		l.found.Add(schema.neverFires(r, scratch))
	}
	l.found = append(l.found, contradictions(schema, l.rules)...)
	l.found = append(l.found, opposed(schema, l.rules, scratch)...)
	return l.rules, silenced, l.found.OrNil()
}

// silence takes away the rules that house files silence.
func (l *loader) silence() []Silence {
	var out []Silence
	var ids []string
	for _, t := range l.quiet {
		id := t.String("id")
		r := l.byID[id]
		switch {
		case id == "":
			continue
		case r == nil && slices.ContainsFunc(out, func(s Silence) bool { return s.ID == id }):
			t.Fault("id", &fault.Fault{Kind: fault.BadData, What: `rule "` + id + `" is silenced twice`, Expected: "each rule once", Mend: "take one of the blocks away"})
			continue
		case r == nil:
			if ids == nil {
				for id := range l.byID {
					ids = append(ids, id)
				}
				slices.Sort(ids)
			}
			t.Fault("id", &fault.Fault{Kind: fault.BadData, What: `no rule has the id "` + id + `"`, Expected: "the id of a rule that is to be silent", Mend: fault.DidYouMean(id, ids, "`tenter rule list` shows them")})
			continue
		}
		delete(l.byID, id)
		out = append(out, Silence{ID: id, Because: t.String("because"), Place: t.Where(), Rule: r})
	}
	for _, d := range l.docs {
		l.found.Add(d.Done())
	}
	return out
}

type loader struct {
	schema *Schema
	found  fault.List
	rules  []*Rule
	byID   map[string]*Rule // the one that stands under the id
	named  []stepName
	added  []string       // steps that rules add
	quiet  []*plain.Table // blocks that silence a rule
	docs   []*plain.Doc   // files that are not done yet
}

// stepName is a step that a rule names, to be looked up when all are known.
type stepName struct{ id, place string }

// file reads one file.
func (l *loader) file(f File) {
	doc, _ := plain.Decode(f.Name, f.Data)
	for _, t := range doc.Tables("rule") {
		b := &block{l: l, t: t, house: f.House}
		if r := b.read(); r != nil {
			l.rules = append(l.rules, r)
		}
	}
	if !f.House {
		l.found.Add(doc.Done())
		return
	}
	for _, t := range doc.Tables("silence") {
		t.Need("id", "the id of a rule")
		if t.Need("because", "why it is to be silent") && strings.TrimSpace(t.String("because")) == "" {
			t.Fault("because", &fault.Fault{Kind: fault.BadData, What: "because is empty", Expected: "why it is to be silent"})
		}
		l.quiet = append(l.quiet, t)
	}
	for _, k := range f.Elsewhere {
		for _, t := range doc.Tables(k) {
			t.Leaves()
		}
	}
	l.docs = append(l.docs, doc)
}

// block is one rule being read.
type block struct {
	l     *loader
	t     *plain.Table
	house bool
	wrong bool
}

// need lists the keys of a rule and what each is, as a finding says it.
var need = [...]struct{ key, expected string }{
	{"id", "condition and result in lower-case words joined by hyphens"},
	{"effect", "forbids, against, for, caution or do"},
	{"say", "what to do, in one to three short sentences"},
	{"because", "one sentence a maker would accept as a reason"},
	{"basis", "published, memory or practice"},
	{"sources", `["practice"], or the ids of sources`},
	{"fires", "a make-up for which the rule must speak"},
	{"quiet", "a make-up for which it must not"},
	{"when", `at least one condition, when.FACT = "WORDS"`},
}

// fault reports a finding at a key.
func (b *block) fault(key string, f fault.Fault) {
	b.wrong = true
	f.Kind = fault.BadData
	b.t.Fault(key, &f)
}

// read reads the block; nil when anything about it is wrong.
func (b *block) read() *Rule {
	t := b.t
	r := &Rule{Place: t.Where(), House: b.house}
	for _, n := range need {
		if (n.key == "fires" || n.key == "quiet") && b.house {
			t.Has(n.key)
			continue
		}
		if !t.Need(n.key, n.expected) {
			b.wrong = true
		}
	}
	before := t.Doc().Findings()
	r.ID = t.String("id")
	if t.Has("id") {
		b.id(r)
	}
	if w := t.String("effect"); t.Has("effect") {
		if err := r.Effect.UnmarshalText([]byte(w)); err != nil {
			b.fault("effect", *fault.All(err)[0])
		}
	}
	b.weight(r)
	r.Say, r.Because = b.sentences("say", 3), b.sentences("because", 1)
	r.Basis = t.String("basis")
	r.Sources = t.Strings("sources")
	b.provenance(r)
	r.Replaces = t.String("replaces")
	r.Fires = b.cases("fires")
	r.Quiet = b.cases("quiet")
	b.step(r)
	if r.House && t.Has("needle") {
		t.String("needle") // of older house files; needles are chosen by their own table now
	}
	b.conditions(r)
	if t.Has("id") {
		b.enter(r)
	}
	if b.wrong || t.Broken() || t.Doc().Findings() > before {
		return nil
	}
	return r
}

// weight reads what the rule is about and what is spoiled if it is ignored.
func (b *block) weight(r *Rule) {
	r.Matter = b.t.String("matter")
	if ids := b.l.schema.ids["matter"]; r.Matter != "" && ids != nil && !slices.Contains(ids, r.Matter) {
		b.fault("matter", fault.Fault{Names: "matter", What: `matter "` + r.Matter + `" is not in matters.csv`, Expected: "the id of a matter",
			Mend: fault.DidYouMean(r.Matter, ids, "add the matter, or take one that is there")})
	}
	if !b.t.Has("harm") {
		return
	}
	harm, ok := b.t.Number("harm")
	if r.Harm = int(harm); ok && (float64(r.Harm) != harm || harm < 1 || harm > 5) {
		b.fault("harm", fault.Fault{What: "harm is " + b.t.Value("harm").Text(),
			Expected: "1 time or money, 2 it looks wrong, 3 the piece fails, 4 the cloth is ruined or 5 a person is hurt"})
	}
}

// kebab says whether an id has the form of one.
func kebab(id string) bool {
	for i := range len(id) {
		c := id[i]
		switch {
		case c >= 'a' && c <= 'z':
		case c >= '0' && c <= '9' && i > 0:
		case c == '-' && i > 0 && i < len(id)-1 && id[i-1] != '-':
		default:
			return false
		}
	}
	return id != ""
}

// asKebab mends an id as far as it can.
func asKebab(id string) string {
	var out strings.Builder
	for _, w := range strings.FieldsFunc(strings.ToLower(id), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') }) {
		if out.Len() > 0 {
			out.WriteByte('-')
		}
		out.WriteString(w)
	}
	return out.String()
}

func (b *block) id(r *Rule) {
	if !kebab(r.ID) {
		f := fault.Fault{What: `id "` + r.ID + `" is not written as an id`, Expected: "lower-case words joined by hyphens"}
		if m := asKebab(r.ID); kebab(m) {
			f.Mend = `"` + m + `"`
		}
		b.fault("id", f)
	}
}

// enter puts the rule under its id, and takes the one it replaces away.
func (b *block) enter(r *Rule) {
	by := b.l.byID
	if r.Replaces != "" {
		if by[r.Replaces] == nil {
			ids := make([]string, 0, len(by))
			for id := range by {
				ids = append(ids, id)
			}
			slices.Sort(ids)
			b.fault("replaces", fault.Fault{What: `replaces "` + r.Replaces + `", but no rule before it has that id`,
				Expected: "the id of a rule in an earlier file or block", Mend: fault.DidYouMean(r.Replaces, ids, "")})
		}
		delete(by, r.Replaces)
	}
	if old := by[r.ID]; old != nil {
		b.fault("id", fault.Fault{What: `id "` + r.ID + `" is taken by ` + old.Place, Expected: "an id of its own",
			Mend: `rename it, or add replaces = "` + r.ID + `" if it is to stand in the other's place`})
		return
	}
	by[r.ID] = r
}

// maxText is how many characters a text may have.
const maxText = 240

// sentences reads a text of at most so many sentences.
func (b *block) sentences(key string, limit int) string {
	s := b.t.String(key)
	if !b.t.Has(key) || b.t.Value(key).Sort() != plain.Text {
		return s
	}
	n, starts, many := utf8.RuneCountInString(s), sentenceStarts(s), "one sentence"
	if limit > 1 {
		many = "at most " + strconv.Itoa(limit) + " short sentences"
	}
	switch {
	case strings.TrimSpace(s) == "":
		b.fault(key, fault.Fault{What: key + " is empty", Expected: many})
	case strings.ContainsAny(s, "\n\r\t"):
		b.fault(key, fault.Fault{What: key + " runs over several lines", Expected: many + " on one line"})
	case strings.TrimSpace(s) != s:
		b.fault(key, fault.Fault{What: key + " begins or ends with a blank", Expected: "the text alone"})
	case n > maxText:
		b.fault(key, fault.Fault{What: key + " has " + strconv.Itoa(n) + " characters", Expected: "at most " + strconv.Itoa(maxText), Mend: "say less, or make two rules of it"})
	case len(starts) > limit:
		b.wrong = true
		b.t.Value(key).Fault(&fault.Fault{What: key + " has more sentences than " + strconv.Itoa(limit), Expected: many,
			Where: b.t.Value(key).WhereIn(starts[limit]), Mend: "say less, or make two rules of it"})
	case !strings.HasSuffix(s, "."):
		b.fault(key, fault.Fault{What: key + " does not end with a full stop", Expected: many + ", with a full stop at the end"})
	}
	return s
}

// sentenceStarts gives the offsets at which sentences begin: the first, and each
// capital after a stop and a blank.
func sentenceStarts(s string) []int {
	starts := []int{0}
	for i := 0; i+2 < len(s); i++ {
		if strings.IndexByte(".!?", s[i]) >= 0 && s[i+1] == ' ' {
			if r, _ := utf8.DecodeRuneInString(s[i+2:]); unicode.IsUpper(r) {
				starts = append(starts, i+2)
			}
		}
	}
	return starts
}

var bases = []string{"published", "memory", "practice"}

// provenance checks basis and sources against each other and the list.
func (b *block) provenance(r *Rule) {
	t, ids := b.t, b.l.schema.ids
	if t.Has("basis") && !slices.Contains(bases, r.Basis) {
		b.fault("basis", fault.Fault{What: `basis is "` + r.Basis + `"`, Expected: prose.Or(bases), Mend: fault.DidYouMean(r.Basis, bases, "")})
	}
	v := t.Value("sources")
	if v == nil || v.Sort() != plain.List {
		return
	}
	if len(v.List()) == 0 {
		b.fault("sources", fault.Fault{What: "sources is empty", Expected: need[5].expected})
	}
	read, elsewhere := false, false
	for _, e := range v.List() {
		s := e.Text()
		read = read || ids["source-read"] == nil || slices.Contains(ids["source-read"], s)
		elsewhere = elsewhere || s != "own" && s != "practice"
		switch {
		case e.Sort() != plain.Text || s == "own" && b.house || slices.Contains(ids["source"], s):
			continue
		case s == "own":
			b.element(e, fault.Fault{What: `source "own" stands in a file that is not your own`, Expected: "an id of sources.csv"})
		default:
			f := fault.Fault{Names: "source", What: `source "` + s + `" is not in sources.csv`, Expected: "an id of sources.csv", Mend: "add the source"}
			if b.house {
				f.Expected, f.Mend = `"own" for your own experience, or an id of sources.csv`, ""
			}
			f.Mend = fault.DidYouMean(s, ids["source"], f.Mend)
			b.element(e, f)
		}
	}
	if r.Basis == "published" && !b.wrong && (!read || !elsewhere) {
		b.fault("basis", fault.Fault{What: "basis is published, but no source of it was read", Expected: "memory or practice",
			Mend: "read the source, or say what the rule rests on"})
	}
}

func (b *block) element(v *plain.Value, f fault.Fault) {
	b.wrong = true
	v.Fault(&f)
}

// cases reads fires or quiet.
func (b *block) cases(key string) []string {
	v := b.t.Value(key)
	if v == nil {
		return nil
	}
	texts := b.t.Strings(key)
	for _, e := range v.List() {
		if e.Sort() == plain.Text && strings.TrimSpace(e.Text()) == "" {
			b.element(e, fault.Fault{What: key + " has an empty case", Expected: `words parted by commas: "hooded-wrap, bagged-lining, shell cotton-lawn"`})
		}
	}
	if v.Sort() == plain.List && len(v.List()) == 0 && !b.house {
		b.fault(key, fault.Fault{What: key + " is empty", Expected: "at least one case"})
	}
	return texts
}

// step reads what the rule does to the order of work.
func (b *block) step(r *Rule) {
	t := b.t.Table("step")
	if t == nil {
		return
	}
	s := &Step{Add: t.String("add"), Move: t.String("move"), Drop: t.String("drop"), Say: t.String("say"), After: t.String("after"), Before: t.String("before")}
	r.Step = s
	wrong := func(key, what, expected, mend string) {
		b.wrong = true
		t.Fault(key, &fault.Fault{Kind: fault.BadData, What: what, Expected: expected, Mend: mend})
	}
	if r.Effect != Do && slices.Contains(effectWords, b.t.String("effect")) {
		wrong("", `only a rule with effect = "do" has a step`, `effect = "do", or no step`, "")
	}
	var verbs []string
	for _, k := range []string{"add", "move", "drop", "say"} {
		if t.Has(k) {
			verbs = append(verbs, k)
		}
	}
	placed := s.After != "" || s.Before != ""
	switch {
	case len(verbs) == 0:
		wrong("", "the step does nothing", `one of add, move, drop or say, as { move = "clip-curves", after = "join-layers" }`, "")
	case len(verbs) > 1:
		wrong("", "the step has both "+verbs[0]+" and "+verbs[1], "one of add, move, drop or say", "make two rules of it")
		return
	case (verbs[0] == "add" || verbs[0] == "move") && !placed:
		wrong(verbs[0], "the step has no place", `after = "…" or before = "…"`, "")
	case (verbs[0] == "drop" || verbs[0] == "say") && placed:
		wrong("after", "a step that is dropped or said anew has no new place", verbs[0]+" alone", "")
	}
	if s.After != "" && s.After == s.Before {
		wrong("before", "the step comes both after and before "+s.After, "two different steps", "")
	}
	for _, k := range []string{"add", "move", "drop", "say", "after", "before"} {
		id := t.String(k)
		switch {
		case !t.Has(k):
		case !kebab(id):
			wrong(k, `step "`+id+`" is not written as an id`, "lower-case words joined by hyphens", "")
		case k == "add":
			b.l.added = append(b.l.added, id)
		default:
			b.l.named = append(b.l.named, stepName{id, t.WhereOf(k)})
		}
	}
}

// steps looks up the steps that rules name, when the schema lists them.
func (l *loader) steps() {
	known := l.schema.ids["step"]
	if known == nil {
		return
	}
	known = append(slices.Clone(known), l.added...)
	for _, n := range l.named {
		if !slices.Contains(known, n.id) {
			l.found = append(l.found, &fault.Fault{Kind: fault.BadData, Where: n.place, Names: "step", What: `there is no step "` + n.id + `"`,
				Expected: "a step of a finish, or one that a rule adds", Mend: fault.DidYouMean(n.id, known, "")})
		}
	}
}

// conditions reads the when lines.
func (b *block) conditions(r *Rule) {
	if b.t.Has("when") && b.t.Value("when").Sort() != plain.Block {
		_ = b.t.Table("when") // says so
		return
	}
	if !b.l.schema.conditions(b.t.Table("when"), r) {
		b.wrong = true
	}
}

// ReadConditions reads the when lines of a block that is not a rule, such as a job
// of a layer, in the words of rules. What comes back can be fired like a rule; it is
// nil where the block has none. Findings go to the block's document.
func (s *Schema) ReadConditions(t *plain.Table) *Rule {
	when := t.Table("when")
	if when == nil {
		return nil
	}
	r := &Rule{Place: t.Where()}
	if !s.conditions(when, r) {
		return nil
	}
	return r
}

// conditions reads the conditions of a rule from its when block, and says whether
// all of them are sound.
func (s *Schema) conditions(when *plain.Table, r *Rule) bool {
	sound := true
	bad := func(v *plain.Value, f *fault.Fault) {
		sound = false
		v.Fault(f)
	}
	for _, leaf := range when.Leaves() {
		name, v := leaf.Key(), leaf.Value
		fact, ok := s.index[name]
		if !ok {
			bad(v, s.noFact(part{text: name}).fault(leaf.WhereKey()))
			continue
		}
		words, ok := condWords(v)
		if !ok {
			bad(v, notWords(name, v))
			continue
		}
		k, wrong := s.parse(fact, words)
		if wrong != nil {
			where := v.Where()
			// a finding about the whole of the words points at their quotation mark
			if wrong.at > 0 {
				where = v.WhereIn(wrong.at)
			}
			bad(v, wrong.fault(where))
			continue
		}
		r.Parts.Conds = append(r.Parts.Conds, k)
		r.Parts.When = append(r.Parts.When, When{Fact: name, Words: words, Place: leaf.WhereLine()})
		r.Parts.Lines = append(r.Parts.Lines, leaf.Line())
		if g := s.facts[fact].group(); r.Parts.About == "" && (g == "seam" || g == "edge" || g == "interfacing") {
			r.Parts.About = g
		}
	}
	if len(r.Parts.Conds) > 64 {
		when.Fault("", &fault.Fault{Kind: fault.BadData, What: "there are more than 64 conditions", Expected: "a few", Mend: "make several rules of it"})
		return false
	}
	r.compile(s)
	return sound
}

// condWords are the words of a condition; a figure and a truth may stand without
// quotation marks.
func condWords(v *plain.Value) (string, bool) {
	switch v.Sort() {
	case plain.Text, plain.Figure:
		return v.Text(), true
	case plain.Truth:
		return map[bool]string{true: "yes", false: "no"}[v.Text() == "true"], true
	}
	return "", false
}

func notWords(name string, v *plain.Value) *fault.Fault {
	return &fault.Fault{Kind: fault.BadData, What: name + " is " + v.Sort().String(), Expected: "the words of a condition: " + forms,
		Mend: `a choice is written "X or Y"`}
}

// compile orders the conditions by what they cost and notes the facts they
// name.
func (r *Rule) compile(s *Schema) {
	for i := range r.Parts.Conds {
		if k := &r.Parts.Conds[i]; k.Op == OpLevels {
			if top := len(s.vocab[k.Fact]) - 1; k.V.Levels>>top&1 == 1 {
				k.V.Levels |= ^uint64(0) << top
			}
		}
	}
	r.Parts.Written = slices.Clone(r.Parts.Conds)
	slices.SortStableFunc(r.Parts.Conds, func(a, b Cond) int { return int(a.Op) - int(b.Op) })
	for _, k := range r.Parts.Conds {
		r.Parts.Facts = append(r.Parts.Facts, k.Fact)
		if k.Op == OpFact {
			r.Parts.Facts = append(r.Parts.Facts, k.V.Other)
		}
	}
	slices.Sort(r.Parts.Facts)
	r.Parts.Facts = slices.Compact(r.Parts.Facts)
	for _, f := range r.Parts.Facts {
		r.Parts.Names = append(r.Parts.Names, s.facts[f].Name)
	}
}
