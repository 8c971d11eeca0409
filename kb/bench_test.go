package kb

import (
	"bytes"
	"database/sql"
	"encoding/csv"
	"fmt"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb/record"
	"tenter/kb/search"
	"tenter/kb/store"
)

// bigList is a list of n swatches as a stall might keep it.
func bigList(n int) []byte {
	var b bytes.Buffer
	b.WriteString("name,sold as,content,width (cm),length (m),colour,kept where,weight gsm,notes\n")
	kinds := []string{"cotton lawn", "denim", "silk taffeta", "wool flannel", "viscose twill"}
	for i := range n {
		fmt.Fprintf(&b, "Remnant %05d,%s,\"60%% cotton, 40%% silk\",%d,%s,grey,box %d,%d,from the village fete\n", i, kinds[i%len(kinds)], 110+i%50, strconv.FormatFloat(float64(i%900)/100, 'f', 2, 64), i%40, 80+i%200)
	}
	return b.Bytes()
}

// BenchmarkImportCSV takes in a list of 50,000 swatches with a mass each, as the
// command does, and as a bare loop does that reads the CSV and runs one prepared
// statement for each table; the ratio is of the best of each.
func BenchmarkImportCSV(b *testing.B) {
	const n = 50000
	list := bigList(n)
	kb := base(b)
	var ours, bare, reading time.Duration
	best := func(d *time.Duration, now time.Duration) {
		if *d == 0 || now < *d {
			*d = now
		}
	}
	for b.Loop() {
		s, err := store.Open(filepath.Join(b.TempDir(), "ours.db"))
		require.NoError(b, err)
		kb.Records = s
		start := time.Now()
		im, err := kb.ReadSwatches(list, ImportOptions{Name: "list"})
		best(&reading, time.Since(start))
		require.NoError(b, err)
		done, err := kb.Keep(im, false, false)
		best(&ours, time.Since(start))
		require.NoError(b, err)
		require.Equal(b, n, done.Added)
		require.NoError(b, s.Close())

		path := filepath.Join(b.TempDir(), "bare.db")
		s, err = store.Open(path)
		require.NoError(b, err)
		require.NoError(b, s.Close())
		db, err := sql.Open("sqlite", "file:"+path+"?_journal_mode=WAL&_synchronous=NORMAL")
		require.NoError(b, err)
		start = time.Now()
		rows, err := csv.NewReader(bytes.NewReader(list)).ReadAll()
		require.NoError(b, err)
		tx, err := db.Begin()
		require.NoError(b, err)
		in, err := tx.Prepare("insert into swatch (id, name, name_key, sold_as, content, width_cm, length_cm, colour, lightness, price, kept_where, picture_path, bought, notes, created, changed) values (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)")
		require.NoError(b, err)
		m, err := tx.Prepare("insert into measurement (id, swatch_id, kind, taken_at, readings, note, removed) values (?,?,?,?,?,?,?)")
		require.NoError(b, err)
		for i, r := range rows[1:] {
			width, _ := strconv.ParseFloat(r[3], 64)
			length, _ := strconv.ParseFloat(r[4], 64)
			if _, err := in.Exec(i+1, r[0], r[0], r[1], `[{"fibre":"cotton","percent":60},{"fibre":"silk","percent":40}]`, width, length*100, r[5], "", "", r[6], "", nil, r[8], 1, 1); err != nil {
				b.Fatal(err)
			}
			if _, err := m.Exec(i+1, i+1, "mass", 1, `[{"mass_gsm":`+r[7]+`}]`, "", nil); err != nil {
				b.Fatal(err)
			}
		}
		require.NoError(b, tx.Commit())
		best(&bare, time.Since(start))
		require.NoError(b, db.Close())
	}
	b.ReportMetric(float64(ours.Milliseconds()), "ms-ours")
	b.ReportMetric(float64(reading.Milliseconds()), "ms-reading")
	b.ReportMetric(float64(bare.Milliseconds()), "ms-bare")
	b.ReportMetric(float64(ours)/float64(bare), "ratio")
}

// full is a base with 50,000 swatches.
func full(b *testing.B) *Base {
	b.Helper()
	kb := stored(b)
	im, err := kb.ReadSwatches(bigList(50000), ImportOptions{})
	require.NoError(b, err)
	_, err = kb.Keep(im, false, false)
	require.NoError(b, err)
	return kb
}

// BenchmarkAt50000 is what commands pay with a full cupboard: a page of the list, a
// list by words, one swatch by its name, a cloth by its name, what is learned.
func BenchmarkAt50000(b *testing.B) {
	kb := full(b)
	for _, c := range []struct {
		name string
		f    func() error
	}{
		{"list-page", func() error { _, _, err := kb.Swatches(record.SwatchFilter{}, 40, 0); return err }},
		{"list-words", func() error {
			_, _, err := kb.Swatches(record.SwatchFilter{Words: "remnant 049 grey"}, 40, 0)
			return err
		}},
		{"list-all", func() error { _, _, err := kb.Swatches(record.SwatchFilter{}, 0, 0); return err }},
		{"swatch", func() error { _, err := kb.Subject("remnant 04999"); return err }},
		{"cloth", func() error { _, err := kb.Subject("denim"); return err }},
		{"misspelt", func() error {
			if _, err := kb.Subject("remnnt 04999x"); err == nil {
				return fmt.Errorf("found")
			}
			return nil
		}},
		{"lessons", func() error { _, err := kb.Lessons(); return err }},
		{"learned", func() error {
			l, err := kb.Lessons()
			kb.Cat.Learned(l)
			return err
		}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := c.f(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("memory", func(b *testing.B) {
		var before, after runtime.MemStats
		for b.Loop() {
			runtime.GC()
			runtime.ReadMemStats(&before)
			list, _, err := kb.Swatches(record.SwatchFilter{}, 0, 0)
			require.NoError(b, err)
			runtime.GC()
			runtime.ReadMemStats(&after)
			runtime.KeepAlive(list)
		}
		b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/1e6, "MB-held")
	})
}

// BenchmarkGrowth is what more swatches cost: taking them in, and finding the one
// that holds a word.
func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{3125, 12500, 50000} {
		list := bigList(n)
		take := func(b *testing.B) *Base {
			kb := stored(b)
			im, err := kb.ReadSwatches(list, ImportOptions{})
			require.NoError(b, err)
			_, err = kb.Keep(im, false, false)
			require.NoError(b, err)
			return kb
		}
		b.Run(fmt.Sprintf("import/swatches=%d", n), func(b *testing.B) {
			for b.Loop() {
				take(b)
			}
		})
		b.Run(fmt.Sprintf("find/swatches=%d", n), func(b *testing.B) {
			kb := take(b)
			own, err := Own(kb.Records.(Entries))
			require.NoError(b, err)
			x, err := search.InMemory(search.Options{Own: own})
			require.NoError(b, err)
			for b.Loop() {
				hits, _, err := x.Search(search.Query{Words: "remnant 03001"})
				require.NoError(b, err)
				require.NotEmpty(b, hits)
			}
		})
	}
}
