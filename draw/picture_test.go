package draw

import (
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
	"tenter/internal/testkit"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// flap is one flap of 10 cm with an edge strip, of a bending length in cm.
func flap(c units.Length) hang.Flap {
	g := hang.RigidityFromBendingLength(c, 200)
	return hang.Flap{Segments: []hang.Segment{{Length: 8.8, Rigidity: g, Mass: 200}, {Length: 1.2, Rigidity: 2 * g, Mass: 400}}}
}

func plain(l, c units.Length) hang.Flap {
	return hang.Flap{Segments: []hang.Segment{{Length: l, Rigidity: hang.RigidityFromBendingLength(c, 200), Mass: 200}}}
}

// samples is one or more of every kind of picture.
func samples() map[string]func(Options) (Picture, error) {
	return map[string]func(Options) (Picture, error){
		"fall-shoulder": func(o Options) (Picture, error) {
			return Fall(o, FallView{Name: "cotton sateen, lined with silk taffeta", Flaps: [3]hang.Flap{flap(1.3), flap(1.8), flap(2.5)}})
		},
		"fall-rail": func(o Options) (Picture, error) {
			return Fall(o, FallView{Name: "denim", Hold: Rail, Flaps: [3]hang.Flap{plain(6, 2.2), plain(6, 3.1), plain(6, 4)}})
		},
		"fall-measured": func(o Options) (Picture, error) {
			return Fall(o, FallView{Name: "green blanket", Flaps: [3]hang.Flap{plain(15, 3), plain(15, 3), plain(15, 3)}})
		},
		"folds-cape": func(o Options) (Picture, error) {
			return Folds(o, FoldsView{Name: "wool flannel", Hem: 345, Width: [3]units.Length{19, 38, 76}, Open: true})
		},
		"folds-curtain": func(o Options) (Picture, error) {
			return Folds(o, FoldsView{Name: "stage curtain of velvet", Hem: 400, Width: [3]units.Length{14, 28, 56}, Round: 200, Flat: true})
		},
		"folds-circle": func(o Options) (Picture, error) {
			return Folds(o, FoldsView{Name: "silk habotai", Hem: 560, Width: [3]units.Length{12, 24, 48}})
		},
		"edge-enclosed": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a bagged wrap", Kind: "enclosed", Shell: Sheet{"cotton sateen", 0.3}, Lining: &Sheet{"silk taffeta", 0.15}, Interfacing: &Sheet{"light non-woven", 0.2}, AllowanceMM: 12, StripMM: 12, Topstitch: true})
		},
		"edge-self-lined": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a double cape", Kind: "enclosed", Shell: Sheet{"wool coating", 2.4}, AllowanceMM: 12, StripMM: 12})
		},
		"edge-bound": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a bound cowl", Kind: "bound", Shell: Sheet{"double gauze", 0.7}, Binding: &Sheet{"cotton lawn", 0.2}, StripMM: 10})
		},
		"edge-bound-quilted": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a quilt", Kind: "bound", Shell: Sheet{"calico", 0.35}, Lining: &Sheet{"calico", 0.35}, Interfacing: &Sheet{"wadding", 6}, StripMM: 10})
		},
		"edge-hemmed": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a skirt of poplin", Kind: "hemmed", Shell: Sheet{"cotton poplin", 0.28}, AllowanceMM: 12, StripMM: 20})
		},
		"edge-hemmed-lining": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a coat", Kind: "hemmed", Shell: Sheet{"wool flannel", 0.9}, Lining: &Sheet{"viscose twill", 0.16}, StripMM: 40})
		},
		"edge-mounted": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "an underlined skirt", Kind: "hemmed", Shell: Sheet{"silk crepe", 0.3}, Lining: &Sheet{"silk organza", 0.12}, Mounted: true, StripMM: 40})
		},
		"edge-rolled": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a chiffon veil", Kind: "rolled", Shell: Sheet{"silk chiffon", 0.12}, StripMM: 3})
		},
		"edge-faced": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a faced neck", Kind: "faced", Shell: Sheet{"linen", 0.5}, Interfacing: &Sheet{"light fusible", 0.2}, AllowanceMM: 12, StripMM: 50})
		},
		"edge-faced-lined": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a tailored front", Kind: "faced", Shell: Sheet{"worsted", 0.6}, Lining: &Sheet{"viscose twill", 0.16}, AllowanceMM: 12, StripMM: 40})
		},
		"layout-flat": func(o Options) (Picture, error) {
			return Layout(o, LayoutView{Name: "shell, wool flannel", Width: 150, Usable: 146, Length: 236, OneWay: true, Parts: []Laid{
				{Name: "cape", X: 0, Y: 0, Across: 116, Along: 116, Outline: quarter(0, 0, 116)}, {Name: "cape", X: 0, Y: 118, Across: 116, Along: 116, Outline: quarter(0, 118, 116)},
				{Name: "neck facing", X: 118, Y: 2, Across: 17, Along: 32}, {Name: "neck facing", X: 118, Y: 40, Across: 17, Along: 32}, {Name: "tab", X: 138, Y: 2, Across: 5, Along: 8},
			}})
		},
		"layout-folded": func(o Options) (Picture, error) {
			return Layout(o, LayoutView{Name: "striped ticking", Width: 140, Usable: 138, Length: 410, Folded: true, RepeatAlong: 32, RepeatAcross: 12, Parts: []Laid{
				{Name: "front", X: 0, Y: 0, Across: 36, Along: 128, OnFold: true}, {Name: "back", X: 0, Y: 128, Across: 36, Along: 128, OnFold: true}, {Name: "sleeve", X: 36, Y: 32, Across: 30, Along: 64}, {Name: "sleeve", X: 36, Y: 128, Across: 30, Along: 64}, {Name: "skirt panel", X: 0, Y: 288, Across: 68, Along: 110},
			}})
		},
		"layout-short": func(o Options) (Picture, error) {
			return Layout(o, LayoutView{Name: "velvet", Width: 150, Usable: 150, Length: 40, OneWay: true, Parts: []Laid{{Name: "cuff", X: 0, Y: 0, Across: 60, Along: 38}, {Name: "cuff", X: 70, Y: 0, Across: 60, Along: 38}}})
		},
		"strip": func(o Options) (Picture, error) {
			item := func(n, say string, a, b, c units.Length) StripItem {
				return StripItem{Name: n, Say: say, Flaps: [3]hang.Flap{flap(a), flap(b), flap(c)}}
			}
			return Strip(o, StripView{Name: "a half-circle cape", Items: []StripItem{
				item("wool flannel", "about 8 in 10 would do", 1.6, 2.1, 2.8), item("cotton velvet", "about 7 in 10 would do", 1.8, 2.3, 3), item("heavy silk crepe with a long name of its own", "about 4 in 10 would do", 1, 1.3, 1.7),
				item("denim", "hardly any would do", 2.6, 3.4, 4.4), item("blue blanket", "would do", 2.2, 2.2, 2.2), item("cotton lawn", "about 1 in 10 would do", 1, 1.4, 2.1),
			}})
		},
		"strip-one": func(o Options) (Picture, error) {
			return Strip(o, StripView{Name: "a cowl", Items: []StripItem{{Name: "double gauze", Say: "about 8 in 10 would do", Flaps: [3]hang.Flap{flap(1), flap(1.4), flap(2)}}}})
		},
		"population-mass": func(o Options) (Picture, error) {
			e := func(l, m, h float64) fibres.Estimate { return fibres.Figure(fibres.Mass, l, m, h, fibres.Practice, "") }
			return Population(o, PopulationView{Property: fibres.Mass, Rows: []PopulationRow{
				{Name: "cotton lawn", Have: e(60, 80, 100)}, {Name: "wool coating", Have: e(350, 450, 620)}, {Name: "a cloth nobody has weighed", Have: fibres.Estimate{Basis: fibres.Unknown}}, {Name: "the green blanket", Have: fibres.Figure(fibres.Mass, 396, 405, 414, fibres.Measured, ""), Own: true},
			}})
		},
		"population-fray": func(o Options) (Picture, error) {
			e := func(l, m, h float64, b fibres.Basis) fibres.Estimate {
				return fibres.Figure(fibres.Fray, l, m, h, b, "")
			}
			return Population(o, PopulationView{Property: fibres.Fray, Rows: []PopulationRow{
				{Name: "silk taffeta", Have: e(2, 3, 3, fibres.Practice)}, {Name: "wool felt", Have: e(0, 0, 0, fibres.Practice)}, {Name: "my taffeta", Have: e(2, 2, 2, fibres.Measured), Own: true},
			}})
		},
		"map": func(o Options) (Picture, error) {
			var ps []MapPoint
			for i := range 120 { // a made-up crowd, the same in every run
				u, w := math.Mod(float64(i)*0.618034, 1), math.Mod(float64(i)*0.414214, 1)
				ps = append(ps, MapPoint{Name: fmt.Sprintf("cloth %d", i), MassGSM: 30 * math.Pow(20, u), BendingCM: 0.9 * math.Pow(5, w)})
			}
			ps = append(ps, MapPoint{Name: "cotton sateen", Href: "/cloth/cotton-sateen", MassGSM: 145, BendingCM: 1.9, Mark: true, Mass: [2]float64{110, 200}, Bending: [2]float64{1.2, 2.2}},
				MapPoint{Name: "loden", MassGSM: 420, BendingCM: 2, Pale: true}, MapPoint{Name: "silk taffeta", Href: "/cloth/silk-taffeta", MassGSM: 75, BendingCM: 2.5, Mark: true},
				MapPoint{Name: "the green blanket", MassGSM: 405, BendingCM: 2.6, Own: true})
			return Map(o, MapView{Points: ps})
		},
		"map-plain": func(o Options) (Picture, error) {
			o.Units = units.Imperial
			return Map(o, MapView{Points: []MapPoint{{Name: "denim", MassGSM: 390, BendingCM: 3.3, Mark: true}, {Name: "canvas", MassGSM: 392, BendingCM: 3.35, Mark: true}, {Name: "duck", MassGSM: 388, BendingCM: 3.25, Mark: true}}})
		},
		"piece-cape": func(o Options) (Picture, error) {
			return Piece(o, PieceView{Name: "half-circle cape", Shaped: map[string]bool{"neck facing": true}, Parts: []cut.Part{
				cut.Part{Name: "cape", Count: 2, Width: 110, Height: 110}.Drawn("part-circle"), {Name: "neck facing", Count: 2, Width: 30, Height: 15},
			}})
		},
		"piece-wrap": func(o Options) (Picture, error) {
			return Piece(o, PieceView{Name: "hooded triangular wrap", Shaped: map[string]bool{"hood": true}, Parts: []cut.Part{
				cut.Part{Name: "wrap", Count: 1, Width: 150, Height: 75}.Drawn("triangle"), {Name: "hood", Count: 2, Width: 30, Height: 38},
			}})
		},
		"piece-sash": func(o Options) (Picture, error) {
			return Piece(o, PieceView{Name: "sash", Parts: []cut.Part{{Name: "sash", Count: 1, Width: 24, Height: 300}}})
		},
		"fall-imperial": func(o Options) (Picture, error) {
			o.Units = units.Imperial
			return Fall(o, FallView{Name: "denim", Hold: Rail, Flaps: [3]hang.Flap{flap(2.2), flap(3.1), flap(4)}})
		},
		"edge-raw": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "a fringe", Kind: "raw", Shell: Sheet{"hessian", 0.9}})
		},
		"edge-overcast": func(o Options) (Picture, error) {
			return Edge(o, EdgeView{Name: "an overcast edge", Kind: "overcast", Shell: Sheet{"unmeasured cloth", 0}, StripMM: 5})
		},
	}
}

