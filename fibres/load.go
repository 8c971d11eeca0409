package fibres

import (
	"fmt"
	"io/fs"
	"runtime"
	"slices"
	"sort"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/table"
)

// Catalogue is everything that is known of cloth, loaded once and then only
// read; it may be used by several goroutines.
type Catalogue struct {
	Sources    map[string]*Source
	Fibres     map[string]*Fibre
	Structures map[string]*Structure
	Treatments map[string]*Treatment
	Cloths     map[string]*Cloth
	Terms      map[string]*Term
	Weaves     map[string]string // lift plans

	ClothNames, FibreNames, StructureNames, TreatmentNames *Names

	clothOrder []*Cloth
	shopNames  []ShopName
	idleWords  []string
	weaveEase  map[string]weaveEase
	facts      factTable
	scalars    map[ref][]Scalar
	effects    map[ref][]effect // of structures and treatments

	written map[*Cloth]string // what names tell, as compiled in; see written.go

	base    *Catalogue            // without what was learned; nil where nothing was
	learned map[Property]*lessons // from the user's own swatches, see [Catalogue.Learned]
}

// ref names the thing a fact is of and the property, with the key column that
// tells rows of one file apart (method of shrinkage, table of moisture).
type ref struct{ of, id, prop string }

// Scalar is a single figure of a fibre with its provenance: moisture
// allowance by table, iron dots.
type Scalar struct {
	Key   string
	Value float64
	Cite
}

type effect struct {
	property           string
	low, typical, high float64
	Cite
}

// Load reads the catalogue from the data files. Every finding of every file is
// in the error, a [fault.List].
func Load(files fs.FS) (*Catalogue, error) {
	if c := fromCompiled(files); c != nil {
		return c, nil
	}
	if runtime.GOOS == "js" { // known when it is compiled: the reading is then left out of the program
		return nil, errOnlyLiterals
	}
	return read(files)
}

// errOnlyLiterals says that a browser was given neither fresh literals nor files.
var errOnlyLiterals = &fault.Fault{Kind: fault.Internal, What: "the compiled facts are not those of the files", Expected: "a program built after `go generate ./fibres ./advise`"}

// read loads the catalogue from the files themselves.
func read(files fs.FS) (*Catalogue, error) {
	c := newCatalogue(512)
	l := loader{c: c, files: files}
	l.sources()
	l.fibres()
	l.structures()
	l.treatments()
	l.cloths()
	l.shopNames()
	l.readIdleWords()
	l.terms()
	l.facts()
	return c, l.found.Roots(Files).OrNil()
}

// ClothList is every cloth in the order of ids.
func (c *Catalogue) ClothList() []*Cloth { return c.clothOrder }

type loader struct {
	c     *Catalogue
	files fs.FS
	found fault.List
}

// read returns the rows of a file, with only the wanted columns allowed.
func (l *loader) read(name string, want ...string) []table.Row {
	b, err := fs.ReadFile(l.files, name)
	if err != nil {
		l.found.Add(&fault.Fault{Kind: fault.BadData, Where: "data/" + name, What: "the file is missing", Err: err})
		return nil
	}
	t, err := table.Read("data/"+name, b, want)
	if err != nil {
		l.found.Add(err)
	}
	if t == nil {
		return nil
	}
	return t.Rows
}

func (l *loader) bad(c table.Cell, what, expected, mend string) {
	l.found.Add(&fault.Fault{Kind: fault.BadData, Where: c.Where(), What: what, Expected: expected, Mend: mend})
}

// missing tells that a thing of a kind is named that is not there.
func (l *loader) missing(kind string, c table.Cell, what, mend string) {
	l.found.Add(&fault.Fault{Kind: fault.BadData, Where: c.Where(), What: what, Expected: "the id of a " + kind, Mend: mend, Names: kind})
}

