package advise

import (
	"fmt"
	"io/fs"
	"maps"
	"runtime"
	"slices"
	"sort"
	"strings"

	"tenter/advise/plain"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/table"
	"tenter/fibres/units"
)

// Adviser judges make-ups. It is loaded once and then only read; it may be
// used by several goroutines.
type Adviser struct {
	Cat          *fibres.Catalogue
	Pieces       []*Piece
	Finishes     []*Finish
	Usual        []Usual // finishes by group of pieces
	Unfit        []Unfit // finishes that do not go with a piece
	Seams        []*Seam // seams and edges, see Seam.Kind
	Interfacings []*Interfacing
	Needles      []Needle
	Matters      []Matter // what rules are about
	Traits       []Trait
	Wishes       []*Wish // what a maker may say beside the make-up
	Stock        []Stock // how shops have cloths, by cloth
	Jobs         []*Job
	Picks        []Pick   // what makers usually take
	Notions      []Notion // needles, threads and bindings
	Places       []Place  // that are sewn in a way of their own
	outer        *Job     // of the shell
	Rules        []*rules.Rule
	Silenced     []rules.Silence // rules that a house file took away

	PieceNames, FinishNames, SeamNames, EdgeNames, InterfacingNames, WishNames *fibres.Names

	schema      *rules.Schema
	facts       []rules.Fact
	at          *places
	liningFacts []int
	jobFact     int
	washFact    int
	reverseFact int
	ruleAbout   []int // of each rule, the place of its matter among [Abouts]
	samples     *samples
	tables      *tables
	files       fs.FS
	drafts      *drafts
	cuts        *cuts
}

// House is a file of the user's own, in the format of the built-in ones.
type House struct {
	Name string
	Data []byte
}

// Load reads the catalogue, the pieces, finishes, seams and interfacings, and
// the rules with the user's house files after the built-in ones. The error
// holds every finding of every file.
func Load(files fs.FS, house ...House) (*Adviser, error) {
	if len(house) == 0 {
		if a := fromCompiled(files); a != nil {
			return a, nil
		}
	}
	if runtime.GOOS == "js" { // known when it is compiled: the reading is then left out of the program
		return nil, &fault.Fault{Kind: fault.Internal, What: "the compiled rules are not those of the files", Expected: "a program built after `go generate ./fibres ./advise`"}
	}
	return read(files, house...)
}

// newAdviser makes an adviser that knows the catalogue and the facts, and has
// nothing to advise with yet.
func newAdviser(cat *fibres.Catalogue) *Adviser {
	a := &Adviser{Cat: cat, samples: &samples{}, tables: &tables{}, drafts: &drafts{}, cuts: &cuts{}, PieceNames: fibres.NewNames("piece"), FinishNames: fibres.NewNames("finish"),
		SeamNames: fibres.NewNames("seam"), EdgeNames: fibres.NewNames("edge finish"), InterfacingNames: fibres.NewNames("interfacing"), WishNames: fibres.NewNames("wish")}
	a.facts, a.at = describe()
	cat.ClothNames.Usually(func(id string) int {
		if s := a.StockOf(id); s != nil {
			return s.Common + 1
		}
		return 0
	})
	return a
}

// read loads everything from the files themselves.
func read(files fs.FS, house ...House) (*Adviser, error) {
	var found fault.List
	cat, err := fibres.Load(files)
	if err != nil {
		return nil, err // what rests on it is judged when it is sound
	}
	a := newAdviser(cat)
	a.files = files
	l := &loader{a: a, files: files}
	l.needles()
	l.matters()
	l.traits()
	l.stocked()
	l.toml("wishes.toml", l.wishes)
	l.toml("pieces.toml", l.pieces)
	l.toml("finishes.toml", l.finishes)
	l.toml("seams.toml", l.seams)
	l.toml("interfacings.toml", l.interfacings)
	ruleFiles := l.ruleFiles(house)
	ids := a.ids()
	ids["job"] = l.jobIDs()
	for _, x := range l.found {
		found.Add(x)
	}
	l.found = nil
	if err := a.useSchema(ids); err != nil {
		if len(found) == 0 { // else a file is missing whose ids it lacks
			found.Add(err)
		}
		return nil, found.Roots(fileOf()).OrNil()
	}
	l.toml("wishes.toml", l.wishDemands)
	l.toml("jobs.toml", l.jobs)
	l.toml("picks.toml", l.picks)
	l.toml("notions.toml", l.notions)
	l.toml("places.toml", l.places)
	found.Add(l.found.OrNil())
	list, silenced, err := rules.Load(a.schema, ruleFiles...)
	found.Add(err)
	a.Silenced = silenced
	if len(house) > 0 { // a slip of the format in a file of pieces and rules is found by both readings
		reported := map[string]bool{}
		found = slices.DeleteFunc(found, func(f *fault.Fault) bool {
			s := f.Error()
			defer func() { reported[s] = true }()
			return reported[s]
		})
	}
	if err := found.Roots(fileOf()).OrNil(); err != nil {
		return nil, err
	}
	a.useRules(list)
	return a, nil
}

