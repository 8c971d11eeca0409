package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
)

// everyCommand calls f with every command that is ours.
func everyCommand(c *cobra.Command, f func(*cobra.Command)) {
	f(c)
	for _, s := range c.Commands() {
		if s.Name() != "help" && s.Name() != "completion" {
			everyCommand(s, f)
		}
	}
}

// called runs a call in this process and returns what it printed and its exit
// code.
func called(t *testing.T, args ...string) (out, errs string, code int) {
	t.Helper()
	var o, e bytes.Buffer
	a := newApp(&o, &e)
	root := newRoot(a)
	root.SetArgs(args)
	err := root.Execute()
	a.close()
	code = a.report(err)
	return o.String(), e.String(), code
}

// atHome gives the test a home of its own.
func atHome(t *testing.T) {
	t.Helper()
	home := t.TempDir()
	t.Setenv("HOME", home)
	for _, v := range []string{"DATA", "CONFIG", "STATE"} {
		t.Setenv("XDG_"+v+"_HOME", home+"/"+strings.ToLower(v))
	}
	t.Setenv("XDG_CACHE_HOME", sharedCache())
	t.Setenv("NO_COLOR", "1")
	t.Setenv("COLUMNS", "80")
	t.Chdir(home)
}

func TestEveryCommandIsHelpful(t *testing.T) {
	atHome(t)
	n := 0
	everyCommand(newRoot(newApp(os.Stdout, os.Stderr)), func(c *cobra.Command) {
		n++
		t.Run(c.CommandPath(), func(t *testing.T) {
			require.NotEmpty(t, c.Short)
			require.NotEmpty(t, c.Long)
			require.NotEmpty(t, c.Example)
			if c.HasParent() {
				status := exitStatus
				if c.CommandPath() == "tenter drape" {
					status = drapeExit
				}
				require.True(t, strings.HasSuffix(c.Long, status), "Long ends with the exit status")
			}
			if c.HasParent() && !c.Parent().HasParent() {
				require.NotEmpty(t, c.GroupID)
				require.True(t, slices.Contains(commandNames(), c.Name()), "%s is not offered when it is misspelt", c.Name())
			}
			for _, help := range [][]string{append(strings.Fields(c.CommandPath())[1:], "--help"), append([]string{"help"}, strings.Fields(c.CommandPath())[1:]...)} {
				out, errs, code := called(t, help...)
				require.Zero(t, code)
				require.Empty(t, errs)
				require.Contains(t, out, "\nEXAMPLES\n  tenter")
				require.Contains(t, out, "\nUSAGE\n")
				if c.HasParent() {
					require.Contains(t, out, "\nEXIT STATUS\n  0 any answer")
				}
				require.Less(t, strings.Index(out, "EXAMPLES"), strings.Index(out, "USAGE"), "examples first")
				for _, l := range strings.Split(out, "\n") {
					require.LessOrEqual(t, utf8.RuneCountInString(l), 80, l)
				}
			}
		})
	})
	require.Greater(t, n, 20)
	for _, name := range commandNames() {
		_, _, err := newRoot(newApp(os.Stdout, os.Stderr)).Find([]string{name})
		if name != "help" && name != "completion" { // cobra adds these when it runs
			require.NoError(t, err, "%s is offered, but there is no such command", name)
		}
	}
}

