package card

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
)

// The cautions on the front are those of a person hurt, then the gravest; one of
// each matter, three of them unless more can hurt.
func TestFrontMindsTheGravestFirst(t *testing.T) {
	mind := func(reasons ...advise.Reason) []string {
		w := &writer{card: &Card{}, ans: advise.AdviseAnswer{Judged: &advise.CheckAnswer{Reasons: reasons}}}
		w.mind()
		return w.card.Front.Mind
	}
	c := func(say, matter string, harm int, share float64) advise.Reason {
		return advise.Reason{Say: say, Matter: matter, Harm: harm, Share: share, Effect: "caution"}
	}
	require.Equal(t, []string{"flame", "felts", "creases"}, mind(c("creases", "a", 2, 1), c("time", "b", 1, 1), c("felts", "c", 4, 0.9), c("flame", "d", 5, 0.6)))
	require.Equal(t, []string{"a", "b", "c", "d"}, mind(c("a", "1", 5, 1), c("b", "2", 5, 1), c("c", "3", 5, 1), c("d", "4", 5, 1), c("time", "5", 1, 1)), "what can hurt is never left out for room")
	require.Equal(t, []string{"first"}, mind(c("first", "same", 4, 1), c("second", "same", 4, 0.9)))
	require.Empty(t, mind(c("hardly", "a", 3, 0.2)), "what holds for few of them")
	iron := c("iron", "iron", 5, 1)
	iron.Rule = "hot-iron-and-steam-burn"
	require.Empty(t, mind(iron), "it stands in the foot of every card")
}

// Where room is short a step keeps its first sentence, whole.
func TestShortStepsAreOneSentence(t *testing.T) {
	require.Equal(t, "Wash both cloths.", firstSentence("Wash both cloths. Measure them again."))
	require.Equal(t, "Cut.", firstSentence("Cut."))
	long := strings.Repeat("a word and ", 12) + "the end."
	require.Equal(t, long, firstSentence(long), "no word is lost")
}

func TestSpansOfFigures(t *testing.T) {
	require.Equal(t, "90–100", span(90, 100))
	require.Equal(t, "2.5–3", span(2.5, 3))
	require.Equal(t, "80", span(80, 80))
}