// Files are the files in which the things of a kind stand.
var Files = map[string]string{"source": "data/sources.csv", "fibre": "data/fibres.csv", "structure": "data/structures.csv", "treatment": "data/treatments.csv",
	"cloth": "data/cloths.csv", "lift plan": "data/weaves.csv"}

var cite = []string{"basis", "source_id", "locator", "note"}

func (l *loader) cite(r table.Row) Cite {
	b := r.Cell("basis")
	basis := Basis(b.Text)
	if basis != Published && basis != Memory && basis != Practice {
		l.bad(b, fmt.Sprintf("basis is %q", b.Text), "published, memory or practice", fault.DidYouMean(b.Text, Bases, ""))
	}
	s := r.Cell("source_id")
	if src := l.c.Sources[s.Text]; src == nil {
		l.missing("source", s, fmt.Sprintf("source %q is not in sources.csv", s.Text), fault.DidYouMean(s.Text, keys(l.c.Sources), "add the source first"))
	}
	return Cite{Basis: basis, Source: s.Text, Locator: r.Cell("locator").Text, Note: r.Cell("note").Text}
}

// split parts what a row's source gives from what is ours: the basis of its figures,
// that of the bare word where none of the figures is the source's, and which are.
func (l *loader) split(r table.Row, row Basis) (figures, word Basis, given Given) {
	c := r.Cell("given")
	given, ok := givenOf(c.Text)
	switch {
	case !ok:
		l.bad(c, fmt.Sprintf("given is %q", c.Text), "some of low, typical and high parted by \"; \", or word", "")
	case row == Practice && given != 0:
		l.bad(c, "practice has no source that could give figures", "an empty cell", "")
	case (row == Published || row == Memory) && given == 0: // a basis that is no word is told already
		l.bad(c, "nothing says which figures the source gives", "some of low, typical and high, or word", "write word where the source only names or describes")
	}
	if given == GivesWord {
		return Practice, row, given
	}
	return row, "", given
}

func keys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// newID tells whether an id is new; a second use is a finding.
func (l *loader) newID(c table.Cell, taken bool) bool {
	if c.Text == "" {
		l.bad(c, "the id is empty", "lower-case words joined by hyphens", "")
		return false
	}
	if taken {
		l.bad(c, fmt.Sprintf("id %q is there twice", c.Text), "each id once", "rename one of them")
		return false
	}
	return true
}

func (l *loader) sources() {
	for _, r := range l.read("sources.csv", "id", "title", "author", "year", "kind", "licence", "read", "seen", "note") {
		id := r.Cell("id")
		if !l.newID(id, l.c.Sources[id.Text] != nil) {
			continue
		}
		l.c.Sources[id.Text] = &Source{ID: id.Text, Title: r.Cell("title").Text, Author: r.Cell("author").Text,
			Year: r.Cell("year").Text, Kind: r.Cell("kind").Text, Licence: r.Cell("licence").Text,
			Read: r.Cell("read").Text == "yes", Seen: r.Cell("seen").Text, Note: r.Cell("note").Text}
	}
}

func (l *loader) fibres() {
	for _, r := range l.read("fibres.csv", append([]string{"id", "name", "us_name", "synonyms", "family", "felts", "burn", "hurts", "caution"}, cite...)...) {
		id := r.Cell("id")
		if !l.newID(id, l.c.Fibres[id.Text] != nil) {
			continue
		}
		f := &Fibre{ID: id.Text, Name: r.Cell("name").Text, USName: r.Cell("us_name").Text, Synonyms: r.Cell("synonyms").List(),
			Family: r.Cell("family").Text, Burn: r.Cell("burn").Text, Hurts: r.Cell("hurts").Text, Caution: r.Cell("caution").Text,
			Felts: -1, Cite: l.cite(r)}
		if w := r.Cell("felts"); w.Text != "" {
			lv, ok := FeltsScale.Level(w.Text)
			if !ok {
				l.bad(w, fmt.Sprintf("felts is %q", w.Text), strings.Join(FeltsScale, ", "), "")
			}
			f.Felts = lv
		}
		l.c.Fibres[f.ID] = f
		l.c.nameFibre(f)
	}
}

