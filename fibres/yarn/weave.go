package yarn

import (
	"fmt"
	"strings"

	"tenter/fibres/fault"
)

// Weave is one repeat of a weave: which warp threads lie above which picks. Make
// one with [ParseLiftPlan].
type Weave struct {
	rows []string // one for each pick, bottom pick first; '1' is warp up
}

// maxRepeat is larger than any plan that is written by hand.
const maxRepeat = 64

// ParseLiftPlan reads a lift plan: the picks from the bottom up, parted by
// semicolons, each a row of 1 (warp up) and 0. "10;01" is plain weave.
//
// A plan in which a thread lies always above or always below is refused: it would
// not be woven in.
func ParseLiftPlan(plan string) (Weave, error) {
	bad := func(what, mend string) (Weave, error) {
		return Weave{}, &fault.Fault{
			Kind:     fault.BadData,
			What:     fmt.Sprintf("lift plan %q: %s", shorten(plan), what),
			Expected: "rows of 0 and 1 of one length, parted by semicolons, such as 110;011;101",
			Mend:     mend,
		}
	}
	rows := strings.Split(plan, ";")
	for i, r := range rows {
		rows[i] = strings.TrimSpace(r)
		switch {
		case strings.Trim(rows[i], "01") != "":
			return bad(fmt.Sprintf("pick %d has other signs than 0 and 1", i+1), "")
		case rows[i] == "":
			return bad(fmt.Sprintf("pick %d is empty", i+1), "")
		case len(rows[i]) != len(rows[0]):
			return bad(fmt.Sprintf("pick %d crosses %d ends, pick 1 %d", i+1, len(rows[i]), len(rows[0])), "")
		}
	}
	if len(rows) > maxRepeat || len(rows[0]) > maxRepeat {
		return bad("the repeat is too large", fmt.Sprintf("at most %d ends and picks", maxRepeat))
	}
	w := Weave{rows}
	for i, r := range w.rows {
		if changes(r) == 0 {
			return bad(fmt.Sprintf("pick %d never crosses the warp", i+1), "")
		}
	}
	for i := range w.Ends() {
		if changes(w.end(i)) == 0 {
			return bad(fmt.Sprintf("end %d never crosses the weft", i+1), "")
		}
	}
	return w, nil
}

func shorten(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// Ends is the number of warp threads in the repeat.
func (w Weave) Ends() int {
	if len(w.rows) == 0 {
		return 0
	}
	return len(w.rows[0])
}

// Picks is the number of weft threads in the repeat.
func (w Weave) Picks() int { return len(w.rows) }

// end is one warp thread from the bottom pick up.
func (w Weave) end(i int) string {
	b := make([]byte, len(w.rows))
	for j, r := range w.rows {
		b[j] = r[i]
	}
	return string(b)
}

// changes counts how often a thread passes from one face to the other in a repeat,
// which joins end to end.
func changes(s string) int {
	n := 0
	for i := range len(s) {
		if s[i] != s[(i+len(s)-1)%len(s)] {
			n++
		}
	}
	return n
}

// longest is the longest run of a sign in a repeat, which joins end to end.
func longest(s string, sign byte) int {
	best, run := 0, 0
	for i := range 2 * len(s) {
		if s[i%len(s)] != sign {
			run = 0
			continue
		}
		run++
		best = max(best, run)
	}
	return min(best, len(s))
}

// Changes returns how often the warp threads, and the weft threads, change faces
// in one repeat.
func (w Weave) Changes() (warp, weft int) {
	for i := range w.Ends() {
		warp += changes(w.end(i))
	}
	for _, r := range w.rows {
		weft += changes(r)
	}
	return warp, weft
}

// CrossingFirmness returns how tightly the weave binds: changes of face of both
// thread systems, over crossings in the repeat. Plain weave has 2, the most there
// is; an eight-end satin 0.5. It knows nothing of sett and yarn.
//
// Source: crossing-over firmness after Matsudaira and Morino 2005 (from memory).
// Checked: reference_test.go, TestWeaves.
func (w Weave) CrossingFirmness() float64 {
	if w.Ends() == 0 {
		return 0
	}
	warp, weft := w.Changes()
	return float64(warp+weft) / float64(w.Ends()*w.Picks())
}

// Floats are the longest stretches over which a thread lies on one face, counted
// in threads passed.
type Floats struct{ WarpFace, WarpBack, WeftFace, WeftBack int }

// LongestFace is the longest float on the face, of warp or weft.
func (f Floats) LongestFace() int { return max(f.WarpFace, f.WeftFace) }

// Floats returns the longest floats of the weave on both faces.
func (w Weave) Floats() Floats {
	var f Floats
	for i := range w.Ends() {
		e := w.end(i)
		f.WarpFace = max(f.WarpFace, longest(e, '1'))
		f.WarpBack = max(f.WarpBack, longest(e, '0'))
	}
	for _, r := range w.rows {
		f.WeftFace = max(f.WeftFace, longest(r, '0'))
		f.WeftBack = max(f.WeftBack, longest(r, '1'))
	}
	return f
}
