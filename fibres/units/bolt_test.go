package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestLengthsOffTheBoltAreRoundedUp(t *testing.T) {
	for _, x := range []struct {
		cm   Length
		sys  System
		want string
	}{
		{233, Metric, "235 cm"},
		{235, Metric, "235 cm"},
		{235.01, Metric, "240 cm"},
		{1201, Metric, "12.1 m"},
		{91.44, Imperial, "1 yd"},
		{92, Imperial, "1 1/8 yd"},
		{30, Imperial, "3/8 yd"}, // 0.328 yd
		{137.16, Imperial, "1 1/2 yd"},
		{100, Both, "100 cm (1 1/8 yd)"},
		{0, Imperial, "0 yd"},
	} {
		require.Equal(t, x.want, x.cm.OffTheBolt(x.sys), "%v %v", x.cm, x.sys)
	}
}
