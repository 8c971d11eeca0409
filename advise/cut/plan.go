package cut

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/price"
	"tenter/fibres/units"
)

// Job is what is to be cut, from which layers.
type Job struct {
	Parts     []Part
	Layers    []Layer
	Allowance units.Length   // of seams, and of all edges that nothing else is said of
	Hem       *units.Length  // of hems
	Edge      *units.Length  // of free edges: bound, rolled or left raw
	Joins     []Join         // the seams of the piece, for edges and thread
	Care      Treatment      // what the piece goes through; "" is a wash, where its cloths stand one
	Widths    []units.Length // other widths to lay it out in
}

// Answer is the cut sizes and what to buy, as `cut` gives them.
type Answer struct {
	Version int              `json:"version"`
	MakeUp  any              `json:"make_up,omitempty"`
	Layers  []LayerAnswer    `json:"layers"`
	GapMM   *fibres.Estimate `json:"gap_mm,omitempty"`
	Gap     *Gap             `json:"gap,omitempty"`
	Parts   []Geometry       `json:"parts"`
	Seams   []Join           `json:"seams"`
	Thread  *ThreadPlan      `json:"thread,omitempty"`
	Binding *BindingPlan     `json:"binding,omitempty"`
	Notes   []string         `json:"notes"`
}

// LayerAnswer is the part of the answer for one layer.
type LayerAnswer struct {
	Layer     string        `json:"layer"`
	Cloth     string        `json:"cloth"`
	Treatment Treatment     `json:"treatment"`
	Shrink    Shrink        `json:"shrink"`
	Prewashed bool          `json:"prewashed"`
	Pieces    []PieceAnswer `json:"pieces"`
	Buy       Buy           `json:"buy"`
	// Washed is what to buy when it is washed first and cut afterwards.
	Washed *Buy          `json:"buy_prewash,omitempty"`
	Care   Care          `json:"care"`
	Widths []WidthAnswer `json:"widths"`
}

// Shrink is how much a layer loses in its first wash, in per cent.
type Shrink struct {
	Warp fibres.Estimate `json:"warp"`
	Weft fibres.Estimate `json:"weft"`
}

// PieceAnswer is one part with its sizes, width then height, in cm. Cut is the
// size to cut for the likely shrinkage, Low and High for the least and the most;
// Washed the size to cut from cloth that was washed first.
type PieceAnswer struct {
	Name      string     `json:"name"`
	Count     int        `json:"count"`
	Finished  [2]float64 `json:"finished_cm"`
	Cut       [2]float64 `json:"cut_cm"`
	Low       [2]float64 `json:"cut_low_cm"`
	High      [2]float64 `json:"cut_high_cm"`
	Washed    [2]float64 `json:"cut_prewashed_cm"`
	Allowance float64    `json:"allowance_mm"` // at seams
	Hem       float64    `json:"hem_allowance_mm"`
	Edge      float64    `json:"edge_allowance_mm"` // at free edges
	Turned    bool       `json:"turned"`            // its height lies across the cloth
	Bias      bool       `json:"bias,omitempty"`
}

// Buy is how much of a cloth to buy: low for cloth that shrinks least, high for
// cloth as narrow as it is sold that shrinks most.
type Buy struct {
	Width  float64         `json:"width_cm"`
	Usable float64         `json:"usable_cm"`
	Folded bool            `json:"folded,omitempty"`
	Length fibres.Estimate `json:"length_cm"`
	Bound  float64         `json:"lower_bound_cm"`
	Waste  float64         `json:"waste"` // part of the likely length that is in no part
	Lie    []Lie           `json:"layout"`
	Cost   *Cost           `json:"cost,omitempty"` // nil where no price of a length is known
}

// Cost is what the likely and the safe length come to, each rounded up to 5 cm
// as it is cut in a shop.
type Cost struct {
	Price    string  `json:"price"` // in words, of a metre
	Currency string  `json:"currency,omitempty"`
	Likely   float64 `json:"likely"`
	Safe     float64 `json:"safe"`

	at price.Price
}

// cost is what a length comes to; nil where the price is for no length.
func (b Buy) cost(p *price.Price) *Cost {
	if p == nil {
		return nil
	}
	likely, ok := b.costAt(*p, units.Metric)
	if !ok {
		return nil
	}
	return &Cost{Price: p.Say(units.Metric), Currency: p.Currency, Likely: math.Round(likely[0]*100) / 100, Safe: math.Round(likely[1]*100) / 100, at: *p}
}

