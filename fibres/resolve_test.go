package fibres

import (
	"io/fs"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres/fault"
)

// edited is the built-in files with one text in one of them put in another's place.
func edited(t *testing.T, file, was, is string) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	names, err := fs.Glob(data.FS, "*.csv")
	require.NoError(t, err)
	for _, n := range names {
		b, err := fs.ReadFile(data.FS, n)
		require.NoError(t, err)
		if n == file {
			require.Contains(t, string(b), was)
			b = []byte(strings.Replace(string(b), was, is, 1))
		}
		files[n] = &fstest.MapFile{Data: b}
	}
	return files
}

// rows are the built-in files with rows added to one of them.
func withRows(t *testing.T, file, rows string) *Catalogue {
	t.Helper()
	b, err := fs.ReadFile(data.FS, file)
	require.NoError(t, err)
	head, _, _ := strings.Cut(string(b), "\n")
	c, err := read(edited(t, file, head+"\n", head+"\n"+rows))
	require.NoError(t, err)
	return c
}

func TestFiguresOutOfOrderAreRefused(t *testing.T) {
	for _, x := range []struct{ low, typical, high, what string }{
		{"5.1", "5", "6", "low, typical and high are out of order"},
		{"7", "8.1", "8", "low, typical and high are out of order"},
		{"5", "5", "5", ""},
		{"5", "", "6", "the figure is missing"},
		{"4.9", "5", "6", "mass_gsm_low is 4.9, outside what it can be"},
	} {
		_, err := read(edited(t, "mass.csv", "cloth,acetate-lining,65,80,100,", "cloth,acetate-lining,"+x.low+","+x.typical+","+x.high+","))
		if x.what == "" {
			require.NoError(t, err)
			continue
		}
		require.Error(t, err, "%v", x)
		require.Contains(t, fault.All(err)[0].What, x.what)
		require.True(t, strings.HasPrefix(fault.All(err)[0].Where, "data/mass.csv:2:"), fault.All(err)[0].Where)
	}
}

// Of rows that differ the best is taken, and those whose figures are others are kept
// beside it; a row with the same figures is no difference.
func TestRowsThatDiffer(t *testing.T) {
	c := withRows(t, "stretch.csv", "cloth,denim,low,low,low,,practice,practice,,again\n")
	c2 := withRows(t, "thickness.csv", "cloth,denim,0.7,0.8,0.9,,practice,practice,,one\ncloth,denim,0.7,0.8,1.1,,practice,practice,,two\n")
	e := c2.Estimate(Subject{Cloth: c2.Cloths["denim"]}, Thickness)
	require.Equal(t, []float64{0.7, 0.8}, []float64{e.Low, e.Typical})
	require.Len(t, e.Differ, 1, "the highs differ")
	require.InDelta(t, 2, e.High+e.Differ[0].High, 1e-9)
	require.Equal(t, "recorded for denim", e.Because)
	require.Zero(t, len(c.Estimate(Subject{Cloth: c.Cloths["denim"]}, Stretch).Differ))
}

// Thickness is mass over bulk: t = m / (1000 ρ), and the spread of ln t is that of both
// (independent figures). Worked from the two rows, by hand.
func TestThicknessIsMassOverBulk(t *testing.T) {
	c := catalogue(t)
	seen := 0
	for _, k := range c.ClothList() {
		rows := c.facts.of(ref{"structure", k.Structure.ID, "bulk"})
		e, m := c.Estimate(Subject{Cloth: k}, Thickness), c.Estimate(Subject{Cloth: k}, Mass)
		if e.Basis != Derived || len(rows) == 0 || !m.Known() {
			continue
		}
		seen++
		want := m.Typical / (1000 * rows[0].Typical)
		require.InEpsilon(t, want, e.Typical, 1e-9, k.ID)
		half := math.Hypot(math.Log(m.High/m.Low)/2, math.Log(rows[0].High/rows[0].Low)/2)
		require.InDelta(t, half, math.Log(e.High/e.Typical), 1e-9, k.ID)
		require.InDelta(t, half, math.Log(e.Typical/e.Low), 1e-9, k.ID)
	}
	require.Greater(t, seen, 100)
}

