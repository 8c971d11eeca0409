package order

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// steps makes steps from lines such as "join: cut, sew".
func steps(lines ...string) []Step {
	var out []Step
	for _, l := range lines {
		id, after, _ := strings.Cut(l, ":")
		s := Step{ID: strings.TrimSpace(id), Say: "Do " + id + "."}
		for _, a := range strings.Split(after, ",") {
			if a = strings.TrimSpace(a); a != "" {
				s.After = append(s.After, a)
			}
		}
		out = append(out, s)
	}
	return out
}

func plan(t *testing.T, lines ...string) *Plan {
	t.Helper()
	p, err := New(steps(lines...))
	require.NoError(t, err)
	return p
}

func ids(t *testing.T, p *Plan) string {
	t.Helper()
	l, err := p.Order()
	require.NoError(t, err)
	out := make([]string, len(l))
	for i, s := range l {
		out[i] = s.ID
	}
	return strings.Join(out, " ")
}

var lined = []string{"pre-wash", "cut: pre-wash", "sew: cut", "clip: sew", "join: clip", "turn: join", "close: turn", "press: close"}

func TestKeepsTheOrderAsWritten(t *testing.T) {
	require.Equal(t, "b a c", ids(t, plan(t, "b", "a", "c")), "nothing is asked")
	require.Equal(t, "b a c", ids(t, plan(t, "b", "a:b", "c")), "what is asked holds already")
	require.Equal(t, "a c b", ids(t, plan(t, "b:c", "a", "c")), "only what must moves")
}

func TestMovedStepIsRehung(t *testing.T) {
	p := plan(t, lined...)
	require.NoError(t, p.Move("clip", "join", ""))
	require.Equal(t, "pre-wash cut sew join clip turn close press", ids(t, p))
	l, err := p.Order()
	require.NoError(t, err)
	require.Equal(t, []string{"sew"}, l[3].After, "joining now waits for what clipping waited for")
	require.Equal(t, []string{"turn"}, l[4].Before, "and turning waits for clipping still")
}

func TestMovedBeforeKeepsWhatItStillCan(t *testing.T) {
	p := plan(t, lined...)
	require.NoError(t, p.Move("join", "", "clip"))
	require.Equal(t, "pre-wash cut sew join clip turn close press", ids(t, p))
	p = plan(t, lined...)
	require.NoError(t, p.Move("close", "", "sew"))
	require.Equal(t, "pre-wash cut close sew clip join turn press", ids(t, p), "closing still waits for cutting, pressing for all")
}

func TestMovedBetween(t *testing.T) {
	p := plan(t, "a", "b", "c", "d", "e")
	require.NoError(t, p.Move("a", "c", "e"))
	require.Equal(t, "b c a d e", ids(t, p))
}

func TestRulesMayNotContradictEachOther(t *testing.T) {
	p := plan(t, lined...)
	require.NoError(t, p.Move("clip", "join", ""))
	before := ids(t, p)
	err := p.Move("join", "clip", "")
	require.EqualError(t, err, "the steps go round in a circle: clip, then join, then clip\n"+
		"  expected: an order in which each step comes once\n  mend: let one of them go first")
	require.Equal(t, before, ids(t, p), "a move that fails changes nothing")
	require.Error(t, p.Move("turn", "press", "close"))
	require.Equal(t, before, ids(t, p))
	require.NoError(t, p.Move("clip", "join", ""), "asking for the same again is no contradiction")
	require.Equal(t, before, ids(t, p))
}

func TestAddedSteps(t *testing.T) {
	p := plan(t, lined...)
	require.NoError(t, p.Add(Step{ID: "stay-stitch", Say: "Stay-stitch."}, "cut", ""))
	require.NoError(t, p.Add(Step{ID: "mark", Say: "Mark."}, "cut", ""))
	require.NoError(t, p.Add(Step{ID: "test", Say: "Test."}, "", "pre-wash"))
	require.NoError(t, p.Add(Step{ID: "air", Say: "Air it."}, "", ""))
	require.Equal(t, "test pre-wash cut stay-stitch mark sew clip join turn close press air", ids(t, p))
	require.NoError(t, p.Add(Step{ID: "mark", Say: "Other words.", Sources: []string{"s"}}, "stay-stitch", "sew"))
	l, err := p.Order()
	require.NoError(t, err)
	require.Equal(t, "Mark.", l[4].Say, "the first to add it has the words")
	require.Equal(t, []string{"s"}, l[4].Sources)
	require.Equal(t, []string{"cut", "stay-stitch"}, l[4].After)
	require.Error(t, p.Add(Step{ID: "x", After: []string{"nowhere"}}, "", ""))
	require.NotContains(t, ids(t, p), "x", "an addition that fails changes nothing")
	require.Error(t, p.Add(Step{ID: "x"}, "press", "cut"))
	require.NotContains(t, ids(t, p), "x")
}

