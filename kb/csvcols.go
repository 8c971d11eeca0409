package kb

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
)

// Columns are what a list of swatches may tell, as --map names them. Those with a
// unit may carry it: width_in, length_yd, mass_oz.
var Columns = []string{"name", "sold_as", "content", "width", "length", "colour", "lightness", "price", "kept_where", "picture_path", "bought", "notes",
	"mass", "thickness", "bending_length", "bending_length_warp", "bending_length_weft", "shrink", "shrink_warp", "shrink_weft", "fray", "stretch", "show_through", "measurements"}

// columnUnits are the units that a column's bare figures may be in, the one of our
// own files first.
var columnUnits = map[string][]string{
	"width": {"cm", "mm", "m", "in", "yd"}, "length": {"cm", "mm", "m", "in", "yd"}, "mass": {"gsm", "oz", "momme"}, "thickness": {"mm", "cm", "in"},
	"bending_length": {"cm", "mm", "in"}, "bending_length_warp": {"cm", "mm", "in"}, "bending_length_weft": {"cm", "mm", "in"},
	"price":  {"m", "yd"},
	"shrink": {"pct"}, "shrink_warp": {"pct"}, "shrink_weft": {"pct"},
}

// unitWords are how headers write units.
var unitWords = map[string]string{
	"cm": "cm", "cms": "cm", "centimetre": "cm", "centimetres": "cm", "centimeters": "cm", "mm": "mm", "millimetres": "mm", "m": "m", "mtr": "m", "mtrs": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"in": "in", "ins": "in", "inch": "in", "inches": "in", "yd": "yd", "yds": "yd", "yard": "yd", "yards": "yd",
	"gsm": "gsm", "g m2": "gsm", "g sqm": "gsm", "g per m2": "gsm", "oz": "oz", "oz yd2": "oz", "oz sq yd": "oz", "osy": "oz", "ounces": "oz", "momme": "momme", "mm silk": "momme",
	"pct": "pct", "percent": "pct", "per cent": "pct",
}

// columnCalled are the names under which people keep each column.
var columnCalled = map[string][]string{
	"name":                {"name", "swatch", "swatch name", "title", "label", "item", "fabric name", "cloth name", "called", "our name"},
	"sold_as":             {"sold as", "type", "kind", "fabric type", "cloth type", "sold under", "trade name", "category", "sort", "weave"},
	"content":             {"content", "composition", "fibre", "fiber", "fibres", "fibers", "fibre content", "fiber content", "made of", "blend", "fabric content"},
	"width":               {"width", "w", "fabric width", "cloth width", "wide", "bolt width"},
	"length":              {"length", "amount", "quantity", "qty", "in hand", "length in hand", "left", "length left", "have", "how much", "remaining", "yardage", "metrage", "metreage", "stock"},
	"colour":              {"colour", "color", "shade", "hue", "colourway", "colorway"},
	"lightness":           {"lightness", "tone", "value", "light or dark", "dark or light"},
	"price":               {"price", "cost", "paid", "price paid", "price per metre", "price per yard"},
	"kept_where":          {"kept where", "where", "kept", "where kept", "place", "location", "box", "shelf", "bin", "storage", "stored", "drawer", "cupboard"},
	"picture_path":        {"picture path", "picture", "photo", "image", "file", "photograph"},
	"bought":              {"bought", "date", "date bought", "bought on", "purchased", "purchase date", "acquired", "when"},
	"notes":               {"notes", "note", "comment", "comments", "remark", "remarks", "memo", "details"},
	"mass":                {"mass", "weight", "gsm", "grammage", "fabric weight", "areal mass"},
	"thickness":           {"thickness", "thick"},
	"bending_length":      {"bending length", "droop"},
	"bending_length_warp": {"bending length warp", "warp bending length"},
	"bending_length_weft": {"bending length weft", "weft bending length"},
	"shrink":              {"shrink", "shrinkage", "shrinks"},
	"shrink_warp":         {"shrink warp", "shrinkage warp", "warp shrinkage", "shrinkage length", "lengthwise shrinkage", "shrink length"},
	"shrink_weft":         {"shrink weft", "shrinkage weft", "weft shrinkage", "shrinkage width", "crosswise shrinkage", "shrink width"},
	"fray":                {"fray", "frays", "fraying"},
	"stretch":             {"stretch", "stretches"},
	"show_through":        {"show through", "opacity", "sheerness", "see through"},
	"measurements":        {"measurements"},
}

// asName are headers that name the swatch where nothing else does, and otherwise
// what it was sold as.
var asName = []string{"fabric", "cloth", "material", "description", "textile"}

