// Package expression times a general expression library on the rules that
// advise/rules times its own engine on (BenchmarkFireAll): the same conditions, over
// as many cloths and members. It is in the module of the tools, so that the library
// is no dependency of the product.
package expression

import (
	"math/rand/v2"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"
)

const (
	cloths  = 260
	rules   = 200
	members = 256
)

// member is one cloth of a population, in its make-up.
type member struct {
	Piece, Finish                               string
	Features                                    []string
	Mass, LiningMass, Fray, ShowThrough, Shrink float64
}

var conditions = []string{
	`Piece == "sash" and Fray >= 2`,
	`Finish == "bagged-lining" and Mass > 150`,
	`Fray >= 2`,
	`Mass >= 80 and Mass <= 200 and ShowThrough <= 1`,
	`("hood" in Features or "cord" in Features) and Shrink > 5`,
	`LiningMass < Mass`,
	`Piece != "sash" and ShowThrough == 3 and Fray == 3`,
	`Finish == "single-layer" and Mass < 300`,
}

func population() [][]member {
	r := rand.New(rand.NewPCG(7, 7))
	out := make([][]member, cloths)
	for i := range out {
		base := 40 + 300*r.Float64()
		for range members {
			out[i] = append(out[i], member{Piece: "hooded-wrap", Finish: "bagged-lining", Features: []string{"hood", "curved edge"},
				Mass: base * (0.7 + 0.6*r.Float64()), LiningMass: 60 + 40*r.Float64(), Fray: float64(r.IntN(4)), ShowThrough: float64(r.IntN(4)), Shrink: 10 * r.Float64()})
		}
	}
	return out
}

func BenchmarkExpression(b *testing.B) {
	var programs []*vm.Program
	for i := range rules {
		p, err := expr.Compile(conditions[i%len(conditions)], expr.Env(member{}), expr.AsBool())
		if err != nil {
			b.Fatal(err)
		}
		programs = append(programs, p)
	}
	all := population()
	holds := 0
	var machine vm.VM
	for b.Loop() {
		for _, cloth := range all {
			for _, p := range programs {
				for i := range cloth {
					got, err := machine.Run(p, &cloth[i])
					if err != nil {
						b.Fatal(err)
					}
					if got.(bool) {
						holds++
					}
				}
			}
		}
	}
	if holds == 0 {
		b.Fatal("nothing held")
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/cloths/rules, "ns/rule")
}
