// Package testkit is what the tests of several packages share: the rows of
// reference files, and what the comment of a formula has to say.
package testkit

import (
	"encoding/csv"
	"fmt"
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
	"sync"
)

// Rows reads a file of testdata/reference by its columns. Every row names its
// source.
func Rows(t testing.TB, file string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(root(t), "testdata", "reference", file))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1, "%s has no rows", file)
	out := make([]map[string]string, 0, len(rows)-1)
	for i, r := range rows[1:] {
		m := map[string]string{}
		for k, h := range rows[0] {
			m[h] = r[k]
		}
		require.NotEmpty(t, m["source"], "%s, row %d names no source", file, i+2)
		out = append(out, m)
	}
	return out
}

// root is the folder of the module.
func root(t testing.TB) string {
	dir, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		require.NotEqual(t, dir, up, "there is no go.mod above the tests")
		dir = up
	}
}

// words are what the comment of a formula says, in this order.
var words = []string{"Given: ", "Valid: ", "Accuracy: ", "Errors: ", "Source: ", "Checked: "}

var checked = regexp.MustCompile(`Checked: (\w+_test\.go), (Test\w+)`)

// Formulas demands of every exported formula of the package in the working
// folder that its comment says what it is given, where it holds, how well, what
// it refuses, whence it comes and which test holds it to that, that the test is
// there, and that there is an example with its output. Functions named in but
// reckon nothing. At least so many formulas must be found.
func Formulas(t *testing.T, least int, but ...string) {
	t.Helper()
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	fset := token.NewFileSet()
	var files []*ast.File
	for _, n := range names {
		f, err := parser.ParseFile(fset, n, nil, parser.ParseComments)
		require.NoError(t, err)
		files = append(files, f)
	}
	pkg, err := doc.NewFromFiles(fset, files, "tenter")
	require.NoError(t, err)
	require.NotEmpty(t, pkg.Doc)
	funcs := append([]*doc.Func(nil), pkg.Funcs...)
	for _, typ := range pkg.Types {
		require.NotEmpty(t, typ.Doc, "type %s", typ.Name)
		funcs = append(funcs, typ.Funcs...) // functions that return the type stand under it
		for _, m := range typ.Methods {
			require.NotEmpty(t, m.Doc, "%s.%s", typ.Name, m.Name)
		}
	}
	none := map[string]bool{}
	for _, n := range but {
		none[n] = true
	}
	found := 0
	for _, f := range funcs {
		require.True(t, strings.HasPrefix(f.Doc, f.Name+" "), "%s: its comment does not begin with its name", f.Name)
		if none[f.Name] {
			delete(none, f.Name)
			continue
		}
		found++
		at := 0
		for _, w := range words {
			i := strings.Index(f.Doc[at:], "\n"+w)
			require.GreaterOrEqual(t, i, 0, "%s: %q is missing or out of order", f.Name, w)
			at += i + 1
		}
		m := checked.FindStringSubmatch(f.Doc)
		require.NotNil(t, m, "%s: which test?", f.Name)
		src, err := os.ReadFile(m[1])
		require.NoError(t, err, "%s names a file that is not there", f.Name)
		require.Contains(t, string(src), "func "+m[2]+"(", "%s names a test that is not there", f.Name)
		require.NotEmpty(t, f.Examples, "%s has no example", f.Name)
		for _, e := range f.Examples {
			require.NotEmpty(t, e.Output, "the example of %s has no output", f.Name)
		}
	}
	require.Empty(t, none, "these are no functions of the package")
	require.GreaterOrEqual(t, found, least)
}

// Loaded loads what the tests of a package share, once.
func Loaded[T any](load func() (T, error)) func(testing.TB) T {
	once := sync.OnceValues(load)
	return func(t testing.TB) T {
		t.Helper()
		v, err := once()
		require.NoError(t, err)
		return v
	}
}

// Holds fails, in one line, where a long text does not hold what it should: unlike
// require.Contains it does not print the text.
func Holds(t testing.TB, text, wanted, where string, args ...any) {
	t.Helper()
	if !strings.Contains(text, wanted) {
		t.Fatalf("%q is missing. %s", wanted, fmt.Sprintf(where, args...))
	}
}

// Same fails, in one line, where a long text is not what it should be: it tells the first
// line that differs, and prints neither text.
func Same(t testing.TB, want, got, where string, args ...any) {
	t.Helper()
	if says := firstDifference(want, got); says != "" {
		t.Fatalf("%s. %s", says, fmt.Sprintf(where, args...))
	}
}

// firstDifference tells the first line in which two texts differ; "" where they do not.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(w), len(g)) {
		switch {
		case i >= len(w):
			return fmt.Sprintf("line %d should not be there: %q", i+1, g[i])
		case i >= len(g):
			return fmt.Sprintf("line %d is missing: %q", i+1, w[i])
		case w[i] != g[i]:
			return fmt.Sprintf("line %d is %q, not %q", i+1, g[i], w[i])
		}
	}
	return ""
}
