package advise

import (
	"cmp"
	"slices"
	"strings"

	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/prose"
)

// decides is the part of the population from which a reason is one that decides: it
// is told before all else, and is a reservation where the make-up will do.
const decides = 0.1

// Where reasons stand in the list.
const (
	deciding   = iota // what costs much of the population, the costliest first
	repeated          // the same on a matter that has been told
	supporting        // what is met, in the order in which the piece asks
	remaining         // small objections, cautions, steps
)

// placedReason is a reason with its place in the list.
type placedReason struct {
	reason Reason
	band   int
	weight float64 // within its band, the least comes first
}

// reasons are the demands, and the rules that fire or may fire on the make-up: first
// what decides, by how much of the population it takes, one of a matter before a
// second; then what is met; then the rest. A rule that waits only for what the user
// has not said (a colour) is told with the open facts.
func (a *Adviser) reasons(j *judged) []Reason {
	list := append(a.demandReasons(j), a.ruleReasons(j)...)
	inPlace(list)
	covered := map[string]bool{}
	for i := range list {
		r := &list[i]
		if r.band == deciding && r.reason.Matter != "" {
			if covered[r.reason.Matter] {
				r.band = repeated
			}
			covered[r.reason.Matter] = true
		}
	}
	inPlace(list)
	out := make([]Reason, len(list))
	for i, r := range list {
		out[i] = r.reason
	}
	return out
}

func inPlace(list []placedReason) {
	slices.SortStableFunc(list, func(x, y placedReason) int {
		if x.band != y.band {
			return x.band - y.band
		}
		return cmp.Compare(x.weight, y.weight)
	})
}

// demandReasons are the demands of which enough is known, met or missed.
func (a *Adviser) demandReasons(j *judged) []placedReason {
	var out []placedReason
	for i := range j.asked {
		k := &j.asked[i]
		if !k.known {
			continue
		}
		d := k.demand
		r := placedReason{Reason{Demand: d.ID, Effect: rules.For.String(), Matter: d.Matter, Harm: d.Harm, Share: k.share, Firm: k.share >= firm,
			Say: d.Say, Basis: d.Basis, Sources: d.Sources}, supporting, float64(i)}
		if k.cost >= decides {
			r.band, r.weight = deciding, -k.cost*k.tells()
			r.reason.Effect, r.reason.Cost, r.reason.Share = rules.Against.String(), k.cost, 1-k.share
			r.reason.Firm = r.reason.Share >= firm
			r.reason.Because = prose.Upper(k.failing()) + "."
			if d.about == weightMatter && !k.hangs && k.tooMuch() {
				r.reason.Matter = Abouts[bulkMatter]
			}
		}
		out = append(out, r)
	}
	return out
}

// tells is how much of a reason the demand is beside others of its cost: weight says
// least where a piece does not hang free, since strength, body and show-through say
// what is wrong with a cloth too light; one too heavy there is too bulky.
func (k *asked) tells() float64 {
	if k.demand.about == weightMatter && !k.hangs {
		return 0.5
	}
	return 1
}

// tooMuch reports whether of the members that miss what is asked more lie above it
// than below; as many of both count as too much.
func (k *asked) tooMuch() bool {
	under, over := 0, 0
	for i := range fibres.N {
		if k.of != nil && !k.of.Has(i) {
			continue
		}
		high := value(k.column, i)
		if k.upper != nil {
			high = value(k.upper, i) / k.allow
		}
		switch {
		case value(k.column, i) < k.demand.Ideal.Low:
			under++
		case high > k.demand.Ideal.High:
			over++
		}
	}
	return over >= under
}

// effectOrder is the order in which rules are told that do not decide.
var effectOrder = map[rules.Effect]int{rules.Forbids: 0, rules.Against: 1, rules.Caution: 2, rules.For: 3, rules.Do: 4}

// ruleReasons are the rules that speak.
func (a *Adviser) ruleReasons(j *judged) []placedReason {
	var out []placedReason
	for _, r := range a.Rules {
		if !judges(r, j.make) {
			continue
		}
		f := r.Fire(j.c)
		if !told(f) {
			continue
		}
		x := placedReason{a.reason(f), remaining, float64(effectOrder[r.Effect]) - f.Share/2}
		switch {
		case len(f.Open) > 0:
		case x.reason.Cost >= decides:
			x.band, x.weight = deciding, -x.reason.Cost
		case r.Effect == rules.For && x.reason.Firm:
			x.band, x.weight = supporting, float64(len(j.asked))-f.Share
		}
		if a.namesWearer(r) {
			x.weight -= 0.9 // what concerns a child comes before what concerns the cloth
		}
		out = append(out, x)
	}
	return out
}

// reason is what a rule says of the make-up, and what that costs.
func (a *Adviser) reason(f rules.Firing) Reason {
	r := f.Rule
	out := Reason{Rule: r.ID, Effect: r.Effect.String(), Matter: a.about(r.Matter), Harm: r.Harm, Share: f.Share, Firm: firmly(f),
		Say: r.Say, Because: r.Because, Basis: r.Basis, Sources: r.Sources, Open: f.Open}
	if (r.Effect == rules.Forbids || r.Effect == rules.Against && out.Matter != working) && len(f.Open) == 0 {
		out.Cost = f.Share * (1 - leavesOf(r))
	}
	return out
}

// reservations are the reasons that cost something.
func reservations(list []Reason) []Reason {
	out := []Reason{}
	for _, r := range list {
		if r.Cost >= decides {
			out = append(out, r)
		}
	}
	return out
}

// notJudged are the matters of which too little is known: demands that nothing could
// be said to, and what waits for a colour.
func (a *Adviser) notJudged(j *judged, list []Reason) []string {
	var out []string
	add := func(matter string) {
		if matter != "" && !slices.Contains(out, matter) {
			out = append(out, matter)
		}
	}
	for _, k := range j.asked {
		if !k.known {
			add(cmp.Or(k.demand.Matter, k.demand.ID))
		}
	}
	for _, r := range list {
		if len(r.Open) > 0 {
			add("colour")
		}
	}
	return out
}

// namesWearer reports whether a rule speaks of who wears the piece.
func (a *Adviser) namesWearer(r *rules.Rule) bool {
	return slices.Contains(r.Parts.Names, "wearer") || slices.Contains(r.Parts.Names, "piece.wearer")
}

// askable reports whether all open facts are ones that the user can simply
// say: colours.
func askable(open []string) bool {
	return !slices.ContainsFunc(open, func(o string) bool { return !strings.HasSuffix(o, ".lightness") })
}
