package folder

import (
	"bytes"
	"compress/gzip"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a phone fetches once: the engine as it lies in the folder, the pages as a host sends
// them, compressed, and with the pictures of pieces worn. Both bounds are our own.
func TestWeight(t *testing.T) {
	const maxPages, maxAll = 4_500_000, 9_000_000
	pages, all := 0, 0
	for name, b := range builtFiles(t) {
		var packed bytes.Buffer
		w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
		require.NoError(t, err)
		_, err = w.Write(b)
		require.NoError(t, err)
		require.NoError(t, w.Close())
		n := packed.Len()
		if name == packedName { // hosts send it as it is
			n = len(b)
		}
		all += n
		if name != "worn.bin" {
			pages += n
		}
	}
	t.Logf("engine and pages %.3f MB, with the pictures %.2f MB", float64(pages)/1e6, float64(all)/1e6)
	require.Less(t, pages, maxPages)
	require.Less(t, all, maxAll)
}
