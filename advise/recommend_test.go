package advise

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// Words of use name a purpose in one number or many, as whole words.
func TestWhatAUseNames(t *testing.T) {
	for _, x := range []struct {
		use, purpose string
		want         bool
	}{{"skirts", "skirt", true}, {"full skirts and capes", "skirt", true}, {"full skirt", "skirt", true}, {"skirtings", "skirt", false}, {"coat lining", "lining", true}, {"coats", "coat", true}, {"coat", "raincoat", false}, {"raincoat", "coat", false}} {
		require.Equal(t, x.want, usedFor(x.use, x.purpose), "%s for %s", x.use, x.purpose)
	}
}

// A cloth is most surely meant for the first purpose that shops sell it for or that is in its
// name; each wider purpose counts 0.15 less, down to 0.3, and a use of its description 0.8.
func TestWhatAClothIsMeantFor(t *testing.T) {
	a := adviser(t)
	k := &fibres.Cloth{Name: "sail cloth", UsedFor: []string{"bag", "tent"}}
	shop := &Stock{BoughtFor: []string{"apron"}}
	for _, x := range []struct {
		purposes []string
		meant    string
		sure     float64
	}{
		{[]string{"apron"}, "apron", 1},
		{[]string{"coat", "apron"}, "apron", 0.85},
		{[]string{"bag"}, "bag", 0.8},
		{[]string{"bag", "apron"}, "apron", 0.85},
		{[]string{"apron", "bag"}, "apron", 1},
		{[]string{"a", "b", "c", "d", "e", "f", "apron"}, "apron", 0.3},
		{[]string{"a", "b", "c", "d", "apron"}, "apron", 0.4},
		{[]string{"sail"}, "sail", 1},
		{[]string{"coat"}, "", 0},
		{nil, "", 0},
	} {
		meant, sure := a.meantFor(k, shop, x.purposes)
		require.Equal(t, x.meant, meant, "%v", x.purposes)
		require.InDelta(t, x.sure, sure, 1e-9, "%v", x.purposes)
	}
	meant, _ := a.meantFor(k, nil, []string{"apron"})
	require.Empty(t, meant)
}

// Of near-identical cloths at most two stand among any six in a row, unless there is nothing
// else of their group.
func TestTwinsAreKeptApart(t *testing.T) {
	weave := &fibres.Structure{ID: "w"}
	of := func(group string, kinds string) (list []place) {
		for _, k := range kinds {
			c := &fibres.Cloth{ID: string(k), Structure: weave, Content: []fibres.Part{{Fibre: &fibres.Fibre{ID: string(k)}}}}
			list = append(list, place{subject: &fibres.Subject{Cloth: c}, group: group})
		}
		return list
	}
	order := func(list []place) (out string) {
		for _, p := range apart(list) {
			out += p.subject.Cloth.ID
		}
		return out
	}
	require.Equal(t, "aabcdeafg", order(of("recommended", "aaabcdefg")), "the third waits until the first has left the six")
	require.Equal(t, "abacde", order(of("recommended", "abacde")))
	require.Equal(t, "aabaa", order(of("recommended", "aaaab")), "where there is nothing else")
	require.Equal(t, "aaab", order(append(of("recommended", "aaa"), of("will do", "b")...)), "nothing of a lesser group goes before")
	require.Empty(t, twin(nil))
	require.Empty(t, twin(&fibres.Subject{Cloth: &fibres.Cloth{Structure: weave}}))
	require.False(t, crowded([]place{{}, {}}, place{}), "cloths of which nothing is known are no twins")
}

