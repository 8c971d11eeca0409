package kb_test

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb"
	"tenter/kb/memory"
	"tenter/kb/record"
	"tenter/kb/store"
)

// clock goes a minute further at each look.
type clock struct{ time.Time }

func (c *clock) now() time.Time { c.Time = c.Add(time.Minute); return c.Time }

// sides are a desktop with its file and a phone in memory, whose clock is four hours
// behind.
func sides(t *testing.T) (desk *store.Store, deskClock *clock, phone *memory.Memory, phoneClock *clock) {
	t.Helper()
	desk, err := store.Open(filepath.Join(t.TempDir(), "records.db"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, desk.Close()) })
	phone = memory.New()
	deskClock, phoneClock = &clock{time.Date(2026, 11, 28, 12, 0, 0, 0, time.UTC)}, &clock{time.Date(2026, 11, 28, 8, 0, 0, 0, time.UTC)}
	desk.Now, phone.Now = deskClock.now, phoneClock.now
	return desk, deskClock, phone, phoneClock
}

// carry takes a copy of one side, as a file, to the other.
func carry(t *testing.T, from kb.Records, at *clock, to kb.Records, there *clock, take ...string) (*kb.Merge, kb.Merged) {
	t.Helper()
	made, err := kb.NewCopy(from, at.now())
	require.NoError(t, err)
	d, err := kb.DocumentOf(from)
	require.Equal(t, made, d, "what was noted down is what is written")
	require.NoError(t, err)
	file, err := json.Marshal(d)
	require.NoError(t, err)
	read, err := record.ReadDocument(file)
	require.NoError(t, err)
	m, err := kb.Compare(to, read)
	require.NoError(t, err)
	taken := map[string]bool{}
	for _, x := range m.Clashes() {
		taken[x.Key] = slices.Contains(take, x.Key)
	}
	done, err := m.Do(to, taken, there.now())
	require.NoError(t, err)
	return m, done
}

func swatch(t *testing.T, r kb.Records, name string) record.Swatch {
	t.Helper()
	w, there, err := r.FindSwatch(name)
	require.NoError(t, err)
	require.True(t, there, name)
	return w
}

func edit(t *testing.T, r kb.Records, name string, do func(*record.Swatch)) {
	t.Helper()
	w := swatch(t, r, name)
	do(&w)
	_, err := r.EditSwatch(w)
	require.NoError(t, err)
}

func TestMerge(t *testing.T) {
	desk, dc, phone, pc := sides(t)
	gold, err := desk.AddSwatch(record.Swatch{Name: "gold", SoldAs: "cotton-sateen", Colour: "gold", WidthCM: 140})
	require.NoError(t, err)
	_, err = desk.AddMeasurement(record.Measurement{SwatchID: gold.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 130.0}}})
	require.NoError(t, err)
	_, err = desk.AddSwatch(record.Swatch{Name: "banner red"})
	require.NoError(t, err)
	_, err = desk.AddNote("cloth", "cotton-sateen", "frays")
	require.NoError(t, err)
	require.NoError(t, desk.Favourite("piece", "cowl"))

	// The first copy brings everything, with its figures.
	_, done := carry(t, desk, dc, phone, pc)
	require.Equal(t, kb.Merged{Added: 4}, done)
	require.Equal(t, 140.0, swatch(t, phone, "gold").WidthCM)
	ms, err := phone.Measurements(swatch(t, phone, "gold").ID, "mass", false)
	require.NoError(t, err)
	require.Len(t, ms, 1)

	// Back again at once: nothing differs.
	m, done := carry(t, phone, pc, desk, dc)
	require.Empty(t, m.Matters)
	require.Equal(t, kb.Merged{}, done)

	// In the shop: a new swatch, a price, a reading; at home, another price.
	_, err = phone.AddSwatch(record.Swatch{Name: "shop find", Price: "12/m"})
	require.NoError(t, err)
	edit(t, phone, "gold", func(w *record.Swatch) { w.KeptWhere = "blue box" })
	_, err = phone.AddMeasurement(record.Measurement{SwatchID: swatch(t, phone, "gold").ID, Kind: "droop", Readings: []record.Reading{{"overhang_cm": 7.0}}})
	require.NoError(t, err)
	edit(t, phone, "banner red", func(w *record.Swatch) { w.Price = "9/m" })
	edit(t, desk, "banner red", func(w *record.Swatch) { w.Price = "8/m" })
	m, done = carry(t, phone, pc, desk, dc)
	require.Equal(t, kb.Merged{Added: 2, Changed: 1, Kept: 1}, done, "%+v", m.Matters)
	require.Equal(t, "blue box", swatch(t, desk, "gold").KeptWhere, "changed on the phone alone")
	require.Equal(t, "8/m", swatch(t, desk, "banner red").Price, "a clash leaves what is here")
	clash := m.Clashes()
	require.Len(t, clash, 1)
	require.Equal(t, []kb.Line{{Word: "price", Value: "8/m"}}, clash[0].Own, "both sides are shown")
	require.Equal(t, []kb.Line{{Word: "price", Value: "9/m"}}, clash[0].Other)

	// The user takes the other side of a clash, and can have it back.
	edit(t, phone, "banner red", func(w *record.Swatch) { w.Price = "7/m" })
	edit(t, desk, "banner red", func(w *record.Swatch) { w.Price = "8.50/m" })
	_, done = carry(t, phone, pc, desk, dc, "swatch banner red")
	require.Equal(t, 1, done.Taken)
	require.Equal(t, "7/m", swatch(t, desk, "banner red").Price)
	_, err = desk.Undo() // the mark of the copy
	require.NoError(t, err)
	_, err = desk.Undo()
	require.NoError(t, err)
	require.Equal(t, "8.50/m", swatch(t, desk, "banner red").Price)
}

