package kb

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// The limits of the words for a weight are those of the needle table, those for shrinkage are
// common practice: a limit belongs to the word above it.
func TestBandsOfWords(t *testing.T) {
	for gsm, want := range map[float64]string{0: "very light", 69.9: "very light", 70: "light", 119.9: "light", 120: "medium", 220: "medium heavy", 319: "medium heavy", 320: "heavy", 599: "heavy", 600: "very heavy", 5000: "very heavy"} {
		require.Equal(t, want, massScale[band(gsm, massBelow)], "%v g/m²", gsm)
	}
	for pct, want := range map[float64]string{-3: "none", 1: "none", 1.1: "low", 3: "low", 6: "medium", 6.1: "high", 40: "high"} {
		require.Equal(t, want, shrinkScale[band(pct, shrinkBelow)], "%v %%", pct)
	}
}

func TestGradesOfALevel(t *testing.T) {
	scale := fibres.Scale{"none", "low", "high"}
	require.ElementsMatch(t, []string{"pricelow", "priceatmostlow", "priceatmosthigh", "priceatleastnone", "priceatleastlow"}, OrderedGrades("price", scale, 1))
	require.Equal(t, "frayatmostlow", GradeWord("Fray at most low"))
	for words, want := range map[string]bool{"fray at most low": true, "fray low": true, "group lining": true, "mass light": true, "flame retardant": false, "lining": false, "group": false, "fray woolly": false} {
		require.Equal(t, want, isGrade(words), words)
	}
}

// A cloth has the grades of its estimates and its fibres from a fifth on, and of each ordered
// property exactly one level.
func TestGradesOfACloth(t *testing.T) {
	cat := base(t).Cat
	k := cat.Cloths["cotton-lawn"]
	g := grades(cat.Sample(fibres.Subject{Cloth: k}, fibres.ShellSalt), k)
	for _, want := range []string{"fibre cotton", "family cellulose", "class woven", "group " + k.Group, "mass light", "mass at most medium", "mass at least very light"} {
		require.Contains(t, g, want)
	}
	require.NotContains(t, g, "mass at most very light")
	require.NotContains(t, g, "mass at least medium")
	for _, p := range graded {
		n := 0
		for _, w := range p.Scale() {
			if slices.Contains(g, p.String()+" "+w) {
				n++
			}
		}
		require.LessOrEqual(t, n, 1, p.String())
	}
	require.Contains(t, behaviour(cat.Sample(fibres.Subject{Cloth: k}, fibres.ShellSalt)), "light weight")
	for _, c := range cat.ClothList() {
		for _, p := range c.Content {
			require.Equal(t, p.Share.Typical >= 20, slices.Contains(grades(cat.Sample(fibres.Subject{Cloth: c}, fibres.ShellSalt), c), "fibre "+p.Fibre.ID), "%s of %s", p.Fibre.ID, c.ID)
		}
	}
}
