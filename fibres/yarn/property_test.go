package yarn

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// draws gives the same random numbers in every run.
func draws() *rand.Rand { return rand.New(rand.NewPCG(840, 560)) }

func TestCountsConvertThereAndBack(t *testing.T) {
	r := draws()
	for range 300 {
		d := LinearDensity(math.Exp(math.Log(0.5) + r.Float64()*math.Log(4000)))
		for s := Tex; s <= Cut; s++ {
			c, err := CountFromLinearDensity(d, s)
			require.NoError(t, err)
			back, err := LinearDensityFromCount(c)
			require.NoError(t, err)
			require.InEpsilon(t, float64(d), float64(back), 1e-12)
			again, err := ParseCount(c.String())
			require.NoError(t, err, c.String())
			require.InEpsilon(t, c.Single, again.Single, 1e-5)
			require.Equal(t, s, again.System)
			finer, err := CountFromLinearDensity(d/2, s)
			require.NoError(t, err)
			require.Equal(t, s.Finer(), finer.Single > c.Single)
		}
	}
}

func TestPlyAddsYarns(t *testing.T) {
	for s := Tex; s <= Cut; s++ {
		one, err := LinearDensityFromCount(Count{40, 1, s})
		require.NoError(t, err)
		none, err := LinearDensityFromCount(Count{40, 0, s})
		require.NoError(t, err)
		require.Equal(t, one, none, "no ply said is a single yarn")
		three, err := LinearDensityFromCount(Count{40, 3, s})
		require.NoError(t, err)
		require.InEpsilon(t, 3*float64(one), float64(three), 1e-12)
	}
}

func TestParseCount(t *testing.T) {
	for text, want := range map[string]Count{
		"Ne 60/2": {60, 2, Cotton}, "60/2 Ne": {60, 2, Cotton}, "Ne60": {60, 1, Cotton}, "30 cotton": {30, 1, Cotton}, "Nm 34/2": {34, 2, Metric}, "NeW 24": {24, 1, Worsted},
		"40 lea": {40, 1, Lea}, "linen 40": {40, 1, Lea}, "150 den": {150, 1, Denier}, "150denier": {150, 1, Denier}, "167 dtex": {167, 1, Dtex}, "29,5 tex": {29.5, 1, Tex},
		"20x2 tex": {20, 2, Tex}, "20×2 tex": {20, 2, Tex}, "8 run": {8, 1, Run}, "20 cut": {20, 1, Cut},
	} {
		c, err := ParseCount(text)
		require.NoError(t, err, text)
		require.Equal(t, want, c, text)
		back, err := ParseCount(c.String())
		require.NoError(t, err, c.String())
		require.Equal(t, c, back, "prints and parses back")
	}
	for text, want := range map[string]string{
		"": "has no number", "Ne": "has no number", "30": "names no count system", "30 elephants": "is not a yarn count system", "0 tex": "not a count over 0",
		"Ne 60/0": "ply", "Ne 60/99": "ply", "Ne 6/0/2": "ply", "Ne 1.2.3": "not a count over 0", "1000000 tex": "0.01 to 100000 tex", "-5 tex": "not a yarn count system",
		"150 deneir": `did you mean "denier"`,
	} {
		_, err := ParseCount(text)
		require.ErrorContains(t, err, want, text)
		var f *fault.Fault
		require.True(t, errors.As(err, &f))
		require.NotEmpty(t, f.Expected)
	}
}

func TestSystemsNameThemselves(t *testing.T) {
	for s := Tex; s <= Cut; s++ {
		for _, word := range []string{s.String(), s.Name()} {
			if s == Cotton && word == s.Name() {
				continue // said in prose, not typed
			}
			got, err := ParseCountSystem(word)
			require.NoError(t, err, word)
			require.Equal(t, s, got)
		}
	}
	require.Equal(t, "unknown", CountSystem(99).String())
	require.Equal(t, "unknown", CountSystem(-1).Name())
	require.False(t, CountSystem(99).Finer())
}

func TestMassFollowsSettYarnAndCrimp(t *testing.T) {
	base, err := ArealMassFromSett(poplin[0], poplin[1])
	require.NoError(t, err)
	swapped, err := ArealMassFromSett(poplin[1], poplin[0])
	require.NoError(t, err)
	require.InEpsilon(t, float64(base), float64(swapped), 1e-12, "warp and weft count alike")
	double := func(f func(*Threads)) units.ArealMass {
		a, b := poplin[0], poplin[1]
		f(&a)
		f(&b)
		w, err := ArealMassFromSett(a, b)
		require.NoError(t, err)
		return w
	}
	require.InEpsilon(t, 2*float64(base), float64(double(func(x *Threads) { x.Sett *= 2 })), 1e-12)
	require.InEpsilon(t, 2*float64(base), float64(double(func(x *Threads) { x.Yarn *= 2 })), 1e-12)
	require.Greater(t, double(func(x *Threads) { x.Crimp += 0.05 }), base)
}