func TestMergeRemovesNothingInSilence(t *testing.T) {
	desk, dc, phone, pc := sides(t)
	for _, name := range []string{"here", "there", "both"} {
		_, err := desk.AddSwatch(record.Swatch{Name: name})
		require.NoError(t, err)
	}
	carry(t, desk, dc, phone, pc)
	require.NoError(t, desk.RemoveSwatch(swatch(t, desk, "here").ID))
	require.NoError(t, phone.RemoveSwatch(swatch(t, phone, "there").ID))
	edit(t, phone, "here", func(w *record.Swatch) { w.Price = "9/m" })
	require.NoError(t, phone.RemoveSwatch(swatch(t, phone, "both").ID))
	require.NoError(t, desk.RemoveSwatch(swatch(t, desk, "both").ID))
	m, done := carry(t, phone, pc, desk, dc)
	require.Equal(t, kb.Merged{Kept: 2}, done)
	require.Equal(t, "swatch here", m.Matters[0].Key, "removed here, changed there: asked, not added")
	require.Equal(t, "swatch there", m.Matters[1].Key, "removed there, still here: asked, not removed")
	swatch(t, desk, "there")
	_, there, err := desk.FindSwatch("here")
	require.NoError(t, err)
	require.False(t, there)
	m, _ = carry(t, phone, pc, desk, dc)
	require.Empty(t, m.Matters, "what was decided is not asked again")
	edit(t, phone, "here", func(w *record.Swatch) { w.Price = "8/m" })
	_, done = carry(t, phone, pc, desk, dc, "swatch here")
	require.Equal(t, kb.Merged{Taken: 1}, done)
	require.Equal(t, "8/m", swatch(t, desk, "here").Price)
}

// A note that was edited on one side is one note; edited on both it is asked.
func TestMergeOfNotes(t *testing.T) {
	desk, dc, phone, pc := sides(t)
	n, err := desk.AddNote("cloth", "denim", "bleeds")
	require.NoError(t, err)
	require.NoError(t, desk.Favourite("piece", "cowl"))
	carry(t, desk, dc, phone, pc)
	notes := func(r kb.Records) (out []string) {
		list, err := r.Notes("", "")
		require.NoError(t, err)
		for _, x := range list {
			out = append(out, x.Text)
		}
		return out
	}
	there, err := phone.Notes("", "")
	require.NoError(t, err)
	require.NoError(t, phone.EditNote(there[0].ID, "bleeds twice"))
	require.NoError(t, phone.Unfavourite("piece", "cowl"))
	_, done := carry(t, phone, pc, desk, dc)
	require.Equal(t, kb.Merged{Changed: 2}, done, "the note, and the mark that was taken off")
	require.Equal(t, []string{"bleeds twice"}, notes(desk))
	require.NoError(t, phone.EditNote(there[0].ID, "bleeds for a year"))
	require.NoError(t, desk.EditNote(n.ID, "bleeds on white"))
	m, done := carry(t, phone, pc, desk, dc)
	require.Equal(t, kb.Merged{Kept: 1}, done, "%+v", m.Matters)
	require.Equal(t, []string{"bleeds on white"}, notes(desk))
	carry(t, desk, dc, phone, pc)
	marked, err := phone.Favourites()
	require.NoError(t, err)
	require.Empty(t, marked, "a mark that was taken off here does not come back")
}

