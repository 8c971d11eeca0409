package fibres

import "tenter/fibres/hang"

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
	Slide
	Reverse
	Rough
	Warmth
	Wind
	Water
	Sunfast
	Wear
	CreaseHolds
	Flame
	Lustre
	Drying
	Spring
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
	HandScale        = Scale(hang.Hands())
	SlideScale       = Scale{"none", "low", "medium", "high"}
	ReverseScale     = Scale{"no", "plain", "alike"}
	RoughScale       = Scale{"smooth", "soft", "slightly-scratchy", "scratchy"}
	WarmthScale      = Scale{"none", "low", "medium", "high"}
	WindScale        = Scale{"open", "airy", "close", "proof"}
	WaterScale       = Scale{"soaks", "slow", "sheds", "proof"}
	SunfastScale     = Scale{"low", "medium", "high"}
	WearScale        = Scale{"low", "medium", "high"}
	CreaseHoldsScale = Scale{"low", "medium", "high"}
	FlameScale       = Scale{"goes-out", "slow", "burns", "flares"}
	LustreScale      = Scale{"dull", "soft", "bright"}
	DryingScale      = Scale{"slow", "fair", "quick"}
	SpringScale      = Scale{"slack", "fair", "springy"}
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
	ByMass     [2]float64 // a cloth under, over these g/m2 has a step less, more of a grade that is derived; 0, 0: mass says nothing
	Follows    float64    // how closely it follows mass within the cloths of one name, as a correlation of normal scores
	Dated      bool       // a book of before 1960 ranks last: the cloth sold under the name has changed since
	OfFibre    bool       // it follows the fibres more than the name: a label with other fibres overrules the name's rows

	Levels   []string  // what is said of a cloth at each level, for the search; as many as Scale
	Ruled    bool      // rules and demands may ask it of a layer: shell.ID, lining.ID
	Says     string    // how a figure of it is said of a cloth, "weighs %s"; "" = it has a NAME of so much
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
	FromThickness                // the still air it holds, see [Catalogue.warmth]
	FromQuickest                 // the fibre that burns quickest, and how it stands up to air, see [Catalogue.flame]
	FromWater                    // the water it holds when wrung, see [Catalogue.drying]
	FromSpring                   // the fibres, and what elastane adds, see [Catalogue.spring]
	FromBendingLength            // the band that the bending length lies in
)

