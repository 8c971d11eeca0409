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