// Show-through guessed from mass: 55, 90 and 150 g/m² part the grades (practice).
func TestShowThroughGuessedFromMass(t *testing.T) {
	c := catalogue(t)
	for mass, grade := range map[float64]float64{54.9: 3, 55: 2, 89.9: 2, 90: 1, 149.9: 1, 150: 0} {
		s := Subject{Known: map[Property]Estimate{Mass: Figure(Mass, mass, mass, mass, Measured, "")}}
		require.Equal(t, grade, c.showFromMass(s).Typical, "%g", mass)
	}
	wide := Subject{Known: map[Property]Estimate{Mass: Figure(Mass, 50, 100, 200, Measured, "")}}
	e := c.showFromMass(wide)
	require.Equal(t, []float64{0, 1, 3}, []float64{e.Low, e.Typical, e.High}, "the heavy ones hide")
}

// A millimetre of still air is about 0.025 m²K/W, 0.25 tog; 0.4, 0.9 and 2 mm part a
// shirt, a suit and a blanket (practice).
func TestWarmthIsTheAirInTheThickness(t *testing.T) {
	c := catalogue(t)
	for mm, grade := range map[float64]float64{0.3: 0, 0.4: 1, 0.8: 1, 0.9: 2, 1.9: 2, 2: 3, 5: 3} {
		s := Subject{Known: map[Property]Estimate{Thickness: Figure(Thickness, mm, mm, mm, Measured, "")}}
		require.Equal(t, grade, c.warmth(s).Typical, "%g", mm)
	}
}

// A part of elastane from 1.5 % on is felt as stretch; less is in the sewing thread.
func TestElastaneAddsToStretch(t *testing.T) {
	c := catalogue(t)
	grade := func(elastane float64) float64 {
		k := *c.Cloths["cotton-sateen"]
		k.ID = "of-no-row"
		k.Content = append(append([]Part(nil), k.Content...), Part{Fibre: c.Fibres["elastane"], Share: Estimate{Low: elastane, Typical: elastane, High: elastane, Basis: Practice}})
		return c.Estimate(Subject{Cloth: &k}, Stretch).Typical
	}
	require.Equal(t, grade(0)+1, grade(1.5))
	require.Equal(t, grade(0), grade(1.4))
	require.Equal(t, grade(1.5), grade(5), "more of it is not more again")
}

// What a cloth weighs moves what goes with mass as a regression would: by r times how far
// off the name's middle it lies, with the spread that is left, √(1−r²). Worked by hand.
func TestAWeighedClothMovesWhatGoesWithMass(t *testing.T) {
	c := withRows(t, "thickness.csv", "cloth,denim,0.5,0.8,1.28,,practice,practice,,\n")
	name := Subject{Cloth: c.Cloths["denim"]}
	m := c.Estimate(name, Mass)
	const r = 0.7
	left := math.Sqrt(1 - r*r)
	weighs := func(low, typical, high float64) Subject {
		return Subject{Cloth: name.Cloth, Known: map[Property]Estimate{Mass: Figure(Mass, low, typical, high, Measured, "")}}
	}
	for at, z := range map[float64]float64{m.Typical: 0, m.Low: -1, m.High: 1} { // in z90
		e := c.Estimate(weighs(at, at, at), Thickness)
		figure := func(z float64) float64 {
			return math.Max(0.5, math.Min(1.28, 0.8*math.Pow(1.6, z)))
		}
		require.InEpsilon(t, figure(r*z), e.Typical, 1e-6, "%g", at)
		require.InEpsilon(t, figure(r*z-left), e.Low, 1e-6, "%g", at)
		require.InEpsilon(t, figure(r*z+left), e.High, 1e-6, "%g", at)
	}
	e := c.Estimate(weighs(m.Low, m.Typical, m.High), Thickness)
	require.InEpsilon(t, 0.5, e.Low, 1e-6, "a range of masses is a range of both ends")
	require.InEpsilon(t, 1.28, e.High, 1e-6)
}

// What was derived vouches for no figure of a source.
func TestWhatIsDerivedGivesNothing(t *testing.T) {
	e := Figure(Mass, 1, 2, 3, Published, "", "dooley-1914")
	e.Word, e.Given = Published, GivesAll
	e = e.derived("from its structure")
	require.Equal(t, Derived, e.Basis)
	require.Empty(t, e.Word)
	require.Zero(t, e.Given)
	require.Equal(t, "derived", e.Rests())
}