// thingFiles are the files in which the things of a kind stand, besides those of the
// catalogue.
var thingFiles = map[string]string{"piece": "data/pieces.toml", "finish": "data/finishes.toml", "seam": "data/seams.toml", "edge": "data/seams.toml", "step": "data/finishes.toml",
	"interfacing": "data/interfacings.toml", "matter": "data/matters.csv", "wish": "data/wishes.toml", "job": "data/jobs.toml"}

// fileOf is the file in which the things of each kind stand.
func fileOf() map[string]string {
	out := maps.Clone(fibres.Files)
	maps.Copy(out, thingFiles)
	out["shell"], out["lining"] = out["cloth"], out["cloth"]
	return out
}

// ruleFiles reads the files of rules and takes the pieces of the house files.
func (l *loader) ruleFiles(house []House) []rules.File {
	var out []rules.File
	names, err := fs.Glob(l.files, "rules/*.toml")
	l.found.Add(err)
	sort.Strings(names)
	for _, n := range names {
		b, err := fs.ReadFile(l.files, n)
		l.found.Add(err)
		out = append(out, rules.File{Name: "data/" + n, Data: b})
	}
	for _, h := range house {
		f := rules.File{Name: h.Name, Data: h.Data, House: true}
		if doc, err := plain.Decode(h.Name, h.Data); doc.Has("piece") {
			f.Elsewhere = []string{"piece"}
			if err == nil { // a slip of the format is told once, by the reading of the rules
				l.housePieces(doc)
			}
		}
		out = append(out, f)
	}
	return out
}

// useSchema sets up the facts of the rule language with the ids they may name.
func (a *Adviser) useSchema(ids map[string][]string) (err error) {
	if a.schema, err = rules.NewSchema(a.facts, ids); err != nil {
		return err
	}
	a.liningFacts = a.schema.Group("lining")
	a.jobFact, a.washFact = a.place("lining.job"), a.place("piece.wash")
	a.reverseFact = a.place("shell.reverse")
	a.schema.Imply(a.imply)
	return nil
}

func (a *Adviser) useRules(list []*rules.Rule) {
	a.Rules = list
	a.outer, _ = a.Job("outer")
	a.ruleAbout = make([]int, len(list))
	for i, r := range list {
		a.ruleAbout[i] = slices.Index(Abouts, a.about(r.Matter)) // unsaid where it says none
	}
}

// ids lists the ids that conditions may name, by kind.
func (a *Adviser) ids() map[string][]string {
	m := map[string][]string{
		"piece": a.PieceNames.IDs(), "finish": a.FinishNames.IDs(), "seam": a.SeamNames.IDs(), "edge": a.EdgeNames.IDs(),
		"interfacing": a.InterfacingNames.IDs(), "cloth": a.Cat.ClothNames.IDs(), "fibre": a.Cat.FibreNames.IDs(),
		"structure": a.Cat.StructureNames.IDs(), "treatment": a.Cat.TreatmentNames.IDs(), "matter": a.matterIDs(), "wish": a.WishNames.IDs(),
	}
	for id, s := range a.Cat.Sources {
		m["source"] = append(m["source"], id)
		if s.Read {
			m["source-read"] = append(m["source-read"], id)
		}
	}
	sort.Strings(m["source"])
	sort.Strings(m["source-read"])
	for _, f := range a.Finishes {
		for _, s := range f.Steps {
			if !slices.Contains(m["step"], s.ID) {
				m["step"] = append(m["step"], s.ID)
			}
		}
	}
	return m
}

