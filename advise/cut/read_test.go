package cut

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

func TestReadCSV(t *testing.T) {
	parts, err := ReadCSV("wrap.csv", []byte("\xef\xbb\xbfx_in,y_in\n0,0\n10,0\n10,5\n0,5\n0,0\n"))
	require.NoError(t, err)
	require.Len(t, parts, 1)
	require.Equal(t, "wrap", parts[0].Name)
	require.InDelta(t, 25.4, float64(parts[0].Width), 1e-9)
	require.InDelta(t, 12.7, float64(parts[0].Height), 1e-9)

	parts, err = ReadCSV("hood.csv", []byte("part,count,x_mm,y_mm\nside,2,0,0\nside,2,300,0\nside,2,300,380\nband,1,0,0\nband,1,140,0\nband,1,140,740\nband,1,0,740\n"))
	require.NoError(t, err)
	require.Len(t, parts, 2)
	require.Equal(t, 2, parts[0].Count)
	require.InDelta(t, 38, float64(parts[0].Height), 1e-9)
	require.InDelta(t, 14*74, parts[1].Outline.Area(), 1e-6)
}

func TestReadSVG(t *testing.T) {
	const head = `<svg xmlns="http://www.w3.org/2000/svg" width="30cm" height="40cm" viewBox="0 0 300 400">`
	for _, c := range []struct {
		name, body string
		w, h, area float64 // cm, cm²
	}{
		{"path", `<path id="p" d="M10 10 H110 V60 H10 Z"/>`, 10, 5, 50},
		{"relative path, figures run together", `<path d="m10,10l100,0 0,50-100,0z"/>`, 10, 5, 50},
		{"polygon", `<polygon points="0,0 100,0 50,100"/>`, 10, 10, 50},
		{"rectangle in a moved, scaled group", `<g transform="translate(20,5) scale(2)"><rect x="1" y="1" width="20" height="30"/></g>`, 4, 6, 24},
		{"turned by a right angle", `<rect transform="rotate(90)" width="20" height="30"/>`, 3, 2, 6},
		{"circle", `<circle cx="100" cy="100" r="50"/>`, 10, 10, math.Pi * 25},
		{"ellipse", `<ellipse cx="100" cy="100" rx="50" ry="20"/>`, 10, 4, math.Pi * 10},
		{"half circle by an arc", `<path d="M0 100 A50 50 0 0 1 100 100 Z"/>`, 10, 5, math.Pi * 12.5},
		{"arc flags without blanks", `<path d="M0 100a50 50 0 01100 0z"/>`, 10, 5, math.Pi * 12.5},
		{"quarter by a curve", `<path d="M0 0 L100 0 C100 55.228 55.228 100 0 100 Z"/>`, 10, 10, math.Pi * 25},
		{"parabola", `<path d="M0 0 Q50 100 100 0 Z"/>`, 10, 5, 100.0 / 3},
		{"smooth curves", `<path d="M0 50 Q25 0 50 50 T100 50 L100 100 L0 100 Z"/>`, 10, 7.5, 50},
	} {
		t.Run(c.name, func(t *testing.T) {
			parts, err := ReadSVG("drawing.svg", []byte(head+c.body+"</svg>"))
			require.NoError(t, err)
			require.Len(t, parts, 1)
			p := parts[0]
			require.InDelta(t, c.w, float64(p.Width), 0.03)
			require.InDelta(t, c.h, float64(p.Height), 0.03)
			require.InDelta(t, c.area, p.Outline.Area(), 0.01*c.area)
			require.Greater(t, p.Outline.Area(), 0.0, "the inside on the left")
		})
	}
	parts, err := ReadSVG("d.svg", []byte(`<svg><defs><rect width="9" height="9"/></defs><rect id="tie" data-count="3" width="96" height="192"/></svg>`))
	require.NoError(t, err)
	require.Len(t, parts, 1, "what is only defined is no part")
	require.Equal(t, 3, parts[0].Count)
	require.Equal(t, "tie", parts[0].Name)
	require.InDelta(t, 2.54, float64(parts[0].Width), 1e-9, "96 units are an inch")
}

