package worn

import (
	"context"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres/drape"
)

// A piece in one typical cloth: to rest within 10 s on two idle cores, a first good shape within 3 s
// (s/first), in at most 300 MB (MB/system).
func benchmarkFall(b *testing.B, id string) {
	w, err := Wear(id, shapes(b), nil, Adult, "")
	require.NoError(b, err)
	s, err := drape.NewSheet(200, 2, 2, 0, 0)
	require.NoError(b, err)
	first := 0.0
	for b.Loop() {
		start := time.Now()
		p, err := drape.Prepare(w.Scene, w.Options())
		require.NoError(b, err)
		_, err = p.Fall(context.Background(), s, drape.Watch{Rough: func(drape.Result) { first = time.Since(start).Seconds() }})
		require.NoError(b, err)
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(first, "s/first")
	b.ReportMetric(float64(m.Sys)/(1<<20), "MB/system")
}

func BenchmarkCape(b *testing.B) { benchmarkFall(b, "half-circle-cape") }

func BenchmarkHoodedWrap(b *testing.B) { benchmarkFall(b, "hooded-wrap") }
