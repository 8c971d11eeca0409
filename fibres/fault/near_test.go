package fault

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Beside a word that is one slip away a longer name that holds the word stays, however
// long it is: it was not guessed by its spelling.
func TestNearKeepsWhatHoldsTheWord(t *testing.T) {
	require.Equal(t, []string{"saxin", "satin for the stage"}, Near("satin", []string{"saxin", "satin for the stage", "sexin"}, 3))
}
