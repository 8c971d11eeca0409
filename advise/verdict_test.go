package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
)

// A demand is met in full inside its ideal range, by a half half-way to its limit, and
// not at all at the limit.
func TestHowFarAFigureMeetsADemand(t *testing.T) {
	d := &Demand{Ideal: Bounds{1, 2}, Limit: Bounds{0.5, 4}}
	for v, want := range map[float64]float64{0.4: 0, 0.5: 0, 0.75: 0.5, 1: 1, 1.5: 1, 2: 1, 2.5: 0.75, 3: 0.5, 4: 0, 5: 0} {
		require.InDelta(t, want, d.score(v), 1e-12, "%g", v)
	}
	sharp := &Demand{Ideal: Bounds{1, 2}, Limit: Bounds{1, 2}}
	for v, want := range map[float64]float64{0.99: 0, 1: 1, 2: 1, 2.01: 0} {
		require.Equal(t, want, sharp.score(v), "%g", v)
	}
	// Of grades the limit is the last one that will do at all: it meets it in part.
	graded := &Demand{Ideal: Bounds{2, 3}, Limit: Bounds{1, 3}, graded: true}
	for v, want := range map[float64]float64{0: 0, 1: 0.5, 2: 1, 3: 1} {
		require.InDelta(t, want, graded.score(v), 1e-12, "%g", v)
	}
	graded = &Demand{Ideal: Bounds{0, 1}, Limit: Bounds{0, 2}, graded: true}
	for v, want := range map[float64]float64{0: 1, 1: 1, 2: 0.5, 3: 0} {
		require.InDelta(t, want, graded.score(v), 1e-12, "%g", v)
	}
}

// The upper end of a weight is asked of all layers, the lower of the shell alone, and a
// lined piece may weigh 1.35 times as much, what a child carries 0.65 times (practice).
func TestTheWeightOfAllLayersIsAllowedMore(t *testing.T) {
	k := asked{demand: &Demand{Ideal: Bounds{100, 200}, Limit: Bounds{50, 300}}, allow: linedWeighs}
	for _, x := range []struct{ shell, whole, want float64 }{
		{150, 270, 1},           // 270 / 1.35 = 200
		{150, 337.5, 0.5},       // 250
		{150, 405, 0},           // 300
		{75, 120, 0.5},          // a shell too light, whatever is under it
		{260, 270, 1},           // a shell over the range is judged as a whole
		{75, 337.5, 0.5},        // the worse of both
		{60, 1.35 * 260, 0.2},   // 10 of 50
		{100, 1.35 * 290, 0.1},  // 10 of 100
		{300, 1.35 * 220, 0.80}, // 80 of 100
	} {
		k.column, k.upper = []float64{x.shell}, []float64{x.whole}
		require.InDelta(t, x.want, k.score(3), 1e-9, "%v", x)
	}
	lined, plain := &Finish{Lined: true}, &Finish{}
	cloth := &fibres.Subject{}
	for _, x := range []struct {
		m    MakeUp
		want float64
	}{
		{MakeUp{Finish: plain}, 1},
		{MakeUp{Finish: lined, Lining: cloth}, 1.35},
		{MakeUp{Finish: lined}, 1},
		{MakeUp{Finish: plain, Lining: cloth}, 1},
		{MakeUp{Finish: lined, Lining: cloth, Wearer: "child", Piece: &Piece{Wearer: "adult"}}, 1.35 * 0.65},
		{MakeUp{Finish: plain, Wearer: "child", Piece: &Piece{Wearer: "child"}}, 1},
		{MakeUp{Finish: plain, Wearer: "adult", Piece: &Piece{Wearer: "adult"}}, 1},
	} {
		require.InDelta(t, x.want, weightAllowed(x.m), 1e-12)
	}
}

// A share is told as a maker tells it; 0.025 and 0.975 are where nothing and all begin.
func TestAShareInTen(t *testing.T) {
	for share, want := range map[float64]string{0: "hardly any", 0.0249: "hardly any", 0.025: "fewer than 1 in 10", 0.049: "fewer than 1 in 10", 0.051: "about 1 in 10", 0.14: "about 1 in 10",
		0.16: "about 2 in 10", 0.499: "fewer than 5 in 10", 0.5: "about 5 in 10", 0.449: "about 4 in 10", 0.451: "fewer than 5 in 10", 0.94: "about 9 in 10", 0.96: "more than 9 in 10", 0.974: "more than 9 in 10", 0.975: "nearly all", 1: "nearly all"} {
		require.Equal(t, want, InTen(share), "%g", share)
	}
}

