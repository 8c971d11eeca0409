package record

import "time"

// KeptChanges is how many changes can be undone; older ones are forgotten.
const KeptChanges = 1000

// Change is one entry of the log.
type Change struct {
	At   time.Time
	What string
}

// Moment reads a stored time: whole seconds since 1970.
func Moment(unix int64) time.Time { return time.Unix(unix, 0).UTC() }
