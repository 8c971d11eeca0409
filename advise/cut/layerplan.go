package cut

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// layerPlan works out one layer of a job: which parts are cut from it, at what
// size, how they lie, and what to buy.
type layerPlan struct {
	layer  Layer
	widths []units.Length // others to lay it out in
	effort effort

	warp, weft     three // what it still loses, as parts of one
	known          bool  // how it shrinks
	usable, narrow float64
	chosen         []Part
	each           allowances
	parts          []sized

	out   LayerAnswer
	notes []note
}

// planLayer plans one layer of a job.
func planLayer(j Job, l Layer) (LayerAnswer, []note, error) {
	p, err := newLayerPlan(j, l)
	if err != nil || len(p.parts) == 0 {
		return p.out, p.notes, err
	}
	likely, err := p.likely()
	if err != nil {
		return p.out, nil, err
	}
	p.cutSizes(likely)
	p.buy(likely)
	p.hint(likely)
	p.out.Care = careOf(p.layer)
	return p.out, p.notes, nil
}

// newLayerPlan gathers what the layer is cut from and which parts are cut from it.
func newLayerPlan(j Job, l Layer) (*layerPlan, error) {
	p := &layerPlan{layer: l, widths: j.Widths, effort: cmp.Or(j.effort, usualEffort), warp: percents(l.Warp), weft: percents(l.Weft), known: l.Warp.Known() && l.Weft.Known(), each: j.allowances(&l),
		out: LayerAnswer{Layer: l.Name, Cloth: l.Cloth, Treatment: l.Treatment, Shrink: Shrink{l.Warp, l.Weft}, Prewashed: l.Prewashed, Pieces: []PieceAnswer{}, Widths: []WidthAnswer{}}}
	if p.out.Treatment == "" {
		p.out.Treatment = Washed
	}
	if j.CommonWidths && len(p.widths) == 0 && !l.WidthGiven && l.Name != "interfacing" {
		p.widths = CommonWidths
	}
	switch {
	case l.Prewashed:
		p.warp, p.weft = three{}, three{}
	case !p.known && l.Name != "interfacing":
		p.noteOf("How the {layer} shrinks is not known, so nothing is added for it. Wash it first, or wash a marked square.",
			"How {layer} shrink is not known, so nothing is added for it. Wash both first, or wash a marked square of each.")
	}
	if o := l.Old; o.Year > 0 {
		p.note("An old book of %d gives %s as %s wide. The plan takes the %s of today: measure yours and add its width.", o.Year, l.Cloth, o.Width.In(l.sys), units.Length(l.Width.Typical).Tape(l.sys))
	}
	if !p.setWidth(l.Width.Typical, l.Width.Low) {
		return p, &fault.Fault{Kind: fault.WrongCall, Where: l.Name, What: "no width is left between the selvedges", Expected: "a cloth wider than its two selvedges"}
	}
	for _, x := range j.Parts {
		if l.cuts(x) {
			p.chosen = append(p.chosen, x)
		}
	}
	p.parts = drawParts(p.chosen, p.each)
	if hem := units.Length(p.each.hem); l.Name == "shell" && p.each.hem != p.each.seam && !slices.ContainsFunc(p.parts, sized.hemmed) {
		leave := "nothing"
		if hem > 0 {
			leave = hem.Tape(l.sys)
		}
		p.note("Which edges are seams is not known of these parts: leave %s at hems and free edges, not %s.", leave, units.Length(p.each.seam).Tape(l.sys))
	}
	for _, x := range p.parts {
		if x.rough {
			p.note("The allowances of %s overlap in a hollow of its outline. It is laid with the hollow closed.", x.Name)
		}
	}
	return p, nil
}

// cuts reports whether a part is cut from the layer.
func (l Layer) cuts(p Part) bool {
	if len(l.Only) > 0 {
		return slices.Contains(l.Only, p.Name)
	}
	return l.Name == "shell" || l.Name == "interfacing" || !p.ShellOnly
}

// setWidth takes the cloth as wide as it is mostly sold and, for the unlucky, as
// narrow as it is sold; false where nothing is left between the selvedges.
func (p *layerPlan) setWidth(typical, low float64) bool {
	p.layer.Width.Typical, p.layer.Width.Low = typical, low
	p.usable, p.narrow = typical-2*float64(p.layer.Selvedge), low-2*float64(p.layer.Selvedge)
	return p.usable > 0 && p.narrow > 0
}