func TestOpenShareIsTheProductOfTheGaps(t *testing.T) {
	r := draws()
	for range 300 {
		k1, k2 := 0.1+34*r.Float64(), 0.1+34*r.Float64()
		kc, err := ClothCover(k1, k2)
		require.NoError(t, err)
		require.LessOrEqual(t, kc, float64(fullCover)+1e-12)
		require.GreaterOrEqual(t, kc, min(max(k1, k2), fullCover)-1e-12, "weft never opens the warp")
		open, err := OpenShareFromCover(min(kc, fullCover))
		require.NoError(t, err)
		require.InDelta(t, max(0, 1-k1/28)*max(0, 1-k2/28), float64(open), 1e-12)
	}
}

func TestShowThroughRisesWithTheOpenShare(t *testing.T) {
	last := ShowNone
	seen := map[ShowThrough]bool{}
	for i := range 101 {
		low, typical, high, err := ShowThroughFromOpenShare(units.Fraction(i) / 100)
		require.NoError(t, err)
		require.GreaterOrEqual(t, typical, last)
		require.LessOrEqual(t, low, typical)
		require.GreaterOrEqual(t, high, typical)
		require.Greater(t, high, low, "never said to a step")
		last, seen[typical] = typical, true
	}
	require.Len(t, seen, 4)
}

func TestBlendFiguresLieBetweenTheirParts(t *testing.T) {
	r := draws()
	for range 300 {
		n := 2 + r.IntN(4)
		parts, dense := make([]Part, n), make([]Dense, n)
		rest := units.Fraction(1)
		for i := range n {
			s := rest
			if i < n-1 {
				s = rest * units.Fraction(0.1+0.8*r.Float64())
			}
			rest -= s
			parts[i] = Part{s, units.Fraction(0.2 * r.Float64()), units.Fraction(0.05 * r.Float64())}
			dense[i] = Dense{s, 0.9 + r.Float64()}
		}
		d, err := BlendDensity(dense)
		require.NoError(t, err)
		mean, low, high := 0.0, math.Inf(1), 0.0
		for _, p := range dense {
			mean += float64(p.Share) * p.Density
			low, high = min(low, p.Density), max(high, p.Density)
		}
		require.LessOrEqual(t, d, mean+1e-12, "the plain mean reads high")
		require.True(t, d >= low-1e-12 && d <= high+1e-12)
		v, err := VolumeShares(dense)
		require.NoError(t, err)
		sum := 0.0
		for i := range v {
			sum += float64(v[i])
			require.InEpsilon(t, float64(dense[i].Share)*d/dense[i].Density, float64(v[i]), 1e-9)
		}
		require.InDelta(t, 1, sum, 1e-12)
		a, err := AllowanceSharesFromDry(parts)
		require.NoError(t, err)
		back := make([]Part, n)
		for i := range parts {
			back[i] = Part{a[i], parts[i].Allowance, parts[i].Loss}
		}
		dry, err := DrySharesFromAllowance(back)
		require.NoError(t, err)
		for i := range dry {
			require.InDelta(t, float64(parts[i].Share), float64(dry[i]), 1e-9)
		}
	}
}

func TestRoundedLabelsAreTakenInProportion(t *testing.T) {
	got, err := DrySharesFromAllowance([]Part{{Share: 0.33}, {Share: 0.33}, {Share: 0.33}})
	require.NoError(t, err)
	require.InDelta(t, 1.0/3, float64(got[0]), 1e-12)
	_, err = DrySharesFromAllowance([]Part{{Share: 0.65}, {Share: 0.25}})
	require.ErrorContains(t, err, "add up to 90 %")
}

func TestAFibreNeverRaisesTheLimit(t *testing.T) {
	r := draws()
	for range 300 {
		var parts []Pressed
		last := Limit{Known: true, Iron: true, Celsius: 300}
		for range 1 + r.IntN(6) {
			parts = append(parts, Pressed{units.Fraction(0.01 + 0.9*r.Float64()), dotted(Dots(r.IntN(4)))})
			got, err := PressingLimit(parts)
			require.NoError(t, err)
			require.LessOrEqual(t, got.Celsius, last.Celsius)
			require.False(t, got.Iron && !last.Iron, "once not to be ironed, never to be ironed")
			last = got
		}
	}
}

