package units

import (
	"sort"
	"strings"
	"sync"
)

// spellings maps every way of writing a unit, normalised, to its meaning.
var spellings = sync.OnceValue(func() map[string]unit {
	m := map[string]unit{}
	add := func(k Kind, mul, div, zero float64, words ...string) {
		for _, w := range words {
			m[w] = unit{k, mul, div, zero}
		}
	}
	add(OfLength, 1, 10000, 0, "um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers")
	add(OfLength, 1, 10, 0, "mm", "millimetre", "millimetres", "millimeter", "millimeters")
	add(OfLength, 1, 1, 0, "cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters")
	add(OfLength, 10, 1, 0, "dm", "decimetre", "decimetres", "decimeter", "decimeters")
	add(OfLength, 100, 1, 0, "m", "metre", "metres", "meter", "meters")
	add(OfLength, 2.54, 1000, 0, "mil", "mils", "thou")
	add(OfLength, 2.54, 1, 0, "in", "ins", "inch", "inches", `"`)
	add(OfLength, 30.48, 1, 0, "ft", "foot", "feet", "'")
	add(OfLength, 91.44, 1, 0, "yd", "yds", "yard", "yards")

	// Every writing of "per square metre" with every writing of "gram".
	per := func(mul, div float64, masses, areas []string) {
		for _, g := range masses {
			for _, a := range areas {
				add(OfArealMass, mul, div, 0, g+"/"+a)
			}
		}
	}
	m2 := []string{"m2", "sqm", "sq m", "sq.m", "sq. m", "square metre", "square meter", "square metres", "square meters"}
	yd2 := []string{"yd2", "sqyd", "sq yd", "sq.yd", "sq. yd", "square yard", "square yards"}
	per(1, 1, []string{"g", "gm", "gms", "gram", "grams", "gramme", "grammes"}, m2)
	per(1000, 1, []string{"kg"}, m2)
	per(10, 1, []string{"mg"}, []string{"cm2", "sq cm"})
	ounce := float64(OuncePerSquareYard)
	per(ounce, 1, []string{"oz", "ozs", "ounce", "ounces"}, yd2)
	add(OfArealMass, 1, 1, 0, "gsm")
	add(OfArealMass, ounce, 1, 0, "oz", "ozs", "ounce", "ounces", "osy")
	add(OfArealMass, float64(MommeWeight), 1, 0, "momme", "mommes")

	add(OfTemperature, 1, 1, 0, "c", "°c", "° c", "deg c", "degc", "degree c", "degrees c", "celsius", "degrees celsius", "centigrade")
	add(OfTemperature, 5, 9, 32, "f", "°f", "° f", "deg f", "degf", "degree f", "degrees f", "fahrenheit", "degrees fahrenheit")

	add(OfPercent, 1, 1, 0, "%", "percent", "per cent", "pc", "pct")
	add(OfAngle, 1, 1, 0, "°", "deg", "degs", "degree", "degrees")
	add(OfAngle, 57.29577951308232, 1, 0, "rad", "radian", "radians")

	add(OfRigidity, 1, 1, 0, "un.m", "un m", "unm")
	add(OfRigidity, float64(MilligramCm), 1, 0, "mg.cm", "mg cm", "mgf.cm", "mgf cm")
	add(OfRigidity, float64(GramForceCm2PerCm), 1, 0, "gf.cm2/cm", "gf cm2/cm", "gf.cm", "gf cm")
	add(OfRigidity, 112984.8290276167, 1, 0, "lbf.in2/in", "lbf in2/in", "lbf.in", "lbf in")
	return m
})

// longestFirst is every spelling, longest first, so that "g/m2" is found before
// "g/m" and "mm" before "m".
var longestFirst = sync.OnceValue(func() []string {
	m := spellings()
	out := make([]string, 0, len(m))
	for s := range m {
		out = append(out, s)
	}
	sort.Slice(out, func(i, j int) bool {
		if len(out[i]) != len(out[j]) {
			return len(out[i]) > len(out[j])
		}
		return out[i] < out[j]
	})
	return out
})

// normalise lowers the case and turns the typographer's signs into the typist's:
// one kind of quotation mark, dash, slash, space, and fractions as a/b.
func normalise(s string) string {
	s = signs().Replace(strings.ToLower(strings.TrimSpace(s)))
	s = strings.Join(strings.Fields(s), " ")
	if strings.Contains(s, "/") || strings.Contains(s, "per ") {
		s = strings.ReplaceAll(s, " per cent", " percent")
		s = strings.ReplaceAll(s, " per ", "/")
		s = strings.ReplaceAll(strings.ReplaceAll(s, " /", "/"), "/ ", "/")
	}
	return s
}

var signs = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer(
		"\u00a0", " ", "\u2009", " ", "\u202f", " ",
		"²", "2", "^2", "2",
		"′", "'", "’", "'", "‘", "'",
		"″", `"`, "”", `"`, "“", `"`, "''", `"`,
		"⁄", "/", "·", ".", "⋅", ".",
		"–", "-", "—", "-", "‒", "-", "‐", "-", "‑", "-", "−", "-",
		"º", "°", "µ", "u", "μ", "u", "℃", "°c", "℉", "°f",
		"…", "..",
		"½", " 1/2 ", "¼", " 1/4 ", "¾", " 3/4 ", "⅓", " 1/3 ", "⅔", " 2/3 ",
		"⅛", " 1/8 ", "⅜", " 3/8 ", "⅝", " 5/8 ", "⅞", " 7/8 ",
	)
})
