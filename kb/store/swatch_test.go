package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/kb/record"
	"tenter/kb/written"
)

func long(cm float64) *float64 { return &cm }

func blue() record.Swatch {
	return record.Swatch{Name: "Blue for the king", SoldAs: "wool-serge", Content: []record.Part{{Fibre: "wool", Percent: 80}, {Fibre: "polyamide", Percent: 20}}, WidthCM: 148.5, LengthCM: long(320),
		Colour: "deep blue", Lightness: "dark", Price: "12 a metre", KeptWhere: "box four", PicturePath: "/pictures/a  b.jpg", Bought: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), Notes: "smells of\nsheep"}
}

func TestSwatchComesBackAsItWasGiven(t *testing.T) {
	s := fresh(t)
	for _, w := range []record.Swatch{blue(), {Name: "bare"}, {Name: "used up", LengthCM: long(0)}} {
		kept, err := s.AddSwatch(w)
		require.NoError(t, err)
		require.NotZero(t, kept.ID)
		require.False(t, kept.Created.IsZero())
		again, err := s.Swatch("  " + strings.ToUpper(w.Name) + " ")
		require.NoError(t, err)
		require.Equal(t, kept, again)
		byID, err := s.SwatchByID(kept.ID)
		require.NoError(t, err)
		require.Equal(t, kept, byID)
		w.ID, w.Created, w.Changed = kept.ID, kept.Created, kept.Changed
		require.Equal(t, w, again)
	}
}

func TestSwatchesThatAreRefused(t *testing.T) {
	s := fresh(t)
	_, err := s.AddSwatch(blue())
	require.NoError(t, err)
	before := dump(t, s.db)
	for _, c := range []struct {
		name string
		edit func(*record.Swatch)
		says string
	}{
		{"no name", func(w *record.Swatch) { w.Name = " " }, "name is empty"},
		{"a name that is there", func(w *record.Swatch) { w.Name = "blue  FOR the king" }, `a swatch "Blue for the king" already`},
		{"nul in the name", func(w *record.Swatch) { w.Name = "a\x00" }, "cannot be shown"},
		{"narrower than nothing", func(w *record.Swatch) { w.WidthCM = -1 }, "width of -1 cm"},
		{"width NaN", func(w *record.Swatch) { w.WidthCM = math.NaN() }, "width of NaN"},
		{"width without end", func(w *record.Swatch) { w.WidthCM = math.Inf(1) }, "width of +Inf"},
		{"less than nothing left", func(w *record.Swatch) { w.LengthCM = long(-5) }, "length of -5 cm"},
		{"length NaN", func(w *record.Swatch) { w.LengthCM = long(math.NaN()) }, "length of NaN"},
		{"lightness", func(w *record.Swatch) { w.Lightness = "drak" }, `did you mean "dark"`},
		{"over 100 %", func(w *record.Swatch) {
			w.Content = []record.Part{{Fibre: "wool", Percent: 80}, {Fibre: "silk", Percent: 40}}
		}, "add up to 120 %"},
		{"a fibre twice", func(w *record.Swatch) {
			w.Content = []record.Part{{Fibre: "wool", Percent: 10}, {Fibre: "wool", Percent: 10}}
		}, "named twice"},
		{"a fibre without a name", func(w *record.Swatch) { w.Content = []record.Part{{Fibre: "", Percent: 10}} }, "content is empty"},
		{"share NaN", func(w *record.Swatch) { w.Content = []record.Part{{Fibre: "wool", Percent: math.NaN()}} }, "NaN % of wool"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := blue()
			w.Name = "another"
			c.edit(&w)
			_, err := s.AddSwatch(w)
			require.ErrorContains(t, err, c.says)
			require.Equal(t, before, dump(t, s.db))
		})
	}
	w := blue()
	w.Name, w.WidthCM, w.Lightness = "", -1, "odd"
	_, err = s.AddSwatch(w)
	var l fault.List
	require.True(t, errors.As(err, &l))
	require.Len(t, l, 3, "all findings at once")
}

