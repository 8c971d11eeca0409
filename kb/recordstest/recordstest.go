// Package recordstest is what every keeper of records must do, told by what a user
// sees. An adapter calls Run from a test of three lines.
package recordstest

import (
	"encoding/json"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/record"
)

// Open opens empty records.
type Open func(t *testing.T) kb.Records

// Run runs the contract.
func Run(t *testing.T, open Open) {
	for name, test := range map[string]func(*testing.T){
		"a name is one name in capitals or not":                open.names,
		"what is changed comes back changed":                   open.edit,
		"a list is filtered, ordered and cut":                  open.list,
		"what is returned may be changed":                      open.returned,
		"undo takes the last change back, and says which":      open.undo,
		"what was taken back is made again":                    open.redo,
		"an import with a bad row keeps nothing":               open.imported,
		"a check finds what an import would, changing nothing": open.check,
		"measurements stand beside each other":                 open.measured,
		"unfinished readings are dropped as they are recorded": open.finish,
		"notes and favourites":                                 open.notes,
		"verdicts after wear":                                  open.wears,
		"settings":                                             open.settings,
		"what is not there is said":                            open.missing,
	} {
		t.Run(name, test)
	}
}

func add(t *testing.T, r kb.Records, w record.Swatch) record.Swatch {
	t.Helper()
	kept, err := r.AddSwatch(w)
	require.NoError(t, err)
	return kept
}

func names(t *testing.T, r kb.Records, f record.SwatchFilter) []string {
	t.Helper()
	ws, _, err := r.ListSwatches(f, 0, 0)
	require.NoError(t, err)
	out := []string{}
	for _, w := range ws {
		out = append(out, w.Name)
	}
	return out
}

func (open Open) names(t *testing.T) {
	r := open(t)
	w := add(t, r, record.Swatch{Name: "King's  Blue"})
	require.Equal(t, "King's Blue", w.Name)
	got, there, err := r.FindSwatch(" king's blue ")
	require.NoError(t, err)
	require.True(t, there)
	require.Equal(t, w, got)
	_, err = r.AddSwatch(record.Swatch{Name: "KING'S BLUE"})
	require.ErrorContains(t, err, `there is a swatch "King's Blue" already`)
	_, there, err = r.FindSwatch("king")
	require.NoError(t, err)
	require.False(t, there)

	// An accent is one letter, whether it was typed as one sign or as two.
	crepe := add(t, r, record.Swatch{Name: "Cr\u00eape"})
	got, there, err = r.FindSwatch("cre\u0302pe")
	require.NoError(t, err)
	require.True(t, there)
	require.Equal(t, crepe.ID, got.ID)
	_, err = r.AddSwatch(record.Swatch{Name: "CRE\u0302PE"})
	require.Error(t, err)
	for _, bad := range []string{"", " ", "blue\u200b", "\u202eeulb", "a\u0000b", "blue\ufeff"} {
		_, err := r.AddSwatch(record.Swatch{Name: bad})
		require.Error(t, err, "%q", bad)
	}
	begin, err := r.SwatchesBeginning("KI", -1)
	require.NoError(t, err)
	require.Equal(t, []string{"King's Blue"}, begin)
	begin, err = r.SwatchesBeginning("", 1)
	require.NoError(t, err)
	require.Len(t, begin, 1)
}

func (open Open) edit(t *testing.T) {
	r := open(t)
	length := 250.0
	w := add(t, r, record.Swatch{Name: "attic lawn", Content: []record.Part{{Fibre: "cotton", Percent: 100}}, LengthCM: &length, WidthCM: 140, Bought: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)})
	left := 0.0
	w.Name, w.LengthCM, w.Lightness = "Attic Lawn", &left, "light"
	kept, err := r.EditSwatch(w)
	require.NoError(t, err)
	got, _, err := r.FindSwatch("attic lawn")
	require.NoError(t, err)
	require.Equal(t, kept, got)
	require.Zero(t, *got.LengthCM, "used up is not unknown")
	require.Equal(t, w.Bought, got.Bought)

	changes, err := r.History(0)
	require.NoError(t, err)
	_, err = r.EditSwatch(got)
	require.NoError(t, err)
	again, err := r.History(0)
	require.NoError(t, err)
	require.Equal(t, len(changes), len(again), "an edit of nothing is no change")

	add(t, r, record.Swatch{Name: "other"})
	w.Name = "OTHER"
	_, err = r.EditSwatch(w)
	require.Error(t, err)
	require.NoError(t, r.RemoveSwatch(w.ID))
	require.Equal(t, []string{"other"}, names(t, r, record.SwatchFilter{}))
}

