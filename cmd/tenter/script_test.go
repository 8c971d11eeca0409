package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
)

func TestMain(m *testing.M) {
	testscript.Main(clearing{m}, map[string]func(){"tenter": main})
}

// clearing runs the tests and removes what they shared.
type clearing struct{ m *testing.M }

func (c clearing) Run() int {
	_, err := advise.Load(data.FS)
	code := testkit.NeedData(c.m, err)
	if sharedCacheMade {
		_ = os.RemoveAll(sharedCache())
	}
	return code
}

// sharedCache is the cache of all tests that do not ask for one of their own:
// an index takes longer to build than most tests to run.
var sharedCache = sync.OnceValue(func() string {
	dir, err := os.MkdirTemp("", "tenter-test-cache")
	if err != nil {
		panic(err)
	}
	sharedCacheMade = true
	return dir
})

var sharedCacheMade bool

// Each file of testdata/script is one behaviour; its first word is the command.
// They run with a home and records of their own. The cache is shared, and holds
// the index, unless a script names its own.
func TestScript(t *testing.T) {
	warm := exec.Command("tenter", "search", "denim")
	warm.Env = append(os.Environ(), "HOME="+t.TempDir(), "XDG_CACHE_HOME="+sharedCache(), "XDG_DATA_HOME=", "XDG_CONFIG_HOME=")
	said, err := warm.CombinedOutput()
	require.NoError(t, err, "%s", said)
	testscript.Run(t, testscript.Params{
		Files:               scripts(t),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.WorkDir+"/home")
			e.Setenv("XDG_DATA_HOME", e.WorkDir+"/home/data")
			e.Setenv("XDG_CONFIG_HOME", e.WorkDir+"/home/config")
			e.Setenv("XDG_CACHE_HOME", sharedCache())
			e.Setenv("XDG_STATE_HOME", e.WorkDir+"/home/state")
			e.Setenv("NO_COLOR", "1")
			e.Setenv("COLUMNS", "80")
			e.Setenv("LC_ALL", "C.UTF-8")
			e.Setenv("TZ", "UTC")
			return os.Mkdir(e.WorkDir+"/home", 0o755)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"narrow": fits80, "brief": isBrief},
		Condition: func(cond string) (bool, error) {
			if cond == "root" { // whom permissions do not bind
				return os.Geteuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %q", cond)
		},
	})
}

// scripts are the files of scripts: all, or in short tests those on what is asked most
// and on what goes wrong.
func scripts(t *testing.T) []string {
	t.Helper()
	patterns := []string{"*"}
	if testing.Short() {
		patterns = []string{"error-*", "exit-codes", "check", "show", "search", "swatch_record", "undo", "reckon_*"}
	}
	var out []string
	for _, p := range patterns {
		found, err := filepath.Glob("testdata/script/" + p + ".txtar")
		require.NoError(t, err)
		require.NotEmpty(t, found, p)
		out = append(out, found...)
	}
	return out
}

// isBrief checks that the last command printed at most so many lines and words.
func isBrief(ts *testscript.TestScript, neg bool, args []string) {
	var lines, words int
	if neg || len(args) != 2 {
		ts.Fatalf("usage: brief LINES WORDS")
	}
	for i, to := range []*int{&lines, &words} {
		if _, err := fmt.Sscan(args[i], to); err != nil {
			ts.Fatalf("%q is no number", args[i])
		}
	}
	printed := strings.TrimSpace(ts.ReadFile("stdout"))
	if n := strings.Count(printed, "\n") + 1; n > lines {
		ts.Fatalf("%d lines, at most %d", n, lines)
	}
	if n := len(strings.Fields(printed)); n > words {
		ts.Fatalf("%d words, at most %d", n, words)
	}
}

// fits80 checks that the last command printed something and no line of more
// than 80 characters, nor a sign that steers the terminal.
func fits80(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) > 0 {
		ts.Fatalf("usage: narrow")
	}
	printed := ts.ReadFile("stdout") + ts.ReadFile("stderr")
	if printed == "" {
		ts.Fatalf("nothing was printed")
	}
	for _, l := range strings.Split(printed, "\n") {
		if n := utf8.RuneCountInString(l); n > 80 {
			ts.Fatalf("a line of %d characters: %s", n, l)
		}
		if strings.ContainsAny(l, "\x1b\r\a\b") {
			ts.Fatalf("a sign that steers the terminal: %q", l)
		}
	}
}