// Where a candidate stands: what suits before what will do, what makers take before what they
// do not, then what shops have, how well it fits, and ease and price.
func TestWhatSpeaksForACandidate(t *testing.T) {
	a := adviser(t)
	denim := &fibres.Subject{Cloth: a.Cat.Cloths["denim"]}
	score := func(verdict string, share float64, s *fibres.Subject, like taste) place {
		return a.placeOf(&judged{verdict: verdict, share: share}, s, like)
	}
	nobody := score(Suits, 0.8, &fibres.Subject{Swatch: true}, taste{})
	require.Equal(t, Recommended, nobody.group)
	require.InDelta(t, 0.6+0.5*0.8+0.05*0.5-0.05*0.5, nobody.score, 1e-9, "suits, fits, and a stock of which nobody tells")
	require.Equal(t, "it does what the piece asks", nobody.why())
	require.InDelta(t, nobody.score-0.6, score(Borderline, 0.8, &fibres.Subject{}, taste{}).score, 1e-9)
	picked := score(Suits, 0.8, denim, taste{picks: map[string]float64{"denim": 0.75}})
	other := score(Suits, 0.8, denim, taste{picks: map[string]float64{"corduroy": 1}})
	require.Equal(t, Recommended, picked.group)
	require.Equal(t, WillDo, other.group, "makers take others")
	require.InDelta(t, 0.75, picked.score-other.score, 1e-9)
	require.Contains(t, picked.why(), "usual for it")
	meant := score(Suits, 0.8, denim, taste{purposes: []string{"denim"}})
	require.InDelta(t, 1, meant.score-score(Suits, 0.8, denim, taste{}).score, 1e-9)
	require.Contains(t, meant.why(), "meant for it (denim)")
	both := score(Suits, 0.8, denim, taste{picks: map[string]float64{"corduroy": 1}, purposes: []string{"denim"}})
	require.InDelta(t, 0.35, both.score-other.score, 1e-9, "beside picks its description counts less")
	stock := a.StockOf("denim")
	require.InDelta(t, 0.6+0.4+0.2*float64(stock.Common)/4+0.05*float64(stock.Ease)/4-0.05*float64(stock.Price)/2, score(Suits, 0.8, denim, taste{}).score, 1e-9)
	require.Equal(t, NotFor, score(Unsuited, 0, denim, taste{}).group)
	wished := MakeUp{Wishes: []*Wish{{Prefer: []string{"common"}}}}
	liked := a.placeOf(&judged{make: wished, verdict: Suits, share: 0.8, liked: 2}, denim, taste{})
	require.InDelta(t, 0.15*float64(stock.Common)+0.04*2, liked.score-score(Suits, 0.8, denim, taste{}).score, 1e-9, "what is wished, and what rules say for it")
}

// What shops say of a cloth is told where it is worth telling.
func TestWhyACandidateIsTold(t *testing.T) {
	for want, s := range map[string]Stock{
		"often in the shops, easy to sew, low in price": {Common: 3, Ease: 3, Price: 0},
		"always in the shops, very easy to sew":         {Common: 4, Ease: 4, Price: 1},
		"low in price":                                  {Common: 2, Ease: 2, Price: 0},
		"it does what the piece asks":                   {Common: 2, Ease: 2, Price: 1},
	} {
		require.Equal(t, want, place{stock: &s}.why())
	}
}

// A wish moves to the front what it prefers: by levels, by doublings of a figure, by a
// fibre of its day.
func TestWhatAWishPutsFirst(t *testing.T) {
	a := adviser(t)
	m := func(prefer string) MakeUp { return MakeUp{Wishes: []*Wish{{Prefer: strings.Split(prefer, " and ")}}} }
	stock := &Stock{Common: 4, Price: 2, Ease: 4}
	linen, fleece := &fibres.Subject{Cloth: a.Cat.Cloths["linen-dress"]}, &fibres.Subject{Cloth: a.Cat.Cloths["polar-fleece"]}
	for _, x := range []struct {
		prefer string
		s      *fibres.Subject
		want   float64
	}{{"ease", linen, 3}, {"price", linen, -2}, {"common", linen, 4}, {"", linen, 0}, {"era", linen, 3}, {"era", fleece, 0}, {"era", nil, 0}, {"more warmth", nil, 0}, {"more nothing", linen, 0},
		{"made of linen or silk", linen, 3}, {"made of cellulose", linen, 3}, {"made of wool", linen, 0}, {"used for dress", linen, 3}, {"used for rainwear", linen, 0}, {"used for dress and ease", linen, 6}, {"used for dress", nil, 0}} {
		require.Equal(t, x.want, a.preferred(m(x.prefer), x.s, stock), x.prefer)
	}
	known := func(p fibres.Property, v float64) *fibres.Subject {
		return &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{p: fibres.Figure(p, v, v, v, fibres.Measured, "")}}
	}
	for level, want := range map[float64]float64{0: 0, 1: 1, 2: 2, 3: 2} {
		require.Equal(t, want, a.steps("more warmth", known(fibres.Warmth, level)), "enough is enough")
	}
	for level, want := range map[float64]float64{0: -1, 1: -1, 2: -2, 3: -3} {
		require.Equal(t, want, a.steps("less crease", known(fibres.Crease, level)))
	}
	require.InDelta(t, 1, a.steps("more mass", known(fibres.Mass, 200))-a.steps("more mass", known(fibres.Mass, 100)), 1e-9)
	require.InDelta(t, -1, a.steps("less mass", known(fibres.Mass, 200))-a.steps("less mass", known(fibres.Mass, 100)), 1e-9)
	require.Zero(t, a.steps("more mass", &fibres.Subject{Swatch: true}))
}

