package fibres

import (
	"cmp"
	"sort"

	"tenter/fibres/units"
)

// HomeTest is a test of five minutes or so that settles a property. How is the
// whole of it in a sentence; Steps, Needs, Figure and Error are its page.
type HomeTest struct {
	ID, Name, How, Caution string

	Kind   string   // how a swatch records it: mass, droop, wash …; "" where it records nothing
	Needs  []string // what lies on the table before it begins
	Steps  []string
	Figure string // drawn in plain letters, at most 60 wide
	Error  string // what the figure may be out by, and what makes it worse
	Enter  string // an example of the readings, behind `tenter swatch measure NAME`
}

// Word is the name under which a test is asked for and recorded: that of what it
// records.
func (t HomeTest) Word() string {
	if t.Kind != "" {
		return t.Kind
	}
	return t.ID
}

// In is the test as it is done with the measures of a system.
func (t HomeTest) In(sys units.System) HomeTest {
	if sys != units.Imperial {
		return t
	}
	own := inInches[t.ID]
	tell := func(mine, all []string) []string {
		if mine != nil {
			return mine
		}
		out := make([]string, len(all))
		for i, s := range all {
			out[i] = units.Prose(s, sys)
		}
		return out
	}
	t.How, t.Error = cmp.Or(own.How, units.Prose(t.How, sys)), cmp.Or(own.Error, units.Prose(t.Error, sys))
	t.Figure, t.Enter = cmp.Or(own.Figure, t.Figure), cmp.Or(own.Enter, t.Enter)
	t.Needs, t.Steps = tell(own.Needs, t.Needs), tell(own.Steps, t.Steps)
	return t
}

// inInches is what a test says otherwise where a sum or a drawing stands in inches.
var inInches = map[string]HomeTest{
	"ruler-droop": {Enter: `droop warp "1 3/8in" "1 3/8in" weft "1 1/4in" "1 1/4in"`},
	"heart-loop":  {Enter: `loop heart warp 4in:"1 3/8in" weft 4in:"1 3/8in"`},
	"shadow": {Figure: `              * lamp
           .-----------.   circle 12 in
         /|    tin      |\
        / |    7 1/4 in | \
       (  |_____________|  )   folds
     ~~~~~~~ shadow ~~~~~~~~~~
   shadow 0.15 oz : whole circle 0.20 oz`,
		Enter: `drape 0.15oz:0.20oz folds 6 --disc "7 1/4in" --circle 12in`},
	"scale": {How: "Weigh a square of 9 in by 9 in in ounces. Times 16 that is its weight in oz/yd².",
		Needs: []string{"squares of 9 in, cut on the thread, 2 in clear of the selvedge", "a scale that shows tenths of an ounce, better hundredths"},
		Steps: []string{"Let the cloth lie in the room for an hour.", "Cut three squares from places with different threads.",
			"Weigh each by itself, or all together on a coarse scale: with a scale of whole ounces take half a yard.", "Enter the ounces, and the size of the piece."},
		Figure: `       9 in              ___________
   +--------+            |  0.28 oz |
   |        |           _|__________|_
   |        | 9 in     /______________\
   |        |
   +--------+     0.28 oz x 16 = 4.5 oz/yd2`,
		Error: "On 9 in by 9 in, 0.01 oz is 0.16 oz/yd². A sixteenth of an inch on each side is 1.4 %. Damp air adds up to a tenth to wool.",
		Enter: "mass 0.28oz 0.27oz 0.29oz --square 9x9in"},
	"pile-of-ten": {Enter: "thickness 3/16in --layers 10"},
	"wash-swatch": {Figure: `   +---------------------------+
   |        x                  |
   |        |   10 in          |
   |        |   warp           |   before: 10.0 in
   |  x-----+-----------x      |   after:   9.6 in
   |        |    10 in weft    |
   |        x                  |   (10 - 9.6) / 10 = 4 %
   +---------------------------+`,
		Error: "A sixteenth of an inch on 10 in is 0.6 points, at each of the two readings. Pulling the cloth straight hides half the loss. Marks further apart are better.",
		Enter: `wash warp 10in:9.6in weft 10in:9.8in --method "machine, warm"`},
	"hand-stretch": {How: "Fold, hold 4 in across the grain along a ruler and pull gently: to 4 1/4 in is none, 4 1/2 low, 5 medium, more is high.",
		Figure: `   fold  |<----- 4 in ---->|
   ______@=================@______
   0    1    2    3    4    5  ruler
         @=====================@ -->  pulled`,
		Error: "A sixteenth of an inch and your own hand: two people differ by a quarter. Do it three times with the same pull.",
		Enter: `stretch 4in:"4 1/2in" 4in:"4 3/8in"`},
	"iron-scrap": {Figure: `   +------+------+------+
   |  .   |  ..  | ...  |    one place for each step
   | 230F | 300F | 390F |
   |  ok  |  ok  |shine |    limit: two dots
   +------+------+------+`},
	"tape": {Enter: "width 55in"},
}