// Every example of every help runs, in a home with a note, a mark and a backup,
// and says something.
func TestEveryExampleRuns(t *testing.T) {
	if testing.Short() {
		t.Skip("runs some 200 commands")
	}
	atHome(t)
	recorded := t.TempDir() // what every example finds recorded
	record := sync.OnceFunc(func() {
		for _, call := range [][]string{{"note", "add", "cotton-lawn", "the curtain of the left window"}, {"favourite", "add", "denim"},
			{"swatch", "add", "king's blue", "--sold-as", "cotton sateen"}, {"swatch", "add", "attic remnant"}, {"swatch", "add", "witches' grey", "--sold-as", "wool flannel"},
			{"swatch", "measure", "king's blue", "mass", "1.5g"}, {"swatch", "measure", "king's blue", "fray", "3"}, {"swatch", "measure", "king's blue", "droop", "warp", "3cm"},
			{"wear", "add", "cotton-lawn", "--piece", "wide-sash", "--verdict", "just right"}} {
			_, errs, code := called(t, call...)
			require.Zero(t, code, errs)
		}
		require.NoError(t, os.CopyFS(recorded, os.DirFS(dataDir())))
	})
	prepare := func(t *testing.T) {
		t.Helper()
		record()
		for _, d := range []string{dataDir(), configDir()} {
			_ = os.RemoveAll(d)
		}
		for _, f := range []string{"wardrobe.db", "wardrobe.csv", "stall.rejected.csv", "phone.json"} {
			_ = os.Remove(f)
		}
		for name, text := range map[string]string{"stall.csv": "Item,Ref,Roll\nblue,A1,44\nred,A2,60\n", "draft.toml": "# nothing yet\n"} {
			require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
		}
		require.NoError(t, os.CopyFS(dataDir(), os.DirFS(recorded)))
	}
	everyCommand(newRoot(newApp(os.Stdout, os.Stderr)), func(c *cobra.Command) {
		for _, e := range strings.Split(c.Example, "\n") {
			e = strings.TrimSpace(e)
			t.Run(e, func(t *testing.T) {
				prepare(t)
				args := exampleArgs(t, e)
				if len(args) > 1 && args[0] == "swatch" && args[1] == "add" { // it must not be there yet
					require.NoError(t, os.RemoveAll(dataDir()))
				}
				before := map[string][]string{"tenter store restore": {"store", "backup", "wardrobe.db"}, "tenter store import": {"store", "export", "phone.json"}, "tenter rule speak": {"rule", "silence", "lining-frays-clip-after-joining", "--because", "we overlock every lining"},
					"tenter rule check": {"rule", "add", "my-rule"}}
				if c.Name() == "redo" { // it makes again what was taken back
					_, errs, code := called(t, "undo")
					require.Zero(t, code, errs)
				}
				if call := before[c.CommandPath()]; call != nil {
					_, errs, code := called(t, call...)
					require.Zero(t, code, errs)
				}
				path := strings.Fields(c.CommandPath())[1:]
				if undoing := []string{"undo", "redo", "history"}; slices.Contains(undoing, c.Name()) { // found under several, they are shown under none
					path = path[len(path)-1:]
				}
				require.Equal(t, path, args[:len(path)], "the example is of its command")
				if c.Name() == "page" { // it would serve for ever, and open a browser
					require.Zero(t, served(t, args))
					return
				}
				out, errs, code := called(t, args...)
				require.Zero(t, code, "%s\n%s", e, errs)
				require.NotEmpty(t, out)
				for _, l := range strings.Split(out, "\n") {
					if !slices.Contains(args, "--json") && !strings.HasPrefix(l, "  /") { // a path is left whole
						require.LessOrEqual(t, utf8.RuneCountInString(l), 80, l)
					}
				}
			})
		}
	})
}

// served runs a call that serves until it has told its address.
func served(t *testing.T, args []string) int {
	t.Helper()
	ctx, cancel := context.WithCancel(testkit.Context(t))
	defer cancel()
	told := &firstWrite{done: cancel}
	a := newApp(told, io.Discard)
	root := newRoot(a)
	root.SetArgs(append(slices.DeleteFunc(args, func(w string) bool { return w == "--no-open" }), "--no-open"))
	err := root.ExecuteContext(ctx)
	a.close()
	require.Contains(t, told.String(), "http://127.0.0.1:")
	return a.report(err)
}

// firstWrite keeps what is written and calls done at the first line.
type firstWrite struct {
	mu   sync.Mutex
	buf  bytes.Buffer
	done func()
}

func (w *firstWrite) Write(b []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.buf.Write(b)
	if bytes.Contains(b, []byte("\n")) {
		w.done()
	}
	return len(b), nil
}

func (w *firstWrite) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.buf.String()
}

// exampleArgs takes a call apart as a shell does.
func exampleArgs(t *testing.T, call string) []string {
	t.Helper()
	var out []string
	word, quote, begun := "", rune(0), false
	for _, r := range call + " " {
		switch {
		case quote == 0 && (r == '"' || r == '\''):
			quote, begun = r, true
		case r == quote:
			quote = 0
		case quote == 0 && r == ' ':
			if begun {
				out = append(out, word)
			}
			word, begun = "", false
		default:
			word, begun = word+string(r), true
		}
	}
	require.Zero(t, quote, "a quote is left open: %s", call)
	require.Equal(t, "tenter", out[0], call)
	return out[1:]
}

func TestCallIsPrintedToBeCopied(t *testing.T) {
	t.Setenv("COLUMNS", "60")
	var o, e bytes.Buffer
	a := newApp(&o, &e)
	a.command(`tenter check "cotton sateen" --piece hooded-wrap --finish bagged-lining --lining silk-taffeta`)
	require.Equal(t, "  tenter check \"cotton sateen\" --piece hooded-wrap \\\n      --finish bagged-lining --lining silk-taffeta\n", o.String())
}

func TestWrapNeverExceedsTheWidth(t *testing.T) {
	long := "a " + strings.Repeat("http://wardrobe.example/a-very-long/address_of.a?page=1&line=2", 3) + " end"
	for _, width := range []int{40, 60, 80} {
		for _, indent := range []int{0, 4, 12} {
			joined := ""
			for _, l := range wrap("  "+long, width, indent) {
				require.LessOrEqual(t, utf8.RuneCountInString(l), width, l)
				joined += strings.TrimSpace(l)
			}
			require.Equal(t, strings.ReplaceAll(long, " ", ""), strings.ReplaceAll(joined, " ", ""), "nothing is lost")
		}
	}
}

func TestCleanDropsWhatSteersTheTerminal(t *testing.T) {
	require.Equal(t, "a[31mb\nc", clean("a\x1b[31mb\nc\u202e\r"))
}