func TestDroppedStepStillHoldsItsNeighboursApart(t *testing.T) {
	p := plan(t, "c", "b:a", "a", "d:b")
	require.NoError(t, p.Drop("b"))
	require.Equal(t, "c a d", ids(t, p))
	l, err := p.Order()
	require.NoError(t, err)
	require.Equal(t, []string{"a"}, l[2].After)
	require.NoError(t, p.Add(Step{ID: "e", After: []string{"b"}}, "", ""), "to come after a dropped step is no fault")
	require.NoError(t, p.Move("b", "d", ""), "nor is moving it")
	require.NoError(t, p.Add(Step{ID: "b"}, "d", ""))
	require.Equal(t, "c a d e", ids(t, p), "and it stays dropped, whichever rule comes first")
}

func TestFixedSteps(t *testing.T) {
	p, err := New([]Step{{ID: "wash", Fixed: true}, {ID: "cut"}})
	require.NoError(t, err)
	require.ErrorContains(t, p.Move("wash", "cut", ""), `"wash" is fixed and cannot be moved`)
	require.ErrorContains(t, p.Drop("wash"), "cannot be dropped")
	require.NoError(t, p.Say(Step{ID: "wash", Say: "Wash twice.", Because: "It shrinks."}))
	l, err := p.Order()
	require.NoError(t, err)
	require.Equal(t, "Wash twice.", l[0].Say)
	require.Equal(t, "It shrinks.", l[0].Because)
	require.False(t, l[0].Movable)
	require.Empty(t, l[0].Later)
}

func TestWordsAndNotes(t *testing.T) {
	p := plan(t, "a", "b")
	require.NoError(t, p.Say(Step{ID: "a", Say: "New.", If: true}))
	require.NoError(t, p.Note("a", "Mind the nap.", "It shades."))
	require.NoError(t, p.Note("a", "Mind the nap.", "It shades."))
	l, err := p.Order()
	require.NoError(t, err)
	require.Equal(t, "New.", l[0].Say)
	require.Equal(t, []Note{{"Mind the nap.", "It shades."}}, l[0].Notes)
}

func TestWhyAndHowFarItCouldMove(t *testing.T) {
	p := plan(t, "a", "mark:a", "b:a", "c:b", "d:c,mark")
	l, err := p.Order()
	require.NoError(t, err)
	require.Equal(t, "mark", l[1].ID)
	require.Equal(t, "it comes after a and before d", l[1].Why)
	require.True(t, l[1].Movable)
	require.Equal(t, "c", l[1].Later)
	require.Equal(t, "it comes before mark", l[0].Why)
	require.False(t, l[0].Movable)
	require.Empty(t, l[0].Later)
	require.Equal(t, "it comes after c", l[4].Why)
	l, err = plan(t, "a", "b").Order()
	require.NoError(t, err)
	require.Equal(t, "it may be done at any time", l[0].Why)
	require.Equal(t, "b", l[0].Later)
}

func TestFaultsNameTheSteps(t *testing.T) {
	_, err := New(steps("a:c", "b:a", "c:b", "d"))
	require.ErrorContains(t, err, "the steps go round in a circle: b, then c, then a, then b")
	_, err = New(steps("a:a"))
	require.ErrorContains(t, err, "circle: a, then a")
	_, err = New(steps("cut", "sew:cutt", "cut", ":"))
	require.ErrorContains(t, err, "there is no step \"cutt\"\n  expected: one of cut, sew\n  mend: did you mean \"cut\"?")
	require.ErrorContains(t, err, `step "cut" is there twice`)
	require.ErrorContains(t, err, "a step has no id")
	p := plan(t, lined...)
	for _, err := range []error{p.Move("clipp", "join", ""), p.Move("clip", "jion", ""), p.Move("clip", "", "jion"), p.Move("clip", "clip", ""),
		p.Move("clip", "", ""), p.Drop("x"), p.Say(Step{ID: "x"}), p.Note("x", "", ""), p.Add(Step{}, "cut", ""), p.Add(Step{ID: "y"}, "", "x")} {
		require.Error(t, err)
	}
	require.Equal(t, "pre-wash cut sew clip join turn close press", ids(t, p))
}