func TestEditRenameRemove(t *testing.T) {
	s := fresh(t)
	a, err := s.AddSwatch(blue())
	require.NoError(t, err)
	b, err := s.AddSwatch(record.Swatch{Name: "grey"})
	require.NoError(t, err)

	_, err = s.RenameSwatch(b.ID, "BLUE for the king")
	isFault(t, err, fault.WrongCall, "already")
	r, err := s.RenameSwatch(a.ID, "blue for the KING")
	require.NoError(t, err, "the same name in other capitals")
	require.Equal(t, "blue for the KING", r.Name)
	require.Equal(t, a.Created, r.Created)
	require.True(t, r.Changed.After(a.Changed))

	r.LengthCM, r.Content = long(120), nil
	e, err := s.EditSwatch(r)
	require.NoError(t, err)
	before := dump(t, s.db)
	same, err := s.EditSwatch(e)
	require.NoError(t, err)
	require.Equal(t, e, same)
	require.Equal(t, before, dump(t, s.db), "nothing new, nothing logged")

	_, err = s.AddMeasurement(record.Measurement{SwatchID: a.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 210.0}}})
	require.NoError(t, err)
	full := dump(t, s.db)
	require.NoError(t, s.RemoveSwatch(a.ID))
	ms, err := s.Measurements(a.ID, "", true)
	require.NoError(t, err)
	require.Empty(t, ms)
	_, err = s.Swatch("blue for the king")
	isFault(t, err, fault.NotFound, "no swatch")
	what, err := s.Undo()
	require.NoError(t, err)
	require.Equal(t, `swatch "blue for the KING" removed`, what)
	require.Equal(t, full, dump(t, s.db), "with everything measured on it")

	isFault(t, s.RemoveSwatch(99), fault.NotFound)
	_, err = s.EditSwatch(record.Swatch{ID: 99, Name: "x"})
	isFault(t, err, fault.NotFound)
	_, err = s.SwatchByID(99)
	isFault(t, err, fault.NotFound)
	_, err = s.Swatch("gray")
	isFault(t, err, fault.NotFound, `did you mean "grey"`)
}

func TestListSwatches(t *testing.T) {
	s := fresh(t)
	for _, w := range []record.Swatch{blue(), {Name: "ash", Colour: "grey", Content: []record.Part{{Fibre: "silk", Percent: 100}}, LengthCM: long(50), Lightness: "light"}, {Name: "Cellar linen", KeptWhere: "Box four", WidthCM: 90}} {
		_, err := s.AddSwatch(w)
		require.NoError(t, err)
	}
	_, err := s.AddMeasurement(record.Measurement{SwatchID: 3, Kind: "wash", Readings: []record.Reading{{"warp_pct": 4.0}}})
	require.NoError(t, err)
	for _, c := range []struct {
		name          string
		f             record.SwatchFilter
		limit, offset int
		want          string
		total         int
	}{
		{"all by name", record.SwatchFilter{}, 0, 0, "ash, Blue for the king, Cellar linen", 3},
		{"a page", record.SwatchFilter{}, 1, 1, "Blue for the king", 3},
		{"beyond the end", record.SwatchFilter{}, 5, 9, "", 3},
		{"newest first", record.SwatchFilter{Order: record.ByCreated}, 2, 0, "Cellar linen, ash", 3},
		{"words", record.SwatchFilter{Words: "BOX king"}, 0, 0, "Blue for the king", 1},
		{"word of the ticket", record.SwatchFilter{Words: "serge"}, 0, 0, "Blue for the king", 1},
		{"a word with signs", record.SwatchFilter{Words: "%"}, 0, 0, "", 0},
		{"sold as", record.SwatchFilter{SoldAs: "Wool-Serge"}, 0, 0, "Blue for the king", 1},
		{"fibre", record.SwatchFilter{Fibre: "silk"}, 0, 0, "ash", 1},
		{"lightness", record.SwatchFilter{Lightness: "dark"}, 0, 0, "Blue for the king", 1},
		{"kept where", record.SwatchFilter{KeptWhere: "box four"}, 0, 0, "Blue for the king, Cellar linen", 2},
		{"enough left", record.SwatchFilter{MinLength: 51}, 0, 0, "Blue for the king", 1},
		{"wide enough", record.SwatchFilter{MinWidth: 90}, 0, 0, "Blue for the king, Cellar linen", 2},
		{"measured", record.SwatchFilter{Measured: []string{"wash"}}, 0, 0, "Cellar linen", 1},
		{"two things at once", record.SwatchFilter{KeptWhere: "box four", MinLength: 1}, 0, 0, "Blue for the king", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			ws, total, err := s.ListSwatches(c.f, c.limit, c.offset)
			require.NoError(t, err)
			var names []string
			for _, w := range ws {
				names = append(names, w.Name)
			}
			require.Equal(t, c.want, strings.Join(names, ", "))
			require.Equal(t, c.total, total)
		})
	}
	names, err := s.SwatchNames()
	require.NoError(t, err)
	require.Equal(t, []string{"ash", "Blue for the king", "Cellar linen"}, names)
}