func (l *loader) structures() {
	for _, r := range l.read("weaves.csv", "id", "lift_plan") {
		l.c.addWeave(r.Cell("id").Text, r.Cell("lift_plan").Text)
	}
	for _, r := range l.read("structures.csv", append([]string{"id", "name", "synonyms", "class", "weave", "definition"}, cite...)...) {
		id := r.Cell("id")
		if !l.newID(id, l.c.Structures[id.Text] != nil) {
			continue
		}
		s := &Structure{ID: id.Text, Name: r.Cell("name").Text, Synonyms: r.Cell("synonyms").List(), Class: r.Cell("class").Text,
			Weave: r.Cell("weave").Text, Definition: r.Cell("definition").Text, Cite: l.cite(r)}
		if s.Weave != "" && l.c.Weaves[s.Weave] == "" {
			l.missing("lift plan", r.Cell("weave"), fmt.Sprintf("weave %q is not in weaves.csv", s.Weave), fault.DidYouMean(s.Weave, keys(l.c.Weaves), ""))
		}
		l.c.Structures[s.ID] = s
		l.c.StructureNames.Add(s.ID, s.Name, s.Synonyms...)
	}
}

func (l *loader) treatments() {
	for _, r := range l.read("treatments.csv", append([]string{"id", "name", "synonyms", "definition", "kept_dry"}, cite...)...) {
		id := r.Cell("id")
		if !l.newID(id, l.c.Treatments[id.Text] != nil) {
			continue
		}
		t := &Treatment{ID: id.Text, Name: r.Cell("name").Text, Synonyms: r.Cell("synonyms").List(),
			Definition: r.Cell("definition").Text, KeptDry: r.Cell("kept_dry").Text == "yes", Cite: l.cite(r)}
		l.c.Treatments[t.ID] = t
		l.c.TreatmentNames.Add(t.ID, t.Name, t.Synonyms...)
	}
}

func (l *loader) cloths() {
	for _, r := range l.read("cloths.csv", append([]string{"id", "name", "us_name", "synonyms", "misspellings", "structure", "treatments",
		"group", "right_side", "used_for", "confused_with", "era", "say"}, cite...)...) {
		id := r.Cell("id")
		if !l.newID(id, l.c.Cloths[id.Text] != nil) {
			continue
		}
		k := &Cloth{ID: id.Text, Name: r.Cell("name").Text, USName: r.Cell("us_name").Text, Synonyms: r.Cell("synonyms").List(),
			Misspellings: r.Cell("misspellings").List(), Group: r.Cell("group").Text, RightSide: r.Cell("right_side").Text,
			UsedFor: r.Cell("used_for").List(), ConfusedWith: r.Cell("confused_with").List(), Era: r.Cell("era").Text,
			Describe: r.Cell("say").Text, Cite: l.cite(r)}
		st := r.Cell("structure")
		if k.Structure = l.c.Structures[st.Text]; k.Structure == nil {
			l.missing("structure", st, fmt.Sprintf("structure %q is not in structures.csv", st.Text), fault.DidYouMean(st.Text, keys(l.c.Structures), ""))
			continue
		}
		for _, t := range r.Cell("treatments").List() {
			tr := l.c.Treatments[t]
			if tr == nil {
				l.missing("treatment", r.Cell("treatments"), fmt.Sprintf("treatment %q is not in treatments.csv", t), fault.DidYouMean(t, keys(l.c.Treatments), ""))
				continue
			}
			k.Treatments = append(k.Treatments, tr)
		}
		l.c.Cloths[k.ID] = k
	}
	ids := keys(l.c.Cloths)
	for _, id := range ids {
		k := l.c.Cloths[id]
		l.c.clothOrder = append(l.c.clothOrder, k)
		l.c.nameCloth(k)
	}
}

