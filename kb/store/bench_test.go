package store

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb/record"
)

// BenchmarkImport puts 50,000 rows in, by the store and by a bare loop of one
// prepared statement over the same columns, in turn, and reports the ratio.
func BenchmarkImport(b *testing.B) {
	for _, c := range []struct {
		name     string
		measured bool
	}{{"swatches", false}, {"swatches with a mass", true}} {
		b.Run(c.name, func(b *testing.B) {
			const n = 50000
			var ours, bare time.Duration
			best := func(d *time.Duration, now time.Duration) {
				if *d == 0 || now < *d {
					*d = now
				}
			}
			for b.Loop() {
				list := rows(n)
				if c.measured {
					for i := range list {
						list[i].Measured = []record.Measurement{{Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 100.0}}}}
					}
				}
				s := opened(b, filepath.Join(b.TempDir(), "store.db"))
				start := time.Now()
				done, err := s.ImportSwatches(list, false)
				best(&ours, time.Since(start))
				require.NoError(b, err)
				require.Equal(b, n, done.Added)
				require.NoError(b, s.Close())

				plain := opened(b, filepath.Join(b.TempDir(), "plain.db"))
				vals, err := values(&list[0].Swatch, 1, 1)
				require.NoError(b, err)
				start = time.Now()
				tx, err := plain.db.Begin()
				require.NoError(b, err)
				in, err := tx.Prepare("insert into swatch (id, name, name_key, sold_as, content, width_cm, length_cm, colour, lightness, price, kept_where, picture_path, bought, notes, created, changed) values (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)")
				require.NoError(b, err)
				m, err := tx.Prepare("insert into measurement (id, swatch_id, kind, taken_at, readings, note, removed) values (?,?,?,?,?,?,?)")
				require.NoError(b, err)
				for i := range list {
					w := &list[i].Swatch
					if _, err := in.Exec(i+1, w.Name, w.Name, w.SoldAs, vals[3], w.WidthCM, *w.LengthCM, w.Colour, w.Lightness, w.Price, w.KeptWhere, w.PicturePath, nil, w.Notes, 1, 1); err != nil {
						b.Fatal(err)
					}
					if c.measured {
						if _, err := m.Exec(i+1, i+1, "mass", 1, `[{"mass_gsm":100}]`, "", nil); err != nil {
							b.Fatal(err)
						}
					}
				}
				require.NoError(b, tx.Commit())
				best(&bare, time.Since(start))
				require.NoError(b, plain.Close())
			}
			b.ReportMetric(float64(ours.Milliseconds()), "ms-ours")
			b.ReportMetric(float64(bare.Milliseconds()), "ms-bare")
			b.ReportMetric(float64(ours)/float64(bare), "ratio")
		})
	}
}

// BenchmarkOpen is what a command pays to read its records.
func BenchmarkOpen(b *testing.B) {
	p := filepath.Join(b.TempDir(), "store.db")
	s := opened(b, p)
	_, err := s.AddNote("cloth", "a", "b")
	require.NoError(b, err)
	require.NoError(b, s.Close())
	for b.Loop() {
		s, _, err := OpenIfExists(p)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := s.Notes("", ""); err != nil {
			b.Fatal(err)
		}
		s.Close()
	}
}

// BenchmarkAddNote is one change with its log.
func BenchmarkAddNote(b *testing.B) {
	s := fresh(b)
	for b.Loop() {
		if _, err := s.AddNote("cloth", "a", "b"); err != nil {
			b.Fatal(err)
		}
	}
}
