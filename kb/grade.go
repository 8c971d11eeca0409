package kb

import (
	"math"
	"strings"
	"sync"

	"tenter/fibres"
)

// A grade is one thing that can be said of a cloth by its estimates: "fray at
// most low", "group lining". The index holds each grade that holds for a cloth
// as one made-up word, so that what a maker asks of a cloth ("does not fray")
// is looked up in what is known, not in what happens to be written.

// GradeWord is the made-up word of a grade that others than cloths have: "topic
// needle", "price low".
func GradeWord(grade string) string { return gradeWord(grade) }

// OrderedGrades are the made-up words of a level of a scale, as a cloth has them.
func OrderedGrades(name string, scale fibres.Scale, at int) []string {
	var out []string
	for i, w := range scale {
		if i >= at {
			out = append(out, gradeWord(name+" at most "+w))
		}
		if i <= at {
			out = append(out, gradeWord(name+" at least "+w))
		}
	}
	return append(out, gradeWord(name+" "+scale[at]))
}

// gradeWord is the made-up word of a grade: its letters and figures.
func gradeWord(grade string) string {
	out := make([]byte, 0, len(grade))
	for i := range len(grade) {
		switch c := grade[i]; {
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
			out = append(out, c)
		case c >= 'A' && c <= 'Z':
			out = append(out, c+'a'-'A')
		}
	}
	return string(out)
}

// graded are the ordered properties that grades speak of.
var graded = fibres.Having(func(p *fibres.PropertyInfo) bool { return p.Levels != nil })

// massScale and shrinkScale put two figures into words. The limits of mass are
// those of the needle table; those of shrinkage are common practice.
var (
	massScale   = fibres.Scale{"very light", "light", "medium", "medium heavy", "heavy", "very heavy"}
	massBelow   = []float64{70, 120, 220, 320, 600, math.Inf(1)}
	shrinkScale = fibres.Scale{"none", "low", "medium", "high"}
	shrinkBelow = []float64{1.01, 3.01, 6.01, math.Inf(1)}
)

func band(v float64, below []float64) int {
	for i, b := range below {
		if v < b {
			return i
		}
	}
	return len(below) - 1
}

// atLevels are the grades of a property at each of its levels, written once: hundreds of
// cloths share them.
func atLevels(name string, scale fibres.Scale) [][]string {
	all := make([][]string, len(scale))
	for at := range scale {
		for i, w := range scale {
			if i >= at {
				all[at] = append(all[at], name+" at most "+w)
			}
			if i <= at {
				all[at] = append(all[at], name+" at least "+w)
			}
		}
		all[at] = append(all[at], name+" "+scale[at])
	}
	return all
}

var (
	gradesOf = sync.OnceValue(func() map[fibres.Property][][]string {
		all := map[fibres.Property][][]string{}
		for _, p := range graded {
			all[p] = atLevels(p.String(), p.Scale())
		}
		return all
	})
	massGrades   = sync.OnceValue(func() [][]string { return atLevels("mass", massScale) })
	shrinkGrades = sync.OnceValue(func() [][]string { return atLevels("shrink", shrinkScale) })
)

// grades lists what holds for a cloth at the typical levels of its estimates.
func grades(s *fibres.Sample, c *fibres.Cloth) []string {
	out := make([]string, 0, 128)
	of := gradesOf()
	for _, p := range graded {
		if typical, known := s.Typical(p); known {
			out = append(out, of[p][int(typical)]...)
		}
	}
	if mass, known := s.Typical(fibres.Mass); known {
		out = append(out, massGrades()[band(mass, massBelow)]...)
	}
	warp, inWarp := s.Typical(fibres.ShrinkWarp)
	weft, inWeft := s.Typical(fibres.ShrinkWeft)
	if inWarp && inWeft {
		out = append(out, shrinkGrades()[band(math.Max(warp, weft), shrinkBelow)]...)
	}
	out = append(out, "group "+c.Group, "class "+c.Structure.Class, "structure "+c.Structure.ID)
	for _, t := range c.Treatments {
		out = append(out, "treatment "+t.ID)
	}
	for _, p := range c.Content {
		if p.Share.Typical >= 20 {
			out = append(out, "fibre "+p.Fibre.ID, "family "+p.Fibre.Family)
		}
	}
	return out
}

// isGrade tells whether words are meant as a grade: they begin with the name of a
// sort, or with that of a property and go on with one of its levels ("flame burns",
// "fray at most low", and not "flame retardant").
func isGrade(s string) bool {
	first, rest, _ := strings.Cut(s, " ")
	switch first {
	case "mass", "shrink", "group", "class", "structure", "treatment", "fibre", "family", "price", "ease":
		return strings.Contains(s, " ")
	}
	for _, p := range graded {
		if first == p.String() {
			_, level := p.Scale().Level(rest)
			return level || strings.HasPrefix(rest, "at most ") || strings.HasPrefix(rest, "at least ")
		}
	}
	return false
}

// behaviour says a cloth's grades in plain words, one for each level, for those who
// ask in these very words.
func behaviour(s *fibres.Sample) []string {
	var out []string
	for _, p := range graded {
		if typical, known := s.Typical(p); known {
			out = append(out, fibres.Properties[p].Levels[int(typical)])
		}
	}
	if mass, known := s.Typical(fibres.Mass); known {
		out = append(out, massScale[band(mass, massBelow)]+" weight")
	}
	return out
}
