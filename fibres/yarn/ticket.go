package yarn

import (
	"fmt"
	"math"
)

// Ticket is a way of numbering sewing thread: three times the count of a single
// yarn as coarse as the whole thread.
type Ticket string

// The tickets.
const (
	MetricTicket Ticket = "metric" // of synthetic and core-spun thread
	CottonTicket Ticket = "cotton"
)

func (t Ticket) system() (CountSystem, bool) {
	switch t {
	case MetricTicket:
		return Metric, true
	case CottonTicket:
		return Cotton, true
	}
	return 0, false
}

// TicketFromLinearDensity returns the ticket number of a thread.
//
//	metric: 3 · 1000 / tex      cotton: 3 · 590.5412 / tex
//
// Given: the tex of the whole thread; which ticket.
//
// Valid: 0.01 to 100,000 tex.
// Accuracy: exact; the number on a reel is rounded to one that is made.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: two teaching articles on thread numbering (read).
// Checked: ticket_test.go, TestTicketsOfTheTables.
func TicketFromLinearDensity(d LinearDensity, t Ticket) (float64, error) {
	s, ok := t.system()
	if !ok {
		return 0, outside("the ticket", fmt.Sprintf("it is %q", string(t)), "metric or cotton", "")
	}
	c, err := CountFromLinearDensity(d, s)
	return 3 * c.Single, err
}

// LinearDensityFromTicket returns the tex of a thread from its ticket number:
// [TicketFromLinearDensity] read back.
//
// Given: the ticket number; which ticket.
//
// Valid: a number over 0 of a thread of 0.01 to 100,000 tex.
// Accuracy: within the rounding of the number.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: two teaching articles on thread numbering (read).
// Checked: ticket_test.go, TestTicketsOfTheTables.
func LinearDensityFromTicket(number float64, t Ticket) (LinearDensity, error) {
	s, ok := t.system()
	if !ok {
		return 0, outside("the ticket", fmt.Sprintf("it is %q", string(t)), "metric or cotton", "")
	}
	return LinearDensityFromCount(Count{number / 3, 1, s})
}

// DiametersPerInch returns how many threads of a yarn lie side by side in an inch:
// its wraps per inch, packed close.
//
//	D = k · √(yards in a pound)
//
// Given: the yarn's linear density; k, 0.9 for firm yarns (worsted, cotton, linen),
// 0.84 for soft ones (woollen).
//
// Valid: 0.01 to 100,000 tex; k from 0.5 to 1.
// Accuracy: yarn wrapped on a ruler gives a lower number, by a third or more.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Ashenhurst's rule, as told by a weavers' guild page and by Taylor, Cotton
// Weaving and Designing (both read).
// Checked: ticket_test.go, TestDiametersOfTheTextbooks.
func DiametersPerInch(d LinearDensity, k float64) (float64, error) {
	if err := yarnWeight(d); err != nil {
		return 0, err
	}
	if !(k >= 0.5 && k <= 1) {
		return 0, outside("the yarn's firmness", fmt.Sprintf("it is %g", k), "0.5 to 1", "0.9 is firm, 0.84 soft")
	}
	return k * math.Sqrt(poundG*1000/float64(d)/yardM), nil
}