func TestUnknownPartsLeaveTheLimitUnknown(t *testing.T) {
	cotton := Limit{true, true, 200}
	got, err := PressingLimit([]Pressed{{0.5, cotton}, {0.5, Limit{}}})
	require.NoError(t, err)
	require.Equal(t, "not known", got.String())
	_, ok := got.Dots()
	require.False(t, ok)
	got, err = PressingLimit([]Pressed{{0.5, Limit{Known: true}}, {0.5, Limit{}}})
	require.NoError(t, err)
	require.Equal(t, "do not iron", got.String(), "the unknown part cannot make it better")
	d, ok := got.Dots()
	require.True(t, ok)
	require.Zero(t, d)
	got, err = PressingLimit([]Pressed{{1, cotton}, {0, Limit{Known: true}}})
	require.NoError(t, err)
	require.Equal(t, "200 °C", got.String(), "a share of zero is not there")
}

func TestDotsKeepBelowTheLimit(t *testing.T) {
	for c, want := range map[units.Temperature]Dots{109: 0, 110: 1, 149: 1, 150: 2, 199: 2, 200: 3, 250: 3} {
		d, ok := Limit{Known: true, Iron: true, Celsius: c}.Dots()
		require.True(t, ok)
		require.Equal(t, want, d, "%v", c)
	}
	require.Equal(t, []string{"do not iron", "one dot", "two dots", "three dots", "4 dots"},
		[]string{Dots(0).String(), Dots(1).String(), Dots(2).String(), Dots(3).String(), Dots(4).String()})
}

func TestFusingNeedsTheHeat(t *testing.T) {
	heat := units.Range[units.Temperature]{Low: 130, High: 160}
	for _, c := range []struct {
		name     string
		stack    Limit
		possible bool
		at       units.Range[units.Temperature]
		after    string
		say      string
	}{
		{"cotton takes it", Limit{true, true, 200}, true, heat, "160 °C", "Fuse at 130 to 160 °C"},
		{"wool limits it", Limit{true, true, 150}, true, units.Range[units.Temperature]{Low: 130, High: 150}, "150 °C", "Fuse at 130 to 150 °C"},
		{"just enough", Limit{true, true, 130}, true, units.Range[units.Temperature]{Low: 130, High: 130}, "130 °C", "Fuse at 130 °C"},
		{"acetate does not", Limit{true, true, 110}, false, units.Range[units.Temperature]{}, "110 °C", "sewn-in"},
		{"not to be ironed", Limit{Known: true}, false, units.Range[units.Temperature]{}, "do not iron", "sewn-in"},
		{"not known", Limit{}, false, units.Range[units.Temperature]{}, "not known", "scrap"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, err := FuseInto(c.stack, heat)
			require.NoError(t, err)
			require.Equal(t, c.stack.Known, f.Known)
			require.Equal(t, c.possible, f.Possible)
			require.Equal(t, c.at, f.At)
			require.Equal(t, c.after, f.After.String())
			require.Contains(t, f.Say, c.say)
		})
	}
}

func TestSteam(t *testing.T) {
	limit := dotted
	for _, c := range []struct {
		name   string
		l      Limit
		traits []Trait
		want   Steam
		say    string
	}{
		{"cotton", limit(3), nil, SteamYes, "scalds"},
		{"polyester", limit(2), nil, SteamTry, "scrap"},
		{"wool", limit(2), []Trait{Wool}, SteamYes, "lift it"},
		{"silk that marks", limit(2), []Trait{WaterMarks}, SteamTry, "rim"},
		{"acetate that marks", limit(1), []Trait{WaterMarks}, SteamNo, "Dry iron"},
		{"polypropylene", limit(0), nil, SteamNo, "Do not iron"},
		{"unknown", Limit{}, nil, SteamUnknown, "Try heat and damp"},
		{"velvet", limit(2), []Trait{Pile}, SteamTry, "needle board"},
		{"crêpe", limit(2), []Trait{Raised}, SteamTry, "edge only"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, say, err := SteamFor(c.l, c.traits...)
			require.NoError(t, err)
			require.Equal(t, c.want, s)
			require.Contains(t, strings.Join(say, " "), c.say)
			require.NotEmpty(t, s.String())
		})
	}
	_, _, err := SteamFor(limit(2), Trait(9))
	require.ErrorContains(t, err, "not a trait")
}

func TestPlainWeaveBindsMost(t *testing.T) {
	r := draws()
	tried := 0
	for range 2000 {
		rows := make([]string, 2+r.IntN(6))
		ends := 2 + r.IntN(6)
		for i := range rows {
			b := make([]byte, ends)
			for j := range b {
				b[j] = '0' + byte(r.IntN(2))
			}
			rows[i] = string(b)
		}
		w, err := ParseLiftPlan(strings.Join(rows, ";"))
		if err != nil {
			continue
		}
		tried++
		require.LessOrEqual(t, w.CrossingFirmness(), 2.0)
		require.Greater(t, w.CrossingFirmness(), 0.0)
		f := w.Floats()
		require.Less(t, max(f.WarpFace, f.WarpBack), w.Picks(), "no thread floats round the whole repeat")
		require.Less(t, max(f.WeftFace, f.WeftBack), w.Ends())
	}
	require.Greater(t, tried, 500)
}

