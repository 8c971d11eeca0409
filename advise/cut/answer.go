package cut

import (
	"fmt"
	"math"

	"tenter/fibres"
	"tenter/fibres/price"
	"tenter/fibres/units"
)

// Answer is the cut sizes and what to buy, as `cut` gives them.
type Answer struct {
	Version int              `json:"version"`
	MakeUp  any              `json:"make_up,omitempty"`
	Layers  []LayerAnswer    `json:"layers"`
	GapMM   *fibres.Estimate `json:"gap_mm,omitempty"`
	Gap     *Gap             `json:"gap,omitempty"`
	Parts   []Geometry       `json:"parts"`
	// Area and Perimeter are those of all parts at their finished size.
	Area      float64      `json:"area_cm2"`
	Perimeter float64      `json:"perimeter_cm"`
	Seams     []Join       `json:"seams"`
	Thread    *ThreadPlan  `json:"thread,omitempty"`
	Binding   *BindingPlan `json:"binding,omitempty"`
	Notes     []string     `json:"notes"`
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

// Allowances says what is left outside the seam line: "12 mm on each edge", "12 mm at
// seams, 30 mm at hems and free edges"; "none".
func (l LayerAnswer) Allowances(sys units.System) string {
	if len(l.Pieces) == 0 {
		return "none"
	}
	p := l.Pieces[0]
	for _, x := range l.Pieces { // hems and free edges may be those of another part
		if x.Hem != x.Allowance {
			p.Hem = x.Hem
		}
		if x.Edge != x.Allowance {
			p.Edge = x.Edge
		}
	}
	mm := func(v float64) string {
		switch l := units.Length(v / 10); {
		case v == 0:
			return "none"
		case sys == units.Imperial:
			return l.Tape(sys)
		default:
			return l.Millimetres()
		}
	}
	seams := mm(p.Allowance) + " at seams, "
	switch {
	case p.Hem == p.Allowance && p.Edge == p.Allowance && p.Allowance == 0:
		return "none"
	case p.Hem == p.Allowance && p.Edge == p.Allowance:
		return mm(p.Allowance) + " on each edge"
	case p.Hem == p.Edge:
		return seams + mm(p.Hem) + " at hems and free edges"
	case p.Edge == p.Allowance:
		return seams + mm(p.Hem) + " at hems"
	case p.Hem == p.Allowance:
		return seams + mm(p.Edge) + " at free edges"
	}
	return seams + mm(p.Hem) + " at hems, " + mm(p.Edge) + " at free edges"
}

// Buy is how much of a cloth to buy: low for cloth that shrinks least, high for
// cloth as narrow as it is sold that shrinks most.
type Buy struct {
	Width  float64         `json:"width_cm"`
	Usable float64         `json:"usable_cm"`
	Folded bool            `json:"folded,omitempty"`
	Length fibres.Estimate `json:"length_cm"`
	Bound  float64         `json:"lower_bound_cm"`
	// Over is how much longer the layout is than its lower bound: 0 is the
	// shortest there is, 0.1 may be a tenth too long. Where parts are no rectangles,
	// Curved, the bound may be far under what they can be laid in, and Over judges nothing.
	Over   float64 `json:"over_bound"`
	Curved bool    `json:"curved,omitempty"`
	Waste  float64 `json:"waste"` // part of the likely length that is in no part
	Lie    []Lie   `json:"layout"`
	Cost   *Cost   `json:"cost,omitempty"` // nil where no price of a length is known
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

// Near says how far a layout may be from the shortest there is; "" where that is next
// to nothing. Of parts that are no rectangles it says what there is to be saved at the
// most: the lower bound knows what each takes of a line across the cloth, and not how
// their edges go together.
func (b Buy) Near(sys units.System) string {
	const negligible = 0.02
	switch {
	case b.Over <= negligible:
		return ""
	case b.Curved:
		return fmt.Sprintf("no other layout saves more than %s of it; how much of that slants and curves leave to be had is not known.", units.Length(b.Length.Typical-b.Bound).AtLeast(sys))
	}
	return fmt.Sprintf("no layout is shorter than %s; this one is %.0f %% longer.", units.Length(b.Bound).AtMost(sys), b.Over*100)
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

// Whole says what all parts come to at their finished size; "" where there are none.
func (a Answer) Whole(sys units.System) string {
	if a.Area <= 0 {
		return ""
	}
	area := sys.Shown(fibres.Round(a.Area/1e4)+" m²", fibres.Round(a.Area/float64(units.Yard*units.Yard))+" sq yd")
	return fmt.Sprintf("All parts, finished: area %s, perimeter %s.", area, fibres.Quantity(a.Perimeter, "cm", sys))
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