func (open Open) list(t *testing.T) {
	r := open(t)
	long := 300.0
	add(t, r, record.Swatch{Name: "c", SoldAs: "cotton-lawn", Content: []record.Part{{Fibre: "cotton", Percent: 60}, {Fibre: "linen", Percent: 40}}, WidthCM: 140, LengthCM: &long, Colour: "Moss Green"})
	b := add(t, r, record.Swatch{Name: "B", SoldAs: "cotton-lawn", KeptWhere: "Box 4", Lightness: "dark"})
	add(t, r, record.Swatch{Name: "a", Notes: "green stripe"})
	_, err := r.AddMeasurement(record.Measurement{SwatchID: b.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 100.0}}})
	require.NoError(t, err)
	for _, c := range []struct {
		f    record.SwatchFilter
		want []string
	}{
		{record.SwatchFilter{}, []string{"a", "B", "c"}},
		{record.SwatchFilter{Words: "GREEN"}, []string{"a", "c"}},
		{record.SwatchFilter{Words: "green moss"}, []string{"c"}},
		{record.SwatchFilter{SoldAs: "Cotton-Lawn"}, []string{"B", "c"}},
		{record.SwatchFilter{Fibre: "linen"}, []string{"c"}},
		{record.SwatchFilter{KeptWhere: "box 4"}, []string{"B"}},
		{record.SwatchFilter{Lightness: "dark"}, []string{"B"}},
		{record.SwatchFilter{MinLength: 300}, []string{"c"}},
		{record.SwatchFilter{MinLength: 301}, []string{}},
		{record.SwatchFilter{MinWidth: 100}, []string{"c"}},
		{record.SwatchFilter{Measured: []string{"mass"}}, []string{"B"}},
		{record.SwatchFilter{Measured: []string{"mass", "droop"}}, []string{}},
		{record.SwatchFilter{Order: record.ByCreated}, []string{"a", "B", "c"}},
	} {
		require.Equal(t, c.want, names(t, r, c.f), "%+v", c.f)
	}
	page, total, err := r.ListSwatches(record.SwatchFilter{}, 1, 1)
	require.NoError(t, err)
	require.Equal(t, 3, total)
	require.Len(t, page, 1)
	require.Equal(t, "B", page[0].Name)
}

func (open Open) returned(t *testing.T) {
	r := open(t)
	length := 100.0
	given := record.Swatch{Name: "x", Content: []record.Part{{Fibre: "wool", Percent: 100}}, LengthCM: &length}
	w := add(t, r, given)
	spoil := func(w record.Swatch) { w.Content[0].Fibre, *w.LengthCM = "tin", 7 }
	spoil(given)
	spoil(w)
	got, _, err := r.FindSwatch("x")
	require.NoError(t, err)
	require.Equal(t, "wool", got.Content[0].Fibre)
	require.Equal(t, 100.0, *got.LengthCM)
	spoil(got)
	m, err := r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 100.0}}})
	require.NoError(t, err)
	m.Readings[0][record.ReadingMass] = 1.0
	ms, err := r.Measurements(w.ID, "", false)
	require.NoError(t, err)
	require.Equal(t, 100.0, ms[0].Readings[0][record.ReadingMass])
	ms[0].Readings[0][record.ReadingMass] = 2.0
	by, err := r.MeasurementsOf(w.ID)
	require.NoError(t, err)
	require.Equal(t, 100.0, by[w.ID][0].Readings[0][record.ReadingMass])
	ws, _, err := r.ListSwatches(record.SwatchFilter{}, 0, 0)
	require.NoError(t, err)
	require.Equal(t, "wool", ws[0].Content[0].Fibre)
}

