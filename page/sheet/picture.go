package sheet

import (
	"html/template"
	"sync"

	"tenter/advise"
	"tenter/fibres"
	"tenter/page/picture"
	"tenter/page/words"
)

// onceScales keeps the common scales of all properties.
type onceScales struct {
	sync.Once
	by [fibres.NumProperties]picture.Ruler
}

// ruler is the common scale of a property.
func (k *Site) ruler(p fibres.Property) picture.Ruler {
	k.scales.Do(func() {
		for p, span := range k.Adv.Cat.Spans() {
			k.scales.by[p] = picture.RulerOf(span, fibres.Property(p))
		}
	})
	return k.scales.by[p]
}

// Hang hangs the edge of a make-up, ready to be drawn; nil where nothing is known of it.
func (k *Site) Hang(m advise.MakeUp, f *advise.Fall) *picture.Hung {
	return picture.Hang(k.Adv, m, f)
}

// PieceSVG draws a piece as its parts.
func (k *Site) PieceSVG(p *advise.Piece, label string) template.HTML {
	return picture.Piece(p, k.Parts(p), label)
}

// NeedSVG draws what a make-up has against what a demand asks.
func (s *Sheet) NeedSVG(d advise.Asked) template.HTML { return picture.Need(s.Units, d) }

// stitches draws a share as a row of ten stitches.
func stitches(share float64) template.HTML { return picture.Stitches(words.Tenths(share)) }
