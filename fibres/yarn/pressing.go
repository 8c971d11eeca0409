package yarn

import (
	"fmt"
	"strconv"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Dots is an iron's setting, or a label's limit, in dots: 1, 2, 3; 0 is do not
// iron.
type Dots int

// dotLimits are the hottest sole plate of each setting: 110, 150 and 200 °C, the
// label limits as two public explanations of the signs give them (read). One
// appliance page sets its thermostats otherwise: 105, 165, 220.
var dotLimits = [...]units.Temperature{0, 110, 150, 200}

// String writes the setting in words: "two dots".
func (d Dots) String() string {
	words := [...]string{"do not iron", "one dot", "two dots", "three dots"}
	if d < 0 || int(d) >= len(words) {
		return strconv.Itoa(int(d)) + " dots"
	}
	return words[d]
}

// Limit is the hottest sole plate that something takes. The zero value is not
// known.
type Limit struct {
	Known   bool
	Iron    bool // false: must not be ironed at all
	Celsius units.Temperature
}

// String writes the limit as a maker says it.
func (l Limit) String() string {
	switch {
	case !l.Known:
		return "not known"
	case !l.Iron:
		return "do not iron"
	}
	return l.Celsius.In(units.Metric)
}

// Dots returns the setting that keeps below the limit; ok is false where the limit
// is not known. A limit under one dot gives 0: no setting is cool enough.
func (l Limit) Dots() (d Dots, ok bool) {
	if !l.Known {
		return 0, false
	}
	if l.Iron {
		for i, c := range dotLimits {
			if i > 0 && l.Celsius >= c {
				d = Dots(i)
			}
		}
	}
	return d, true
}

// Pressed is one fibre of a blend, or one layer of a stack, for the reckoning of
// heat. A layer's share is 1.
type Pressed struct {
	Share units.Fraction
	Limit Limit
}

// PressingLimit returns the limit of a blend or a stack: the least of its parts,
// whatever their share. What may be passed over, such as a trace of an elastic
// fibre, the caller leaves out.
//
//	limit = min over all parts with share > 0
//
// Given: the fibres of a blend, or the layers of a stack. A part whose limit is not
// known leaves the whole unknown, unless another must not be ironed at all.
//
// Valid: one part or more; shares 0 to 1. Parts of share 0 are passed over.
// Accuracy: on the safe side; label makers often give wool with a little nylon two
// dots where this gives one.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: common practice.
// Checked: reference_test.go, TestBlends.
func PressingLimit(parts []Pressed) (Limit, error) {
	least := Limit{Known: true, Iron: true, Celsius: units.TemperatureLimits.High}
	unknown, any := false, false
	for i, p := range parts {
		if !(p.Share >= 0 && p.Share <= 1) {
			return Limit{}, outside(fmt.Sprintf("part %d", i+1), "its share is "+percent(p.Share), "0 % to 100 %", "")
		}
		if p.Share == 0 {
			continue
		}
		any = true
		switch {
		case !p.Limit.Known:
			unknown = true
		case !p.Limit.Iron:
			least = Limit{Known: true}
		case least.Iron && p.Limit.Celsius < least.Celsius:
			least = p.Limit
		}
	}
	if !any {
		return Limit{}, outside("the blend or stack", "it has no part", "one part or more with a share over 0", "")
	}
	if unknown && least.Iron {
		return Limit{}, nil
	}
	return least, nil
}

// Fusing is what becomes of a fusible in a stack.
type Fusing struct {
	Known    bool                           // false: the stack's limit is not known
	Possible bool                           // the stack takes the least heat that fuses it
	At       units.Range[units.Temperature] // sole plate to fuse at, where possible
	After    Limit                          // limit of the fused piece
	Say      string
}

// FuseInto returns whether a fusible can be fused into a stack, at what heat, and
// what the fused piece takes afterwards.
//
//	possible when the least fusing heat ≤ limit;   at = least … min(most, limit)
//
// Given: the limit of all other layers together, from [PressingLimit]; the sole
// plate the fusible asks for, least to most.
//
// Valid: fusing heat from 60 to 250 °C, least not over most.
// Accuracy: on the safe side of both. Time, pressure and damp matter as much as
// heat: fuse a scrap first and wash it.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: common practice.
// Checked: property_test.go, TestFusingNeedsTheHeat.
func FuseInto(stack Limit, heat units.Range[units.Temperature]) (Fusing, error) {
	if !(heat.Low >= 60 && heat.High <= 250 && heat.Low <= heat.High) {
		return Fusing{}, outside("the fusing heat", fmt.Sprintf("it is %v to %v °C", float64(heat.Low), float64(heat.High)), "60 °C to 250 °C, least first", "")
	}
	switch {
	case !stack.Known:
		return Fusing{Say: "It is not known what heat the other layers take: fuse a scrap of all of them first."}, nil
	case !stack.Iron:
		return Fusing{Known: true, After: stack, Say: "A layer must not be ironed: use a sewn-in interfacing."}, nil
	case heat.Low > stack.Celsius:
		return Fusing{Known: true, After: stack, Say: fmt.Sprintf(
			"It fuses from %s, the other layers take %s: use a sewn-in interfacing, or one that fuses cooler.",
			heat.Low.In(units.Metric), stack.Celsius.In(units.Metric))}, nil
	}
	f := Fusing{Known: true, Possible: true, After: stack}
	f.At = units.Range[units.Temperature]{Low: heat.Low, High: min(heat.High, stack.Celsius)}
	f.Say = "Fuse at " + f.At.In(units.Metric) + ", a scrap first. Lift and press; the plate is hot, and so is the cloth just after."
	// Hotter than its own fusing heat the glue may run or let go.
	f.After.Celsius = min(stack.Celsius, heat.High)
	return f, nil
}

// Trait is what a cloth is like under heat and damp. Several may hold.
type Trait int

// The traits.
const (
	Pile       Trait = iota // velvet, plush: flattened by a plate
	Raised                  // crêpe, seersucker, cord: a surface that is pressed out
	WaterMarks              // drops leave rims: many silks, acetate, sized or lustrous viscose
	Wool                    // takes steam, shines and scorches dry
)

// Steam is whether to use steam.
type Steam int

// The answers.
const (
	SteamNo      Steam = iota // none
	SteamTry                  // on a scrap first
	SteamYes                  // it helps
	SteamUnknown              // not known
)

// String is the answer in words.
func (s Steam) String() string {
	switch s {
	case SteamNo:
		return "no steam"
	case SteamTry:
		return "try steam on a scrap first"
	case SteamYes:
		return "steam helps"
	}
	return "not known"
}

// SteamFor says whether a cloth takes steam and how to press it, from its pressing
// limit and its traits. No steam at one dot, and pile steamed from the back or
// drawn over an upright iron through a damp cloth, are published (explanations of
// care signs; an old handbook; both read); water marks are common practice.
func SteamFor(l Limit, traits ...Trait) (Steam, []string, error) {
	has := map[Trait]bool{}
	for _, t := range traits {
		if t < Pile || t > Wool {
			return SteamUnknown, nil, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%d is not a trait of cloth", t), Expected: "pile, raised, water marks or wool"}
		}
		has[t] = true
	}
	var say []string
	if has[Pile] {
		say = append(say, "Never set the plate on the pile: steam from the back, the pile on a needle board, or draw the back over an upright iron through a damp cloth.")
	}
	if has[Raised] {
		say = append(say, "Press seams with the iron's edge only, so that the surface is not pressed out.")
	}
	d, known := l.Dots()
	switch {
	case !known:
		return SteamUnknown, append(say, "Try heat and damp on a scrap: look for shrinking, shine, water marks and a change of colour."), nil
	case !l.Iron:
		return SteamNo, append(say, "Do not iron. Finger-press, or weight the seam."), nil
	case d <= 1:
		return SteamNo, append(say, "Dry iron, low, through a dry cloth: steam is hotter than it looks and may pucker it."), nil
	case has[WaterMarks]:
		return SteamTry, append(say, "A drop may leave a rim that stays: press dry from the back, or try an evenly damp cloth on a scrap."), nil
	case has[Wool]:
		return SteamYes, append(say, "Press through a damp cloth, set the iron down and lift it; do not slide it, and leave some damp in the cloth."), nil
	case d == 3:
		return SteamYes, append(say, "Press it damp or with full steam. Steam scalds: keep the hand from under the cloth."), nil
	}
	return SteamTry, append(say, "Press from the back through a cloth; try steam on a scrap for shine and water marks."), nil
}