// The members of a cloth are as thick as they are heavy: mass over bulk, and what is left
// of the spread of thickness, √(sd² − sd of mass²), is the bulk's. Summed over all members
// the logarithms have the spread that the estimate says.
func TestMembersAreAsThickAsTheyAreHeavy(t *testing.T) {
	c := catalogue(t)
	seen := 0
	for _, k := range c.ClothList() {
		s := c.Sample(Subject{Cloth: k}, ShellSalt)
		e := s.figures(Thickness)
		if e.Basis != Derived || len(s.Of(Thickness)) != N || len(s.Of(Mass)) != N || e.Low <= 0 {
			continue
		}
		seen++
		var sum, squares float64
		for _, v := range s.Of(Thickness) {
			x := math.Log(v / e.Typical)
			sum, squares = sum+x/N, squares+x*x/N
		}
		want := math.Log(e.High/e.Low) / 2 / 1.2815515655446004
		require.InDelta(t, want, math.Sqrt(squares-sum*sum), 0.25*want+0.01, k.ID)
	}
	require.Greater(t, seen, 100)
}

// A band of hand stands for the middle of its edges, in logarithms; the words on either
// side give the range.
func TestABandOfHandAsEvidence(t *testing.T) {
	c := catalogue(t)
	var ch chain
	e := c.bandEvidence(Figure(Hand, 1, 2, 4, Practice, "", "practice"), 0.3, "a word", &ch)
	middle := func(i int) float64 { return math.Sqrt(HandEdges[i] * HandEdges[i+1]) }
	require.InDelta(t, math.Log(middle(2)), e.mean, 1e-9)
	require.InDelta(t, math.Log(middle(2)/middle(1)), e.low*z90, 1e-9)
	require.InDelta(t, math.Log(middle(4)/middle(2)), e.high*z90, 1e-9)
	require.InDelta(t, math.Hypot(0.3, bandSD), e.sd, 1e-12)
	require.Contains(t, ch[0].Found, e.say())
	said := evidence{mean: math.Log(2), sd: 0}
	require.Equal(t, "2.0 – 2.0 – 2.0 cm", said.say())
	said.low, said.high = math.Log(2)/z90, math.Log(4)/z90
	require.Equal(t, "1.0 – 2.0 – 8.0 cm", said.say())
}

// A grade of the fibres is their mean by content, to the nearest level; where less than
// half of the cloth is known nothing is said.
func TestFibresCountByTheirShare(t *testing.T) {
	c, k := toy(toyRow{"fibre", "down", "rough", 0, 1, 1}, toyRow{"fibre", "straw", "rough", 2, 3, 3})
	e := c.Estimate(Subject{Cloth: k}, Rough)
	require.Equal(t, []float64{1, 2, 2}, ends(e), "0.6 of the first and 0.4 of the second: 0.8, 1.8, 1.8")
	require.Equal(t, "from its fibre, down and straw", e.Because)
	for share, known := range map[float64]bool{49: false, 50: true} {
		c, k := toy(toyRow{"fibre", "down", "rough", 0, 1, 1})
		k.Content[0].Share, k.Content[1].Share = percent(share), percent(100-share)
		require.Equal(t, known, c.Estimate(Subject{Cloth: k}, Rough).Known(), "%g %% is known", share)
	}
}

// Light cloth wears a step less than its fibres do, heavy cloth a step more: under 80,
// over 280 g/m² (practice).
func TestMassMovesHardWear(t *testing.T) {
	for mass, grade := range map[float64]float64{79: 0, 80: 1, 280: 1, 281: 2} {
		c, k := toy(toyRow{"fibre", "down", "wear", 1, 1, 1}, toyRow{"cloth", "stuff", "mass", mass, mass, mass})
		require.Equal(t, grade, c.Estimate(Subject{Cloth: k}, Wear).Typical, "%g g/m²", mass)
	}
}

// What is half seen through lets air through, and a close weave has no holes.
func TestWindAndWhatIsSeenThrough(t *testing.T) {
	for _, x := range []struct {
		wind, show []float64
		want       []float64
	}{
		{[]float64{2, 2, 2}, []float64{1, 1, 1}, []float64{2, 2, 2}},
		{[]float64{2, 2, 2}, []float64{2, 2, 2}, []float64{1, 1, 1}},
		{[]float64{1, 2, 3}, []float64{3, 3, 3}, []float64{1, 1, 2}}, // never open
		{[]float64{1, 1, 1}, []float64{3, 3, 3}, []float64{1, 1, 1}}, // an airy one says so already
	} {
		c, k := toy(toyRow{"structure", "mat", "wind", x.wind[0], x.wind[1], x.wind[2]}, toyRow{"cloth", "stuff", "show-through", x.show[0], x.show[1], x.show[2]})
		require.Equal(t, x.want, ends(c.Estimate(Subject{Cloth: k}, Wind)), "%v", x)
	}
}

