package card

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/page/htmlcheck"
)

var update = flag.Bool("update", false, "write the golden cards anew")

var knowledge = sync.OnceValues(func() (*advise.Adviser, error) { return advise.Load(data.FS) })
var forms = sync.OnceValues(func() (*advise.Shapes, error) {
	a, err := knowledge()
	if err != nil {
		return nil, err
	}
	return advise.LoadShapes(data.FS, a.Cat)
})

// made is a make-up in words with its plan of cutting.
func made(t testing.TB, words string) (*advise.Adviser, advise.MakeUp, cut.Answer) {
	t.Helper()
	a, err := knowledge()
	require.NoError(t, err)
	m, err := a.ParseCase(words)
	require.NoError(t, err)
	shapes, err := forms()
	require.NoError(t, err)
	job := cut.Job{Allowance: m.Finish.Allowance}
	if s := shapes.Of(m.Piece); s != nil {
		d, err := s.Draw(nil)
		require.NoError(t, err)
		job.Parts, job.Joins = d.Parts, d.Joins
	} else {
		job.Parts, job.Joins = m.Piece.CutParts(), m.Piece.CutJoins()
	}
	job.Layers = []cut.Layer{cut.NewLayer(a.Cat, "shell", *m.Shell, fibres.ShellSalt)}
	if m.Lining != nil {
		job.Layers = append(job.Layers, cut.NewLayer(a.Cat, "lining", *m.Lining, fibres.LiningSalt))
	}
	for i := range job.Layers {
		job.Layers[i].SetWidth(units.Range[units.Length]{Low: 165, High: 165})
	}
	plan, err := cut.Plan(job)
	require.NoError(t, err)
	return a, m, plan
}

func cardOf(t testing.TB, words string, o Options) *Card {
	t.Helper()
	a, m, plan := made(t, words)
	c, err := New(a, m, plan, o)
	require.NoError(t, err)
	return c
}

func written(t testing.TB, c *Card) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, c.Write(&b))
	return b.String()
}

// makings are make-ups of every kind of edge, from the wardrobe.
var makings = map[string]string{
	"wrap":   "hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta",
	"cape":   "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill",
	"cowl":   "cowl, single-layer-bound-edge, shell double-gauze",
	"shawl":  "triangular-shawl, single-layer-rolled-hem, shell silk-chiffon",
	"velvet": "half-circle-cape, faced-edge, shell cotton-velvet",
}

func TestCardsAreSoundPages(t *testing.T) {
	for name, words := range makings {
		for _, kind := range []string{Job, Shopping} {
			t.Run(name+" "+kind, func(t *testing.T) {
				c := cardOf(t, words, Options{Kind: kind})
				html := written(t, c)
				_, err := htmlcheck.Parse(html)
				require.NoError(t, err)
				if dir := os.Getenv("TENTER_SHOTS"); dir != "" {
					require.NoError(t, os.WriteFile(filepath.Join(dir, name+"-"+kind+".html"), []byte(html), 0o644))
				}
				for _, s := range []string{"http://", "https://", "<link", "<script", "@import", "src="} {
					require.NotContains(t, strings.ReplaceAll(html, "http://www.w3.org/2000/svg", ""), s, "the file stands alone")
				}
				require.Contains(t, html, c.Verdict)
				require.NotContains(t, html, "ZgotmplZ")
				require.NotContains(t, html, "NaN")
			})
		}
	}
	_ = fault.All
	_ = units.Metric
}
