package data_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The data dictionary in the documents is the descriptor of the data in words:
// every table, every column, its unit, its words and its range.
func TestDataDictionary(t *testing.T) {
	b, err := os.ReadFile("datapackage.json")
	require.NoError(t, err)
	var p struct {
		Resources []struct {
			Name, Path, Title, Description string
			Schema                         struct {
				Fields []struct {
					Name, Type, Title, Description, Unit string
					Constraints                          struct {
						Required bool
						Minimum  any
						Maximum  any
						Enum     []any
					}
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(b, &p))
	require.Greater(t, len(p.Resources), 20)
	var out strings.Builder
	out.WriteString("# Data dictionary\n\nMade from `data/datapackage.json` by `go test ./data -run Dictionary -update`. How the\ndata came about and how to add to them: [knowledge.md](knowledge.md).\n")
	cell := func(s string) string { return strings.ReplaceAll(strings.ReplaceAll(s, "|", "\\|"), "\n", " ") }
	for _, r := range p.Resources {
		require.NotEmpty(t, r.Schema.Fields, r.Path)
		fmt.Fprintf(&out, "\n## `%s`\n\n%s\n\n| column | type | unit | must | allowed | meaning |\n|---|---|---|---|---|---|\n", r.Path, strings.TrimSpace(r.Title+". "+r.Description))
		for _, f := range r.Schema.Fields {
			require.NotEmpty(t, f.Name, r.Path)
			must := ""
			if f.Constraints.Required {
				must = "yes"
			}
			var allowed []string
			for _, e := range f.Constraints.Enum {
				allowed = append(allowed, fmt.Sprint(e))
			}
			switch {
			case f.Constraints.Minimum != nil && f.Constraints.Maximum != nil:
				allowed = append(allowed, fmt.Sprintf("%v to %v", f.Constraints.Minimum, f.Constraints.Maximum))
			case f.Constraints.Minimum != nil:
				allowed = append(allowed, fmt.Sprintf("from %v", f.Constraints.Minimum))
			}
			fmt.Fprintf(&out, "| `%s` | %s | %s | %s | %s | %s |\n", f.Name, f.Type, cell(f.Unit), must, cell(strings.Join(allowed, ", ")), cell(strings.TrimSpace(f.Title+" "+f.Description)))
		}
	}
	const path = "../docs/data-dictionary.md"
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(out.String()), 0o644))
	}
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.True(t, out.String() == string(got), "docs/data-dictionary.md is stale: go test ./data -run Dictionary -update")
}
