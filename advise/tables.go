package advise

import (
	"math"
	"sync/atomic"

	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/memo"
	"tenter/fibres/units"
)

// tables keeps what thousands of make-ups of one question share: the stand-off
// of its flap over the bending length, and the spread of its joining.
type tables struct {
	stand memo.Cache[flapKind, *standTable]
	bond  memo.Cache[hang.Joint, *[fibres.N]float64]

	demands memo.Cache[demandsKey, []*Demand]
}

// maxDemands is of how many kinds of make-up the demands are kept.
const maxDemands = 64

// demandsKey is what the demands of a make-up hang on, beside its wishes.
type demandsKey struct {
	piece      *Piece
	finish     *Finish
	job, outer *Job
}

// flapKind is a flap by its length and the strip along its edge.
type flapKind struct {
	flap, strip    units.Length
	rigidity, mass float64
}

// standTable holds the stand-off in cm at bending lengths spaced evenly in ln,
// read by straight lines between them; its error against hang is under 0.1 %
// (TestStandTable). A question of one cloth reads a small part of it, so each
// entry is worked out when it is first read: it is the same whoever does it.
type standTable struct {
	kind flapKind
	v    [standSteps + 1]atomic.Uint64 // the bits of the figure; 0 until it is known
}

func (t *standTable) entry(i int) float64 {
	if b := t.v[i].Load(); b != 0 {
		return math.Float64frombits(b)
	}
	s := exactStandOff(t.kind, math.Exp(standLn0+float64(i)/standPer))
	t.v[i].Store(math.Float64bits(s))
	return s
}

const (
	standSteps = 600
	standLow   = 0.2 // cm
	standHigh  = 25  // cm
)

var (
	standLn0 = math.Log(standLow)
	standPer = standSteps / (math.Log(standHigh) - math.Log(standLow))
)

func (t *standTable) at(c float64) float64 {
	x := (math.Log(c) - standLn0) * standPer
	i := min(max(int(x), 0), standSteps-1)
	f := x - float64(i)
	low := t.entry(i)
	return low + f*(t.entry(i+1)-low)
}

// exactStandOff asks the mechanics.
func exactStandOff(k flapKind, c float64) float64 {
	if k.strip > 0 {
		return float64(hang.StandOffStrip(k.flap, units.Length(c), k.strip, k.rigidity, k.mass))
	}
	return float64(hang.StandOff(k.flap, units.Length(c)))
}

func (t *tables) standOff(k flapKind) *standTable {
	return t.stand.Get(k, func() *standTable { return &standTable{kind: k} })
}

// bonds deals the part of a full bond that a way of joining gives round the
// members in a fixed order, evenly from its low to its typical and from there to
// its high figure, so that the doubt of the mechanics is a spread of the answer.
func (t *tables) bonds(j hang.Joint) *[fibres.N]float64 {
	return t.bond.Get(j, func() *[fibres.N]float64 { return bondsOf(j) })
}

func bondsOf(j hang.Joint) *[fibres.N]float64 {
	low, typical, high := j.Bond()
	out := &[fibres.N]float64{}
	for i := range out {
		u := (float64((i*97)%fibres.N) + 0.5) / fibres.N
		if u < 0.5 {
			out[i] = low + (typical-low)*2*u
		} else {
			out[i] = typical + (high-typical)*(2*u-1)
		}
	}
	return out
}
