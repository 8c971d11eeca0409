package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/internal/testkit"
)

// Statements of handbooks and extension pamphlets about named cloths, each with
// its source in the first column of testdata/reference/fabric_checks.csv (facts
// reworded; the disputed row on velvet is left out there).

type statement struct{ source, fabric, property, expected, text string }

func statements(t *testing.T) []statement {
	t.Helper()
	var out []statement
	for _, r := range testkit.Rows(t, "fabric_checks.csv") {
		out = append(out, statement{r["source"], r["fabric"], r["property"], r["expected"], r["statement"]})
	}
	require.Greater(t, len(out), 100)
	return out
}

// theirs names the cloths of the catalogue that a source's words mean, where
// they are not a name of one cloth.
var theirs = map[string][]string{
	"albatross, cotton":            {"cotton-albatross"},
	"broadcloth":                   {"wool-broadcloth"},
	"cambric, cotton":              {"cotton-cambric"},
	"chiffon":                      {"silk-chiffon"},
	"crepe, wool":                  {"wool-crepe"},
	"crepe, silk":                  {"silk-crepe-de-chine", "silk-georgette"},
	"crepe, flat, rayon or silk":   {"viscose-crepe"},
	"drilling":                     {"cotton-drill"},
	"farmer satin (Italian cloth)": {"farmer-satin"},
	"flannel, wool":                {"wool-flannel"},
	"fur fabric, synthetic":        {"fake-fur"},
	"gabardine":                    {"wool-gabardine"},
	"jean cloth, cotton":           {"jean-cloth"},
	"jersey, silk":                 {"silk-jersey"},
	"linen":                        {"linen-dress"},
	"madras":                       {"madras"},
	"moire silk":                   {"silk-moire"},
	"poplin":                       {"silk-poplin", "cotton-poplin"},
	"silk and synthetic sheers":    {"silk-chiffon", "silk-georgette", "polyester-chiffon", "polyester-georgette"},
	"taffeta":                      {"silk-taffeta"},
	"tricot cloth, woven wool":     {"tricot-cloth"},
	"velvet":                       {"silk-velvet", "cotton-velvet"},
	"velvet, silk":                 {"silk-velvet"},
	"voile":                        {"cotton-voile"},
	"muslin, very thin":            {"mull"},
	"rayon with a linen look":      {"viscose-linen-look"},
	"felt":                         {"wool-felt"},
	"satin, polyester":             {"polyester-satin"},
	"organdie, voile, chiffon, batiste, georgette, dotted swiss, gauze": {"organdie", "cotton-voile", "silk-chiffon", "cotton-batiste", "silk-georgette", "dotted-swiss", "cotton-gauze"},
}

// meant finds the cloths that a statement is about.
func meant(t *testing.T, a *Adviser, fabric string) []*fibres.Cloth {
	t.Helper()
	var out []*fibres.Cloth
	for _, id := range theirs[fabric] {
		require.Contains(t, a.Cat.Cloths, id, "meant by %q", fabric)
		out = append(out, a.Cat.Cloths[id])
	}
	if len(out) == 0 {
		if id, err := a.Cat.ClothNames.Find(fabric); err == nil {
			out = append(out, a.Cat.Cloths[id])
		}
	}
	return out
}

func level(t *testing.T, a *Adviser, c *fibres.Cloth, p fibres.Property) fibres.Estimate {
	t.Helper()
	e := a.Cat.Estimate(fibres.Subject{Cloth: c}, p)
	require.True(t, e.Known(), "%s of %s is not known", p, c.ID)
	return e
}

// judgedFor gives the share of a cloth's population for a piece in its plainest
// finish.
func judgedFor(t *testing.T, a *Adviser, c *fibres.Cloth, piece, finish string) *judged {
	t.Helper()
	p, err := a.Piece(piece)
	require.NoError(t, err)
	f, err := a.Finish(finish)
	require.NoError(t, err)
	return a.judge(MakeUp{Piece: p, Finish: f, Shell: &fibres.Subject{Cloth: c}})
}

// choice finds what is said of a seam for a cloth.
func choice(t *testing.T, a *Adviser, c *fibres.Cloth, seam string) Choice {
	t.Helper()
	p, err := a.Piece("blouse")
	require.NoError(t, err)
	f, err := a.Finish("single-layer-hem")
	require.NoError(t, err)
	j := a.judge(MakeUp{Piece: p, Finish: f, Shell: &fibres.Subject{Cloth: c}})
	for _, x := range a.choices(j, "seam", 0) {
		if x.ID == seam {
			return x
		}
	}
	t.Fatalf("no seam %s", seam)
	return Choice{}
}

