package advise

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres/fault"
)

// dataFiles are the built-in files, to be changed.
func dataFiles(t *testing.T) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	require.NoError(t, fs.WalkDir(data.FS, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(data.FS, name)
		files[name] = &fstest.MapFile{Data: b}
		return err
	}))
	return files
}

// One slip in the data is told once, at its own place, however many other files name what it
// hides:
// a row that is refused, a name that is misspelt, a quotation mark that is missing, a
// rule that cannot be read, a file that is not there.
func TestOneSlipIsToldOnce(t *testing.T) {
	for _, x := range []struct{ what, file, was, is, said string }{
		{"a cloth of no structure", "cloths.csv", "laun,plain,", "laun,plan,", `structure "plan" is not in structures.csv`},
		{"a cloth misspelt", "cloths.csv", "\ncotton-lawn,", "\ncotton-lwn,", `no cloth has the id "cotton-lawn"`},
		{"a fibre misspelt", "fibres.csv", "\nmodal,", "\nmodl,", `"modal"`},
		{"a structure misspelt", "structures.csv", "\nbasket,", "\nbaskt,", `"basket"`},
		{"a source misspelt", "sources.csv", "\nwatson-1907,", "\nwatson-197,", `source "watson-1907" is not in sources.csv`},
		{"a column misspelt", "mass.csv", "mass_gsm_low", "mass_low", `unknown column "mass_low"`},
		{"a letter in a figure", "mass.csv", "cloth,acetate-lining,65", "cloth,acetate-lining,6S", `"6S", not a number`},
		{"a cell that is missing", "mass.csv", "cloth,acetate-lining,65,", "cloth,acetate-lining,", "the row has 9 cells, the header 10"},
		{"an open quotation mark", "pieces.toml", "hooded triangular wrap\"", "hooded triangular wrap", "the text has no closing quotation mark"},
		{"one bracket", "pieces.toml", "[[piece]]", "[piece]]", "the line cannot be read"},
		{"a piece misspelt", "pieces.toml", "\"hooded-wrap\"", "\"hooded-wap\"", `there is no piece "hooded-wrap"`},
		{"a seam misspelt", "seams.toml", "\"plain-seam\"", "\"plain-sem\"", `"plain-seam"`},
		{"a rule that cannot be read", "rules/fray.toml", "\"at least", "\"at lest", `"at lest`},
		{"a matter misspelt", "matters.csv", "\nacetone,", "\nacetne,", `matter "acetone" is not in matters.csv`},
		{"no pieces", "pieces.toml", "", "", "data/pieces.toml: the file is missing"},
		{"no cloths", "cloths.csv", "", "", "data/cloths.csv: the file is missing"},
		{"no seams", "seams.toml", "", "", "data/seams.toml: the file is missing"},
		{"no needles", "needles.csv", "", "", "data/needles.csv: the file is missing"},
	} {
		t.Run(x.what, func(t *testing.T) {
			files := dataFiles(t)
			if x.was == "" {
				delete(files, x.file)
			} else {
				text := string(files[x.file].Data)
				require.Contains(t, text, x.was)
				files[x.file] = &fstest.MapFile{Data: []byte(strings.Replace(text, x.was, x.is, 1))}
			}
			_, err := Load(files)
			require.ErrorContains(t, err, x.said)
			require.Len(t, fault.All(err), 1, "%v", err)
		})
	}
}
