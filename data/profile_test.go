package data_test

import (
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// What the tabular profile of a data package, version 2, demands of a descriptor: names,
// licences and sources of the whole; of each table its kind, dialect, key and references that
// name columns which exist. Source: the Data Package standard (datapackage.org), from memory.
func TestTabularProfile(t *testing.T) {
	b, err := os.ReadFile("datapackage.json")
	require.NoError(t, err)
	type reference struct {
		Resource string
		Fields   []string
	}
	var p struct {
		Schema    string `json:"$schema"`
		Name      string
		Version   string
		Licenses  []struct{ Name, Path string }
		Sources   []struct{ Title, Path string }
		Resources []struct {
			Name, Path, Type, Scheme, Format, Mediatype, Encoding string
			Schema                                                struct {
				Fields []struct {
					Name, Type  string
					Constraints map[string]any
				}
				PrimaryKey    []string
				MissingValues []string
				ForeignKeys   []struct {
					Fields    []string
					Reference reference
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(b, &p))
	name := regexp.MustCompile(`^[a-z0-9._-]+$`)
	require.Contains(t, p.Schema, "datapackage.json")
	require.Regexp(t, name, p.Name)
	require.Regexp(t, `^\d+\.\d+\.\d+$`, p.Version)
	require.NotEmpty(t, p.Licenses)
	for _, l := range p.Licenses {
		require.NotEmpty(t, l.Name)
		require.NotEmpty(t, l.Path)
	}
	require.NotEmpty(t, p.Sources)
	columns := map[string][]string{}
	for _, r := range p.Resources {
		require.Nil(t, columns[r.Name], "%s stands twice", r.Name)
		for _, f := range r.Schema.Fields {
			columns[r.Name] = append(columns[r.Name], f.Name)
		}
	}
	types := []string{"string", "number", "integer", "boolean", "date", "year", "list"}
	constraints := []string{"required", "unique", "enum", "pattern", "minimum", "maximum", "minLength", "maxLength"}
	for _, r := range p.Resources {
		require.Regexp(t, name, r.Name)
		require.Equal(t, []string{"table", "csv", "text/csv", "utf-8"}, []string{r.Type, r.Format, r.Mediatype, r.Encoding}, r.Path)
		require.Equal(t, "file", r.Scheme, r.Path)
		require.NotEmpty(t, r.Schema.MissingValues, r.Path)
		seen := map[string]bool{}
		for _, f := range r.Schema.Fields {
			require.False(t, seen[f.Name], "%s: %s stands twice", r.Path, f.Name)
			seen[f.Name] = true
			require.Contains(t, types, f.Type, "%s: %s", r.Path, f.Name)
			for c := range f.Constraints {
				require.Contains(t, constraints, c, "%s: %s", r.Path, f.Name)
			}
		}
		for _, k := range r.Schema.PrimaryKey {
			require.True(t, seen[k], "%s: key %s is no column", r.Path, k)
		}
		for _, k := range r.Schema.ForeignKeys {
			require.NotEmpty(t, k.Fields, r.Path)
			require.Len(t, k.Reference.Fields, len(k.Fields), r.Path)
			for _, f := range k.Fields {
				require.True(t, seen[f], "%s: reference from %s, which is no column", r.Path, f)
			}
			to := columns[k.Reference.Resource]
			if k.Reference.Resource == "" { // the table itself
				to = columns[r.Name]
			}
			for _, f := range k.Reference.Fields {
				require.True(t, slices.Contains(to, f), "%s: %s has no column %s", r.Path, k.Reference.Resource, f)
			}
		}
	}
}