// quarter is a quarter circle of radius r laid with its corner at (x, y).
func quarter(x, y, r float64) []cut.Point {
	out := []cut.Point{{X: x, Y: y}}
	for i := range 25 {
		a := math.Pi / 2 * float64(i) / 24
		out = append(out, cut.Point{X: x + r*math.Cos(a), Y: y + r*math.Sin(a)})
	}
	return out
}

func each(t *testing.T, f func(t *testing.T, name string, p Picture)) {
	for name, make := range samples() {
		t.Run(name, func(t *testing.T) {
			p, err := make(Options{Prefix: name})
			require.NoError(t, err)
			f(t, name, p)
		})
	}
}

// asFile is a picture as a file of its own.
func asFile(p Picture) string {
	return `<?xml version="1.0" encoding="UTF-8"?>` + "\n" + p.String() + "\n"
}

func TestGoldenPictures(t *testing.T) {
	each(t, func(t *testing.T, name string, p Picture) {
		path := filepath.Join("testdata", name+".svg")
		if *update {
			old, _ := os.ReadFile(path)
			if string(old) != asFile(p) {
				t.Logf("%s is drawn anew", path)
			}
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(path, []byte(asFile(p)), 0o644))
			return
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		testkit.Same(t, string(want), asFile(p), "look at the picture, then `go test ./draw -run Golden -update`")
	})
}

