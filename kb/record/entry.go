package record

import (
	"fmt"
	"strings"
)

// Entry is one record as the search takes it: a kind, an id, names, text,
// fibres and a mass. Its fields are those of the search's own type, so that one
// converts to the other.
type Entry struct {
	Kind     string
	ID       string
	Name     string
	Names    []string
	Misspelt []string
	Text     string
	Fibres   []string
	Mass     float64
	Words    []string
	Rank     int // of own records none comes before another
}

// SwatchEntry describes a swatch to the search. The id is the name; mass is what
// was measured last, 0 where nothing was.
func SwatchEntry(w Swatch, mass float64) Entry {
	e := Entry{Kind: "swatch", ID: w.Name, Name: w.Name, Mass: mass}
	var parts []string
	for _, p := range []string{strings.ReplaceAll(w.SoldAs, "-", " "), w.Colour, w.Lightness, w.KeptWhere, w.Notes} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	e.Text = strings.Join(parts, ". ")
	for _, p := range w.Content {
		e.Fibres = append(e.Fibres, p.Fibre)
	}
	return e
}

// NoteEntry describes a note to the search. The id is its number.
func NoteEntry(n Note) Entry {
	return Entry{Kind: "note", ID: fmt.Sprint(n.ID), Name: "note on " + n.Subject, Text: n.Text}
}
