package cut

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// Sewing is how the seams of a plan are sewn.
type Sewing struct {
	Stitch    Stitch
	Length    units.Length   // of one stitch
	Thickness units.Length   // of everything sewn through
	Tex       float64        // of the thread
	Bobbin    Bobbin         // what a full bobbin holds; zero is a household bobbin
	Waste     units.Fraction // 0 is 0.15
	// Rows is how often an edge or hem is sewn; 0 is once.
	Rows int
	// Edge is the stitch of hems and free edges, where it is another.
	Edge Stitch
	// Apart is how many layers are put together by themselves before they are
	// joined; 0 is one.
	Apart int
}

// Bobbin is what a full bobbin holds: a length, or a mass of thread in grams.
type Bobbin struct {
	Length units.Length
	Grams  float64
}

// usualBobbin is the thread on a full household bobbin, in grams (common
// practice).
const usualBobbin = 1.4

// usualWaste is what is added for ends and tests (two worked examples on measuring
// thread consumption, read).
const usualWaste units.Fraction = 0.15

// ThreadPlan is the thread that the seams of a piece take.
type ThreadPlan struct {
	Stitch  Stitch          `json:"stitch"`
	Seams   []SeamThread    `json:"seams"`
	Needle  float64         `json:"needle_m"`
	Under   float64         `json:"bobbin_m"`
	Total   fibres.Estimate `json:"total_m"`
	Holds   fibres.Estimate `json:"bobbin_holds_m"`
	Bobbins int             `json:"bobbins"`
	Say     string          `json:"say"`
}

// SeamThread is the thread of one seam.
type SeamThread struct {
	Name   string  `json:"name"`
	Stitch Stitch  `json:"stitch"`
	Length float64 `json:"length_cm"` // sewn in all: twice the seam where shell and lining have it
	Layers int     `json:"layers,omitempty"`
	Needle float64 `json:"needle_m"`
	Under  float64 `json:"bobbin_m"`   // or looper, for a stitch that has no bobbin
	Wind   bool    `json:"wind_first"` // a full bobbin before this seam, else it runs out in it
}

// threadUse is thread over seam for one stitch, and the needle's part of it.
type threadUse struct {
	ratio, needle float64
	source        string
	measured      bool // from the way the stitch lies, not from a table
}

// use is what a stitch takes.
func (how Sewing) use(s Stitch) (u threadUse, err error) {
	if u.ratio, u.needle, err = ThreadFromRatio(s); err != nil {
		return u, err
	}
	u.source = "thread-ratio-table"
	if _, ok := stitchBase[s]; ok && how.Length > 0 {
		u.source, u.measured = "thread-problems-article", true
		u.ratio, err = ThreadFromGeometry(s, how.Thickness, how.Length)
	}
	return u, err
}

// Holds is how much thread a full bobbin holds, in metres.
func (how Sewing) Holds() (fibres.Estimate, error) {
	e := fibres.Estimate{Unit: "m", Basis: fibres.Practice, Sources: []string{"practice"}}
	if l := how.Bobbin.Length; l > 0 {
		m := float64(l / units.Metre)
		e.Low, e.Typical, e.High, e.Basis, e.Sources = m, m, m, fibres.Measured, []string{}
		e.Because = "the length you gave"
		return e, nil
	}
	grams, spread := how.Bobbin.Grams, 1.0
	if grams == 0 {
		grams, spread = usualBobbin, 0.7
	}
	l, err := ThreadOnBobbin(grams, how.Tex)
	if err != nil {
		return e, err
	}
	m := float64(l / units.Metre)
	e.Low, e.Typical, e.High = m*spread, m, m/math.Sqrt(spread)
	e.Because = fmt.Sprintf("%g g of thread of %g tex; weigh a full bobbin and an empty one", grams, how.Tex)
	return e, nil
}

// PlanThread works out needle and bobbin thread seam by seam, in the order given,
// and says before which of them to wind a full bobbin so that none runs out
// inside a seam that one bobbin would do.
func PlanThread(joins []Join, how Sewing) (ThreadPlan, error) {
	out := ThreadPlan{Stitch: how.Stitch, Seams: []SeamThread{}}
	if how.Edge == "" {
		how.Edge = how.Stitch
	}
	if how.Waste == 0 {
		how.Waste = usualWaste
	}
	if err := wasteFault(how.Waste); err != nil {
		return out, err
	}
	uses := map[Stitch]threadUse{}
	basis, sources := fibres.Derived, []string{}
	for _, s := range []Stitch{how.Stitch, how.Edge} {
		u, err := how.use(s)
		if err != nil {
			return out, err
		}
		if uses[s] = u; !u.measured {
			basis = fibres.Memory
		}
		if !slices.Contains(sources, u.source) {
			sources = append(sources, u.source)
		}
	}
	var err error
	if out.Holds, err = how.Holds(); err != nil {
		return out, err
	}
	sewn := 0.0
	for _, j := range joins {
		s := how.seam(j, uses)
		sewn += s.Length / 100
		out.Needle, out.Under = out.Needle+s.Needle, out.Under+s.Under
		out.Seams = append(out.Seams, s)
	}
	out.wind(out.Holds.Low)
	total := out.Needle + out.Under
	out.Total = fibres.Estimate{Low: total * 0.85, Typical: total, High: total * 1.2, Unit: "m", Basis: basis, Sources: sources,
		Because: fmt.Sprintf("%s times the %s m of seam, with %s for ends and tests", fibres.Round(total/math.Max(sewn, 0.01)/float64(1+how.Waste)), fibres.Round(sewn), how.Waste)}
	out.Say = out.In(units.Metric)
	return out, nil
}

// seam is the thread of one seam.
func (how Sewing) seam(j Join, uses map[Stitch]threadUse) SeamThread {
	s := SeamThread{Name: j.Name, Stitch: how.Stitch, Length: j.Length}
	if j.Kind != Seam {
		s.Stitch = how.Edge
		s.Length *= float64(max(1, how.Rows))
	}
	if how.Apart > 1 && j.assembles() {
		s.Layers = how.Apart
		s.Length *= float64(how.Apart)
	}
	u := uses[s.Stitch]
	k := s.Length / 100 * u.ratio * float64(1+how.Waste)
	s.Needle, s.Under = k*u.needle, k*(1-u.needle)
	return s
}

// wind says before which seams a bobbin that holds so many metres is filled.
func (t *ThreadPlan) wind(full float64) {
	left := 0.0
	for i := range t.Seams {
		s := &t.Seams[i]
		if s.Stitch != Lockstitch && s.Stitch != Zigzag { // its under thread comes off a cone
			continue
		}
		if s.Under > left+1e-9 {
			s.Wind = true
			t.Bobbins++
			left = full
			for s.Under > left+1e-9 { // longer than a bobbin: it runs out inside
				t.Bobbins++
				left += full
			}
		}
		left -= s.Under
	}
}

// In says what the thread comes to, in the units of the answer.
func (t ThreadPlan) In(sys units.System) string {
	metres := func(v float64) string {
		if sys == units.Imperial {
			return fibres.Round(v/0.9144) + " yd"
		}
		return fibres.Round(v) + " m"
	}
	under := "in the bobbin"
	if t.Bobbins == 0 {
		under = "under the cloth"
	}
	s := fmt.Sprintf("About %s, %s of it %s.", metres(t.Needle+t.Under), metres(t.Under), under)
	var wind []string
	for _, x := range t.Seams {
		if x.Wind {
			wind = append(wind, x.Name)
		}
	}
	if len(wind) > 0 {
		s += " Fill it before the " + prose.And(slices.Compact(wind)) + "."
	}
	return s
}