// element is one start tag of a picture.
type element struct {
	name string
	attr map[string]string
	text string
}

func parse(t *testing.T, svg string) []element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	d.Strict = true
	var out []element
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return out
		}
		require.NoError(t, err)
		switch x := tok.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				_, twice := e.attr[a.Name.Local]
				require.False(t, twice, "%s twice on %s", a.Name.Local, e.name)
				e.attr[a.Name.Local] = a.Value
			}
			out = append(out, e)
		case xml.CharData:
			if len(out) > 0 {
				out[len(out)-1].text += string(x)
			}
		}
	}
}

func TestPicturesAreSoundMarkup(t *testing.T) {
	each(t, func(t *testing.T, name string, p Picture) {
		els := parse(t, asFile(p))
		require.Equal(t, "svg", els[0].name)
		require.Contains(t, []string{"img", "group"}, els[0].attr["role"])
		require.Equal(t, name+"-title "+name+"-desc", els[0].attr["aria-labelledby"])
		ids := map[string]bool{}
		seen := map[string]int{}
		for _, e := range els {
			seen[e.name]++
			if id := e.attr["id"]; id != "" {
				require.True(t, strings.HasPrefix(id, name+"-"), id)
				require.False(t, ids[id], "id %s twice", id)
				ids[id] = true
			}
			require.NotContains(t, []string{"style", "script", "image", "foreignObject"}, e.name)
			for k, v := range e.attr {
				require.NotEqual(t, "style", k)
				require.False(t, strings.HasPrefix(k, "on"), k)
				require.NotContains(t, v, "NaN")
				require.NotContains(t, v, "Inf")
				if m := regexp.MustCompile(`url\(#([^)]*)\)`).FindStringSubmatch(v); m != nil {
					require.True(t, ids[m[1]], "%s is not defined before it is used", m[1])
				}
				if k == "fill" || k == "stroke" {
					require.True(t, v == "none" || v == "currentColor" || strings.HasPrefix(v, "url(#"), "%s is not the colour of the text", v)
				}
			}
			if e.name == "text" {
				require.NotEmpty(t, strings.TrimSpace(e.text))
			}
		}
		require.NotEmpty(t, strings.TrimSpace(els[1].text))
		require.Equal(t, "title", els[1].name)
		require.Equal(t, "desc", els[2].name)
		require.NotEmpty(t, strings.TrimSpace(els[2].text))
		require.NotEmpty(t, p.Text)
		require.Equal(t, p.Title, strings.TrimSpace(els[1].text))
		require.Greater(t, len(els), 3, "a picture shows something")
	})
}

