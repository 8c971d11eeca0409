package data_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/require"

	"tenter/data"
)

// -update rewrites order, quoting and number form of the tables and the list
// of sources that nothing cites; it changes nothing else.
var update = flag.Bool("update", false, "rewrite order, quoting and number form of the data files")

// The part of a Frictionless data package that the lint reads.
type (
	pack struct {
		Resources []resource `json:"resources"`
	}
	resource struct {
		Name         string            `json:"name"`
		Path         string            `json:"path"`
		Title        string            `json:"title"`
		IDResolvesIn map[string]string `json:"idResolvesIn"`
		OrderedBy    []string          `json:"orderedBy"`
		Schema       struct {
			Fields      []field    `json:"fields"`
			PrimaryKey  []string   `json:"primaryKey"`
			UniqueKeys  [][]string `json:"uniqueKeys"`
			ForeignKeys []struct {
				Fields    []string `json:"fields"`
				Reference struct {
					Resource string   `json:"resource"`
					Fields   []string `json:"fields"`
				} `json:"reference"`
			} `json:"foreignKeys"`
		} `json:"schema"`
	}
	field struct {
		Name        string `json:"name"`
		Type        string `json:"type"`
		Unit        string `json:"unit"`
		ListOf      string `json:"listOf"`
		Constraints struct {
			Required  bool     `json:"required"`
			Enum      []string `json:"enum"`
			Pattern   string   `json:"pattern"`
			Minimum   *float64 `json:"minimum"`
			Maximum   *float64 `json:"maximum"`
			MaxLength int      `json:"maxLength"`
		} `json:"constraints"`
	}
)

func (r resource) key() []string {
	if len(r.Schema.PrimaryKey) > 0 {
		return r.Schema.PrimaryKey
	}
	return r.Schema.UniqueKeys[0]
}

func (r resource) field(name string) (field, bool) {
	for _, f := range r.Schema.Fields {
		if f.Name == name {
			return f, true
		}
	}
	return field{}, false
}

// sheet is one file as read: rows as maps from column to text.
type sheet struct {
	resource
	raw    []byte
	header []string
	rows   []map[string]string
}

// book is every file, by resource name.
type book struct {
	pack   pack
	sheets map[string]*sheet
	ids    map[string]map[string]bool // resource → ids
}

func readBook(t *testing.T) *book {
	t.Helper()
	raw, err := fs.ReadFile(data.FS, "datapackage.json")
	require.NoError(t, err)
	b := &book{sheets: map[string]*sheet{}, ids: map[string]map[string]bool{}}
	require.NoError(t, json.Unmarshal(raw, &b.pack))
	for _, r := range b.pack.Resources {
		raw, err := fs.ReadFile(data.FS, r.Path)
		require.NoError(t, err, "datapackage.json lists %s", r.Path)
		s := &sheet{resource: r, raw: raw}
		recs, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
		require.NoError(t, err, r.Path)
		require.NotEmpty(t, recs, r.Path)
		s.header = recs[0]
		ids := map[string]bool{}
		for _, rec := range recs[1:] {
			row := map[string]string{}
			for i, h := range s.header {
				row[h] = rec[i]
			}
			s.rows = append(s.rows, row)
			ids[row["id"]] = true
		}
		b.sheets[r.Name], b.ids[r.Name] = s, ids
	}
	return b
}

// facts are the rows of a fact file about one thing.
func (b *book) facts(resource, of, id string) []map[string]string {
	var out []map[string]string
	for _, r := range b.sheets[resource].rows {
		if r["of"] == of && r["id"] == id {
			out = append(out, r)
		}
	}
	return out
}

