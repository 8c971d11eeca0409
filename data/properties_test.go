package data_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// The schema of each file of a property is what the table of properties says of it:
// columns, unit, range, words, and what its rows may be of. -update writes it anew,
// and writes that of a property that has none yet.
func TestSchemaFollowsTheTableOfProperties(t *testing.T) {
	b, err := os.ReadFile("datapackage.json")
	require.NoError(t, err)
	text := string(b)
	for p := range fibres.NumProperties {
		info := &fibres.Properties[p]
		if info.File == "" || info.Row != "" { // a file of several properties has a schema of its own
			continue
		}
		want := schemaOf(info, text)
		at := regexp.MustCompile(`(?s)    \{\n      "name": "[a-z-]+",\n      "path": "` + regexp.QuoteMeta(info.File) + `",.*?\n    \}`).FindStringIndex(text)
		if *update && at == nil {
			density := strings.Index(text, "    {\n      \"name\": \"density\"")
			text = text[:density] + want + ",\n" + text[density:]
			continue
		}
		require.NotNil(t, at, "%s: datapackage.json has no %s: go test ./data -run Schema -update", info.ID, info.File)
		if *update {
			text = text[:at[0]] + want + text[at[1]:]
			continue
		}
		require.Equal(t, want, text[at[0]:at[1]], "%s differs from the table of properties: go test ./data -run Schema -update", info.File)
	}
	effects := regexp.MustCompile(`("description": "Id of the property", "constraints": \{"required": true, "enum": )\[[^\]]*\]`)
	want := effects.ReplaceAllString(text, "${1}"+quoted(append(idsOfProperties(), "bulk")))
	if *update {
		require.NoError(t, os.WriteFile("datapackage.json", []byte(want), 0o644))
		return
	}
	require.Equal(t, want, text, "the properties that effects.csv may name")
}

func idsOfProperties() []string {
	var out []string
	for _, i := range fibres.Properties {
		if !strings.HasPrefix(i.ID, "bending-length-") { // its effects are those of the overall one
			out = append(out, i.ID)
		}
	}
	return out
}

func quoted(list []string) string {
	b, err := json.Marshal(list)
	if err != nil {
		panic(err)
	}
	return strings.ReplaceAll(string(b), `","`, `", "`)
}

// schemaOf is the schema of a property's file. Its name, title and description are
// kept where it has them: they may say more than the table.
func schemaOf(info *fibres.PropertyInfo, text string) string {
	name, title, says := info.ID, capital(info.Name), capital(info.Doc)+"."
	old := regexp.MustCompile(`"name": "([a-z-]+)",\n      "path": "` + regexp.QuoteMeta(info.File) + `",\n      "title": "([^"]*)",\n      "description": "([^"]*)"`).FindStringSubmatch(text)
	if old != nil {
		name, title, says = old[1], old[2], old[3]
	}
	resolve := map[string]string{"cloth": "cloths", "structure": "structures", "fibre": "fibres"}
	var of []string
	for _, k := range append([]string{"cloth"}, info.Of...) {
		of = append(of, fmt.Sprintf("%q: %q", k, resolve[k]))
	}
	kind, unit := "string", ""
	allowed := `"enum": ` + quoted(info.Scale)
	if info.Scale == nil {
		kind, unit = "number", fmt.Sprintf(`, "unit": %q`, info.Unit)
		figure := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
		allowed = `"minimum": ` + figure(info.Low) + `, "maximum": ` + figure(info.High)
	}
	ends := [][2]string{{"low", "one in ten lies below"}, {"typical", "the middle one"}, {"high", "one in ten lies above"}}
	if info.Scale != nil {
		ends = [][2]string{{"low", "least usual"}, {"typical", "usual"}, {"high", "most usual"}}
	}
	var s strings.Builder
	fmt.Fprintf(&s, "    {\n      \"name\": %q,\n      \"path\": %q,\n      \"title\": %q,\n      \"description\": %q,\n", name, info.File, title, says)
	s.WriteString("      \"type\": \"table\",\n      \"scheme\": \"file\",\n      \"format\": \"csv\",\n      \"mediatype\": \"text/csv\",\n      \"encoding\": \"utf-8\",\n      \"schema\": {\n        \"fields\": [\n")
	fmt.Fprintf(&s, "          {\"name\": \"of\", \"type\": \"string\", \"description\": \"What the fact is of\", \"constraints\": {\"required\": true, \"enum\": %s}},\n", quoted(append([]string{"cloth"}, info.Of...)))
	s.WriteString("          {\"name\": \"id\", \"type\": \"string\", \"description\": \"Its id\", \"constraints\": {\"required\": true}},\n")
	for _, e := range ends {
		fmt.Fprintf(&s, "          {\"name\": \"%s_%s\", \"type\": %q%s, \"description\": \"%s: %s\", \"constraints\": {\"required\": true, %s}},\n", info.Stem, e[0], kind, unit, title, e[1], allowed)
	}
	s.WriteString(`          {"name": "given", "type": "string", "description": "Which of low, typical and high the source itself gives, parted by \"; \"; word: it only names or describes, and all three are ours; empty where the basis is practice", "constraints": {"enum": ["low", "typical", "high", "low; typical", "low; high", "typical; high", "low; typical; high", "word"]}},
          {"name": "basis", "type": "string", "description": "published: the source was read; practice: common practice, no source; memory: a named publication, recalled and not read", "constraints": {"required": true, "enum": ["published", "practice", "memory"]}},
          {"name": "source_id", "type": "string", "description": "The source, by its id in sources.csv", "constraints": {"required": true}},
          {"name": "locator", "type": "string", "description": "Page, table or section; always given where the basis is published", "constraints": {"maxLength": 240}},
          {"name": "note", "type": "string", "description": "The source's own figure and unit where converted; what else a reader should know", "constraints": {"maxLength": 240}}
        ],
        "missingValues": [""],
        "uniqueKeys": [["of", "id", "source_id", "locator"]],
        "foreignKeys": [{"fields": ["source_id"], "reference": {"resource": "sources", "fields": ["id"]}}]
      },
`)
	fmt.Fprintf(&s, "      \"idResolvesIn\": {%s}\n    }", strings.Join(of, ", "))
	return s.String()
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// Every row of a property's file is asked for: its kind is one that the property is
// worked out from.
func TestRowsAreOfWhatThePropertyIsDerivedFrom(t *testing.T) {
	b := readBook(t)
	for p := range fibres.NumProperties {
		info := &fibres.Properties[p]
		for _, s := range b.sheets {
			if s.Path != info.File {
				continue
			}
			for _, row := range s.rows {
				require.True(t, row["of"] == "cloth" || slices.Contains(info.Of, row["of"]), "%s: %s %s", s.Path, row["of"], row["id"])
			}
		}
	}
}
