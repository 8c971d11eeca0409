package draw

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// hostile is a name that tries to break out of whatever holds it.
const hostile = "</text></svg><script>alert(1)</script>\"'&\x00\x1b[31m\u202e<!-- ]]> \xff"

func hostilePictures() map[string]func(Options) (Picture, error) {
	return map[string]func(Options) (Picture, error){
		"fall": func(o Options) (Picture, error) {
			return Fall(o, FallView{Name: hostile, Flaps: [3]hang.Flap{flap(1.3), flap(1.8), flap(2.5)}})
		},
		"folds": func(o Options) (Picture, error) {
			return Folds(o, FoldsView{Name: hostile, Hem: 300, Width: [3]units.Length{10, 20, 40}})
		},
		"edge": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: hostile, Kind: "enclosed", Shell: Sheet{hostile, 0}, Lining: &Sheet{hostile, 0.2}, AllowanceMM: 12})
		},
		"layout": func(o Options) (Picture, error) {
			return Layout(o, LayoutView{Name: hostile, Width: 150, Usable: 148, Length: 100, Parts: []Laid{{Name: hostile, Across: 80, Along: 90}}})
		},
		"strip": func(o Options) (Picture, error) {
			return Strip(o, StripView{Name: hostile, Items: []StripItem{{Name: hostile, Say: hostile, Flaps: [3]hang.Flap{flap(1), flap(2), flap(3)}}}})
		},
		"population": func(o Options) (Picture, error) {
			return Population(o, PopulationView{Property: fibres.Mass, Rows: []PopulationRow{{Name: hostile, Have: fibres.Figure(fibres.Mass, 1, 2, 3, fibres.Practice, "")}}})
		},
		"map": func(o Options) (Picture, error) {
			return Map(o, MapView{Points: []MapPoint{{Name: hostile, Href: "javascript:alert(1)", MassGSM: 100, BendingCM: 2, Mark: true}, {Name: hostile, Href: `/x"onload="alert(1)`, MassGSM: 120, BendingCM: 2}}})
		},
		"piece": func(o Options) (Picture, error) {
			return Piece(o, PieceView{Name: hostile, Parts: []cut.Part{{Name: hostile, Count: 2, Width: 10, Height: 20}}})
		},
	}
}

func TestHostileNamesAreOnlyText(t *testing.T) {
	for name, make := range hostilePictures() {
		t.Run(name, func(t *testing.T) {
			p, err := make(Options{Prefix: `x" onload="alert(1)`})
			require.NoError(t, err)
			for _, e := range parse(t, asFile(p)) {
				require.NotContains(t, []string{"script", "foreignObject", "style"}, e.name)
				for k, v := range e.attr {
					require.False(t, strings.HasPrefix(k, "on"), k)
					require.NotContains(t, v, "javascript:")
				}
			}
			for _, s := range []string{p.String(), p.Text, p.Title, p.Desc} {
				require.NotContains(t, s, "\x00")
				require.NotContains(t, s, "\x1b")
				require.NotContains(t, s, "\u202e")
			}
			require.Contains(t, p.String(), "&lt;/svg&gt;", "the name is still shown")
			require.Equal(t, 1, strings.Count(p.String(), "</svg>"))
		})
	}
}

