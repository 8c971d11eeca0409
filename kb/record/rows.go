package record

import (
	"fmt"

	"tenter/fibres/fault"
)

// SwatchRow is one row of a list being imported.
type SwatchRow struct {
	Line     int // of the list, for the errors
	Swatch   Swatch
	Measured []Measurement // what the list says of it
}

// Rejection is a row that was not taken, with the reason.
type Rejection struct {
	Line   int
	Column string // ours: name, width_cm …
	Fault  *fault.Fault
}

// Imported is what became of a list.
type Imported struct {
	Read     int
	Added    int
	Rejected []Rejection
}

// CheckedRow is a sound row with the readings of each measurement as they are
// kept.
type CheckedRow struct {
	*SwatchRow
	Readings []string
}

// CheckRows parts a list into the rows that are sound and the reasons against
// the others. A name may stand once; whether it is taken already, only the keeper
// of the records knows.
func CheckRows(rows []SwatchRow) (sound []CheckedRow, done Imported) {
	done.Read = len(rows)
	first := make(map[string]int, len(rows)) // line of each name
	for i := range rows {
		r := &rows[i]
		found := r.Swatch.Tidy()
		readings := make([]string, len(r.Measured))
		for j := range r.Measured {
			var err error
			if readings[j], err = r.Measured[j].Tidy(); err != nil {
				found.Add(err)
			}
		}
		if len(found) == 0 {
			k := NameKey(r.Swatch.Name)
			if line, there := first[k]; there {
				found = append(found, wrong("name", fmt.Sprintf("%q is named in line %d too", r.Swatch.Name, line), "each name once"))
			} else {
				first[k] = r.Line
			}
		}
		if len(found) > 0 {
			done.Reject(r, found...)
			continue
		}
		sound = append(sound, CheckedRow{r, readings})
	}
	return sound, done
}

// Reject notes why a row is not taken.
func (d *Imported) Reject(r *SwatchRow, why ...*fault.Fault) {
	for _, f := range why {
		f.Kind = fault.BadData // of a list, not of a call
		d.Rejected = append(d.Rejected, Rejection{Line: r.Line, Column: f.Where, Fault: f})
	}
}

// RejectTaken rejects the rows whose names are taken, given by their keys, and
// returns the others.
func (d *Imported) RejectTaken(rows []CheckedRow, taken map[string]string) []CheckedRow {
	if len(taken) == 0 {
		return rows
	}
	var free []CheckedRow
	for _, r := range rows {
		if other, is := taken[NameKey(r.Swatch.Name)]; is {
			d.Reject(r.SwatchRow, NameTaken(other))
		} else {
			free = append(free, r)
		}
	}
	return free
}

// Err is every rejection as one error, placed by line.
func (d Imported) Err() error {
	var l fault.List
	for _, r := range d.Rejected {
		f := *r.Fault
		f.Where = fmt.Sprintf("line %d: %s", r.Line, r.Column)
		l = append(l, &f)
	}
	if len(l) == 0 {
		return nil
	}
	return l
}
