package fibres

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// swatch is a lesson of one measured figure.
func swatch(c *Catalogue, name, cloth string, p Property, v float64) Lesson {
	return Lesson{Swatch: name, Cloth: c.Cloths[cloth], Known: map[Property]Estimate{p: Figure(p, v*0.96, v, v*1.04, Measured, "")}}
}

func typical(c *Catalogue, cloth string, p Property) Estimate {
	return c.Estimate(Subject{Cloth: c.Cloths[cloth]}, p)
}

func width(e Estimate) float64 { return math.Log(e.High / e.Low) }

func TestOneSwatchMovesItsKinAndNoStranger(t *testing.T) {
	c := catalogue(t)
	for _, p := range []Property{Mass, BendingLength} {
		was := typical(c, "cotton-lawn", p)
		l := c.Learned([]Lesson{swatch(c, "attic lawn", "cotton-lawn", p, was.Typical*1.4)})
		require.NotSame(t, c, l)

		own := typical(l, "cotton-lawn", p)
		require.Greater(t, own.Typical, was.Typical*1.03, "the name moves")
		require.Less(t, own.Typical, was.Typical*1.4, "but not all the way")
		require.Less(t, width(own), width(was), "and is narrower")
		require.GreaterOrEqual(t, width(own), width(was)*math.Sqrt(1-offsetShare)-1e-9, "cloths of one name go on differing")
		require.Equal(t, Derived, own.Basis)
		last := ""
		for _, r := range own.Chain {
			last += r.Asked + ": " + r.Found + "\n"
		}
		require.Contains(t, last, "attic lawn, sold as cotton lawn (the same name)")
		require.Contains(t, own.Because, "moved by +")

		alike := typical(l, "cotton-voile", p)
		require.Greater(t, alike.Typical, typical(c, "cotton-voile", p).Typical, "cotton moves cotton")
		require.Less(t, math.Log(alike.Typical/typical(c, "cotton-voile", p).Typical)/width(typical(c, "cotton-voile", p)),
			math.Log(own.Typical/was.Typical)/width(was), "a name like it less than itself")

		require.Equal(t, typical(c, "wool-flannel", p), typical(l, "wool-flannel", p), "neither fibre nor weave is shared")
		require.Equal(t, was, typical(c, "cotton-lawn", p), "the catalogue itself is not changed")
		require.Equal(t, was, typical(l.Unlearned(), "cotton-lawn", p), "and what was learned can be left out")
	}
}

func TestWhatIsMeasuredIsNotMoved(t *testing.T) {
	c := catalogue(t)
	l := c.Learned([]Lesson{swatch(c, "a", "cotton-lawn", Mass, 200)})
	s := Subject{Cloth: c.Cloths["cotton-lawn"]}.With(c, Mass, 70, 70)
	require.Equal(t, c.Estimate(s, Mass), l.Estimate(s, Mass))
}

func TestMoreSwatchesTeachMore(t *testing.T) {
	c := catalogue(t)
	was := typical(c, "cotton-lawn", Mass)
	var list []Lesson
	last, lastWidth := was.Typical, width(was)
	for range 12 {
		list = append(list, swatch(c, "one of many", "cotton-lawn", Mass, was.Typical*1.3))
		e := typical(c.Learned(list), "cotton-lawn", Mass)
		require.Greater(t, e.Typical, last)
		require.Less(t, width(e), lastWidth)
		require.Less(t, e.Typical, was.Typical*1.3)
		last, lastWidth = e.Typical, width(e)
	}
	require.Greater(t, last, was.Typical*1.2, "a dozen that agree are believed")
}

func TestLearningDoesNotDependOnTheOrder(t *testing.T) {
	c := catalogue(t)
	var list []Lesson
	r := rand.New(rand.NewPCG(3, 4))
	for i, k := range []string{"cotton-lawn", "cotton-voile", "denim", "silk-chiffon", "wool-flannel", "cotton-lawn", "linen-sheeting", "denim"} {
		if c.Cloths[k] == nil {
			continue
		}
		list = append(list, swatch(c, strconv.Itoa(i), k, Mass, typical(c, k, Mass).Typical*math.Exp(0.3*r.NormFloat64())))
	}
	require.Greater(t, len(list), 5)
	a := c.Learned(list)
	r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	b := c.Learned(list)
	for _, k := range c.ClothList() {
		require.InEpsilon(t, typical(a, k.ID, Mass).Typical, typical(b, k.ID, Mass).Typical, 1e-9, k.ID)
	}
}

func TestNothingToLearn(t *testing.T) {
	c := catalogue(t)
	require.Same(t, c, c.Learned(nil))
	require.Same(t, c, c.Learned([]Lesson{{Swatch: "no name"}, {Swatch: "nothing measured", Cloth: c.Cloths["denim"]}}))
	l := c.Learned([]Lesson{swatch(c, "a", "denim", Mass, 400)})
	require.Same(t, c, l.Unlearned())
	require.Same(t, c, l.Learned(nil), "learning begins anew each time")
}

