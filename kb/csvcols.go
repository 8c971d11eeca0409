package kb

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
)

// unitWords are how headers write units.
var unitWords = map[string]string{
	"cm": "cm", "cms": "cm", "centimetre": "cm", "centimetres": "cm", "centimeters": "cm", "mm": "mm", "millimetres": "mm", "m": "m", "mtr": "m", "mtrs": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"in": "in", "ins": "in", "inch": "in", "inches": "in", "yd": "yd", "yds": "yd", "yard": "yd", "yards": "yd",
	"gsm": "gsm", "g m2": "gsm", "g sqm": "gsm", "g per m2": "gsm", "oz": "oz", "oz yd2": "oz", "oz sq yd": "oz", "osy": "oz", "ounces": "oz", "momme": "momme", "mm silk": "momme",
	"pct": "pct", "percent": "pct", "per cent": "pct",
}

// asName are headers that name the swatch where nothing else does, and otherwise
// what it was sold as.
var asName = []string{"fabric", "cloth", "material", "description", "textile"}

// splitUnit parts a column of ours from its unit: width_in.
func splitUnit(ours string) (base, unit string) {
	for _, k := range columnKinds {
		for _, u := range k.units {
			if ours == k.name+"_"+u {
				return k.name, u
			}
		}
	}
	return ours, ""
}

// header parts a column name of theirs into words and unit: "Width (cm)",
// "length in yards", "Weight g/m2", "metres".
func headerWords(theirs string) (words, unit string) {
	t := theirs
	for _, br := range []string{"()", "[]", "{}"} {
		if i := strings.IndexByte(t, br[0]); i >= 0 {
			if j := strings.IndexByte(t[i:], br[1]); j > 0 {
				inside := t[i+1 : i+j]
				u := unitOf(inside)
				if u == "" && strings.TrimSpace(inside) == "%" {
					u = "pct"
				}
				t = t[:i] + " " + t[i+j+1:]
				if u != "" {
					unit = u
				} else {
					t += " " + inside
				}
			}
		}
	}
	if strings.Contains(t, "%") {
		unit, t = "pct", strings.ReplaceAll(t, "%", " ")
	}
	w := strings.Fields(fibres.FoldName(strings.NewReplacer("_", " ", "/", " / ").Replace(t)))
	if unit == "" {
		for n := min(3, len(w)); n >= 1; n-- {
			if u := unitWords[strings.Join(w[len(w)-n:], " ")]; u != "" && len(w) > n {
				unit, w = u, w[:len(w)-n]
				if k := len(w); k > 1 && (w[k-1] == "in" || w[k-1] == "per") { // "length in yards"
					w = w[:k-1]
				}
				break
			}
		}
	}
	return strings.Join(w, " "), unit
}

func unitOf(s string) string { return unitWords[fibres.FoldName(strings.ReplaceAll(s, "/", " "))] }

// guess is the column of ours that a header means, with its unit.
func guess(theirs string) (ours, unit string) {
	folded := fibres.FoldName(strings.ReplaceAll(theirs, "_", " "))
	for _, k := range columnKinds { // our own files: width_cm
		for _, u := range k.units {
			if fibres.FoldName(k.name+" "+u) == folded {
				return k.name, u
			}
		}
	}
	words, unit := headerWords(theirs)
	for _, k := range columnKinds {
		if slices.Contains(k.called, words) {
			if k.name == "mass" && words == "gsm" {
				unit = "gsm"
			}
			if k.name == "length" && unit == "" {
				unit = map[string]string{"yardage": "yd", "metrage": "m", "metreage": "m"}[words]
			}
			return k.name, unit
		}
	}
	// A header that is only a unit names what is measured in it.
	switch u := unitOf(theirs); u {
	case "m", "yd":
		return "length", u
	case "gsm", "oz", "momme":
		return "mass", u
	}
	return "", unit
}

// column is one column of a list as it is read.
type column struct {
	at   int
	kind *columnKind
	unit string
}

// matcher finds whose each column is.
type matcher struct {
	im    *Import
	given map[string]string // theirs, folded → ours
	used  map[string]bool   // of given
	taken map[string]int    // ours → the column that it is taken from
	cols  []column
	found fault.List
}

// match finds whose each column is. The error is about the list as a whole: it
// names nothing, or a mapping that fits nothing.
func (im *Import) match(o ImportOptions) ([]column, error) {
	m := &matcher{im: im, given: map[string]string{}, used: map[string]bool{}, taken: map[string]int{}}
	for theirs, ours := range o.Map {
		m.given[fibres.FoldName(theirs)] = ours
	}
	for _, h := range im.list.header {
		im.Columns = append(im.Columns, ImportColumn{Theirs: h})
	}
	m.asGiven() // goes before what is guessed
	m.asGuessed()
	m.measuredOnce()
	if _, there := m.taken["name"]; !there && len(m.found) == 0 {
		m.found = append(m.found, &fault.Fault{Kind: fault.BadData, Where: im.name + ":1:1", What: "no column names the swatches", Expected: "a column called name", Mend: fmt.Sprintf("say which one does: --map %q", firstColumn(im.list.header)+"=name")})
	}
	slices.SortStableFunc(m.cols, func(a, b column) int { return cmp.Compare(a.at, b.at) })
	return m.cols, m.found.OrNil()
}

