package making

import (
	"html/template"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/page/sheet"
)

// FinishCard is a finish, drawn.
type FinishCard struct {
	sheet.Link
	Lined   bool
	Picture template.HTML
	Choose  string
	Chosen  bool
	Usual   bool   // for the piece
	Unfit   string // why it does not go with the piece; "" where it does
}

// finishes ranks the finishes for the piece: the usual ones first, then what can be
// done besides, and apart from them what does not go with it.
func (v *View) finishes() {
	usual := usualFinishes[v.Made.Piece.Group]
	place := func(id string) int {
		if i := slices.Index(usual, id); i >= 0 {
			return i
		}
		return len(usual)
	}
	for _, f := range v.Adv.Finishes {
		l, _ := v.Link("finish", f.ID)
		c := FinishCard{Link: l, Lined: f.Lined, Picture: sheet.FinishSVG(f, ""), Choose: v.With(sheet.KeyFinish, f.ID, sheet.KeyStep, ""),
			Chosen: v.Made.Finish == f, Usual: place(f.ID) < len(usual), Unfit: unfit(v.Made.Piece, f)}
		if c.Unfit != "" {
			v.Unfit = append(v.Unfit, c)
		} else {
			v.Finishes = append(v.Finishes, c)
		}
	}
	slices.SortStableFunc(v.Finishes, func(x, y FinishCard) int { return place(x.ID) - place(y.ID) })
}

// usualFinishes are the finishes most used for the pieces of a group, the commonest
// first: common practice.
var usualFinishes = map[string][]string{
	"wrap":      {"single-layer-hem", "bagged-lining", "single-layer-rolled-hem", "single-layer-bound-edge", "double-faced"},
	"cape":      {"bagged-lining", "single-layer-bound-edge", "dropped-in-lining", "single-layer-hem", "interlined"},
	"cowl":      {"single-layer-rolled-hem", "single-layer-bound-edge", "bagged-lining", "self-lined"},
	"sash":      {"self-lined", "bagged-lining", "single-layer-hem"},
	"hanging":   {"single-layer-hem", "cased-edge", "sides-lined", "interlined"},
	"skirt":     {"single-layer-hem", "dropped-in-lining", "faced-edge", "underlined"},
	"coat":      {"fused-front-tailored", "dropped-in-lining", "bagged-lining", "part-lined", "interlined"},
	"nightwear": {"single-layer-hem", "faced-edge", "single-layer-bound-edge"},
	"child":     {"single-layer-hem", "bagged-lining", "single-layer-bound-edge", "faced-edge"},
	"bag":       {"bagged-lining", "dropped-in-lining", "single-layer-hem", "single-layer-bound-edge"},
	"cushion":   {"envelope-closing", "piped-edge", "quilted"},
	"hood":      {"bagged-lining", "single-layer-bound-edge", "faced-edge", "single-layer-hem"},
	"petticoat": {"single-layer-hem", "single-layer-rolled-hem", "faced-edge"},
	"ruffle":    {"single-layer-rolled-hem", "self-lined", "single-layer-hem", "single-layer-overlocked"},
	"bodice":    {"faced-edge", "bagged-lining", "underlined", "dropped-in-lining"},
	"tunic":     {"single-layer-hem", "faced-edge", "single-layer-bound-edge"},
	"trousers":  {"single-layer-hem", "dropped-in-lining", "underlined"},
	"apron":     {"single-layer-hem", "single-layer-bound-edge", "faced-edge", "bagged-lining"},
	"lining":    {"single-layer-hem"},
}

// unfit says why a finish does not go with a piece, from the shape of the piece:
// common practice. Cloth is not judged here.
func unfit(p *advise.Piece, f *advise.Finish) string {
	has := func(feature string) bool { return slices.Contains(p.Features, feature) }
	switch f.ID {
	case "hood-lined-bound-edge":
		if !has("hood") || p.Support == "head" && p.Group == "hood" {
			return "it needs a body with a hood"
		}
	case "envelope-closing":
		if p.Group != "cushion" || has("both faces show") {
			return "only the cover of a cushion closes so"
		}
	case "cased-edge":
		switch {
		case p.Wearer == "child" && (has("hood") || has("neck opening")):
			return "a cord at a child’s head or neck strangles"
		case p.Support != "rod" && p.Support != "waist" && !has("gathers") && !has("cord"):
			return "no rod, cord or elastic runs through it"
		}
	case "sides-lined":
		if p.Support != "rod" {
			return "only what hangs from a rod is lined so"
		}
	case "part-lined":
		if p.Support != "shoulder" || p.Group != "coat" && p.Group != "cape" && p.Group != "nightwear" {
			return "it has no shoulders and sleeves to line"
		}
	case "fused-front-tailored":
		if p.Group != "coat" {
			return "it has no tailored front"
		}
	case "quilted":
		if has("gathers") || has("pleats") || has("stretch fit") {
			return "quilted layers neither gather nor stretch"
		}
	case "interlined":
		if has("gathers") && p.Support != "rod" || has("stretch fit") || p.Group == "ruffle" {
			return "three layers neither gather nor stretch"
		}
	case "self-lined":
		if strings.HasSuffix(p.Shape, "circle") {
			return "a round edge has no fold to double on"
		}
	case "single-layer-rolled-hem":
		if has("load") {
			return "a rolled edge bears no load"
		}
	case "dropped-in-lining":
		if has("both faces show") {
			return "the inside shows, and a lining that hangs free with it"
		}
	}
	if p.Group == "lining" && f.Lined {
		return "it is a lining itself"
	}
	return ""
}
