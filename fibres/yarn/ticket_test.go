package yarn

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The tables of two teaching articles on thread numbering (online, "Thread ticket
// number", 2017; "Ticket number of sewing thread", both read): the count of the
// thread and its ticket.
func TestTicketsOfTheTables(t *testing.T) {
	for _, x := range []struct {
		count  string
		ticket Ticket
		number float64
	}{
		{"Ne 20/3", CottonTicket, 20}, {"Ne 20/2", CottonTicket, 30}, {"Ne 40/2", CottonTicket, 60}, {"Ne 60/3", CottonTicket, 60}, {"Ne 80/4", CottonTicket, 60},
		{"Ne 40/3", CottonTicket, 40}, {"Ne 40/4", CottonTicket, 30}, {"Ne 60/2", CottonTicket, 90}, {"Ne 60/4", CottonTicket, 45},
		{"Nm 20/3", MetricTicket, 20}, {"Nm 30/3", MetricTicket, 30}, {"Nm 40/2", MetricTicket, 60}, {"Nm 60/3", MetricTicket, 60}, {"Nm 80/4", MetricTicket, 60},
		{"Nm 80/2", MetricTicket, 120}, {"Nm 60/1", MetricTicket, 180}, {"Nm 60/2", MetricTicket, 90}, {"40 tex", MetricTicket, 75},
	} {
		c, err := ParseCount(x.count)
		require.NoError(t, err)
		d, err := LinearDensityFromCount(c)
		require.NoError(t, err)
		got, err := TicketFromLinearDensity(d, x.ticket)
		require.NoError(t, err)
		require.InDelta(t, x.number, got, 1e-6, "%s", x.count)
		back, err := LinearDensityFromTicket(x.number, x.ticket)
		require.NoError(t, err)
		require.InEpsilon(t, float64(d), float64(back), 1e-9, "%s", x.count)
	}
	_, err := LinearDensityFromTicket(0, MetricTicket)
	require.Error(t, err)
	_, err = TicketFromLinearDensity(20, "wool")
	require.Error(t, err)
}

// A weavers' page on Ashenhurst's rule: 8/2 cotton, 3,360 yards to the pound, has 52
// diameters to the inch. Taylor, Cotton Weaving and Designing, 6th edition, takes
// 5 % off the root for 32s cotton: 156 (both read).
func TestDiametersOfTheTextbooks(t *testing.T) {
	for text, x := range map[string][2]float64{"Ne 8/2": {0.9, 52}, "Ne 32": {0.95, 156}} {
		c, err := ParseCount(text)
		require.NoError(t, err)
		d, err := LinearDensityFromCount(c)
		require.NoError(t, err)
		got, err := DiametersPerInch(d, x[0])
		require.NoError(t, err)
		require.InDelta(t, x[1], got, 0.5, text)
	}
	_, err := DiametersPerInch(20, 2)
	require.Error(t, err)
}