// The yarns of a slippery fibre part more readily than the weave alone would let them.
func TestASlipperyFibreSlipsInAnyWeave(t *testing.T) {
	fibre := func(grade float64) Estimate {
		c, k := toy(toyRow{"structure", "mat", "slip", 0, 1, 3}, toyRow{"fibre", "down", "slip", grade, grade, grade})
		return c.Estimate(Subject{Cloth: k}, Slip)
	}
	require.Equal(t, []float64{0, 1, 3}, ends(fibre(1)), "not more slippery than the weave is open")
	require.Equal(t, []float64{2, 2, 3}, ends(fibre(2)))
	require.Contains(t, fibre(2).Because, "its fibre is slippery")
}

// A cloth burns as the quickest fibre of which there is enough to carry the flame, 15 %,
// and a grade quicker where it is under 88 g/m² or raised; not both.
func TestFlameOfACloth(t *testing.T) {
	for _, x := range []struct {
		share, mass, nap, down, straw, want float64
	}{
		{14, 200, 0, 0, 2, 0},
		{15, 200, 0, 0, 2, 2},
		{15, 88, 0, 0, 2, 2},
		{15, 87, 0, 0, 2, 3},
		{15, 200, 1, 0, 2, 3},
		{15, 87, 2, 2, 1, 3},
		{50, 50, 2, 1, 0, 1}, // what burns slowly is not fanned
	} {
		c, k := toy(toyRow{"fibre", "down", "flame", x.down, x.down, x.down}, toyRow{"fibre", "straw", "flame", x.straw, x.straw, x.straw},
			toyRow{"cloth", "stuff", "mass", x.mass, x.mass, x.mass}, toyRow{"structure", "mat", "nap", x.nap, x.nap, x.nap})
		k.Content[0].Share, k.Content[1].Share = percent(100-x.share), percent(x.share)
		require.Equal(t, x.want, c.Estimate(Subject{Cloth: k}, Flame).Typical, "%+v", x)
	}
}

// Five washes take from a cloth as many times more than the first as they take from its
// structure; where the first takes nothing from that, as much more. By hand.
func TestLaterWashesAreWorkedFromTheFirst(t *testing.T) {
	for _, x := range []struct{ first, five, own, want []float64 }{
		{[]float64{2, 3, 4}, []float64{4, 6, 10}, []float64{1, 2, 3}, []float64{2, 4, 7.5}},
		{[]float64{0, 2, 4}, []float64{1, 1, 4}, []float64{1, 2, 3}, []float64{2, 2, 3}}, // never less than the first
		{[]float64{0.5, 0.5, 1}, []float64{2, 2, 2}, []float64{1, 1, 1.5}, []float64{4, 4, 4}},
	} {
		c, k := toy(toyRow{"structure", "mat", "shrink warp wash", x.first[0], x.first[1], x.first[2]}, toyRow{"structure", "mat", "shrink warp later-wash", x.five[0], x.five[1], x.five[2]},
			toyRow{"cloth", "stuff", "shrink warp wash", x.own[0], x.own[1], x.own[2]})
		e, known := c.Shrink(Subject{Cloth: k}, "warp", "later-wash")
		require.True(t, known)
		require.InDeltaSlice(t, x.want, ends(e), 1e-9)
		require.Contains(t, e.Because, "its structure, mat goes on to lose")
		_, known = c.Shrink(Subject{Cloth: k}, "weft", "later-wash")
		require.False(t, known, "nothing is recorded of the weft")
	}
	c, k := toy(toyRow{"fibre", "down", "shrink weft wash", 1, 1, 1}, toyRow{"fibre", "down", "shrink weft later-wash", 3, 3, 3}, toyRow{"cloth", "stuff", "shrink weft steam", 0, 1, 2})
	e, _ := c.Shrink(Subject{Cloth: k}, "weft", "later-wash")
	require.InDeltaSlice(t, []float64{3, 3, 3}, ends(e), 1e-9, "by its fibres")
	e, known := c.Shrink(Subject{Cloth: k}, "weft", "steam")
	require.True(t, known)
	require.Equal(t, []float64{0, 1, 2}, ends(e))
}