func TestMeasurementsAreNeverOverwritten(t *testing.T) {
	s := fresh(t)
	w, err := s.AddSwatch(blue())
	require.NoError(t, err)
	first, err := s.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "droop", Taken: noon.AddDate(0, -1, 0), Readings: []record.Reading{{"overhang_cm": 7.0, "droop_deg": 41.5, "face": "right"}, {"overhang_cm": 7, "droop_deg": 40}}, Note: "warp"})
	require.NoError(t, err)
	second, err := s.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "droop", Readings: []record.Reading{{"overhang_cm": 8.0}}})
	require.NoError(t, err)
	third, err := s.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 200.0}, {record.ReadingMass: 210.0}, {"side_cm": 10.0}}})
	require.NoError(t, err)
	mean, ok := third.Mean(record.ReadingMass)
	require.True(t, ok)
	require.InDelta(t, 205, mean, 1e-9)
	_, ok = third.Mean("nothing")
	require.False(t, ok)

	ms, err := s.Measurements(w.ID, "droop", false)
	require.NoError(t, err)
	require.Equal(t, []record.Measurement{first, second}, ms, "oldest first, whole numbers as figures too")
	latest, err := s.Latest(w.ID)
	require.NoError(t, err)
	require.Equal(t, map[string]record.Measurement{"droop": second, "mass": third}, latest[w.ID])

	require.NoError(t, s.RemoveMeasurement(second.ID))
	latest, err = s.Latest()
	require.NoError(t, err)
	require.Equal(t, first, latest[w.ID]["droop"], "the earlier one counts again")
	all, err := s.Measurements(w.ID, "", true)
	require.NoError(t, err)
	require.Len(t, all, 3, "its figures are kept")
	isFault(t, s.RemoveMeasurement(second.ID), fault.NotFound)
	what, err := s.Undo()
	require.NoError(t, err)
	require.Contains(t, what, "droop")
	latest, err = s.Latest(w.ID)
	require.NoError(t, err)
	require.Equal(t, second, latest[w.ID]["droop"])
}