// TestLearningHoldsWhatItClaims lets the world be as the estimate believes it: the
// offsets of names drawn with their likeness, cloths of a name about theirs. What
// is learned from some must then hold the next cloth eight times in ten, and be
// nearer than what was predicted before.
func TestLearningHoldsWhatItClaims(t *testing.T) {
	c := catalogue(t)
	names := []string{"cotton-lawn", "cotton-voile", "cotton-poplin", "denim", "wool-flannel", "silk-chiffon", "silk-taffeta", "viscose-twill"}
	var alike []namesake
	for _, n := range names {
		k := c.Cloths[n]
		require.NotNil(t, k, n)
		alike = append(alike, namesake{cloth: k, family: familiesOf(k), sd: sdOf(typical(c, n, Mass))})
	}
	m := make([][]float64, len(alike))
	for i := range alike {
		m[i] = make([]float64, len(alike))
		for j := range alike {
			m[i][j] = alike[i].with(&alike[j])
		}
		m[i][i] += 1e-12
	}
	f := cholesky(m)
	require.NotNil(t, f)
	r := rand.New(rand.NewPCG(11, 12))
	held, total := 0, 0
	var before, after float64
	for range 300 {
		z := make([]float64, len(alike))
		for i := range z {
			z[i] = r.NormFloat64()
		}
		cloth := func(i int) float64 { // the next cloth of a name that this user meets
			off := 0.0
			for j := 0; j <= i; j++ {
				off += f[i][j] * z[j]
			}
			e := typical(c, names[i], Mass)
			return e.Typical * math.Exp(off+math.Sqrt(1-offsetShare)*alike[i].sd*r.NormFloat64())
		}
		var list []Lesson
		for i, n := range names {
			for range r.IntN(4) {
				list = append(list, swatch(c, "s", n, Mass, cloth(i)))
			}
		}
		l := c.Learned(list)
		for i, n := range names {
			v, e := cloth(i), typical(l, n, Mass)
			if e.Low <= v && v <= e.High {
				held++
			}
			total++
			before += math.Abs(math.Log(v / typical(c, n, Mass).Typical))
			after += math.Abs(math.Log(v / e.Typical))
		}
	}
	require.InDelta(t, 0.8, float64(held)/float64(total), 0.04)
	require.Less(t, after, before*0.95)
}

func BenchmarkLearned(b *testing.B) {
	c := catalogue(b)
	r := rand.New(rand.NewPCG(1, 2))
	var list []Lesson
	for _, k := range c.ClothList() {
		for range 5 {
			list = append(list, swatch(c, "s", k.ID, Mass, 100*math.Exp(r.NormFloat64())))
		}
	}
	for b.Loop() {
		l := c.Learned(list)
		for _, k := range c.ClothList() {
			typical(l, k.ID, Mass)
		}
	}
	b.ReportMetric(float64(len(list)), "swatches")
}

// Three swatches of a name are named, and how many more there are is told.
func TestTheSwatchesOfANameAreCounted(t *testing.T) {
	c := catalogue(t)
	was := typical(c, "cotton-lawn", Mass)
	told := func(n int) string {
		var l []Lesson
		for _, name := range []string{"ash", "bay", "elm", "fir", "oak"}[:n] {
			l = append(l, swatch(c, name, "cotton-lawn", Mass, was.Typical*1.4))
		}
		chain := typical(c.Learned(l), "cotton-lawn", Mass).Chain
		return chain[len(chain)-1].Found
	}
	require.Contains(t, told(3), "ash, bay, elm, sold as cotton lawn")
	require.Contains(t, told(4), "ash, bay, elm and 1 more, sold as cotton lawn")
	require.Contains(t, told(5), "ash, bay, elm and 2 more, sold as cotton lawn")
}

// One swatch of a name moves it by K/(K+e²) of how far it lies off, in ln, and takes
// K²/(K+e²) off its variance: K = ½ sd², e² = ½ sd² + error². Another name of its
// structure, of other fibres, has a quarter of K in common with it. Worked by hand.
func TestWhatOneSwatchTeaches(t *testing.T) {
	for _, off := range []float64{0.7, 1.5} {
		c, k := toy(toyRow{"cloth", "stuff", "mass", 80, 120, 180}, toyRow{"cloth", "sack", "mass", 80, 120, 180})
		sack := &Cloth{ID: "sack", Name: "sack", Structure: k.Structure, Content: []Part{{&Fibre{ID: "jute", Family: "bast"}, percent(100)}}}
		c.Cloths["sack"] = sack
		sd := math.Log(180.0/80) / (2 * z90)
		const reading = 0.05
		read := Figure(Mass, 120*off*math.Exp(-reading*z90), 120*off, 120*off*math.Exp(reading*z90), Measured, "")
		l := c.Learned([]Lesson{{Swatch: "mine", Cloth: k, Known: map[Property]Estimate{Mass: read}}})
		for _, x := range []struct {
			cloth *Cloth
			part  float64 // of K that the two have in common
		}{{k, 1}, {sack, 0.25}} {
			own := sd * sd / 2
			noise := own + reading*reading
			shift := x.part * own / (own + noise) * math.Log(off)
			narrow := math.Sqrt(1 - x.part*x.part*own*own/(own+noise)/(sd*sd))
			e := l.Estimate(Subject{Cloth: x.cloth}, Mass)
			mid := 120 * math.Exp(shift)
			require.InEpsilon(t, mid, e.Typical, 1e-4, x.cloth.ID)
			require.InEpsilon(t, mid*math.Pow(80.0/120, narrow), e.Low, 1e-4, x.cloth.ID)
			require.InEpsilon(t, mid*math.Pow(180.0/120, narrow), e.High, 1e-4, x.cloth.ID)
		}
	}
}