func (l *loader) terms() {
	for _, r := range l.read("terms.csv", append([]string{"id", "name", "region", "meaning", "trap", "see_also"}, cite...)...) {
		id := r.Cell("id")
		if !l.newID(id, l.c.Terms[id.Text] != nil) {
			continue
		}
		l.c.Terms[id.Text] = &Term{ID: id.Text, Name: r.Cell("name").Text, Region: r.Cell("region").Text, Meaning: r.Cell("meaning").Text,
			Trap: r.Cell("trap").Text, SeeAlso: r.Cell("see_also").List(), Cite: l.cite(r)}
	}
}

// factFile says how one file of facts is read: what its rows are filed under, the
// stem of its three columns, and any key columns that tell its rows apart.
type factFile struct {
	PropertyInfo
	keys []string
}

// sharedFiles hold several properties each, told apart by key columns, or figures
// that are no property of a cloth by themselves.
var sharedFiles = []factFile{
	{PropertyInfo{ID: "bend", File: "bending_length.csv", Stem: "bending_length_cm", Unit: "cm", Low: 0.3, High: 12}, []string{"direction"}},
	{PropertyInfo{ID: "shrink", File: "shrinkage.csv", Stem: "shrinkage_pct", Unit: "%", Low: 0, High: 40}, []string{"direction", "method"}},
	{PropertyInfo{ID: "density", File: "density.csv", Stem: "density_g_cm3", Unit: "g/cm3", Low: 0.2, High: 9}, nil},
	{PropertyInfo{ID: "elongation", File: "elongation.csv", Stem: "elongation_pct", Unit: "%", Low: 0.5, High: 1000}, nil},
	{PropertyInfo{ID: "recovery", File: "recovery.csv", Stem: "recovery_pct", Unit: "%", Low: 0, High: 100}, []string{"stretch_pct"}},
	{PropertyInfo{ID: "retention", File: "retention.csv", Stem: "retention_pct", Unit: "%", Low: 0, High: 200}, nil},
	{PropertyInfo{ID: "bulk", File: "bulk.csv", Stem: "bulk_g_cm3", Unit: "g/cm3", Low: 0.01, High: 2}, nil},
}

// factFiles are all files of facts in three figures or words.
func factFiles() []factFile {
	var out []factFile
	for _, p := range Properties {
		if p.File != "" && p.Row == "" {
			out = append(out, factFile{PropertyInfo: p})
		}
	}
	return append(out, sharedFiles...)
}

func (l *loader) facts() {
	read := make(map[ref][]Estimate, 4096)
	for _, f := range factFiles() {
		cols := append([]string{"of", "id"}, f.keys...)
		cols = append(cols, f.Stem+"_low", f.Stem+"_typical", f.Stem+"_high", "given")
		for _, r := range l.read(f.File, append(cols, cite...)...) {
			at, ok := l.subject(r)
			if !ok {
				continue
			}
			at.prop = f.ID
			for _, k := range f.keys {
				at.prop += " " + r.Cell(k).Text
			}
			if e, ok := l.triple(r, f); ok {
				read[at] = append(read[at], e)
			}
		}
	}
	l.content()
	l.moisture()
	l.effects()
	for at, rows := range read {
		if len(rows) > 1 {
			sort.SliceStable(rows, func(i, j int) bool { return l.c.before(at, rows[i], rows[j]) })
		}
		l.c.facts = append(l.c.facts, factRows{at, rows})
	}
	slices.SortFunc(l.c.facts, func(a, b factRows) int { return a.At.compare(b.At) })
}

// old is the year before which a cloth's mass, thickness, width and hand say
// little of the cloth sold under that name today.
const old = "1960"

// before orders the rows of one fact: better basis first, save that an old
// book does not outrank present practice on figures that have changed since.
func (c *Catalogue) before(at ref, a, b Estimate) bool {
	ra, rb := a.Stated().rank(), b.Stated().rank()
	if p, ok := PropertyByID(at.prop); ok && Properties[p].Dated { // no dated property shares its file
		ra += c.staleness(a)
		rb += c.staleness(b)
	}
	return ra < rb
}