func TestMeasurementsThatAreRefused(t *testing.T) {
	s := fresh(t)
	w, err := s.AddSwatch(blue())
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		m    record.Measurement
		says string
	}{
		{"kind", record.Measurement{SwatchID: w.ID, Kind: "drop", Readings: []record.Reading{{"a": 1.0}}}, `did you mean "droop"`},
		{"no readings", record.Measurement{SwatchID: w.ID, Kind: "mass"}, "no readings"},
		{"empty reading", record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{}}}, "reading 1"},
		{"NaN", record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{"a": 1.0}, {"a": math.NaN()}}}, "reading 2"},
		{"what JSON cannot say", record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{"a": func() {}}}}, "cannot be kept"},
		{"no such swatch", record.Measurement{SwatchID: 99, Kind: "mass", Readings: []record.Reading{{"a": 1.0}}}, "no swatch"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := s.AddMeasurement(c.m)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestWears(t *testing.T) {
	s := fresh(t)
	old, err := s.AddWear(record.Wear{MakeUp: json.RawMessage(`{ "cloth": "wool-felt", "piece": "cowl" }`), Verdict: "suits", Said: "warm", At: noon.AddDate(-1, 0, 0)})
	require.NoError(t, err)
	require.JSONEq(t, `{"cloth":"wool-felt","piece":"cowl"}`, string(old.MakeUp))
	later, err := s.AddWear(record.Wear{MakeUp: json.RawMessage(`{}`), Verdict: "unsuited"})
	require.NoError(t, err)
	ws, err := s.Wears(0)
	require.NoError(t, err)
	require.Equal(t, []record.Wear{later, old}, ws)
	ws, err = s.Wears(1)
	require.NoError(t, err)
	require.Equal(t, []record.Wear{later}, ws)
	for _, w := range []record.Wear{{MakeUp: json.RawMessage(`{`), Verdict: "suits"}, {MakeUp: nil, Verdict: "suits"}, {MakeUp: json.RawMessage(`{}`)}} {
		_, err = s.AddWear(w)
		isFault(t, err, fault.WrongCall)
	}
	require.NoError(t, s.RemoveWear(old.ID))
	isFault(t, s.RemoveWear(old.ID), fault.NotFound)
}

func TestSettings(t *testing.T) {
	s := fresh(t)
	mapping := map[string]string{"Gewicht": "mass_gsm"}
	require.NoError(t, s.SetSetting("mapping/market stall", mapping))
	require.NoError(t, s.SetSetting("units", "imperial"))
	var got map[string]string
	there, err := s.Setting("mapping/market  stall", &got)
	require.NoError(t, err)
	require.True(t, there)
	require.Equal(t, mapping, got)
	var n int
	_, err = s.Setting("units", &n)
	isFault(t, err, fault.WrongCall, "something else")
	there, err = s.Setting("none", &got)
	require.NoError(t, err)
	require.False(t, there)
	keys, err := s.Settings("mapping/")
	require.NoError(t, err)
	require.Equal(t, []string{"mapping/market stall"}, keys)
	before := dump(t, s.db)
	require.NoError(t, s.SetSetting("units", "imperial"))
	require.Equal(t, before, dump(t, s.db))
	require.NoError(t, s.SetSetting("units", "metric"))
	_, err = s.Undo()
	require.NoError(t, err)
	require.Equal(t, before, dump(t, s.db))
	require.NoError(t, s.RemoveSetting("units"))
	isFault(t, s.RemoveSetting("units"), fault.NotFound)
	isFault(t, s.SetSetting("f", func() {}), fault.WrongCall)
	isFault(t, s.SetSetting("", 1), fault.WrongCall)
}

// rows makes n rows of a list.
func rows(n int) []record.SwatchRow {
	out := make([]record.SwatchRow, n)
	for i := range out {
		out[i] = record.SwatchRow{Line: i + 2, Swatch: record.Swatch{Name: fmt.Sprintf("Remnant %05d", i), SoldAs: "cotton-lawn", Content: []record.Part{{Fibre: "cotton", Percent: 60}, {Fibre: "silk", Percent: 40}}, WidthCM: 110 + float64(i%50), LengthCM: long(float64(i % 900)),
			Colour: "grey", KeptWhere: fmt.Sprintf("box %d", i%40), Notes: "from the village fête"}}
	}
	return out
}

func TestImport(t *testing.T) {
	s := fresh(t)
	_, err := s.AddSwatch(record.Swatch{Name: "REMNANT 00003"})
	require.NoError(t, err)
	_, err = s.AddMeasurement(record.Measurement{SwatchID: 1, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 1.0}}})
	require.NoError(t, err)
	before := dump(t, s.db)

	list := rows(123)
	list[7].Swatch.WidthCM = -3
	list[9].Swatch.Name = "remnant 00008"
	list[11].Measured = []record.Measurement{{Kind: "weight", Readings: []record.Reading{{record.ReadingMass: 5.0}}}}
	list[12].Measured = []record.Measurement{{Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 80.0}}}, {Kind: "wash", Readings: []record.Reading{{"warp_pct": 3.0}}}}

	bad, err := s.ImportSwatches(list, false)
	require.Error(t, err)
	require.Equal(t, before, dump(t, s.db), "one bad row refuses the list")
	require.Len(t, bad.Rejected, 4, "every bad row is told, that of the store too")
	require.Contains(t, err.Error(), "line 9: width_cm: a width of -3 cm")

	list = rows(123) // as read again
	list[7].Swatch.WidthCM = -3
	list[9].Swatch.Name = "remnant 00008"
	list[11].Measured = []record.Measurement{{Kind: "weight", Readings: []record.Reading{{record.ReadingMass: 5.0}}}}
	list[12].Measured = []record.Measurement{{Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 80.0}}}, {Kind: "wash", Readings: []record.Reading{{"warp_pct": 3.0}}}}
	done, err := s.ImportSwatches(list, true)
	require.NoError(t, err)
	require.Equal(t, 123, done.Read)
	require.Equal(t, 119, done.Added)
	var told []string
	for _, r := range done.Rejected {
		told = append(told, fmt.Sprintf("%d %s", r.Line, r.Column))
		require.Equal(t, fault.BadData, r.Fault.Kind)
	}
	require.ElementsMatch(t, []string{"5 name", "9 width_cm", "11 name", "13 kind"}, told)
	_, total, err := s.ListSwatches(record.SwatchFilter{}, 1, 0)
	require.NoError(t, err)
	require.Equal(t, 120, total)
	w, err := s.Swatch("remnant 00012")
	require.NoError(t, err)
	latest, err := s.Latest(w.ID)
	require.NoError(t, err)
	require.Len(t, latest[w.ID], 2)
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)

	what, err := s.Undo()
	require.NoError(t, err)
	require.Equal(t, "119 swatches imported", what)
	require.Equal(t, before, dump(t, s.db))
}