func TestStatementsOfNamedCloths(t *testing.T) {
	a := adviser(t)
	counted := map[string]int{}
	for _, s := range statements(t) {
		for _, c := range meant(t, a, s.fabric) {
			name := s.property + "/" + c.ID
			check := func(f func(t *testing.T)) {
				counted[s.property]++
				t.Run(name, func(t *testing.T) {
					t.Log(s.source + ": " + s.text)
					f(t)
				})
			}
			switch s.property + " " + s.expected {
			case "fray none":
				check(func(t *testing.T) { require.Equal(t, 0.0, level(t, a, c, fibres.Fray).Typical) })
			case "fray low":
				check(func(t *testing.T) { require.LessOrEqual(t, level(t, a, c, fibres.Fray).Typical, 1.0) })
			case "fray high":
				check(func(t *testing.T) {
					e := level(t, a, c, fibres.Fray)
					require.Equal(t, 3.0, e.Typical, e.Say())
					require.GreaterOrEqual(t, e.Low, 2.0, e.Say())
				})
			case "lining-use yes":
				check(func(t *testing.T) {
					if c.Era == "" {
						require.Contains(t, a.Linings(), c, "%s is not offered as a lining", c.ID)
						return
					}
					// what nobody sells today is not offered, but is told to be a lining
					require.Contains(t, strings.Join(c.UsedFor, "; "), "lining", c.ID)
					require.NotContains(t, a.Linings(), c, c.ID)
				})
			case "weight light":
				check(func(t *testing.T) { require.LessOrEqual(t, level(t, a, c, fibres.Mass).Typical, 150.0) })
			case "weight medium":
				check(func(t *testing.T) {
					e := level(t, a, c, fibres.Mass)
					require.True(t, e.Typical <= 300 && e.Typical >= 130, e.Say())
				})
			case "weight heavy":
				check(func(t *testing.T) { require.GreaterOrEqual(t, level(t, a, c, fibres.Mass).Typical, 200.0) })
			case "hand soft":
				check(func(t *testing.T) { // the word is in the range, and no more than moderate is usual
					e := level(t, a, c, fibres.Hand)
					require.LessOrEqual(t, e.Low, 1.0, e.Say())
					require.LessOrEqual(t, e.Typical, 2.0, e.Say())
				})
			case "hand stiff", "hand crisp":
				check(func(t *testing.T) { require.GreaterOrEqual(t, level(t, a, c, fibres.Hand).Typical, 3.0) })
			case "drape fluid":
				check(func(t *testing.T) { require.Less(t, level(t, a, c, fibres.BendingLength).Typical, 1.75) })
			case "stretch high":
				check(func(t *testing.T) { require.GreaterOrEqual(t, level(t, a, c, fibres.Stretch).Typical, 2.0) })
			case "crease high":
				check(func(t *testing.T) { require.GreaterOrEqual(t, level(t, a, c, fibres.Crease).Typical, 2.5) })
			case "nap up":
				check(func(t *testing.T) { require.Equal(t, 2.0, level(t, a, c, fibres.Nap).Typical) })
			case "nap none":
				check(func(t *testing.T) { require.Equal(t, 0.0, level(t, a, c, fibres.Nap).Typical) })
			case "sheerness sheer":
				check(func(t *testing.T) { require.GreaterOrEqual(t, level(t, a, c, fibres.ShowThrough).Typical, 2.0) })
			case "shrink none":
				check(func(t *testing.T) { require.LessOrEqual(t, level(t, a, c, fibres.ShrinkWarp).Typical, 1.0) })
			case "use circular skirt":
				check(func(t *testing.T) {
					require.Equal(t, Suits, judgedFor(t, a, c, "full-circle-skirt", "single-layer-hem").verdict)
				})
			case "use gathered skirt":
				check(func(t *testing.T) {
					require.Equal(t, Suits, judgedFor(t, a, c, "gathered-skirt", "single-layer-hem").verdict)
				})
			case "use tailored suit":
				check(func(t *testing.T) {
					require.Equal(t, Suits, judgedFor(t, a, c, "tailored-jacket", "fused-front-tailored").verdict)
				})
			case "use wrap":
				check(func(t *testing.T) {
					require.Equal(t, Suits, judgedFor(t, a, c, "rectangular-wrap", "single-layer-hem").verdict)
				})
			case "seam French seam":
				check(func(t *testing.T) {
					require.Contains(t, offered(t, a, "seam", "blouse, single-layer-hem, shell "+c.ID), "french-seam")
				})
			case "seam-avoid flat-felled":
				check(func(t *testing.T) {
					require.Contains(t, []string{"against", "forbids"}, choice(t, a, c, "flat-felled-seam").Effect)
				})
			default:
				require.True(t, askedElsewhere(s), "%s %s is asked of nothing: %s", s.fabric, name, s.text)
			}
		}
		if len(meant(t, a, s.fabric)) == 0 {
			require.True(t, askedElsewhere(s), "%s names no cloth: %s", s.fabric, s.text)
		}
	}
	for _, p := range []string{"fray", "lining-use", "weight", "hand", "use", "seam", "seam-avoid", "nap"} {
		require.NotZero(t, counted[p], "no statement on %s was checked", p)
	}
	require.Greater(t, counted["fray"], 12)
	require.Greater(t, counted["lining-use"], 10)
}