func TestTheVerdictsAndTheirOrder(t *testing.T) {
	for share, want := range map[float64]string{1: Suits, SuitsFrom: Suits, SuitsFrom - 1e-9: Borderline, BorderlineFrom: Borderline, BorderlineFrom - 1e-9: Unsuited, 0: Unsuited} {
		require.Equal(t, want, verdictAt(share), "%g", share)
	}
	// Any that suits stands before any that may do; among alikes the share counts, and a
	// little what rules say for it.
	order := []judged{{verdict: Suits, share: 0.9, liked: 1}, {verdict: Suits, share: 0.9}, {verdict: Suits, share: 0.57}, {verdict: Borderline, share: 0.55, liked: 9}, {verdict: Borderline, share: 0.37}, {verdict: Unsuited, share: 0.35}}
	for i := range order[1:] {
		require.Greater(t, order[i].rank(), order[i+1].rank(), "%d", i)
	}
}

// The 10th, 50th and 90th of a hundred figures in any order are the 11th, 51st and 91st.
func TestAColumnIsSummedUp(t *testing.T) {
	col := make([]float64, 100)
	for i := range col {
		col[i] = float64((i * 37) % 100)
	}
	e := estimateOf(col, "cm", nil, "because", nil)
	require.Equal(t, []float64{10, 50, 90}, []float64{e.Low, e.Typical, e.High})
	require.Equal(t, "cm", e.Unit)
	require.Equal(t, fibres.Derived, e.Basis)
	require.NotNil(t, e.Sources)
	require.Equal(t, float64(0), col[0], "the column itself is not sorted")
	graded := estimateOf([]float64{2}, "", fibres.FrayScale, "", nil)
	require.Equal(t, []string{fibres.FrayScale.Word(2), fibres.FrayScale.Word(2), fibres.FrayScale.Word(2)}, graded.Words)
	require.Equal(t, "level", graded.Unit)
	require.Equal(t, fibres.Unknown, estimateOf(nil, "cm", nil, "", nil).Basis)
}

// What a demand takes of a member that half meets it: half of what lies between all and
// what its harm leaves. One that fails the piece leaves nothing, one whose harm is not
// said what a grave objection leaves, and too light a cloth is weighted at the hem.
func TestADemandLeavesWhatItsHarmLeaves(t *testing.T) {
	for _, x := range []struct {
		harm, about int
		v, floor    float64
	}{{pieceFails, fallMatter, 1.5, 0}, {0, fallMatter, 1.5, leaves[pieceFails]}, {looksWrong, fallMatter, 1.5, leaves[looksWrong]},
		{pieceFails, weightMatter, 1.5, 0}, {pieceFails, weightMatter, -0.5, leaves[pieceFails]}, {pieceFails, fallMatter, -0.5, 0}} {
		d := &Demand{Ideal: Bounds{0, 1}, Limit: Bounds{-1, 2}, Harm: x.harm, about: x.about}
		k := asked{demand: d, column: []float64{x.v}}
		var met [fibres.N]float64
		fill(&met)
		k.meet(&met)
		left := x.floor + (1-x.floor)/2
		require.InDelta(t, left, met[0], 1e-12, "%+v", x)
		require.InDelta(t, left, met[fibres.N-1], 1e-12)
		require.InDelta(t, 0.5, k.share, 1e-12)
		require.InDelta(t, 1-left, k.cost, 1e-9)
		met[0] = 0.1
		k.meet(&met)
		require.Equal(t, 0.1, met[0], "the worse of two stands")
	}
}

