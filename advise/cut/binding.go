package cut

import (
	"fmt"
	"slices"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// BindingPlan is the bias binding for the edges of a piece.
type BindingPlan struct {
	Binding    Binding  `json:"binding"`
	Shows      float64  `json:"shows_mm"`
	Width      float64  `json:"cut_width_mm"`
	Length     float64  `json:"length_cm"` // with 10 cm for the ends
	Square     float64  `json:"square_cm"`
	Strips     int      `json:"strips"`
	Joins      int      `json:"joins"`
	Continuous float64  `json:"continuous_square_cm,omitempty"` // the square for a continuous strip
	Rows       int      `json:"continuous_rows,omitempty"`
	Tightest   float64  `json:"tightest_radius_cm,omitempty"` // of the bound edges
	Takes      float64  `json:"takes_radius_cm"`              // the tightest it goes round flat
	Edges      []string `json:"edges"`
	Say        string   `json:"say"`

	guessed bool // how far the strip stretches was not said
}

// firmBias is how far a bias strip of firm cloth stretches (common practice).
const firmBias units.Fraction = 0.1

// biasJoin is the allowance of the joins of a binding (common practice).
const biasJoin units.Length = 0.6

// PlanBinding works out the bias binding for the free edges and hems among the
// joins, or for those that are named, round an edge so thick.
func PlanBinding(joins []Join, wish BindingWish, thickness units.Length) (BindingPlan, error) {
	out := BindingPlan{Binding: SingleBinding, Shows: round4(float64(wish.Shows) * 10), Length: 10, Edges: []string{}}
	if wish.Double {
		out.Binding = DoubleBinding
	}
	stretch := wish.Stretch
	if stretch <= 0 {
		stretch = firmBias
	}
	width, err := BindingWidth(wish.Shows, thickness, out.Binding)
	if err != nil {
		return out, err
	}
	takes, err := CurveForBinding(wish.Shows, stretch, false)
	if err != nil {
		return out, err
	}
	bound, err := wish.of(joins)
	if err != nil {
		return out, err
	}
	for _, j := range bound {
		out.Length += j.Length
		out.Edges = append(out.Edges, j.Name)
		if j.Radius > 0 && (out.Tightest == 0 || j.Radius < out.Tightest) {
			out.Tightest = round4(j.Radius)
		}
	}
	out.Width, out.Takes, out.Length = round4(float64(width)*10), round4(float64(takes)), round4(out.Length)
	square, strips, ok := fewJoins(out.Length, float64(width), float64(biasJoin))
	if !ok {
		return out, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s of strip takes more than a square of 10 m", units.Length(out.Length)), Expected: "less strip", Mend: "bind it in lots"}
	}
	out.Square, out.Strips, out.Joins = square, strips, strips-1
	if a, err := SquareForBias(units.Length(out.Length), width, biasJoin, true); err == nil {
		if c, err := BiasFromSquare(a, width, biasJoin, true); err == nil {
			out.Continuous, out.Rows = float64(a), c.Strips
		}
	}
	out.guessed = wish.Stretch <= 0
	out.Say = out.In(units.Metric)
	return out, nil
}

// of are the joins that are bound: the free edges and hems, or those named.
func (w BindingWish) of(joins []Join) (out []Join, err error) {
	var names []string
	for _, j := range joins {
		if j.Kind == FreeEdge || j.Kind == Hem {
			names = append(names, j.Name)
			if len(w.Edges) == 0 || slices.ContainsFunc(w.Edges, func(e string) bool { return strings.EqualFold(strings.TrimSpace(e), j.Name) }) {
				out = append(out, j)
			}
		}
	}
	var found fault.List
	for _, e := range w.Edges {
		if e = strings.TrimSpace(e); !slices.ContainsFunc(out, func(j Join) bool { return strings.EqualFold(e, j.Name) }) {
			found = append(found, &fault.Fault{Kind: fault.NotFound, Where: "--bind", What: fmt.Sprintf("there is no edge %q to bind", e), Expected: strings.Join(names, ", "), Mend: fault.DidYouMean(e, names, "")})
		}
	}
	if len(out) == 0 && len(found) == 0 {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, What: "the piece has no free edge or hem to bind", Expected: "a piece with one", Mend: "leave the binding out"})
	}
	return out, found.OrNil()
}

// In says what the binding comes to, in the units of the answer.
func (p BindingPlan) In(sys units.System) string {
	cm := func(v float64) string {
		if sys == units.Imperial {
			return units.Length(v).In(sys)
		}
		return units.Length(v).Centimetres()
	}
	wide := units.Length(p.Width / 10).Millimetres()
	if sys == units.Imperial {
		wide = cm(p.Width / 10)
	}
	s := fmt.Sprintf("%s of bias strip, cut %s wide: from a square of %s in %s, with %s.",
		units.Length(p.Length).In(sys), wide, cm(p.Square), count(p.Strips, "strip"), count(p.Joins, "join"))
	if p.Rows > 0 {
		s += fmt.Sprintf(" As a continuous strip: a square of %s, marked in %s.", cm(p.Continuous), count(p.Rows, "row"))
	}
	if p.Tightest > 0 && p.Tightest < p.Takes {
		say := "The edge curves more tightly (radius %s) than the binding goes round flat (%s): steam it into the curve first, or bind narrower."
		if p.guessed {
			say = "The edge curves tightly (radius %s); a strip of firm cloth goes round %s flat. Pull a strip along a ruler, and steam it into the curve first."
		}
		s += " " + fmt.Sprintf(say, cm(p.Tightest), cm(p.Takes))
	}
	return s
}
