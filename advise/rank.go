package advise

import (
	"runtime"
	"sync"
	"sync/atomic"

	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// Ranked is a candidate with the subject that was judged.
type Ranked struct {
	Candidate
	Subject *fibres.Subject `json:"-"`
}

// RankShells judges a make-up with each of the subjects as its shell, best
// first. Subjects may be narrowed by what the user says, and may be swatches.
func (a *Adviser) RankShells(m MakeUp, shells []*fibres.Subject) []Ranked {
	js := a.judgeAll(m, shells, putShell)
	a.recommend(js, shellOf, a.shellTaste(m))
	return ranked(js, shellOf)
}

// RankLinings judges a make-up with each of the subjects as its lining, best
// first.
func (a *Adviser) RankLinings(m MakeUp, linings []*fibres.Subject) []Ranked {
	js := a.judgeAll(m, linings, putLining)
	a.recommend(js, liningOf, a.liningTaste(m))
	return ranked(js, liningOf)
}

func ranked(js []*judged, who func(*judged) *fibres.Subject) []Ranked {
	out := make([]Ranked, len(js))
	for i, c := range candidates(js, 0, who) {
		out[i] = Ranked{c, who(js[i])}
	}
	return out
}

// beside does n pieces of work on all cores; each writes to its own place, so
// that what comes out does not hang on which is done first. A panic in one of
// them is the caller's.
func beside(n int, work func(int)) {
	var next atomic.Int64
	var broken atomic.Pointer[any]
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					broken.Store(&r)
				}
			}()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				work(i)
			}
		})
	}
	all.Wait()
	if r := broken.Load(); r != nil {
		panic(*r)
	}
}

// FlapOf is the flap of a make-up whose hang is judged as its fall: as long as
// the piece says, of the bending length and mass of all its layers, with the
// strip that the finish leaves along its edge. ok is false where the piece
// judges no flap.
func (a *Adviser) FlapOf(m MakeUp, bending units.Length, mass units.ArealMass) (f hang.Flap, ok bool) {
	if m.Piece == nil || m.Piece.Flap <= 0 || bending <= 0 || mass <= 0 {
		return f, false
	}
	shell, lining := layersOf(m)
	strip, rigidity, heavier := a.strip(m, shell+lining)
	g := hang.RigidityFromBendingLength(bending, mass)
	f.Segments = []hang.Segment{{Length: m.Piece.Flap - strip, Rigidity: g, Mass: mass}}
	if strip > 0 {
		f.Segments = append(f.Segments, hang.Segment{Length: strip, Rigidity: g * units.Rigidity(rigidity), Mass: mass * units.ArealMass(heavier)})
	}
	return f, true
}

// Verdict judges one make-up and says no more than its verdict and its share.
// A make-up without a shell is unsuited.
func (a *Adviser) Verdict(m MakeUp) (verdict string, share float64) {
	if m.Shell == nil {
		return Unsuited, 0
	}
	j := a.judge(m)
	return j.verdict, j.share
}
