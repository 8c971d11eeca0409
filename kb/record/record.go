// Package record is what a user records: swatches, what was measured on them,
// notes, favourites, verdicts after wear. It holds the types and checks them; it
// keeps nothing. Where records are kept is a matter of the packages beside it.
package record

import (
	"fmt"

	"tenter/fibres/fault"
)

// The faults that every keeper of records finds in the same words.

// wrong is the fault of a value that was given.
func wrong(where, what, expected string) *fault.Fault {
	return &fault.Fault{Kind: fault.WrongCall, Where: where, What: what, Expected: expected}
}

func notFound(format string, args ...any) *fault.Fault {
	return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf(format, args...)}
}

// NoSwatch says that there is no swatch of that number.
func NoSwatch(id int64) *fault.Fault { return notFound("there is no swatch of number %d", id) }

// NoMeasurement says that there is no measurement of that number.
func NoMeasurement(id int64) *fault.Fault {
	return notFound("there is no measurement of number %d", id)
}

// NoNote says that there is no note of that number.
func NoNote(id int64) *fault.Fault { return notFound("there is no note %d", id) }

// NoWear says that there is no verdict of that number.
func NoWear(id int64) *fault.Fault { return notFound("there is no verdict of number %d", id) }

// NoFavourite says that a thing is not marked.
func NoFavourite(kind, subject string) *fault.Fault {
	return notFound("%s %s is no favourite", kind, subject)
}

// NoSetting says that nothing is kept under a key.
func NoSetting(key string) *fault.Fault { return notFound("there is no setting %q", key) }

// ChangedSince refuses to make a change again after another.
func ChangedSince() error {
	return &fault.Fault{Kind: fault.NotFound, What: "there is nothing to make again: the records were changed since", Expected: "to come right after an undo"}
}

// TooLarge refuses to make a change again that was too large to be kept.
func TooLarge(u Undone) error {
	return &fault.Fault{Kind: fault.NotFound, What: "the change is too large to be made again: " + u.What, Mend: "import its file again"}
}

// NothingToUndo says that no change is left that could be taken back.
func NothingToUndo(where string) *fault.Fault {
	return &fault.Fault{Kind: fault.NotFound, Where: where, What: "there is nothing to undo", Expected: fmt.Sprintf("a change, one of the last %d", KeptChanges)}
}

// NameTaken refuses a name that another swatch has.
func NameTaken(other string) *fault.Fault {
	return wrong("name", fmt.Sprintf("there is a swatch %q already", other), "a name that no other swatch has, capitals or not")
}