// imply fills into a case what follows from naming a piece or a finish, so that
// a rule which can never fire is found when it is loaded.
func (a *Adviser) imply(c *rules.Case, fact int, word string) {
	switch a.facts[fact].Name {
	case "finish":
		for _, f := range a.Finishes {
			if f.ID == word {
				lay(c, a.at.finish, finishFacts, f)
				if !f.Lined {
					c.SetAbsent(a.liningFacts...)
				}
			}
		}
	case "finish.lined":
		if word == "no" {
			c.SetAbsent(a.liningFacts...)
		}
	case "piece":
		for _, p := range a.Pieces {
			if p.ID == word {
				lay(c, a.at.piece, pieceFacts, p)
			}
		}
	}
}

// Facts describes every fact of the rule language, for help and docs.
func (a *Adviser) Facts() []rules.Fact { return a.facts }

type loader struct {
	a     *Adviser
	files fs.FS
	found fault.List
	house bool // what is read is the user's own: a piece of a built-in id stands in its place
}

func (l *loader) toml(name string, read func(*plain.Doc)) {
	b, err := fs.ReadFile(l.files, name)
	if err != nil {
		l.found.Add(&fault.Fault{Kind: fault.BadData, Where: "data/" + name, What: "the file is missing", Err: err})
		return
	}
	l.decode("data/"+name, b, read)
}

// rows reads a table of the data folder that has these columns.
func (l *loader) rows(name string, columns ...string) []table.Row {
	b, err := fs.ReadFile(l.files, name)
	if err != nil {
		l.found.Add(&fault.Fault{Kind: fault.BadData, Where: "data/" + name, What: "the file is missing", Err: err})
		return nil
	}
	t, err := table.Read("data/"+name, b, columns)
	l.found.Add(err)
	if t == nil {
		return nil
	}
	return t.Rows
}

func (l *loader) decode(name string, b []byte, read func(*plain.Doc)) {
	doc, _ := plain.Decode(name, b)
	read(doc)
	l.found.Add(doc.Done())
}

// word reads a text that must be one of the list.
func (l *loader) word(t *plain.Table, key string, list []string) string {
	s := t.String(key)
	if s == "" {
		t.Need(key, strings.Join(list, ", "))
		return s
	}
	for _, x := range list {
		if x == s {
			return s
		}
	}
	t.Fault(key, &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%s is %q", key, s), Expected: strings.Join(list, ", "), Mend: fault.DidYouMean(s, list, "")})
	return s
}

func (l *loader) level(t *plain.Table, key string, scale fibres.Scale) int {
	s := t.String(key)
	if s == "" {
		return -1
	}
	v, ok := scale.Level(s)
	if !ok {
		t.Fault(key, &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%q is not on the scale of %s", s, key), Expected: strings.Join(scale, ", "), Mend: fault.DidYouMean(s, scale, "")})
		return -1
	}
	return v
}

func (l *loader) length(t *plain.Table, key string) units.Length {
	s := t.String(key)
	if s == "" {
		return 0
	}
	v, err := units.ParseLength(s)
	if err != nil {
		t.Fault(key, asData(err))
	}
	return v
}

// asData turns a finding of the quantity parser into one about a file.
func asData(err error) *fault.Fault {
	f := *fault.All(err)[0]
	f.Kind, f.Where = fault.BadData, ""
	return &f
}

func (l *loader) numbers(t *plain.Table, key, unit string) (low, high float64) {
	s := t.String(key)
	if s == "" {
		return 0, 0
	}
	a, b, err := units.ParseRange(s)
	if err != nil {
		t.Fault(key, asData(err))
		return 0, 0
	}
	low, err = a.In(unit)
	if err != nil {
		t.Fault(key, asData(err))
	}
	high, _ = b.In(unit)
	return low, high
}

func (l *loader) cite(t *plain.Table) Cite {
	c := Cite{Basis: l.word(t, "basis", append(append([]string{}, fibres.Bases...), "derived")), Sources: t.Strings("sources")}
	if len(c.Sources) == 0 {
		t.Need("sources", `["practice"] or the ids of sources`)
	}
	for _, s := range c.Sources {
		src := l.a.Cat.Sources[s]
		switch {
		case s == "own":
		case src == nil:
			t.Fault("sources", &fault.Fault{Kind: fault.BadData, Names: "source", What: fmt.Sprintf("source %q is not in sources.csv", s), Expected: "the id of a source", Mend: `"own" for your own experience, or add the source`})
		case c.Basis == string(fibres.Published) && !src.Read:
			t.Fault("basis", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("basis is published, but source %q was not read", s), Expected: "memory", Mend: "read the source, or say memory"})
		}
	}
	return c
}

// named reads id, name, synonyms, say and enters the thing under its names.
func (l *loader) named(t *plain.Table, n *fibres.Names, seen map[string]bool) (id, name string, synonyms []string, say string) {
	t.Need("id", "lower-case words joined by hyphens")
	t.Need("name", "what it is called")
	id, name, synonyms, say = t.String("id"), t.String("name"), t.Strings("synonyms"), t.String("say")
	if seen[id] {
		t.Fault("id", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("id %q is there twice", id), Expected: "each id once", Mend: "rename one of them"})
	}
	seen[id] = true
	n.Add(id, name, synonyms...)
	return id, name, synonyms, say
}

