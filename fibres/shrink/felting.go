package shrink

// Felts is how readily a fibre felts: whether its scales lock when it is wet,
// warm and moved.
type Felts int

// Of the fibres only scaled animal hair felts.
const (
	FeltsNo Felts = iota
	FeltsSlow
	FeltsYes
)

// FeltsWords is the scale in words, in the order of the constants.
var FeltsWords = []string{"no", "slow", "yes"}

// String is the word on the scale.
func (f Felts) String() string {
	if f < 0 || int(f) >= len(FeltsWords) {
		return "unknown"
	}
	return FeltsWords[f]
}

// FeltingNote says what wetting and rubbing do to a cloth beyond relaxing it, and
// is empty when there is nothing to say. moved means machine washing, tumbling,
// wringing or rubbing; steam and a still soak are not.
//
// That scaled hair felts under wet agitation, and that relaxing needs none, is
// published (teaching notes and an abstract on shrink-resist wool, both read). How
// much it loses is common practice: 10 to 30 % for untreated wool in a warm
// machine wash.
func FeltingNote(f Felts, moved bool) string {
	switch {
	case f == FeltsYes && moved:
		return "It felts as well as relaxes, and goes on with each wash: a warm machine wash may take 10 to 30 %, and more each time. Do not wash it so, or full it on purpose before cutting and measure again."
	case f == FeltsSlow && moved:
		return "It may felt slowly with each wash, beyond what the first one takes. Wash a swatch as often as the piece will be, and measure each time."
	case f == FeltsYes || f == FeltsSlow:
		return "Soak it still, or steam it: rubbing felts it."
	}
	return ""
}
