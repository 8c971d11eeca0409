package main

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// household runs the program with records and house rules of one folder.
type household struct {
	t   *testing.T
	dir string
}

func (h household) run(args ...string) string {
	h.t.Helper()
	said, err := h.command(args...).CombinedOutput()
	require.NoError(h.t, err, "tenter %s: %s", strings.Join(args, " "), said)
	return string(said)
}

func (h household) command(args ...string) *exec.Cmd {
	c := exec.Command("tenter", args...)
	c.Env = append(os.Environ(), "HOME="+h.dir, "XDG_DATA_HOME="+h.dir+"/data", "XDG_CONFIG_HOME="+h.dir+"/config", "XDG_STATE_HOME="+h.dir+"/state",
		"XDG_CACHE_HOME="+sharedCache(), "COLUMNS=80", "NO_COLOR=1", "TZ=UTC", "LC_ALL=C.UTF-8")
	return c
}

func (h household) put(from, to string) {
	h.t.Helper()
	b, err := os.ReadFile(from)
	require.NoError(h.t, err)
	to = filepath.Join(h.dir, to)
	require.NoError(h.t, os.MkdirAll(filepath.Dir(to), 0o700))
	require.NoError(h.t, os.WriteFile(to, b, 0o600))
}

// What a released program kept is opened by every later one: records, house rules,
// and lists that were exported. testdata/older/make.sh says what was recorded.
func TestOlderRecordsOpen(t *testing.T) {
	const older = "testdata/older"
	layouts, err := fs.Glob(os.DirFS(older), "layout-*")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(layouts), 3)
	newest := ""
	for _, layout := range layouts {
		t.Run(layout, func(t *testing.T) {
			h := household{t, t.TempDir()}
			h.put(filepath.Join(older, layout, "tenter.db"), "data/tenter/tenter.db")
			h.put(filepath.Join(older, layout, "house.toml"), "config/tenter/house.toml")

			assert.Contains(t, h.run("note", "list"), "a hand longer for the third witch")
			assert.Contains(t, h.run("favourite", "list"), "wool-felt")
			gold := h.run("swatch", "show", "mayor's gold")
			assert.Contains(t, gold, "152", "the mean of 1.52, 1.49 and 1.55 g on 10 by 10 cm, in g/m2")
			assert.Contains(t, gold, "box 4")
			assert.Contains(t, h.run("swatch", "show", "crêpe of the widow"), "one hole by the selvedge")
			assert.Contains(t, h.run("swatch", "show", "cellar remnant"), "under the stage")
			assert.Contains(t, h.run("wear", "list"), "too-stiff: half-circle-cape of mayor's gold, bagged-lining")
			assert.Contains(t, h.run("rule", "show", "gold-cloth-is-brushed-before-the-curtain"), "Brush the nap of the cloth down")
			assert.Contains(t, h.run("rule", "show", "lining-frays-clip-after-joining"), "ours are bound by hand")
			assert.Contains(t, h.run("store", "check"), "sound")
			var today struct{ Layout int }
			require.NoError(t, json.Unmarshal([]byte(h.run("store", "check", "--json")), &today))
			newest = fmt.Sprintf("layout-%d", today.Layout)
			assert.Contains(t, h.run("store", "undo"), "too-stiff", "the last change of that day can be taken back")
			assert.NotContains(t, h.run("wear", "list"), "too-stiff")

			for _, list := range []string{"swatches.csv", "swatches.json"} {
				g := household{t, t.TempDir()}
				assert.Contains(t, g.run("swatch", "import", filepath.Join(older, layout, list)), "3 recorded", list)
				assert.Equal(t, h.run("swatch", "export", "-", "--format", "json"), g.run("swatch", "export", "-", "--format", "json"), list)
			}
			if records := filepath.Join(older, layout, "records.json"); layout >= "layout-4" { // the first that could write one
				g := household{t, t.TempDir()}
				g.run("store", "import", records)
				assert.Contains(t, g.run("wear", "list"), "too-stiff: half-circle-cape of mayor's gold, bagged-lining")
				assert.Contains(t, g.run("note", "list"), "a hand longer for the third witch")
				assert.Equal(t, h.run("swatch", "export", "-", "--format", "json"), g.run("swatch", "export", "-", "--format", "json"), records)
			}
		})
	}
	assert.DirExists(t, filepath.Join(older, newest), "the layout of today is kept for the programs to come: make.sh")
}
