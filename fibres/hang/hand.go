package hang

import (
	"slices"

	"tenter/fibres/units"
)

// Hand is how stiff a cloth hangs, in bands of the overall bending length.
type Hand int

// The bands, from the limpest. The zero value is not known.
const (
	UnknownHand Hand = iota
	Fluid            // under 1.25 cm
	Soft             // 1.25 to 1.75 cm
	Moderate         // 1.75 to 2.25 cm
	Firm             // 2.25 to 2.75 cm
	Crisp            // 2.75 to 3.5 cm
	Rigid            // 3.5 cm and more
)

var handNames = [...]string{"", "fluid", "soft", "moderate", "firm", "crisp", "rigid"}

// handEdges are the bending lengths in cm at which a band begins, Fluid at 0; the
// last is where bands end. Shares of 251 measured cloths: 8, 31.5, 33.5, 20.3, 6
// and 0.8 %.
var handEdges = [...]units.Length{0, 1.25, 1.75, 2.25, 2.75, 3.5, 9}

// String returns the band's word, or "" where it is not known.
func (h Hand) String() string {
	if h < 0 || int(h) >= len(handNames) {
		return ""
	}
	return handNames[h]
}

// Hands returns the words of the bands, from the limpest.
func Hands() []string { return slices.Clone(handNames[1:]) }

// Band returns the band a bending length lies in; an edge belongs to the band
// above it.
//
// Given: the overall bending length.
//
// Valid: over 0; UnknownHand for NaN, 0 and less.
// Accuracy: the edges are a proposal, set so that the trade's words fall where
// makers would put them; nobody has measured what is called crisp.
// Errors: none.
// Source: own judgement on an open set of 251 measured cloths (Feng and others 2022).
// Checked: reference_test.go, TestBandShares.
func Band(c units.Length) Hand {
	if !(c > 0) {
		return UnknownHand
	}
	h := Fluid
	for i := 1; i < len(handEdges)-1 && c >= handEdges[i]; i++ {
		h = Hand(i + 1)
	}
	return h
}

// BandRange returns the bending lengths of a band. Both are 0 for UnknownHand.
// The end of Rigid, 9 cm, is a convention: stiff nonwovens reach it.
func BandRange(h Hand) (low, high units.Length) {
	if h < Fluid || h > Rigid {
		return 0, 0
	}
	return handEdges[h-1], handEdges[h]
}