var figures = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

// Every coordinate lies inside the view box. Lettering is measured in a browser,
// see TestRendered.
func TestPicturesStayInTheirBox(t *testing.T) {
	each(t, func(t *testing.T, name string, p Picture) {
		els := parse(t, p.String())
		box := numbers(t, els[0].attr["viewBox"])
		require.Len(t, box, 4)
		inside := func(x, y float64) {
			require.GreaterOrEqual(t, x, box[0])
			require.GreaterOrEqual(t, y, box[1])
			require.LessOrEqual(t, x, box[0]+box[2])
			require.LessOrEqual(t, y, box[1]+box[3])
		}
		n, skip := 0, false
		for _, e := range els {
			num := func(k string) float64 { return one(t, e.attr[k]) }
			switch e.name {
			case "pattern":
				skip = true
			case "line", "rect", "text", "g", "a":
				skip = false
			}
			if skip {
				continue
			}
			n++
			switch e.name {
			case "line":
				inside(num("x1"), num("y1"))
				inside(num("x2"), num("y2"))
			case "rect":
				inside(num("x"), num("y"))
				inside(num("x")+num("width"), num("y")+num("height"))
			case "circle":
				inside(num("cx")-num("r"), num("cy")-num("r"))
				inside(num("cx")+num("r"), num("cy")+num("r"))
			case "text":
				inside(num("x"), num("y"))
			case "path":
				v := numbers(t, e.attr["d"])
				for i := 0; i+1 < len(v); i += 2 {
					inside(v[i], v[i+1])
				}
			}
		}
		require.NotZero(t, n)
	})
}

func numbers(t *testing.T, s string) []float64 {
	t.Helper()
	var out []float64
	for _, f := range figures.FindAllString(s, -1) {
		out = append(out, one(t, f))
	}
	return out
}

func one(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}
