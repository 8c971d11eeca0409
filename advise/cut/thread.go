package cut

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Stitch is a machine stitch by its number in the standard list of stitch types.
type Stitch string

// The stitches whose thread can be reckoned.
const (
	Lockstitch  Stitch = "301"
	Zigzag      Stitch = "304"
	SingleChain Stitch = "101"
	DoubleChain Stitch = "401"
	Overedge2   Stitch = "503"
	Overedge3   Stitch = "504"
	Safety5     Stitch = "516"
)

// threadRatio is thread over seam for a stitch, and the part of it that comes off
// the needle; the rest is bobbin or looper (a table reprinted in textbooks, from
// memory).
var threadRatio = map[Stitch]struct{ ratio, needle float64 }{
	Lockstitch: {2.5, 0.5}, Zigzag: {7, 0.5}, SingleChain: {4, 1}, DoubleChain: {5.5, 0.25}, Overedge2: {12, 0.55}, Overedge3: {14, 0.2}, Safety5: {20, 0.2},
}

// stitchBase is the thread that lies along the seam, over the seam.
var stitchBase = map[Stitch]float64{Lockstitch: 2, SingleChain: 3, DoubleChain: 4}

// Stitches lists the stitches in order.
func Stitches() []Stitch {
	return []Stitch{Lockstitch, Zigzag, SingleChain, DoubleChain, Overedge2, Overedge3, Safety5}
}

// ThreadFromGeometry returns the length of all threads over the length of the
// seam, from the way a stitch lies in the cloth.
//
//	301: 2 + 2·T·S      101: 3 + 2·T·S      401: 4 + 2·T·S
//
// Given: the stitch; T, the thickness of everything sewn through; S, stitches per
// length, as the length of one stitch 1/S.
//
// Valid: stitches 301, 101 and 401; T from 0 to 5 cm; a stitch of 0.3 to 12 mm.
// Accuracy: of threads pulled straight, with no waste at the ends; tension and
// take-up move it by some tenths.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included; NotFound
// for another stitch, see [ThreadFromRatio].
// Source: two teaching articles on thread consumption (read).
// Checked: reference_test.go, TestThreadAgainstWorkedProblems.
func ThreadFromGeometry(s Stitch, thickness, stitch units.Length) (float64, error) {
	base, ok := stitchBase[s]
	if !ok {
		return 0, noStitch(s, []string{"301", "101", "401"})
	}
	if err := seamFault(thickness, stitch); err != nil {
		return 0, err
	}
	return base + 2*float64(thickness/stitch), nil
}

// ThreadFromRatio returns the length of all threads over the length of the seam,
// and the part of it that comes off the needle, from a table of averages.
//
// Given: the stitch.
//
// Valid: the stitches of [Stitches].
// Accuracy: averages over cloths; a thick seam or a short stitch takes more.
// Errors: [*fault.Fault] of kind NotFound for another stitch.
// Source: a ratio table reprinted in garment textbooks (from memory).
// Checked: reference_test.go, TestThreadAgainstWorkedProblems.
func ThreadFromRatio(s Stitch) (ratio, needle float64, err error) {
	r, ok := threadRatio[s]
	if !ok {
		var names []string
		for _, x := range Stitches() {
			names = append(names, string(x))
		}
		return 0, 0, noStitch(s, names)
	}
	return r.ratio, r.needle, nil
}

// ThreadFromUnpicking returns the thread a seam takes, from a short stretch that
// was sewn and unpicked.
//
//	thread = seam · (needle + under) / unpicked · (1 + waste)
//
// Given: seam, the whole length to be sewn; the stretch unpicked, and the needle
// and under thread (bobbin or looper) that it gave; waste as a part of one.
//
// Valid: seam and stretch over 0; threads from 0, together over 0; waste from 0
// to 1. 0.15 is commonly added.
// Accuracy: as the unpicking: measure at least 10 cm of the real cloth, sewn as
// the seam will be.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: two worked examples on measuring thread consumption (read).
// Checked: reference_test.go, TestThreadAgainstWorkedProblems.
func ThreadFromUnpicking(seam, unpicked, needle, under units.Length, waste units.Fraction) (units.Length, error) {
	for _, x := range []struct {
		word string
		l    units.Length
	}{{"the seam", seam}, {"the stretch unpicked", unpicked}, {"the thread unpicked", needle + under}} {
		if !(x.l > 0) || math.IsInf(float64(x.l), 0) {
			return 0, sizeFault(x.word, x.l)
		}
	}
	if !(needle >= 0 && under >= 0) {
		return 0, sizeFault("the thread unpicked", min(needle, under))
	}
	if err := wasteFault(waste); err != nil {
		return 0, err
	}
	return seam * (needle + under) / unpicked * units.Length(1+waste), nil
}

// ThreadOnBobbin returns the length of thread that a bobbin holds.
//
//	length = mass of thread / tex
//
// Given: the mass of thread on a full bobbin, in grams: weigh it full and empty;
// tex, the thread's mass in grams per kilometre.
//
// Valid: mass over 0 and at most 50 g; tex from 5 to 500.
// Accuracy: exact for the thread weighed; a household bobbin holds about 1.4 g,
// 1.0 to 1.8 by its size and how tightly it is wound (common practice).
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the definition of tex.
// Checked: reference_test.go, TestBobbinFromTex.
func ThreadOnBobbin(grams, tex float64) (units.Length, error) {
	if !(grams > 0 && grams <= 50) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("a bobbin with %g g of thread", grams), Expected: "over 0 and at most 50 g"}
	}
	if !(tex >= 5 && tex <= 500) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("a thread of %g tex", tex), Expected: "5 to 500 tex"}
	}
	return units.Length(grams/tex*1000) * units.Metre, nil
}

func noStitch(s Stitch, known []string) error {
	return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("the thread of stitch %q cannot be worked out", string(s)), Expected: "one of " + fmt.Sprint(known), Mend: fault.DidYouMean(string(s), known, "sew 10 cm, unpick it and measure the threads")}
}

func seamFault(thickness, stitch units.Length) error {
	if !(thickness >= 0 && thickness <= 5) {
		return &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the seam is %s thick", thickness), Expected: "0 to 5 cm"}
	}
	if !(stitch >= 0.03 && stitch <= 1.2) {
		return &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the stitch is %s long", stitch.Millimetres()), Expected: "0.3 to 12 mm"}
	}
	return nil
}

func wasteFault(w units.Fraction) error {
	if w >= 0 && w <= 1 {
		return nil
	}
	return &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the waste is %s", w), Expected: "0 to 100 %", Mend: "15 % is commonly added"}
}
