package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	commandSaid = regexp.MustCompile("(?:^|[`\\s])tenter ([a-z][a-z-]*(?: [^`]*)?)")
	flagSaid    = regexp.MustCompile(`(?:^|[\s` + "`" + `(])--([a-z][a-z-]+)`)
)

// literals are the texts of the program, with the place of each.
func literals(t *testing.T, each func(text string, at token.Position)) {
	t.Helper()
	files := token.NewFileSet()
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == ".git" || d.Name() == "tools" || d.Name() == "gen" || d.Name() == "internal") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasPrefix(d.Name(), "compiled") {
			return nil
		}
		f, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				text, err := strconv.Unquote(l.Value)
				require.NoError(t, err)
				each(text, files.Position(l.Pos()))
			}
			return true
		})
		return nil
	})
	require.NoError(t, err)
}

// Every command and every flag that a text of the program speaks of is there: what an
// error says to do can be done.
func TestCommandsAndFlagsThatAreSpokenOfExist(t *testing.T) {
	root := newRoot(newApp(io.Discard, io.Discard))
	root.InitDefaultHelpCmd()
	root.InitDefaultHelpFlag()
	root.InitDefaultVersionFlag()
	flags := map[string]bool{"help": true}
	var gather func(c *cobra.Command)
	gather = func(c *cobra.Command) {
		for _, set := range []*pflag.FlagSet{c.Flags(), c.PersistentFlags()} {
			set.VisitAll(func(f *pflag.Flag) { flags[f.Name] = true })
		}
		for _, sub := range c.Commands() {
			gather(sub)
		}
	}
	gather(root)
	commands, spoken := 0, 0
	var wrong []string
	no := func(at token.Position, what string) { wrong = append(wrong, at.String()+": "+what) }
	literals(t, func(text string, at token.Position) {
		for _, m := range commandSaid.FindAllStringSubmatch(text, -1) {
			words := strings.Fields(strings.SplitN(m[1], "\n", 2)[0])
			c, rest, err := root.Find(words)
			if err != nil || c == root {
				if strings.Contains(text, "`tenter "+words[0]) { // else "tenter" is the subject of a sentence
					no(at, "there is no command "+m[1])
				}
				continue
			}
			commands++
			if c.HasSubCommands() && !c.Runnable() && len(rest) > 0 && regexp.MustCompile(`^[a-z]+$`).MatchString(rest[0]) {
				no(at, "there is no command "+m[1])
			}
		}
		for _, m := range flagSaid.FindAllStringSubmatch(text, -1) {
			spoken++
			if !flags[strings.TrimSuffix(m[1], "-")] && !strings.HasSuffix(m[1], "-") { // "--lining-" is the beginning of several
				no(at, "no command has --"+m[1])
			}
		}
	})
	assert.Empty(t, wrong)
	assert.Greater(t, commands, 150)
	assert.Greater(t, spoken, 100)
}
