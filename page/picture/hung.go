package picture

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"tenter/advise"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// Hung is how the edge of a make-up hangs, ready to be drawn small beside others of
// the same piece: every such picture has the same two scales, one for the cloth and
// a larger one below it for how far the edge stands out.
type Hung struct {
	curves   [3][]hang.Point // limp, typical, stiff
	long     float64         // of the flap, cm
	standOff [3]float64
	want     *advise.Demand // what the piece asks of the stand-off, or nil
}

// curvePoints are the points of a curve that is drawn.
const curvePoints = 25

// Hang hangs the edge of a make-up; nil where its piece judges no flap or nothing is
// known of its stiffness.
func Hang(adv *advise.Adviser, m advise.MakeUp, f *advise.Fall) *Hung {
	if f == nil || !f.Bending.Known() || m.Piece == nil || m.Piece.Flap <= 0 {
		return nil
	}
	mass := f.Mass.Typical
	if !f.Mass.Known() {
		mass = 150 // the shape depends on the bending length alone
	}
	h := &Hung{long: float64(m.Piece.Flap)}
	for i, c := range []float64{f.Bending.Low, f.Bending.Typical, f.Bending.High} {
		flap, ok := adv.FlapOf(m, units.Length(c), units.ArealMass(mass))
		if !ok {
			return nil
		}
		fall, err := hang.Hang(flap, curvePoints)
		if err != nil {
			return nil
		}
		h.curves[i], h.standOff[i] = fall.Points, float64(fall.StandOff)
	}
	for i, d := range m.Piece.Demands {
		if d.Fact == "make-up.stand-off" {
			h.want = &m.Piece.Demands[i]
		}
	}
	return h
}

// The frame of the picture: where the cloth leaves its hold, how high it is drawn,
// and the ruler below it.
const (
	hungLeft, hungTop, hungHigh = 30.0, 14.0, 150.0
	hungRuler, hungWide         = 192.0, 164.0
)

// SVG draws it: the typical cloth as a thick thread, the limp and the stiff ones of the
// name as the band round it; over another make-up in grey where there is one to be told apart
// from.
func (h *Hung) SVG(sys units.System, behind *Hung, label string) template.HTML {
	if h == nil {
		return ""
	}
	var p pic
	p.open("fall", `viewBox="0 0 206 224"`, label)
	k := hungHigh / h.long
	fmt.Fprintf(&p, `<path class="hold" d="M0 %sH%sV%sH0Z"/><path class="plumb" d="M%s %sV%s"/>`, n(hungTop+2), n(hungLeft-1), n(hungTop+15), n(hungLeft), n(hungTop+15), n(hungTop+hungHigh+6))
	low, high := trace(h.curves[0], k), trace(h.curves[2], k)
	fmt.Fprintf(&p, `<path class="band" d="M%s L%sZ"/>`, strings.Join(high, " "), strings.Join(backwards(low), " "))
	fmt.Fprintf(&p, `<path class="edge-of" d="M%s"/><path class="edge-of" d="M%s"/>`, strings.Join(low, " "), strings.Join(high, " "))
	if behind != nil && behind.long == h.long {
		fmt.Fprintf(&p, `<path class="behind" d="M0 %sH%sL%s"/>`, n(hungTop), n(hungLeft), strings.Join(trace(behind.curves[1], k), " "))
	}
	fmt.Fprintf(&p, `<path class="cloth" d="M0 %sH%sL%s"/>`, n(hungTop), n(hungLeft), strings.Join(trace(h.curves[1], k), " "))
	h.reach(&p, sys, behind)
	return p.close()
}

// trace gives the points of a curve in the picture.
func trace(c []hang.Point, k float64) []string {
	out := make([]string, len(c))
	for i, q := range c {
		out[i] = n(hungLeft+k*float64(q.Out)) + " " + n(hungTop+k*float64(q.Down))
	}
	return out
}

func backwards(list []string) []string {
	out := make([]string, 0, len(list))
	for i := len(list) - 1; i >= 0; i-- {
		out = append(out, list[i])
	}
	return out
}

// reach draws how far the edge stands out on a ruler of its own, which is the same
// for all candidates of a piece: what is asked, the range, the typical cloth, and
// the one behind in grey.
func (h *Hung) reach(p *pic, sys units.System, behind *Hung) {
	high := h.long / 2.5
	if h.want != nil && h.want.Limit.High > 0 {
		high = math.Min(h.want.Limit.High*1.25, h.long)
	}
	r := Ruler{lo: 0, hi: high, unit: "cm"}
	at := func(v float64) float64 { return hungLeft + hungWide*r.at(v) }
	box := func(class string, b advise.Bounds) {
		fmt.Fprintf(p, `<path class="%s" d="M%s %sH%sv16H%sZ"/>`, class, n(at(b.Low)), n(hungRuler-14), n(at(b.High)), n(at(b.Low)))
	}
	if h.want != nil {
		box("limit", h.want.Limit)
		box("ideal", h.want.Ideal)
	}
	if behind != nil {
		fmt.Fprintf(p, `<path class="behind" d="M%s %sv12"/>`, n(at(behind.standOff[1])), n(hungRuler-12))
	}
	fmt.Fprintf(p, `<path class="reach" d="M%s %sH%s"/><circle class="knot" cx="%s" cy="%s" r="4.5"/>`, n(at(h.standOff[0])), n(hungRuler-6), n(at(h.standOff[2])), n(at(h.standOff[1])), n(hungRuler-6))
	fmt.Fprintf(p, `<path class="tape" d="M%s %sH%s"/>`, n(hungLeft), n(hungRuler+2), n(hungLeft+hungWide))
	_, _, unit := shown("cm", sys)
	ticks := r.ticks(sys)
	for i, t := range ticks {
		x := hungLeft + hungWide*t.at
		fmt.Fprintf(p, `<path class="tape" d="M%s %sv5"/>`, n(x), n(hungRuler+2))
		words := t.label
		if i == len(ticks)-1 {
			words += " " + unit
		}
		p.text(n(x), n(hungRuler+20), "tick", "middle", words)
	}
}