func TestImportOfNothing(t *testing.T) {
	s := fresh(t)
	before := dump(t, s.db)
	for _, list := range [][]record.SwatchRow{nil, {{Line: 1}}} {
		done, err := s.ImportSwatches(list, true)
		require.NoError(t, err)
		require.Zero(t, done.Added)
	}
	require.Equal(t, before, dump(t, s.db))
}

func TestImportAsManyAsOneStatementTakes(t *testing.T) {
	for _, n := range []int{1, rowsAtOnce - 1, rowsAtOnce, rowsAtOnce + 1, 3 * rowsAtOnce} {
		s := fresh(t)
		done, err := s.ImportSwatches(rows(n), false)
		require.NoError(t, err)
		require.Equal(t, n, done.Added)
		ws, total, err := s.ListSwatches(record.SwatchFilter{}, 0, 0)
		require.NoError(t, err)
		require.Equal(t, n, total)
		require.Equal(t, fmt.Sprintf("Remnant %05d", n-1), ws[n-1].Name)
		require.Equal(t, int64(n), ws[n-1].ID)
	}
}

func TestEntriesForTheSearch(t *testing.T) {
	s := fresh(t)
	w, err := s.AddSwatch(blue())
	require.NoError(t, err)
	_, err = s.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 200.0}, {record.ReadingMass: 220.0}}})
	require.NoError(t, err)
	var es []record.Entry
	for e, err := range s.SwatchEntries(written.Needs{}, true) {
		require.NoError(t, err)
		es = append(es, e)
	}
	require.Equal(t, []record.Entry{{Kind: "swatch", ID: "Blue for the king", Name: "Blue for the king", Text: "wool serge. deep blue. dark. box four. smells of\nsheep", Fibres: []string{"wool", "polyamide"}, Mass: 210}}, es)
}

