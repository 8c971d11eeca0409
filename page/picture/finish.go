package picture

import (
	"fmt"
	"html/template"

	"tenter/advise"
)

// section draws a cut through the edge of a finish: the shell thick, what lies on it
// thin, stitching as dashes.
type section struct{ pic }

func (s *section) line(class, d string) {
	fmt.Fprintf(s, `<path class="layer %s" d="%s"/>`, class, d)
}
func (s *section) shell(d string)   { s.line("shell", d) }
func (s *section) lining(d string)  { s.line("lining", d) }
func (s *section) binding(d string) { s.line("binding", d) }
func (s *section) sewn(d string)    { fmt.Fprintf(s, `<path class="sewn" d="%s"/>`, d) }

// wadding is a soft layer between: a row of loops.
func (s *section) wadding(x, y, to int) {
	d := fmt.Sprintf("M%d %d", x, y)
	for ; x < to; x += 8 {
		d += "q2 -6 4 0t4 0"
	}
	s.line("wadding", d)
}

// fused is what is glued or caught to the shell.
func (s *section) fused(d string) { s.line("fused", d) }

// cord is a cord seen from its end.
func (s *section) cord(x, y, r int) {
	fmt.Fprintf(s, `<circle class="cord" cx="%d" cy="%d" r="%d"/>`, x, y, r)
}

// word names what a picture alone would not tell.
func (s *section) word(x, y int, anchor, words string) {
	s.text(fmt.Sprint(x), fmt.Sprint(y), "tick", anchor, words)
}

// gap shows that two layers hang free of each other.
func (s *section) gap(x, from, to int) {
	fmt.Fprintf(s, `<path class="free" d="M%d %dV%dm-3 3l3 -3 3 3M%d %dm-3 -3l3 3 3 -3"/>`, x, to, from, x, to)
}

// Finish draws a cut through the edge of a finish. The finishes of the reference
// each have a drawing of their own; one of the user's own is drawn by what is
// recorded of its edge and layers.
func Finish(f *advise.Finish, label string) template.HTML {
	var s section
	s.open("section", `viewBox="0 0 168 84"`, label)
	if drawn := finishes[f.ID]; drawn != nil {
		drawn(&s)
	} else {
		byEdge(&s, f)
	}
	return s.close()
}

const hemOnce = "M4 26H140Q150 26 150 33T140 40H104Q99 40 99 37T104 34H120"

