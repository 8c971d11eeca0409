package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// The first step of the work says what each cloth takes: no two lines of one order
// contradict each other, and wool is not washed twice, for each wash felts it further
// (FeltingNote in fibres/shrink, published).
func TestFirstStepSaysWhatEachClothTakes(t *testing.T) {
	for words, want := range map[string]string{
		"hooded-cloak, bagged-lining, shell silk-velvet, lining viscose-twill":    "Steam both cloths, do not wash them. Measure them again.",
		"half-circle-cape, bagged-lining, shell wool-flannel, lining cotton-lawn": "Wash the shell by hand, cool, and dry it flat. Wash and dry the lining",
		"apron, single-layer-hem, shell cotton-poplin":                            "Wash and dry the cloth",
		"curtain, single-layer-hem, shell silk-velvet":                            "Do not wash this cloth.", // a rule says it better
	} {
		m, err := adviser(t).ParseCase(words)
		require.NoError(t, err)
		ans, err := adviser(t).Advise(m, 1)
		require.NoError(t, err)
		require.True(t, strings.HasPrefix(ans.Order[0].Say, want), "%s: %s", words, ans.Order[0].Say)
		for _, s := range ans.Order {
			require.NotEqual(t, "steam-shell", s.Step, "it is said already: %s", words)
		}
	}
}

func TestNoFeltingClothIsWashedTwice(t *testing.T) {
	a, felting := adviser(t), 0
	for _, c := range a.Cat.ClothList() {
		m, err := a.ParseCase("half-circle-cape, shell " + c.ID)
		require.NoError(t, err)
		if w := a.preWash("shell", m.Shell, true); felts(m.Shell) {
			felting++
			require.NotContains(t, w.Say, "twice", c.ID)
		}
	}
	require.Greater(t, felting, 30)
}

// The first step in the words of each way of washing, for one cloth, two and more; where they
// are not alike each is told by itself, and a step that steams the shell goes where one is steamed.
func TestTheWordsOfTheFirstStep(t *testing.T) {
	steps := func() []OrderStep {
		return []OrderStep{{Step: "cut"}, {Step: "pre-wash", Say: "usual"}, {Step: "steam-shell"}}
	}
	warm, twice, hot, steam := PreWash{Layer: "shell", Method: "warm", Times: 1}, PreWash{Layer: "lining", Method: "warm", Times: 2}, PreWash{Method: "hot", Times: 1}, PreWash{Layer: "lining", Method: "steam"}
	for want, cloths := range map[string][]PreWash{
		"Wash and dry the cloth, warm at most. Measure it again.":                                                                               {warm},
		"Wash and dry both cloths, warm at most. Measure them again.":                                                                           {warm, warm},
		"Wash and dry all cloths, warm at most. Measure them again.":                                                                            {warm, warm, warm},
		"Wash and dry the cloth, as you will the piece. Measure it again.":                                                                      {hot},
		"Wash and dry the cloth twice, warm at most. Measure it again.":                                                                         {twice},
		"Wash and dry the shell, warm at most. Wash and dry the lining twice, warm at most. Measure them again.":                                {warm, twice},
		"Leave the cloth as it is: neither wash nor steam. Measure it again.":                                                                   {{Method: "leave"}},
		"Wash a swatch of both cloths first. Measure them again.":                                                                               {{Method: "test first"}, {Method: "test first"}},
		"Wash both cloths by hand, cool, and dry them flat. Measure them again.":                                                                {{Method: "hand"}, {Method: "hand"}},
		"Wash and dry the shell, warm at most. Steam the lining, do not wash it. Measure them again.":                                           {warm, steam},
		"Steam the lining, do not wash it. Wash and dry the shell, warm at most. Wash and dry the , as you will the piece. Measure them again.": {steam, warm, hot},
	} {
		got := washStep(steps(), "usual", cloths)
		require.Equal(t, want, got[1].Say)
		steamed := strings.Contains(want, "Steam")
		require.Len(t, got, map[bool]int{true: 2, false: 3}[steamed], want)
	}
	require.Equal(t, steps(), washStep(steps(), "other words", []PreWash{warm}), "what a rule says better stands")
	require.Equal(t, steps(), washStep(steps(), "usual", nil))
	require.Equal(t, steps()[:1], washStep(steps()[:1], "usual", []PreWash{warm}))
	require.Equal(t, "own", (&Finish{Steps: []Step{{ID: "cut", Say: "x"}, {ID: "pre-wash", Say: "own"}}}).firstStep())
	require.Empty(t, (&Finish{Steps: []Step{{ID: "cut", Say: "x"}}}).firstStep())
	require.Empty(t, (*Finish)(nil).firstStep())
	wool := func(felts int, share float64) *fibres.Subject {
		return &fibres.Subject{Content: []fibres.Part{{Fibre: &fibres.Fibre{Felts: felts}, Share: fibres.Estimate{Typical: share}}}}
	}
	require.True(t, felts(wool(1, 20)))
	require.False(t, felts(wool(1, 19)))
	require.False(t, felts(wool(0, 100)))
	require.False(t, felts(&fibres.Subject{Content: []fibres.Part{{Share: fibres.Estimate{Typical: 100}}}}), "of an unknown fibre")
}