func TestLiftPlanRefusals(t *testing.T) {
	for plan, want := range map[string]string{
		"":                              "pick 1 is empty",
		"10;":                           "pick 2 is empty",
		"10;012":                        "pick 2 has other signs",
		"10;011":                        "pick 2 crosses 3 ends, pick 1 2",
		"11;01":                         "pick 1 never crosses the warp",
		"10;10":                         "end 1 never crosses the weft",
		"1":                             "never crosses",
		strings.Repeat("10", 40) + ";1": "crosses 1 ends",
		strings.Repeat("10", 40) + ";" + strings.Repeat("01", 40): "too large",
	} {
		_, err := ParseLiftPlan(plan)
		require.ErrorContains(t, err, want, plan)
	}
	var none Weave
	require.Zero(t, none.CrossingFirmness())
	require.Equal(t, Floats{}, none.Floats())
}

func TestOutsideTheRangeIsAFault(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	f := units.Fraction(nan)
	var errs []error
	add := func(_ any, err error) { errs = append(errs, err) }
	for _, c := range []Count{{0, 1, Tex}, {-1, 1, Tex}, {nan, 1, Cotton}, {inf, 1, Tex}, {inf, 1, Cotton}, {30, -1, Cotton}, {30, 65, Cotton}, {30, 1, 99}, {1e9, 1, Cotton}} {
		add(LinearDensityFromCount(c))
		add(ConvertCount(c, Tex))
	}
	add(CountFromLinearDensity(0, Tex))
	add(CountFromLinearDensity(LinearDensity(nan), Tex))
	add(CountFromLinearDensity(10, 99))
	for _, th := range []Threads{{0, 10, 0}, {Sett(nan), 10, 0}, {301, 10, 0}, {10, 0, 0}, {10, LinearDensity(nan), 0}, {10, 10, -0.1}, {10, 10, 1.1}, {10, 10, f}} {
		add(ArealMassFromSett(th, poplin[1]))
		add(ArealMassFromSett(poplin[0], th))
		add(CoverFactor(th))
	}
	add(ArealMassFromRunningMass(0, 150))
	add(ArealMassFromRunningMass(nan, 150))
	add(ArealMassFromRunningMass(300, 1))
	add(ArealMassFromRunningMass(300, units.Length(nan)))
	add(ArealMassFromSample(0, 100))
	add(ArealMassFromSample(1, 0))
	add(ArealMassFromSample(nan, 100))
	add(ArealMassFromSample(100, 100))
	add(ClothCover(0, 10))
	add(ClothCover(10, nan))
	add(ClothCover(inf, 1))
	add(OpenShareFromCover(-1))
	add(OpenShareFromCover(29))
	add(OpenShareFromCover(nan))
	_, _, _, err := ShowThroughFromOpenShare(f)
	add(nil, err)
	_, _, _, err = ShowThroughFromOpenShare(1.1)
	add(nil, err)
	for _, p := range [][]Part{nil, {{Share: 0}}, {{Share: 0.5}}, {{Share: f}}, {{Share: 1, Allowance: -1}}, {{Share: 1, Allowance: f}}, {{Share: 1, Loss: 0.6}}, {{Share: 0.7}, {Share: 0.7}}} {
		add(AllowanceSharesFromDry(p))
		add(DrySharesFromAllowance(p))
	}
	for _, d := range [][]Dense{nil, {{1, 0}}, {{1, nan}}, {{0.5, 1.5}}, {{f, 1.5}}} {
		add(BlendDensity(d))
		add(VolumeShares(d))
	}
	for _, l := range [][2][]units.Fraction{{{1}, {0.5, 0.5}}, {{0.5}, {0.5}}, {{1}, {0.5}}, {{1}, {1.2}}, {{1}, {f}}, {nil, nil}} {
		_, _, err := WithinLabelTolerance(l[0], l[1])
		add(nil, err)
	}
	add(PressingLimit(nil))
	add(PressingLimit([]Pressed{{0, Limit{true, true, 200}}}))
	add(PressingLimit([]Pressed{{f, Limit{true, true, 200}}}))
	for _, h := range []units.Range[units.Temperature]{{Low: 160, High: 130}, {Low: 10, High: 130}, {Low: 130, High: 300}, {Low: units.Temperature(nan), High: 130}} {
		add(FuseInto(Limit{true, true, 200}, h))
	}
	for i, err := range errs {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			var f *fault.Fault
			require.True(t, errors.As(err, &f), "%v", err)
			require.Equal(t, fault.OutsideRange, f.Kind)
			require.NotEmpty(t, f.What)
			require.NotEmpty(t, f.Expected)
		})
	}
}
