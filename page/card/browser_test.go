package card

import (
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// browse runs a headless browser on a file, one at a time on this machine, and
// skips the test where there is none, unless TENTER_NEED_BROWSER says that there
// must be one.
func browse(t *testing.T, file string, args ...string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("no browser is driven in short tests")
	}
	need := func(names ...string) string {
		for _, n := range names {
			if p, err := exec.LookPath(n); err == nil {
				return p
			}
		}
		if os.Getenv("TENTER_NEED_BROWSER") == "1" {
			t.Fatalf("there is no %s on this machine", names[0])
		}
		t.Skipf("there is no %s on this machine, so the cards were not tried with it", names[0])
		return ""
	}
	all := []string{need("chromium", "chromium-browser", "google-chrome"), "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--user-data-dir=" + t.TempDir()}
	all = append(append(all, args...), "file://"+file)
	if flock, err := exec.LookPath("flock"); err == nil {
		all = append([]string{flock, filepath.Join(os.TempDir(), "tenter-browser.lock")}, all...)
	}
	out, err := exec.Command(all[0], all[1:]...).Output()
	require.NoError(t, err)
	return string(out)
}

// said runs a script in a page and gives back what it puts into `out`.
func said(t *testing.T, page, script string, to any) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.html")
	page = strings.Replace(page, "</body>", "<script>"+script+"</script></body>", 1)
	require.NoError(t, os.WriteFile(file, []byte(page), 0o644))
	dom := browse(t, file, "--dump-dom", "--virtual-time-budget=20000", "--window-size=390,844")
	m := regexp.MustCompile(`(?s)<pre id="out">(.*?)</pre>`).FindStringSubmatch(dom)
	require.NotNil(t, m, "the script did not come to its end")
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(m[1])), to))
}

const tell = `function tell(v) { const p = document.createElement('pre'); p.id = 'out'; p.textContent = JSON.stringify(v); document.body.append(p); }` + "\n"

// The rules of accessibility are tried on a screen as narrow as a phone's.
func TestCardsAreAccessible(t *testing.T) {
	axe, err := os.ReadFile("../testdata/axe/axe.min.js")
	require.NoError(t, err)
	for _, kind := range []string{Job, Shopping} {
		t.Run(kind, func(t *testing.T) {
			page := written(t, cardOf(t, makings["wrap"], Options{Kind: kind}))
			page = strings.Replace(page, "</body>", "<script>"+string(axe)+"</script></body>", 1)
			var out struct {
				Violations []struct {
					ID    string
					Nodes []struct{ HTML string }
				}
				Passes int
			}
			said(t, page, tell+`axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then(r => tell({violations: r.violations.map(v => ({id: v.id, nodes: v.nodes.map(n => ({html: n.html}))})), passes: r.passes.length}))`, &out)
			require.Greater(t, out.Passes, 10, "the rules were tried")
			require.Empty(t, out.Violations)
		})
	}
}

// frames lays pages into one, each in a frame of a width, and asks each the same
// question: an expression of its document d. One browser does for all.
func frames(t *testing.T, pages []string, wide int, question string, to any) {
	t.Helper()
	var b strings.Builder
	b.WriteString("<!DOCTYPE html><html><body>")
	for _, p := range pages {
		fmt.Fprintf(&b, `<iframe style="width:%dpx;height:800px;border:0" srcdoc="%s"></iframe>`, wide, html.EscapeString(p))
	}
	b.WriteString("</body></html>")
	said(t, b.String(), tell+`window.addEventListener('load', () => tell([...document.querySelectorAll('iframe')].map(f => { const d = f.contentDocument; return `+question+`; })))`, to)
}

// On a phone nothing is wider than the screen.
func TestCardsFitAPhone(t *testing.T) {
	var names, pages []string
	for name, words := range makings {
		for _, kind := range []string{Job, Shopping} {
			names, pages = append(names, name+" "+kind), append(pages, written(t, cardOf(t, words, Options{Kind: kind})))
		}
	}
	var out []struct{ Screen, Page float64 }
	frames(t, pages, 360, `({screen: d.documentElement.clientWidth, page: d.documentElement.scrollWidth})`, &out)
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
	var out []struct{ Wide, Tall, Needs float64 }
	frames(t, pages, 900, `(() => { const m = d.querySelector('main'), r = m.getBoundingClientRect(); let low = 0;
for (const e of m.querySelectorAll('*')) { const b = e.getBoundingClientRect(); if (b.height > 0) low = Math.max(low, b.bottom); }
return {wide: r.width / 96 * 25.4, tall: r.height / 96 * 25.4, needs: (low - r.top) / 96 * 25.4}; })()`, &out)
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
	var out []struct {
		Least    float64
		Of       string
		Settings float64
		Over     float64
	}
	frames(t, pages, 700, `(() => { let least = 1e9, of = '', over = 0;
const pt = e => parseFloat(getComputedStyle(e).fontSize) * .75 * (e.getScreenCTM ? e.getScreenCTM().a : 1);
for (const e of d.querySelectorAll('.front *')) {
  if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim())) continue;
  const b = e.getBoundingClientRect();
  if (!b.width || e.closest('title, desc, details')) continue;
  over = Math.max(over, b.right - d.documentElement.clientWidth);
  if (pt(e) < least) { least = pt(e); of = e.tagName + ' ' + e.textContent.slice(0, 40); }
}
return {least: least, of: of, settings: pt(d.querySelector('.settings dd')), over: over}; })()`, &out)
	require.Len(t, out, len(pages))
	for i, o := range out {
		require.GreaterOrEqual(t, o.Least, 7.99, "%s: %s", names[i], o.Of)
		require.GreaterOrEqual(t, o.Settings, 16.0, "heat and needle are large: %s", names[i])
		require.LessOrEqual(t, o.Over, 1.0, names[i])
	}
}

// printed is the text of a page as it is printed, its sheets parted by form feeds.
func printed(t *testing.T, page, paper string) string {
	t.Helper()
	for _, tool := range []string{"pdftotext", "pdftoppm"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("there is no %s on this machine, so the printed sheets were not read", tool)
		}
	}
	dir := t.TempDir()
	file, pdf := filepath.Join(dir, "card.html"), filepath.Join(dir, "card.pdf")
	require.NoError(t, os.WriteFile(file, []byte(page), 0o644))
	browse(t, file, "--no-pdf-header-footer", "--print-to-pdf="+pdf)
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
			dir := t.TempDir()
			file, pdf := filepath.Join(dir, "card.html"), filepath.Join(dir, "card.pdf")
			require.NoError(t, os.WriteFile(file, []byte(written(t, cardOf(t, c.words, c.opts))), 0o644))
			browse(t, file, "--no-pdf-header-footer", "--print-to-pdf="+pdf)
			out, err := exec.Command(info, pdf).Output()
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