var finishes = map[string]func(*section){
	"single-layer-hem": func(s *section) {
		s.shell(hemOnce)
		s.sewn("M108 18V46")
	},
	"single-layer-bound-edge": func(s *section) {
		s.shell("M4 34H134")
		s.binding("M112 26H144Q154 26 154 35T144 44H112")
		s.sewn("M120 20V50")
	},
	"single-layer-rolled-hem": func(s *section) {
		s.shell("M4 32H136C158 32 158 54 143 54S131 40 142 40S148 46 143 48")
		s.sewn("M134 24V58")
	},
	"single-layer-raw": func(s *section) {
		s.shell("M4 34H148M148 34l9 -5M148 34h11M148 34l9 5")
	},
	"single-layer-overlocked": func(s *section) {
		s.shell("M4 34H140")
		s.sewn("M118 24L126 44L134 24L142 44L150 24L150 44")
	},
	"hood-lined-bound-edge": func(s *section) {
		s.shell("M4 22H134")
		s.lining("M62 32H134")
		s.binding("M112 15H144Q155 15 155 27T144 39H112")
		s.sewn("M120 9V45")
		s.sewn("M66 16V38")
		s.word(34, 40, "middle", "body")
		s.word(92, 62, "middle", "hood, lined")
	},
	"faced-edge": func(s *section) {
		s.shell("M4 26H142Q152 26 152 32T142 38H134")
		s.lining("M62 44H142Q148 44 147 38M62 44l-6 -3")
		s.sewn("M138 18V50")
	},
	"self-lined": func(s *section) {
		s.shell("M164 24H22Q8 24 8 36T22 48H164")
		s.shell("M144 24H152Q158 24 158 30T150 34H136M144 48H152Q158 48 158 42T150 38H136")
		s.sewn("M146 18V54")
		s.word(18, 70, "middle", "fold")
	},
	"bagged-lining": func(s *section) {
		s.shell("M4 26H140Q152 26 152 32T140 36H118")
		s.lining("M4 48H140Q152 48 152 42T140 38H118")
		s.sewn("M136 18V56")
	},
	"dropped-in-lining": func(s *section) {
		s.shell("M12 18H140Q150 18 150 25T140 32H104Q99 32 99 29T104 26H120")
		s.lining("M12 52H112Q120 52 120 58T112 64H88Q84 64 84 61T88 58H98")
		s.sewn("M16 12V60M108 12V36M92 48V68")
		s.gap(62, 24, 47)
	},
	"underlined": func(s *section) {
		s.shell("M4 24H140Q152 24 152 33T140 42H104")
		s.lining("M4 29H138Q147 29 147 33T138 37H104")
		s.sewn("M28 18V36M62 18V36M108 16V48")
	},
	"quilted": func(s *section) {
		s.shell("M4 22H136")
		s.wadding(6, 34, 132)
		s.lining("M4 44H136")
		s.binding("M116 15H146Q156 15 156 33T146 51H116")
		s.sewn("M22 14V52M54 14V52M86 14V52M122 10V56")
	},
	"double-faced": func(s *section) {
		s.shell("M4 24H138Q148 24 148 29T138 33H112")
		s.shell("M4 48H138Q148 48 148 43T138 39H112")
		s.sewn("M149 27L154 36L149 45")
		s.word(40, 18, "middle", "right side")
		s.word(40, 64, "middle", "right side")
	},
	"fused-front-tailored": func(s *section) {
		s.shell("M4 20H140Q152 20 152 27T140 34H70")
		s.fused("M4 25H136")
		s.lining("M4 56H58Q70 56 70 48T78 40H92")
		s.sewn("M84 28V46")
		s.gap(30, 30, 52)
	},
	"bound-together": func(s *section) {
		s.shell("M4 28H134")
		s.lining("M4 39H134")
		s.binding("M112 20H144Q155 20 155 33T144 47H112")
		s.sewn("M120 14V53")
	},
	"filled-closed": func(s *section) {
		s.shell("M8 32C36 4 132 4 160 35H124M8 40C36 68 132 68 160 39H124M8 32H24M8 40H24")
		s.wadding(44, 24, 108)
		s.wadding(36, 37, 108)
		s.wadding(44, 50, 108)
		s.sewn("M146 28V46M138 25V49M14 26V46")
	},
	"envelope-closing": func(s *section) {
		s.shell("M4 58H164")
		s.shell("M4 20H104Q112 20 112 26T104 32H86")
		s.shell("M164 40H62Q54 40 54 34T62 28H78")
		s.sewn("M92 14V38M72 22V46")
		s.word(84, 78, "middle", "the two halves overlap")
	},
	"cased-edge": func(s *section) {
		s.shell("M4 40H104Q110 24 130 24Q152 24 152 42T130 60Q110 60 104 46H90")
		s.cord(130, 42, 11)
		s.sewn("M98 32V56")
		s.word(40, 70, "middle", "a tunnel")
	},
	"sides-lined": func(s *section) {
		s.shell("M12 22H146Q156 22 156 30T146 38H120")
		s.lining("M12 34H96Q104 34 104 40T96 46H82")
		s.sewn("M16 14V42M8 28H20M126 16V44M88 30V50")
		s.word(130, 62, "middle", "two hems")
	},
	"part-lined": func(s *section) {
		s.shell("M4 24H140Q150 24 150 31T140 38H106Q101 38 101 35T106 32H122")
		s.lining("M4 40H56Q64 40 64 46T56 52H46")
		s.sewn("M110 16V44M50 34V58")
		s.word(44, 70, "middle", "the top only")
	},
	"interlined": func(s *section) {
		s.shell("M4 18H140Q152 18 152 26T140 34H96")
		s.wadding(6, 30, 90)
		s.lining("M4 54H86Q96 54 96 47T104 40H118")
		s.sewn("M20 12V36M54 12V36M110 28V46")
		s.gap(36, 36, 50)
	},
	"piped-edge": func(s *section) {
		s.shell("M4 26H130Q140 26 140 31T130 34H112")
		s.lining("M4 48H130Q140 48 140 43T130 40H112")
		s.binding("M112 37H138Q142 28 152 28Q162 28 162 37T152 46Q142 46 138 38")
		s.cord(152, 37, 5)
		s.sewn("M134 18V56")
	},
}

// byEdge draws a finish of the user's own by its edge and its layers.
func byEdge(s *section, f *advise.Finish) {
	second := f.Lined || f.Layers > 1
	inner := s.lining
	if !f.Lined {
		inner = s.shell // lined with itself, or doubled
	}
	below := func(d string) {
		if second {
			inner(d)
		}
	}
	switch f.Edge {
	case "enclosed":
		s.shell("M4 26H140Q152 26 152 32T140 36H118")
		inner("M4 48H140Q152 48 152 42T140 38H118")
		s.sewn("M136 18V56")
	case "bound":
		s.shell("M4 30H134")
		below("M4 40H134")
		s.binding("M112 22H144Q155 22 155 35T144 48H112")
		s.sewn("M120 16V54")
	case "rolled":
		s.shell("M4 32H136C158 32 158 54 143 54S131 40 142 40S148 46 143 48")
		below("M4 62H120")
		s.sewn("M134 24V58")
	case "faced":
		s.shell("M4 26H142Q152 26 152 32T142 38H134")
		s.lining("M62 44H142Q148 44 147 38")
		below("M4 60H90")
		s.sewn("M138 18V50")
	case "overcast":
		s.shell("M4 34H140")
		below("M4 48H132")
		s.sewn("M118 24L126 44L134 24L142 44L150 24L150 44")
	case "raw":
		s.shell("M4 34H148M148 34l9 -5M148 34h11M148 34l9 5")
		below("M4 48H138")
	default: // hemmed
		s.shell(hemOnce)
		below("M4 58H110Q118 58 118 64T110 70H92")
		s.sewn("M108 18V46")
	}
	if f.Joined == "quilted" {
		s.sewn("M14 18V64M44 18V64M74 18V64")
	}
}
