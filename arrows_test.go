package tenter

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// arrows is the drawing in DEVELOPERS.md as a table: what each package may
// import of this module. The imports are read from the files, since `go list`
// would be served stale from the test cache.
var arrows = map[string]struct {
	may []string
	why string
}{
	"data":                      {nil, "data holds facts and nothing else"},
	"fibres/fault":              {nil, "the shape of errors rests on nothing"},
	"fibres/units":              {[]string{"fibres/fault"}, "quantities know no cloth"},
	"fibres/prose":              {nil, "grammar knows no cloth"},
	"fibres/memo":               {nil, "keeping a value knows nothing of it"},
	"fibres/table":              {[]string{"fibres/fault"}, "a table knows no cloth"},
	"fibres/hang":               {[]string{"fibres/fault", "fibres/units"}, "mechanics take figures, not cloths"},
	"fibres/drape":              {[]string{"fibres/fault", "fibres/units"}, "a sheet at rest is figures, not cloths"},
	"fibres/shrink":             {[]string{"fibres/fault", "fibres/units"}, "arithmetic takes figures, not cloths"},
	"fibres/yarn":               {[]string{"fibres/fault", "fibres/units"}, "arithmetic takes figures, not cloths"},
	"fibres/price":              {[]string{"fibres/fault", "fibres/units"}, "a price is a sum for a length"},
	"fibres":                    {[]string{"fibres/*"}, "cloth knows neither advice nor the user's records"},
	"advise/plain":              {[]string{"fibres/fault"}, "reading TOML knows no meaning"},
	"advise/rules":              {[]string{"advise/plain", "fibres/fault", "fibres/prose", "fibres/units"}, "the engine is told its facts"},
	"advise/order":              {[]string{"fibres/fault"}, "an order of steps knows no cloth"},
	"advise/cut":                {[]string{"fibres", "fibres/*"}, "laying out knows no rules"},
	"advise/brief":              {[]string{"advise", "advise/cut", "advise/rules", "fibres", "fibres/*"}, "choosing what to tell judges nothing"},
	"advise/reply":              {[]string{"advise", "advise/rules", "fibres"}, "answering a question searches nothing"},
	"advise/worn":               {[]string{"advise/cut", "fibres/drape", "fibres/fault"}, "a piece on a body is a scene: it knows no cloth"},
	"advise":                    {[]string{"advise/*", "fibres", "fibres/*"}, "advice does not know the user's records: cmd and page join them"},
	"kb/written":                {nil, "running letters together knows no record"},
	"kb/record":                 {[]string{"fibres/fault"}, "records know no cloth, and not where they are kept"},
	"kb/store":                  {[]string{"kb/record", "kb/written", "fibres/fault"}, "a keeper of records knows nothing of what they mean"},
	"kb/memory":                 {[]string{"kb/record", "fibres/fault"}, "a keeper of records knows nothing of what they mean"},
	"kb/search":                 {[]string{"kb/written", "fibres/fault"}, "the search knows only documents"},
	"kb/index":                  {[]string{"kb/search", "fibres/fault", "fibres/memo"}, "an engine knows only what the search asks of it"},
	"kb":                        {[]string{"kb/record", "kb/search", "kb/written", "fibres", "fibres/*"}, "the base does not advise, and names no adapter: it compiles for a browser"},
	"draw":                      {[]string{"fibres", "fibres/*", "advise/cut"}, "pictures are made of figures"},
	"draw/worn":                 {[]string{"draw"}, "pictures that were computed beforehand know no cloth"},
	"internal/wornmake":         {[]string{"advise", "advise/*", "data", "draw", "draw/*", "fibres/*"}, "a program that computes pictures for the binary and the documents"},
	"page":                      {[]string{"page/*", "draw", "draw/*", "kb", "kb/*", "advise", "advise/*", "fibres", "fibres/*", "data"}, "the page joins what the commands join"},
	"page/card":                 {[]string{"draw", "draw/*", "advise", "advise/*", "fibres", "fibres/*"}, "a card is printed by the command as well, without the site"},
	"page/fall":                 {[]string{"draw", "draw/*", "advise", "advise/*", "fibres", "fibres/*"}, "a fall is computed by the command as well, without the site"},
	"page/address":              {[]string{"advise", "advise/*", "fibres", "fibres/*"}, "an address is words and figures: it knows no page and no records"},
	"page/words":                {[]string{"advise", "advise/*", "fibres", "fibres/*"}, "how a figure is said hangs on no page"},
	"page/picture":              {[]string{"advise", "advise/cut", "fibres", "fibres/*"}, "a small picture is made of figures and knows no page"},
	"page/remember":             {[]string{"fibres/memo"}, "remembering knows nothing of what is remembered"},
	"page/shelf":                {nil, "a shelf knows nothing of the lists on it"},
	"page/phone":                {[]string{"page", "page/knowledge", "kb", "kb/memory", "kb/search", "advise", "fibres", "data"}, "a phone joins the site with records in memory"},
	"internal/matrix":           {[]string{"advise", "data"}, "a program that asks many make-ups at once"},
	"internal/measure":          {nil, "a program that runs benchmarks knows no cloth"},
	"internal/mutate":           {nil, "a program that tries the tests knows no cloth"},
	"internal/phone":            {nil, "a program that times the pages in a browser sees them from outside"},
	"internal/screens":          {[]string{"internal/shots"}, "a program that takes pictures of the pages sees them from outside"},
	"internal/shots":            {nil, "a script that counts words knows no cloth"},
	"internal/testkit":          {[]string{"fibres/fault"}, "what tests share knows nothing of cloth but how its errors are told"},
	"internal/testkit/chromium": {nil, "starting a browser knows no cloth"},
	"cmd/tenter":                {[]string{"*"}, "the command may use all"},
	"fibres/hang/gen":           {[]string{"fibres", "fibres/*", "data"}, "a program that makes tables and plots"},
	"fibres/literal":            {nil, "printing literals knows no cloth"},
	"fibres/gen":                {[]string{"fibres", "fibres/*", "data"}, "a program that fits the predictor"},

	"page/phone/engine":     {[]string{"draw/worn", "page", "page/phone", "page/sheet"}, "the program in the browser only hands requests on"},
	"page/phone/folder":     {[]string{"draw/worn", "page", "page/phone", "fibres/fault"}, "the folder is made of the site and the engine"},
	"page/phone/folder/gen": {[]string{"page/phone/folder"}, "a program that puts the engine where the build finds it"},
	"kb/search/searchtest":  {[]string{"kb/search"}, "what every engine of the search must do"},
	"kb/recordstest":        {[]string{"kb", "kb/record", "fibres/fault"}, "what every keeper of records must do"},
}