// CostIn says what it comes to, "about £29.38 at £12.50 per metre, £30.63 to be
// safe"; "" where no price of a length is known.
func (b Buy) CostIn(sys units.System) string {
	if b.Cost == nil {
		return ""
	}
	c, _ := b.costAt(b.Cost.at, sys)
	return sums(b.Cost.at, c, " at "+b.Cost.at.Say(sys))
}

// sums says a likely and a safe sum in the currency of a price.
func sums(p price.Price, c [2]float64, at string) string {
	likely, safe := p.Sum(c[0]), p.Sum(c[1])
	if likely == safe {
		return "about " + likely + at
	}
	return "about " + likely + at + ", " + safe + " to be safe"
}

// CostIn says what all the cloths come to together; "" unless the price of each
// of two or more is known, in one currency.
func (a Answer) CostIn(sys units.System) string {
	var of *price.Price
	var sum [2]float64
	n := 0
	for _, l := range a.Layers {
		if len(l.Pieces) == 0 {
			continue
		}
		c := l.Buy.Cost
		if c == nil || (of != nil && c.Currency != of.Currency) {
			return ""
		}
		v, _ := l.Buy.costAt(c.at, sys)
		sum[0], sum[1], of, n = sum[0]+v[0], sum[1]+v[1], &c.at, n+1
	}
	if n < 2 {
		return ""
	}
	return sums(*of, sum, "")
}

// costAt is what the likely and the safe length cost at a price, as they are cut
// in a shop of the system of units; false where the price is for no length.
func (b Buy) costAt(p price.Price, sys units.System) ([2]float64, bool) {
	likely, ok := p.For(units.Length(b.Length.Typical).Bought(sys))
	safe, _ := p.For(units.Length(b.Length.High).Bought(sys))
	return [2]float64{likely, safe}, ok
}

// WidthAnswer is the likely length to buy in another width.
type WidthAnswer struct {
	Width  float64 `json:"width_cm"`
	Folded bool    `json:"folded,omitempty"`
	Fits   bool    `json:"fits"`
	Length float64 `json:"length_cm,omitempty"`
	Area   float64 `json:"area_m2,omitempty"` // of cloth bought
	Waste  float64 `json:"waste,omitempty"`
	Say    string  `json:"say,omitempty"`
}

// CommonWidths are widths that cloth is commonly sold in, in cm (common
// practice).
var CommonWidths = []units.Length{90, 115, 140, 150}

// Effort of a search, in boxes laid: for the layout that is shown, and for those
// of which only the length is wanted.
const (
	fullEffort  = 250_000
	quickEffort = 50_000
)

// Plan works a job out.
func Plan(j Job) (Answer, error) {
	ans := Answer{Version: 1, Layers: []LayerAnswer{}, Parts: []Geometry{}, Seams: []Join{}, Notes: []string{}}
	if err := j.check(); err != nil {
		return ans, err
	}
	ans.Notes = append(ans.Notes, j.treat()...)
	var found fault.List
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
	for _, p := range j.Parts {
		ans.Parts = append(ans.Parts, GeometryOf(p))
	}
	ans.Seams = append(ans.Seams, j.Joins...)
	if shell, lining := j.layer("shell"), j.layer("lining"); shell != nil && lining != nil {
		for _, a := range ans.Layers {
			if a.Layer != "shell" {
				continue
			}
			if g, ok := gapOf(a, *shell, *lining); ok {
				ans.Gap, ans.GapMM = &g, &g.MM
			} else {
				ans.Notes = append(ans.Notes, "How shell and lining shrink is not known of both, so neither is the gap between them.")
			}
		}
	}
	return ans, nil
}

// treat reckons the layers with what the piece goes through.
func (j *Job) treat() (notes []string) {
	as := j.Care
	if as == "" {
		as = Washed
		for _, l := range j.Layers {
			if l.NotWashed() {
				as = DryCleaned
				notes = append(notes, fmt.Sprintf("%s is not washed, so the piece is not: reckoned with what dry-cleaning and steam take out.", capital(l.Cloth)))
				break
			}
		}
	}
	j.Layers = slices.Clone(j.Layers)
	for i := range j.Layers {
		if l := &j.Layers[i]; l.Treatment == "" && l.Name != "interfacing" {
			l.Treat(as)
		}
	}
	return notes
}