// What one direction of bending length tells of the others: the overall one is 0.94 of
// the warp, 1.07 of the weft, and their geometric mean where both were read; warp and
// weft stand √1.14 off it (median of warp over weft, 251 cloths).
func TestOneDirectionTellsTheOthers(t *testing.T) {
	c, k := toy()
	at := func(p Property, known map[Property]float64) Estimate {
		s := Subject{Cloth: k, Known: map[Property]Estimate{}}
		for p, v := range known {
			s.Known[p] = Figure(p, 0.9*v, v, v/0.9, Measured, "")
		}
		return c.Estimate(s, p)
	}
	require.InDelta(t, 0.94*2, at(BendingLength, map[Property]float64{BendingLengthWarp: 2}).Typical, 1e-9)
	require.InDelta(t, 1.07*2, at(BendingLength, map[Property]float64{BendingLengthWeft: 2}).Typical, 1e-9)
	both := at(BendingLength, map[Property]float64{BendingLengthWarp: 2, BendingLengthWeft: 4.5})
	require.InDeltaSlice(t, []float64{2.7, 3, 3 / 0.9}, ends(both), 1e-9)
	require.Equal(t, "geometric mean of your warp and weft", both.Because)
	overall := map[Property]float64{BendingLength: 2}
	for p, ratio := range map[Property]float64{BendingLengthWarp: math.Sqrt(1.14), BendingLengthWeft: 1 / math.Sqrt(1.14), BendingLengthBias: 1} {
		e := at(p, overall)
		require.InDelta(t, 2*ratio, e.Typical, 0.001, p)
		require.Greater(t, e.High/e.Low, 1/0.81, "it is less sure than what was read")
	}
	require.Equal(t, "firm", at(Hand, map[Property]float64{BendingLength: 2.5}).Words[1])
	require.False(t, at(Fray, overall).Known())
}

// The bands of hand are parted at 1.25, 1.75, 2.25, 2.75 and 3.5 cm, each edge in the
// stiffer band.
func TestBandsOfHand(t *testing.T) {
	for cm, hand := range map[float64]string{0.1: "fluid", 1.24: "fluid", 1.25: "soft", 1.74: "soft", 1.75: "moderate", 2.24: "moderate", 2.25: "firm", 2.74: "firm", 2.75: "crisp", 3.49: "crisp", 3.5: "rigid", 20: "rigid"} {
		require.Equal(t, hand, HandScale.Word(bandOf(cm)), "%g", cm)
	}
}

// Factors change figures, steps change grades, and both are told.
func TestWhatATreatmentDoes(t *testing.T) {
	c, k := toy(toyRow{"structure", "mat", "fray", 1, 2, 2}, toyRow{"structure", "mat", "shrink warp wash", 2, 4, 6})
	washed := &Treatment{ID: "washed", Name: "washed"}
	k.Treatments = []*Treatment{washed}
	c.effects[ref{"treatment", "washed", "effects"}] = []effect{{property: "fray", low: 0, typical: -1, high: 1, Cite: Cite{Source: "practice"}},
		{property: "shrink-warp", low: 0.25, typical: 0.5, high: 1, Cite: Cite{Source: "practice"}}}
	fray, shrink := c.Estimate(Subject{Cloth: k}, Fray), c.Estimate(Subject{Cloth: k}, ShrinkWarp)
	require.Equal(t, []float64{1, 1, 3}, ends(fray))
	require.Equal(t, []float64{0.5, 2, 6}, ends(shrink))
	for _, e := range []Estimate{fray, shrink} {
		require.Equal(t, "from its structure, mat, changed by being washed", e.Because)
		require.Equal(t, Derived, e.Basis)
	}
	require.False(t, c.Estimate(Subject{Cloth: k}, ShrinkWeft).Known())
}

