package index

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/blevesearch/bleve/v2"
	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
	"tenter/kb/search"
	"tenter/kb/search/searchtest"
)

// child makes the test's own program build an index and leave: other processes
// to race with and to kill.
const child = "TENTER_SEARCH_TEST_CACHE"

// raced is how many entries they build an index of: enough to take a while.
const raced = 150

func TestMain(m *testing.M) {
	if cache := os.Getenv(child); cache != "" {
		docs, _ := searchtest.Invented(raced)
		x, err := Open(Place{cache, "race"}, search.Options{Count: len(docs), Docs: func() []search.Doc { return docs }})
		if err == nil {
			var hits []search.Hit
			hits, _, err = x.Search(search.Query{Words: docs[0].ID})
			if err == nil && (len(hits) == 0 || hits[0].ID != docs[0].ID) {
				err = errors.New("the index does not hold its first entry")
			}
			x.Close()
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func spawn(cache string) (*exec.Cmd, *bytes.Buffer) {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), child+"="+cache)
	var out bytes.Buffer
	c.Stderr = &out
	return c, &out
}

func folders(t *testing.T, cache, prefix string) []string {
	t.Helper()
	es, err := os.ReadDir(cache)
	require.NoError(t, err)
	var out []string
	for _, e := range es {
		if strings.HasPrefix(e.Name(), prefix) {
			out = append(out, filepath.Join(cache, e.Name()))
		}
	}
	return out
}

// counting opens the shelf and tells how often the entries were asked for.
func counting(t *testing.T, cache, key string, calls *int) *search.Index {
	t.Helper()
	x, err := Open(Place{cache, key}, search.Options{Count: len(searchtest.Shelf()), Docs: func() []search.Doc { *calls++; return searchtest.Shelf() }})
	require.NoError(t, err)
	hits, _, err := x.Search(search.Query{Words: "broadcloth"})
	require.NoError(t, err)
	require.Equal(t, "cotton-poplin", searchtest.IDs(hits))
	return x
}

func TestBuiltOnceForEachKey(t *testing.T) {
	cache, calls := filepath.Join(t.TempDir(), "deep", "cache with % and ?"), 0
	for range 3 {
		require.NoError(t, counting(t, cache, "one", &calls).Close())
	}
	require.Equal(t, 1, calls)
	require.NoError(t, counting(t, cache, "two", &calls).Close())
	require.Equal(t, 2, calls)
	require.Len(t, folders(t, cache, generation), 2)
	require.Empty(t, folders(t, cache, unfinished))
}

func TestDamagedGenerationIsBuiltAgain(t *testing.T) {
	segment := func(dir string) string {
		m, err := filepath.Glob(filepath.Join(dir, "ix", "store", "*.zap"))
		require.NoError(t, err)
		require.NotEmpty(t, m)
		return m[0]
	}
	for name, damage := range map[string]func(dir string) error{
		"no manifest":    func(dir string) error { return os.Remove(filepath.Join(dir, manifestName)) },
		"empty manifest": func(dir string) error { return os.Truncate(filepath.Join(dir, manifestName), 0) },
		"no bolt":        func(dir string) error { return os.Remove(filepath.Join(dir, "ix", "store", "root.bolt")) },
		"no meta":        func(dir string) error { return os.Remove(filepath.Join(dir, "ix", "index_meta.json")) },
		"cut segment":    func(dir string) error { return os.Truncate(segment(dir), 100) },
		"changed byte": func(dir string) error {
			raw, err := os.ReadFile(segment(dir))
			if err != nil {
				return err
			}
			raw[len(raw)/2] ^= 0xff
			return os.WriteFile(segment(dir), raw, 0o600)
		},
		"a file in its place": func(dir string) error {
			if err := os.RemoveAll(dir); err != nil {
				return err
			}
			return os.WriteFile(dir, []byte("x"), 0o600)
		},
	} {
		t.Run(name, func(t *testing.T) {
			cache, calls := t.TempDir(), 0
			require.NoError(t, counting(t, cache, "k", &calls).Close())
			require.NoError(t, damage(folders(t, cache, generation)[0]))
			require.NoError(t, counting(t, cache, "k", &calls).Close())
			require.Equal(t, 2, calls)
			require.NoError(t, counting(t, cache, "k", &calls).Close())
			require.Equal(t, 2, calls, "whole again")
			require.Empty(t, folders(t, cache, spoilt))
		})
	}
}

func TestWrongCount(t *testing.T) {
	cache, calls := t.TempDir(), 0
	require.NoError(t, counting(t, cache, "k", &calls).Close())
	_, err := Open(Place{cache, "k"}, search.Options{Count: 3, Docs: searchtest.Shelf})
	require.ErrorContains(t, err, fmt.Sprintf("promised 3 entries and given %d", len(searchtest.Shelf())))
}

func TestCacheThatCannotBeWritten(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	for name, cache := range map[string]string{"none": "", "below a file": filepath.Join(file, "cache"), "a file": file, "nul in the name": "a\x00b"} {
		t.Run(name, func(t *testing.T) {
			calls := 0
			require.NoError(t, counting(t, cache, "k", &calls).Close())
			require.Equal(t, 1, calls)
		})
	}
}

func TestAnotherProcessHoldsTheIndex(t *testing.T) {
	cache, calls := t.TempDir(), 0
	require.NoError(t, counting(t, cache, "k", &calls).Close())
	held, err := bleve.OpenUsing(filepath.Join(folders(t, cache, generation)[0], "ix"), map[string]any{"bolt_timeout": "1s"})
	require.NoError(t, err)
	defer held.Close()
	x := counting(t, cache, "k", &calls)
	defer x.Close()
	require.Equal(t, 2, calls, "waits for a time, then does without")
}

func TestManyOpenAtOnce(t *testing.T) {
	for round := range 5 {
		cache := t.TempDir()
		var calls atomic.Int32
		var wg sync.WaitGroup
		errs := make([]error, 8)
		for i := range errs {
			wg.Go(func() {
				x, err := Open(Place{cache, fmt.Sprint(round)}, search.Options{Count: len(searchtest.Shelf()), Docs: func() []search.Doc { calls.Add(1); return searchtest.Shelf() }})
				if err == nil {
					defer x.Close()
					var hits []search.Hit
					hits, _, err = x.Search(search.Query{Words: "wadding"})
					if err == nil && searchtest.IDs(hits) != "wadding wool-flannel" {
						err = fmt.Errorf("found %s", searchtest.IDs(hits))
					}
				}
				errs[i] = err
			})
		}
		wg.Wait()
		require.NoError(t, errors.Join(errs...))
		require.Len(t, folders(t, cache, generation), 1)
		require.Empty(t, folders(t, cache, unfinished))
		require.Positive(t, calls.Load())
	}
}

func TestManySearchAtOnce(t *testing.T) {
	x := opened(t, search.Doc{Kind: "swatch", ID: "1", Name: "grey felt"})
	want, _, err := x.Search(search.Query{Words: "grey felt"})
	require.NoError(t, err)
	var wg sync.WaitGroup
	var wrong atomic.Int32
	for range 8 {
		wg.Go(func() {
			for range 50 {
				if got, _, err := x.Search(search.Query{Words: "grey felt"}); err != nil || fmt.Sprint(got) != fmt.Sprint(want) {
					wrong.Add(1)
				}
			}
		})
	}
	wg.Wait()
	require.Zero(t, wrong.Load())
}

func TestProcessesBuildAtOnce(t *testing.T) {
	rounds := 4
	if testing.Short() {
		rounds = 1
	}
	for range rounds {
		cache := t.TempDir()
		var cmds []*exec.Cmd
		var outs []*bytes.Buffer
		for range 4 {
			c, out := spawn(cache)
			require.NoError(t, c.Start())
			cmds, outs = append(cmds, c), append(outs, out)
		}
		for i, c := range cmds {
			require.NoError(t, c.Wait(), outs[i].String())
		}
		require.Len(t, folders(t, cache, generation), 1)
		require.Empty(t, folders(t, cache, unfinished))
	}
}

func TestKilledBuildsLeaveNoHalfIndex(t *testing.T) {
	kills := 30
	if testing.Short() {
		kills = 5
	}
	cache := t.TempDir()
	docs, _ := searchtest.Invented(raced)
	r := rand.New(rand.NewPCG(3, 4))
	first, out := spawn(cache)
	require.NoError(t, first.Run(), out.String())
	whole := testkit.BytesBelow(cache)
	require.NoError(t, os.RemoveAll(folders(t, cache, generation)[0]))
	killed, finished := 0, 0
	for range kills {
		c, _ := spawn(cache)
		if testkit.KillAfterWriting(t, c, cache, 1+r.Int64N(whole)) {
			finished++
		} else {
			killed++
		}
		// Whatever is in place is whole.
		for _, dir := range folders(t, cache, generation) {
			ix := openReadOnly(dir, len(docs))
			require.NotNil(t, ix, "a generation in place that does not open")
			require.NoError(t, ix.Close())
			require.NoError(t, os.RemoveAll(dir)) // so that the next one builds again
		}
	}
	t.Logf("%d killed, %d finished", killed, finished)
	require.Positive(t, killed)
	last, out := spawn(cache)
	require.NoError(t, last.Run(), out.String())
}

func TestSweep(t *testing.T) {
	cache, calls := t.TempDir(), 0
	old := time.Now().Add(-2 * time.Hour)
	make := func(name string, at time.Time) {
		p := filepath.Join(cache, name)
		require.NoError(t, os.MkdirAll(filepath.Join(p, "gen"), 0o755))
		require.NoError(t, os.Chtimes(p, at, at))
	}
	make(unfinished+"left", old)
	make(unfinished+"at work", time.Now())
	make(spoilt+"left", old)
	make("another's", old)
	for i := range 5 {
		make(fmt.Sprintf("%s%d", generation, i), old.Add(time.Duration(i)*time.Minute))
	}
	require.NoError(t, counting(t, cache, "k", &calls).Close())
	es, err := os.ReadDir(cache)
	require.NoError(t, err)
	var names []string
	for _, e := range es {
		names = append(names, e.Name())
	}
	require.Len(t, names, 5)
	require.Contains(t, names, unfinished+"at work")
	require.Contains(t, names, "another's")
	require.Contains(t, names, generation+"4", "the latest used stay")
	require.Contains(t, names, generation+"3")
}
