package page

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tenter/internal/shots"
)

// looks are the three widths, light and dark.
var looks = []struct {
	scheme        string
	width, height int64
}{{"light", 1400, 900}, {"dark", 1400, 900}, {"light", 768, 1024}, {"dark", 768, 1024}, {"light", 390, 844}, {"dark", 390, 844}}

// everyLook has axe try every rule in every look, as .ci/nightly does: an hour of a
// machine's time spent on what hardly differs. Else every rule is tried in one light look
// of each page, and in the others those on which colours and sizes bear.
var everyLook = os.Getenv("TENTER_EVERY_LOOK") == "1"

// What axe may be asked: every rule, or those on which colours and widths bear.
const (
	everyRule  = `rules: {"target-size": {enabled: true}}`
	looksAlone = `runOnly: ["color-contrast", "target-size"]`
)

// findings are what axe has against the page, by the rules asked of it.
func (b *tab) findings(rules string) string {
	b.t.Helper()
	if everyLook {
		rules = everyRule
	}
	if !js[bool](b, "typeof axe === 'object'") {
		js[bool](b, axe+"; true")
	}
	// where a pseudo-element lies behind a text axe judges no contrast: the selvedge and the hooks go
	js[bool](b, `(() => { const s = new CSSStyleSheet(); s.replaceSync("body::before, .top::after, .cards > li::after { display: none !important }"); document.adoptedStyleSheets = [s]; return true; })()`)
	return js[string](b, `axe.run(document, {resultTypes: ["violations"], `+rules+`}).then(r =>
		(r.passes.some(p => p.id === "color-contrast") ? "" : "no contrast was judged ") + r.violations.map(v => v.id + " (" + v.impact + "): " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + " / " + n.failureSummary.slice(0, 260)).join(" | ")).join("\n"))`)
}

// ownCloths records what the flows below look at, and gives a tab on it.
func ownCloths(t *testing.T) *tab {
	t.Helper()
	b := newOwnTab(t)
	b.open("/swatches/add?name=blue&sold_as=cotton-sateen")
	b.follow("form.ask button")
	for _, shell := range []string{"wool-flannel", "denim", "oilcloth"} {
		b.open("/shop?piece=half-circle-cape&finish=bagged-lining&price=18&shell=" + shell)
		b.follow("form.keep button")
	}
	return b
}

// screensOf are the screens of each flow: the way of a maker to the card, a no, the
// shop, the shortlist, own cloths, the camera, the page of a cloth, comparing.
var screensOf = []string{"/", "/make", "/make?piece=half-circle-cape", "/make?piece=half-circle-cape&finish=bagged-lining", "/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel",
	"/make?" + madeUp, "/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-satin&was=lining:viscose-twill", "/cut?" + madeUp, "/card?" + madeUp, "/check?" + madeUp, "/check?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth",
	"/shop", "/shop?piece=half-circle-cape&finish=bagged-lining", "/shop?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&price=18", "/shortlist", "/compare?piece=half-circle-cape&finish=bagged-lining&pick=denim,tweed,wool-flannel&of=shell",
	"/swatches", "/swatch/blue", "/swatch/blue/measure?kind=droop&lines=3.4%7C3.5%7C", "/camera", "/cloth/cotton-lawn", "/cloth/cotton-lawn?piece=triangular-shawl&finish=single-layer-hem", "/cloth/oilcloth?piece=triangular-shawl&finish=single-layer-hem", "/search?q=floaty", "/map"}

