package cut

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// instance is one set of rectangles that fill a strip without waste.
type instance struct {
	name          string
	width, length float64
	boxes         []box
}

// hopperTurton reads the zero-waste sets of Hopper and Turton 2001.
func hopperTurton(t testing.TB) []instance {
	t.Helper()
	f, err := os.Open("../../testdata/reference/strip_packing.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []instance
	num := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return v
	}
	for _, r := range rows[1:] {
		if len(out) == 0 || out[len(out)-1].name != r[1] {
			out = append(out, instance{name: r[1], width: num(r[2]), length: num(r[3])})
		}
		x := &out[len(out)-1]
		x.boxes = append(x.boxes, box{w: num(r[4]), h: num(r[5])})
	}
	return out
}

func TestBenchReport(t *testing.T) {
	sum := 0.0
	n := 0.0
	for _, x := range hopperTurton(t) {
		start := time.Now()
		_, l := packBoxes(bench{width: x.width}, x.boxes, 300_000/len(x.boxes))
		fmt.Printf("%s n=%d opt=%g got=%g gap=%.2f%% %v\n", x.name, len(x.boxes), x.length, l, (l/x.length-1)*100, time.Since(start))
		sum += l/x.length - 1
		n++
	}
	fmt.Printf("mean %.2f%%\n", sum/n*100)
	_ = math.Inf
}