func (open Open) undo(t *testing.T) {
	r := open(t)
	w := add(t, r, record.Swatch{Name: "red serge"})
	_, err := r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 300.0}}})
	require.NoError(t, err)
	require.NoError(t, r.RemoveSwatch(w.ID))
	undone, err := r.Undo()
	require.NoError(t, err)
	require.Equal(t, `swatch "red serge" removed`, undone)
	back, there, err := r.FindSwatch("red serge")
	require.NoError(t, err)
	require.True(t, there)
	require.Equal(t, w, back)
	ms, err := r.Measurements(w.ID, "mass", false)
	require.NoError(t, err)
	require.Len(t, ms, 1, "with what was measured on it")

	w.Name = "blue serge"
	_, err = r.EditSwatch(w)
	require.NoError(t, err)
	_, err = r.Undo()
	require.NoError(t, err)
	_, there, err = r.FindSwatch("blue serge")
	require.NoError(t, err)
	require.False(t, there)
	require.Equal(t, []string{"red serge"}, names(t, r, record.SwatchFilter{}))

	log, err := r.History(1)
	require.NoError(t, err)
	require.Equal(t, `mass of swatch "red serge" measured`, log[0].What)
	for range 2 {
		_, err = r.Undo()
		require.NoError(t, err)
	}
	_, err = r.Undo()
	require.ErrorContains(t, err, "nothing to undo")
	require.Empty(t, names(t, r, record.SwatchFilter{}))
}

func (open Open) redo(t *testing.T) {
	r := open(t)
	w := add(t, r, record.Swatch{Name: "red serge"})
	_, err := r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 300.0}}})
	require.NoError(t, err)
	require.NoError(t, r.Favourite("piece", "cowl"))
	require.NoError(t, r.RemoveSwatch(w.ID))
	var back []record.Undone
	for range 4 {
		u, err := r.TakeBack()
		require.NoError(t, err)
		back = append(back, u)
	}
	require.Equal(t, `swatch "red serge" added`, back[3].What)
	for _, u := range slices.Backward(back) {
		require.NoError(t, r.Redo(u))
	}
	require.Empty(t, names(t, r, record.SwatchFilter{}), "it was removed in the end")
	marks, err := r.Favourites()
	require.NoError(t, err)
	require.Len(t, marks, 1)
	undone, err := r.Undo()
	require.NoError(t, err)
	require.Equal(t, back[0].What, undone, "what was made again can be taken back again")
	ms, err := r.Measurements(w.ID, "mass", false)
	require.NoError(t, err)
	require.Len(t, ms, 1)

	u, err := r.TakeBack()
	require.NoError(t, err)
	require.NoError(t, r.Favourite("piece", "cape"))
	require.ErrorContains(t, r.Redo(u), "the records were changed since")
}

func rows(t *testing.T) []record.SwatchRow {
	t.Helper()
	return []record.SwatchRow{
		{Line: 2, Swatch: record.Swatch{Name: "one"}, Measured: []record.Measurement{{Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 90.0}}}}},
		{Line: 3, Swatch: record.Swatch{Name: "ONE"}},
		{Line: 4, Swatch: record.Swatch{Name: "wide", WidthCM: 5000}},
		{Line: 5, Swatch: record.Swatch{Name: "Taken"}},
		{Line: 6, Swatch: record.Swatch{Name: "two"}, Measured: []record.Measurement{{Kind: "dance", Readings: []record.Reading{{"x": 1.0}}}}},
		{Line: 7, Swatch: record.Swatch{Name: "seven"}},
	}
}

func refused(done record.Imported) []int {
	var lines []int
	for _, r := range done.Rejected {
		lines = append(lines, r.Line)
	}
	slices.Sort(lines)
	return lines
}