func TestUpThePageIsAlongTheCloth(t *testing.T) {
	parts, err := ReadSVG("d.svg", []byte(`<svg><polygon points="0,0 100,0 50,200"/></svg>`))
	require.NoError(t, err)
	low, _ := parts[0].Outline.Box()
	for _, s := range parts[0].Outline.Sides { // the point, lowest on the page, is the start of the cloth
		if s.To.Y == low.Y {
			require.InDelta(t, float64(parts[0].Width)/2, s.To.X, 1e-9)
		}
	}
}

// TestBadInputIsSaidPlainly pins the sentence for each slip, with the number that
// would do.
func TestBadInputIsSaidPlainly(t *testing.T) {
	plan := func(p Part, width units.Length, l Layer) error {
		l.Name = "shell"
		l.SetWidth(units.Range[units.Length]{Low: width, High: width})
		_, err := Plan(Job{Parts: []Part{p}, Layers: []Layer{l}, Allowance: 1.2})
		return err
	}
	shrinking := func(pct float64) Layer {
		var l Layer
		require.NoError(t, l.SetShrink(units.Range[units.Fraction]{Low: 0, High: 0}, units.Range[units.Fraction]{Low: units.Fraction(pct / 100), High: units.Fraction(pct / 100)}))
		return l
	}
	csv := func(rows string) error { _, err := ReadCSV("o.csv", []byte("x_cm,y_cm\n"+rows)); return err }
	svg := func(body string) error { _, err := ReadSVG("o.svg", []byte("<svg>\n"+body+"\n</svg>")); return err }
	part := func(s string) error { _, err := ParsePart(s); return err }
	for _, c := range []struct {
		name string
		err  error
		want []string
	}{
		{"wider than the cloth", plan(Part{Name: "cloth", Count: 1, Width: 200, Height: 180}, 140, shrinking(5)), []string{"192 cm wide when cut", "cloth at least 192 cm wide", "at most 130.6 cm wide when finished"}},
		{"made too wide by shrinking", plan(Part{Name: "panel", Count: 1, Width: 137, Height: 200}, 140, shrinking(10)), []string{"154.9 cm wide", "at least 155 cm", "at most 123.6 cm"}},
		{"open path", svg(`<path d="M0 0 L300 0 L300 300 L0 300"/>`), []string{"o.svg:2:", "the outline is open: it ends 7.9 cm from where it began", "end the path with Z"}},
		{"crossing path", svg(`<polygon points="0,0 300,300 300,0 0,300"/>`), []string{"o.svg:2:", "crosses itself at (4.0, -4.0 cm)"}},
		{"crossing rows", csv("0,0\n10,10\n10,0\n0,10\n"), []string{"o: the outline crosses itself at (5.0, 5.0 cm)", "meet only at corners"}},
		{"two corners", csv("0,0\n10,0\n"), []string{"the outline has 2 corners"}},
		{"no corners", csv(""), []string{"there are no corners"}},
		{"no unit", func() error { _, err := ReadCSV("o.csv", []byte("x,y\n0,0\n")); return err }(), []string{"o.csv:1:1", `column "x" names no unit`}},
		{"no number", csv("0,0\n1O,0\n5,5\n"), []string{"o.csv:3:1", `"1O" is not a coordinate`}},
		{"zero size", part("wrap 0cm x 75cm"), []string{"wrap", "the width is 0 cm", "2 mm to"}},
		{"no size", part("wrap"), []string{`"wrap" has no sizes`}},
		{"three sizes", part("wrap 1 x 2 x 3 x 4 cm"), []string{"not a width by a height"}},
		{"no count", part("wrap 10 x 20cm x0"), []string{"wanted 0 times", "1 to 500"}},
		{"impossible shrinkage", func() error {
			var l Layer
			return l.SetShrink(units.Range[units.Fraction]{Low: 0.7, High: 0.8}, units.Range[units.Fraction]{})
		}(), []string{"80 %", "to 60 %"}},
		{"no drawing", svg(`<line x1="0" y1="0" x2="9" y2="9"/>`), []string{"the drawing holds no closed outline"}},
		{"no SVG", func() error { _, err := ReadSVG("o.svg", []byte("<svg><path")); return err }(), []string{"o.svg:1:", "cannot be read"}},
		{"hood", func() error { _, err := hoodOutline(30, 20, 25, 5, 5); return err }(), []string{"neck: a neck edge of 25 cm is longer than the hood is deep, 20 cm", "at most 20 cm a side"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Error(t, c.err)
			for _, w := range c.want {
				require.Contains(t, c.err.Error(), w)
			}
			var f *fault.Fault
			require.True(t, errors.As(c.err, &f))
		})
	}
}

