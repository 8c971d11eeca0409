package sheet

import (
	"fmt"
	"html"
	"html/template"
	"runtime"
	"strings"

	"tenter/advise"
	advworn "tenter/advise/worn"
	"tenter/draw/worn"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/fall"
	"tenter/page/picture"
)

func wornImage(at, alt, kind string, wide int) string {
	return fmt.Sprintf(`<img class="%s" src="%s" width="%d" height="%d" loading="lazy" alt="%s">`, kind, html.EscapeString(at), wide, worn.Tall, html.EscapeString(alt))
}

// wornAt is the address of one picture of the table, in the colours of the make-up.
func wornAt(a address.Ask, m advise.MakeUp, class float64, side string) string {
	face, back := fall.Paints(m)
	return a.To(address.WornPath, address.KeyPiece, m.Piece.ID, address.KeyClass, fmt.Sprint(class), address.KeySide, side, address.KeyFace, fall.Hex(face), address.KeyBack, fall.Hex(back))
}

// CardPicture is the small picture of a make-up on a card: the piece worn in its typical cloth, where
// there is a picture of it, beside how its edge hangs. It needs a label where no words stand with it.
func (k *Site) CardPicture(a address.Ask, m advise.MakeUp, f *advise.Fall, behind *picture.Hung, label string) template.HTML {
	return k.wornOne(a, m, f) + k.Hang(m, f).SVG(a.Units, behind, label)
}

// wornOne is the typical cloth worn, "" where no picture of it is at hand. Words beside it tell what it
// shows.
func (k *Site) wornOne(a address.Ask, m advise.MakeUp, f *advise.Fall) template.HTML {
	if m.Piece == nil || f == nil || !f.Bending.Known() {
		return ""
	}
	class, ok := worn.Class(m.Piece.ID, f.Bending.Typical)
	if !ok {
		return ""
	}
	return template.HTML(wornImage(wornAt(a, m, class, "0"), "", "worn", worn.Wide))
}

// Worn is the piece in the limp, the typical and the stiff cloth of the name side by side, one where
// they are of one class, and the typical one to be turned; nil where it has no picture.
func (k *Site) Worn(a address.Ask, m advise.MakeUp, f *advise.Fall) *Drawing {
	if m.Piece == nil || f == nil || !f.Bending.Known() {
		return nil
	}
	piece, name := m.Piece.ID, m.Piece.Name
	typical, ok := worn.Class(piece, f.Bending.Typical)
	if !ok {
		return nil
	}
	var b, words strings.Builder
	b.WriteString(`<div class="worn-row">`)
	for _, x := range ofNames(piece, f) {
		fmt.Fprintf(&b, `<span>%s<br><span class="small">%s</span></span>`, wornImage(wornAt(a, m, x.class, "0"), name+" in the "+x.word+" of the name, computed", "worn", worn.Wide), x.word)
		fmt.Fprintf(&words, "%s: computed for a bending length of %.1f cm. ", prose.Upper(x.word), x.class)
	}
	b.WriteString(`</div>`)
	turning(&b, "turned", "turn it", wornAt(a, m, typical, address.AllSides), name+" seen from all sides", "")
	k.ownWorn(a, &b, m)
	caption := []string{"A computed fall, no photograph."}
	if doubt := k.Adv.PictureOf(piece).Doubt; doubt != "" {
		caption = append(caption, doubt)
	}
	if why := withheld(piece, f); why != "" {
		caption = append(caption, why)
	}
	return &Drawing{SVG: template.HTML(b.String()),
		Caption: strings.Join(caption, " "),
		Text:    words.String() + "The usual measures. Folds are one of several arrangements. tenter drape computes it finer, and on other forms."}
}

// withheld says which end of a name is not shown worn, and why; empty where all are.
func withheld(piece string, f *advise.Fall) string {
	for _, x := range []ofName{{"limp end", f.Bending.Low}, {"typical cloth", f.Bending.Typical}, {"stiff end", f.Bending.High}} {
		if why := worn.Withheld(piece, x.class); why != "" {
			return "Its " + x.word + " is not shown: " + why + "."
		}
	}
	return ""
}

// ofName is what of a name is of one class of the table.
type ofName struct {
	word  string
	class float64
}

// ofNames are the limp end, the typical cloth and the stiff end by their classes; what is of one
// class is told together.
func ofNames(piece string, f *advise.Fall) (out []ofName) {
	for _, x := range []ofName{{"limp end", f.Bending.Low}, {"typical", f.Bending.Typical}, {"stiff end", f.Bending.High}} {
		class, ok := worn.Class(piece, x.class)
		switch last := len(out) - 1; {
		case !ok:
		case last >= 0 && out[last].class == class:
			out[last].word += ", " + x.word
		default:
			out = append(out, ofName{x.word, class})
		}
	}
	return out
}

// turning shows one of all sides at a time: by itself, or the side that is chosen, with the arrow keys
// too. It needs no script.
func turning(b *strings.Builder, name, word, at, alt, note string) {
	fmt.Fprintf(b, `<details class="turn"><summary>%s</summary><fieldset class="turning"><legend class="hidden">seen from</legend><div>`, word)
	b.WriteString(wornImage(at, alt, "turns", worn.Wide*worn.Turns))
	b.WriteString(`</div>`)
	for side := range worn.Turns + 1 {
		says, checked := fmt.Sprint(side), ""
		if side == 0 {
			says, checked = "by itself", " checked"
		}
		fmt.Fprintf(b, `<label><input type="radio" form="none" name="%s" value="%d"%s>%s</label>`, name, side, checked, says)
	}
	b.WriteString(`</fieldset>`)
	if note != "" { // in words of its own: what stands for a missing picture is cut off at the frame
		fmt.Fprintf(b, `<p class="small">%s</p>`, note)
	}
	b.WriteString(`</details>`)
}

// ownWorn offers the make-up in its own measures: the picture is computed when the part is opened, for a
// browser asks for no picture before. A phone computes none, since it would answer nothing else meanwhile.
func (k *Site) ownWorn(a address.Ask, b *strings.Builder, m advise.MakeUp) {
	if runtime.GOOS == "js" || k.Clearable || m.Shell == nil || !advworn.Shows(m.Piece.ID) {
		return
	}
	turning(b, "own-turned", "in your own measures, some 10 s", a.To(address.WornPath, append(a.Kept(), address.KeyOwn, address.Yes)...),
		m.Piece.Name+" in your own measures", "No picture after a minute? It would mislead, or takes too long.")
}