// only says which package alone may import an outside one.
var only = map[string][]string{
	"github.com/blevesearch/bleve": {"kb/index"},
	"modernc.org/sqlite":           {"kb/store"},
	"github.com/spf13/cobra":       {"cmd/tenter"},
	"github.com/pelletier/go-toml": {"advise/plain"},
	"net/http":                     {"page", "cmd/tenter", "internal/phone"},
}

// barred are packages that must stay out of what compiles for a browser.
var barred = map[string][]string{
	"fibres": {"os", "net", "net/http", "os/exec", "syscall", "database/sql"},
	"advise": {"os", "net", "net/http", "os/exec", "syscall", "database/sql"},
	"draw":   {"os", "net", "net/http", "os/exec", "syscall", "database/sql"},
}

func TestArrows(t *testing.T) {
	found := 0
	for dir, files := range goFiles(t) {
		a, ok := arrowsOf(dir)
		require.True(t, ok, "%s is not in the drawing: add it to arrows_test.go and to the map in DEVELOPERS.md", dir)
		for file, imports := range files {
			for _, imp := range imports {
				found++
				if in, ours := strings.CutPrefix(imp, "tenter/"); ours {
					require.True(t, allowed(a.may, in), "%s imports %s, but %s (may import: %v)", file, imp, a.why, a.may)
				}
				for outside, by := range only {
					if imp == outside || strings.HasPrefix(imp, outside+"/") {
						require.True(t, under(by, dir), "%s imports %s; only %v may", file, imp, by)
					}
				}
				top, _, _ := strings.Cut(dir, "/")
				if !strings.HasSuffix(dir, "/gen") {
					for _, b := range barred[top] {
						require.NotEqual(t, b, imp, "%s must compile for a browser and do no input or output", file)
					}
				}
			}
		}
	}
	require.Greater(t, found, 50, "hardly an import was read: the walk is broken")
}

func arrowsOf(dir string) (a struct {
	may []string
	why string
}, ok bool) {
	if a, ok = arrows[dir]; ok {
		return a, true
	}
	if strings.HasPrefix(dir, "page/") {
		return arrows["page"], true
	}
	return a, false
}

func allowed(may []string, in string) bool {
	for _, m := range may {
		if m == "*" || m == in || (strings.HasSuffix(m, "/*") && strings.HasPrefix(in, strings.TrimSuffix(m, "*"))) {
			return true
		}
	}
	return false
}

func under(list []string, dir string) bool {
	for _, l := range list {
		if dir == l || strings.HasPrefix(dir, l+"/") {
			return true
		}
	}
	return false
}

// goFiles lists the imports of every file that is no test, by folder.
func goFiles(t *testing.T) map[string]map[string][]string {
	out := map[string]map[string][]string{}
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name := d.Name(); path != "." && (strings.HasPrefix(name, ".") || name == "testdata" || name == "tools") {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		dir := filepath.ToSlash(filepath.Dir(path))
		if dir == "." {
			return nil
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, src, parser.ImportsOnly|parser.ParseComments)
		if err != nil {
			return err
		}
		if out[dir] == nil {
			out[dir] = map[string][]string{}
		}
		out[dir][path] = []string{}
		for _, i := range f.Imports {
			p, _ := strconv.Unquote(i.Path.Value)
			out[dir][path] = append(out[dir][path], p)
		}
		return nil
	})
	require.NoError(t, err)
	return out
}

// Every package says what it is for.
func TestEveryPackageIsDocumented(t *testing.T) {
	docs := map[string]bool{}
	dirs := goFiles(t)
	for dir, files := range dirs {
		for path := range files {
			src, err := os.ReadFile(path)
			require.NoError(t, err)
			f, err := parser.ParseFile(token.NewFileSet(), path, src, parser.PackageClauseOnly|parser.ParseComments)
			require.NoError(t, err)
			if f.Doc != nil {
				docs[dir] = true
			}
		}
	}
	var bare []string
	for dir := range dirs {
		if !docs[dir] {
			bare = append(bare, dir)
		}
	}
	sort.Strings(bare)
	require.Empty(t, bare, "packages without a package comment")
}
