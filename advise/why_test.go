package advise

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/fault"
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
	require.Error(t, err)
}