// What cannot be drawn is a fault with a sentence, and never half a picture.
func TestWhatCannotBeDrawnIsAFault(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := flap(2)
	bad := hang.Flap{Segments: []hang.Segment{{Length: units.Length(nan), Rigidity: 1, Mass: 1}}}
	for name, make := range map[string]func() (Picture, error){
		"fall nan":   func() (Picture, error) { return Fall(Options{}, FallView{Flaps: [3]hang.Flap{good, bad, good}}) },
		"fall empty": func() (Picture, error) { return Fall(Options{}, FallView{}) },
		"folds zero": func() (Picture, error) { return Folds(Options{}, FoldsView{Hem: 100}) },
		"folds nan": func() (Picture, error) {
			return Folds(Options{}, FoldsView{Hem: 100, Width: [3]units.Length{1, units.Length(nan), 3}})
		},
		"folds many": func() (Picture, error) {
			return Folds(Options{}, FoldsView{Hem: 1000, Width: [3]units.Length{1, 1, 1}})
		},
		"edge unknown":    func() (Picture, error) { return Edge(Options{}, EdgeView{Kind: "glued"}) },
		"edge nan":        func() (Picture, error) { return Edge(Options{}, EdgeView{Kind: "raw", Shell: Sheet{"x", nan}}) },
		"edge below":      func() (Picture, error) { return Edge(Options{}, EdgeView{Kind: "raw", Shell: Sheet{"x", -1}}) },
		"edge strip":      func() (Picture, error) { return Edge(Options{}, EdgeView{Kind: "bound", StripMM: inf}) },
		"layout zero":     func() (Picture, error) { return Layout(Options{}, LayoutView{Width: 150, Usable: 150}) },
		"layout too wide": func() (Picture, error) { return Layout(Options{}, LayoutView{Width: 100, Usable: 150, Length: 10}) },
		"layout part": func() (Picture, error) {
			return Layout(Options{}, LayoutView{Width: 150, Usable: 150, Length: 10, Parts: []Laid{{Across: nan, Along: 1}}})
		},
		"layout place": func() (Picture, error) {
			return Layout(Options{}, LayoutView{Width: 150, Usable: 150, Length: 10, Parts: []Laid{{X: inf, Across: 1, Along: 1}}})
		},
		"strip none":      func() (Picture, error) { return Strip(Options{}, StripView{}) },
		"strip bad":       func() (Picture, error) { return Strip(Options{}, StripView{Items: []StripItem{{}}}) },
		"population none": func() (Picture, error) { return Population(Options{}, PopulationView{}) },
		"population beyond": func() (Picture, error) {
			return Population(Options{}, PopulationView{Property: 99, Rows: []PopulationRow{{}}})
		},
		"population nan": func() (Picture, error) {
			return Population(Options{}, PopulationView{Rows: []PopulationRow{{Have: fibres.Estimate{Low: nan, Typical: 1, High: 2, Basis: fibres.Practice}}}})
		},
		"map zero": func() (Picture, error) {
			return Map(Options{}, MapView{Points: []MapPoint{{MassGSM: 0, BendingCM: 1}}})
		},
		"piece none": func() (Picture, error) { return Piece(Options{}, PieceView{}) },
		"piece size": func() (Picture, error) { return Piece(Options{}, PieceView{Parts: []cut.Part{{Width: 0, Height: 1}}}) },
		"piece many": func() (Picture, error) { return Piece(Options{}, PieceView{Parts: make([]cut.Part, 61)}) },
	} {
		t.Run(name, func(t *testing.T) {
			p, err := make()
			require.Error(t, err)
			require.Empty(t, p.String())
			require.NotEmpty(t, fault.All(err))
			require.NotEqual(t, fault.Internal, fault.All(err)[0].Kind)
		})
	}
}

// The typical curve ends where the mechanics say, at the scale of the bar.
func TestFallIsToScale(t *testing.T) {
	for _, c := range []units.Length{1, 1.8, 3.2} {
		p, err := Fall(Options{Prefix: "f"}, FallView{Name: "x", Flaps: [3]hang.Flap{plain(10, c), plain(10, c), plain(10, c)}})
		require.NoError(t, err)
		h, err := hang.Hang(plain(10, c), 0)
		require.NoError(t, err)
		drawn := false // a curve that ends where the flap ends, and is as long as the cloth
		for _, e := range parse(t, p.String()) {
			if e.name != "path" || e.attr["class"] != "tn-ink" {
				continue
			}
			v, long := numbers(t, e.attr["d"]), 0.0
			for i := 2; i < len(v); i += 2 {
				long += math.Hypot(v[i]-v[i-2], v[i+1]-v[i-1])
			}
			drawn = drawn || len(v) > 20 && math.Abs(long-200) < 0.2 &&
				math.Abs(v[len(v)-2]-20*float64(h.StandOff)) < 0.02 && math.Abs(v[len(v)-1]-20*float64(h.Drop)) < 0.02
		}
		require.True(t, drawn, "no curve is the flap of a cloth of %v", c)
		require.Contains(t, p.Text, fibres.Quantity(float64(h.StandOff), "cm", units.Metric))
	}
}

// The drawn hem is as long as the hem, in as many waves as are said.
func TestHemHasItsLength(t *testing.T) {
	for _, v := range []FoldsView{{Hem: 345, Open: true}, {Hem: 560}, {Hem: 400, Round: 200, Flat: true}, {Hem: 200, Round: 110}} {
		for _, n := range []int{2, 5, 9, 23} {
			ring := float64(v.Round)
			if ring == 0 {
				ring = 0.55 * float64(v.Hem)
			}
			w := wave(float64(v.Hem), ring, n, v)
			l := 0.0
			for i := 1; i < len(w); i++ {
				l += math.Hypot(w[i].x-w[i-1].x, w[i].y-w[i-1].y)
			}
			require.InDelta(t, float64(v.Hem), l, 0.01*float64(v.Hem), "%+v %d", v, n)
		}
	}
}

// Every part lies on the drawing where it lies on the cloth, at one scale.
func TestLayoutIsToScale(t *testing.T) {
	v := LayoutView{Name: "x", Width: 150, Usable: 146, Length: 300, Parts: []Laid{{Name: "a", X: 10, Y: 20, Across: 50, Along: 100}, {Name: "b", X: 70, Y: 150, Across: 30, Along: 40}}}
	p, err := Layout(Options{Prefix: "l"}, v)
	require.NoError(t, err)
	k, n := 200.0/150, 0 // 200 units to the width of 150 cm
	for _, e := range parse(t, p.String()) {
		if e.attr["class"] != "tn-part" {
			continue
		}
		q, at := v.Parts[n], numbers(t, e.attr["d"])
		require.InDeltaSlice(t, []float64{k * q.Y, k * (q.X + 2), k * (q.Y + q.Along), k * (q.X + 2), k * (q.Y + q.Along), k * (q.X + 2 + q.Across), k * q.Y, k * (q.X + 2 + q.Across)}, at, 0.01)
		n++
	}
	require.Equal(t, len(v.Parts), n)
}