// demands reads what a piece, a finish or a job asks.
func (l *loader) demands(t *plain.Table) []Demand {
	var out []Demand
	for _, d := range t.Tables("demand") {
		x := Demand{ID: d.String("id"), Fact: d.String("fact"), Say: d.String("say"), Cite: l.cite(d)}
		l.weight(d, &x)
		x.fact = l.factPlace(x.Fact)
		if x.fact < 0 {
			d.Fault("fact", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("unknown fact %q", x.Fact), Expected: "a number or graded fact", Mend: fault.DidYouMean(x.Fact, l.factNames(), "`tenter rule facts` lists them")})
			d.Leaves() // what it asks cannot be read without the fact
			continue
		}
		if l.a.schema != nil {
			x.when = l.a.schema.ReadConditions(d)
		}
		if l.bounds(d, &x) {
			out = append(out, x)
		}
	}
	return out
}

// factPlace is where a fact stands; -1 where there is none of the name.
func (l *loader) factPlace(name string) int {
	return slices.IndexFunc(l.a.facts, func(f rules.Fact) bool { return f.Name == name })
}

// weight reads what a demand is about, and what missing it spoils.
func (l *loader) weight(t *plain.Table, d *Demand) {
	d.Matter = t.String("matter")
	if about := l.a.about(d.Matter); about != "" {
		d.Matter = about
	} else if d.Matter != "" {
		t.Fault("matter", &fault.Fault{Kind: fault.BadData, Names: "matter", What: fmt.Sprintf("matter %q is not in matters.csv", d.Matter), Expected: "the id of a matter, or one of " + strings.Join(Abouts, ", "),
			Mend: fault.DidYouMean(d.Matter, append(l.a.matterIDs(), Abouts...), "")})
	} else if d.Matter = d.ID; !slices.Contains(Abouts, d.ID) {
		d.Matter = demandMatters[d.ID]
	}
	d.about = slices.Index(Abouts, d.Matter)
	if !t.Has("harm") {
		return
	}
	n, _ := t.Number("harm")
	if d.Harm = int(n); float64(d.Harm) != n || n < 1 || n > 5 {
		t.Fault("harm", &fault.Fault{Kind: fault.BadData, What: "harm is " + t.Value("harm").Text(), Expected: "1 time or money, 2 it looks wrong, 3 the piece fails, 4 the cloth is ruined or 5 a person is hurt"})
	}
}