// More swatches than are looked for at first are told once each, whether what is written
// of them is known as a plain run of letters or not.
func TestEntriesBeyondTheFirstLook(t *testing.T) {
	s := fresh(t)
	rows := make([]record.SwatchRow, firstLook+500)
	for i := range rows {
		rows[i].Swatch = record.Swatch{Name: fmt.Sprintf("%s %05d", []string{"remnant", "crêpe"}[i%2], i), Colour: "remarkable"}
	}
	_, err := s.ImportSwatches(rows, false)
	require.NoError(t, err)
	for _, words := range [][][]string{nil, {{"remar"}}, {{"xyzzy", "remnant"}}, {{"remar"}, {"xyzzy"}}} {
		told := map[string]bool{}
		for e, err := range s.SwatchEntries(written.Needs{Words: words, AtLeast: min(1, len(words))}, false) {
			require.NoError(t, err)
			require.False(t, told[e.Name], e.Name)
			told[e.Name] = true
		}
		require.Len(t, told, len(rows), words)
	}
}

// Those whose names hold the word come first and all come in the order of their names,
// however many there are and wherever the word stands.
func TestEntriesInTheirOrder(t *testing.T) {
	s := fresh(t)
	rows := make([]record.SwatchRow, firstLook+500)
	for i := range rows {
		rows[i].Swatch = record.Swatch{Name: fmt.Sprintf("remnant %05d", (i*7919)%len(rows)), Colour: []string{"grey", "red", "grey blue"}[i%3]}
		switch {
		case i%100 == 0:
			rows[i].Swatch.Name = fmt.Sprintf("crêpe %05d", i)
		case i >= len(rows)-20:
			rows[i].Swatch.Name = fmt.Sprintf("grey end %05d", i)
		}
	}
	_, err := s.ImportSwatches(rows, false)
	require.NoError(t, err)
	for _, words := range [][][]string{{{"remnant"}}, {{"grey"}}, {{"remnant"}, {"blue"}}, {{"end"}}, {{"xyzzy", "remn"}}, {{"remnant00017"}}, {{"xyzzy"}}} {
		needs := written.Needs{Words: words, AtLeast: len(words)}
		var names, want []string
		for e, err := range s.SwatchEntries(needs, false) {
			require.NoError(t, err)
			names = append(names, e.Name)
		}
		held := func(text string) bool {
			plain := written.Run(text)
			return plain == "" || !slices.ContainsFunc(words, func(w []string) bool {
				return !slices.ContainsFunc(w, func(p string) bool { return strings.Contains(plain, p) })
			})
		}
		var others []string
		for _, r := range rows {
			switch {
			case held(r.Swatch.Name):
				want = append(want, r.Swatch.Name)
			case held(r.Swatch.Name + " " + r.Swatch.Colour):
				others = append(others, r.Swatch.Name)
			}
		}
		slices.Sort(want)
		slices.Sort(others)
		require.Equal(t, append(want, others...), names, words)
		needs.Few = 30
		for e, err := range s.SwatchEntries(needs, false) {
			require.NoError(t, err)
			require.Contains(t, names, e.Name)
			needs.Few--
		}
		require.Equal(t, max(0, 30-len(names)), needs.Few, words)
	}
}

