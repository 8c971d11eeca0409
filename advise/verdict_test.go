package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

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
		0.16: "about 2 in 10", 0.5: "about 5 in 10", 0.94: "about 9 in 10", 0.96: "more than 9 in 10", 0.974: "more than 9 in 10", 0.975: "nearly all", 1: "nearly all"} {
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
