package advise

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
)

// The walk ends where the check does: same figure, same share, same verdict, for every
// demand of every piece.
func TestWhyEndsAtTheVerdict(t *testing.T) {
	a := adviser(t)
	finish, err := a.Finish("bagged-lining")
	require.NoError(t, err)
	walked := map[string]int{}
	for _, p := range a.Pieces {
		for _, f := range []*Finish{finish, nil} {
			m := MakeUp{Piece: p, Finish: f, Shell: &fibres.Subject{Cloth: a.Cat.Cloths["cotton-sateen"]}, Lining: &fibres.Subject{Cloth: a.Cat.Cloths["silk-taffeta"]}}
			if f == nil {
				m.Lining = nil
			}
			j := a.judge(m)
			for _, k := range j.asked {
				why, err := a.Why(m, k.demand.Fact)
				require.NoError(t, err, "%s %s", p.ID, k.demand.ID)
				require.Equal(t, j.share, why.Share)
				require.Equal(t, j.verdict, why.Verdict)
				require.NotEmpty(t, why.Steps, "%s %s", p.ID, k.demand.ID)
				for _, s := range why.Steps {
					require.NotEmpty(t, s.Step)
					require.NotEmpty(t, s.How, "%s of %s", s.Step, p.ID)
					for _, id := range s.Sources {
						require.Contains(t, a.Cat.Sources, id, s.Step)
					}
				}
				if !k.known {
					continue
				}
				walked[k.demand.Fact]++
				met := why.Met
				require.InDelta(t, 1, met.Ideal+met.Partly+met.Outside, 1e-9)
				require.GreaterOrEqual(t, met.Share, met.Ideal-1e-9)
				require.LessOrEqual(t, met.Share, met.Ideal+met.Partly+1e-9)
				have := a.sayDemand(j, k).Have
				last := why.Steps[len(why.Steps)-1].Have
				require.InDelta(t, have.Typical, last.Typical, 0.05*math.Abs(last.Typical), "%s %s: the last step is the figure that is judged", p.ID, k.demand.Fact)
				require.InDelta(t, have.Low, last.Low, 0.05*math.Abs(last.Low))
				for i := 1; i < len(met.At); i++ {
					require.GreaterOrEqual(t, met.At[i].Value, met.At[i-1].Value)
				}
				_, err = json.Marshal(why)
				require.NoError(t, err)
			}
		}
	}
	require.Greater(t, walked["make-up.stand-off"], 20)
	require.Greater(t, walked["make-up.mass"], 5)
}

// Each step of the fall follows from the one before: joining lengthens the bending length,
// the strip's mass draws the edge in.
func TestWhyFallStepByStep(t *testing.T) {
	a := adviser(t)
	why, err := a.Why(makeUp(t, "hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta"), "fall")
	require.NoError(t, err)
	by := map[string]fibres.Estimate{}
	for _, s := range why.Steps {
		by[s.Step] = s.Have
	}
	loose, joined := by["the layers lying loose"], by["the layers joined along the edge"]
	require.True(t, loose.Known())
	require.Greater(t, joined.Typical, loose.Typical)
	require.Less(t, joined.Typical, 1.59*loose.Typical)
	shell, lining := by["bending length of the shell, cotton sateen"], by["bending length of the lining, silk taffeta"]
	require.Greater(t, loose.Typical, shell.Typical)
	require.Less(t, loose.Typical, lining.Typical)
	without, with := by["how far the edge would stand off without its strip"], by["how far out the edge stands with its strip"]
	require.Greater(t, without.Typical, with.Typical)
	for _, s := range why.Steps {
		if s.Layer != "" {
			require.NotEmpty(t, s.Chain, s.Step)
		}
	}
}

func TestWhyOfADemandThatIsNotThere(t *testing.T) {
	_, err := adviser(t).Why(makeUp(t, "hooded-wrap, bagged-lining, shell cotton-sateen"), "fal")
	f := fault.All(err)[0]
	require.Equal(t, fault.NotFound, f.Kind)
	require.Contains(t, f.Expected, "fall")
	require.Contains(t, f.Mend, "fall")
	_, err = adviser(t).Why(MakeUp{}, "fall")
	require.ErrorContains(t, err, "no cloth is named")
}

