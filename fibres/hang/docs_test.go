package hang

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// words are what the comment of a formula says, in this order.
var words = []string{"Given: ", "Valid: ", "Accuracy: ", "Errors: ", "Source: ", "Checked: "}

// notFormulas are exported functions that look up or phrase, and reckon nothing.
var notFormulas = map[string]bool{"HandOf": true, "Hands": true, "BandRange": true, "TestFor": true}

var checked = regexp.MustCompile(`Checked: (\w+_test\.go)(?:, (Test\w+))?`)

// Every formula says what it is given, where it holds, how well, what it refuses,
// whence it comes and which test holds it to that; and it has a worked example.
func TestFormulasAreDocumented(t *testing.T) {
	fset := token.NewFileSet()
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	var files []*ast.File
	for _, n := range names {
		f, err := parser.ParseFile(fset, n, nil, parser.ParseComments)
		require.NoError(t, err)
		files = append(files, f)
	}
	var own []*ast.File
	examples := map[string]bool{}
	for i, f := range files {
		if !strings.HasSuffix(names[i], "_test.go") {
			own = append(own, f)
			continue
		}
		for _, e := range doc.Examples(f) {
			require.NotEmpty(t, e.Output, "Example%s has no output", e.Name)
			examples[e.Name] = true
		}
	}
	p, err := doc.NewFromFiles(fset, own, "tenter/fibres/hang")
	require.NoError(t, err)
	require.NotEmpty(t, p.Doc)
	funcs := append([]*doc.Func(nil), p.Funcs...)
	for _, typ := range p.Types {
		require.NotEmpty(t, typ.Doc, "type %s", typ.Name)
		funcs = append(funcs, typ.Funcs...) // functions that return the type stand under it
		for _, m := range typ.Methods {
			require.NotEmpty(t, m.Doc, "%s.%s", typ.Name, m.Name)
		}
	}
	formulas := 0
	for _, f := range funcs {
		require.True(t, strings.HasPrefix(f.Doc, f.Name+" "), "%s begins with its name", f.Name)
		if notFormulas[f.Name] {
			continue
		}
		formulas++
		at := 0
		for _, w := range words {
			i := strings.Index(f.Doc[at:], "\n"+w)
			require.GreaterOrEqual(t, i, 0, "%s: %q is missing or out of order", f.Name, w)
			at += i + 1
		}
		require.True(t, examples[f.Name], "%s has no example", f.Name)
		m := checked.FindStringSubmatch(f.Doc)
		require.NotNil(t, m, "%s: which test?", f.Name)
		src, err := os.ReadFile(m[1])
		require.NoError(t, err, "%s names a file that is not there", f.Name)
		require.Contains(t, string(src), "func "+m[2]+"(", "%s names a test that is not there", f.Name)
	}
	require.Greater(t, formulas, 25)
}