func (open Open) imported(t *testing.T) {
	r := open(t)
	add(t, r, record.Swatch{Name: "taken"})
	done, err := r.ImportSwatches(rows(t), false)
	require.Error(t, err)
	require.Zero(t, done.Added)
	require.Equal(t, []int{3, 4, 5, 6}, refused(done), "every bad row is told at once")
	require.Equal(t, []string{"taken"}, names(t, r, record.SwatchFilter{}))

	done, err = r.ImportSwatches(rows(t), true)
	require.NoError(t, err)
	require.Equal(t, 2, done.Added)
	require.Equal(t, []int{3, 4, 5, 6}, refused(done))
	require.Equal(t, []string{"one", "seven", "taken"}, names(t, r, record.SwatchFilter{}))
	one, _, err := r.FindSwatch("one")
	require.NoError(t, err)
	ms, err := r.Measurements(one.ID, "", false)
	require.NoError(t, err)
	require.Len(t, ms, 1)
	undone, err := r.Undo()
	require.NoError(t, err)
	require.Equal(t, "2 swatches imported", undone)
	require.Equal(t, []string{"taken"}, names(t, r, record.SwatchFilter{}), "one undo takes the list back")
}

func (open Open) check(t *testing.T) {
	r := open(t)
	add(t, r, record.Swatch{Name: "taken"})
	dry, err := r.CheckSwatches(rows(t))
	require.NoError(t, err)
	require.Equal(t, []string{"taken"}, names(t, r, record.SwatchFilter{}))
	done, err := r.ImportSwatches(rows(t), true)
	require.NoError(t, err)
	require.Equal(t, done.Added, dry.Added)
	require.Equal(t, refused(done), refused(dry))
}

func (open Open) measured(t *testing.T) {
	r := open(t)
	a, b := add(t, r, record.Swatch{Name: "a"}), add(t, r, record.Swatch{Name: "b"})
	day := func(d int) time.Time { return time.Date(2026, 5, d, 12, 0, 0, 0, time.UTC) }
	put := func(w record.Swatch, kind string, d int) record.Measurement {
		m, err := r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: kind, Taken: day(d), Readings: []record.Reading{{"x": float64(d)}}})
		require.NoError(t, err)
		return m
	}
	first := put(a, "mass", 2)
	put(a, "mass", 1)
	put(a, "droop", 9)
	put(b, "mass", 5)
	ms, err := r.Measurements(a.ID, "mass", false)
	require.NoError(t, err)
	require.Len(t, ms, 2)
	require.Equal(t, day(1), ms[0].Taken, "oldest first")
	ws, by, err := r.Measured([]string{"mass"}, 0)
	require.NoError(t, err)
	require.Equal(t, "b", ws[0].Name, "measured last first")
	require.Len(t, by[a.ID], 2)
	ws, _, err = r.Measured([]string{"mass"}, 1)
	require.NoError(t, err)
	require.Len(t, ws, 1)

	require.NoError(t, r.RemoveMeasurement(first.ID))
	require.Error(t, r.RemoveMeasurement(first.ID), "once")
	ms, err = r.Measurements(a.ID, "mass", false)
	require.NoError(t, err)
	require.Len(t, ms, 1)
	ms, err = r.Measurements(a.ID, "mass", true)
	require.NoError(t, err)
	require.Len(t, ms, 2, "its figures are kept")
	require.False(t, ms[1].Removed.IsZero())
	all, err := r.MeasurementsOf()
	require.NoError(t, err)
	require.Len(t, all[a.ID], 2)
	_, err = r.AddMeasurement(record.Measurement{SwatchID: a.ID, Kind: "dance", Readings: []record.Reading{{"x": 1.0}}})
	require.Error(t, err)
}

func (open Open) finish(t *testing.T) {
	r := open(t)
	w := add(t, r, record.Swatch{Name: "a"})
	require.NoError(t, r.SetSetting("guided/a", []float64{1, 2}))
	_, err := r.FinishMeasurement(record.Measurement{SwatchID: w.ID, Kind: "droop", Readings: []record.Reading{{"overhang_cm": 7.5, "face": "right"}}}, "guided/a")
	require.NoError(t, err)
	var kept []float64
	there, err := r.Setting("guided/a", &kept)
	require.NoError(t, err)
	require.False(t, there)
	_, err = r.Undo()
	require.NoError(t, err)
	there, err = r.Setting("guided/a", &kept)
	require.NoError(t, err)
	require.True(t, there, "undo brings back the unfinished readings")
	require.Equal(t, []float64{1, 2}, kept)
	ms, err := r.Measurements(w.ID, "", true)
	require.NoError(t, err)
	require.Empty(t, ms)
}

