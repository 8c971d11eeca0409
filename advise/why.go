package advise

import (
	"fmt"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
)

// WhyStep is one step from the names to the verdict: what was reckoned, how,
// from where, and what came out over the population.
type WhyStep struct {
	Step    string          `json:"step"`
	Layer   string          `json:"layer,omitempty"` // shell or lining, where it is of one
	How     string          `json:"how"`
	Have    fibres.Estimate `json:"have"`
	Chain   []fibres.Rung   `json:"chain,omitempty"` // the rungs that were followed to a layer's figure
	Sources []string        `json:"sources"`
}

// WhyShare is how the members of the population meet the demand.
type WhyShare struct {
	Need    Need           `json:"need"`
	Ideal   float64        `json:"ideal"`   // share inside the ideal range
	Partly  float64        `json:"partly"`  // share between ideal and limit
	Outside float64        `json:"outside"` // share beyond the limit
	Share   float64        `json:"share"`   // mean over members: 1 inside, falling straight to 0 at the limit
	At      []WhyQuantile  `json:"quantiles"`
	Say     string         `json:"say"`
	Basis   string         `json:"basis"`
	Sources []string       `json:"sources"`
	Worst   map[string]int `json:"worst"` // of the members, how many fail by which demand most
}

// WhyQuantile is the figure that a part of the population lies below.
type WhyQuantile struct {
	Part  float64 `json:"part"`
	Value float64 `json:"value"`
	Score float64 `json:"score"`
}

// WhyAnswer walks in numbers from the cloth's name to the verdict on one demand.
type WhyAnswer struct {
	Version int       `json:"version"`
	MakeUp  MakeUpIDs `json:"make_up"`
	Demand  string    `json:"demand"`
	Fact    string    `json:"fact"`
	Members int       `json:"members"`
	Steps   []WhyStep `json:"steps"`
	Met     WhyShare  `json:"met"`
	Share   float64   `json:"share"` // of the whole make-up
	Verdict string    `json:"verdict"`
	Say     string    `json:"say"`
	Notes   []string  `json:"notes,omitempty"`
}

// whyQuantiles are the parts of the population that are told.
var whyQuantiles = []float64{0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95}

// Why walks from the names to the verdict on one demand of a make-up, by the
// demand's id ("fall") or its fact ("make-up.stand-off").
func (a *Adviser) Why(m MakeUp, demand string) (WhyAnswer, error) {
	if err := complete(m); err != nil {
		return WhyAnswer{}, err
	}
	j := a.judge(m)
	var k *asked
	var ids []string
	for i := range j.asked {
		d := j.asked[i].demand
		ids = append(ids, d.ID)
		if k == nil && (d.ID == demand || d.Fact == demand) {
			k = &j.asked[i]
		}
	}
	if k == nil {
		return WhyAnswer{}, &fault.Fault{Kind: fault.NotFound, Where: "--why", What: fmt.Sprintf("this make-up has no demand %q", demand),
			Expected: "one of its demands: " + strings.Join(ids, ", "), Mend: fault.DidYouMean(demand, ids, "")}
	}
	out := WhyAnswer{Version: Version, MakeUp: IDsOf(m), Demand: k.demand.ID, Fact: k.demand.Fact, Members: fibres.N,
		Share: j.share, Verdict: j.verdict, Say: headline(j)}
	out.Steps = a.whySteps(j, k.demand)
	out.Met = a.whyShare(j, k)
	out.Notes = a.say(j).Notes
	for _, f := range j.forbid {
		out.Notes = append(out.Notes, "A rule forbids it whatever the share: "+f.Rule.Say+" ("+f.Rule.ID+")")
	}
	return out, nil
}

// whySteps are the steps up to the figure that the demand asks for.
func (a *Adviser) whySteps(j *judged, d *Demand) []WhyStep {
	var out []WhyStep
	m := j.make
	from := a.at.origin[d.fact]
	props, ofMakeUp := slices.Sorted(slices.Values(from.from)), from.layer == both
	layers := []struct {
		name string
		s    *fibres.Subject
	}{{"shell", m.Shell}, {"lining", m.Lining}}
	if !ofMakeUp {
		layers = layers[from.layer : from.layer+1]
	}
	for _, l := range layers {
		if l.s == nil || (l.name == "lining" && ofMakeUp && (m.Finish == nil || !m.Finish.Lined)) {
			continue
		}
		for _, p := range props {
			e := a.Cat.Estimate(*l.s, p)
			s := WhyStep{Step: fibres.Properties[p].Name + " of the " + l.name + ", " + l.s.Label(), Layer: l.name, How: e.Because, Chain: e.Chain, Sources: e.Sources}
			e.Chain = nil
			s.Have = e
			out = append(out, s)
		}
	}
	if !ofMakeUp {
		return out
	}
	fact := a.facts[d.fact].Name
	switch fact {
	case "make-up.stand-off", "make-up.bending-length", "make-up.hand", "make-up.fold-width":
		out = append(out, a.whyBending(j)...)
	}
	switch fact {
	case "make-up.stand-off":
		out = append(out, a.whyStandOff(j)...)
	case "make-up.hand":
		out = append(out, step("hand of the make-up", "the band that its bending length lies in", j.composite.hand(), "", fibres.HandScale, "feng-2022"))
	case "make-up.fold-width":
		if w := foldWidth(m.Piece, j.composite.bend); w != nil {
			out = append(out, step("width of folds", fmt.Sprintf("3.545 c^3/4 H^1/4 with H %s, right within a factor of two", m.Piece.Hang), w, "cm", nil, "cerda-2003"))
		}
	case "make-up.bending-length":
	default:
		f := a.facts[d.fact]
		because, src := a.because(j, d.fact)
		e := estimateOf(columnOf(j, d), f.Unit, d.scale, because, src)
		out = append(out, WhyStep{Step: f.Doc, How: because, Have: e, Sources: e.Sources})
	}
	return out
}