// The chain tells each place that was asked, what was found there, and which answered.
func TestTheChainOfAnEstimate(t *testing.T) {
	c, k := toy(toyRow{"cloth", "stuff", "mass", 100, 120, 150}, toyRow{"structure", "mat", "fray", 1, 2, 2}, toyRow{"cloth", "stuff", "rough", 1, 1, 1}, toyRow{"fibre", "straw", "rough", 3, 3, 3})
	told := func(s Subject, p Property) (out []string) {
		for _, r := range c.Estimate(s, p).Chain {
			used := ""
			if r.Used {
				used = " *"
			}
			out = append(out, r.Asked+": "+r.Found+used)
		}
		return out
	}
	name := Subject{Cloth: k}
	require.Equal(t, []string{"your own measurement: none", "practice for the cloth: 100 – 120 – 150 g/m2 [practice] *"}, told(name, Mass))
	require.Equal(t, []string{"your own measurement: none", "published or practice for the cloth: none", "practice for its structure, mat: low – medium [practice] *", "derived: low – medium, from its structure, mat *"}, told(name, Fray))
	require.Equal(t, []string{"your own measurement: none", "published or practice for the cloth: none", "derived: nothing to derive it from"}, told(name, Wash))
	own := Subject{Cloth: k, Known: map[Property]Estimate{Mass: Figure(Mass, 110, 110, 110, Measured, "")}}
	require.Equal(t, []string{"your own measurement: 110 g/m2 *"}, told(own, Mass))
	require.Equal(t, []string{"your own hand: soft *"}, told(Subject{Cloth: k}.Feeling(1, 1), Hand))
	straw := Subject{Cloth: k, Content: []Part{{c.Fibres["straw"], percent(100)}}}
	require.Equal(t, []string{"your own measurement: none", "practice for the cloth: is of other fibres than the label of yours", "published or practice for the cloth: none", "derived: scratchy, from its fibre, straw *"}, told(straw, Rough))
}

// Whether a cloth keeps the size that heat set: woven, and no more than a tenth of other
// fibres.
func TestWhatHeatSets(t *testing.T) {
	for _, x := range []struct {
		other float64
		class string
		want  bool
	}{{10, "woven", true}, {11, "woven", false}, {0, "woven", true}, {0, "knit", false}} {
		k := &Cloth{Structure: &Structure{Class: x.class}, Content: []Part{{&Fibre{Family: "synthetic"}, percent(100 - x.other)}, {&Fibre{Family: "cellulose"}, percent(x.other)}}}
		require.Equal(t, x.want, allSet(k), "%+v", x)
	}
	require.False(t, allSet(&Cloth{Structure: &Structure{Class: "woven"}}), "of what it is made is not known")
}

// What stretches as far as the scale goes is not said to stretch further.
func TestElastaneAddsToNothingBeyondTheScale(t *testing.T) {
	for grade, says := range map[float64]bool{2: true, 3: false} {
		c, k := toy(toyRow{"structure", "mat", "stretch", grade, grade, grade})
		k.Content = append(k.Content, Part{&Fibre{ID: "elastane", Name: "elastane"}, percent(5)})
		e := c.Estimate(Subject{Cloth: k}, Stretch)
		require.Equal(t, 3.0, e.Typical)
		require.Equal(t, says, strings.Contains(e.Because, "elastane adds to it"), "from %g", grade)
	}
}

// A weighed cloth moves what follows mass, also what is seen through it though that is
// worked out of its structure; what was worked out of the mass itself is not moved again.
func TestWhatAWeightMoves(t *testing.T) {
	c, k := toy(toyRow{"cloth", "stuff", "mass", 80, 120, 180}, toyRow{"structure", "mat", "show-through", 0, 1, 3}, toyRow{"fibre", "down", "wear", 0, 1, 2})
	heavy := Subject{Cloth: k}.With(c, Mass, 180, 180)
	require.Less(t, c.Estimate(heavy, ShowThrough).High, 3.0)
	require.Contains(t, c.Estimate(heavy, ShowThrough).Because, "at the mass you gave")
	require.NotContains(t, c.Estimate(heavy, Wear).Because, "at the mass you gave", "a grade of the fibres is moved by steps")
	guessed, k := toy(toyRow{"cloth", "stuff", "mass", 80, 120, 180})
	require.NotContains(t, guessed.Estimate(Subject{Cloth: k}.With(guessed, Mass, 180, 180), ShowThrough).Because, "at the mass you gave")
}

// A figure without a lower end spreads upwards alone.
func TestSpreadOfAFigure(t *testing.T) {
	e := spread(Estimate{Low: 1, Typical: 2, High: 4, Basis: Measured}, 1.5, 0, "why")
	require.InDeltaSlice(t, []float64{1.5, 3, 6}, ends(e), 1e-9)
	require.Equal(t, []any{Derived, "why"}, []any{e.Basis, e.Because})
	e = spread(Estimate{Typical: 2, High: 4}, 1, 0, "")
	require.InDeltaSlice(t, []float64{2, 2, 2}, ends(e), 1e-9)
	e = spread(Estimate{Low: 2, Typical: 2, High: 2}, 1, 0.1, "")
	require.InDeltaSlice(t, []float64{2 * math.Exp(-0.1*z90), 2, 2 * math.Exp(0.1*z90)}, ends(e), 1e-9)
}
