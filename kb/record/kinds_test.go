package record_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/kb"
	"tenter/kb/record"
)

// Whatever home test an answer names, its reading can be recorded under the name by
// which the test is asked for, and its own example is one that is understood.
func TestEveryHomeTestCanBeRecorded(t *testing.T) {
	for id, test := range fibres.Tests {
		require.NotEmpty(t, test.Kind, id)
		require.Contains(t, record.Kinds, test.Kind, id)
		require.Equal(t, test.Kind, test.Word())
		_, err := kb.NewGuide(test.Kind)
		require.NoError(t, err, id)
	}
}
