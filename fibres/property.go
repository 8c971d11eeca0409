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

// PropertyInfo describes a property: how it is called, its unit or scale, the
// sane range of a figure, and the fact file it comes from.
type PropertyInfo struct {
	ID, Name, Unit string
	Scale          Scale
	Low, High      float64 // sane range of a figure, in Unit
	Test           string  // the home test that settles it, see [Tests]
}

// Properties describes every property, by index.
var Properties = [NumProperties]PropertyInfo{
	Mass:              {ID: "mass", Name: "mass", Unit: "g/m2", Low: 5, High: 2000, Test: "scale"},
	BendingLength:     {ID: "bending-length", Name: "bending length", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop"},
	BendingLengthWarp: {ID: "bending-length-warp", Name: "bending length, warp", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop"},
	BendingLengthWeft: {ID: "bending-length-weft", Name: "bending length, weft", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop"},
	BendingLengthBias: {ID: "bending-length-bias", Name: "bending length, bias", Unit: "cm", Low: 0.3, High: 12, Test: "ruler-droop"},
	Hand:              {ID: "hand", Name: "hand", Scale: HandScale, Test: "ruler-droop"},
	Thickness:         {ID: "thickness", Name: "thickness", Unit: "mm", Low: 0.02, High: 40, Test: "pile-of-ten"},
	Fray:              {ID: "fray", Name: "fray", Scale: FrayScale, Test: "thumbnail-fray"},
	Stretch:           {ID: "stretch", Name: "stretch", Scale: StretchScale, Test: "hand-stretch"},
	ShowThrough:       {ID: "show-through", Name: "show-through", Scale: ShowThroughScale, Test: "black-edge"},
	ShrinkWarp:        {ID: "shrink-warp", Name: "shrink, warp", Unit: "%", Low: 0, High: 40, Test: "wash-swatch"},
	ShrinkWeft:        {ID: "shrink-weft", Name: "shrink, weft", Unit: "%", Low: 0, High: 40, Test: "wash-swatch"},
	PressingLimit:     {ID: "pressing-limit", Name: "pressing limit", Unit: "C", Low: 0, High: 250, Test: "iron-scrap"},
	Nap:               {ID: "nap", Name: "nap", Scale: NapScale, Test: "stroke"},
	Slip:              {ID: "slip", Name: "slip", Scale: SlipScale, Test: "fold-and-slide"},
	Crease:            {ID: "crease", Name: "crease", Scale: CreaseScale, Test: "fist-crush"},
	Wash:              {ID: "wash", Name: "hottest wash", Scale: WashScale, Test: "wash-swatch"},
	Width:             {ID: "width", Name: "width sold", Unit: "cm", Low: 5, High: 1500, Test: "tape"},
}

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