// Too stiff and too soft are one fault, as are too much weight and too much bulk: the
// worse of them counts. Others each take their part.
func TestFaultsOfOneKindAreOne(t *testing.T) {
	var list faults
	var lesser [fibres.N]float64
	of := func(about int) *[fibres.N]float64 { return list.of(&Demand{about: about, Harm: pieceFails}, &lesser) }
	require.Same(t, of(fallMatter), of(bodyMatter))
	require.Same(t, of(weightMatter), of(bulkMatter))
	require.NotSame(t, of(fallMatter), of(weightMatter))
	require.Len(t, list, 2)
	require.Same(t, &lesser, list.of(&Demand{about: fallMatter, Harm: looksWrong}, &lesser), "what only looks wrong is a reservation")
}

// The words before the share: whose cloths it is a share of.
func TestWhoseShareItIs(t *testing.T) {
	a := adviser(t)
	sateen := a.Cat.Cloths["cotton-sateen"]
	figure := map[fibres.Property]fibres.Estimate{fibres.Mass: fibres.Figure(fibres.Mass, 90, 100, 110, fibres.Measured, "")}
	require.Equal(t, "cloths", soldAs(nil))
	require.Equal(t, "cloths sold as cotton sateen", soldAs(&fibres.Subject{Cloth: sateen}))
	require.Equal(t, "cloths of the figures you gave", soldAs(&fibres.Subject{Cloth: sateen, Known: figure}))
	gold := &fibres.Subject{Cloth: sateen, Swatch: true, Name: "gold"}
	require.Contains(t, soldAs(gold), "cloths sold as cotton sateen (")
	j := &judged{make: MakeUp{Shell: &fibres.Subject{Cloth: sateen}}, share: 0.7, known: true, verdict: Suits}
	require.Equal(t, "suits: about 7 in 10 cloths sold as cotton sateen would do", headline(j))
	j.known = false
	require.Contains(t, headline(j), "not judged")
	j.known, j.make.Shell = true, gold
	for share, want := range map[float64]string{0.96: "suits: yes, ", 0.04: "unsuited: no, ", 0.95: "suits: more than 9 in 10 cloths sold as cotton sateen (gold is not measured)", 0.05: "suits: "} {
		j.share = share
		require.Contains(t, headline(j), want, "%g", share)
	}
}

// What the piece asks goes before what the finish asks of the same fact.
func TestThePieceAsksBeforeTheFinish(t *testing.T) {
	a := adviser(t)
	for _, p := range a.Pieces {
		for _, f := range a.Finishes {
			seen := map[string]bool{}
			for i, d := range a.demandsOf(MakeUp{Piece: p, Finish: f}, nil) {
				if i < len(p.Demands) {
					require.Equal(t, p.Demands[i].ID, d.ID)
				} else if i < len(p.Demands)+len(f.Demands) && !d.class {
					require.False(t, seen[d.Fact], "%s with %s asks twice of %s", p.ID, f.ID, d.Fact)
				}
				seen[d.Fact] = true
			}
		}
	}
}

// What every piece of a class asks gives way to what the piece asks under its id, and what the
// finish asks of a fact to what the piece asks of it; of no piece nothing of the class is asked.
func TestWhoAsksFirst(t *testing.T) {
	demands := func(names ...string) (out []Demand) {
		for _, n := range names {
			id, fact, _ := cutOnce(n)
			out = append(out, Demand{ID: id, Fact: fact})
		}
		return out
	}
	a := &Adviser{outer: &Job{Demands: demands("a z", "b z")}}
	ids := func(a *Adviser, m MakeUp, job *Job) (out []string) {
		for _, d := range a.fixedDemands(m, job) {
			out = append(out, d.ID+" "+d.Fact)
		}
		return out
	}
	piece, finish := &Piece{Demands: demands("a x", "c y")}, &Finish{Demands: demands("a y", "d x", "e w")}
	job := &Job{Demands: demands("a x")}
	require.Equal(t, []string{"a x", "c y", "e w", "b z", "a x"}, ids(a, MakeUp{Piece: piece, Finish: finish}, job))
	require.Equal(t, []string{"a y", "d x", "e w"}, ids(a, MakeUp{Finish: finish}, nil))
	require.Equal(t, []string{"a x", "c y"}, ids(&Adviser{}, MakeUp{Piece: piece}, nil))
}