// A walk to a demand of one layer is that of its figure alone; one to a demand of the make-up
// begins with the layers that hang in it, and ends with the figure of the whole.
func TestWhichStepsAWalkTakes(t *testing.T) {
	a := adviser(t)
	j := a.judge(makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill"))
	loose := a.judge(makeUp(t, "half-circle-cape, single-layer-hem, shell wool-flannel, lining viscose-twill"))
	steps := func(j *judged, fact string) (out []string) {
		for _, s := range a.whySteps(j, &Demand{fact: a.place(fact), Fact: fact}) {
			out = append(out, s.Step)
		}
		return out
	}
	require.Equal(t, []string{"fray of the shell, wool flannel"}, steps(j, "shell.fray"))
	require.Equal(t, []string{"fray of the lining, viscose twill"}, steps(j, "lining.fray"))
	require.Equal(t, []string{"mass of the shell, wool flannel", "mass of the lining, viscose twill", "mass of all full layers"}, steps(j, "make-up.mass"))
	require.Equal(t, []string{"mass of the shell, wool flannel", "mass of all full layers"}, steps(loose, "make-up.mass"), "a lining that hangs apart has no part in it")
	j.make.Lining = nil
	require.Equal(t, []string{"fray of the shell, wool flannel"}, steps(j, "shell.fray"))
	require.Empty(t, steps(j, "lining.fray"))
	j.make.Finish = nil
	require.Equal(t, []string{"mass of the shell, wool flannel", "mass of all full layers"}, steps(j, "make-up.mass"))

	x, y := &Demand{}, &Demand{}
	two := &judged{asked: []asked{{demand: x, column: []float64{1}}, {demand: y, column: []float64{2}}}}
	require.Equal(t, []float64{2}, columnOf(two, y))
	require.Nil(t, columnOf(two, &Demand{}))
}

// The way to the bending length: layers that lie loose where there are several, their joining
// where something joins them, and what is mounted on them; one layer is that of the shell.
func TestTheWayToTheBendingLength(t *testing.T) {
	a := adviser(t)
	shell, lining := makeUp(t, "shell wool-flannel").Shell, makeUp(t, "shell viscose-twill").Shell
	way := func(m MakeUp) (steps, how []string) {
		m.Shell = shell
		for _, s := range a.whyBending(a.judge(m)) {
			steps, how = append(steps, s.Step), append(how, s.How)
		}
		return steps, how
	}
	steps, _ := way(MakeUp{})
	require.Equal(t, []string{"bending length of the make-up"}, steps)
	steps, _ = way(MakeUp{Finish: &Finish{Layers: 1, Joined: "fused"}})
	require.Equal(t, []string{"bending length of the make-up"}, steps, "one layer is joined to nothing")
	steps, how := way(MakeUp{Finish: &Finish{Layers: 2}})
	require.Equal(t, []string{"the layers lying loose"}, steps)
	require.Contains(t, how[0], "2 layers of shell")
	steps, how = way(MakeUp{Finish: &Finish{Layers: 2, Joined: "quilted", Lined: true}, Lining: lining})
	require.Equal(t, []string{"the layers lying loose", "the layers quilted"}, steps)
	require.Contains(t, how[0], "1 of shell and one of lining")
	mount := &Interfacing{Name: "organza", Role: "underlining", Stiffness: 0.5}
	steps, how = way(MakeUp{Interfacing: mount})
	require.Equal(t, []string{"mounted on organza"}, steps)
	require.Contains(t, how[0], "it adds 0.5 times")
	steps, _ = way(MakeUp{Interfacing: &Interfacing{Name: "organza", Role: "underlining"}})
	require.Equal(t, []string{"bending length of the make-up"}, steps, "it is not known how stiff it is")
	require.Equal(t, []string{"garcia-camacho-2024", "practice"}, []string{bondSource(hang.Edge), bondSource(hang.Quilted)})
}

// The stand-off is told with its strip and without, or in one step where there is none.
func TestTheWayToTheStandOff(t *testing.T) {
	a := adviser(t)
	m := MakeUp{Shell: makeUp(t, "shell wool-flannel").Shell, Piece: &Piece{Flap: 15}, Finish: &Finish{Layers: 1, StripWidth: 2, StripLayers: 3}}
	j := a.judge(m)
	list := a.whyStandOff(j)
	require.Len(t, list, 2)
	bend := estimateOf(j.composite.bend, "cm", nil, "", nil).Typical
	require.InDelta(t, exactStandOff(flapKind{flap: 15}, bend), list[0].Have.Typical, 0.02)
	require.InDelta(t, exactStandOff(flapKind{15, 2, 3, 3}, bend), list[1].Have.Typical, 0.02)
	require.Contains(t, list[1].How, "the last 2 cm is 3 times as rigid and 3 times as heavy (3 layers lie in it)")
	m.Finish = &Finish{Layers: 1}
	require.Len(t, a.whyStandOff(a.judge(m)), 1)
	m.Piece = &Piece{}
	require.Nil(t, a.whyStandOff(a.judge(m)))
	m.Finish, m.Piece, m.Lining = &Finish{Layers: 2, Lined: true, StripWidth: 2, StripLayers: 4}, &Piece{Flap: 15}, m.Shell
	require.Contains(t, a.whyStandOff(a.judge(m))[1].How, "is 2 times as rigid")
}

// How the members meet a demand: inside, between and beyond, by which demand each fails most,
// and the figures that a twentieth to nineteen of twenty lie below.
func TestHowTheMembersMeetADemand(t *testing.T) {
	a := adviser(t)
	column, other := make([]float64, fibres.N), make([]float64, fibres.N)
	for i := range column {
		switch { // a quarter inside, a quarter half-way, half beyond, of which 28 fail by another more
		case i < 64:
			column[i] = 1
		case i < 128:
			column[i] = 1.5
		default:
			column[i] = 2 + float64(i)/1000
		}
		other[i] = 1
		if i >= 100 && i < 128 {
			other[i] = 3
		}
	}
	of := func(id string, column []float64) asked {
		return asked{demand: &Demand{ID: id, Fact: "make-up.mass", fact: a.place("make-up.mass"), Ideal: Bounds{0, 1}, Limit: Bounds{0, 2}}, known: true, column: column, share: 0.375}
	}
	j := &judged{make: makeUp(t, "shell denim"), asked: []asked{of("mass", column), of("bulk", other), {demand: &Demand{ID: "none"}}}}
	w := a.whyShare(j, &j.asked[0])
	require.Equal(t, []float64{0.25, 0.25, 0.5, 0.375}, []float64{w.Ideal, w.Partly, w.Outside, w.Share})
	require.Equal(t, map[string]int{"mass": 36 + 128, "bulk": 28}, w.Worst)
	require.Equal(t, []WhyQuantile{{0.05, 1, 1}, {0.1, 1, 1}, {0.25, 1.5, 0.5}, {0.5, 2.128, 0}, {0.75, 2.192, 0}, {0.9, 2.23, 0}, {0.95, 2.243, 0}}, w.At)
	require.Empty(t, a.whyShare(j, &j.asked[2]).At)
}