func number(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// The package and the folder must list the same tables, and every table must
// have the columns the package gives it, in that order.
func TestPackage(t *testing.T) {
	b := readBook(t)
	var listed, there []string
	for _, r := range b.pack.Resources {
		listed = append(listed, r.Path)
		require.NotEmpty(t, r.Title, r.Path)
	}
	files, err := filepath.Glob("*.csv")
	require.NoError(t, err)
	there = append(there, files...)
	sort.Strings(listed)
	sort.Strings(there)
	require.Equal(t, there, listed, "datapackage.json and the folder list different files")
	for _, s := range b.sheets {
		var want []string
		for _, f := range s.Schema.Fields {
			want = append(want, f.Name)
			if f.Type == "number" || f.Type == "integer" {
				require.NotEmpty(t, f.Unit, "%s: column %s has no unit", s.Path, f.Name)
				require.NotNil(t, f.Constraints.Minimum, "%s: column %s has no minimum", s.Path, f.Name)
				require.NotNil(t, f.Constraints.Maximum, "%s: column %s has no maximum", s.Path, f.Name)
			}
		}
		require.Equal(t, want, s.header, "%s: columns differ from datapackage.json", s.Path)
		if suffix := unitOf(s); suffix != "" {
			require.Equal(t, suffix, declaredUnit(s), "%s: the unit in the column's name is not the declared one", s.Path)
		}
	}
}

// unitSuffix says which unit the end of a column's name promises.
var unitSuffix = map[string]string{"_gsm": "g/m2", "_cm": "cm", "_mm": "mm", "_c": "C", "_pct": "%", "_g_cm3": "g/cm3"}

func unitOf(s *sheet) string {
	if len(s.Schema.UniqueKeys) == 0 {
		return ""
	}
	best := ""
	for _, h := range s.header {
		stem := strings.TrimSuffix(h, "_typical")
		for suffix, unit := range unitSuffix {
			if stem != h && strings.HasSuffix(stem, suffix) {
				best = unit
			}
		}
	}
	return best
}

func declaredUnit(s *sheet) string {
	for _, f := range s.Schema.Fields {
		if strings.HasSuffix(f.Name, "_typical") {
			return f.Unit
		}
	}
	return ""
}

// Every row by itself. Run one with -run 'Lint/mass.csv/cotton-lawn'.
func TestLint(t *testing.T) {
	b := readBook(t)
	for _, r := range b.pack.Resources {
		s := b.sheets[r.Name]
		t.Run(r.Path, func(t *testing.T) {
			t.Run("form", func(t *testing.T) { lintForm(t, s) })
			t.Run("keys", func(t *testing.T) { lintKeys(t, s) })
			for i, row := range s.rows {
				name := row["id"]
				if name == "" {
					name = row["key"]
				}
				if name == "" {
					name = row["word"]
				}
				t.Run(name, func(t *testing.T) {
					for _, finding := range b.lintRow(s, row) {
						t.Errorf("data/%s row %d (%s): %s", s.Path, i+2, strings.Join(keyOf(s, row), " "), finding)
					}
				})
			}
		})
	}
}

func keyOf(s *sheet, row map[string]string) []string {
	var k []string
	for _, c := range s.key() {
		k = append(k, row[c])
	}
	return k
}

// lintForm: sorted, one number form, minimal quoting, LF, no blanks at ends.
func lintForm(t *testing.T, s *sheet) {
	rows := slices.Clone(s.rows)
	sort.SliceStable(rows, func(i, j int) bool { return before(s, rows[i], rows[j]) })
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	require.NoError(t, w.Write(s.header))
	for _, row := range rows {
		rec := make([]string, len(s.header))
		for i, h := range s.header {
			rec[i] = row[h]
			f, _ := s.field(h)
			if v, err := strconv.ParseFloat(rec[i], 64); err == nil && (f.Type == "number" || f.Type == "integer") {
				rec[i] = strconv.FormatFloat(v, 'f', -1, 64)
			}
		}
		require.NoError(t, w.Write(rec))
	}
	w.Flush()
	if bytes.Equal(out.Bytes(), s.raw) {
		return
	}
	if *update {
		require.NoError(t, os.WriteFile(s.Path, out.Bytes(), 0o644))
		t.Logf("data/%s: order, quoting or number form rewritten", s.Path)
		return
	}
	was, want := strings.Split(string(s.raw), "\n"), strings.Split(out.String(), "\n")
	for i := range was {
		if i >= len(want) || was[i] != want[i] {
			t.Fatalf("data/%s:%d: out of order or not in normal form\n  is:   %s\n  want: %s\n  mend: go test ./data -update", s.Path, i+1, was[i], at(want, i))
		}
	}
	t.Fatalf("data/%s: %d lines, want %d", s.Path, len(was), len(want))
}

func at(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return "(end)"
}

var basisRank = map[string]string{"published": "0", "practice": "1", "memory": "2"}

// before orders rows by key, a better basis first within one thing.
func before(s *sheet, a, b map[string]string) bool {
	for _, c := range s.OrderedBy {
		if x, y := number(a[c]), number(b[c]); x != y {
			return x < y
		}
	}
	for _, c := range s.key() {
		if c == "source_id" {
			if x, y := basisRank[a["basis"]], basisRank[b["basis"]]; x != y {
				return x < y
			}
		}
		if a[c] != b[c] {
			return a[c] < b[c]
		}
	}
	return false
}

func lintKeys(t *testing.T, s *sheet) {
	seen := map[string]int{}
	for i, row := range s.rows {
		k := strings.Join(keyOf(s, row), "\x00")
		if first, dup := seen[k]; dup {
			t.Errorf("data/%s: rows %d and %d have the same key %q", s.Path, first, i+2, keyOf(s, row))
			continue
		}
		seen[k] = i + 2
	}
}

// lintRow collects every finding about one row.
func (b *book) lintRow(s *sheet, row map[string]string) (found []string) {
	bad := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	for _, f := range s.Schema.Fields {
		v := row[f.Name]
		c := f.Constraints
		if v == "" {
			if c.Required {
				bad("%s is empty", f.Name)
			}
			continue
		}
		if v != strings.Join(strings.Fields(v), " ") {
			bad("%s has blanks to spare: %q", f.Name, v)
		}
		if c.MaxLength > 0 && len([]rune(v)) > c.MaxLength {
			bad("%s is too long: %d characters, want at most %d", f.Name, len([]rune(v)), c.MaxLength)
		}
		if len(c.Enum) > 0 && !slices.Contains(c.Enum, v) {
			bad("%s is %q, want one of %s", f.Name, v, strings.Join(c.Enum, ", "))
		}
		if c.Pattern != "" && !regexp.MustCompile(c.Pattern).MatchString(v) {
			bad("%s is %q, want the form %s", f.Name, v, c.Pattern)
		}
		if f.Type == "number" || f.Type == "integer" {
			x, err := strconv.ParseFloat(v, 64)
			switch {
			case err != nil:
				bad("%s is %q, not a number", f.Name, v)
			case f.Type == "integer" && x != float64(int(x)):
				bad("%s is %s, want a whole number", f.Name, v)
			case x < *c.Minimum || x > *c.Maximum:
				bad("%s is %s, want %v to %v %s", f.Name, v, *c.Minimum, *c.Maximum, f.Unit)
			}
		}
		if f.ListOf != "" {
			for _, x := range list(v) {
				if !b.ids[f.ListOf][x] {
					bad("%s names %q, which is not in %s", f.Name, x, f.ListOf)
				}
			}
		}
		if prose[f.Name] {
			found = append(found, lintProse(s, f.Name, v)...)
		}
	}
	found = append(found, b.lintLinks(s, row)...)
	found = append(found, b.lintBasis(s, row)...)
	found = append(found, lintTriple(s, row)...)
	found = append(found, lintGiven(s, row)...)
	if s.Name == "cloths" {
		found = append(found, b.lintCloth(row)...)
	}
	if s.Name == "sources" {
		if row["read"] == "yes" && row["seen"] == "" {
			bad("was read, but seen does not say how much")
		}
		if row["read"] == "no" && row["seen"] != "" {
			bad("was not read, yet seen is given")
		}
	}
	if s.Name == "weaves" {
		picks := strings.Split(row["lift_plan"], ";")
		for _, p := range picks {
			if len(p) != len(picks[0]) {
				bad("picks of different length in %s", row["lift_plan"])
			}
		}
	}
	return found
}

func list(v string) []string {
	if v == "" {
		return nil
	}
	return strings.Split(v, "; ")
}

func (b *book) lintLinks(s *sheet, row map[string]string) (found []string) {
	for _, k := range s.Schema.ForeignKeys {
		if v := row[k.Fields[0]]; v != "" && !b.ids[k.Reference.Resource][v] {
			found = append(found, fmt.Sprintf("%s is %q, which is not in %s", k.Fields[0], v, k.Reference.Resource))
		}
	}
	if to, ok := s.IDResolvesIn[row["of"]]; ok && !b.ids[to][row["id"]] {
		found = append(found, fmt.Sprintf("no %s has the id %q", row["of"], row["id"]))
	}
	if s.Name == "corrections" {
		if _, err := fs.Stat(data.FS, row["file"]); err != nil {
			found = append(found, fmt.Sprintf("file %q is not in the folder", row["file"]))
		}
	}
	return found
}

func (b *book) source(id string) map[string]string {
	for _, r := range b.sheets["sources"].rows {
		if r["id"] == id {
			return r
		}
	}
	return nil
}

// lintBasis: a published value comes from a source that was read, with the
// place; practice has no source; what is remembered has one.
func (b *book) lintBasis(s *sheet, row map[string]string) (found []string) {
	src := b.source(row["source_id"])
	if src == nil {
		return nil // told by the key check
	}
	switch row["basis"] {
	case "published":
		if src["read"] != "yes" {
			found = append(found, "published from "+src["id"]+", which was not read")
		}
		if row["locator"] == "" {
			found = append(found, "published without a locator")
		}
	case "practice":
		if src["id"] != "practice" {
			found = append(found, "practice has the source \"practice\", not "+src["id"])
		}
	case "memory":
		if src["kind"] == "practice" || src["kind"] == "computation" {
			found = append(found, "memory is of a named publication, not of "+src["id"])
		}
	}
	return found
}

// admits matches what a note says of figures that its source does not give.
var admits = []struct {
	note  *regexp.Regexp
	cells []string // which the source then cannot be said to give
}{
	{regexp.MustCompile(`(?i)\b(figures|shares|split|grade|rest)\b[^;]*\b(ours|estimate|practice|allowance)\b`), []string{"low", "typical", "high"}},
	{regexp.MustCompile(`(?i)\b(band|spread)\b[^;]*\b(ours|practice|allowance)\b`), []string{"low", "high"}},
	{regexp.MustCompile(`(?i)\b(middle|typical)\b[^;]*\b(ours|practice)\b`), []string{"typical"}},
	{regexp.MustCompile(`(?i)\blow\b[^;]*\b(ours|practice|allowance)\b`), []string{"low"}},
	{regexp.MustCompile(`(?i)\bhigh\b[^;]*\b(ours|practice|allowance)\b`), []string{"high"}},
}

// lintGiven: a figure that the note calls ours is not said to be the source's, and a
// row of a source says which of its figures are.
func lintGiven(s *sheet, row map[string]string) (found []string) {
	if _, has := s.field("given"); !has {
		return nil
	}
	given := list(row["given"])
	switch {
	case row["basis"] == "practice" && len(given) > 0:
		found = append(found, "practice has no source that could give "+row["given"])
	case row["basis"] != "practice" && len(given) == 0:
		found = append(found, "given is empty: which of low, typical and high does the source give, or only a word?")
	}
	for _, a := range admits {
		if !a.note.MatchString(row["note"]) {
			continue
		}
		for _, c := range a.cells {
			if slices.Contains(given, c) {
				found = append(found, fmt.Sprintf("given names %s, but the note says of it: %s", c, a.note.FindString(row["note"])))
			}
		}
	}
	return found
}

// lintTriple: low ≤ typical ≤ high, by number or by place on the scale.
func lintTriple(s *sheet, row map[string]string) (found []string) {
	for _, h := range s.header {
		stem, ok := strings.CutSuffix(h, "_typical")
		if !ok || row[stem+"_low"] == "" || row[h] == "" || row[stem+"_high"] == "" {
			continue
		}
		f, _ := s.field(h)
		at := func(v string) float64 {
			if f.Type == "string" {
				return float64(slices.Index(f.Constraints.Enum, v))
			}
			return number(v)
		}
		if lo, ty, hi := at(row[stem+"_low"]), at(row[h]), at(row[stem+"_high"]); lo > ty || ty > hi {
			found = append(found, fmt.Sprintf("%s %s, typical %s, high %s are out of order", stem+"_low", row[stem+"_low"], row[h], row[stem+"_high"]))
		}
	}
	return found
}

// lintCloth: what every cloth must have, and what cannot be.
func (b *book) lintCloth(row map[string]string) (found []string) {
	id := row["id"]
	bad := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	content := b.facts("content", "cloth", id)
	if len(content) == 0 {
		bad("has no content")
	}
	low, typical, high := map[string]float64{}, map[string]float64{}, map[string]float64{}
	for _, c := range content {
		if _, dup := typical[c["fibre"]]; !dup {
			low[c["fibre"]], typical[c["fibre"]], high[c["fibre"]] = number(c["share_pct_low"]), number(c["share_pct_typical"]), number(c["share_pct_high"])
		}
	}
	if lo, ty, hi := total(low), total(typical), total(high); len(content) > 0 && (lo > 100.5 || ty < 95 || ty > 105 || hi < 99.5) {
		bad("shares of content add to %g, %g and %g %% (low, typical, high), which cannot make 100", lo, ty, hi)
	}
	mass := b.facts("mass", "cloth", id)
	if len(mass) == 0 {
		bad("has no mass")
	}
	if th := b.facts("thickness", "cloth", id); len(th) > 0 && len(mass) > 0 {
		for _, x := range th {
			if d := number(mass[0]["mass_gsm_typical"]) / number(x["thickness_mm_typical"]) / 1000; d < 0.02 || d > 1.6 {
				bad("mass over thickness is %.3g g/cm3, want 0.02 to 1.6", d)
			}
		}
	}
	for _, p := range b.facts("pressing", "cloth", id) {
		for _, c := range content {
			f := b.facts("pressing", "fibre", c["fibre"])
			if number(c["share_pct_high"]) >= 1 && len(f) > 0 && number(p["pressing_c_typical"]) > number(f[0]["pressing_c_typical"]) {
				bad("pressing limit %s C is above that of its fibre %s, %s C", p["pressing_c_typical"], c["fibre"], f[0]["pressing_c_typical"])
			}
		}
	}
	for _, x := range list(row["confused_with"]) {
		if x == id {
			bad("is confused with itself")
		}
	}
	if row["structure"] == "flannel" && slices.Contains(list(row["treatments"]), "brushed") && len(b.facts("nap", "cloth", id)) == 0 {
		bad("flannel is napped already: leave \"brushed\" out, or give its nap")
	}
	return found
}

func total(m map[string]float64) (sum float64) {
	for _, v := range m {
		sum += v
	}
	return sum
}

// Columns in which sentences stand.
var prose = map[string]bool{"burn": true, "hurts": true, "caution": true, "definition": true, "right_side": true, "used_for": true,
	"say": true, "meaning": true, "trap": true, "note": true, "name": true, "seen": true, "was": true, "is": true, "why": true, "synonyms": true, "means": true}

// american finds US spelling of words that these tables use.
var american = regexp.MustCompile(`(?i)\b(colors?|colored|coloring|discolors?|fibers?|grays?|centers?|centered|meters?|centimeters?|millimeters?|liters?|lusters?|mercerized|molds?|molded|plow|pajamas?|theaters?|woolens?|aluminum|jewelry|labeled|labeling|delustered|catalog|favorite|flavor|odors?|vapors?|sulfur|skillful|cozy|neighbor|behavior|harbor|draftsman)\b`)

// brands are trade marks that a maker may be tempted to write.
var brands = regexp.MustCompile(`(?i)\b(lycra|tencel|gore-?tex|velcro|kevlar|nomex|teflon|scotchgard|ultrasuede|alcantara|polartec|cordura|pellon|vilene|vlieseline|bemberg|terylene|dacron|crimplene|orlon|acrilan|dynel|ventile|pertex|thinsulate|primaloft|mylar|lurex|sanfori[sz]ed|viyella|clydella|tyvek|harris tweed|cravenette|sunbrella|swarovski|ban-?lon|lastex|rigilene|naugahyde|rexine|aertex|coolmax|supplex|tactel|sympatex|thermolite|trevira|courtelle|tricel|arnel|ecovero|ingeo|tana lawn|liberty print|ginetex|g[uü]termann|dylon)\b`)

func lintProse(s *sheet, column, v string) (found []string) {
	if w := brands.FindString(v); w != "" {
		found = append(found, fmt.Sprintf("%s holds a trade mark, %q: say the generic name", column, w))
	}
	// Names, what is said of the other country's word, and what a source says of
	// itself are spelt as they are.
	if column == "synonyms" || column == "trap" || (s.Name == "terms" && column == "name") || s.Name == "sources" {
		return found
	}
	for _, w := range american.FindAllString(v, -1) {
		found = append(found, fmt.Sprintf("%s holds US spelling, %q", column, w))
	}
	return found
}

// folded is the form in which names are compared.
func folded(s string) string {
	s = strings.NewReplacer("é", "e", "è", "e", "ê", "e", "ç", "c", "ñ", "n", "ï", "i", "ô", "o", "û", "u", "à", "a", "â", "a", "-", " ", ",", " ").Replace(strings.ToLower(s))
	return strings.Join(strings.Fields(s), " ")
}

// A name leads to one thing of its kind: a synonym or misspelling is nobody
// else's name, id or synonym. A US name may be another cloth's British name;
// then the two must be listed as confused. One misspelling may be of two cloths
// whose right spelling is shared as well.
func TestNamesLeadToOneThing(t *testing.T) {
	b := readBook(t)
	for _, kind := range []string{"fibres", "structures", "treatments", "cloths", "terms"} {
		t.Run(kind, func(t *testing.T) {
			for _, finding := range nameClashes(kind, b.sheets[kind].rows) {
				t.Errorf("data/%s.csv: %s", kind, finding)
			}
		})
	}
}

func nameClashes(kind string, rows []map[string]string) (found []string) {
	type claim struct{ id, as string }
	owners := map[string]claim{}
	confused := map[string]bool{}
	for _, row := range rows {
		for _, x := range list(row["confused_with"]) {
			confused[row["id"]+" "+x], confused[x+" "+row["id"]] = true, true
		}
	}
	enter := func(id, text, as string) {
		k := folded(text)
		o, taken := owners[k]
		switch {
		case k == "":
		case !taken:
			owners[k] = claim{id, as}
		case o.id == id:
		case as == "misspelling" && o.as == "misspelling":
		case (as == "us_name" || o.as == "us_name") && confused[id+" "+o.id]:
		default:
			found = append(found, fmt.Sprintf("%q is the %s of %s and the %s of %s", text, as, id, o.as, o.id))
		}
	}
	for _, row := range rows {
		enter(row["id"], row["id"], "id")
		if kind != "terms" { // one word may have a British and an American entry
			enter(row["id"], row["name"], "name")
		}
	}
	for _, column := range []string{"us_name", "synonyms", "misspellings"} {
		for _, row := range rows {
			for _, x := range list(row[column]) {
				if column == "misspellings" && folded(x) == folded(row["name"]) {
					found = append(found, fmt.Sprintf("%s: misspelling %q is its name", row["id"], x))
				}
				enter(row["id"], x, strings.TrimSuffix(column, "s"))
			}
		}
	}
	return found
}

func TestNameClashesAreFound(t *testing.T) {
	rows := []map[string]string{
		{"id": "calico", "name": "calico", "us_name": "muslin", "synonyms": "grey cloth"},
		{"id": "muslin", "name": "muslin", "synonyms": "grey cloth; thin cloth", "misspellings": "muslim; muslin"},
	}
	require.Len(t, nameClashes("cloths", rows), 3, "the US name, the shared synonym, the misspelling that is right")
	rows[1]["confused_with"] = "calico"
	require.Len(t, nameClashes("cloths", rows), 2, "a US name may be shared by cloths that are confused")
}

// Every block of the TOML files cites sources that exist, and a published one
// a source that was read; its words are free of trade marks and US spelling.
func TestTOMLSources(t *testing.T) {
	b := readBook(t)
	var files []string
	require.NoError(t, fs.WalkDir(data.FS, ".", func(path string, d fs.DirEntry, err error) error {
		if strings.HasSuffix(path, ".toml") {
			files = append(files, path)
		}
		return err
	}))
	require.NotEmpty(t, files)
	for _, path := range files {
		t.Run(path, func(t *testing.T) {
			raw, err := fs.ReadFile(data.FS, path)
			require.NoError(t, err)
			var doc map[string]any
			require.NoError(t, toml.Unmarshal(raw, &doc))
			blocks := 0
			var walk func(where string, v any)
			walk = func(where string, v any) {
				switch v := v.(type) {
				case map[string]any:
					if id, ok := v["id"].(string); ok {
						where += " " + id
					}
					if _, ok := v["basis"]; ok {
						blocks++
						for _, finding := range b.lintBlock(v) {
							t.Errorf("data/%s:%s: %s", path, where, finding)
						}
					}
					for k, x := range v {
						walk(where+" "+k, x)
					}
				case []any:
					for _, x := range v {
						walk(where, x)
					}
				case string:
					if w := brands.FindString(v); w != "" {
						t.Errorf("data/%s:%s holds a trade mark, %q", path, where, w)
					}
					if w := american.FindString(v); w != "" && !strings.HasSuffix(where, "synonyms") {
						t.Errorf("data/%s:%s holds US spelling, %q", path, where, w)
					}
				}
			}
			walk("", doc)
			require.NotZero(t, blocks, "data/%s has no block with a basis", path)
		})
	}
}

func (b *book) lintBlock(v map[string]any) (found []string) {
	ids, _ := v["sources"].([]any)
	if len(ids) == 0 {
		return []string{"sources is missing or empty"}
	}
	read, named := false, false
	for _, x := range ids {
		src := b.source(fmt.Sprint(x))
		if src == nil {
			found = append(found, fmt.Sprintf("source %q is not in sources.csv", x))
			continue
		}
		read = read || src["read"] == "yes"
		named = named || src["kind"] != "practice"
	}
	switch v["basis"] {
	case "published":
		if !read {
			found = append(found, "published, but none of its sources was read")
		}
	case "memory":
		if !named {
			found = append(found, "memory is of a named publication")
		}
	case "practice":
	case "derived": // what the program computes, as the pictures of pieces worn
		if len(ids) != 1 || ids[0] != "tenter" {
			found = append(found, `derived is of what the program computes, sources = ["tenter"]`)
		}
	default:
		found = append(found, fmt.Sprintf("basis is %q, want published, practice or memory", v["basis"]))
	}
	return found
}

func TestBlockFindings(t *testing.T) {
	b := readBook(t)
	block := func(basis string, sources ...any) map[string]any {
		return map[string]any{"basis": basis, "sources": sources}
	}
	require.Empty(t, b.lintBlock(block("published", "dooley-1914")))
	require.Empty(t, b.lintBlock(block("practice", "practice")))
	require.NotEmpty(t, b.lintBlock(block("published", "cook-1984")), "was not read")
	require.NotEmpty(t, b.lintBlock(block("memory", "practice")), "practice is no publication")
	require.NotEmpty(t, b.lintBlock(block("practice", "nobody-1900")), "unknown source")
	require.NotEmpty(t, b.lintBlock(block("practice")), "no source")
	require.Empty(t, b.lintBlock(block("derived", "tenter")))
	require.NotEmpty(t, b.lintBlock(block("derived", "practice")), "nobody computed it")
	require.NotEmpty(t, b.lintBlock(block("guess", "practice")), "unknown basis")
}

// Every source is cited by a value, a rule, a formula or a test's row. One that
// is not goes: a list of books proves nothing.
func TestSourcesAreCited(t *testing.T) {
	b := readBook(t)
	var text bytes.Buffer
	for _, s := range b.sheets {
		if s.Name != "sources" {
			text.Write(s.raw)
		}
	}
	root := ".."
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if d.Name() == ".git" {
				return filepath.SkipDir
			}
			return nil
		}
		cites := strings.HasSuffix(path, ".toml") || strings.HasSuffix(path, ".go") || strings.Contains(filepath.ToSlash(path), "testdata/reference/")
		if !cites || strings.HasSuffix(path, "lint_test.go") || d.Name() == "compiled.go" { // the literals repeat the list of sources
			return nil
		}
		raw, err := os.ReadFile(path)
		text.Write(raw)
		return err
	}))
	words := map[string]bool{}
	for _, w := range regexp.MustCompile(`[a-z0-9]+(-[a-z0-9]+)*`).FindAllString(text.String(), -1) {
		words[w] = true
	}
	var uncited []string
	for _, r := range b.sheets["sources"].rows {
		if !words[r["id"]] {
			uncited = append(uncited, r["id"])
		}
	}
	sort.Strings(uncited)
	require.Empty(t, uncited, "sources that nothing cites: cite them or drop them")
}

