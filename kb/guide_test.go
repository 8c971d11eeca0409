package kb

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/record"
)

// typed leads a guide through lines and gives the prompt after each.
func typed(t *testing.T, kind string, lines ...string) (*Guide, []string) {
	t.Helper()
	g, err := NewGuide(kind)
	require.NoError(t, err)
	prompts := []string{g.Prompt()}
	for _, l := range lines {
		require.NoError(t, g.Put(l), l)
		prompts = append(prompts, g.Prompt())
	}
	return g, prompts
}

// What is asked: with its default, an example, or how many were typed.
func TestPromptsOfAGuide(t *testing.T) {
	g, asked := typed(t, "mass", "", "1.52", "1.50", "back", "1.51", "next")
	require.Equal(t, []string{
		"Size of the piece you weigh (Enter: 10x10cm)",
		"What one piece weighs, in grams (such as 1.52)",
		"What one piece weighs, in grams (reading 2; Enter goes on)",
		"What one piece weighs, in grams (reading 3; Enter goes on)",
		"What one piece weighs, in grams (reading 2; Enter goes on)",
		"What one piece weighs, in grams (reading 3; Enter goes on)",
		"",
	}, asked)
	require.True(t, g.Done())
	require.Equal(t, 3, g.Count(), "the size and two weights")
	require.NoError(t, g.Put("more"), "after the end nothing is asked")
	require.Equal(t, 3, g.Count())

	_, asked = typed(t, "droop")
	require.Equal(t, "Overhang of a warp strip, right side up (such as 3.4cm, or 1 3/8in; Enter goes on)", asked[0])
	_, asked = typed(t, "show-through")
	require.Equal(t, "None, low, medium or high (such as medium)", asked[0])
}

// "back" takes one answer away at a time, over the steps, and stops at the beginning.
func TestGuideGoesBack(t *testing.T) {
	g, _ := typed(t, "thickness", "8", "4.5")
	require.Equal(t, 1, g.At)
	for _, want := range []struct{ at, count int }{{1, 1}, {0, 0}, {0, 0}} {
		require.NoError(t, g.Put("B"))
		require.Equal(t, want.at, g.At)
		require.Equal(t, want.count, g.Count())
	}
	require.NoError(t, g.Put(""))
	require.Equal(t, []string{"10"}, g.Answers[0], "Enter takes what stands in brackets")
	require.Error(t, g.Put(""), "one height is needed")
}

func TestGuidesGiveReadings(t *testing.T) {
	for _, c := range []struct {
		kind  string
		lines []string
		n     int
		check func(r []record.Reading) bool
	}{
		{"loop", []string{"12", "3.4", "", "3.6", "", "", ""}, 2, func(r []record.Reading) bool {
			return r[0]["strip_cm"] == 12.0 && r[0]["height_cm"] == 3.4 && r[0]["direction"] == "warp" && r[0]["face"] == "right" && r[1]["face"] == "wrong"
		}},
		{"width", []string{"140", "139.5", ""}, 2, func(r []record.Reading) bool { return r[1]["width_cm"] == 139.5 }},
		{"bleed", []string{"low"}, 1, func(r []record.Reading) bool { return r[0]["level"] == "low" }},
		{"fray", []string{"3", "5", ""}, 2, func(r []record.Reading) bool { return r[1]["threads"] == 5.0 }},
		{"press", []string{"2 dots", "3 dots"}, 1, func(r []record.Reading) bool { return r[0]["safe_c"] == 150.0 && r[0]["marked_c"] == 200.0 }},
		{"stretch", []string{"12%", "10.9", ""}, 2, func(r []record.Reading) bool { return r[0]["stretch_pct"] == 12.0 }},
	} {
		g, _ := typed(t, c.kind, c.lines...)
		require.True(t, g.Done(), c.kind)
		r, err := g.Readings()
		require.NoError(t, err, c.kind)
		require.Len(t, r, c.n, c.kind)
		require.True(t, c.check(r), "%s: %v", c.kind, r)
	}
}

func TestWholeNumbersOfAGuide(t *testing.T) {
	for text, ok := range map[string]bool{"1": true, "1000": true, "0": false, "1001": false, "ten": false, "-1": false, "2.5": false, "99999999999999999999": false} {
		n, err := wholeNumber(text, 1, 1000)
		require.Equal(t, ok, err == nil, text)
		require.Equal(t, ok, n > 0, text)
	}
}

// A pile has 1 to 1000 layers, a wash is the 1st to the 100th.
func TestBoundsOfAGuide(t *testing.T) {
	for _, x := range []struct {
		kind  string
		lines []string
		ok    bool
	}{
		{"thickness", []string{"1000", "45"}, true}, {"thickness", []string{"1001", "45"}, false}, {"thickness", []string{"1", "4.5"}, true}, {"thickness", []string{"0", "4.5"}, false},
		{"wash", []string{"hand, cold", "100", "25cm:24cm"}, true}, {"wash", []string{"hand, cold", "101", "25cm:24cm"}, false},
	} {
		g, err := NewGuide(x.kind)
		require.NoError(t, err)
		for _, l := range x.lines {
			if err = g.Put(l); err != nil {
				break
			}
		}
		if err == nil {
			_, _, err = g.typed()
		}
		require.Equal(t, x.ok, err == nil, "%v: %v", x, err)
	}
}