// Thin cloth is drawn thicker only where the picture says so.
func TestEdgeSaysWhenThicknessIsEnlarged(t *testing.T) {
	thick, err := Edge(Options{}, EdgeView{Kind: "enclosed", Shell: Sheet{"felt", 3}, AllowanceMM: 12})
	require.NoError(t, err)
	require.NotContains(t, thick.String(), "times as large")
	require.NotContains(t, thick.Text, "times as large")
	thin, err := Edge(Options{}, EdgeView{Kind: "enclosed", Shell: Sheet{"chiffon", 0.1}, AllowanceMM: 12})
	require.NoError(t, err)
	require.Contains(t, thin.String(), "times as large")
	require.Contains(t, thin.Text, "times as large")
	unknown, err := Edge(Options{}, EdgeView{Kind: "raw", Shell: Sheet{"mystery", 0}})
	require.NoError(t, err)
	require.Contains(t, unknown.Text, "is not known")
	require.Contains(t, unknown.String(), "not known")
}

func TestEveryEdgeKindOfTheFinishesIsDrawn(t *testing.T) {
	for kind := range edgeKinds {
		for _, l := range []*Sheet{nil, {"lining", 0.15}} {
			for _, f := range []*Sheet{nil, {"interfacing", 0.3}} {
				for _, mounted := range []bool{false, true} {
					for _, mm := range []float64{0.08, 0.4, 8} {
						p, err := Edge(Options{Prefix: "e"}, EdgeView{Name: kind, Kind: kind, Shell: Sheet{"shell", mm}, Lining: l, Interfacing: f, Mounted: mounted, AllowanceMM: 12, StripMM: 12})
						require.NoError(t, err)
						require.NotContains(t, p.String(), "NaN")
						require.Contains(t, p.String(), ">shell<")
					}
				}
			}
		}
	}
}

// A map with links is a group, so that they can be reached; without, an image.
func TestMapLinksCanBeReached(t *testing.T) {
	with, err := Map(Options{Prefix: "m"}, MapView{Points: []MapPoint{{Name: "a", Href: "/cloth/a", MassGSM: 100, BendingCM: 2}}})
	require.NoError(t, err)
	require.Contains(t, with.String(), `role="group"`)
	require.Contains(t, with.String(), `<a href="/cloth/a" aria-label="a: 100 g/m2, 2 cm">`)
	without, err := Map(Options{Prefix: "m"}, MapView{Points: []MapPoint{{Name: "a", Href: "https://example.org/", MassGSM: 100, BendingCM: 2}}})
	require.NoError(t, err)
	require.Contains(t, without.String(), `role="img"`)
	require.NotContains(t, without.String(), "example.org")
	beside, err := Map(Options{Prefix: "m"}, MapView{Points: []MapPoint{{Name: "a", Href: "/cloth/a", MassGSM: 100, BendingCM: 2}}, Beside: true})
	require.NoError(t, err)
	require.Contains(t, beside.String(), `<a href="/cloth/a" tabindex="-1"><title>a: `)
	require.Contains(t, beside.String(), `role="group"`)
}

func TestPrefixesKeepIdsApart(t *testing.T) {
	for _, s := range []struct{ give, want string }{{"a", "a"}, {"", "pic"}, {"9", "pic9"}, {`a"b c`, "a-b-c"}} {
		require.Equal(t, s.want, cleanID(s.give))
	}
}

func TestTicksAreRoundInTheUnitShown(t *testing.T) {
	a := newAxis(10, 1000, "g/m2", units.Imperial)
	a.log, a.from, a.to = true, 0, 100
	words := []string{}
	for _, k := range a.ticks() {
		words = append(words, k.word)
		require.GreaterOrEqual(t, a.at(k.v), 0.0)
		require.LessOrEqual(t, a.at(k.v), 100.0)
	}
	require.Equal(t, []string{"0.5", "1", "2", "5", "10", "20"}, words)
	b := newAxis(0, 100, "C", units.Imperial)
	b.to = 1
	require.Equal(t, "°F", b.unit)
	require.InDelta(t, 0.0, b.at(b.ticks()[0].v), 0.15)
}

// A style sheet may rely on the classes that the package comment lists.
func TestClassesAreDocumented(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	listed := map[string]bool{}
	for _, w := range regexp.MustCompile(`tn-[a-z]+`).FindAllString(string(doc), -1) {
		listed[w] = true
	}
	used := map[string]bool{}
	each(t, func(t *testing.T, _ string, p Picture) {
		for _, e := range parse(t, p.String()) {
			for _, w := range strings.Fields(e.attr["class"]) {
				require.True(t, listed[w], "%s is not in doc.go", w)
				used[w] = true
			}
		}
	})
	for w := range listed {
		require.True(t, used[w], "%s is listed and never drawn", w)
	}
}