var derivationWords = [...]string{"–", "structure", "fibres, by content", "the tenderest part", "structure, else fibres",
	"mass over the structure's bulk", "hand, weave and treatments", "thickness", "the quickest fibre, nap and mass", "mass and the water its fibres hold", "fibres, by content, and elastane", "bending length"}

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
		Says: "weighs %s", Compared: [2]string{"heavier", "lighter"}, Failing: [2]string{"too light", "too heavy"}},
	BendingLength: {ID: "bending-length", Name: "bending length", Doc: "how stiff it hangs, of warp and weft together", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend overall", Derive: FromHand, Ruled: true, Says: "bends at %s", Compared: stiffer, Failing: hangs},
	BendingLengthWarp: {ID: "bending-length-warp", Name: "bending length, warp", Doc: "how stiff it hangs along the warp", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend warp", Derive: FromHand, Says: "bends at %s", Compared: stiffer, Failing: hangs},
	BendingLengthWeft: {ID: "bending-length-weft", Name: "bending length, weft", Doc: "how stiff it hangs along the weft", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend weft", Derive: FromHand, Says: "bends at %s", Compared: stiffer, Failing: hangs},
	BendingLengthBias: {ID: "bending-length-bias", Name: "bending length, bias", Doc: "how stiff it hangs on the bias", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop",
		File: "bending_length.csv", Stem: "bending_length_cm", Row: "bend bias", Derive: FromHand, Says: "bends at %s", Compared: stiffer, Failing: hangs},
	Hand: {ID: "hand", Name: "hand", Doc: "what the trade calls its stiffness", Scale: HandScale, Test: "ruler-droop",
		File: "hand.csv", Stem: "hand", Of: ofStructure, Derive: FromBendingLength, Dated: true, Ruled: true, Compared: stiffer, Failing: hangs,
		Levels: []string{"fluid hand, drapes", "soft hand, drapes well", "moderate hand", "firm hand, body", "crisp hand, holds its shape", "rigid hand"}},
	Thickness: {ID: "thickness", Name: "thickness", Doc: "under a light book", Unit: "mm", Low: 0.02, High: 40, Test: "pile-of-ten",
		File: "thickness.csv", Stem: "thickness_mm", Derive: FromBulk, Follows: 0.7, Dated: true, Ruled: true,
		Says: "is %s thick", Compared: [2]string{"thicker", "thinner"}, Failing: [2]string{"too thin", "too thick"}},
	Fray: {ID: "fray", Name: "fray", Doc: "how readily a cut edge loses threads", Scale: FrayScale, Test: "thumbnail-fray",
		File: "fray.csv", Stem: "fray", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"does not fray", "frays little", "frays", "frays badly"},
		Compared: [2]string{"frays more", "frays less"}, Failing: [2]string{"frays too little", "frays"}},
	Stretch: {ID: "stretch", Name: "stretch", Doc: "how far it gives across by hand", Scale: StretchScale, Test: "hand-stretch",
		File: "stretch.csv", Stem: "stretch", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"does not stretch", "gives a little", "stretches", "stretches very much"},
		Compared: [2]string{"stretches more", "stretches less"}, Failing: [2]string{"too little stretch", "stretches too much"}},
	ShowThrough: {ID: "show-through", Name: "show-through", Doc: "how much is seen through it", Scale: ShowThroughScale, Test: "black-edge",
		File: "show_through.csv", Stem: "show_through", Of: ofStructure, Derive: FromStructure, Follows: -0.6, Ruled: true,
		Levels:   []string{"opaque", "nearly opaque", "half sheer", "sheer"},
		Compared: [2]string{"shows more through", "shows less through"}, Failing: [2]string{"too opaque", "shows through"}},
	ShrinkWarp: {ID: "shrink-warp", Name: "shrink, warp", Doc: "loss along the warp in the first wash", Unit: "%", Low: 0, High: 40, Test: "wash-swatch",
		File: "shrinkage.csv", Stem: "shrinkage_pct", Row: "shrink warp wash", Of: ofBoth, Derive: FromShrinkage, OfFibre: true, Ruled: true, Says: "shrinks %s along", Compared: shrinksMore, Failing: shrinksOver},
	ShrinkWeft: {ID: "shrink-weft", Name: "shrink, weft", Doc: "loss along the weft in the first wash", Unit: "%", Low: 0, High: 40, Test: "wash-swatch",
		File: "shrinkage.csv", Stem: "shrinkage_pct", Row: "shrink weft wash", Of: ofBoth, Derive: FromShrinkage, OfFibre: true, Ruled: true, Says: "shrinks %s across", Compared: shrinksMore, Failing: shrinksOver},
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
		Says: "is sold at %s", Compared: [2]string{"wider", "narrower"}, Failing: [2]string{"too narrow", "too wide"}},
	Slide: {ID: "slide", Name: "slide", Doc: "how it slides over the clothes under it, as a lining must", Scale: SlideScale, Test: "sleeve-pull",
		File: "slide.csv", Stem: "slide", Of: ofFibres, Derive: FromFibres, OfFibre: true, Ruled: true,
		Levels:   []string{"clings to clothes", "slides a little", "slides over clothes", "slides freely over clothes"},
		Compared: [2]string{"slides more", "slides less"}, Failing: [2]string{"does not slide over clothes", "slides off"}},
	Reverse: {ID: "reverse", Name: "reverse side", Doc: "whether its back is fit to be seen", Scale: ReverseScale, Test: "turn-over",
		File: "reverse.csv", Stem: "reverse", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"back not fit to be seen", "plain back", "both sides alike"},
		Compared: [2]string{"has a better back", "has a worse back"}, Failing: [2]string{"its back is not fit to be seen", "both its sides are alike"}},
	Rough: {ID: "rough", Name: "on the skin", Doc: "how it feels against bare skin", Scale: RoughScale, Test: "forearm",
		File: "rough.csv", Stem: "rough", Of: ofFibres, Derive: FromFibres, OfFibre: true, Ruled: true,
		Levels:   []string{"smooth on the skin", "soft on the skin", "slightly scratchy", "scratchy"},
		Compared: [2]string{"rougher", "smoother"}, Failing: [2]string{"too smooth", "too rough on the skin"}},
	Warmth: {ID: "warmth", Name: "warmth", Doc: "how much still air it holds", Scale: WarmthScale, Test: "fold-and-hold",
		File: "warmth.csv", Stem: "warmth", Derive: FromThickness, Follows: 0.6, Ruled: true,
		Levels:   []string{"not warm", "hardly warm", "warm", "very warm"},
		Compared: [2]string{"warmer", "cooler"}, Failing: [2]string{"not warm enough", "too warm"}},
	Wind: {ID: "wind", Name: "against wind", Doc: "how well it keeps the wind out", Scale: WindScale, Test: "breath",
		File: "wind.csv", Stem: "wind", Of: ofStructure, Derive: FromStructure, Ruled: true,
		Levels:   []string{"open to the wind", "somewhat close", "close, keeps out a breeze", "windproof"},
		Compared: [2]string{"closer to wind", "more open to wind"}, Failing: [2]string{"lets the wind through", "lets no air through"}},
	Water: {ID: "water", Name: "against water", Doc: "what a shower does to it", Scale: WaterScale, Test: "water-drop",
		File: "water.csv", Stem: "water", Of: ofFibres, Derive: FromFibres, OfFibre: true, Ruled: true,
		Levels:   []string{"soaks up water", "wets slowly", "sheds a shower", "waterproof"},
		Compared: [2]string{"sheds more water", "sheds less water"}, Failing: [2]string{"lets the wet through", "takes up no water"}},
	Sunfast: {ID: "sunfast", Name: "in sunlight", Doc: "how long its fibre lasts in sunlight", Scale: SunfastScale, Test: "window-strip",
		File: "sunfast.csv", Stem: "sunfast", Of: ofFibres, Derive: FromFibres, OfFibre: true, Ruled: true,
		Levels:   []string{"rots in sunlight", "stands some sunlight", "stands sunlight"},
		Compared: [2]string{"lasts longer in sunlight", "lasts less long in sunlight"}, Failing: [2]string{"suffers in sunlight", "stands more sunlight than it needs"}},
	Wear: {ID: "wear", Name: "hard wear", Doc: "how it stands up to rubbing and tearing", Scale: WearScale, Test: "scrub",
		File: "wear.csv", Stem: "wear", Of: ofFibres, Derive: FromFibres, ByMass: [2]float64{80, 280}, Follows: 0.4, OfFibre: true, Ruled: true,
		Levels:   []string{"delicate", "stands ordinary wear", "hard-wearing"},
		Compared: [2]string{"wears harder", "wears less hard"}, Failing: [2]string{"does not stand the wear", "made for harder wear"}},
	CreaseHolds: {ID: "crease-holds", Name: "pressed crease", Doc: "whether a pleat pressed into it stays", Scale: CreaseHoldsScale, Test: "pressed-fold",
		File: "crease_holds.csv", Stem: "crease_holds", Of: ofFibres, Derive: FromFibres, OfFibre: true, Ruled: true,
		Levels:   []string{"loses a pressed crease", "holds a pressed crease for a time", "holds pleats"},
		Compared: [2]string{"holds a crease better", "holds a crease worse"}, Failing: [2]string{"does not hold a pressed crease", "keeps each crease"}},
	Flame: {ID: "flame", Name: "flame", Doc: "how it burns once it is alight", Scale: FlameScale, Test: "flame-thread",
		File: "flame.csv", Stem: "flame", Of: ofFibres, Derive: FromQuickest, OfFibre: true, Ruled: true,
		Levels:   []string{"goes out by itself", "burns slowly", "burns", "flares up"},
		Compared: [2]string{"burns faster", "burns slower"}, Failing: [2]string{"burns too slowly", "burns too readily"}},
	Lustre: {ID: "lustre", Name: "lustre", Doc: "how it throws the light back", Scale: LustreScale, Test: "lamp-fold",
		File: "lustre.csv", Stem: "lustre", Of: ofFibres, Derive: FromFibres, OfFibre: true, Ruled: true,
		Levels:   []string{"dull, matt", "soft lustre", "bright, shiny"},
		Compared: [2]string{"brighter", "duller"}, Failing: [2]string{"too dull", "too bright"}},
	Drying: {ID: "drying", Name: "drying", Doc: "how fast it is dry again after a wash", Scale: DryingScale, Test: "wring-and-hang",
		File: "drying.csv", Stem: "drying", Derive: FromWater, Follows: -0.6, OfFibre: true, Ruled: true,
		Levels:   []string{"dries slowly", "dries overnight", "dries quickly"},
		Compared: [2]string{"dries faster", "dries slower"}, Failing: [2]string{"dries slowly", "dries too fast"}},
	Spring: {ID: "spring", Name: "spring", Doc: "how it comes back from a stretch or a crush", Scale: SpringScale, Test: "pull-and-let-go",
		File: "spring.csv", Stem: "spring", Of: ofFibres, Derive: FromSpring, OfFibre: true, Ruled: true,
		Levels:   []string{"stays stretched, bags", "comes back in part", "springs back"},
		Compared: [2]string{"springs back better", "springs back worse"}, Failing: [2]string{"does not spring back", "springs back too much"}},
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
