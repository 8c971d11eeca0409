package index

import (
	"database/sql"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	_ "modernc.org/sqlite"

	"tenter/kb/search"
	"tenter/kb/search/searchtest"
)

var benchCache = flag.String("cache", "", "folder where the benchmarks keep their index from run to run")

// fullText is the yardstick: the same entries in SQLite's own full-text index.
func fullText(tb testing.TB, docs []search.Doc) *sql.Stmt {
	cache := *benchCache
	if cache == "" {
		cache = tb.TempDir()
	}
	at := filepath.Join(cache, fmt.Sprintf("fts-%d.db", len(docs)))
	_, err := os.Stat(at)
	built := err == nil
	db, err := sql.Open("sqlite", "file:"+at+"?_journal_mode=WAL&_synchronous=NORMAL")
	require.NoError(tb, err)
	db.SetMaxOpenConns(1)
	tb.Cleanup(func() { db.Close() })
	if !built {
		fillFullText(tb, db, docs)
	}
	q, err := db.Prepare(`select id, name from entry where entry match ? order by bm25(entry,0,4,2.5,1,1) limit 20`)
	require.NoError(tb, err)
	return q
}

func fillFullText(tb testing.TB, db *sql.DB, docs []search.Doc) {
	_, err := db.Exec(`create virtual table entry using fts5(id unindexed, name, names, words, text, tokenize='porter unicode61', prefix='2 3')`)
	require.NoError(tb, err)
	tx, err := db.Begin()
	require.NoError(tb, err)
	in, err := tx.Prepare(`insert into entry values (?,?,?,?,?)`)
	require.NoError(tb, err)
	for _, d := range docs {
		_, err = in.Exec(d.Kind+"/"+d.ID, d.Name, strings.Join(d.Names, " | "), strings.Join(d.Words, " "), d.Text)
		require.NoError(tb, err)
	}
	require.NoError(tb, tx.Commit())
}

func ask5(tb testing.TB, q *sql.Stmt, match string) int {
	rows, err := q.Query(match)
	require.NoError(tb, err)
	defer rows.Close()
	n := 0
	for rows.Next() {
		var id, name string
		require.NoError(tb, rows.Scan(&id, &name))
		n++
	}
	require.NoError(tb, rows.Err())
	return n
}

// BenchmarkAgainstFullText asks both engines the same questions in turn and
// reports how their times compare. Misspelt words have no counterpart in FTS5:
// they are reported alone.
func BenchmarkAgainstFullText(b *testing.B) {
	for _, n := range []int{300, 3000, 100000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			if n > 3000 && testing.Short() {
				b.Skip("builds 100,000 entries: minutes")
			}
			docs, asked := searchtest.Invented(n)
			start := time.Now()
			cache := *benchCache
			if cache == "" {
				cache = b.TempDir()
			}
			x, err := Open(Place{cache, fmt.Sprint("bench", n)}, search.Options{Count: n, Docs: func() []search.Doc { return docs }})
			require.NoError(b, err)
			b.Cleanup(func() { x.Close() })
			b.Logf("%d entries: index built in %v", n, time.Since(start).Round(time.Millisecond))
			start = time.Now()
			fts := fullText(b, docs)
			b.Logf("%d entries: FTS5 built in %v", n, time.Since(start).Round(time.Millisecond))

			quoted := func(ws []string, sep string) string { return `"` + strings.Join(ws, `"`+sep+`"`) + `"` }
			// Words that stand together somewhere, as those do that people ask for, and words
			// that need not: there FTS5 finds nothing, and ours goes on to guess.
			together := func(i, n int) []string {
				text := strings.Fields(docs[i*31%len(docs)].Text)
				at := i % (len(text) - n)
				return text[at : at+n]
			}
			strangers := func(i, n int) []string {
				ws := make([]string, n)
				for j := range ws {
					ws[j] = asked[(i*n+j)%len(asked)]
				}
				return ws
			}
			forms := []struct {
				name  string
				words int
				from  func(i, n int) []string
				query func(ws []string) search.Query
				match func(ws []string) string // nil = FTS5 has nothing like it
			}{
				{"one", 1, strangers, func(ws []string) search.Query { return search.Query{Words: ws[0]} }, func(ws []string) string { return quoted(ws, "") }},
				{"two", 2, together, func(ws []string) search.Query { return search.Query{Words: strings.Join(ws, " ")} }, func(ws []string) string { return quoted(ws, " AND ") }},
				{"three", 3, together, func(ws []string) search.Query { return search.Query{Words: strings.Join(ws, " ")} }, func(ws []string) string { return quoted(ws, " AND ") }},
				{"three-strangers", 3, strangers, func(ws []string) search.Query { return search.Query{Words: strings.Join(ws, " ")} }, func(ws []string) string { return quoted(ws, " AND ") }},
				{"phrase", 2, together, func(ws []string) search.Query { return search.Query{Words: `"` + strings.Join(ws, " ") + `"`} }, func(ws []string) string { return quoted(ws, " + ") }},
				{"typing", 1, strangers, func(ws []string) search.Query { return search.Query{Words: ws[0][:3], Prefix: true} }, func(ws []string) string { return `{name names} : "` + ws[0][:3] + `" *` }},
				{"misspelt", 1, strangers, func(ws []string) search.Query { return search.Query{Words: ws[0][:2] + "q" + ws[0][2:]} }, nil},
			}
			for _, f := range forms {
				b.Run(f.name, func(b *testing.B) {
					b.ReportAllocs()
					var ours, theirs []time.Duration
					i := 0
					for b.Loop() {
						ws := f.from(i, f.words)
						i++
						t := time.Now()
						_, _, err := x.Search(f.query(ws))
						ours = append(ours, time.Since(t))
						if err != nil {
							b.Fatal(err)
						}
						if f.match != nil {
							t = time.Now()
							ask5(b, fts, f.match(ws))
							theirs = append(theirs, time.Since(t))
						}
					}
					report(b, ours, theirs)
				})
			}
		})
	}
}