// bounds reads the ideal range and the limit of a demand, and says whether its fact
// has more and less.
func (l *loader) bounds(t *plain.Table, d *Demand) bool {
	f, found := l.a.facts[d.fact], t.Doc().Findings()
	switch f.Kind {
	case rules.Number:
		d.Unit = f.Unit
		d.Ideal.Low, d.Ideal.High = l.numbers(t, "ideal", f.Unit)
		d.Limit.Low, d.Limit.High = l.numbers(t, "limit", f.Unit)
	case rules.Level:
		d.Unit, d.graded, d.scale = "level", true, f.Scale
		d.Ideal, d.Words = l.levels(t, "ideal", f.Scale)
		d.Limit, _ = l.levels(t, "limit", f.Scale)
	default:
		t.Fault("fact", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%s is neither a number nor graded", d.Fact), Expected: "a fact that has more and less", Mend: "say it as a rule"})
		t.Leaves()
		return false
	}
	if t.Doc().Findings() > found {
		return false // a figure that cannot be read is in no order
	}
	if d.Limit.Low > d.Ideal.Low || d.Limit.High < d.Ideal.High || d.Ideal.Low > d.Ideal.High {
		t.Fault("limit", &fault.Fault{Kind: fault.BadData, What: "the limit does not hold the ideal range", Expected: "limit low ≤ ideal low ≤ ideal high ≤ limit high"})
	}
	return true
}

func (l *loader) factNames() []string {
	var out []string
	for _, f := range l.a.facts {
		out = append(out, f.Name)
	}
	return out
}

func (l *loader) levels(t *plain.Table, key string, scale fibres.Scale) (Bounds, [2]string) {
	s := t.String(key)
	lo, hi, two := strings.Cut(s, " to ")
	if !two {
		hi = lo
	}
	a, ok1 := scale.Level(strings.TrimSpace(lo))
	b, ok2 := scale.Level(strings.TrimSpace(hi))
	if !ok1 || !ok2 {
		t.Fault(key, &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%q is not on the scale", s), Expected: strings.Join(scale, ", "), Mend: `"none to low"`})
	}
	return Bounds{float64(a), float64(b)}, [2]string{lo, hi}
}

func (l *loader) pieces(doc *plain.Doc) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("piece") {
		p := &Piece{}
		p.ID, p.Name, p.Synonyms, p.Say = l.named(t, l.a.PieceNames, seen)
		l.piece(t, p)
		p.Demands, p.Cite = l.pieceDemands(t), l.cite(t)
		if l.house {
			if i := slices.IndexFunc(l.a.Pieces, func(q *Piece) bool { return q.ID == p.ID }); i >= 0 {
				l.a.Pieces[i] = p
				continue
			}
		}
		l.a.Pieces = append(l.a.Pieces, p)
	}
	l.variants(doc, seen)
}

// pieceDemands reads what a piece asks: body and weight of its shell by itself.
func (l *loader) pieceDemands(t *plain.Table) []Demand {
	out := l.demands(t)
	for i := range out {
		d := &out[i]
		if alone := aloneFacts[d.Fact]; alone != "" {
			d.fact = l.factPlace(alone)
			if alone != "outer.bending-length" { // a lining gives no weight, but it has to be carried
				d.upperFact = l.factPlace(d.Fact) + 1
			}
		}
	}
	return out
}

// piece reads what a piece says of itself, beside its name and what it asks; what a
// variant does not say stays as it is.
func (l *loader) piece(t *plain.Table, p *Piece) {
	all := p.Of == "" // a piece says everything, a variant what differs
	says := func(key string) bool { return all || t.Has(key) }
	if says("group") {
		p.Group = l.word(t, "group", groups)
	}
	if says("shape") {
		p.Shape = l.word(t, "shape", shapes)
	}
	if says("support") {
		p.Support = l.word(t, "support", supports)
	}
	if says("hang") {
		p.Hang = l.length(t, "hang")
	}
	if says("flap") {
		p.Flap = l.length(t, "flap")
	}
	if says("features") {
		p.Features = t.Strings("features")
	}
	for _, f := range p.Features {
		if !slices.Contains(features, f) {
			t.Fault("features", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("feature %q is not known", f), Expected: strings.Join(features, ", "), Mend: fault.DidYouMean(f, features, "")})
		}
	}
	if says("faces") {
		n, _ := t.Number("faces")
		p.Faces = int(n)
	}
	if says("wearer") {
		p.Wearer = l.word(t, "wearer", pieceWearers)
	}
	if says("wash") {
		p.Wash = l.word(t, "wash", washings)
	}
	if says("stage") {
		p.Stage, _ = t.Bool("stage")
	}
	if t.Has("purpose") {
		p.Purpose = t.Strings("purpose")
	}
	p.Asks = t.String("asks")
	if says("parts") {
		p.Parts = nil
		for _, x := range t.Tables("parts") {
			c, _ := x.Number("count")
			p.Parts = append(p.Parts, PiecePart{Name: x.String("name"), Count: max(1, int(c)), Width: l.length(x, "width"), Height: l.length(x, "height"), Shape: x.String("shape"), Grain: l.grain(x), ShellOnly: l.flag(x, "shell-only")})
		}
	}
	if says("seams") {
		p.Seams = nil
		for _, x := range t.Tables("seams") {
			p.Seams = append(p.Seams, PieceSeam{Name: x.String("name"), Length: l.length(x, "length")})
		}
	}
}