// likely lays the parts on the cloth as it mostly is. Whether it goes on at all is
// told by it: else on the next wider that is sold, else joined from strips.
func (p *layerPlan) likely() (layout, error) {
	l := p.layer
	out, err := lay(p.parts, l, p.usable, p.weft.mid, p.warp.mid, p.effort.full)
	if err != nil && !l.WidthGiven {
		need := math.Ceil(widest(p.parts, p.weft.mid, p.warp.mid, l.Folded) + 2*float64(l.Selvedge) - tolerance)
		if need <= l.Width.High {
			p.note("%s is mostly %s wide, too narrow for the %s. The plan takes %s: ask for that width.",
				prose.Upper(l.Cloth), units.Length(l.Width.Typical).Tape(l.sys), fault.All(err)[0].Where, units.Length(need).AtLeast(l.sys))
			p.setWidth(need, need)
			out, err = lay(p.parts, p.layer, p.usable, p.weft.mid, p.warp.mid, p.effort.full)
		}
	}
	if err != nil && (l.Join || !l.WidthGiven) {
		if chosen, say := joined(p.parts, l, p.usable, p.weft.high, p.warp.high); len(say) > 0 {
			for _, x := range say {
				p.note("%s", x)
			}
			p.chosen, p.parts = chosen, drawParts(chosen, p.each)
			out, err = lay(p.parts, p.layer, p.usable, p.weft.mid, p.warp.mid, p.effort.full)
		}
	}
	return out, err
}

// cutSizes fills in the sizes that each part is cut at.
func (p *layerPlan) cutSizes(likely layout) {
	for i, x := range p.parts {
		for _, turned := range []bool{false, true} {
			n := likely.copies(i, turned)
			if n == 0 {
				continue
			}
			size := func(across, along float64) [2]float64 {
				s := cutSize(x, turned, across, along)
				return [2]float64{round4(s[0]), round4(s[1])}
			}
			p.out.Pieces = append(p.out.Pieces, PieceAnswer{Name: x.Name, Count: n, Finished: [2]float64{round4(float64(x.Width)), round4(float64(x.Height))},
				Cut: size(p.weft.mid, p.warp.mid), Low: size(p.weft.low, p.warp.low), High: size(p.weft.high, p.warp.high), Washed: size(0, 0),
				Allowance: p.each.seam * 10, Hem: x.leaves(Hem) * 10, Edge: x.leaves(FreeEdge) * 10, Turned: turned, Bias: x.Grain == OnBias})
			if turned && x.Grain != AlongWidth && x.Grain != AlongEither && !p.layer.CrossGrain {
				p.noteOf("The "+x.Name+" is wider than the {layer}, so it lies turned: its width along the cloth.",
					"The "+x.Name+" is wider than {layer}, so it lies turned: its width along the cloth.")
				if p.layer.OneWay {
					p.noteOf("The {layer}'s nap then runs across.", "The nap of {layer} then runs across.")
				}
			}
		}
	}
}

// layouts are the same parts on cloth of every luck.
type layouts struct {
	unlucky, lucky layout
	errUnlucky     error
}

// others lays the parts out for the unlucky and the lucky and in other widths, side by
// side.
func (p *layerPlan) others() (o layouts) {
	tasks := []func(){
		func() {
			o.unlucky, o.errUnlucky = lay(p.parts, p.layer, p.narrow, p.weft.high, p.warp.high, p.effort.quick)
		},
		func() { o.lucky, _ = lay(p.parts, p.layer, p.usable, p.weft.low, p.warp.low, p.effort.quick) },
	}
	p.out.Widths = make([]WidthAnswer, len(p.widths))
	for i, w := range p.widths {
		tasks = append(tasks, func() { p.out.Widths[i] = p.inWidth(w) })
	}
	together(tasks)
	inOrder(p.out.Widths)
	return o
}

// buy fills in how much to buy. It is as much whether the cloth is washed before it is
// cut or not: the parts lie as they do on the cloth as it is bought, and shrink with it.
func (p *layerPlan) buy(likely layout) {
	o := p.others()
	long := o.unlucky.length
	if o.errUnlucky != nil {
		long = p.tooNarrow(likely, o.errUnlucky)
	}
	// The likely length is that of the layout that is shown. It serves smaller parts
	// and wider cloth as well, so that the lengths are in order whatever the search
	// came upon.
	v := three{low: likely.length, mid: likely.length, high: math.Max(likely.length, long)}
	if o.lucky.at != nil {
		v.low = math.Min(v.low, o.lucky.length)
	}
	because := fmt.Sprintf("%s laid in %s", count(len(likely.blanks), "part"), units.Length(p.usable).Centimetres())
	if p.layer.Folded {
		because += " folded"
	}
	p.out.Buy = p.buyOf(likely, v, p.usable, because)
	for _, i := range likely.spare {
		p.note("The cloth lies folded, so there is one %s more than is needed.", p.parts[i].Name)
	}
	if !p.layer.Prewashed && p.known {
		washed := likely.shrunk(p.weft.mid, p.warp.mid)
		b := p.buyOf(washed, v, washed.fullWidth(), because+", washed first")
		b.Bound, b.Over = p.out.Buy.Bound, p.out.Buy.Over
		p.out.Washed = &b
	}
}