// Rules about seams, edges and interfacings have a say where one is named, others always.
func TestWhatARuleJudges(t *testing.T) {
	a := adviser(t)
	tried := map[string]bool{}
	for _, r := range a.Rules {
		about := r.About()
		if tried[about] {
			continue
		}
		tried[about] = true
		require.Equal(t, about == "", judges(r, MakeUp{}), about)
		for kind, m := range map[string]MakeUp{"seam": {Seam: &Seam{}}, "edge": {Edge: &Seam{}}, "interfacing": {Interfacing: &Interfacing{}}} {
			require.Equal(t, about == "" || about == kind, judges(r, m), "%s of %q", kind, about)
		}
	}
	require.Len(t, tried, 4)
}

// A demand with conditions is asked of those whom they concern; whom it does not concern
// meets it.
func TestWhomADemandConcerns(t *testing.T) {
	a := adviser(t)
	when := func(id string) (*asked, bool) {
		var r *rules.Rule
		for _, x := range a.Rules {
			if x.ID == id {
				r = x
			}
		}
		require.NotNil(t, r, id)
		k := &asked{demand: &Demand{when: r, Ideal: Bounds{0, 1}, Limit: Bounds{0, 2}}, column: []float64{3}}
		return k, k.concerns(a.caseOf(makeUp(t, "shell cotton-jersey")))
	}
	k, ok := when("knit-takes-a-ball-point")
	require.True(t, ok)
	require.Nil(t, k.of, "all jersey is knit")
	require.Zero(t, k.score(3))
	_, ok = when("panne-velvet-runs-down")
	require.False(t, ok)
	_, ok = when("covered-hem-is-for-a-knit")
	require.False(t, ok, "what is open is not asked")
	k.of = rules.Members{1 << 3, 0, 0, 0}
	require.Zero(t, k.score(3))
	require.Equal(t, 1.0, k.score(2))
	var met [fibres.N]float64
	fill(&met)
	k.demand.Harm = pieceFails
	k.meet(&met)
	require.InDelta(t, 1.0/fibres.N, k.cost, 1e-12, "who meets it pays nothing")
	require.InDelta(t, 1-1.0/fibres.N, k.share, 1e-12)
	require.Zero(t, met[3])
	require.Equal(t, 1.0, met[2])
}

// What a rule has against a make-up is marked as weighed already where a demand that is known
// asks of the same matter; it holds for all, or for those whom it concerns.
func TestWhatRulesHaveAgainstAMakeUp(t *testing.T) {
	a := *adviser(t)
	all := &rules.Rule{Effect: rules.Against, Harm: pieceFails}
	a.Rules = []*rules.Rule{all}
	got := func(about int, asked ...asked) objection {
		a.ruleAbout = []int{about}
		j := &judged{make: makeUp(t, "shell denim"), asked: asked}
		j.c = a.caseOf(j.make)
		list := a.objections(j)
		require.Len(t, list, 1)
		return list[0]
	}
	known, unknown := asked{known: true, demand: &Demand{about: bodyMatter}}, asked{demand: &Demand{about: bodyMatter}}
	require.True(t, got(bodyMatter, known).asked)
	require.False(t, got(bodyMatter, unknown).asked, "what nothing is known of weighs nothing")
	require.False(t, got(fallMatter, known).asked)
	require.False(t, got(-1, known).asked)
	require.False(t, got(-1, asked{known: true, demand: &Demand{about: -1}}).asked, "no matter is no matter in common")
	o := got(bodyMatter)
	require.Nil(t, o.holds)
	require.Equal(t, leaves[pieceFails], o.leaves)
}

// Of one that cannot reach the share that is wanted no more is asked; what is forbidden does
// for none, and of what nothing is known nobody says for how many.
func TestWhatIsNotWorthJudging(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "triangular-shawl, single-layer-hem, shell cotton-duck")
	all, some := a.judge(m), a.judgeFrom(m, 0.99)
	require.Positive(t, all.share)
	require.LessOrEqual(t, all.share, all.fits+1e-9)
	require.LessOrEqual(t, all.fits, 1.0)
	require.Equal(t, Unsuited, some.verdict)
	require.Zero(t, some.share)
	require.Less(t, len(some.asked), len(all.asked))
	for _, k := range all.asked {
		if !k.known {
			require.Zero(t, k.share)
		}
	}
	require.True(t, all.asked[0].hangs, "a shawl hangs free")
	apron := a.judge(makeUp(t, "bedroom-curtain, single-layer-hem, shell cotton-duck"))
	require.Equal(t, slices.Contains(a.outer.Hangs, apron.make.Piece.Group), apron.asked[0].hangs)
	nothing := a.judge(MakeUp{Piece: m.Piece, Shell: &fibres.Subject{Swatch: true, Name: "mine"}})
	require.True(t, nothing.unjudged())
	require.Equal(t, []any{Borderline, 0.0, 0.0}, []any{nothing.verdict, nothing.share, nothing.fits})
}