// housePieces reads the pieces of a house file, which may hold rules too.
func (l *loader) housePieces(doc *plain.Doc) {
	l.house = true
	l.pieces(doc)
	l.house = false
	for _, k := range doc.Keys() { // the rest of the file is judged by the reading of the rules
		if v := doc.Value(k); k != "piece" && v.Sort() == plain.Block {
			for _, t := range doc.Tables(k) {
				t.Leaves()
			}
		}
	}
	l.found.Add(doc.Done())
}

// grain is which way of a part runs along the warp.
func (l *loader) grain(t *plain.Table) string {
	if t.String("grain") == "" {
		return ""
	}
	return l.word(t, "grain", grains)
}

func (l *loader) flag(t *plain.Table, key string) bool {
	b, _ := t.Bool(key)
	return b
}

func (l *loader) finishes(doc *plain.Doc) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("finish") {
		f := &Finish{}
		f.ID, f.Name, f.Synonyms, f.Say = l.named(t, l.a.FinishNames, seen)
		n, _ := t.Number("layers")
		f.Layers = int(n)
		f.Lined, _ = t.Bool("lined")
		f.Turned, _ = t.Bool("turned")
		f.Reversible, _ = t.Bool("reversible")
		f.Joined, f.Edge = l.word(t, "joined", joins), l.word(t, "edge", edges)
		f.Allowance = l.length(t, "allowance")
		if s := t.Table("strip"); s != nil {
			f.StripWidth = l.length(s, "width")
			n, _ := s.Number("layers")
			f.StripLayers = int(n)
		}
		f.Takes = l.words(t, "takes", supportRoles)
		for _, x := range t.Tables("step") {
			f.Steps = append(f.Steps, Step{ID: x.String("id"), Say: x.String("say"), Because: x.String("because"), After: x.Strings("after")})
		}
		f.Demands, f.Cite = l.demands(t), l.cite(t)
		l.a.Finishes = append(l.a.Finishes, f)
	}
	l.fitness(doc)
}

func (l *loader) seams(doc *plain.Doc) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("seam") {
		s := &Seam{Kind: l.word(t, "kind", seamKinds)}
		names := l.a.SeamNames
		if s.Kind == "edge" {
			names = l.a.EdgeNames
		}
		s.ID, s.Name, s.Synonyms, s.Say = l.named(t, names, seen)
		s.FrayHeld, s.Curve, s.Bulk = l.level(t, "fray-held", fibres.FrayScale), l.level(t, "curve", CurveScale), l.level(t, "bulk", BulkScale)
		s.Sheer, _ = t.Bool("sheer")
		s.Reversible, _ = t.Bool("reversible")
		s.Binds = l.flag(t, "binds")
		n, _ := t.Number("layers")
		s.Layers, s.OfShell = int(n), int(n)
		if t.Has("of-shell") {
			own, _ := t.Number("of-shell")
			s.OfShell = int(own)
		}
		s.MassLow, s.MassHigh = l.numbers(t, "mass", "g/m2")
		lo, hi := l.numbers(t, "allowance", "cm")
		s.AllowanceLow, s.AllowanceHigh = units.Length(lo), units.Length(hi)
		s.Stitch, s.Cite = t.String("stitch"), l.cite(t)
		l.a.Seams = append(l.a.Seams, s)
	}
}

func (l *loader) interfacings(doc *plain.Doc) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("interfacing") {
		x := &Interfacing{}
		x.ID, x.Name, x.Synonyms, x.Say = l.named(t, l.a.InterfacingNames, seen)
		x.Structure = l.word(t, "structure", supportWeaves)
		x.Attach = l.word(t, "attach", attachments)
		x.Role = l.word(t, "role", supportRoles)
		x.MassLow, x.MassHigh = l.numbers(t, "mass", "g/m2")
		x.ShellMassLow, x.ShellMassHigh = l.numbers(t, "shell-mass", "g/m2")
		x.Stiffness, _ = t.Number("stiffness")
		x.Hand, x.Wash = l.level(t, "hand", fibres.HandScale), l.level(t, "wash", fibres.WashScale)
		x.HeatLow, x.HeatHigh = l.numbers(t, "heat", "C")
		x.Narrow = l.flag(t, "narrow")
		x.Cite = l.cite(t)
		l.a.Interfacings = append(l.a.Interfacings, x)
	}
}
