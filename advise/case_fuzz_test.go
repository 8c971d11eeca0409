package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever is written as a case is refused with a reason, or is a make-up that can be judged.
func FuzzParseCase(f *testing.F) {
	a := adviser(f)
	for _, s := range []string{"hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta", "cowl, single-layer-hem, shell mass 120 g/m2, white shell", "apron, wearer child, seam french-seam, edge bias-bound",
		"shell shrink-warp 5 %, shell fray high", "shell bending-length 0 cm", "lining mass 1e9 g/m2", ", ,", "shell", "white lining, dark shell, half-circle-cape"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := a.ParseCase(text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		ans, err := a.Check(m)
		if err != nil {
			require.True(t, m.Shell == nil || m.Piece == nil, "%q: %v", text, err)
			return
		}
		require.Contains(t, []string{Suits, Borderline, Unsuited}, ans.Verdict)
		require.True(t, ans.Share >= 0 && ans.Share <= 1, "%q: %v", text, ans.Share)
	})
}

// A word for how a piece did is one of those offered, or is refused with them.
func FuzzParseFinding(f *testing.F) {
	for _, s := range []string{"right", "too stiff", "Too-Limp", "shrank", "", "perfect", "to stif"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		x, err := ParseFinding(text)
		if err != nil {
			require.ErrorContains(t, err, "too-stiff")
			return
		}
		again, err := ParseFinding(x.ID)
		require.NoError(t, err)
		require.Equal(t, x, again)
	})
}
