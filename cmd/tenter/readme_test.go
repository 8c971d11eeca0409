package main

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
)

var update = flag.Bool("update", false, "write golden files and the output shown in the documents anew")

// Every command that a document shows is run, and prints what is shown: a block
// that begins with "$ go run ./cmd/tenter …" or "$ tenter …".
func TestDocumentsShowRealOutput(t *testing.T) {
	t.Setenv("HOME", t.TempDir())
	for _, v := range []string{"XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "COLUMNS"} {
		t.Setenv(v, "")
	}
	t.Setenv("XDG_CACHE_HOME", sharedCache())
	t.Setenv("NO_COLOR", "1")
	t.Setenv("TZ", "UTC")
	t.Setenv(storeVariable, "")
	shown := 0
	for _, doc := range []string{"../../README.md", "../../docs/swatches.md"} {
		b, err := os.ReadFile(doc)
		require.NoError(t, err)
		parts := strings.Split(string(b), "```")
		for i := 1; i < len(parts); i += 2 {
			lang, body, _ := strings.Cut(parts[i], "\n")
			if lang != "console" {
				continue
			}
			line, _, _ := strings.Cut(body, "\n")
			args, ok := commandLine(line)
			require.True(t, ok, "%s: a console block begins with a command: %q", doc, line)
			var out, errs bytes.Buffer
			a := newApp(&out, &errs)
			root := newRoot(a)
			root.SetArgs(args)
			require.NoError(t, root.Execute(), line)
			a.close()
			shown++
			want := line + "\n" + out.String()
			if *update {
				if parts[i] != "console\n"+want {
					t.Logf("%s: %s prints anew", doc, line)
				}
				parts[i] = "console\n" + want
				continue
			}
			testkit.Same(t, body, want, "%s shows other output of %q; `go test ./cmd/tenter -run Documents -update` writes it anew", doc, line)
		}
		if *update {
			require.NoError(t, os.WriteFile(doc, []byte(strings.Join(parts, "```")), 0o644))
		}
	}
	require.NotZero(t, shown)
}

// commandLine splits "$ tenter …" as a shell would, as far as the documents
// need it: blanks part words, quotes join them.
func commandLine(line string) ([]string, bool) {
	rest, ok := strings.CutPrefix(line, "$ go run ./cmd/tenter")
	if !ok {
		if rest, ok = strings.CutPrefix(line, "$ tenter"); !ok {
			return nil, false
		}
	}
	var args []string
	var word strings.Builder
	in, quote := false, rune(0)
	for _, r := range rest + " " {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '"' || r == '\''):
			quote, in = r, true
		case quote == 0 && r == ' ':
			if in {
				args = append(args, word.String())
			}
			word.Reset()
			in = false
		default:
			word.WriteRune(r)
			in = true
		}
	}
	return args, true
}