// splitUnit parts a column of ours from its unit: width_in.
func splitUnit(ours string) (base, unit string) {
	for b, us := range columnUnits {
		for _, u := range us {
			if ours == b+"_"+u {
				return b, u
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
	for base, us := range columnUnits { // our own files: width_cm
		for _, u := range us {
			if fibres.FoldName(base+" "+u) == folded {
				return base, u
			}
		}
	}
	words, unit := headerWords(theirs)
	for _, c := range Columns {
		if slices.Contains(columnCalled[c], words) {
			if c == "mass" && words == "gsm" {
				unit = "gsm"
			}
			if c == "length" && unit == "" {
				unit = map[string]string{"yardage": "yd", "metrage": "m", "metreage": "m"}[words]
			}
			return c, unit
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
	at         int
	base, unit string
}

// match finds whose each column is. The error is about the list as a whole: it
// names nothing, or a mapping that fits nothing.
func (im *Import) match(o ImportOptions) ([]column, error) {
	var found fault.List
	said := map[string]string{}
	for theirs, ours := range o.Map {
		said[fibres.FoldName(theirs)] = ours
	}
	used := map[string]bool{}
	taken := map[string]int{} // ours → column
	var cols []column
	set := func(i int, base, unit, how string) {
		if j, there := taken[base]; there && base != "notes" {
			im.Columns[i].How = fmt.Sprintf("%s is taken from %q already", base, im.Columns[j].Theirs)
			return
		}
		taken[base] = i
		im.Columns[i].Ours, im.Columns[i].Unit, im.Columns[i].How = base, unit, how
		cols = append(cols, column{i, base, unit})
	}
	for _, h := range im.list.header {
		im.Columns = append(im.Columns, ImportColumn{Theirs: h})
	}
	var late []int
	for i, h := range im.list.header { // what is said goes before what is guessed
		key := fibres.FoldName(h)
		ours, there := said[key]
		if !there || used[key] {
			continue
		}
		used[key] = true
		if ours == "" || ours == "-" {
			im.Columns[i].How = "left out, as said"
			continue
		}
		base, unit := splitUnit(ours)
		if !slices.Contains(Columns, base) {
			found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--map", What: fmt.Sprintf("there is no column %q", short(ours)), Expected: strings.Join(Columns, ", ") + "; a unit may follow, as width_in, length_yd, mass_oz", Mend: fault.DidYouMean(ours, Columns, "")})
			continue
		}
		if unit == "" {
			_, unit = headerWords(h)
			if !slices.Contains(columnUnits[base], unit) {
				unit = ""
			}
		}
		set(i, base, unit, "said")
	}
	for theirs := range said {
		if !used[theirs] {
			have := im.list.header
			found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--map", What: fmt.Sprintf("the list has no column %q", short(theirs)), Expected: "one of " + shortList(have), Mend: fault.DidYouMean(theirs, have, "")})
		}
	}
	for i, h := range im.list.header {
		if im.Columns[i].Ours != "" || im.Columns[i].How != "" {
			continue
		}
		if fibres.FoldName(h) == fibres.FoldName(rejectedColumn) {
			im.Columns[i].How = "why a row was refused before"
			continue
		}
		if im.list.json && (h == "id" || h == "created" || h == "changed") {
			im.Columns[i].How = "given anew"
			continue
		}
		if slices.Contains(asName, fibres.FoldName(h)) {
			late = append(late, i)
			continue
		}
		ours, unit := guess(h)
		if ours == "" {
			im.Columns[i].How = "not known"
			continue
		}
		if unit != "" && !slices.Contains(columnUnits[ours], unit) {
			unit = ""
		}
		set(i, ours, unit, "guessed")
	}
	for _, i := range late {
		base := "name"
		if _, there := taken["name"]; there {
			base = "sold_as"
		}
		set(i, base, "", "guessed")
	}
	if _, there := taken["measurements"]; there { // the figures beside it only repeat it
		cols = slices.DeleteFunc(cols, func(c column) bool {
			if !measures(c.base) {
				return false
			}
			im.Columns[c.at].Ours, im.Columns[c.at].How = "", "told by the measurements"
			return true
		})
	}
	if _, there := taken["name"]; !there && len(found) == 0 {
		found = append(found, &fault.Fault{Kind: fault.BadData, Where: im.name + ":1:1", What: "no column names the swatches", Expected: "a column called name", Mend: fmt.Sprintf("say which one does: --map %q", firstColumn(im.list.header)+"=name")})
	}
	sort.SliceStable(cols, func(i, j int) bool { return cols[i].at < cols[j].at })
	return cols, found.OrNil()
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

// measures reports whether a column holds what was measured.
func measures(base string) bool {
	switch base {
	case "mass", "thickness", "bending_length", "bending_length_warp", "bending_length_weft", "shrink", "shrink_warp", "shrink_weft", "fray", "stretch", "show_through":
		return true
	}
	return false
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