// What a lining is called where it does the work of this make-up.
func TestPurposesOfALining(t *testing.T) {
	for words, want := range map[string]string{"curtain": "curtain lining", "lined-bag": "bag lining", "boned-bodice": "corset", "rain-cape": "rainwear lining", "coat": "jacket lining", "cowl, wish reversible": "cowl", "cowl, job second-face": "cowl"} {
		require.Equal(t, want, liningPurposes(makeUp(t, words))[0], words)
	}
	require.Equal(t, []string{"lining"}, liningPurposes(MakeUp{}))
	require.Nil(t, purposesOf(MakeUp{}))
	require.Equal(t, []string{"odd cape", "cape"}, purposesOf(MakeUp{Piece: &Piece{Name: "odd cape", Group: "cape"}}))
	require.Equal(t, []string{"x"}, purposesOf(MakeUp{Piece: &Piece{Name: "odd cape", Purpose: []string{"x"}}}))
}

// Choices stand by their effects; where nothing is recommended the first that will do is,
// unless it belongs to another way of making up.
func TestBestFirst(t *testing.T) {
	got := bestFirst([]Choice{{ID: "a", Effect: "forbids"}, {ID: "b", Effect: WillDo}, {ID: "c", Effect: NotFor}, {ID: "d", Effect: "for"}})
	require.Equal(t, []string{"d", "b", "c", "a"}, []string{got[0].ID, got[1].ID, got[2].ID, got[3].ID})
	require.Equal(t, "for", bestFirst([]Choice{{ID: "a", Effect: NotFor}, {ID: "b", Effect: WillDo}})[0].Effect)
	require.Equal(t, WillDo, bestFirst([]Choice{{ID: "b", Effect: WillDo, other: true}})[0].Effect)
	require.Equal(t, NotFor, bestFirst([]Choice{{ID: "b", Effect: NotFor}})[0].Effect)
	require.Empty(t, bestFirst(nil))
}

// What a cloth is made of is by the half: so much of a wished fibre is of it, and a tenth of a
// fibre of today takes it out of its day.
func TestFromWhichPartOnAClothIsOfAFibre(t *testing.T) {
	a := adviser(t)
	part := func(id, family string, share float64) fibres.Part {
		return fibres.Part{Fibre: &fibres.Fibre{ID: id, Family: family}, Share: fibres.Estimate{Typical: share}}
	}
	of := func(parts ...fibres.Part) *fibres.Subject {
		return &fibres.Subject{Cloth: &fibres.Cloth{Content: parts}, Content: parts}
	}
	stock := &Stock{}
	require.Equal(t, 3.0, a.prefers("made of wool", of(part("wool", "protein", 50), part("nylon", "synthetic", 50)), stock))
	require.Zero(t, a.prefers("made of wool", of(part("wool", "protein", 49), part("nylon", "synthetic", 51)), stock))
	require.Zero(t, a.prefers("made of wool", nil, stock))
	require.Equal(t, 3.0, a.prefers("era", of(part("wool", "protein", 91), part("nylon", "synthetic", 9)), stock))
	require.Zero(t, a.prefers("era", of(part("wool", "protein", 90), part("nylon", "synthetic", 10)), stock))
	require.Zero(t, a.prefers("era", of(part("wool", "protein", 90), part("acetate", "ester", 10)), stock))
	require.Zero(t, a.prefers("era", of(), stock), "of what nothing is known")
	require.InDelta(t, math.Log2(0.01), a.steps("more mass", &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.Mass: {Basis: fibres.Measured}}}), 1e-9, "nothing is not endlessly little")
}

// Rainwear of each name has linings of its own.
func TestLiningsOfRainwear(t *testing.T) {
	for _, id := range []string{"rain-jacket", "raincoat", "rain-cape"} {
		require.Equal(t, "rainwear lining", liningPurposes(MakeUp{Piece: &Piece{ID: id}})[0], id)
	}
	require.Equal(t, "jacket lining", liningPurposes(MakeUp{Piece: &Piece{ID: "coat"}, Job: &Job{ID: "warmth"}})[0])
	require.Equal(t, "corset", liningPurposes(MakeUp{Piece: &Piece{ID: "x", Of: "boned-bodice"}})[0])
}
