package rules

import (
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
)

const (
	benchCloths  = 260
	benchRules   = 200
	benchMembers = 256
)

// cloth is what the bare loop knows of a make-up.
type cloth struct {
	piece, finish     string
	features          []string
	mass, liningMass  []float64
	fray, showThrough []float64
	shrink            []float64
}

// The conditions are of the sorts that rules have: most are silenced by an id,
// some run over the population.
var benchWhen = [][]string{
	{"piece", "sash", "shell.fray", "at least medium"},
	{"finish", "bagged-lining", "shell.mass", "over 150 g/m2"},
	{"shell.fray", "at least medium"},
	{"shell.mass", "80 to 200 g/m2", "shell.show-through", "at most low"},
	{"piece.features", "hood or cord", "shell.shrink-warp", "over 5 %"},
	{"lining.mass", "under shell.mass"},
	{"piece", "not sash", "shell.show-through", "high", "shell.fray", "high"},
	{"finish", "single-layer", "shell.mass", "under 300 g/m2"},
}

func contains(l []string, a, b string) bool {
	for _, x := range l {
		if x == a || x == b {
			return true
		}
	}
	return false
}

// bare is the same arithmetic written out by hand.
func bare(k *cloth, which int) float64 {
	n := 0
	switch which {
	case 0:
		if k.piece != "sash" {
			return 0
		}
		for _, x := range k.fray {
			if x >= 2 {
				n++
			}
		}
	case 1:
		if k.finish != "bagged-lining" {
			return 0
		}
		for _, x := range k.mass {
			if x > 150 {
				n++
			}
		}
	case 2:
		for _, x := range k.fray {
			if x >= 2 {
				n++
			}
		}
	case 3:
		for i, x := range k.mass {
			if x >= 80 && x <= 200 && k.showThrough[i] <= 1 {
				n++
			}
		}
	case 4:
		if !contains(k.features, "hood", "cord") {
			return 0
		}
		for _, x := range k.shrink {
			if x > 5 {
				n++
			}
		}
	case 5:
		for i, x := range k.mass {
			if k.liningMass[i] < x {
				n++
			}
		}
	case 6:
		if k.piece == "sash" {
			return 0
		}
		for i, x := range k.showThrough {
			if x == 3 && k.fray[i] == 3 {
				n++
			}
		}
	case 7:
		if k.finish != "single-layer" {
			return 0
		}
		for _, x := range k.mass {
			if x < 300 {
				n++
			}
		}
	}
	return float64(n) / benchMembers
}

// cloths draws the population of the benchmark, once for each way of judging.
func cloths(b *testing.B, s *Schema) ([]*Case, []*cloth) {
	r := rand.New(rand.NewPCG(7, 7))
	column := func(f func() float64) []float64 {
		v := make([]float64, benchMembers)
		for i := range v {
			v[i] = f()
		}
		return v
	}
	lining := column(func() float64 { return 60 + 40*r.Float64() })
	cs, ks := make([]*Case, benchCloths), make([]*cloth, benchCloths)
	for i := range cs {
		base := 40 + 300*r.Float64()
		k := &cloth{piece: "hooded-wrap", finish: "bagged-lining", features: []string{"hood", "curved edge"},
			mass: column(func() float64 { return base * (0.7 + 0.6*r.Float64()) }), liningMass: lining,
			fray:        column(func() float64 { return float64(r.IntN(4)) }),
			showThrough: column(func() float64 { return float64(r.IntN(4)) }),
			shrink:      column(func() float64 { return 10 * r.Float64() })}
		c := s.NewCase(benchMembers)
		for name, v := range map[string]any{"piece": k.piece, "finish": k.finish, "piece.features": k.features, "shell.mass": k.mass,
			"lining.mass": k.liningMass, "shell.fray": k.fray, "shell.show-through": k.showThrough, "shell.shrink-warp": k.shrink} {
			set(b, s, c, name, v)
		}
		cs[i], ks[i] = c, k
	}
	return cs, ks
}

func BenchmarkFireAll(b *testing.B) {
	s := testSchema(b)
	cs, _ := cloths(b, s)
	var rs []*Rule
	for i := range benchRules {
		rs = append(rs, rule(b, s, strconv.Itoa(i), benchWhen[i%len(benchWhen)]...))
	}
	var dst []Firing
	b.ReportAllocs()
	for b.Loop() {
		for _, c := range cs {
			dst = speaking(dst[:0], rs, c)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/benchCloths/benchRules, "ns/rule")
}

// BenchmarkGrowth is what more rules cost.
func BenchmarkGrowth(b *testing.B) {
	s := testSchema(b)
	cs, _ := cloths(b, s)
	for _, n := range []int{50, 200, 800} {
		b.Run("rules="+strconv.Itoa(n), func(b *testing.B) {
			var rs []*Rule
			for i := range n {
				rs = append(rs, rule(b, s, strconv.Itoa(i), benchWhen[i%len(benchWhen)]...))
			}
			var dst []Firing
			for b.Loop() {
				for _, c := range cs {
					dst = speaking(dst[:0], rs, c)
				}
			}
		})
	}
}

func BenchmarkBareLoop(b *testing.B) {
	s := testSchema(b)
	cs, ks := cloths(b, s)
	for i, when := range benchWhen { // both say the same
		r := rule(b, s, "r", when...)
		for j := range cs {
			if got, want := r.Fire(cs[j]).Share, bare(ks[j], i); got != want {
				b.Fatalf("%v: %v by rule, %v by hand", when, got, want)
			}
		}
	}
	var sum float64
	b.ReportAllocs()
	for b.Loop() {
		for _, k := range ks {
			for i := range benchRules {
				sum += bare(k, i%len(benchWhen))
			}
		}
	}
	if sum == 0 {
		b.Fatal("nothing fired")
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/benchCloths/benchRules, "ns/rule")
}

func BenchmarkLoad(b *testing.B) {
	s := testSchema(b)
	s.Imply(implies(s))
	one, err := os.ReadFile("testdata/sound.toml")
	if err != nil {
		b.Fatal(err)
	}
	var all strings.Builder
	for i := range benchRules {
		all.WriteString(strings.Replace(string(one), "RULE", "rule-"+strconv.Itoa(i), 1))
	}
	data := []byte(all.String())
	b.ReportAllocs()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if rs, _, err := Load(s, File{Name: "a.toml", Data: data}); err != nil || len(rs) != benchRules {
			b.Fatal(len(rs), err)
		}
	}
}
