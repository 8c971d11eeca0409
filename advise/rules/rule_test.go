package rules

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

// The words of effects stand in every rule file, house rules and answers: each is read
// as what it was written from, and a slip is told with what was meant.
func TestEffectsAreReadAsTheyAreWritten(t *testing.T) {
	for e, word := range map[Effect]string{Forbids: "forbids", Against: "against", For: "for", Caution: "caution", Do: "do"} {
		require.Equal(t, word, e.String())
		var back Effect
		require.NoError(t, back.UnmarshalText([]byte(word)))
		require.Equal(t, e, back)
	}
	require.Equal(t, "unknown effect", Effect(-1).String())
	require.Equal(t, "unknown effect", Effect(5).String())
	var e Effect
	found := fault.All(e.UnmarshalText([]byte("forbid")))
	require.Len(t, found, 1)
	require.Equal(t, `effect is "forbid"`, found[0].What)
	require.Equal(t, "forbids, against, for, caution or do", found[0].Expected)
	require.Contains(t, found[0].Mend, "forbids")
}

func TestAConditionIsWrittenInALine(t *testing.T) {
	require.Equal(t, "lining.fray = at least medium", When{Fact: "lining.fray", Words: "at least medium"}.String())
}