// A check that cannot fail is none: each kind of finding is made to happen.
func TestLintFinds(t *testing.T) {
	b := readBook(t)
	mass, cloths, fibres := b.sheets["mass"], b.sheets["cloths"], b.sheets["fibres"]
	good := func(s *sheet) map[string]string {
		row := map[string]string{}
		for k, v := range s.rows[0] {
			row[k] = v
		}
		require.Empty(t, b.lintRow(s, row), "the first row of %s is not clean", s.Path)
		return row
	}
	for _, c := range []struct {
		name, want string
		sheet      *sheet
		change     map[string]string
	}{
		{"word for a number", "not a number", mass, map[string]string{"mass_gsm_low": "7O"}},
		{"outside the range", "want 5 to 2000", mass, map[string]string{"mass_gsm_high": "20000"}},
		{"out of order", "out of order", mass, map[string]string{"mass_gsm_low": "900", "mass_gsm_high": "1000", "mass_gsm_typical": "50"}},
		{"empty figure", "is empty", mass, map[string]string{"mass_gsm_typical": ""}},
		{"unknown cloth", "no cloth has the id", mass, map[string]string{"id": "no-such-cloth"}},
		{"unknown source", "which is not in sources", mass, map[string]string{"source_id": "nobody-1900"}},
		{"published, not read", "which was not read", mass, map[string]string{"basis": "published", "source_id": "cook-1984", "locator": "p. 1"}},
		{"published, no place", "without a locator", mass, map[string]string{"basis": "published", "source_id": "dooley-1914", "locator": ""}},
		{"practice with a book", "practice has the source", mass, map[string]string{"basis": "practice", "source_id": "dooley-1914"}},
		{"memory of nothing", "memory is of a named", mass, map[string]string{"basis": "memory", "source_id": "practice"}},
		{"a band said to be the source's", "given names low, but the note says of it", mass, map[string]string{"basis": "published", "source_id": "dooley-1914", "locator": "p. 1", "given": "low; typical; high", "note": "called light; the band is practice"}},
		{"shares said to be the source's", "given names typical", mass, map[string]string{"basis": "published", "source_id": "dooley-1914", "locator": "p. 1", "given": "typical", "note": "cotton is named; the figures are ours"}},
		{"nothing said of the figures", "given is empty", mass, map[string]string{"basis": "published", "source_id": "dooley-1914", "locator": "p. 1", "given": ""}},
		{"practice that gives figures", "practice has no source that could give", mass, map[string]string{"basis": "practice", "source_id": "practice", "given": "typical"}},
		{"unknown basis", "want one of", mass, map[string]string{"basis": "guess"}},
		{"unknown structure", "which is not in structures", cloths, map[string]string{"structure": "woolly"}},
		{"unknown treatment", "which is not in treatments", cloths, map[string]string{"treatments": "mercerised; blessed"}},
		{"bad id", "want the form", cloths, map[string]string{"id": "Cotton_Lawn"}},
		{"no content", "has no content", cloths, map[string]string{"id": "no-such-cloth"}},
		{"too long", "too long", cloths, map[string]string{"say": strings.Repeat("long ", 50) + "."}},
		{"trade mark", "trade mark", cloths, map[string]string{"say": "Like Lycra."}},
		{"US spelling", "US spelling", cloths, map[string]string{"say": "A gray cloth."}},
		{"spare blanks", "blanks to spare", cloths, map[string]string{"say": " A cloth."}},
		{"off the list", "want one of", fibres, map[string]string{"family": "vegetable"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			row := good(c.sheet)
			for k, v := range c.change {
				row[k] = v
			}
			require.Contains(t, strings.Join(b.lintRow(c.sheet, row), "\n"), c.want)
		})
	}
	t.Run("content of 60", func(t *testing.T) {
		row := good(cloths)
		kept := b.sheets["content"].rows
		defer func() { b.sheets["content"].rows = kept }()
		b.sheets["content"].rows = []map[string]string{{"of": "cloth", "id": row["id"], "fibre": "cotton",
			"share_pct_low": "60", "share_pct_typical": "60", "share_pct_high": "60"}}
		require.Contains(t, strings.Join(b.lintRow(cloths, row), "\n"), "cannot make 100")
	})
	t.Run("pressed hotter than its fibre", func(t *testing.T) {
		row := good(cloths)
		kept := b.sheets["pressing"].rows
		defer func() { b.sheets["pressing"].rows = kept }()
		b.sheets["pressing"].rows = append(slices.Clone(kept), map[string]string{"of": "cloth", "id": row["id"], "pressing_c_typical": "230"})
		require.Contains(t, strings.Join(b.lintRow(cloths, row), "\n"), "above that of its fibre")
	})
}