// Dated returns the year of the book an estimate rests on where the cloth sold
// under the name has changed since: for mass, thickness, width and hand, before
// 1960.
func (c *Catalogue) Dated(p Property, e Estimate) (year string, old bool) {
	if !Properties[p].Dated {
		return "", false
	}
	if st := e.Stated(); st != Published && st != Memory || len(e.Sources) == 0 || c.staleness(e) == 0 {
		return "", false
	}
	return c.Sources[e.Sources[0]].Year, true
}

func (c *Catalogue) staleness(e Estimate) int {
	if s := c.Sources[e.Sources[0]]; s != nil && len(s.Year) == 4 && s.Year < old {
		return 10
	}
	return 0
}

// has reports whether an id is there; else it lists those that are.
func has[V any](m map[string]V, id string) (known bool, ids []string) {
	if _, known = m[id]; !known {
		ids = keys(m)
	}
	return known, ids
}

// subject reads the thing a row is about.
func (l *loader) subject(r table.Row) (ref, bool) {
	of, id := r.Cell("of"), r.Cell("id")
	known, ids := false, []string(nil)
	switch of.Text {
	case "cloth":
		known, ids = has(l.c.Cloths, id.Text)
	case "structure":
		known, ids = has(l.c.Structures, id.Text)
	case "fibre":
		known, ids = has(l.c.Fibres, id.Text)
	case "treatment":
		known, ids = has(l.c.Treatments, id.Text)
	default:
		l.bad(of, fmt.Sprintf("of is %q", of.Text), "cloth, structure, fibre or treatment", "")
		return ref{}, false
	}
	if !known {
		l.missing(of.Text, id, fmt.Sprintf("no %s has the id %q", of.Text, id.Text), fault.DidYouMean(id.Text, ids, ""))
		return ref{}, false
	}
	return ref{of: of.Text, id: id.Text}, true
}

// triple reads the three figures or words of a fact.
func (l *loader) triple(r table.Row, f factFile) (Estimate, bool) {
	var v [3]float64
	for i, end := range []string{"_low", "_typical", "_high"} {
		cell := r.Cell(f.Stem + end)
		if f.Scale != nil {
			lv, ok := f.Scale.Level(cell.Text)
			if !ok {
				l.bad(cell, fmt.Sprintf("%q is not on the scale of %s", cell.Text, f.ID),
					strings.Join(f.Scale, ", "), fault.DidYouMean(cell.Text, f.Scale, ""))
				return Estimate{}, false
			}
			v[i] = float64(lv)
			continue
		}
		x, ok, err := cell.Float(f.Low, f.High, f.Unit)
		if err != nil {
			l.found.Add(err)
			return Estimate{}, false
		}
		if !ok {
			l.bad(cell, "the figure is missing", "low, typical and high, all three", "leave the row out where nothing is known")
			return Estimate{}, false
		}
		v[i] = x
	}
	if v[0] > v[1] || v[1] > v[2] {
		l.bad(r.Cell(f.Stem+"_low"), "low, typical and high are out of order", "low ≤ typical ≤ high", "")
		return Estimate{}, false
	}
	ct := l.cite(r)
	e := Estimate{Low: v[0], Typical: v[1], High: v[2], Unit: f.Unit, Sources: []string{ct.Source},
		Locator: ct.Locator, Note: ct.Note}
	e.Basis, e.Word, e.Given = l.split(r, ct.Basis)
	if f.Scale != nil {
		e.Unit = "level"
		e.Words = []string{f.Scale[int(v[0])], f.Scale[int(v[1])], f.Scale[int(v[2])]}
	}
	return e, true
}

