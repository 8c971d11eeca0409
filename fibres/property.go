package fibres

// Property is one measurable or gradable thing about a cloth.
type Property int

// The properties of a cloth. Shrinkage is of the first wash.
const (
	Mass Property = iota
	BendingLength
	BendingLengthWarp
	BendingLengthWeft
	BendingLengthBias
	Hand
	Thickness
	Fray
	Stretch
	ShowThrough
	ShrinkWarp
	ShrinkWeft
	PressingLimit
	Nap
	Slip
	Crease
	Wash
	Width
	NumProperties
)

// Scale is the ordered words of a property that is graded, not measured. A
// level is its index.
type Scale []string

// The scales. Each runs from least to most.
var (
	FrayScale        = Scale{"none", "low", "medium", "high"}
	StretchScale     = Scale{"none", "low", "medium", "high"}
	ShowThroughScale = Scale{"none", "low", "medium", "high"}
	SlipScale        = Scale{"none", "low", "medium", "high"}
	CreaseScale      = Scale{"none", "low", "medium", "high"}
	NapScale         = Scale{"none", "one-way", "pile"}
	WashScale        = Scale{"dry-clean", "hand", "cool", "warm", "hot"}
	HandScale        = Scale{"fluid", "soft", "moderate", "firm", "crisp", "rigid"}
	FeltsScale       = Scale{"no", "slow", "yes"}
	LightnessScale   = Scale{"dark", "mid", "light", "white"}
)

// Level returns the index of word, and whether it is on the scale.
func (s Scale) Level(word string) (int, bool) {
	for i, w := range s {
		if w == word {
			return i, true
		}
	}
	return 0, false
}

// Word returns the word of the level nearest to v; v outside the scale takes
// its end.
func (s Scale) Word(v float64) string {
	i := int(v + 0.5)
	return s[max(0, min(i, len(s)-1))]
}

// PropertyInfo is one row of the table of properties, and all that is said of a
// property anywhere: the loader, the facts of the rules, the grades of the search,
// the words of swatches, the schema of the data and its check are read off it.
// TestEveryPropertyIsWhole refuses a row with a gap.
type PropertyInfo struct {
	ID, Name  string
	Doc       string  // what it is, in a phrase
	Unit      string  // of a figure; "" where it is graded
	Scale     Scale   // of a grade; nil where it is measured
	Low, High float64 // sane range of a figure, in Unit

	Test string // the home test that settles it, see [Tests]

	File, Stem string     // the fact file, and the stem of its _low, _typical, _high columns; "" where it is only derived
	Row        string     // what its rows are filed under where the file holds several properties, see [sharedFiles]
	Of         []string   // what besides a cloth a row of the file may be of: structure, fibre
	Derive     Derivation // how it is worked out where no row gives it for the cloth
	Dated      bool       // a book of before 1960 ranks last: the cloth sold under the name has changed since
	OfFibre    bool       // it follows the fibres more than the name: a label with other fibres overrules the name's rows

	Levels   []string  // what is said of a cloth at each level, for the search; as many as Scale
	Ruled    bool      // rules and demands may ask it of a layer: shell.ID, lining.ID
	Compared [2]string // said of a swatch that has more, less of it than others of its name: "heavier", "lighter"
	Failing  [2]string // said of a layer that has too little, too much of it: "too light", "too heavy"
}

// Derivation is how a property is worked out of a cloth's parts. What structure
// and treatments do to it (effects.csv) comes on top.
type Derivation int

// The derivations.
const (
	NotDerived        Derivation = iota
	FromStructure                // the row of the structure
	FromFibres                   // the mean of the fibres' rows, weighted by content
	FromTenderest                // the least of the parts' limits: a blend is washed as its tenderest fibre
	FromShrinkage                // the structure's row, or the fibres' planning ranges
	FromBulk                     // mass over the bulk of the structure
	FromHand                     // the predictor of bending length, see [Catalogue.predictBending]
	FromBendingLength            // the band that the bending length lies in
)

var derivationWords = [...]string{"–", "structure", "fibres, by content", "the tenderest part", "structure, else fibres",
	"mass over the structure's bulk", "hand, weave and treatments", "bending length"}

func (d Derivation) String() string { return derivationWords[d] }