// The upper end of the weight of a lined piece is asked of both layers.
func TestBothLayersAreWeighed(t *testing.T) {
	a := adviser(t)
	j := a.judge(makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill"))
	n := 0
	for _, k := range j.asked {
		if k.demand.upperFact > 0 {
			n++
			require.Equal(t, j.c.Column(a.place(k.demand.Fact)).Num, k.upper, k.demand.ID)
			require.Equal(t, linedWeighs, k.allow)
			require.NotEqual(t, k.column, k.upper)
		}
	}
	require.Positive(t, n)
}

// Whether a back is fit to be seen is asked of a single layer alone.
func TestABackThatIsShutIn(t *testing.T) {
	a := adviser(t)
	asks := func(words string) bool {
		return slices.ContainsFunc(a.judge(makeUp(t, words)).asked, func(k asked) bool { return k.demand.fact == a.reverseFact })
	}
	tried := 0
	for _, p := range a.Pieces {
		if tried < 3 && slices.ContainsFunc(a.demandsOf(MakeUp{Piece: p}, nil), func(d *Demand) bool { return d.fact == a.reverseFact && d.when == nil }) {
			tried++
			require.True(t, asks(p.ID+", single-layer-hem, shell denim"), p.ID)
			require.False(t, asks(p.ID+", bagged-lining, shell denim, lining viscose-twill"), p.ID)
		}
	}
	require.Positive(t, tried)
}

// A shell is waited for only while the lining that will carry it is not named.
func TestWhoWaitsForABearer(t *testing.T) {
	a := adviser(t)
	for words, want := range map[string]bool{"boned-bodice, underlined, shell silk-satin": true, "boned-bodice, underlined, shell silk-satin, lining coutil": false,
		"boned-bodice, single-layer-hem, shell silk-satin": false, "boned-bodice, shell silk-satin": false, "coat, dropped-in-lining, shell wool-melton": false} {
		j := a.judge(makeUp(t, words))
		require.Equal(t, want, a.awaitsBearer(j), words)
	}
}

// A headline says a ban in its words, and of a measured cloth yes or no where hardly any doubt
// is left.
func TestHeadlines(t *testing.T) {
	denim := adviser(t).Cat.Cloths["denim"]
	measured := map[fibres.Property]fibres.Estimate{fibres.BendingLength: fibres.Figure(fibres.BendingLength, 2, 2, 2, fibres.Measured, "")}
	say := func(s fibres.Subject, verdict string, share float64) string {
		return headline(&judged{make: MakeUp{Shell: &s}, known: true, verdict: verdict, share: share})
	}
	of := fibres.Subject{Cloth: denim, Known: measured}
	require.Equal(t, "suits: yes, a denim of these figures would do", say(of, Suits, 0.96))
	require.Equal(t, "suits: more than 9 in 10 cloths of the figures you gave would do", say(of, Suits, 0.95))
	require.Equal(t, "unsuited: about 1 in 10 cloths of the figures you gave would do", say(of, Unsuited, 0.05))
	require.Equal(t, "unsuited: no, a denim of these figures would not do", say(of, Unsuited, 0.049))
	require.Equal(t, "suits: nearly all cloths of the figures you gave would do", say(fibres.Subject{Known: measured}, Suits, 0.99), "a cloth without a name")
	require.Equal(t, "suits: nearly all cloths sold as denim would do", say(fibres.Subject{Cloth: denim}, Suits, 0.99))
	banned := &judged{verdict: Unsuited, make: MakeUp{Shell: &of}, forbid: []rules.Firing{{Rule: &rules.Rule{Say: "Make no sail of it."}}, {Rule: &rules.Rule{Say: "Nor a flag."}}}}
	require.Equal(t, "unsuited: make no sail of it", headline(banned))
}