// Tests are the home tests by id. The methods are common practice save where
// the mechanics package says otherwise.
var Tests = map[string]HomeTest{
	"ruler-droop": {ID: "ruler-droop", Name: "ruler droop", Kind: "droop",
		How:     "Cut a strip 2.5 cm wide along the warp, slide it over a table edge until its tip has sunk to a slope of 41.5° (8.8 cm down for 10 cm out); half the overhang is the bending length. Do both faces and both directions.",
		Caution: "Shears and a rotary cutter cut fingers: close the blade whenever you lay it down.",
		Needs:   []string{"two strips 2.5 cm wide and 20 cm long or longer, one along the warp, one along the weft, clear of the selvedge", "a table with a sharp, level edge", "a ruler on top of the strip, and one to measure with", "a card cut to the slope: 10 cm along, 8.8 cm down"},
		Steps: []string{"Let the strips lie flat for an hour; press nothing, for a crease bends first.",
			"Lay a strip square to the edge with the ruler on it, both ends level with the edge.",
			"Hold the card against the edge. Push ruler and strip out together, slowly, until the tip just meets the slope.",
			"Read how far the ruler stands out: that is the overhang.",
			"Turn the strip over, then end for end: four readings. Then the other strip.",
			"A strip that curls or twists tells nothing: hang a heart loop of it instead."},
		Figure: `          ruler
   =======================
   strip_____________________
   #########|           ''--._
   # table #|\                '-.
   #########|  \  slope          '.
            |    \  41.5 deg       \
            |      \                :
            |<----- overhang ------>|
            |  tip meets the slope here`,
		Error: "About 5 % from strip to strip of one cloth, and 2 mm of the ruler. Damp, a crease or a strip cut off the grain make it worse. Warp and weft, both faces, four readings each, bring it to about 4 %.",
		Enter: "droop warp 3.4cm 3.5cm weft 3.0cm 3.1cm"},
	"heart-loop": {ID: "heart-loop", Name: "heart loop", Kind: "loop",
		How:     "For limp or curling cloth: clamp both ends of a strip together, pointing upwards, so that it hangs as a heart; measure from the clamp to the lowest point.",
		Caution: "Shears and a rotary cutter cut fingers: close the blade whenever you lay it down.",
		Needs:   []string{"a strip 2.5 cm wide; between the clamp's jaws it has 3 to 8 times the bending length, say 10 cm", "a bulldog clip or two flat sticks", "a ruler"},
		Steps: []string{"Mark the length of the loop on the strip, and leave 1 cm at each end for the clamp.",
			"Bring the two marks together, right sides out, the ends pointing upwards, and clamp at the marks.",
			"Hang it still. The strip leaves the clamp upwards, turns over on both sides and meets below.",
			"Measure from the clamp straight down to the lowest point.",
			"Do it with the other face out, and with a strip of the other direction."},
		Figure: `      _..._   ends   _..._
    .'     '. | | .'     '.
   /         \|||/         \
  |        [clamp]          |   -
   \           .           /    |
    '.                   .'     | height
      '.               .'       |
        '.           .'         |
          '-._____.-'           -`,
		Error: "About 6 %. A loop that hardly sags or hangs as two lines tells little: take a longer or a shorter strip.",
		Enter: "loop heart warp 10cm:3.4cm weft 10cm:3.6cm"},
	"shadow": {ID: "shadow", Name: "shadow of a circle", Kind: "drape",
		How:     "Lay a circle of 30 cm over a tin of 18 cm with a lamp high above it, draw the shadow on a paper circle of 30 cm, cut it out and weigh it against the whole circle; count the folds.",
		Caution: "Shears cut fingers. Keep the lamp clear of cloth and paper, and let a hot lamp cool before you move it. A tin's cut rim is sharp: use one that is closed or bound.",
		Needs:   []string{"a circle of cloth of 30 cm, its middle marked", "a tin, jar or pot 18 cm across and 12 cm high or higher; of another size, a circle five thirds as wide", "a lamp 2 m above the middle, or a photograph from as high", "paper circles as wide as the cloth's, cut of one sheet", "a scale that shows tenths of a gram, better hundredths"},
		Steps: []string{"Let the circle lie flat for an hour, unpressed.",
			"Weigh the whole paper circle, then lay it under the tin, middle under middle.",
			"Lay the cloth on, middle on middle, and lift and lower it twice so that it finds its folds.",
			"Count the folds. Draw round the shadow, with the tin's place in it.",
			"Cut the shadow out as one piece, tin and all, and weigh it.",
			"Do it again with the other face up and the cloth turned: three shadows or more."},
		Figure: `              * lamp
           .-----------.   circle 30 cm
         /|    tin      |\
        / |    18 cm    | \
       (  |_____________|  )   folds
     ~~~~~~~ shadow ~~~~~~~~~~
   shadow 4.1 g : whole circle 5.6 g`,
		Error: "About 3 points from laying to laying, and 3 of the shadow's rim and of a scale with tenths of a gram. What follows for the bending length is by a model that was 13 points off over ten cloths: it halves the doubt of a name, and a ruler tells far more.",
		Enter: "drape 4.1g:5.6g 4.0g:5.6g folds 6"},
	"scale": {ID: "scale", Name: "kitchen scale", Kind: "mass",
		How:     "Weigh a square of 10 cm by 10 cm, or a larger known area. Enter its weight and its size: tenter works out the weight of the cloth.",
		Caution: "Shears and a rotary cutter cut fingers: close the blade whenever you lay it down.",
		Needs:   []string{"squares of 10 cm, cut on the thread, 5 cm clear of the selvedge", "a scale that shows tenths of a gram, better hundredths"},
		Steps: []string{"Let the cloth lie in the room for an hour.",
			"Cut three squares from places with different threads.",
			"Weigh each by itself, or all together on a coarse scale: with a scale of whole grams take a piece of half a metre.",
			"Enter the grams, and the size of the piece."},
		Figure: `      10 cm              ___________
   +--------+            |  1.52 g |
   |        |           _|_________|_
   |        | 10 cm    /_____________\
   |        |
   +--------+     1.52 g on 100 cm2 = 152 g/m2`,
		Error: "On a square of 10 cm, 0.1 g is 10 g/m², and half a millimetre on each side of a square is 2 %. Three squares weighed to 0.01 g bring it to about 2 %. Damp air adds up to a tenth to wool.",
		Enter: "mass 1.52g 1.49g 1.55g --square 10x10cm"},
	"pile-of-ten": {ID: "pile-of-ten", Name: "pile of ten", Kind: "thickness",
		How:   "Fold the cloth to ten layers, lay a book on it, measure the pile and divide by ten.",
		Needs: []string{"ten layers, cut or folded without hard creases", "a light book, always the same", "a ruler with half millimetres, or calipers"},
		Steps: []string{"Pile ten layers and smooth them.",
			"Lay the book on and wait until it no longer sinks.",
			"Measure the height of the pile at two corners without pressing.",
			"Enter the height of the pile; the division is done for you."},
		Figure: `        _____________________
       /        book         /|
      /_____________________/ |
      |_____________________|/
      =======================  -
      =======================  |  height of ten layers
      =======================  |
      =======================  -
   ##############################`,
		Error: "A quarter to half a millimetre on the pile, so 3 to 10 %. Soft and fluffy cloth gives under the book: a heavier book reads less.",
		Enter: "thickness 4.5mm --layers 10"},
	"wash-swatch": {ID: "wash-swatch", Name: "wash swatch", Kind: "wash",
		How:     "Mark 25 cm along warp and weft on a square of 40 cm, wash and dry it as the piece will be, measure again.",
		Caution: "Wash strong colours alone the first time. Let a machine or a hot dish of water cool before you reach in.",
		Needs:   []string{"a square of 40 cm, its edges overcast", "thread of another colour for the marks", "a ruler, and what the piece will be washed with"},
		Steps: []string{"Sew two marks 25 cm apart along the warp and two along the weft, well inside the square.",
			"Measure between the marks with the cloth flat and slack, and write it down.",
			"Wash and dry it exactly as the finished piece will be.",
			"Lay it flat without pulling, let it cool, measure between the same marks.",
			"Wash it again: what goes on shrinking shows in the second and third wash. Enter each with its number; before is always the first distance."},
		Figure: `   +---------------------------+
   |        x                  |
   |        |   25 cm          |
   |        |   warp           |   before: 25.0 cm
   |  x-----+-----------x      |   after:  24.0 cm
   |        |    25 cm weft    |
   |        x                  |   (25 - 24) / 25 = 4 %
   +---------------------------+`,
		Error: "1 mm on 25 cm is 0.4 points, at each of the two readings. Pulling the cloth straight hides half the loss. Marks further apart are better.",
		Enter: `wash warp 25cm:24cm weft 25cm:24.6cm --method "machine, 40 C"`},
	"thumbnail-fray": {ID: "thumbnail-fray", Name: "thumbnail fray", Kind: "fray",
		How:   "Rub a cut edge ten times with the thumbnail and count the threads that come away: none is none, one low, two to four medium, five or more high.",
		Needs: []string{"a freshly cut edge on the straight grain, one along the warp, one along the weft"},
		Steps: []string{"Hold the cloth flat near the edge.", "Rub from the cloth outwards across the cut edge, ten times, as hard as you would scratch a label.", "Count the threads that have come free along the width of the nail."},
		Figure: `   ______________________
   ______________________
   ______________________   --> rub outwards,
   _ _ _ _ _ _ _ _ _ _ _       ten times
     ~   ~     threads that come free`,
		Error: "One thread either way; the two directions often differ, and the worse one counts.",
		Enter: "fray 3 4"},
	"hand-stretch": {ID: "hand-stretch", Name: "hand stretch", Kind: "stretch",
		How:   "Fold, hold 10 cm across the grain along a ruler and pull gently: to 10.5 cm is none, 11 low, 12.5 medium, more is high.",
		Needs: []string{"a fold of cloth across the grain, clear of the selvedge", "a ruler"},
		Steps: []string{"Fold the cloth so that the fold runs from selvedge to selvedge.", "Hold it between two fingers of each hand, 10 cm apart on the ruler.", "Pull until it resists, no further, and read.", "Let go: it should come back. Try three places."},
		Figure: `   fold  |<---- 10 cm ---->|
   ______@=================@______
   0    1    2  ...   9    10   11   12  ruler
         @=====================@ -->  pulled`,
		Error: "A millimetre of the ruler and your own hand: two people differ by a quarter. Do it three times with the same pull.",
		Enter: "stretch 10cm:11.2cm 10cm:11cm"},
	"black-edge": {ID: "black-edge", Name: "black edge", Kind: "show-through",
		How:   "Lay one layer over a sheet that is half black and half white: an edge you cannot see is none, a clear line is high. Lay it over the planned seam allowance too.",
		Needs: []string{"a sheet of paper, one half blacked", "daylight from the side"},
		Steps: []string{"Lay one layer flat on the sheet.", "Look from arm's length.", "No edge: none. An edge you must look for: low. An edge you see at once: medium. As clear as without the cloth: high.", "Lay it over the lining, and over a folded seam allowance, and look again."},
		Figure: `   +---------------+---------------+
   |               |###############|
   |     white     |#### black ####|
   |    . . . . . .|. . . . . .####|
   |    .   one layer of cloth  .##|
   +----. . . . . .|. . . . . .----+
        does the edge show?`,
		Error: "Half a grade. A lamp behind it shows more than daylight, and wet cloth more than dry.",
		Enter: "show-through low"},
	"iron-scrap": {ID: "iron-scrap", Name: "iron a scrap", Kind: "press",
		How:     "Press a scrap on the wrong side from the coolest setting up; stop at shine, sticking, shrinking or a change of colour.",
		Caution: "Hot iron and steam burn: keep hands clear, stand the iron on its heel, keep children away. Stop at the first smell of melting.",
		Needs:   []string{"a scrap of 15 cm", "an iron with dots, or its temperature", "a press cloth, and a white cloth below"},
		Steps:   []string{"Lay the scrap wrong side up over the white cloth.", "Set the iron at its coolest and hold it on one corner for five seconds.", "Look: shine, sticking, a shrunken patch, another colour? Then this is too hot.", "Go one step up, on a fresh place. The hottest step that left no mark is the limit."},
		Figure: `   +------+------+------+
   |  .   |  ..  | ...  |    one place for each step
   | 110C | 150C | 200C |
   |  ok  |  ok  |shine |    limit: two dots
   +------+------+------+`,
		Error: "One step of the iron: dots stand for about 110, 150 and 200 °C, and irons differ by 20 °C. Steam and a press cloth change it.",
		Enter: "press 2 dots"},
	"wet-rub": {ID: "wet-rub", Name: "wet rub", Kind: "bleed",
		How:     "Lay a damp white cloth on the swatch under a warm iron or in the sun, then rub it ten times: what colour stays on the white is the bleeding.",
		Caution: "A warm iron and steam burn. Keep dye and wet cloth off what you wear.",
		Needs:   []string{"a scrap, a damp white cotton cloth", "warm water and the washing powder you use"},
		Steps:   []string{"Soak the scrap for ten minutes in warm water with a little powder.", "Press it wet between two layers of white cotton until it is dry.", "Rub the dry scrap ten times with a clean damp corner.", "No colour: none. A tint you must look for: low. A clear stain: medium. A stain as deep as the cloth: high."},
		Figure: `     white cotton     ___________
                     /__________/|
     wet scrap      /##########/ |   press till dry,
                   /__________/ /    then look at the white
     white cotton  |__________|/`,
		Error: "Half a grade. The first wash bleeds most; a second test after washing tells what is left.",
		Enter: "bleed medium"},
	"stroke": {ID: "stroke", Name: "stroke", Kind: "nap", Enter: "nap pile",
		How:   "Stroke the face up and down and hold it to the light both ways: a change of feel or shade is a nap.",
		Needs: []string{"a scrap as long as the hand", "a window or a lamp from one side"},
		Steps: []string{"Stroke the face from one end to the other, then back.", "Hung up, look at it from above and from below."},
		Error: "Shine that differs up and down counts as a nap though nothing is felt; look at both in daylight."},
	"fold-and-slide": {ID: "fold-and-slide", Name: "fold and slide", Kind: "slip", Enter: "slip high",
		How:   "Lay it double on the table and push the upper layer with a finger: if it slides by itself, slip is high.",
		Needs: []string{"a piece of some 30 cm", "a table"},
		Steps: []string{"Lay it double, face to face, without pulling.", "Push the upper layer with one finger.", "Let one end hang over the edge and see whether it goes by itself."},
		Error: "Dust and a polished table make it slide more: lay paper under it."},
	"fist-crush": {ID: "fist-crush", Name: "fist crush", Kind: "crease", Enter: "crease medium",
		How:   "Crush a corner in the fist for ten seconds; creases that stay say how it will look in wear.",
		Needs: []string{"a corner that may be creased"},
		Steps: []string{"Crush it in the fist and count to ten.", "Lay it flat and look at once, and again after five minutes."},
		Error: "Dry air makes creases milder, and a damp hand makes them worse: try it on a day like that of wear."},
	"sleeve-pull": {ID: "sleeve-pull", Name: "sleeve pull", Kind: "slide", Enter: "slide high",
		How:   "Pin a scrap to a tube, face inwards, and pull an arm in a shirt sleeve through it: a lining that slides lets the sleeve through without dragging it.",
		Needs: []string{"a scrap of 20 by 40 cm and four pins", "a cotton shirt with long sleeves"},
		Steps: []string{"Pin the scrap to a tube with its face inwards.", "Put the sleeve through and draw the arm out slowly.", "See whether the shirt sleeve comes along or is dragged back."},
		Error: "Static on a dry day drags too: try again after a damp hand has passed over it."},
	"turn-over": {ID: "turn-over", Name: "turn over", Kind: "reverse", Enter: "reverse plain",
		How:   "Turn a corner back on the face and look from two steps away: floats, a pale print, knots or a rubber coat are no side to show.",
		Needs: []string{"the end of the bolt or a scrap"},
		Steps: []string{"Turn a corner back upon the face.", "Look from two steps away, as it will be seen in wear."},
		Error: "Lamps hide floats and knots: look in daylight."},
	"forearm": {ID: "forearm", Name: "forearm", Kind: "rough", Enter: "rough soft",
		How:     "Lay it on the inside of the forearm for a minute, then draw it along: what pricks or itches there will do so at the neck.",
		Caution: "Stop at once where the skin reddens; try nothing on broken skin.",
		Needs:   []string{"a scrap as large as the hand"},
		Steps:   []string{"Lay it on the inside of the forearm for a minute.", "Draw it along the arm once each way."},
		Error:   "Skins differ; whoever wears it should try it."},
	"fold-and-hold": {ID: "fold-and-hold", Name: "fold and hold", Kind: "warmth", Enter: "warmth medium",
		How:     "Fold it in four and hold it round a cup of warm water with one hand, a plain cotton in the other: what holds still air keeps the hand cool.",
		Caution: "Use warm water, not hot: no hotter than your hand can stay in.",
		Needs:   []string{"a scrap of 30 cm and one of plain cotton as large", "two cups of warm water, not hot"},
		Steps:   []string{"Fold both in four.", "Hold one round each cup for a minute, then change hands.", "Say which hand stayed cooler, and by how much."},
		Error:   "A thick fold pressed tight keeps less air than cloth that hangs: hold it loosely."},
	"breath": {ID: "breath", Name: "breath", Kind: "wind", Enter: "wind airy",
		How:   "Hold it tight over the mouth and breathe out: no resistance is open, a little airy, much close, none through is proof.",
		Needs: []string{"a scrap as large as the hand"},
		Steps: []string{"Hold it tight over the mouth.", "Breathe out slowly and feel the back of it with the other hand."},
		Error: "A wet cloth lets less through; try it dry."},
	"water-drop": {ID: "water-drop", Name: "water drop", Kind: "water", Enter: "water sheds",
		How:   "Let ten drops fall on a scrap held aslant over paper: drunk at once it soaks, within a minute slow, beads that run off it sheds; dry paper after ten minutes under a puddle is proof.",
		Needs: []string{"a scrap, a sheet of paper, a spoon of water", "a clock"},
		Steps: []string{"Hold the scrap aslant over the paper.", "Let ten drops fall on it and see how soon they are drunk.", "For rain, leave a puddle on it for ten minutes and look at the paper."},
		Error: "A finish washes out: test what was washed as often as the piece will be."},
	"window-strip": {ID: "window-strip", Name: "window strip", Kind: "sunfast", Enter: "sunfast low",
		How:   "Cover half of a strip with card in a sunny window for four weeks, then compare the colour and pull a few threads of both halves.",
		Needs: []string{"a strip of 5 by 20 cm and a card", "a sunny window"},
		Steps: []string{"Cover half of the strip with the card and fix it in the window.", "After four weeks lay both halves side by side in daylight.", "Pull a thread from each half and break it."},
		Error: "Window glass keeps some of the light out, and winter sun does less than a summer’s: it tells the worst, not the best."},
	"scrub": {ID: "scrub", Name: "scrub", Kind: "wear", Enter: "wear high",
		How:   "Rub a scrap with its own face fifty times over a finger, then nick the edge and try to tear it: fluff, holes and an easy tear tell.",
		Needs: []string{"two scraps of the cloth"},
		Steps: []string{"Rub one with the face of the other fifty times over a finger.", "Look for fluff, thin places and holes.", "Nick the edge and try to tear it both ways."},
		Error: "The hand presses unevenly: it tells weak from strong, no more."},
	"pressed-fold": {ID: "pressed-fold", Name: "pressed fold", Kind: "crease-holds", Enter: "crease-holds high",
		How:     "Press a fold as the pleat will be pressed, hang the scrap for a night, then hold it over steam: see what is left of the fold each time.",
		Caution: "Steam and a hot iron burn: keep fingers out of both.",
		Needs:   []string{"a scrap of 20 cm", "iron, cloth and steam as the piece will have them"},
		Steps:   []string{"Press a fold along the thread and let it cool.", "Hang the scrap by one end for a night.", "Hold it over steam for ten seconds and look again."},
		Error:   "More heat or damp sets more: use no more than the cloth stands."},
	"flame-thread": {ID: "flame-thread", Name: "flame on a thread", Kind: "flame", Enter: "flame burns",
		How:     "Ask for the supplier's certificate first; it alone counts for a stage or a child. Else hold a few threads with metal tweezers to a candle over a sink of water and see whether they go out, creep or flare.",
		Caution: "Threads only, never cloth; an adult, over water, hair and sleeves tied back, a window open. Molten drops stick and burn. It proves nothing of a whole piece: local fire rules decide.",
		Needs:   []string{"a few threads, metal tweezers", "a candle in a sink of water, an adult beside it"},
		Steps:   []string{"Hold the threads to the side of the flame, then draw them away.", "See whether they go out, creep on or flare.", "Drop them into the water."},
		Error:   "Threads burn faster than close cloth, and a finish may lie on the surface alone: no answer of a whole piece."},
	"lamp-fold": {ID: "lamp-fold", Name: "lamp on a fold", Kind: "lustre", Enter: "lustre bright",
		How:   "Fold it over the hand beside white paper under one lamp and turn the hand: no light on the fold is dull, a glow that moves is soft, a white streak is bright.",
		Needs: []string{"a scrap as large as the hand", "one lamp and a sheet of paper"},
		Steps: []string{"Fold the scrap over the back of the hand, face out.", "Hold it under the lamp beside the paper and turn the hand.", "See whether light runs along the fold."},
		Error: "Dark colours look brighter than pale ones, and daylight duller than a lamp."},
	"wring-and-hang": {ID: "wring-and-hang", Name: "wring and hang", Kind: "drying", Enter: "drying quick",
		How:   "Wet a scrap, wring it in a towel and hang it up in a room with one of polyester and one of cotton poplin: as soon as the first is quick, with the second fair, after it slow.",
		Needs: []string{"scraps of 20 cm of it, of thin polyester and of cotton poplin", "water, a towel, a line"},
		Steps: []string{"Soak all three for ten minutes.", "Roll each in the towel and press it out.", "Hang them side by side and feel them each half hour."},
		Error: "Still or damp air doubles the time of all three: only their order counts."},
	"pull-and-let-go": {ID: "pull-and-let-go", Name: "pull and let go", Kind: "spring", Enter: "spring springy",
		How:   "Mark 10 cm across the cloth, pull it as far as it goes by hand for ten seconds, lay it down and measure after a minute: what stays long bags at knee and elbow.",
		Needs: []string{"a scrap of 20 cm", "a ruler and a pencil"},
		Steps: []string{"Mark 10 cm across a scrap.", "Pull it by hand, not to tearing, and count to ten.", "Lay it flat for a minute and measure again: within 1 mm it springs back, beyond 5 mm it is slack."},
		Error: "A wash brings some of it back, and damp makes wool and viscose slacker."},
	"tape": {ID: "tape", Name: "tape", Kind: "width", Enter: "width 140cm", How: "Measure the width between the selvedges.",
		Needs: []string{"a tape measure"},
		Steps: []string{"Lay the cloth flat without pulling.", "Measure between the selvedges at three places and take the least."},
		Error: "Half a centimetre; cloth that was rolled under tension draws in after a day."},
}

// TestOfKind is the test whose readings a swatch records under a kind.
func TestOfKind(kind string) (HomeTest, bool) {
	for _, t := range Tests {
		if t.Kind == kind && kind != "" {
			return t, true
		}
	}
	return HomeTest{}, false
}

// TestIDs lists the home tests, those that a swatch records first.
func TestIDs() []string {
	var out []string
	for id := range Tests {
		out = append(out, id)
	}
	sort.Slice(out, func(i, j int) bool {
		a, b := Tests[out[i]], Tests[out[j]]
		if (a.Kind != "") != (b.Kind != "") {
			return a.Kind != ""
		}
		return a.ID < b.ID
	})
	return out
}

// Settles lists the properties that a home test settles.
func (t HomeTest) Settles() []Property {
	var out []Property
	for p := range NumProperties {
		if Properties[p].Test == t.ID || t.ID == "heart-loop" && bends(p) {
			out = append(out, p)
		}
	}
	return out
}
