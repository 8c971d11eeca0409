package card

import (
	"context"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
	"tenter/internal/testkit/chromium"
)

// shown opens a page in a tab as narrow as a phone.
func shown(t *testing.T, page string) context.Context {
	t.Helper()
	ctx, stop := chromedp.NewContext(chromium.One(t))
	t.Cleanup(stop)
	file := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(file, []byte(page), 0o644))
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(390, 844), chromedp.Navigate("file://"+file)))
	return ctx
}

// said is what an expression comes to in a page.
func said[T any](t *testing.T, page, expression string) T {
	t.Helper()
	v, err := chromedp.Run(shown(t, page), chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	return v
}

// The rules of accessibility are tried on a screen as narrow as a phone's.
func TestCardsAreAccessible(t *testing.T) {
	axe, err := os.ReadFile("../testdata/axe/axe.min.js")
	require.NoError(t, err)
	for _, kind := range []string{Job, Shopping} {
		t.Run(kind, func(t *testing.T) {
			page := written(t, cardOf(t, makings["wrap"], Options{Kind: kind}))
			out := said[struct {
				Violations []struct {
					ID    string
					Nodes []struct{ HTML string }
				}
				Passes int
			}](t, page, string(axe)+`; axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then(r => ({violations: r.violations.map(v => ({id: v.id, nodes: v.nodes.map(n => ({html: n.html}))})), passes: r.passes.length}))`)
			require.Greater(t, out.Passes, 10, "the rules were tried")
			require.Empty(t, out.Violations)
		})
	}
}

// frames lays pages into one, each in a frame of a width, and asks each the same
// question: an expression of its document d.
func frames[T any](t *testing.T, pages []string, wide int, question string) []T {
	t.Helper()
	var b strings.Builder
	b.WriteString("<!DOCTYPE html><html><body>")
	for _, p := range pages {
		fmt.Fprintf(&b, `<iframe style="width:%dpx;height:800px;border:0" srcdoc="%s"></iframe>`, wide, html.EscapeString(p))
	}
	b.WriteString("</body></html>")
	return said[[]T](t, b.String(), `[...document.querySelectorAll('iframe')].map(f => { const d = f.contentDocument; return `+question+`; })`)
}

// On a phone nothing is wider than the screen.
func TestCardsFitAPhone(t *testing.T) {
	var names, pages []string
	for name, words := range makings {
		for _, kind := range []string{Job, Shopping} {
			names, pages = append(names, name+" "+kind), append(pages, written(t, cardOf(t, words, Options{Kind: kind})))
		}
	}
	out := frames[struct{ Screen, Page float64 }](t, pages, 360, `({screen: d.documentElement.clientWidth, page: d.documentElement.scrollWidth})`)
	require.Len(t, out, len(pages))
	for i, o := range out {
		require.Equal(t, 360.0, o.Screen, names[i])
		require.LessOrEqual(t, o.Page, o.Screen, names[i])
	}
}

// A shopping card is a third of a sheet, and all it says is within.
func TestShoppingCardIsAThirdOfASheet(t *testing.T) {
	papers := map[string][2]float64{A4: {210, 297}, Letter: {215.9, 279.4}} // mm
	var names, pages, on []string
	for paper := range papers {
		for name, words := range makings {
			page := written(t, cardOf(t, words, Options{Kind: Shopping, Paper: paper}))
			names, on = append(names, name+" on "+paper), append(on, paper)
			pages = append(pages, strings.ReplaceAll(page, "@media print", "@media all"))
		}
	}
	out := frames[struct{ Wide, Tall, Needs float64 }](t, pages, 900, `(() => { const m = d.querySelector('main'), r = m.getBoundingClientRect(); let low = 0;
for (const e of m.querySelectorAll('*')) { const b = e.getBoundingClientRect(); if (b.height > 0) low = Math.max(low, b.bottom); }
return {wide: r.width / 96 * 25.4, tall: r.height / 96 * 25.4, needs: (low - r.top) / 96 * 25.4}; })()`)
	require.Len(t, out, len(pages))
	for i, o := range out {
		require.InDelta(t, papers[on[i]][0], o.Wide, 0.2, names[i])
		require.LessOrEqual(t, o.Tall, papers[on[i]][1]/3+0.2, names[i])
		require.Greater(t, o.Needs, 20.0, names[i])
		require.LessOrEqual(t, o.Needs, o.Tall, "what it says runs over its end: %s", names[i])
	}
}

// tables are ten make-ups of the wardrobe whose job cards are printed, in the metric
// and the imperial system: large and small, lined and single, bound and hemmed.
var tables = []string{
	makings["wrap"],
	makings["cape"],
	makings["cowl"],
	makings["shawl"],
	"hooded-cloak, bagged-lining, shell silk-velvet, lining viscose-twill",
	"child-cape, fused-front-tailored, shell wool-flannel, lining silk-satin",
	"coat, underlined, shell wool-melton, lining viscose-twill, interfacing hair-canvas",
	"gathered-skirt, single-layer-hem, shell cotton-lawn",
	"curtain, single-layer-hem, shell linen-dress",
	"tote-bag, bagged-lining, shell cotton-canvas, lining cotton-poplin",
}

// Ten job cards take one sheet each, A4 in the metric system and letter in the
// imperial, and on the imperial ones stands no metric figure. With TENTER_SHOTS set
// to a folder they are also put there as pictures, to be looked at.
func TestTenJobCardsTakeOneSheetEach(t *testing.T) {
	for _, o := range []Options{{Kind: Job, Paper: A4}, {Kind: Job, Paper: Letter, Units: units.Imperial}} {
		t.Run(o.Paper, func(t *testing.T) {
			var all strings.Builder
			for i, words := range tables {
				page := written(t, cardOf(t, words, o))
				head, body, _ := strings.Cut(page, "<body>")
				if i == 0 {
					all.WriteString(head + "<body>")
				}
				body, _, _ = strings.Cut(body, "</body>")
				all.WriteString(`<div style="break-before:page">` + body + "</div>")
			}
			text := printed(t, all.String()+"</body></html>", o.Paper)
			sheets := strings.Split(strings.TrimSuffix(text, "\f"), "\f")
			for i, s := range sheets {
				require.Less(t, i, len(tables), "more sheets than cards: %s", s)
				title, _, _ := strings.Cut(cardOf(t, tables[i], o).Title, ",")
				require.Contains(t, s, title, "the card before it takes more than a sheet")
				if o.Units == units.Imperial {
					require.NotRegexp(t, `\d ?(cm|mm|m|g|kg|km|tex|°C|g/m²|m²)\b`, s)
				}
			}
			require.Len(t, sheets, len(tables))
		})
	}
}

// What stands on the sheet for the table is printed in 8 points or more, the words of
// the plans as well, and none of it is wider than the paper.
func TestTextOfTheSheetIsLegible(t *testing.T) {
	var names, pages []string
	for _, o := range []Options{{Kind: Job, Paper: A4}, {Kind: Job, Paper: Letter, Units: units.Imperial}} {
		for _, words := range tables {
			names = append(names, o.Paper+": "+words)
			pages = append(pages, strings.ReplaceAll(written(t, cardOf(t, words, o)), "@media print", "@media all"))
		}
	}
	out := frames[struct {
		Least    float64
		Of       string
		Settings float64
		Over     float64
	}](t, pages, 700, `(() => { let least = 1e9, of = '', over = 0;
const pt = e => parseFloat(getComputedStyle(e).fontSize) * .75 * (e.getScreenCTM ? e.getScreenCTM().a : 1);
for (const e of d.querySelectorAll('.front *')) {
  if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim())) continue;
  const b = e.getBoundingClientRect();
  if (!b.width || e.closest('title, desc, details')) continue;
  over = Math.max(over, b.right - d.documentElement.clientWidth);
  if (pt(e) < least) { least = pt(e); of = e.tagName + ' ' + e.textContent.slice(0, 40); }
}
return {least: least, of: of, settings: pt(d.querySelector('.settings dd')), over: over}; })()`)
	require.Len(t, out, len(pages))
	for i, o := range out {
		require.GreaterOrEqual(t, o.Least, 7.99, "%s: %s", names[i], o.Of)
		require.GreaterOrEqual(t, o.Settings, 16.0, "heat and needle are large: %s", names[i])
		require.LessOrEqual(t, o.Over, 1.0, names[i])
	}
}

// onPaper is a file that holds a page as it is printed, on the paper that it asks for.
func onPaper(t *testing.T, page string) string {
	t.Helper()
	pdf, err := chromedp.Run(shown(t, page), chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "card.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o644))
	return file
}

// printed is the text of a page as it is printed, its sheets parted by form feeds.
func printed(t *testing.T, page, paper string) string {
	t.Helper()
	for _, tool := range []string{"pdftotext", "pdftoppm"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("there is no %s on this machine, so the printed sheets were not read", tool)
		}
	}
	pdf := onPaper(t, page)
	if shots := os.Getenv("TENTER_SHOTS"); shots != "" {
		require.NoError(t, exec.Command("pdftoppm", "-r", "80", "-png", pdf, filepath.Join(shots, "card-"+paper)).Run())
	}
	out, err := exec.Command("pdftotext", "-layout", pdf, "-").Output()
	require.NoError(t, err)
	return string(out)
}

// Printed, a job card takes one sheet, as a shopping card does; the reasons are on demand.
func TestPrintedPages(t *testing.T) {
	info, err := exec.LookPath("pdfinfo")
	if err != nil {
		t.Skip("there is no pdfinfo on this machine, so the printed sheets were not counted")
	}
	for _, c := range []struct {
		words string
		opts  Options
		most  int
	}{
		{makings["wrap"], Options{Kind: Job, Paper: A4}, 1},
		{makings["cape"], Options{Kind: Job, Paper: Letter, Units: units.Imperial}, 1},
		{makings["cowl"], Options{Kind: Job, Paper: Letter}, 1},
		{"hooded-cloak, bagged-lining, shell silk-velvet, lining viscose-twill", Options{Kind: Job, Paper: Letter}, 1},
		{"child-cape, fused-front-tailored, shell wool-flannel, lining silk-satin", Options{Kind: Job, Paper: A4}, 1},
		{makings["wrap"], Options{Kind: Job, Paper: A4, Reasons: true}, 4},
		{makings["wrap"], Options{Kind: Shopping, Paper: A4}, 1},
		{makings["cape"], Options{Kind: Shopping, Paper: Letter}, 1},
	} {
		t.Run(c.opts.Kind+" "+c.opts.Paper+" "+c.words, func(t *testing.T) {
			out, err := exec.Command(info, onPaper(t, written(t, cardOf(t, c.words, c.opts)))).Output()
			require.NoError(t, err)
			m := regexp.MustCompile(`Pages:\s+(\d+)`).FindSubmatch(out)
			require.NotNil(t, m, string(out))
			n, err := strconv.Atoi(string(m[1]))
			require.NoError(t, err)
			require.GreaterOrEqual(t, n, 1)
			require.LessOrEqual(t, n, c.most)
			size := regexp.MustCompile(`Page size:\s+([\d.]+) x ([\d.]+)`).FindSubmatch(out)
			require.NotNil(t, size)
			wide, err := strconv.ParseFloat(string(size[1]), 64)
			require.NoError(t, err)
			want := map[string]float64{A4: 595.28, Letter: 612}[c.opts.Paper]
			require.InDelta(t, want, wide, 1, fmt.Sprint("points of ", c.opts.Paper))
		})
	}
}