// How alike two names are: itself a half, its structure a quarter, families of fibre a
// quarter of the cosine between them.
func TestLikenessOfNames(t *testing.T) {
	name := func(id, structure string, families map[string]float64) *namesake {
		var content []Part
		for f, v := range families {
			content = append(content, Part{&Fibre{ID: f, Family: f}, percent(v)})
		}
		k := &Cloth{ID: id, Structure: &Structure{ID: structure}, Content: content}
		return &namesake{cloth: k, family: familiesOf(k)}
	}
	wool, mixed := map[string]float64{"protein": 100}, map[string]float64{"protein": 60, "synthetic": 80}
	a := name("a", "twill", wool)
	for _, x := range []struct {
		b    *namesake
		want float64
	}{
		{name("a", "twill", wool), 1},
		{name("b", "twill", wool), 0.5},
		{name("b", "plain", wool), 0.25},
		{name("b", "twill", mixed), 0.25 + 0.25*0.6},
		{name("b", "plain", map[string]float64{"bast": 100}), 0},
		{name("b", "", nil), 0},
	} {
		require.InDelta(t, x.want, a.like(x.b), 1e-9, "%s %s", x.b.cloth.ID, x.b.cloth.Structure.ID)
		require.InDelta(t, x.want, x.b.like(a), 1e-9)
	}
	labelled := name("a", "twill", wool)
	labelled.own = "a/other"
	require.InDelta(t, 0.5, a.like(labelled), 1e-9, "of another label it is another name")
}

// A shift is told in per cent, and not at all under half of one.
func TestShiftsInWords(t *testing.T) {
	for v, want := range map[float64]string{1.004: "less than 1 %", 0.996: "less than 1 %", 1.006: "+1 %", 0.994: "−1 %", 1.25: "+25 %", 0.5: "−50 %"} {
		require.Equal(t, want, times(math.Log(v)), "%g", v)
	}
}

// The names that moved an estimate most are told, three of them, with three swatches each;
// the others are counted.
func TestWhoMovedAnEstimate(t *testing.T) {
	k := func(id string) *Cloth {
		return &Cloth{ID: id, Name: id, Structure: &Structure{ID: "s-" + id, Name: "weave of " + id}}
	}
	l := &lessons{alpha: []float64{1, 5, 3, 2, 9}}
	for i, id := range []string{"a", "b", "c", "d", "e"} {
		l.names = append(l.names, namesake{cloth: k(id), offset: math.Log(1.1), swatches: []string{"one", "two", "three", "four", "five"}[:i+1]})
	}
	me := &namesake{cloth: k("b"), family: map[string]float64{}}
	said := l.why(me, []float64{1, 1, 1, 1, 0})
	require.Equal(t, "one, two, sold as b (the same name), +10 % from what the name says; "+
		"one, two, three, sold as c (), +10 % from what the name says; "+
		"one, two, three and 1 more, sold as d (), +10 % from what the name says; and 1 of names less like it", said)
}

// A system of equations solved by its factor, checked by putting the answer in.
func TestSolvingByAFactor(t *testing.T) {
	m := [][]float64{{4, 2, 1}, {2, 5, 3}, {1, 3, 6}}
	x := solve(cholesky(m), []float64{1, -2, 7})
	for i, want := range []float64{1, -2, 7} {
		require.InDelta(t, want, dot(m[i], x), 1e-12)
	}
	require.Nil(t, cholesky([][]float64{{1, 2}, {2, 1}}), "it is not positive")
}

// In what two names are alike is told by their structure and by the family that both have
// most of.
func TestInWhatTwoNamesAreAlike(t *testing.T) {
	twill := &Structure{ID: "twill", Name: "twill"}
	a := &namesake{cloth: &Cloth{ID: "a", Structure: twill}, family: map[string]float64{"protein": 0.8, "cellulose": 0.6}}
	b := &namesake{cloth: &Cloth{ID: "b", Structure: twill}, family: map[string]float64{"protein": 0.8, "cellulose": 0.6}}
	require.Equal(t, "twill, protein fibre", a.shared(b))
	b.family = map[string]float64{"protein": 0.1, "cellulose": 0.99}
	require.Equal(t, "twill, cellulose fibre", a.shared(b))
	b.family, b.cloth = nil, &Cloth{ID: "b", Structure: &Structure{ID: "plain", Name: "plain"}}
	require.Empty(t, a.shared(b))
	require.Equal(t, "the same name", a.shared(a))
}
