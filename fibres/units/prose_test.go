package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestProseIsToldByTheRuler(t *testing.T) {
	for was, want := range map[string]string{
		"Leave a gap of 15 to 20 cm in the seam.":          "Leave a gap of 6 to 8\" in the seam.",
		"Sew round the edge, 12 mm in.":                    "Sew round the edge, 1/2\" in.",
		"Sew round with the 12 mm allowance.":              "Sew round with the 1/2 in allowance.",
		"Trim to 6 mm for the shell and 3mm for the rest.": "Trim to 1/4 in for the shell and 1/8 in for the rest.",
		"Clip every 6 to 13 mm, within 2 mm of the seam.":  "Clip every 1/4 to 1/2 in, within 1/16 in of the seam.",
		"A piece of 30 by 50 cm.":                          "A piece of 12 by 19 1/2 in.",
		"A square of 10 cm by 10 cm.":                      "A square of 4 in by 4 in.",
		"A square of 20 by 20 cm.":                         "A square of 8 by 8 in.",
		"Cut 2 cm longer.":                                 "Cut 3/4 in longer.",
		"A strip of 3-4 cm.":                               "A strip of 1 1/8 to 1 5/8 in.",
		"At most 141 °C (one dot).":                        "At most 286 °F (one dot).",
		"The seams eat about 38 m, and 1.5 m more.":        "The seams eat about 42 yd, and 1 3/4 yd more.",
		"For cloth under 100 g/m2 or 140 g/m².":            "For cloth under 2.9 oz/yd² or 4.1 oz/yd².",
		"110 – 140 – 150 cm":                               "43 1/2 – 55 – 59 in",
		"130 – 150 – 150 °C":                               "266 – 302 – 302 °F",
		"Cut 12–12.2 mm wide.":                             "Cut 1/2 in wide.",
		"0.19 – 0.27 – 0.39 mm":                            "0.0075 – 0.011 – 0.015 in",
		"stitch 2.5–3 mm (8–10 to the inch)":               "stitch 8–10 to the inch",
		"A lead weight of 50 g, or 1.2 kg in all.":         "A lead weight of 1.8 oz, or 42 oz in all.",
		"density 1.54 g/cm3":                               "density 0.89 oz/in³",
		// what stays
		"grams for 100 cm² times 100":     "grams for 100 cm² times 100",
		"5 % and 30 tex":                  "5 % and 30 tex",
		"150gsm":                          "150gsm",
		"2 metres, 3 men, 4 mmHg, S12 mm": "2 metres, 3 men, 4 mmHg, S12 mm",
		"":                                "",
	} {
		require.Equal(t, want, Prose(was, Imperial))
		require.Equal(t, was, Prose(was, Metric), "metric stays as it is")
	}
}

func TestProseInBothSystems(t *testing.T) {
	for was, want := range map[string]string{
		"Leave a gap of 15 to 20 cm.":                   "Leave a gap of 15 to 20 cm (6 to 8 in).",
		"The edge stands 1.3 cm (1/2 in) out.":          "The edge stands 1.3 cm (1/2 in) out.",
		"Grade: shell 6 mm, lining 3 mm.":               "Grade: shell 6 mm (1/4 in), lining 3 mm (1/8 in).",
		"stitch 2.5–3 mm (8–10 to the inch)":            "stitch 2.5–3 mm (8–10 to the inch)",
		"two dots (150 °C), steam helps":                "two dots (150 °C, 302 °F), steam helps",
		"It weighs 120 to 150 g/m2 (3.5 to 4.4 oz/yd2)": "It weighs 120 to 150 g/m2 (3.5 to 4.4 oz/yd2)",
	} {
		require.Equal(t, want, Prose(was, Both))
		require.Equal(t, want, Prose(want, Both), "said twice it is said once")
	}
}