// assign gives a column a kind, unless another has it; notes are taken from several.
func (m *matcher) assign(i int, name, unit, how string) {
	c := &m.im.Columns[i]
	if j, there := m.taken[name]; there && name != "notes" {
		c.How = fmt.Sprintf("%s is taken from %q already", name, m.im.Columns[j].Theirs)
		return
	}
	m.taken[name] = i
	c.Ours, c.Unit, c.How = name, unit, how
	m.cols = append(m.cols, column{i, kindOf(name), unit})
}

// asGiven takes the columns that the user named.
func (m *matcher) asGiven() {
	header := m.im.list.header
	for i, h := range header {
		key := fibres.FoldName(h)
		ours, there := m.given[key]
		if !there || m.used[key] {
			continue
		}
		m.used[key] = true
		if ours == "" || ours == "-" {
			m.im.Columns[i].How = "left out, as said"
			continue
		}
		name, unit := splitUnit(ours)
		kind := kindOf(name)
		if kind == nil {
			m.found = append(m.found, &fault.Fault{Kind: fault.WrongCall, Where: "--map", What: fmt.Sprintf("there is no column %q", short(ours)), Expected: strings.Join(Columns, ", ") + "; a unit may follow, as width_in, length_yd, mass_oz", Mend: fault.DidYouMean(ours, Columns, "")})
			continue
		}
		if unit == "" {
			if _, u := headerWords(h); slices.Contains(kind.units, u) {
				unit = u
			}
		}
		m.assign(i, name, unit, "said")
	}
	for theirs := range m.given {
		if !m.used[theirs] {
			m.found = append(m.found, &fault.Fault{Kind: fault.WrongCall, Where: "--map", What: fmt.Sprintf("the list has no column %q", short(theirs)), Expected: "one of " + shortList(header), Mend: fault.DidYouMean(theirs, header, "")})
		}
	}
}

// asGuessed takes the other columns by what they are called.
func (m *matcher) asGuessed() {
	var late []int
	for i, h := range m.im.list.header {
		c := &m.im.Columns[i]
		folded := fibres.FoldName(h)
		switch {
		case c.Ours != "" || c.How != "":
		case folded == fibres.FoldName(rejectedColumn):
			c.How = "why a row was refused before"
		case m.im.list.json && (h == "id" || h == "created" || h == "changed"):
			c.How = "given anew"
		case slices.Contains(asName, folded):
			late = append(late, i)
		default:
			name, unit := guess(h)
			if name == "" {
				c.How = "not known"
				continue
			}
			if unit != "" && !slices.Contains(kindOf(name).units, unit) {
				unit = ""
			}
			m.assign(i, name, unit, "guessed")
		}
	}
	for _, i := range late {
		name := "name"
		if _, there := m.taken["name"]; there {
			name = "sold_as"
		}
		m.assign(i, name, "", "guessed")
	}
}

// measuredOnce drops the figures beside a column of measurements, which repeat it.
func (m *matcher) measuredOnce() {
	if _, there := m.taken["measurements"]; !there {
		return
	}
	m.cols = slices.DeleteFunc(m.cols, func(c column) bool {
		if c.kind.measured {
			m.im.Columns[c.at].Ours, m.im.Columns[c.at].How = "", "told by the measurements"
		}
		return c.kind.measured
	})
}

func firstColumn(header []string) string {
	for _, h := range header {
		if strings.TrimSpace(h) != "" {
			return short(h)
		}
	}
	return "THEIRS"
}

func shortList(list []string) string {
	var out []string
	for i, s := range list {
		if i == 12 {
			out = append(out, "…")
			break
		}
		out = append(out, short(s))
	}
	return strings.Join(out, ", ")
}

// Mapping is what was found of the columns, as it is kept for the next list of the
// same header: theirs → ours.
func (im *Import) Mapping() map[string]string {
	out := map[string]string{}
	for _, c := range im.Columns {
		switch {
		case c.How == "left out, as said":
			out[c.Theirs] = "-"
		case c.Ours != "" && c.How == "said":
			out[c.Theirs] = c.Ours
			if c.Unit != "" {
				out[c.Theirs] += "_" + c.Unit
			}
		}
	}
	return out
}

// HeaderKey names the header of a list, so that its mapping is found again.
func HeaderKey(data []byte) string {
	l, err := readList("", data)
	if err != nil || l.json {
		return ""
	}
	var parts []string
	for _, h := range l.header {
		parts = append(parts, fibres.FoldName(h))
	}
	key := strings.Join(parts, ",")
	if len(key) > 150 {
		key = key[:150]
	}
	return "mapping/" + key
}