func (open Open) notes(t *testing.T) {
	r := open(t)
	n, err := r.AddNote("cloth", "cotton-lawn", " frays\r\nat the edge ")
	require.NoError(t, err)
	require.Equal(t, "frays\nat the edge", n.Text)
	_, err = r.AddNote("piece", "cowl", "short")
	require.NoError(t, err)
	require.NoError(t, r.EditNote(n.ID, "frays a little"))
	list, err := r.Notes("cloth", "")
	require.NoError(t, err)
	require.Len(t, list, 1)
	require.Equal(t, "frays a little", list[0].Text)
	require.NoError(t, r.RemoveNote(n.ID))
	list, err = r.Notes("", "")
	require.NoError(t, err)
	require.Len(t, list, 1)
	_, err = r.AddNote("cloth", "x", " ")
	require.Error(t, err)

	require.NoError(t, r.Favourite("cloth", "cotton-lawn"))
	require.NoError(t, r.Favourite("cloth", "cotton-lawn"))
	marks, err := r.Favourites()
	require.NoError(t, err)
	require.Len(t, marks, 1)
	require.NoError(t, r.Unfavourite("cloth", "cotton-lawn"))
	require.Error(t, r.Unfavourite("cloth", "cotton-lawn"))
	_, err = r.Undo()
	require.NoError(t, err)
	marks, err = r.Favourites()
	require.NoError(t, err)
	require.Len(t, marks, 1)
}

func (open Open) wears(t *testing.T) {
	r := open(t)
	old, err := r.AddWear(record.Wear{MakeUp: json.RawMessage(`{ "piece": "cowl" }`), Verdict: "too-stiff", Said: "stood out", At: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)})
	require.NoError(t, err)
	_, err = r.AddWear(record.Wear{MakeUp: json.RawMessage(`{}`), Verdict: "good"})
	require.NoError(t, err)
	list, err := r.Wears(0)
	require.NoError(t, err)
	require.Len(t, list, 2)
	require.Equal(t, "good", list[0].Verdict, "newest first")
	require.JSONEq(t, `{"piece":"cowl"}`, string(list[1].MakeUp))
	one, err := r.Wears(1)
	require.NoError(t, err)
	require.Len(t, one, 1)
	require.NoError(t, r.RemoveWear(old.ID))
	require.Error(t, r.RemoveWear(old.ID))
	_, err = r.AddWear(record.Wear{MakeUp: json.RawMessage(`{`), Verdict: "good"})
	require.Error(t, err)
}

func (open Open) settings(t *testing.T) {
	r := open(t)
	require.NoError(t, r.SetSetting("mapping/market  stall", map[string]string{"a": "b"}))
	require.NoError(t, r.SetSetting("learn", false))
	require.NoError(t, r.SetSetting("learn", true))
	on := false
	there, err := r.Setting("learn", &on)
	require.NoError(t, err)
	require.True(t, there && on)
	keys, err := r.Settings("mapping/")
	require.NoError(t, err)
	require.Equal(t, []string{"mapping/market stall"}, keys)
	var number int
	_, err = r.Setting("learn", &number)
	require.ErrorContains(t, err, "something else than was expected")
	require.NoError(t, r.RemoveSetting("learn"))
	there, err = r.Setting("learn", &on)
	require.NoError(t, err)
	require.False(t, there)
}

func (open Open) missing(t *testing.T) {
	r := open(t)
	_, edit := r.EditSwatch(record.Swatch{ID: 77, Name: "x"})
	_, measure := r.AddMeasurement(record.Measurement{SwatchID: 77, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 1.0}}})
	for what, err := range map[string]error{
		"edit": edit, "measure": measure, "swatch": r.RemoveSwatch(77), "measurement": r.RemoveMeasurement(77), "note": r.RemoveNote(77), "edit note": r.EditNote(77, "x"),
		"wear": r.RemoveWear(77), "setting": r.RemoveSetting("none"), "favourite": r.Unfavourite("cloth", "none"),
	} {
		var f *fault.Fault
		require.ErrorAs(t, err, &f, what)
		require.Equal(t, fault.NotFound, f.Kind, what)
	}
	log, err := r.History(0)
	require.NoError(t, err)
	require.Empty(t, log)
}