func (l *loader) content() {
	f := factFile{PropertyInfo: PropertyInfo{ID: "content", File: "content.csv", Stem: "share_pct", Unit: "%", Low: 0, High: 100}}
	for _, r := range l.read(f.File, append([]string{"of", "id", "fibre", "share_pct_low", "share_pct_typical", "share_pct_high", "given"}, cite...)...) {
		at, ok := l.subject(r)
		if !ok {
			continue
		}
		fb := r.Cell("fibre")
		fibre := l.c.Fibres[fb.Text]
		if fibre == nil {
			l.missing("fibre", fb, fmt.Sprintf("fibre %q is not in fibres.csv", fb.Text), fault.DidYouMean(fb.Text, keys(l.c.Fibres), ""))
			continue
		}
		e, ok := l.triple(r, f)
		if !ok {
			continue
		}
		k := l.c.Cloths[at.id]
		if k == nil {
			l.bad(r.Cell("of"), "content is of a cloth", "cloth", "")
			continue
		}
		dup := false
		for i := range k.Content {
			if k.Content[i].Fibre == fibre { // a second source for the same fibre
				dup = true
				if e.Stated().rank() < k.Content[i].Share.Stated().rank() {
					e.Differ = append(e.Differ, k.Content[i].Share)
					k.Content[i].Share = e
				} else {
					k.Content[i].Share.Differ = append(k.Content[i].Share.Differ, e)
				}
			}
		}
		if !dup {
			k.Content = append(k.Content, Part{Fibre: fibre, Share: e})
		}
	}
	for _, k := range l.c.Cloths {
		sort.SliceStable(k.Content, func(i, j int) bool { return k.Content[i].Share.Typical > k.Content[j].Share.Typical })
	}
}

func (l *loader) moisture() {
	for _, f := range []struct{ file, key, column string }{{"moisture.csv", "table", "allowance_pct"}, {"dots.csv", "", "iron_dots"}} {
		cols := []string{"of", "id"}
		if f.key != "" {
			cols = append(cols, f.key)
		}
		for _, r := range l.read(f.file, append(append(cols, f.column), cite...)...) {
			at, ok := l.subject(r)
			if !ok {
				continue
			}
			v, has, err := r.Cell(f.column).Float(0, 40, "")
			if err != nil {
				l.found.Add(err)
				continue
			}
			if !has {
				continue
			}
			s := Scalar{Value: v, Cite: l.cite(r)}
			if f.key != "" {
				s.Key = r.Cell(f.key).Text
			}
			at.prop = strings.TrimSuffix(f.file, ".csv")
			l.c.scalars[at] = append(l.c.scalars[at], s)
		}
	}
}

func (l *loader) effects() {
	for _, r := range l.read("effects.csv", append([]string{"of", "id", "property", "factor_low", "factor_typical", "factor_high", "given"}, cite...)...) {
		at, ok := l.subject(r)
		if !ok {
			continue
		}
		e := effect{property: r.Cell("property").Text}
		if _, ok := PropertyByID(e.property); !ok && e.property != "bulk" {
			l.bad(r.Cell("property"), fmt.Sprintf("no property is called %q", e.property), "mass, bending-length, shrink-warp …", "")
			continue
		}
		for _, x := range []struct {
			to  *float64
			col string
		}{{&e.low, "factor_low"}, {&e.typical, "factor_typical"}, {&e.high, "factor_high"}} {
			v, has, err := r.Cell(x.col).Float(-3, 20, "")
			if err != nil {
				l.found.Add(err)
			} else if !has {
				l.bad(r.Cell(x.col), "the factor is missing", "low, typical and high", "")
			}
			*x.to = v
		}
		e.Cite = l.cite(r)
		e.Basis, _, _ = l.split(r, e.Basis)
		at.prop = "effects"
		l.c.effects[at] = append(l.c.effects[at], e)
	}
}

// Scalars returns single figures of a fibre: file "moisture" or "dots".
func (c *Catalogue) Scalars(file, fibre string) []Scalar {
	return c.scalars[ref{"fibre", fibre, file}]
}
