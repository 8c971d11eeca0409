package advise

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

func (a *Adviser) pressingOf(t *testing.T, words string) *Pressing {
	t.Helper()
	return a.pressing(a.judge(makeUp(t, words)))
}

// The dots follow the limits of the mechanics. Source: explanations of the care signs
// (read): 110, 150, 200 °C for one, two and three dots.
func TestDotsAreThoseOfTheMechanics(t *testing.T) {
	for c, want := range map[float64]int{0: 0, 100: 0, 110: 1, 149: 1, 150: 2, 199: 2, 200: 3, 240: 3} {
		require.Equal(t, want, Dots(c), "%v °C", c)
	}
}

// A fusible is fused where the stack takes its heat, and refused, with what to do instead,
// where it does not. Source: common practice, as in yarn.FuseInto.
func TestFusibleInTheStack(t *testing.T) {
	a := adviser(t)
	var fusible *Interfacing
	for _, x := range a.Interfacings {
		if x.Attach == "fuse" && x.HeatLow >= 120 {
			fusible = x
			break
		}
	}
	require.NotNil(t, fusible)
	cotton := a.pressingOf(t, "blouse, single-layer-hem, shell cotton-poplin, interfacing "+fusible.ID)
	require.NotNil(t, cotton.Fuse)
	require.True(t, cotton.Fuse.Possible)
	require.GreaterOrEqual(t, cotton.Fuse.At[0], fusible.HeatLow)
	require.LessOrEqual(t, cotton.Fuse.At[1], cotton.Limit.Typical)
	require.Contains(t, cotton.Say, "scrap first")
	nylon := a.pressingOf(t, "blouse, single-layer-hem, shell nylon-tulle, interfacing "+fusible.ID)
	require.NotNil(t, nylon.Fuse)
	require.False(t, nylon.Fuse.Possible)
	require.Nil(t, nylon.Fuse.At)
	require.Contains(t, nylon.Say, "sewn-in")
	for _, x := range a.Interfacings {
		if x.HeatHigh == 0 {
			sewn := a.pressingOf(t, "blouse, single-layer-hem, shell cotton-poplin, interfacing "+x.ID)
			require.Nil(t, sewn.Fuse, x.ID)
			continue
		}
		_, err := yarn.FuseInto(limitOf(200), units.Range[units.Temperature]{Low: units.Temperature(x.HeatLow), High: units.Temperature(x.HeatHigh)})
		require.NoError(t, err, "%s: its fusing heat", x.ID)
	}
}

// Pile is never pressed flat, wool is pressed damp, silk may mark, at one dot no steam.
// Source: common practice and the sources named in yarn.SteamFor.
func TestPressingFollowsTheCloth(t *testing.T) {
	a := adviser(t)
	require.Contains(t, a.pressingOf(t, "blouse, single-layer-hem, shell silk-velvet").Say, "Never set the plate on the pile")
	wool := a.pressingOf(t, "blouse, single-layer-hem, shell wool-flannel")
	require.Equal(t, yarn.SteamYes.String(), wool.Steam)
	silk := a.pressingOf(t, "blouse, single-layer-hem, shell silk-satin")
	require.NotEqual(t, yarn.SteamYes.String(), silk.Steam)
	require.Contains(t, silk.Say, "rim")
	both := a.pressingOf(t, "hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta")
	require.LessOrEqual(t, both.Limit.Typical, a.Cat.Estimate(fibres.Subject{Cloth: a.Cat.Cloths["silk-taffeta"]}, fibres.PressingLimit).Typical, "the tenderest layer decides")
	for _, k := range a.Cat.ClothList() {
		p := a.pressing(a.judge(MakeUp{Piece: a.Pieces[0], Finish: a.Finishes[0], Shell: &fibres.Subject{Cloth: k}}))
		require.NotEmpty(t, p.Say, k.ID)
		if p.Limit.Known() && p.Limit.High > 0 && p.Limit.Typical > 0 {
			require.Contains(t, p.Say, "burn", "%s: a caution stands by the heat", k.ID)
		}
	}
}

var degreesSaid = regexp.MustCompile(`\((\d+) °C\)`)

// What the rules say of heat agrees with the heat that is told beside them: a figure has
// the dots of the cloth's own limit, a cloth that takes no iron is told so by a rule and
// is given no figure, and no other cloth is kept off the board.
// Source: none but the product itself: two answers to one question are one answer.
func TestRulesAndPressingSayOneHeat(t *testing.T) {
	a := adviser(t)
	figures, kept := 0, 0
	for _, k := range a.Cat.ClothList() {
		m := MakeUp{Piece: a.Pieces[0], Finish: a.Finishes[0], Shell: &fibres.Subject{Cloth: k}}
		p := a.pressing(a.judge(m))
		if !p.Limit.Known() {
			continue
		}
		off := p.Limit.Typical == 0
		told := false
		for _, f := range a.Firings(m) {
			if !f.Firm() || f.Share < .5 {
				continue
			}
			told = told || f.Rule.Matter == "no-iron"
			for _, said := range degreesSaid.FindAllStringSubmatch(f.Rule.Say, -1) {
				at, err := strconv.ParseFloat(said[1], 64)
				require.NoError(t, err)
				assert.Equal(t, Dots(at), p.Dots, "%s (%s): %s; beside it: %s", k.ID, f.Rule.ID, f.Rule.Say, p.Say)
				figures++
			}
			if off {
				assert.NotEqual(t, "iron-heat", f.Rule.Matter, "%s: %s; beside it: %s", k.ID, f.Rule.Say, p.Say)
			}
		}
		assert.Equal(t, off, told, "%s: %s", k.ID, p.Say)
		if off {
			kept++
		}
	}
	require.Greater(t, figures, 60)
	require.Greater(t, kept, 5)
}

// How hot is told by the limit: not known, not at all, below the first dot, and by its dots.
func TestHowHotIsTold(t *testing.T) {
	a := adviser(t)
	say := func(limit float64) *Pressing {
		e := fibres.Estimate{Low: limit, Typical: limit, High: limit, Basis: fibres.Measured}
		if limit < 0 {
			e = fibres.Estimate{Basis: fibres.Unknown}
		}
		return a.pressing(&judged{make: MakeUp{Shell: &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.PressingLimit: e}}}})
	}
	for limit, want := range map[float64]string{-1: "Not known how hot", 0: "Do not iron: ", 90: "At most 90 °C (below one dot), ", 110: "At most 110 °C (", 150: "At most 150 °C ("} {
		require.Contains(t, say(limit).Say, want)
	}
	require.NotContains(t, say(110).Say, "below one dot")
	require.Equal(t, []int{0, 0, 0, 1, 2}, []int{say(-1).Dots, say(0).Dots, say(90).Dots, say(110).Dots, say(150).Dots})
	require.False(t, limitOf(0).Iron)
	require.True(t, limitOf(1).Iron)
}
