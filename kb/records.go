package kb

import (
	"tenter/kb/record"
	"tenter/kb/search"
)

// Records is what a user records, wherever it is kept. Every implementation must
// pass recordstest.Run.
//
// A name is found whatever its capitals and blanks. What is looked for and not
// there is no error; what is to be changed and not there is one. What is given out
// may be changed by the caller: it changes nothing that is kept.
type Records interface {
	Swatches
	Measurements
	Wears
	Notes
	Settings

	// Undo takes back the last change and says which it was.
	Undo() (undone string, err error)
	// TakeBack is Undo that also tells how the change is made again.
	TakeBack() (record.Undone, error)
	// LastChange is the number of the last change that can be undone; 0 where there is none.
	LastChange() (int64, error)
	// Redo makes a change again that was taken back. It is refused when something else
	// has been changed since.
	Redo(record.Undone) error
	// History lists the changes that can be undone, the last first; a limit of 0
	// lists all.
	History(limit int) ([]record.Change, error)
}

// Swatches are the cloths that the user has.
type Swatches interface {
	FindSwatch(name string) (record.Swatch, bool, error)
	// SwatchesBeginning lists the names that begin so, at most limit of them;
	// a negative limit lists all.
	SwatchesBeginning(with string, limit int) ([]string, error)
	// ListSwatches lists the swatches that pass the filter, and how many pass in
	// all; a limit of 0 lists all.
	ListSwatches(f record.SwatchFilter, limit, offset int) ([]record.Swatch, int, error)
	AddSwatch(record.Swatch) (record.Swatch, error)
	// EditSwatch replaces what is recorded of the swatch of that ID, its name too.
	EditSwatch(record.Swatch) (record.Swatch, error)
	// RemoveSwatch removes a swatch with everything measured on it.
	RemoveSwatch(id int64) error
	// ImportSwatches adds many swatches in one change: all, or with skipBad all
	// that are sound.
	ImportSwatches(rows []record.SwatchRow, skipBad bool) (record.Imported, error)
	// CheckSwatches finds what ImportSwatches would find, and changes nothing.
	CheckSwatches(rows []record.SwatchRow) (record.Imported, error)
}

// Measurements are what was measured on swatches. They are never overwritten.
type Measurements interface {
	// Measurements lists what was measured on a swatch, oldest first; an empty
	// kind is every kind.
	Measurements(swatch int64, kind string, removedToo bool) ([]record.Measurement, error)
	// MeasurementsOf gives what counts of the measurements of several swatches,
	// oldest first; no ids means all swatches.
	MeasurementsOf(ids ...int64) (map[int64][]record.Measurement, error)
	// Measured lists the swatches on which one of the kinds was measured, those
	// measured last first, at most limit of them (0 is all), with what was
	// measured of those kinds, oldest first.
	Measured(kinds []string, limit int) ([]record.Swatch, map[int64][]record.Measurement, error)
	AddMeasurement(record.Measurement) (record.Measurement, error)
	// FinishMeasurement records what was measured and drops the setting that held
	// the readings until now, in one change.
	FinishMeasurement(m record.Measurement, setting string) (record.Measurement, error)
	// RemoveMeasurement marks a measurement as removed; its figures are kept.
	RemoveMeasurement(id int64) error
}

// Wears are the verdicts on make-ups after wear.
type Wears interface {
	// Wears lists them, newest first; a limit of 0 lists all.
	Wears(limit int) ([]record.Wear, error)
	AddWear(record.Wear) (record.Wear, error)
	RemoveWear(id int64) error
}

// Notes are what the user wrote about things, and the things they marked.
type Notes interface {
	// Notes lists notes, oldest first; empty words match anything.
	Notes(kind, subject string) ([]record.Note, error)
	AddNote(kind, subject, words string) (record.Note, error)
	EditNote(id int64, words string) error
	RemoveNote(id int64) error
	// Favourites lists the marks, oldest first.
	Favourites() ([]record.Favourite, error)
	Favourite(kind, subject string) error
	Unfavourite(kind, subject string) error
}

// Settings are values under keys.
type Settings interface {
	// Setting reads the value of a key into a pointer; it tells whether there is one.
	Setting(key string, to any) (bool, error)
	SetSetting(key string, value any) error
	// Settings lists the keys that begin so, in order.
	Settings(beginning string) ([]string, error)
	RemoveSetting(key string) error
}

// Finder answers a search by words.
type Finder interface {
	Search(search.Query) ([]search.Hit, search.Facets, error)
}