// everyPage are those screens, an address of each kind of page, and what else can be seen.
var everyPage = func() []string {
	all := slices.Concat(screensOf, flow, []string{"/swatches/add", "/swatch/blue/edit", "/swatch/blue/measure", "/swatches/import", "/swatch/blue/camera?marks=1,1", "/records", "/shop/list", noSuchPage,
		"/worn?piece=cowl&shell=blue", "/card?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel", "/test/ruler-droop", "/edge/bound-edge", "/interfacing/light-nonwoven-fusible", "/term/art-silk", "/rule/lining-frays-clip-after-joining", "/source/feng-2022", "/list/pieces", "/list/cloths", "/list/rules",
		"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill&step=cloth&pick=denim,tweed", "/make?piece=half-circle-cape&finish=bagged-lining&mass=x&fibre=wool",
		"/check?shell=coton&piece=hooded", "/check?shell=blue&piece=apron", "/shop?piece=cowl&finish=single-layer-hem&shell=blue", "/shop?piece=half-circle-cape&finish=bagged-lining&fibre=wool&weave=felt"})
	seen := map[string]bool{}
	return slices.DeleteFunc(all, func(at string) bool { was := seen[at]; seen[at] = true; return was })
}()

// Each page is opened once, since style alone makes its looks: on a desk and on a phone,
// light and dark, printed, with large letters and under a thumb. Two tabs walk through them
// side by side, every second page each.
func TestBrowserEveryScreenInEveryLook(t *testing.T) {
	const tabs = 2
	for first := range tabs {
		t.Run(fmt.Sprint(first+1), func(t *testing.T) {
			t.Parallel()
			b := ownCloths(t)
			for i := first; i < len(everyPage); i += tabs {
				b.inEveryLook(everyPage[i], i)
			}
		})
	}
}

func (b *tab) inEveryLook(at string, turn int) {
	b.size(1400, 900)
	b.media("prefers-color-scheme", "light")
	b.open(at)
	if slices.Contains(screensOf, at) {
		b.keepsToItsWords(at)
	}
	b.isDecided(at)
	b.makesASheet(at)
	b.hasRoomForLargeLetters(at)
	b.fitsOneHand(at)
	b.isAccessible(at, turn)
	b.fitsAThumb(at) // last: it opens all that is folded away
	if at == noSuchPage {
		b.forgive()
	}
}

// noSuchPage is the one page of which the browser may complain.
const noSuchPage = "/no-such-page"

// keepsToItsWords: a first screen keeps to 150 words and 150 kB at each width.
func (b *tab) keepsToItsWords(at string) {
	for _, look := range looks {
		b.size(look.width, look.height)
		b.media("prefers-color-scheme", look.scheme)
		got := js[[]int64](b, shots.Measure)
		say := fmt.Sprintf("%s, %s, %d wide", at, look.scheme, look.width)
		assert.LessOrEqual(b.t, got[3], look.width, "%s, is wider than the screen", say)
		assert.LessOrEqual(b.t, got[4], int64(150), "kB of %s", say)
		assert.Greater(b.t, got[0], int64(15), "%s shows nothing", say)
		if !slices.ContainsFunc([]string{"/card", "/swatch/blue/measure"}, func(p string) bool { return strings.HasPrefix(at, p) }) { // a sheet, steps to follow
			assert.LessOrEqual(b.t, got[0], int64(150), "words on the first screen of %s", say)
			assert.LessOrEqual(b.t, got[1], int64(600), "words before anything is opened, %s", say)
		}
	}
}

// decides is what of a result must be seen without scrolling: its name, its picture and
// the answer.
var decides = map[string]string{
	"/make?" + madeUp: "#title, .seen :is(svg,img), .answer",
	"/cut?" + madeUp:  "#title, .seen :is(svg,img), .judged dt",
	"/shop?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&price=18": "#title, .seen :is(svg,img), .answer",
	"/check?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth":          "#title, .seen :is(svg,img), .answer",
	"/cloth/oilcloth?piece=triangular-shawl&finish=single-layer-hem":                "#title, .seen :is(svg,img), .answer",
	"/swatch/blue":                                        "#title, .seen :is(svg,img), .judged dt",
	"/check?shell=blue&piece=apron":                       "#title, .answer",
	"/cloth/cotton-lawn":                                  "#title, .seen :is(svg,img), .judged .lead",
	"/make?piece=half-circle-cape":                        "h1, .cards svg",
	"/shop?piece=cowl&finish=single-layer-hem&shell=blue": "#title, .seen :is(svg,img), .answer",
}

