// Package draw turns figures into pictures: how an edge falls, the folds round
// a hem, an edge cut through, a layout, cloths side by side. It looks nothing up
// and reads nothing.
//
// Every drawing function takes [Options] first and returns a [Picture]: a whole
// <svg> element that stands in HTML or alone in a file, with a title, a
// description, and the same in words for who cannot see it. Lengths are
// centimetres, thicknesses millimetres. A figure that cannot be drawn (zero,
// not a number) is a fault, never a broken picture.
//
// The markup uses no style attribute, no style element, no script and no font
// of its own, so it holds under a strict content security policy. All colour is
// currentColor, so ink follows the text round it; light and dark, dash and
// hatch tell things apart, and a picture reads the same printed in black. A
// style sheet may recolour by these classes:
//
//	tn-pic    the svg element; may be given max-width: 100%; height: auto
//	tn-ink    what is drawn: curves, outlines of layers and parts
//	tn-thin   what explains it: dimension lines, axes, leaders, plumb line
//	tn-shade  the filled range between low and high
//	tn-body   the shoulder, rod or board that stands by for scale
//	tn-text   lettering; tn-soft lettering of less weight
//	tn-shell, tn-lining, tn-inter, tn-bind   the layers of an edge cut through
//	tn-thread a stitch line
//	tn-part   a part on the cloth, tn-cloth the cloth below it
//	tn-own    the user's own swatch
//	tn-band   the bands of hand
//	tn-dot    a cloth on the map, tn-pale one that stands back, tn-spread the range of one
package draw