// TestUndoRestoresEverything does anything at random; whatever it was, one undo
// brings every row back as it was, and undoing all leaves nothing.
func TestUndoRestoresEverything(t *testing.T) {
	s := fresh(t)
	r := rand.New(rand.NewPCG(5, 6))
	empty := dump(t, s.db)
	pick := func(n int) int64 { return int64(1 + r.IntN(n)) }
	word := func() string { return fmt.Sprintf("w%d", r.IntN(12)) }
	ops := []func() error{
		func() error { _, err := s.AddNote("cloth", word(), word()); return err },
		func() error { return s.EditNote(pick(8), word()+"é\n\"'%") },
		func() error { return s.RemoveNote(pick(8)) },
		func() error { return s.Favourite("cloth", word()) },
		func() error { return s.Unfavourite("cloth", word()) },
		func() error { w := blue(); w.Name = word(); _, err := s.AddSwatch(w); return err },
		func() error {
			_, err := s.AddSwatch(record.Swatch{Name: word(), WidthCM: 1e-3 * float64(r.IntN(1e6)), LengthCM: long(r.Float64())})
			return err
		},
		func() error { _, err := s.RenameSwatch(pick(8), word()); return err },
		func() error {
			w, err := s.SwatchByID(pick(8))
			if err != nil {
				return err
			}
			w.LengthCM, w.Bought, w.Colour = nil, time.Time{}, word()
			_, err = s.EditSwatch(w)
			return err
		},
		func() error { return s.RemoveSwatch(pick(8)) },
		func() error {
			_, err := s.AddMeasurement(record.Measurement{SwatchID: pick(8), Kind: record.Kinds[r.IntN(len(record.Kinds))], Readings: []record.Reading{{"x": r.Float64(), "y": word()}}, Note: word()})
			return err
		},
		func() error { return s.RemoveMeasurement(pick(10)) },
		func() error {
			_, err := s.AddWear(record.Wear{MakeUp: json.RawMessage(`{"a":1.50,"b":[true,null]}`), Verdict: word(), Said: word()})
			return err
		},
		func() error { return s.RemoveWear(pick(5)) },
		func() error { return s.SetSetting(word(), r.Float64()) },
		func() error { return s.RemoveSetting(word()) },
		func() error {
			list := rows(1 + r.IntN(120))
			for i := range list {
				list[i].Swatch.Name += word()
				if r.IntN(3) == 0 {
					list[i].Measured = []record.Measurement{{Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 100.5}}}}
				}
			}
			_, err := s.ImportSwatches(list, true)
			return err
		},
	}
	rounds := 400
	if testing.Short() {
		rounds = 80
	}
	done := map[int]int{}
	for range rounds {
		before := dump(t, s.db)
		i := r.IntN(len(ops))
		err := ops[i]()
		after := dump(t, s.db)
		if after == before {
			continue
		}
		require.NoError(t, err, "what fails changes nothing")
		done[i]++
		what, err := s.Undo()
		require.NoError(t, err)
		require.Equal(t, before, dump(t, s.db), "operation %d: %s", i, what)
		// Do something lasting, so that the next one finds other records.
		if r.IntN(3) > 0 {
			_ = ops[r.IntN(len(ops)-1)]()
		}
	}
	if !testing.Short() {
		require.Len(t, done, len(ops), "every operation was tried with effect")
	}
	for {
		if _, err := s.Undo(); err != nil {
			isFault(t, err, fault.NotFound)
			break
		}
	}
	require.Equal(t, empty, dump(t, s.db))
}

func FuzzRows(f *testing.F) {
	s := fresh(f)
	f.Add("name", "cloth", "wool", 50.0, 140.0, 1.0, "dark", "note")
	f.Add("\x00", "\xff", "", -1.0, math.MaxFloat64, 0.0, "DARK ", strings.Repeat("x", 300))
	f.Fuzz(func(t *testing.T, name, soldAs, fibre string, percent, width, length float64, lightness, notes string) {
		before := dump(t, s.db)
		w := record.Swatch{Name: name, SoldAs: soldAs, Content: []record.Part{{Fibre: fibre, Percent: percent}}, WidthCM: width, LengthCM: &length, Lightness: lightness, Notes: notes}
		kept, err := s.AddSwatch(w)
		if err != nil {
			if dump(t, s.db) != before {
				t.Fatal("a refused swatch left a trace")
			}
			return
		}
		again, err := s.Swatch(kept.Name)
		if err != nil {
			t.Fatalf("kept but not found: %v", err)
		}
		if fmt.Sprintf("%+v", again) == "" || again.Name != kept.Name || *again.LengthCM != length || again.WidthCM != width {
			t.Fatalf("came back as %+v", again)
		}
		if _, err := s.Undo(); err != nil {
			t.Fatal(err)
		}
		if dump(t, s.db) != before {
			t.Fatal("undo left a trace")
		}
	})
}
