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
