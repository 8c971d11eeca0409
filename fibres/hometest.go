package fibres

// HomeTest is a test of five minutes or so that settles a property.
type HomeTest struct{ ID, Name, How, Caution string }

// Tests are the home tests by id. The methods are common practice save where
// the mechanics package says otherwise.
var Tests = map[string]HomeTest{
	"ruler-droop": {ID: "ruler-droop", Name: "ruler droop",
		How: "Cut a strip 2.5 cm wide along the warp, slide it over a table edge until its tip has sunk to a slope of 41.5° (8.8 cm down for 10 cm out); half the overhang is the bending length. Do both faces and both directions."},
	"scale": {ID: "scale", Name: "kitchen scale",
		How: "Weigh a square of 10 cm by 10 cm, or a larger known area; grams for 100 cm² times 100 are g/m²."},
	"pile-of-ten": {ID: "pile-of-ten", Name: "pile of ten",
		How: "Fold the cloth to ten layers, lay a book on it, measure the pile and divide by ten."},
	"wash-swatch": {ID: "wash-swatch", Name: "wash swatch",
		How:     "Mark 25 cm along warp and weft on a square of 40 cm, wash and dry it as the piece will be, measure again.",
		Caution: "Wash strong colours alone the first time."},
	"thumbnail-fray": {ID: "thumbnail-fray", Name: "thumbnail fray",
		How: "Rub a cut edge ten times with the thumbnail and count the threads that come away: none or one is low, several is high."},
	"hand-stretch": {ID: "hand-stretch", Name: "hand stretch",
		How: "Fold, hold 10 cm across the grain along a ruler and pull gently: to 10.5 cm is none, 11 low, 12.5 medium, more is high."},
	"black-edge": {ID: "black-edge", Name: "black edge",
		How: "Lay one layer over a sheet that is half black and half white: an edge you cannot see is none, a clear line is high. Lay it over the planned seam allowance too."},
	"iron-scrap": {ID: "iron-scrap", Name: "iron a scrap",
		How:     "Press a scrap on the wrong side from the coolest setting up; stop at shine, sticking, shrinking or a change of colour.",
		Caution: "Hot iron and steam burn: keep hands clear, stand the iron on its heel, keep children away."},
	"stroke": {ID: "stroke", Name: "stroke",
		How: "Stroke the face up and down and hold it to the light both ways: a change of feel or shade is a nap."},
	"fold-and-slide": {ID: "fold-and-slide", Name: "fold and slide",
		How: "Lay it double on the table and push the upper layer with a finger: if it slides by itself, slip is high."},
	"fist-crush": {ID: "fist-crush", Name: "fist crush",
		How: "Crush a corner in the fist for ten seconds; creases that stay say how it will look in wear."},
	"tape": {ID: "tape", Name: "tape", How: "Measure the width between the selvedges."},
}