var (
	ofStructure = []string{"structure"}
	ofFibres    = []string{"fibre"}
	ofBoth      = []string{"structure", "fibre"}
	stiffer     = [2]string{"stiffer", "limper"}
	hangs       = [2]string{"too limp", "too stiff"}
	shrinksMore = [2]string{"shrinks more", "shrinks less"}
	shrinksOver = [2]string{"shrinks too little", "shrinks too much"}
)

// Properties describes every property, by index.
var Properties = [NumProperties]PropertyInfo{
	Mass: {ID: "mass", Name: "mass", Doc: "weight of a square metre", Unit: "g/m2", Low: 5, High: 2000, Test: "scale",
		File: "mass.csv", Stem: "mass_gsm", Dated: true, Ruled: true,
		Compared: [2]string{"heavier", "lighter"}, Failing: [2]string{"too light", "too heavy"}},
	BendingLength: {ID: "bending-length", Name: "bending length", Doc: "how stiff it hangs, of warp and weft together", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend overall", Derive: FromHand, Ruled: true, Compared: stiffer, Failing: hangs},
	BendingLengthWarp: {ID: "bending-length-warp", Name: "bending length, warp", Doc: "how stiff it hangs along the warp", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend warp", Derive: FromHand, Compared: stiffer, Failing: hangs},
	BendingLengthWeft: {ID: "bending-length-weft", Name: "bending length, weft", Doc: "how stiff it hangs along the weft", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend weft", Derive: FromHand, Compared: stiffer, Failing: hangs},
	BendingLengthBias: {ID: "bending-length-bias", Name: "bending length, bias", Doc: "how stiff it hangs on the bias", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend bias", Derive: FromHand, Compared: stiffer, Failing: hangs},
	Hand: {ID: "hand", Name: "hand", Doc: "what the trade calls its stiffness", Scale: HandScale, Test: "ruler-droop",
		File: "hand.csv", Stem: "hand", Of: ofStructure, Derive: FromBendingLength, Dated: true, Ruled: true, Compared: stiffer, Failing: hangs,
		Levels: []string{"fluid hand, drapes", "soft hand, drapes well", "moderate hand", "firm hand, body", "crisp hand, holds its shape", "rigid hand"}},
	Thickness: {ID: "thickness", Name: "thickness", Doc: "under a light book", Unit: "mm", Low: 0.02, High: 40, Test: "pile-of-ten",
		File: "thickness.csv", Stem: "thickness_mm", Derive: FromBulk, Dated: true, Ruled: true,
		Compared: [2]string{"thicker", "thinner"}, Failing: [2]string{"too thin", "too thick"}},
	Fray: {ID: "fray", Name: "fray", Doc: "how readily a cut edge loses threads", Scale: FrayScale, Test: "thumbnail-fray",
		File: "fray.csv", Stem: "fray", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"does not fray", "frays little", "frays", "frays badly"},
		Compared: [2]string{"frays more", "frays less"}, Failing: [2]string{"frays too little", "frays"}},
	Stretch: {ID: "stretch", Name: "stretch", Doc: "how far it gives across by hand", Scale: StretchScale, Test: "hand-stretch",
		File: "stretch.csv", Stem: "stretch", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"does not stretch", "gives a little", "stretches", "stretches very much"},
		Compared: [2]string{"stretches more", "stretches less"}, Failing: [2]string{"too little stretch", "stretches too much"}},
	ShowThrough: {ID: "show-through", Name: "show-through", Doc: "how much is seen through it", Scale: ShowThroughScale, Test: "black-edge",
		File: "show_through.csv", Stem: "show_through", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"opaque", "nearly opaque", "half sheer", "sheer"},
		Compared: [2]string{"shows more through", "shows less through"}, Failing: [2]string{"too opaque", "shows through"}},
	ShrinkWarp: {ID: "shrink-warp", Name: "shrink, warp", Doc: "loss along the warp in the first wash", Unit: "%", Low: 0, High: 40, Test: "wash-swatch",
		File: "shrinkage.csv", Stem: "shrinkage_pct", Row: "shrink warp wash", Of: ofBoth, Derive: FromShrinkage, OfFibre: true, Ruled: true, Compared: shrinksMore, Failing: shrinksOver},
	ShrinkWeft: {ID: "shrink-weft", Name: "shrink, weft", Doc: "loss along the weft in the first wash", Unit: "%", Low: 0, High: 40, Test: "wash-swatch",
		File: "shrinkage.csv", Stem: "shrinkage_pct", Row: "shrink weft wash", Of: ofBoth, Derive: FromShrinkage, OfFibre: true, Ruled: true, Compared: shrinksMore, Failing: shrinksOver},
	PressingLimit: {ID: "pressing-limit", Name: "pressing limit", Doc: "hottest safe sole plate", Unit: "C", Low: 0, High: 250, Test: "iron-scrap",
		File: "pressing.csv", Stem: "pressing_c", Of: ofBoth, Derive: FromTenderest, OfFibre: true, Ruled: true,
		Compared: [2]string{"takes more heat", "takes less heat"}, Failing: [2]string{"takes too little heat", "takes too much heat"}},
	Nap: {ID: "nap", Name: "nap", Doc: "whether it looks or feels different one way", Scale: NapScale, Test: "stroke",
		File: "nap.csv", Stem: "nap", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"without nap", "napped, one way", "with pile"},
		Compared: [2]string{"has more of a nap", "has less of a nap"}, Failing: [2]string{"has no nap", "has a nap"}},
	Slip: {ID: "slip", Name: "slip", Doc: "how it slides under knife, pin and foot", Scale: SlipScale, Test: "fold-and-slide",
		File: "slip.csv", Stem: "slip", Of: ofBoth, Derive: FromStructure, Ruled: true,
		Levels:   []string{"stays put", "slips little", "slippery", "very slippery"},
		Compared: [2]string{"slips more", "slips less"}, Failing: [2]string{"too rough", "too slippery"}},
	Crease: {ID: "crease", Name: "crease", Doc: "how badly it wrinkles in wear", Scale: CreaseScale, Test: "fist-crush",
		File: "crease.csv", Stem: "crease", Of: ofFibres, Derive: FromFibres, OfFibre: true, Ruled: true,
		Levels:   []string{"does not crease", "creases little", "creases", "creases badly"},
		Compared: [2]string{"creases more", "creases less"}, Failing: [2]string{"creases too little", "creases"}},
	Wash: {ID: "wash", Name: "hottest wash", Doc: "the hottest treatment it takes", Scale: WashScale, Test: "wash-swatch",
		File: "wash.csv", Stem: "wash", Of: ofBoth, Derive: FromTenderest, OfFibre: true, Ruled: true,
		Levels:   []string{"dry-clean only", "hand wash", "washable, cool", "washable, warm", "washable, hot"},
		Compared: [2]string{"takes a hotter wash", "takes a cooler wash"}, Failing: [2]string{"cannot take the washing", "made for a hotter wash"}},
	Width: {ID: "width", Name: "width sold", Doc: "from selvedge to selvedge", Unit: "cm", Low: 5, High: 1500, Test: "tape",
		File: "width.csv", Stem: "width_cm", Of: ofStructure, Derive: FromStructure, Dated: true,
		Compared: [2]string{"wider", "narrower"}, Failing: [2]string{"too narrow", "too wide"}},
}

// Having lists the properties whose row satisfies want, in the order of the table.
func Having(want func(*PropertyInfo) bool) []Property {
	var out []Property
	for p := range NumProperties {
		if want(&Properties[p]) {
			out = append(out, p)
		}
	}
	return out
}

// row is what the rows of a property are filed under.
func (i *PropertyInfo) row() string {
	if i.Row != "" {
		return i.Row
	}
	return i.ID
}

// Recorded reports whether a swatch can hold a reading of the property: whether its
// home test is one whose readings are kept.
func (i *PropertyInfo) Recorded() bool { return Tests[i.Test].Kind != "" }

func (p Property) String() string { return Properties[p].ID }

// Scale returns the property's words, or nil where it is measured in figures.
func (p Property) Scale() Scale { return Properties[p].Scale }

// PropertyByID finds a property by its id.
func PropertyByID(id string) (Property, bool) {
	for p := range NumProperties {
		if Properties[p].ID == id {
			return p, true
		}
	}
	return 0, false
}