// isDecided: what a page decides is on its first screen at each width.
func (b *tab) isDecided(at string) {
	if decides[at] == "" {
		return
	}
	b.media("prefers-color-scheme", "light")
	for _, size := range [][2]int64{{1400, 900}, {768, 1024}, {390, 844}} {
		b.size(size[0], size[1])
		for _, css := range strings.Split(decides[at], ", ") {
			assert.True(b.t, js[bool](b, fmt.Sprintf(`(e => { const r = e && e.getBoundingClientRect(); return r && r.height > 0 && r.top >= 0 && r.bottom <= innerHeight; })(document.querySelector(%q))`, css)), "%s of %s at %d is not on the first screen", css, at, size[0])
		}
	}
}

// makesASheet: printed, what is told stands on the sheet, opened, with every caution and
// nothing that only a screen can use; and it is no wider than the paper.
func (b *tab) makesASheet(at string) {
	b.size(794, 1123) // A4 at 96 to the inch
	b.media("media", "print")
	const cautions = `[...document.querySelectorAll("main .caution, main summary.say, main .order strong, main .r-caution, .mind li")]`
	assert.True(b.t, js[bool](b, "document.querySelector('h1').getClientRects().length > 0"), at)
	for _, css := range []string{".top nav", "main form", "main button", ".skip", ".trail", ".way"} {
		assert.Zero(b.t, js[int](b, fmt.Sprintf("[...document.querySelectorAll(%q)].filter(e => e.getClientRects().length > 0).length", css)), "%s of %s is printed", css, at)
	}
	if !strings.HasPrefix(at, "/card") { // its second sheet holds them, on request
		assert.Empty(b.t, js[[]string](b, cautions+`.filter(e => e.textContent.trim() && e.getClientRects().length === 0 && !e.closest(".not-printed")).map(e => e.textContent.trim().slice(0, 60))`), "%s: a caution is not printed", at)
		assert.Empty(b.t, js[[]string](b, `[...document.querySelectorAll("main details > :not(summary)")].filter(e => e.textContent.trim() && !e.closest("form, .turn") && !e.querySelector("form") && e.getClientRects().length === 0 && getComputedStyle(e).display !== "none").map(e => e.textContent.trim().slice(0, 60))`), "%s: what is folded away is not printed", at)
	}
	assert.LessOrEqual(b.t, js[int](b, "document.documentElement.scrollWidth"), 794, "%s is wider than the paper", at)
	assert.Greater(b.t, len(strings.Fields(js[string](b, "document.body.innerText"))), 1, at)
	b.media("prefers-color-scheme", "light")
}

// hasRoomForLargeLetters: letters twice as large are all there, and nothing is cut off or
// juts out.
func (b *tab) hasRoomForLargeLetters(at string) {
	if strings.HasPrefix(at, "/card") {
		return // a sheet for paper
	}
	js[bool](b, "document.documentElement.style.fontSize = '200%'; true")
	for _, w := range []int64{700, 1280} {
		b.size(w, 900)
		assert.Empty(b.t, js[string](b, `[...document.querySelectorAll("main *")].filter(e => {
			if (e.closest("svg, .hidden, .wide, .turning, .trail, .jump, select, pre")) return false;
			return getComputedStyle(e).display !== "inline" && e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 2 && e.tagName !== "INPUT";
		}).map(e => e.tagName + "." + e.className + " " + e.textContent.trim().slice(0, 40)).slice(0, 3).join("; ")`), "%s at %d, with large letters", at, w)
	}
	js[bool](b, "document.documentElement.style.fontSize = ''; true")
}

