package draw

import (
	"image/color"
	"strings"
)

// The colours of a piece worn where nothing is said of its cloth: its face, and the lining.
var (
	UsualFace   = color.RGBA{0x8e, 0x3b, 0x46, 255}
	UsualLining = color.RGBA{0xd8, 0xb8, 0x71, 255}
)

// hues are the colours that a word stands for, for telling cloths apart: no dye is matched. Black is
// not quite, since folds could not be seen in it.
var hues = map[string]color.RGBA{
	"red": {0xa8, 0x2a, 0x2e, 255}, "crimson": {0x9a, 0x1f, 0x38, 255}, "scarlet": {0xc0, 0x2f, 0x24, 255}, "burgundy": {0x6a, 0x22, 0x32, 255}, "wine": {0x6a, 0x22, 0x32, 255}, "maroon": {0x66, 0x24, 0x28, 255},
	"pink": {0xda, 0x8f, 0xa2, 255}, "rose": {0xc8, 0x70, 0x84, 255}, "orange": {0xcc, 0x74, 0x2e, 255}, "rust": {0x9c, 0x4c, 0x28, 255},
	"yellow": {0xd8, 0xb8, 0x40, 255}, "gold": {0xc0, 0x98, 0x40, 255}, "mustard": {0xb4, 0x8c, 0x30, 255}, "ochre": {0xb0, 0x80, 0x38, 255},
	"green": {0x3f, 0x73, 0x4c, 255}, "olive": {0x70, 0x70, 0x3c, 255}, "teal": {0x2c, 0x70, 0x74, 255}, "turquoise": {0x44, 0x98, 0x9c, 255},
	"blue": {0x3a, 0x5c, 0x94, 255}, "navy": {0x2c, 0x38, 0x60, 255}, "purple": {0x66, 0x40, 0x80, 255}, "violet": {0x70, 0x50, 0x94, 255}, "lilac": {0xa8, 0x90, 0xbc, 255},
	"brown": {0x70, 0x50, 0x38, 255}, "tan": {0xb0, 0x8c, 0x68, 255}, "beige": {0xcc, 0xbc, 0x9c, 255}, "cream": {0xe4, 0xd8, 0xbc, 255}, "ivory": {0xe6, 0xde, 0xc8, 255}, "natural": {0xd4, 0xc6, 0xa8, 255},
	"white": white, "silver": {0xb4, 0xb6, 0xba, 255}, "grey": {0x88, 0x8a, 0x8e, 255}, "gray": {0x88, 0x8a, 0x8e, 255}, "charcoal": {0x4a, 0x4c, 0x52, 255}, "black": {0x3a, 0x3a, 0x40, 255},
}

var white = color.RGBA{0xe4, 0xe4, 0xe0, 255}

// Paint is the colour that words mean, as light as is said besides (dark, mid, light, white); otherwise
// where they name none. Of several colours the last is the noun: blue-grey is a grey.
func Paint(words, lightness string, otherwise color.RGBA) color.RGBA {
	out := otherwise
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if c, ok := hues[w]; ok {
			out = c
		} else if lightness == "" && (w == "dark" || w == "light") {
			lightness = w
		}
	}
	switch lightness {
	case "white":
		return white
	case "dark":
		if int(out.R)+int(out.G)+int(out.B) < 3*0x48 { // folds must still be seen in it
			return out
		}
		return Mixed(out, color.RGBA{0x1c, 0x1c, 0x20, 255}, 0.45)
	case "light":
		return Mixed(out, white, 0.5)
	}
	return out
}

// Mixed is a colour with so much of another in it.
func Mixed(a, b color.RGBA, share float64) color.RGBA {
	mix := func(x, y uint8) uint8 { return uint8(float64(x)*(1-share) + float64(y)*share + 0.5) }
	return color.RGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 255}
}