// buyOf is what to buy for a layout.
func (p *layerPlan) buyOf(l layout, v three, usable float64, because string) Buy {
	b := Buy{Width: p.layer.Width.Typical, Usable: usable, Folded: p.layer.Folded, Length: derived(v, because, p.layer), Bound: round4(l.bound), Lie: l.lies(p.parts), Waste: l.waste()}
	b.Curved = !l.boxes()
	if l.bound > 0 {
		b.Over = math.Max(0, round4(l.length/l.bound-1))
	}
	b.Cost = b.cost(p.layer.Price)
	return b
}

// tooNarrow is the length for the unlucky where the parts do not go on the
// narrowest cloth sold: what is bought is at least wide enough.
func (p *layerPlan) tooNarrow(likely layout, narrow error) float64 {
	high, err := lay(p.parts, p.layer, p.usable, p.weft.high, p.warp.high, p.effort.quick)
	if err == nil {
		p.note("%s is sold from %s wide: %s", prose.Upper(p.layer.Cloth), units.Length(p.layer.Width.Low).Tape(p.layer.sys), refuse(narrow))
		return high.length
	}
	p.noteOf("If the {layer} shrinks as much as some do, a part no longer fits: "+refuse(err),
		"If {layer} shrink as much as some do, a part no longer fits: "+refuse(err))
	return likely.length / (1 - p.warp.high) * (1 - p.warp.mid)
}

// inWidth lays the parts in another width.
func (p *layerPlan) inWidth(w units.Length) WidthAnswer {
	l := p.layer
	out := WidthAnswer{Width: float64(w), Folded: l.Folded}
	usable := float64(w - 2*l.Selvedge)
	if usable <= 0 {
		out.Say = "nothing is left between the selvedges"
		return out
	}
	x, err := lay(p.parts, l, usable, p.weft.mid, p.warp.mid, p.effort.quick)
	if err != nil {
		out.Say = fault.All(err)[0].Where + " does not fit"
		return out
	}
	out.Fits, out.Length, out.Waste = true, x.length, x.waste()
	out.Area = x.length * float64(w) / 1e4
	return out
}

// inOrder lets a wider cloth take no more than a narrower: the layout of the one
// goes on the other as well.
func inOrder(list []WidthAnswer) {
	for i := range list {
		for _, x := range list {
			if w := &list[i]; x.Fits && w.Fits && x.Width < w.Width && x.Length < w.Length {
				w.Waste = 1 - (1-w.Waste)*w.Length/x.Length
				w.Length = x.Length
				w.Area = w.Length * w.Width / 1e4
			}
		}
	}
}

// refuse says from a fault what cloth would do.
func refuse(err error) string {
	f := fault.All(err)[0]
	return fmt.Sprintf("the %s would need %s.", f.Where, f.Expected)
}

func (l layout) fullWidth() float64 {
	if l.folded {
		return 2 * l.width
	}
	return l.width
}

// What a hint is worth: a part made smaller by so much at the most must save at
// least that much of the length, and so many centimetres of it.
const (
	hintShrink = 0.08
	hintSaves  = 0.2
	hintLeast  = 20.0
	// usualSelvedge is not used on each side, where nothing is said of it (common
	// practice).
	usualSelvedge = 1.0
)

// hint says where a slightly narrower part would save much cloth: one that lies
// turned for want of a few centimetres.
func (p *layerPlan) hint(likely layout) {
	if p.layer.Folded || p.layer.Join {
		return
	}
	spare := 0.0
	if p.layer.Selvedge == 0 {
		spare = 2 * usualSelvedge
	}
	for i, x := range p.parts {
		if likely.copies(i, true) == 0 || x.Grain == OnBias || x.Outline != nil && x.Part.outline().curved() {
			continue
		}
		own := cutSize(x, false, p.weft.mid, p.warp.mid)[0]
		side := &p.chosen[i].Width
		if x.Grain == AlongWidth {
			own, side = cutSize(x, true, p.weft.mid, p.warp.mid)[1], &p.chosen[i].Height
		}
		over := (own-(p.usable-spare))*(1-p.weft.mid) + tolerance
		to := units.Length(math.Floor(float64(*side) - over))
		if over <= 0 || float64(to) < float64(*side)*(1-hintShrink) {
			continue
		}
		parts := slices.Clone(p.parts)
		w, h := x.Width, to
		if side == &p.chosen[i].Width {
			w, h = to, x.Height
		}
		smaller, err := x.Part.Resize(w, h)
		if err != nil {
			continue
		}
		parts[i] = drawParts([]Part{smaller}, p.each)[0]
		less, err := lay(parts, p.layer, p.usable, p.weft.mid, p.warp.mid, p.effort.quick)
		if err == nil && likely.length-less.length >= math.Max(hintLeast, hintSaves*likely.length) {
			p.note("Make the %s %s wide instead of %s and %s of %s is enough, selvedges of %s left out.", x.Name, to.AtMost(p.layer.sys), side.Tape(p.layer.sys),
				units.Length(less.length).OffTheBolt(p.layer.sys), p.layer.Name, units.Length(usualSelvedge).Tape(p.layer.sys))
		}
	}
}