// Without a copy that both had, whatever differs is asked.
func TestMergeOfStrangers(t *testing.T) {
	desk, dc, phone, pc := sides(t)
	_, err := desk.AddSwatch(record.Swatch{Name: "Gold", Colour: "yellow"})
	require.NoError(t, err)
	_, err = phone.AddSwatch(record.Swatch{Name: "gold", Colour: "ochre"})
	require.NoError(t, err)
	_, err = desk.AddNote("cloth", "denim", "bleeds")
	require.NoError(t, err)
	_, err = phone.AddNote("cloth", "denim", "<script>alert(1)</script>")
	require.NoError(t, err)
	m, done := carry(t, desk, dc, phone, pc)
	require.Equal(t, kb.Merged{Added: 1, Kept: 1}, done, "%+v", m.Matters)
	require.Equal(t, []kb.Line{{"name", "gold"}, {"colour", "ochre"}}, m.Clashes()[0].Own)
	notes, err := phone.Notes("", "")
	require.NoError(t, err)
	require.Len(t, notes, 2, "two notes on one thing are both kept")
}

func TestNewerCopyIsRefused(t *testing.T) {
	for file, what := range map[string]string{
		`{"version":1,"layout":99,"swatches":[]}`: "newer tenter",
		`{"a":1}`: "no JSON of this program",
		`junk`:    "no JSON of this program",
	} {
		_, err := record.ReadDocument([]byte(file))
		require.ErrorContains(t, err, what)
	}
	r := memory.New()
	_, err := kb.Compare(r, record.Document{Version: 1, Swatches: []record.SwatchJSON{{Name: ""}}})
	require.ErrorContains(t, err, "name is empty")
}

func TestSinceCopyCountsWhatIsNotYetCopied(t *testing.T) {
	_, _, phone, pc := sides(t)
	_, err := phone.AddSwatch(record.Swatch{Name: "a"})
	require.NoError(t, err)
	n, last, err := kb.SinceCopy(phone)
	require.NoError(t, err)
	require.Equal(t, 1, n)
	require.True(t, last.IsZero())
	_, err = kb.NewCopy(phone, pc.now())
	require.NoError(t, err)
	require.NoError(t, phone.Favourite("piece", "cowl"))
	n, last, err = kb.SinceCopy(phone)
	require.NoError(t, err)
	require.Equal(t, 1, n)
	require.False(t, last.IsZero())
	require.NoError(t, kb.PutBolt(phone, kb.Bolt{At: last.Add(-time.Minute), Name: "copied"}))
	require.NoError(t, kb.PutBolt(phone, kb.Bolt{At: last.Add(time.Minute), Name: "wool flannel"}))
	n, _, err = kb.SinceCopy(phone)
	require.NoError(t, err)
	require.Equal(t, 2, n, "a bolt of the shortlist too")
}

// TestMergeKnowsARenamedSwatch: a swatch that got another name on the phone is not taken
// for a new one beside the old; what was measured on it stays with it.
func TestMergeKnowsARenamedSwatch(t *testing.T) {
	desk, dc, phone, pc := sides(t)
	gold, err := desk.AddSwatch(record.Swatch{Name: "gold", SoldAs: "cotton-sateen", Colour: "gold", WidthCM: 140})
	require.NoError(t, err)
	_, err = desk.AddMeasurement(record.Measurement{SwatchID: gold.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 130.0}}})
	require.NoError(t, err)
	_, err = desk.AddSwatch(record.Swatch{Name: "grey", SoldAs: "wool-flannel", Colour: "grey"})
	require.NoError(t, err)
	carry(t, desk, dc, phone, pc)

	edit(t, phone, "gold", func(w *record.Swatch) { w.Name, w.Colour = "king's gold", "old gold" })
	edit(t, phone, "grey", func(w *record.Swatch) { w.Name = "beggar's grey" })
	m, done := carry(t, phone, pc, desk, dc)
	require.Equal(t, kb.Merged{Changed: 2}, done, "%+v", m.Matters)
	require.Equal(t, []kb.Line{{Word: "name", Value: "gold"}, {Word: "colour", Value: "gold"}}, m.Matters[1].Own)
	ws, n, err := desk.ListSwatches(record.SwatchFilter{}, 0, 0)
	require.NoError(t, err)
	require.Equal(t, 2, n)
	require.Equal(t, []string{"beggar's grey", "king's gold"}, []string{ws[0].Name, ws[1].Name})
	require.Equal(t, gold.ID, ws[1].ID)

	_, err = phone.AddSwatch(record.Swatch{Name: "new", Colour: "red"})
	require.NoError(t, err)
	require.NoError(t, phone.RemoveSwatch(swatch(t, phone, "beggar's grey").ID))
	m, done = carry(t, phone, pc, desk, dc)
	require.Equal(t, kb.Merged{Added: 1, Kept: 1}, done, "a new one beside one that was removed is no new name of it: %+v", m.Matters)
}
