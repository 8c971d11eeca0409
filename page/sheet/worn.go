package sheet

import (
	"fmt"
	"html"
	"html/template"
	"net/url"
	"strings"

	"tenter/advise"
	"tenter/draw/worn"
)

// WornPath is where pictures of pieces worn are had.
const WornPath = "/fall.png"

func wornImage(piece string, class float64, side, alt, kind string, wide int) string {
	at := WornPath + "?" + url.Values{"piece": {piece}, "c": {fmt.Sprint(class)}, "side": {side}}.Encode()
	return fmt.Sprintf(`<img class="%s" src="%s" width="%d" height="%d" loading="lazy" alt="%s">`, kind, html.EscapeString(at), wide, worn.Tall, html.EscapeString(alt))
}

// wornRow is the piece in the limp, the typical and the stiff cloth of the name side by side, one
// where they are of one class, and the typical one to be turned.
func wornRow(m advise.MakeUp, f *advise.Fall) *Drawing {
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
	last := 0.0
	for _, x := range []struct {
		word string
		c    float64
	}{{"limp end", f.Bending.Low}, {"typical", f.Bending.Typical}, {"stiff end", f.Bending.High}} {
		class, ok := worn.Class(piece, x.c)
		if !ok || class == last {
			continue
		}
		last = class
		fmt.Fprintf(&b, `<span>%s<br><span class="small">%s, as c %.1f cm</span></span>`, wornImage(piece, class, "0", name+" in the "+x.word+" of the name, computed", "worn", worn.Wide), x.word, class)
		fmt.Fprintf(&words, "%s: computed for a bending length of %.1f cm. ", Upper(x.word), class)
	}
	b.WriteString(`</div><details class="turn"><summary>turn it</summary><div class="turning" tabindex="0" role="group" aria-label="from eight sides">`)
	b.WriteString(wornImage(piece, typical, "all", name+" seen from all sides", "turns", worn.Wide*worn.Turns))
	b.WriteString(`</div></details>`)
	return &Drawing{SVG: template.HTML(b.String()), Wide: true,
		Caption: "A computed fall, no photograph: the usual measures, in cloth of about this bending length. Folds are one of several arrangements.",
		Text:    words.String() + "tenter drape computes it in your own measures."}
}