// Whatever a file holds, reading it says parts that can be cut, or what is wrong
// with it; never both nothing, never a panic.
func checkRead(t *testing.T, parts []Part, err error) {
	if err == nil {
		require.NotEmpty(t, parts)
		for _, p := range parts {
			require.NoError(t, p.Check())
			require.Greater(t, p.Outline.Area(), 0.0)
			pts, _ := withAllowance(*p.Outline, allowances{1.2, 3, 0.6})
			low, high := bounds(pts)
			require.GreaterOrEqual(t, high.X-low.X, float64(p.Width)-1e-6)
			require.False(t, math.IsNaN(area(pts)))
		}
		return
	}
	for _, f := range fault.All(err) {
		require.NotEmpty(t, f.What)
		require.False(t, strings.ContainsRune(f.What, '\n'), "one sentence: %q", f.What)
	}
}

func FuzzReadSVG(f *testing.F) {
	for _, s := range []string{`M0 0 L300 0 L300 300 Z`, `m10,10l100,0 0,50-100,0z`, `M0 100 A50 50 0 0 1 100 100 Z`, `M0 50 Q25 0 50 50 T100 50 L100 100Z`,
		`M0 0 C1 1 2 2 3 3 S 4 4 5 5`, `M1e300 0 L0 1e300 0 0z`, `M0 0H9V9Hz`, `A`, `M0 0 A0 0 0 1 1 9 9z`, `M.5.5.5`, `M0 0 Z L9 9 9 0 z`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, d string) {
		d = strings.NewReplacer(`"`, "", "<", "", "&", "").Replace(d)
		parts, err := ReadSVG("f.svg", []byte(`<svg width="30cm" viewBox="0 0 300 300"><path d="`+d+`"/></svg>`))
		checkRead(t, parts, err)
	})
}

func FuzzReadSVGFile(f *testing.F) {
	f.Add([]byte(`<svg width="1in"><g transform="rotate(3)"><rect width="9" height="9"/></g><circle r="5"/></svg>`))
	f.Add([]byte(`<svg viewBox="0 0 0 0"><polygon points="1 2 3 4 5"/></svg>`))
	f.Add([]byte(`<svg><ellipse rx="NaN" ry="1e999"/></svg>`))
	f.Fuzz(func(t *testing.T, b []byte) {
		parts, err := ReadSVG("f.svg", b)
		checkRead(t, parts, err)
	})
}

func FuzzReadCSV(f *testing.F) {
	f.Add([]byte("x_cm,y_cm\n0,0\n10,0\n10,5\n"))
	f.Add([]byte("part,count,x_mm,y_mm\na,2,0,0\na,2,300,0\na,2,300,380\nb,,1,1\n"))
	f.Add([]byte("x_in,y_cm\n\"1,5\",2\n\n3"))
	f.Fuzz(func(t *testing.T, b []byte) {
		parts, err := ReadCSV("f.csv", b)
		checkRead(t, parts, err)
	})
}

func FuzzParsePart(f *testing.F) {
	for _, s := range []string{"wrap 150cm x 75cm x1", `hood 11 1/2" x 15"x2`, "150x75cm", "x", "1xx", "tie 80 x 8 cm x 99999999999"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := ParsePart(s)
		if err == nil {
			require.NoError(t, p.Check())
			return
		}
		require.NotEmpty(t, fault.All(err)[0].What)
	})
}

// Each axis is read in the unit that its own column names.
func TestAxesMayDifferInUnit(t *testing.T) {
	parts, err := ReadCSV("flag.csv", []byte("x_cm,y_mm\n0,0\n20,0\n20,500\n0,500\n"))
	require.NoError(t, err)
	require.InDelta(t, 20, float64(parts[0].Width), 1e-9)
	require.InDelta(t, 50, float64(parts[0].Height), 1e-9)
}
