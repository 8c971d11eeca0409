package store

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

func TestNotes(t *testing.T) {
	s := fresh(t)
	a, err := s.AddNote("cloth", "wool-felt", "  keeps a pinked edge \r\n in the snow ")
	require.NoError(t, err)
	require.Equal(t, "keeps a pinked edge \n in the snow", a.Text)
	b, err := s.AddNote("piece", "hooded-cape", "for the second witch")
	require.NoError(t, err)

	for _, c := range []struct {
		kind, subject string
		want          []int64
	}{{"", "", []int64{a.ID, b.ID}}, {"cloth", "", []int64{a.ID}}, {"", "hooded-cape", []int64{b.ID}}, {"cloth", "hooded-cape", nil}} {
		notes, err := s.Notes(c.kind, c.subject)
		require.NoError(t, err)
		var ids []int64
		for _, n := range notes {
			ids = append(ids, n.ID)
		}
		require.Equal(t, c.want, ids)
	}

	require.NoError(t, s.EditNote(a.ID, "frays after all"))
	notes, err := s.Notes("cloth", "wool-felt")
	require.NoError(t, err)
	require.Equal(t, "frays after all", notes[0].Text)
	require.True(t, notes[0].Changed.After(notes[0].Created))
	require.Equal(t, a.Created, notes[0].Created)

	require.NoError(t, s.RemoveNote(a.ID))
	isFault(t, s.RemoveNote(a.ID), fault.NotFound, "no note")
	isFault(t, s.EditNote(a.ID, "x"), fault.NotFound, "no note")
	what, err := s.Undo()
	require.NoError(t, err)
	require.Equal(t, "note 1 removed", what)
	notes, err = s.Notes("cloth", "")
	require.NoError(t, err)
	require.Len(t, notes, 1)
}

func TestNotesThatAreRefused(t *testing.T) {
	s := fresh(t)
	before := dump(t, s.db)
	for _, c := range []struct{ name, kind, subject, text, says string }{
		{"empty", "cloth", "a", " \n ", "empty"},
		{"about nothing", "cloth", "", "x", "subject is empty"},
		{"of no kind", " ", "a", "x", "kind is empty"},
		{"nul", "cloth", "a", "x\x00y", "cannot be shown"},
		{"escape", "cloth", "a", "\x1b[31m", "cannot be shown"},
		{"not UTF-8", "cloth", "a", "\xff", "cannot be shown"},
		{"escape in the name", "cloth", "a\x1b", "x", "cannot be shown"},
		{"long name", "cloth", strings.Repeat("é", 200+1), "x", "201 letters"},
		{"long text", "cloth", "a", strings.Repeat("x", 100_000+1), "bytes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := s.AddNote(c.kind, c.subject, c.text)
			isFault(t, err, fault.WrongCall, c.says)
		})
	}
	require.Equal(t, before, dump(t, s.db))
}

func TestFavourites(t *testing.T) {
	s := fresh(t)
	require.NoError(t, s.Favourite("cloth", "silk-noil"))
	require.NoError(t, s.Favourite("piece", "sash"))
	once := dump(t, s.db)
	require.NoError(t, s.Favourite("cloth", "silk-noil"))
	require.Equal(t, once, dump(t, s.db), "twice is once, and leaves no change to undo")
	fs, err := s.Favourites()
	require.NoError(t, err)
	require.Equal(t, "silk-noil", fs[0].Subject)
	require.Equal(t, "sash", fs[1].Subject)
	require.NoError(t, s.Unfavourite("cloth", "silk-noil"))
	isFault(t, s.Unfavourite("cloth", "silk-noil"), fault.NotFound, "no favourite")
	fs, err = s.Favourites()
	require.NoError(t, err)
	require.Len(t, fs, 1)
}

func TestUndo(t *testing.T) {
	s := fresh(t)
	_, err := s.Undo()
	isFault(t, err, fault.NotFound, "nothing to undo")
	var states, says []string
	state := func() string { return dump(t, s.db) }
	do := func(err error) { require.NoError(t, err) }
	for _, f := range []func(){
		func() { _, err := s.AddNote("cloth", "a", "one"); do(err) },
		func() { do(s.EditNote(1, "two")) },
		func() { do(s.Favourite("cloth", "a")) },
		func() { do(s.RemoveNote(1)) },
		func() { do(s.Unfavourite("cloth", "a")) },
	} {
		states = append(states, state())
		f()
		h, err := s.History(1)
		require.NoError(t, err)
		says = append(says, h[0].What)
	}
	h, err := s.History(0)
	require.NoError(t, err)
	require.Len(t, h, 5)
	for i := len(states) - 1; i >= 0; i-- {
		what, err := s.Undo()
		require.NoError(t, err)
		require.Equal(t, says[i], what)
		require.Equal(t, states[i], state(), "after undoing: %s", what)
	}
	_, err = s.Undo()
	isFault(t, err, fault.NotFound)
}

func TestEditToTheSameIsNoChange(t *testing.T) {
	s := fresh(t)
	n, err := s.AddNote("cloth", "a", "one")
	require.NoError(t, err)
	before := dump(t, s.db)
	require.NoError(t, s.EditNote(n.ID, " one "))
	require.Equal(t, before, dump(t, s.db))
}

func TestTheLogIsBounded(t *testing.T) {
	s := fresh(t)
	for range record.KeptChanges + 200 {
		_, err := s.AddNote("cloth", "a", "one")
		require.NoError(t, err)
	}
	var n int
	require.NoError(t, s.db.QueryRow("select count(*) from change").Scan(&n))
	require.GreaterOrEqual(t, n, record.KeptChanges)
	require.Less(t, n, record.KeptChanges+64)
	_, err := s.Undo()
	require.NoError(t, err)
}

func TestALogThatDoesNotFitUndoesNothing(t *testing.T) {
	for name, spoil := range map[string]string{
		"foreign table": `update change set steps = '[{"t":"sqlite_schema","id":1,"after":{"id":1}}]'`,
		"no steps":      `update change set steps = '[1]'`,
		"taken id":      `insert into note (id, kind, subject, text, created, changed) values (1, 'cloth', 'b', 'in the way', 1, 1)`,
		"odd column":    `update change set steps = '[{"t":"note","id":1,"before":{"id":1,"x\" = 1; drop table note; --":1}}]'`,
	} {
		t.Run(name, func(t *testing.T) {
			s := fresh(t)
			_, err := s.AddNote("cloth", "a", "one")
			require.NoError(t, err)
			require.NoError(t, s.RemoveNote(1))
			_, err = s.db.Exec(spoil)
			require.NoError(t, err)
			before := dump(t, s.db)
			_, err = s.Undo()
			isFault(t, err, fault.BadData, "cannot be undone")
			require.Equal(t, before, dump(t, s.db))
		})
	}
}