// allowances are what is left outside the seam line on a layer, in cm.
func (j Job) allowances(l Layer) allowances {
	a := j.Allowance
	if l.Allowance != nil {
		a = *l.Allowance
		return allowances{float64(a), float64(a), float64(a)}
	}
	out := allowances{float64(a), float64(a), float64(a)}
	if j.Hem != nil {
		out.hem = float64(*j.Hem)
	}
	if j.Edge != nil {
		out.edge = float64(*j.Edge)
	}
	return out
}

func (j Job) layer(name string) *Layer {
	for i := range j.Layers {
		if j.Layers[i].Name == name {
			return &j.Layers[i]
		}
	}
	return nil
}

func (j Job) check() error {
	var found fault.List
	if len(j.Parts) == 0 {
		return &fault.Fault{Kind: fault.WrongCall, What: "there are no parts to cut", Expected: "a piece, or parts with their sizes", Mend: `name a piece, or give --part "wrap 150cm x 75cm x1"`}
	}
	n := 0
	for _, p := range j.Parts {
		found.Add(p.Check())
		n += p.Count
	}
	if n > mostBoxes {
		found.Add(&fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there are %d parts", n), Expected: fmt.Sprintf("at most %d", mostBoxes), Mend: "reckon them in lots"})
	}
	for _, a := range []*units.Length{&j.Allowance, j.Hem, j.Edge} {
		if a != nil {
			found.Add(allowanceFault(*a))
		}
	}
	return found.OrNil()
}

// three are the values of a figure for the lucky, the likely and the unlucky.
type three struct{ low, mid, high float64 }

// parts turns per cent into parts of one; what is not known is nought.
func percents(e fibres.Estimate) three {
	if !e.Known() {
		return three{}
	}
	return three{e.Low / 100, e.Typical / 100, e.High / 100}
}

func planLayer(j Job, l Layer) (LayerAnswer, []string, error) {
	out := LayerAnswer{Layer: l.Name, Cloth: l.Cloth, Treatment: l.Treatment, Shrink: Shrink{l.Warp, l.Weft}, Prewashed: l.Prewashed, Pieces: []PieceAnswer{}, Widths: []WidthAnswer{}}
	if out.Treatment == "" {
		out.Treatment = Washed
	}
	var notes []string
	warp, weft := percents(l.Warp), percents(l.Weft)
	known := l.Warp.Known() && l.Weft.Known()
	switch {
	case l.Prewashed:
		warp, weft = three{}, three{}
	case !known && l.Name != "interfacing":
		notes = append(notes, fmt.Sprintf("How the %s shrinks is not known: nothing is added for it. Pre-wash it, or wash a swatch.", l.Name))
	}
	if l.Old != "" {
		notes = append(notes, fmt.Sprintf("An old book gives %s as %s wide; reckoned at the %s cm of today. Measure yours and say how wide it is.", l.Cloth, l.Old, fibres.Round(l.Width.Typical)))
	}
	usable, narrow := l.Width.Typical-2*float64(l.Selvedge), l.Width.Low-2*float64(l.Selvedge)
	if usable <= 0 || narrow <= 0 {
		return out, nil, &fault.Fault{Kind: fault.WrongCall, Where: l.Name, What: "no width is left between the selvedges", Expected: "a cloth wider than its selvedges"}
	}
	var chosen []Part
	for _, p := range j.Parts {
		switch {
		case len(l.Only) > 0 && !slices.Contains(l.Only, p.Name), len(l.Only) == 0 && l.Name == "lining" && p.ShellOnly:
		default:
			chosen = append(chosen, p)
		}
	}
	if len(chosen) == 0 {
		return out, notes, nil
	}
	each := j.allowances(l)
	parts := drawParts(chosen, each)
	for _, p := range parts {
		if p.rough {
			notes = append(notes, fmt.Sprintf("The allowances of %s run into each other in a hollow of its outline: it is laid with the hollow closed.", p.Name))
		}
	}

	// The likely layout comes first: whether it goes on at all is told by it.
	likely, err := lay(parts, l, usable, weft.mid, warp.mid, fullEffort)
	if err != nil && !l.WidthGiven {
		// No width was said: a wider one, if the cloth is sold so.
		if need := math.Ceil(widest(parts, weft.mid, warp.mid, l.Folded) + 2*float64(l.Selvedge) - near); need <= l.Width.High {
			notes = append(notes, fmt.Sprintf("%s is mostly %s wide, which %s does not go on; reckoned at %s. Ask for that width.",
				capital(l.Cloth), units.Length(l.Width.Typical), fault.All(err)[0].Where, units.Length(need)))
			l.Width.Typical, l.Width.Low = need, need
			usable, narrow = need-2*float64(l.Selvedge), need-2*float64(l.Selvedge)
			likely, err = lay(parts, l, usable, weft.mid, warp.mid, fullEffort)
		}
	}
	if err != nil && (l.Join || !l.WidthGiven) {
		var say []string
		if chosen, say = joined(parts, l, usable, weft.high, warp.high); len(say) > 0 {
			notes = append(notes, say...)
			parts = drawParts(chosen, each)
			likely, err = lay(parts, l, usable, weft.mid, warp.mid, fullEffort)
		}
	}
	if err != nil {
		return out, nil, err
	}
	for i, p := range parts {
		for _, turned := range []bool{false, true} {
			n := likely.copies(i, turned)
			if n == 0 {
				continue
			}
			size := func(across, along float64) [2]float64 {
				s := cutSize(p, turned, across, along)
				return [2]float64{round4(s[0]), round4(s[1])}
			}
			out.Pieces = append(out.Pieces, PieceAnswer{Name: p.Name, Count: n, Finished: [2]float64{round4(float64(p.Width)), round4(float64(p.Height))},
				Cut: size(weft.mid, warp.mid), Low: size(weft.low, warp.low), High: size(weft.high, warp.high), Washed: size(0, 0),
				Allowance: each.seam * 10, Hem: each.hem * 10, Edge: each.edge * 10, Turned: turned, Bias: p.Grain == OnBias})
			if turned && p.Grain != AlongWidth && p.Grain != AlongEither && !l.CrossGrain {
				note := fmt.Sprintf("The %s does not go across the %s: it lies turned, its width along the cloth.", p.Name, l.Name)
				if l.OneWay {
					note += " The nap then runs across it."
				}
				notes = append(notes, note)
			}
		}
	}
	var unlucky, lucky, washed, washedWorst, washedBest layout
	var errUnlucky, errWashed, errWorst error
	tasks := []func(){
		func() { unlucky, errUnlucky = lay(parts, l, narrow, weft.high, warp.high, quickEffort) },
		func() { lucky, _ = lay(parts, l, usable, weft.low, warp.low, quickEffort) },
	}
	dry := !l.Prewashed && known
	if dry {
		tasks = append(tasks, func() { washed, errWashed = lay(parts, l, usable*(1-weft.mid), 0, 0, fullEffort) },
			func() { washedWorst, errWorst = lay(parts, l, narrow*(1-weft.high), 0, 0, quickEffort) },
			func() { washedBest, _ = lay(parts, l, usable*(1-weft.low), 0, 0, quickEffort) })
	}
	widths := j.Widths
	if len(widths) == 0 && !l.WidthGiven && l.Name != "interfacing" {
		widths = CommonWidths
	}
	out.Widths = make([]WidthAnswer, len(widths))
	for i, w := range widths {
		tasks = append(tasks, func() { out.Widths[i] = inWidth(parts, l, w, weft.mid, warp.mid) })
	}
	together(tasks)

	long := unlucky.length
	if errUnlucky != nil {
		// Not on the narrowest cloth sold: what is bought is at least wide enough.
		l2 := l
		high, err := lay(parts, l2, usable, weft.high, warp.high, quickEffort)
		switch {
		case err == nil:
			long = high.length
			notes = append(notes, fmt.Sprintf("%s is sold from %s wide; %s", capital(l.Cloth), units.Length(l.Width.Low), refuse(errUnlucky)))
		default:
			long = likely.length / (1 - warp.high) * (1 - warp.mid)
			notes = append(notes, fmt.Sprintf("Should the %s shrink as much as some do, a part no longer goes on it: %s", l.Name, refuse(err)))
		}
	}
	// A layout serves smaller parts and wider cloth as well, so that the lengths
	// are in order whatever the search came upon.
	mid := math.Min(likely.length, math.Max(long, likely.bound))
	low := mid
	if lucky.at != nil {
		low = math.Min(low, lucky.length)
	}
	because := fmt.Sprintf("%s laid in %s", count(len(likely.blanks), "part"), units.Length(usable).Centimetres())
	if l.Folded {
		because += " folded"
	}
	out.Buy = Buy{Width: l.Width.Typical, Usable: usable, Folded: l.Folded, Length: derived(low, mid, math.Max(mid, long), because, l), Bound: round4(likely.bound), Lie: likely.lies(parts), Waste: likely.waste()}
	out.Buy.Cost = out.Buy.cost(l.Price)
	for _, i := range likely.spare {
		notes = append(notes, fmt.Sprintf("Cut on the fold, %s is cut once more than it is needed.", parts[i].Name))
	}
	if dry {
		if errWashed == nil {
			grow := func(v, s float64) float64 { return v / (1 - s) }
			mid := grow(washed.length, warp.mid)
			worst := mid
			if errWorst == nil {
				worst = math.Max(mid, grow(washedWorst.length, warp.high))
			}
			best := math.Min(mid, grow(math.Min(washed.length, washedBest.length), warp.low))
			out.Washed = &Buy{Width: l.Width.Typical, Usable: washed.fullWidth(), Folded: l.Folded, Length: derived(best, mid, worst, because+" after the wash", l),
				Bound: round4(grow(washed.bound, warp.mid)), Lie: washed.lies(parts), Waste: washed.waste()}
			out.Washed.Cost = out.Washed.cost(l.Price)
		} else {
			notes = append(notes, fmt.Sprintf("Washed first, the %s is about %s wide: %s", l.Name, units.Length(usable*(1-weft.mid)).Centimetres(), refuse(errWashed)))
		}
	}
	out.Care = careOf(l)
	return out, notes, nil
}

func (l layout) fullWidth() float64 {
	if l.folded {
		return 2 * l.width
	}
	return l.width
}

// round4 drops what floating point adds to a length in cm.
func round4(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// together does the tasks on as many threads as there are cores.
func together(tasks []func()) {
	var wg sync.WaitGroup
	gate := make(chan struct{}, max(1, runtime.GOMAXPROCS(0)))
	for _, t := range tasks {
		wg.Add(1)
		gate <- struct{}{}
		go func() {
			defer func() { <-gate; wg.Done() }()
			t()
		}()
	}
	wg.Wait()
}

// inWidth lays the parts in another width.
func inWidth(parts []sized, l Layer, w units.Length, across, along float64) WidthAnswer {
	out := WidthAnswer{Width: float64(w), Folded: l.Folded}
	usable := float64(w - 2*l.Selvedge)
	if usable <= 0 {
		out.Say = "nothing is left between the selvedges"
		return out
	}
	x, err := lay(parts, l, usable, across, along, quickEffort)
	if err != nil {
		out.Say = fault.All(err)[0].Where + " does not go on it"
		return out
	}
	out.Fits, out.Length, out.Waste = true, x.length, x.waste()
	out.Area = x.length * float64(w) / 1e4
	return out
}

// refuse tells from a fault what cloth would do.
func refuse(err error) string {
	f := fault.All(err)[0]
	return fmt.Sprintf("the %s would need %s.", f.Where, f.Expected)
}

// cutSize is the width and height of a part when cut; across and along are what
// the cloth loses.
func cutSize(p sized, turned bool, across, along float64) [2]float64 {
	low, high := bounds(p.pts)
	w, h := high.X-low.X, high.Y-low.Y
	if p.Grain == OnBias { // both run at 45° to the warp
		k := math.Sqrt((1/(1-across)/(1-across) + 1/(1-along)/(1-along)) / 2)
		return [2]float64{w * k, h * k}
	}
	if turned {
		across, along = along, across
	}
	return [2]float64{w / (1 - across), h / (1 - along)}
}

func derived(low, mid, high float64, because string, l Layer) fibres.Estimate {
	e := fibres.Estimate{Low: round4(low), Typical: round4(mid), High: round4(high), Unit: "cm", Basis: fibres.Derived, Sources: []string{}, Because: because}
	seen := map[string]bool{}
	for _, x := range []fibres.Estimate{l.Warp, l.Weft, l.Width} {
		for _, s := range x.Sources {
			if !seen[s] {
				seen[s] = true
				e.Sources = append(e.Sources, s)
			}
		}
	}
	return e
}

func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