// isAccessible: axe finds nothing, also in what is folded away. It tries every rule on a
// desk in light, the screens of a flow on a phone too, and those of the shop in both
// schemes; in dark, and on some pages in the other looks, the rules on which colours and
// sizes bear.
func (b *tab) isAccessible(at string, turn int) {
	js[bool](b, "document.querySelectorAll('details').forEach((d, i) => { if (i < 60) d.open = true; }); true")
	flows, shop := slices.Contains(screensOf, at), strings.HasPrefix(at, "/shop")
	for _, look := range []struct {
		width         int64
		scheme, extra string
		rules         string
		tried         bool
	}{
		{1400, "light", "no-preference", everyRule, true},
		{390, "light", "no-preference", everyRule, flows},
		{320, "light", "no-preference", everyRule, shop},
		{320, "dark", "no-preference", everyRule, shop},
		{1400, "dark", "no-preference", looksAlone, flows},
		{768, "dark", "no-preference", looksAlone, true},
		{390, "dark", "no-preference", looksAlone, turn%3 == 0},
		{360, "light", "more", looksAlone, turn%3 == 0},
		{1200, "dark", "more", looksAlone, turn%4 == 0},
	} {
		if everyLook || look.tried {
			b.size(look.width, 900)
			b.media("prefers-color-scheme", look.scheme, "prefers-contrast", look.extra)
			assert.Empty(b.t, b.findings(look.rules), "%s, %s, more contrast: %s, %d wide", at, look.scheme, look.extra, look.width)
		}
	}
	b.media("prefers-color-scheme", "light")
}

// A no offers three ways out on each page that judges, each one click from an answer.
func TestBrowserANoOffersThreeWaysOut(t *testing.T) {
	b := newTab(t)
	for _, at := range []string{"/check?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth", "/make?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth",
		"/shop?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth", "/cloth/oilcloth?piece=triangular-shawl&finish=single-layer-hem"} {
		for i := 1; i <= 3; i++ {
			b.open(at)
			require.Equal(t, "No", b.text(".answer b"), at)
			require.Equal(t, 3, js[int](b, "document.querySelectorAll('.ways-out a').length"), at)
			b.follow(fmt.Sprintf(".ways-out li:nth-child(%d) a", i))
			require.NotEqual(t, "No", b.text(".answer b"), "way %d out of %s leads to %s", i, at, b.path())
			require.NotEmpty(t, b.text(".answer b, h1"))
		}
	}
}

// The families of pieces are folded, with their numbers; what is looked for is found at
// once, and the page is short on a phone.
func TestBrowserPiecesAreFoldedByFamily(t *testing.T) {
	b := newTab(t)
	b.phone(390, 844)
	b.open("/make")
	require.Less(t, js[int](b, "document.documentElement.scrollHeight"), 2500)
	require.Zero(t, js[int](b, "[...document.querySelectorAll('.cards a')].filter(e => e.checkVisibility({contentVisibilityAuto: true})).length"))
	total := js[int](b, "document.querySelectorAll('.cards a.whole').length")
	require.Equal(t, total, js[int](b, "[...document.querySelectorAll('.family h2')].reduce((n, h) => n + Number(h.textContent.split(': ')[1]), 0)"), "the families count what they hold")
	b.family("cape")
	b.family("wrap")
	require.False(t, js[bool](b, "document.querySelector('[data-family=cape]').open"), "one family at a time")
	js[bool](b, `(() => { const f = document.querySelector("#find"); f.value = "shawl"; f.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	b.until("location.search.includes('find=shawl') && [...document.querySelectorAll('.cards a.whole')].every(a => a.textContent.includes('shawl'))")
	require.True(t, js[bool](b, "[...document.querySelectorAll('.cards a.whole')].every(e => e.checkVisibility({contentVisibilityAuto: true})) && document.querySelectorAll('.cards a.whole').length > 1"), "what is found is open")
	b.follow(".cards a[href*='piece=triangular-shawl']")
	require.NotContains(t, b.path(), "find=")
}
