package store

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb"
	"tenter/kb/recordstest"
)

func TestRecords(t *testing.T) {
	recordstest.Run(t, func(t *testing.T) kb.Records {
		s, err := Open(filepath.Join(t.TempDir(), "tenter.db"))
		require.NoError(t, err)
		t.Cleanup(func() { require.NoError(t, s.Close()) })
		return s
	})
}
