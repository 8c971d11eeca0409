package cut

import (
	"fmt"
	"math"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Job is what is to be cut.
type Job struct {
	Parts     []Part
	Layers    []Layer
	Allowance units.Length
}

// Answer is the cut sizes and what to buy, as `cut` gives them.
type Answer struct {
	Version int              `json:"version"`
	MakeUp  any              `json:"make_up,omitempty"`
	Layers  []LayerAnswer    `json:"layers"`
	Gap     *Gap             `json:"gap,omitempty"`
	GapMM   *fibres.Estimate `json:"gap_mm,omitempty"`
	Notes   []string         `json:"notes"`
}

// LayerAnswer is the part of the answer for one layer.
type LayerAnswer struct {
	Layer     string        `json:"layer"`
	Cloth     string        `json:"cloth"`
	Shrink    Shrink        `json:"shrink"`
	Prewashed bool          `json:"prewashed"`
	Pieces    []PieceAnswer `json:"pieces"`
	Buy       Buy           `json:"buy"`
	// Washed is what to buy when it is washed first and cut afterwards.
	Washed *Buy `json:"buy_prewash,omitempty"`
}

// Shrink is how much a layer still loses, in per cent.
type Shrink struct {
	Warp fibres.Estimate `json:"warp"`
	Weft fibres.Estimate `json:"weft"`
}

// PieceAnswer is one part with its sizes, width then height, in cm.
type PieceAnswer struct {
	Name      string     `json:"name"`
	Count     int        `json:"count"`
	Finished  [2]float64 `json:"finished_cm"`
	Cut       [2]float64 `json:"cut_cm"`
	Low       [2]float64 `json:"cut_low_cm"`
	High      [2]float64 `json:"cut_high_cm"`
	Washed    [2]float64 `json:"cut_prewashed_cm"`
	Allowance float64    `json:"allowance_mm"`
	Turned    bool       `json:"turned"` // its height lies across the cloth
}

// Buy is how much of a cloth to buy.
type Buy struct {
	Width  float64         `json:"width_cm"`
	Usable float64         `json:"usable_cm"`
	Length fibres.Estimate `json:"length_cm"`
	Bound  float64         `json:"lower_bound_cm"`
	Waste  float64         `json:"waste"` // part of the likely length that is not in a part
	Lie    []Lie           `json:"layout"`
}

// Lie is where one part lies on the cloth: the corner nearest to the start of
// the cloth and its left selvedge, and its size across and along, in cm.
type Lie struct {
	Part   string  `json:"part"`
	X      float64 `json:"x_cm"`
	Y      float64 `json:"y_cm"`
	Across float64 `json:"across_cm"`
	Along  float64 `json:"along_cm"`
}

// Gap is how far shell and lining part along the longest edge in the first wash
// when both were cut alike and joined unwashed.
type Gap struct {
	Edge      string          `json:"edge"`
	EdgeCM    float64         `json:"edge_cm"`
	Direction string          `json:"direction"`
	MM        fibres.Estimate `json:"mm"`
	Signed    [3]float64      `json:"lining_shorter_mm"` // low, typical, high; below nought the shell is
	Limit     float64         `json:"limit_mm"`
	Say       string          `json:"say"`
}

// Plan works a job out.
func Plan(j Job) (Answer, error) {
	ans := Answer{Version: 1, Layers: []LayerAnswer{}, Notes: []string{}}
	var found fault.List
	if len(j.Parts) == 0 {
		return ans, &fault.Fault{Kind: fault.WrongCall, What: "there are no parts to cut", Expected: "a piece, or parts with their sizes", Mend: `name a piece, or give --part "wrap 150cm x 75cm x1"`}
	}
	n := 0
	for _, p := range j.Parts {
		found.Add(p.Check())
		n += p.Count
	}
	if n > mostBoxes {
		found.Add(&fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there are %d parts", n), Expected: fmt.Sprintf("at most %d", mostBoxes), Mend: "reckon them in lots"})
	}
	if err := allowanceFault(j.Allowance); err != nil {
		found.Add(err)
	}
	if err := found.OrNil(); err != nil {
		return ans, err
	}
	for _, l := range j.Layers {
		a, notes, err := planLayer(j, l)
		if err != nil {
			found.Add(err)
			continue
		}
		ans.Layers = append(ans.Layers, a)
		ans.Notes = append(ans.Notes, notes...)
	}
	if err := found.OrNil(); err != nil {
		return ans, err
	}
	var shell, lining *Layer
	for i := range j.Layers {
		switch j.Layers[i].Name {
		case "shell":
			shell = &j.Layers[i]
		case "lining":
			lining = &j.Layers[i]
		}
	}
	if shell != nil && lining != nil {
		if g, ok := gapOf(j, ans.Layers[0], *shell, *lining); ok {
			ans.Gap, ans.GapMM = &g, &g.MM
		}
	}
	return ans, nil
}

// three are the values of a figure for the lucky, the likely and the unlucky.
type three struct{ low, mid, high float64 }

func percents(e fibres.Estimate) three {
	if !e.Known() {
		return three{}
	}
	return three{e.Low / 100, e.Typical / 100, e.High / 100}
}

func planLayer(j Job, l Layer) (LayerAnswer, []string, error) {
	out := LayerAnswer{Layer: l.Name, Cloth: l.Cloth, Shrink: Shrink{l.Warp, l.Weft}, Prewashed: l.Prewashed, Pieces: []PieceAnswer{}}
	var notes []string
	warp, weft := percents(l.Warp), percents(l.Weft)
	if !l.Warp.Known() || !l.Weft.Known() {
		notes = append(notes, fmt.Sprintf("How the %s shrinks is not known: nothing is added for it. Pre-wash it, or wash a swatch.", l.Name))
	}
	if l.Old != "" {
		notes = append(notes, fmt.Sprintf("%s was sold %s; reckoned at the %s cm of today. Measure yours and say --width.", l.Cloth, l.Old, fibres.Round(l.Width.Typical)))
	}
	usable := l.Width.Typical - 2*float64(l.Selvedge)
	narrow := l.Width.Low - 2*float64(l.Selvedge)
	if usable <= 0 {
		return out, nil, &fault.Fault{Kind: fault.WrongCall, Where: l.Name, What: "no width is left between the selvedges", Expected: "a cloth wider than its selvedges"}
	}
	if l.WidthGiven {
		narrow = usable
	}
	var parts []Part
	for _, p := range j.Parts {
		if l.Name == "shell" || !p.ShellOnly {
			parts = append(parts, p)
		}
	}
	if len(parts) == 0 {
		return out, nil, &fault.Fault{Kind: fault.WrongCall, Where: l.Name, What: "no part is cut from it"}
	}
	var found fault.List
	turned := make([]bool, len(parts))
	for i, p := range parts {
		t, f := lie(p, j.Allowance, l, usable, weft, warp)
		if f != nil {
			found = append(found, f)
		}
		turned[i] = t
	}
	if err := found.OrNil(); err != nil {
		return out, nil, err
	}
	sized := func(across, along float64) ([]box, []int, error) {
		var boxes []box
		var of []int
		for i, p := range parts {
			w, h := p.Width, p.Height
			if turned[i] {
				w, h = h, w
			}
			cw, err := CutSize(w, j.Allowance, units.Fraction(across))
			if err != nil {
				return nil, nil, err
			}
			ch, err := CutSize(h, j.Allowance, units.Fraction(along))
			if err != nil {
				return nil, nil, err
			}
			for range p.Count {
				boxes = append(boxes, box{w: float64(cw), h: float64(ch)})
				of = append(of, i)
			}
		}
		return boxes, of, nil
	}
	low, of, err := sized(weft.low, warp.low)
	if err != nil {
		return out, nil, err
	}
	mid, _, err := sized(weft.mid, warp.mid)
	if err != nil {
		return out, nil, err
	}
	high, _, err := sized(weft.high, warp.high)
	if err != nil {
		return out, nil, err
	}
	washed, _, err := sized(0, 0)
	if err != nil {
		return out, nil, err
	}
	k := 0
	for i, p := range parts {
		size := func(b []box) [2]float64 {
			if turned[i] {
				return [2]float64{b[k].h, b[k].w}
			}
			return [2]float64{b[k].w, b[k].h}
		}
		out.Pieces = append(out.Pieces, PieceAnswer{Name: p.Name, Count: p.Count, Finished: [2]float64{float64(p.Width), float64(p.Height)},
			Cut: size(mid), Low: size(low), High: size(high), Washed: size(washed), Allowance: float64(j.Allowance) * 10, Turned: turned[i]})
		k += p.Count
	}
	widest := 0.0
	for _, b := range high {
		widest = math.Max(widest, b.w)
	}
	unlucky := narrow
	if widest > narrow+near {
		unlucky = usable
		if !l.WidthGiven {
			notes = append(notes, fmt.Sprintf("%s is sold from %.0f cm wide; refuse what is under %.0f cm, the widest part would not lie on it.", l.Cloth, l.Width.Low, math.Ceil(widest+2*float64(l.Selvedge))))
		}
	}
	lay := func(width float64, boxes []box) ([]spot, float64) {
		return packBoxes(bench{width: width}, boxes, effort)
	}
	_, longest := lay(unlucky, high)
	at, likely := lay(usable, mid)
	_, short := lay(usable, low)
	likely = math.Min(likely, longest)
	short = math.Min(short, likely)
	because := fmt.Sprintf("%d parts laid in %.0f cm", len(mid), usable)
	out.Buy = Buy{Width: l.Width.Typical, Usable: usable, Length: derived(short, likely, longest, because), Bound: lowerBound(bench{width: usable}, mid), Lie: lies(parts, of, mid, at)}
	out.Buy.Waste = waste(mid, usable, likely)
	if !l.Prewashed && (l.Warp.Known() || l.Weft.Known()) {
		left := usable * (1 - weft.mid)
		b := Buy{Width: l.Width.Typical, Usable: left}
		wide := 0.0
		for _, x := range washed {
			wide = math.Max(wide, x.w)
		}
		if wide <= left+near {
			at, mid := lay(left, washed)
			tight := narrow * (1 - weft.high)
			if wide > tight+near {
				tight = usable * (1 - weft.high)
			}
			worst := mid
			if wide <= tight+near {
				_, worst = lay(tight, washed)
			}
			_, best := lay(usable*(1-weft.low), washed)
			worst = math.Max(worst, mid)
			b.Length = derived(math.Min(best, mid)/(1-warp.low), mid/(1-warp.mid), worst/(1-warp.high), because+" after the wash")
			b.Lie, b.Waste = lies(parts, of, washed, at), waste(washed, left, mid)
			b.Bound = lowerBound(bench{width: left}, washed) / (1 - warp.mid)
			out.Washed = &b
		} else {
			notes = append(notes, fmt.Sprintf("Washed first, the %s is about %.1f cm wide and the widest part no longer lies on it (%.1f cm).", l.Name, left, wide))
		}
	}
	return out, notes, nil
}

// lie settles whether a part lies turned.
func lie(p Part, allowance units.Length, l Layer, usable float64, weft, warp three) (bool, *fault.Fault) {
	need := func(finished units.Length) float64 { return float64(finished+2*allowance) / (1 - weft.mid) }
	straight, turned := need(p.Width), need(p.Height)
	fits := func(w float64) bool { return w <= usable+near }
	switch p.Grain {
	case AlongWidth:
		if fits(turned) {
			return true, nil
		}
	case AlongEither:
		if fits(straight) && fits(turned) {
			return turned < straight && math.Floor(usable/turned)*float64(p.Width) >= math.Floor(usable/straight)*float64(p.Height), nil
		}
	}
	if fits(straight) {
		return false, nil
	}
	if fits(turned) {
		return true, nil
	}
	most := usable*(1-weft.mid) - 2*float64(allowance)
	wide := math.Min(straight, turned) + 2*float64(l.Selvedge)
	f := &fault.Fault{Kind: fault.WrongCall, Where: p.Name,
		What:     fmt.Sprintf("it is %.1f cm wide when cut, the %s is %.1f cm between the selvedges", math.Min(straight, turned), l.Name, usable),
		Expected: fmt.Sprintf("cloth at least %.0f cm wide, or a part at most %.1f cm wide when finished", math.Ceil(wide), math.Floor(most*10)/10),
		Mend:     "choose wider cloth, make the part narrower, or join it from two widths"}
	return false, f
}

func derived(low, mid, high float64, because string) fibres.Estimate {
	return fibres.Estimate{Low: low, Typical: mid, High: high, Unit: "cm", Basis: fibres.Derived, Sources: []string{}, Because: because}
}

func waste(boxes []box, width, length float64) float64 {
	area := 0.0
	for _, b := range boxes {
		area += b.w * b.h
	}
	if length <= 0 {
		return 0
	}
	return math.Max(0, 1-area/(width*length))
}

func lies(parts []Part, of []int, boxes []box, at []spot) []Lie {
	out := make([]Lie, 0, len(boxes))
	for i, b := range boxes {
		out = append(out, Lie{Part: parts[of[i]].Name, X: at[i].x, Y: at[i].y, Across: b.w, Along: b.h})
	}
	return out
}
