package cut

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// notFormula are the exported functions that compute no figure by a formula.
var notFormula = map[string]bool{
	"Drawings": true, "Needs": true, "ParsePart": true, "ParseSize": true, "ParseTurn": true, "ReadCSV": true, "ReadSVG": true,
	"NewLayer": true, "Plan": true, "PlanThread": true, "PlanBinding": true, "GeometryOf": true, "Stitches": true,
}

// TestFormulasAreDocumented demands of every exported formula the same headings,
// an example, and that the test it names exists.
func TestFormulasAreDocumented(t *testing.T) {
	fset := token.NewFileSet()
	var files []*ast.File
	tests := map[string]string{} // name of test: file
	names, err := os.ReadDir(".")
	require.NoError(t, err)
	for _, n := range names {
		if !strings.HasSuffix(n.Name(), ".go") {
			continue
		}
		f, err := parser.ParseFile(fset, n.Name(), nil, parser.ParseComments)
		require.NoError(t, err)
		files = append(files, f)
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(fn.Name.Name, "Test") {
				tests[fn.Name.Name] = n.Name()
			}
		}
	}
	pkg, err := doc.NewFromFiles(fset, files, "tenter/advise/cut")
	require.NoError(t, err)
	require.NotEmpty(t, pkg.Doc)
	funcs := pkg.Funcs
	for _, typ := range pkg.Types {
		funcs = append(funcs, typ.Funcs...)
	}
	seen := 0
	for _, f := range funcs {
		if notFormula[f.Name] {
			continue
		}
		seen++
		t.Run(f.Name, func(t *testing.T) {
			at := -1
			for _, word := range []string{"\nGiven: ", "\nValid: ", "\nAccuracy: ", "\nErrors: ", "\nSource: ", "\nChecked: "} {
				i := strings.Index(f.Doc, word)
				require.Greater(t, i, at, "%q, in this order", strings.TrimSpace(word))
				at = i
			}
			file, test, ok := strings.Cut(strings.TrimSuffix(strings.TrimSpace(f.Doc[at+len("\nChecked: "):]), "."), ", ")
			require.True(t, ok)
			require.Equal(t, file, tests[test], "the test it names")
			require.NotEmpty(t, f.Examples, "an example")
		})
	}
	require.Greater(t, seen, 10)
}