func report(b *testing.B, ours, theirs []time.Duration) {
	at := func(ds []time.Duration, p float64) float64 {
		slices.Sort(ds)
		return float64(ds[min(len(ds)-1, int(p*float64(len(ds))))].Microseconds())
	}
	b.ReportMetric(at(ours, 0.5), "µs-p50")
	b.ReportMetric(at(ours, 0.99), "µs-p99")
	if len(theirs) > 0 {
		b.ReportMetric(at(theirs, 0.5), "µs-fts5-p50")
		b.ReportMetric(at(theirs, 0.99), "µs-fts5-p99")
		b.ReportMetric(at(ours, 0.5)/at(theirs, 0.5), "ratio-p50")
		b.ReportMetric(at(ours, 0.99)/at(theirs, 0.99), "ratio-p99")
	}
}

// BenchmarkOpen is what a command pays before it can search.
func BenchmarkOpen(b *testing.B) {
	docs, _ := searchtest.Invented(3000)
	at, o := Place{b.TempDir(), "k"}, search.Options{Docs: func() []search.Doc { return docs }}
	x, err := Open(at, o) // builds
	require.NoError(b, err)
	x.Close()
	for b.Loop() {
		x, err := Open(at, o)
		if err != nil {
			b.Fatal(err)
		}
		x.Close()
	}
}

// BenchmarkOwn is a whole search of a command: opening, with own records that
// the index has never seen, and one question.
func BenchmarkOwn(b *testing.B) {
	docs, asked := searchtest.Invented(3000)
	cache := b.TempDir()
	x, err := Open(Place{cache, "k"}, search.Options{Docs: func() []search.Doc { return docs }}) // builds
	require.NoError(b, err)
	x.Close()
	for _, n := range []int{20, 200, 2000, 50000} {
		own, _ := searchtest.Invented(n)
		for i := range own {
			own[i].Kind, own[i].Names = "swatch", nil
			own[i].Text = strings.Join(strings.Fields(own[i].Text)[:10], " ")
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			i := 0
			for b.Loop() {
				x, err := Open(Place{cache, "k"}, search.Options{Docs: func() []search.Doc { return docs }, Own: search.List(own)})
				if err != nil {
					b.Fatal(err)
				}
				if _, _, err := x.Search(search.Query{Words: asked[i%len(asked)]}); err != nil {
					b.Fatal(err)
				}
				i++
				x.Close()
			}
		})
	}
}
