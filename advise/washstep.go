package advise

import (
	"slices"
	"strings"

	"tenter/fibres"
)

// felts reports whether a wash felts a cloth, by what a fifth or more of it is made of.
func felts(s *fibres.Subject) bool {
	const part = 20
	return slices.ContainsFunc(s.Made(), func(p fibres.Part) bool { return p.Fibre != nil && p.Fibre.Felts > 0 && p.Share.Typical >= part })
}

// keptDry reports whether a cloth is neither washed nor steamed, since what it was treated
// with runs.
func keptDry(s *fibres.Subject) bool {
	k := s.Named()
	return k != nil && slices.ContainsFunc(k.Treatments, func(t *fibres.Treatment) bool { return t.KeptDry })
}

// firstStep is what a finish says of the washing before cutting; "" where it says
// nothing, or there is no finish.
func (f *Finish) firstStep() string {
	if f != nil {
		for _, s := range f.Steps {
			if s.ID == "pre-wash" {
				return s.Say
			}
		}
	}
	return ""
}

// washStep lets the first step of the work say what each cloth takes, where the
// finish's own words stand: a velvet is steamed while its lining is washed, and wool
// is washed by hand.
func washStep(steps []OrderStep, usual string, cloths []PreWash) []OrderStep {
	i := slices.IndexFunc(steps, func(s OrderStep) bool { return s.Step == "pre-wash" })
	if i < 0 || steps[i].Say != usual || len(cloths) == 0 {
		return steps
	}
	again := "Measure it again."
	if len(cloths) > 1 {
		again = "Measure them again."
	}
	var say []string
	if alike(cloths) {
		what, it := "the cloth", "it"
		switch {
		case len(cloths) > 2:
			what, it = "all cloths", "them"
		case len(cloths) == 2:
			what, it = "both cloths", "them"
		}
		say = []string{cloths[0].step(what, it)}
	} else {
		for _, w := range cloths {
			say = append(say, w.step("the "+w.Layer, "it"))
		}
	}
	steps[i].Say = strings.Join(append(say, again), " ")
	if slices.ContainsFunc(cloths, func(w PreWash) bool { return w.Method == "steam" }) {
		return slices.DeleteFunc(steps, func(s OrderStep) bool { return s.Step == "steam-shell" })
	}
	return steps
}

func alike(cloths []PreWash) bool {
	return !slices.ContainsFunc(cloths, func(w PreWash) bool { return w.Method != cloths[0].Method || w.Times != cloths[0].Times })
}

// step says in a sentence what is done to a cloth before it is cut.
func (w PreWash) step(what, it string) string {
	switch w.Method {
	case "test first":
		return "Wash a swatch of " + what + " first."
	case "leave":
		return "Leave " + what + " as " + it + " is: neither wash nor steam."
	case "steam":
		return "Steam " + what + ", do not wash " + it + "."
	case "hand":
		return "Wash " + what + " by hand, cool, and dry " + it + " flat."
	}
	s := "Wash and dry " + what
	if w.Times > 1 {
		s += " twice"
	}
	if w.Method == "hot" {
		return s + ", as you will the piece."
	}
	return s + ", " + w.Method + " at most."
}
