package store

import (
	"bytes"
	"database/sql"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

// damage changes one word for another of the same length wherever it stands in a
// file, as a failing disk would: no page is out of order for it.
func damage(t *testing.T, path, from, to string) {
	t.Helper()
	raw, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Contains(t, string(raw), from)
	require.Len(t, to, len(from))
	require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(raw, []byte(from), []byte(to)), 0o600))
}

// recorded is a closed store with a row of each kind, changed and imported.
func recorded(t *testing.T) string {
	t.Helper()
	s := fresh(t)
	n, err := s.AddNote("cloth", "cotton-sateen", "draft")
	require.NoError(t, err)
	err = s.EditNote(n.ID, "the red bolt sheds colour")
	require.NoError(t, err)
	w, err := s.AddSwatch(record.Swatch{Name: "attic remnant", Price: "12.50 a metre"})
	require.NoError(t, err)
	_, err = s.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 187.25}}})
	require.NoError(t, err)
	_, err = s.ImportSwatches([]record.SwatchRow{{Swatch: record.Swatch{Name: "imported", KeptWhere: "box seven"}}}, false)
	require.NoError(t, err)
	require.NoError(t, s.SetSetting("learn", "offline"))
	require.NoError(t, s.RemoveSwatch(w.ID))
	_, err = s.Undo()
	require.NoError(t, err)
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems, "what was written is sound")
	var unsealed int
	require.NoError(t, s.db.QueryRow("select (select count(*) from note where digest is null) + (select count(*) from swatch where digest is null) + (select count(*) from measurement where digest is null)").Scan(&unsealed))
	require.Zero(t, unsealed)
	require.NoError(t, s.Close())
	return s.Where()
}

func TestADamagedLetterOrFigureIsNoticed(t *testing.T) {
	for row, words := range map[string][2]string{
		"note 1":        {"red bolt", "rod bolt"},
		"swatch 1":      {"12.50 a", "12.60 a"},
		"measurement 1": {"187.25", "197.25"},
		"swatch 2":      {"box seven", "box-seven"},
		"setting 1":     {"offline", "0ffline"},
	} {
		t.Run(row, func(t *testing.T) {
			at := recorded(t)
			damage(t, at, words[0], words[1])
			s := opened(t, at)
			r, err := s.Check()
			require.NoError(t, err)
			require.Equal(t, []string{row + " is damaged: it does not hold what was written"}, r.Problems)
		})
	}
}

// What an import writes beside the rows is what the store would reckon of them, whatever
// stands in them.
func TestImportedRowsAreSealed(t *testing.T) {
	s := fresh(t)
	var odd []record.SwatchRow
	for i, text := range []string{"", "crêpe", "a\x00b", "\xff\xfe", "tab\there\nand there", "remnant’s", strings.Repeat("x", 5000)} {
		for j, length := range []*float64{nil, long(0), long(math.Copysign(0, -1)), long(1e-300), long(150)} {
			row := record.SwatchRow{Swatch: record.Swatch{Name: fmt.Sprint("odd ", i, j), SoldAs: "wool-serge", Colour: text, Notes: text, WidthCM: 1.1 * float64(i), LengthCM: length, Bought: record.Moment(int64(i * 1000000))},
				Measured: []record.Measurement{{Kind: "mass", Note: text, Readings: []record.Reading{{record.ReadingMass: 187.25}}}}}
			odd = append(odd, row)
		}
	}
	done, err := s.ImportSwatches(odd, true)
	require.NoError(t, err)
	require.Greater(t, done.Added, len(odd)/2)
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)
	var other int
	require.NoError(t, s.db.QueryRow("select count(*) from swatch where plain is not plain_run("+searched+")").Scan(&other))
	require.Zero(t, other)
}

func TestADamagedBackupIsRefused(t *testing.T) {
	s := fresh(t)
	_, err := s.AddNote("cloth", "cotton-sateen", "the red bolt sheds colour")
	require.NoError(t, err)
	backup := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.Backup(backup))
	_, err = s.AddNote("cloth", "denim", "later")
	require.NoError(t, err)
	before := dump(t, s.db)
	damage(t, backup, "red bolt", "rod bolt")
	_, err = s.Restore(backup)
	isFault(t, err, fault.BadData, "the backup is damaged", "note 1", "nothing was changed")
	require.Equal(t, before, dump(t, s.db))
}

// A backup whose index has lost a row copies without complaint: only the backup
// itself shows it.
func TestABackupWithADamagedIndexIsRefused(t *testing.T) {
	s := fresh(t)
	for _, cloth := range []string{"cotton-sateen", "wool-felt"} {
		_, err := s.AddNote("cloth", cloth, "kept")
		require.NoError(t, err)
	}
	backup := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.Backup(backup))
	db, err := sql.Open("sqlite", "file:"+backup)
	require.NoError(t, err)
	_, err = db.Exec("pragma writable_schema=on; create table spare (id integer); update sqlite_schema set rootpage = (select rootpage from sqlite_schema where name = 'favourite') where name = 'spare'")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	before := dump(t, s.db)
	_, err = s.Restore(backup)
	isFault(t, err, fault.BadData, "the backup is damaged", "nothing was changed")
	require.Equal(t, before, dump(t, s.db))
}

// layoutTwo makes a store as layout 2 kept it, with one name in two spellings.
func layoutTwo(t *testing.T, at string) {
	t.Helper()
	require.NoError(t, create(at, 2))
	db, err := sql.Open("sqlite", "file:"+at)
	require.NoError(t, err)
	for i, name := range []string{"cre\u0302pe", "crêpe", "cre\u0301pon", "wool"} {
		_, err = db.Exec("insert into swatch (id, name, name_key, sold_as, content, colour, lightness, price, kept_where, picture_path, notes, created, changed) values (?, ?, ?, '', '[]', '', '', '', ?, '', '', 1, 1)", i+1, name, name, "box "+name)
		require.NoError(t, err)
	}
	require.NoError(t, db.Close())
}

func TestNamesWithAccentsOfTheirOwnGetTheirKey(t *testing.T) {
	at := filepath.Join(t.TempDir(), "store.db")
	layoutTwo(t, at)
	s := opened(t, at)
	require.Equal(t, []string{`two swatches were named "crêpe", written with different signs: the later one is now "crêpe (2)"`}, s.Notices())
	for name, place := range map[string]string{"crêpe": "box crêpe", "crêpe (2)": "box cre\u0302pe", "crépon": "box cre\u0301pon", "wool": "box wool"} {
		w, err := s.Swatch(name)
		require.NoError(t, err, name)
		require.Equal(t, place, w.KeptWhere)
	}
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)
	require.Empty(t, opened(t, at).Notices(), "told once")
}

func TestAnOlderStoreThatCannotBeBroughtUpToDateIsRead(t *testing.T) {
	at := filepath.Join(t.TempDir(), "store.db")
	layoutTwo(t, at)
	require.NoError(t, os.WriteFile(backupDir(at), []byte("a file where the copies belong"), 0o600))
	s := opened(t, at)
	names, err := s.SwatchNames()
	require.NoError(t, err)
	require.Len(t, names, 4)
	require.Contains(t, s.Notices()[len(s.Notices())-1], "could not be brought up to date")
	_, err = s.AddSwatch(record.Swatch{Name: "new"})
	isFault(t, err, fault.Internal, "cannot be written")
	require.FileExists(t, s.borrowed)
	require.NoError(t, s.Close())
	require.NoFileExists(t, s.borrowed)
	v, err := identify(at)
	require.NoError(t, err)
	require.Equal(t, 2, v, "the store itself is as it was")
}