// columnOf is the column that a demand is judged on.
func columnOf(j *judged, d *Demand) []float64 {
	for i := range j.asked {
		if j.asked[i].demand == d {
			return j.asked[i].column
		}
	}
	return nil
}

func step(name, how string, col []float64, unit string, scale fibres.Scale, sources ...string) WhyStep {
	return WhyStep{Step: name, How: how, Have: estimateOf(col, unit, scale, how, sources), Sources: sources}
}

// whyBending is the way from layers to the bending length of the make-up.
func (a *Adviser) whyBending(j *judged) []WhyStep {
	m := j.make
	if j.composite.bend == nil {
		return []WhyStep{{Step: "bending length of the make-up", How: "not known of a layer", Have: estimateOf(nil, "cm", nil, "not known of a layer", nil), Sources: []string{}}}
	}
	ns, nl := layersOf(m)
	sh, li := a.sample(m.Shell, fibres.ShellSalt), (*fibres.Sample)(nil)
	if m.Lining != nil {
		li = a.sample(m.Lining, fibres.LiningSalt)
	}
	var out []WhyStep
	loose := m
	if m.Finish != nil {
		f := *m.Finish
		f.Joined = "none"
		loose.Finish = &f
	}
	bare := loose
	bare.Interfacing = nil
	if ns+nl > 1 {
		how := fmt.Sprintf("%d layers of shell", ns)
		if nl > 0 {
			how = fmt.Sprintf("%d of shell and one of lining", ns)
		}
		out = append(out, step("the layers lying loose", how+": c³ = Σ W c³ / Σ W", a.compose(bare, sh, li).bend, "cm", nil, "peirce-1930"))
	}
	if joint, ok := jointOf(m); ok && ns+nl > 1 {
		low, typical, high := joint.Bond()
		joined := bare
		joined.Finish = m.Finish
		words := [...]string{hang.Free: "hung together", hang.Edge: "joined along the edge", hang.Quilted: "quilted", hang.Fused: "fused"}
		out = append(out, step("the layers "+words[joint], fmt.Sprintf("%s – %s – %s of a full bond, one for each member: G = ΣG + bond · ((Σ∛G)³ − ΣG)",
			fibres.Round(low), fibres.Round(typical), fibres.Round(high)), a.compose(joined, sh, li).bend, "cm", nil, bondSource(joint)))
	}
	if x := m.Interfacing; x != nil && x.Role == "underlining" && x.Stiffness > 0 {
		out = append(out, step("mounted on "+x.Name, fmt.Sprintf("it adds %s times the shell's rigidity, with its own mass", fibres.Round(x.Stiffness)), j.composite.bend, "cm", nil, x.Sources...))
	}
	if len(out) == 0 {
		out = append(out, step("bending length of the make-up", "one layer: that of the shell", j.composite.bend, "cm", nil, "peirce-1930"))
	}
	return out
}

// bondSource is where the bond of a joint is from.
func bondSource(j hang.Joint) string {
	if j == hang.Edge {
		return "garcia-camacho-2024"
	}
	return "practice"
}

// whyStandOff is the way from bending length to how far the edge stands off.
func (a *Adviser) whyStandOff(j *judged) []WhyStep {
	m := j.make
	if j.composite.stand() == nil {
		return nil
	}
	ns, nl := layersOf(m)
	strip, g, w := a.strip(m, ns+nl)
	flap := m.Piece.Flap
	how := fmt.Sprintf("a flap of %s, held level, hanging under its own weight: the exact heavy elastica", flap)
	plain := a.tables.standOff(flapKind{flap: flap})
	if strip == 0 {
		return []WhyStep{step("how far out the edge stands", how, j.composite.stand(), "cm", nil, "peirce-1930")}
	}
	return []WhyStep{
		step("how far the edge would stand off without its strip", how,
			each(func(i int) float64 { return plain.at(value(j.composite.bend, i)) }, j.composite.bend), "cm", nil, "peirce-1930"),
		step("how far out the edge stands with its strip", fmt.Sprintf("the last %s is %s times as rigid and %s times as heavy (%d layers lie in it)",
			strip, fibres.Round(g), fibres.Round(w), m.Finish.StripLayers), j.composite.stand(), "cm", nil, append([]string{"peirce-1930"}, m.Finish.Sources...)...),
	}
}

// whyShare counts how the members meet the demand.
func (a *Adviser) whyShare(j *judged, k *asked) WhyShare {
	d := k.demand
	s := a.sayDemand(j, *k)
	out := WhyShare{Need: s.Need, Share: k.share, Say: d.Say, Basis: d.Basis, Sources: d.Sources, Worst: map[string]int{}, At: []WhyQuantile{}}
	if !k.known {
		return out
	}
	sorted := make([]float64, fibres.N)
	for i := range fibres.N {
		v := value(k.column, i)
		sorted[i] = v
		switch score := k.score(i); score {
		case 1:
			out.Ideal += 1.0 / fibres.N
		case 0:
			out.Outside += 1.0 / fibres.N
		default:
			out.Partly += 1.0 / fibres.N
		}
		worst, least := "", 1.0
		for _, x := range j.asked {
			if x.known {
				if sc := x.score(i); sc < least {
					worst, least = x.demand.ID, sc
				}
			}
		}
		if worst != "" {
			out.Worst[worst]++
		}
	}
	slices.Sort(sorted)
	for _, u := range whyQuantiles {
		v := sorted[int(u*fibres.N)]
		out.At = append(out.At, WhyQuantile{u, v, d.score(v)})
	}
	return out
}
