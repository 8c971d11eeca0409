package page

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"sort"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/data"
	"tenter/fibres"
	"tenter/internal/testkit"
	"tenter/kb"
	"tenter/kb/search"
	"tenter/page/htmlcheck"
)

// The knowledge is loaded once for all tests: it is only read.
var knowledge = testkit.Loaded(func() (*advise.Adviser, error) { return advise.Load(data.FS) })

// index is a search over the catalogue, in memory.
var index = sync.OnceValues(func() (func(search.Query) (kb.Answer, error), error) {
	adv, err := advise.Load(data.FS)
	if err != nil {
		return nil, err
	}
	t, err := kb.LoadThesaurus(data.FS)
	if err != nil {
		return nil, err
	}
	ix, err := search.InMemory(search.Options{Docs: func() []search.Doc { return kb.Docs(adv.Cat) }, Thesaurus: t.Means})
	if err != nil {
		return nil, err
	}
	return func(q search.Query) (kb.Answer, error) { return kb.Ask(ix, t, q) }, nil
})

// newSite makes a site over the built-in knowledge.
func newSite(t testing.TB) *Site {
	t.Helper()
	adv := knowledge(t)
	find, err := index()
	require.NoError(t, err)
	s, err := New(Options{Knowledge: Knowledge{adv, &kb.Base{Cat: adv.Cat}}, Search: find, Version: "test", Log: testLog{t}})
	require.NoError(t, err)
	return s
}

// testLog fails a test in which the site had to write an error of its own.
type testLog struct{ t testing.TB }

func (l testLog) Write(b []byte) (int, error) {
	l.t.Errorf("the site logged: %s", b)
	return len(b), nil
}

var here = &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8000}

// get asks the handler for a page, as a browser at this machine does.
func get(h http.Handler, at string, header ...string) *http.Response {
	r := httptest.NewRequest(http.MethodGet, at, nil)
	r.Host, r.RemoteAddr = "127.0.0.1:8000", "127.0.0.1:51000"
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

// read gets a page that must be there and be sound.
func read(t testing.TB, h http.Handler, at string) *htmlcheck.Node {
	t.Helper()
	return sound(t, at, get(h, at), http.StatusOK)
}

func sound(t testing.TB, at string, res *http.Response, status int) *htmlcheck.Node {
	t.Helper()
	b, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	require.Equal(t, status, res.StatusCode, at)
	page, err := htmlcheck.Parse(string(b))
	require.NoError(t, err, at)
	require.Empty(t, htmlcheck.Faults(page), at)
	return page
}

// flow are addresses of each stage of the way and of each kind of page.
var flow = []string{
	"/", "/make", "/make?piece=half-circle-cape", "/make?piece=half-circle-cape&finish=bagged-lining",
	"/make?piece=half-circle-cape&finish=bagged-lining&fibre=wool&mass=200-400&wash=by+hand+or+machine&least-width=140cm",
	"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel",
	"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill",
	"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill&units=imperial",
	"/make?piece=hooded-wrap&finish=single-layer-hem&shell=cotton-sateen&seam=french-seam",
	"/cut", "/cut?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill&width=150cm&set-length=80cm",
	"/cut?piece=hooded-wrap&finish=single-layer-hem&shell=cotton-sateen&units=imperial&prewashed=yes&interfacing=light-nonwoven-fusible",
	"/check", "/check?shell=cotton-sateen&piece=hooded-wrap&finish=bagged-lining&lining=silk-taffeta&mass=120&colour=white",
	"/search", "/search?q=floaty", "/compare", "/compare?a=cotton-sateen&b=silk-satin&c=denim", "/map", "/map?fibre=silk&cloth=silk-satin", "/list", "/about",
	"/cloth/cotton-sateen", "/cloth/cotton-sateen?piece=hooded-wrap&finish=bagged-lining&mass=120&bending-length=2.1&units=imperial",
	"/fibre/wool", "/structure/satin", "/treatment/mercerised", "/seam/french-seam", "/piece/hooded-wrap", "/finish/bagged-lining", "/source/practice",
}

// Every page that can be reached from the first is there and sound: its markup,
// its ids, its labels, its headings, and where its links lead.
func TestEveryPageIsThereAndSound(t *testing.T) {
	h := newSite(t).Handler(here)
	const perShape = 3 // addresses with the same keys are alike: a few of each are read, and lead no further
	seen, shapes := map[string]bool{}, map[string]int{}
	queue := append([]string{}, flow...)
	leads := map[string]bool{}
	for _, at := range flow {
		leads[at] = true
	}
	kinds := map[string]int{}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		if seen[at] {
			continue
		}
		seen[at] = true
		u, err := url.Parse(at)
		require.NoError(t, err)
		if len(u.RawQuery) > 0 {
			var keys []string
			for k := range u.Query() {
				keys = append(keys, k)
			}
			sort.Strings(keys)
			shape := strings.SplitN(u.Path, "/", 3)[1] + "?" + strings.Join(keys, "&")
			if shapes[shape]++; shapes[shape] > perShape && !leads[at] {
				continue
			}
		}
		if u.Path == "/card" { // a file of its own, tried apart
			require.Equal(t, http.StatusOK, get(h, at).StatusCode, at)
			continue
		}
		page := read(t, h, at)
		kinds[strings.SplitN(u.Path, "/", 3)[1]]++
		for _, a := range page.All("a[href]") {
			to := a.Attr["href"]
			if i := strings.IndexByte(to, '#'); i >= 0 {
				to = to[:i]
			}
			if to != "" && (leads[at] || u.RawQuery == "" || !strings.Contains(to, "?")) {
				queue = append(queue, to)
			}
		}
	}
	adv := knowledge(t)
	require.GreaterOrEqual(t, kinds["cloth"], len(adv.Cat.Cloths), "not every cloth was reached: %v", kinds)
	require.GreaterOrEqual(t, kinds["rule"], len(adv.Rules), "not every rule was reached: %v", kinds)
	require.GreaterOrEqual(t, kinds["source"], len(adv.Cat.Sources), "not every source was reached: %v", kinds)
	require.GreaterOrEqual(t, kinds["term"], len(adv.Cat.Terms), "not every term was reached: %v", kinds)
	for _, kind := range []string{"fibre", "structure", "treatment", "seam", "edge", "interfacing", "piece", "finish"} {
		require.Greater(t, kinds[kind], 10, "%s: %v", kind, kinds)
	}
}

// What a first view sends, with style and script, stays under 150 kB.
func TestFirstViewsAreSmall(t *testing.T) {
	s := newSite(t)
	h := s.Handler(here)
	files := len(s.files["tenter.css"].data) + len(s.files["tenter.js"].data) + len(s.files["mark.svg"].data) + len(s.files["hooks.svg"].data)
	for _, at := range append(append([]string{}, flow...), "/list/cloths", "/list/rules", "/list/pieces", "/list/terms", "/list/sources", "/source/feng-2022") {
		b, err := io.ReadAll(get(h, at).Body)
		require.NoError(t, err)
		require.LessOrEqual(t, len(b)+files, 150_000, at)
	}
}

// The page says what the engine says, in the same words.
func TestTheAnswerIsThatOfTheCommands(t *testing.T) {
	adv := knowledge(t)
	m, err := adv.ParseCase("hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta")
	require.NoError(t, err)
	want, err := adv.Check(m)
	require.NoError(t, err)
	page := read(t, newSite(t).Handler(here), "/check?shell=cotton-sateen&lining=silk-taffeta&piece=hooded-wrap&finish=bagged-lining")
	said := brief.Teller{Adviser: adv, Page: true}.Check(m, want)
	require.Contains(t, page.One(".judged").Says(), said.Head)
	for _, l := range said.Lines(brief.Why) {
		require.Contains(t, page.One(".judged").Says(), l)
	}
	require.Len(t, page.All(".judged .stitches .on"), tenths(want.Share))
	text := page.One("main").Says()
	for _, d := range want.Demands {
		require.Contains(t, text, d.Say)
	}
	for _, r := range advise.OfRules(want.Reasons) {
		require.Contains(t, text, r.Say)
		require.NotNil(t, page.One(fmt.Sprintf("a[href=/rule/%s]", r.Rule)), r.Rule)
	}
	for _, s := range want.Settle {
		require.Contains(t, text, s.How)
	}
}

func tenths(share float64) int { return int(share*10 + 0.5) }

// An answer carries no form; the link to it leads to the question as it stands, the units
// and the lesser fields with it.
func TestTheQuestionIsChangedOnAPageOfItsOwn(t *testing.T) {
	h := newSite(t).Handler(here)
	at := "/check?shell=cotton-sateen&piece=hooded-wrap&finish=bagged-lining&lining=silk-taffeta&mass=4oz%2Fyd2&colour=white&units=imperial"
	answer := read(t, h, at)
	require.Empty(t, answer.All("select, datalist"))
	to := ""
	for _, a := range answer.All("main a") {
		if a.Says() == "Change the question" {
			to = a.Attr["href"]
		}
	}
	require.NotEmpty(t, to)
	asked := read(t, h, to)
	require.Empty(t, asked.All(".judged"))
	for key, want := range map[string]string{"shell": "cotton-sateen", "lining": "silk-taffeta", "mass": "4oz/yd2", "units": "imperial"} {
		require.Equal(t, want, asked.One("form[action=/check] input[name=" + key + "]").Attr["value"], key)
	}
	for key, want := range map[string]string{"piece": "hooded-wrap", "finish": "bagged-lining"} {
		require.NotNil(t, asked.One("select[name="+key+"] option[value="+want+"][selected]"), key)
	}
	require.Equal(t, "white", asked.One("select[name=colour] option[selected]").Says())
}

// The ranking on the page is that of the engine.
func TestCardsStandInTheOrderOfTheRanking(t *testing.T) {
	adv := knowledge(t)
	m, err := adv.ParseCase("half-circle-cape, bagged-lining")
	require.NoError(t, err)
	ans, err := adv.Advise(m, 0)
	require.NoError(t, err)
	page := read(t, newSite(t).Handler(here), "/make?piece=half-circle-cape&finish=bagged-lining")
	cards := page.All(".cards .whole")
	require.Len(t, cards, 12)
	for i, c := range cards {
		require.Equal(t, ans.Cloths[i].Name, c.Says()[strings.LastIndex(c.Says(), "cm")+3:], "card %d", i)
		u, err := url.Parse(c.Attr["href"])
		require.NoError(t, err)
		require.Equal(t, ans.Cloths[i].ID, u.Query().Get("shell"))
		require.Equal(t, "half-circle-cape", u.Query().Get("piece"))
		require.NotNil(t, c.One("svg .cloth"), "the card has no picture")
	}
}

// Wishes narrow the cards, and only to cloths that pass them.
func TestWishesNarrowTheCloths(t *testing.T) {
	adv := knowledge(t)
	h := newSite(t).Handler(here)
	page := read(t, h, "/make?piece=half-circle-cape&finish=bagged-lining&fibre=silk&count=all")
	cards := page.All(".cards .whole")
	require.NotEmpty(t, cards)
	for _, c := range cards {
		u, _ := url.Parse(c.Attr["href"])
		require.True(t, adv.Cat.Cloths[u.Query().Get("shell")].Has("silk", 20), c.Attr["href"])
		require.Equal(t, "silk", u.Query().Get("fibre"), "the state goes along")
	}
	page = read(t, h, "/make?piece=half-circle-cape&finish=bagged-lining&mass=heavyish")
	require.Contains(t, page.One(".trouble").Says(), "mass")
	page = read(t, h, "/make?piece=half-circle-cape&finish=bagged-lining&mass=heavyish")
	require.NotNil(t, page.One(".trouble"), "told again, although the ranking is remembered")
	page = read(t, h, "/make?piece=half-circle-cape&finish=bagged-lining&fibre=glass&mass=9")
	require.Empty(t, page.All(".cards li"))
	require.Contains(t, page.One("main").Says(), "No cloth is left")
}

// A word that fits nothing is told beside the form, with what lies near.
func TestMisspeltNamesAreOffered(t *testing.T) {
	h := newSite(t).Handler(here)
	page := read(t, h, "/check?shell=coton+satteen&piece=hooded-wrap")
	trouble := page.One(".trouble")
	require.NotNil(t, trouble)
	var near []string
	for _, a := range trouble.All("a") {
		u, err := url.Parse(a.Attr["href"])
		require.NoError(t, err)
		near = append(near, u.Query().Get("shell"))
		require.Equal(t, "hooded-wrap", u.Query().Get("piece"), "the rest of the question stays")
	}
	require.Contains(t, near, "cotton-sateen")
	require.Equal(t, "coton satteen", page.One("input#shell").Attr["value"], "what was typed stays")
}

// An address by another name leads to the page; one of nothing is told with
// near names.
func TestAddressesByOtherNames(t *testing.T) {
	h := newSite(t).Handler(here)
	res := get(h, "/cloth/Satine?units=imperial")
	require.Equal(t, http.StatusSeeOther, res.StatusCode)
	require.Equal(t, "/cloth/cotton-sateen?units=imperial", res.Header.Get("Location"))
	for _, at := range []string{"/cloth/coton-satteen", "/piece/half-circle-kape", "/nothing", "/list/hats", "/rule/no-such-rule", "/cloth/", "/static/none.css", "/make/more"} {
		page := sound(t, at, get(h, at), http.StatusNotFound)
		require.NotEmpty(t, page.One("main").Says())
	}
	page := sound(t, "", get(h, "/cloth/coton-satteen"), http.StatusNotFound)
	require.NotNil(t, page.One("a[href=/cloth/cotton-sateen]"))
}

// The card is whole by itself, and its policy lets through its style alone.
func TestCardIsServedUnderItsOwnPolicy(t *testing.T) {
	h := newSite(t).Handler(here)
	for _, kind := range []string{"", "&kind=shopping"} {
		res := get(h, "/card?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill"+kind)
		require.Equal(t, http.StatusOK, res.StatusCode)
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		require.Contains(t, string(b), "wool flannel")
		p := res.Header.Get("Content-Security-Policy")
		require.Contains(t, p, "default-src 'none'")
		require.Equal(t, strings.Count(string(b), "<style>"), strings.Count(p, "'sha256-"))
		require.NotContains(t, p, "unsafe")
	}
	for _, at := range []string{"/card", "/card?piece=cowl&shell=denim", "/card?piece=cowl&finish=single-layer-hem&shell=nonesuch", "/card?piece=cowl&finish=single-layer-hem&shell=denim&width=x"} {
		sound(t, at, get(h, at), http.StatusBadRequest)
	}
}

// The sizes and lengths are those of the planner, for the measures that are said.
func TestCuttingIsThatOfThePlanner(t *testing.T) {
	h := newSite(t).Handler(here)
	at := "/cut?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill&width=150cm"
	page := read(t, h, at)
	require.Len(t, page.All("[aria-labelledby=l-0] tbody tr"), 2)
	require.Contains(t, page.One("[aria-labelledby=l-0]").Says(), "150 cm wide")
	require.NotNil(t, page.One("svg.tn-pic"))
	long := page.One(".judged").Says()
	short := read(t, h, at+"&set-length=60cm").One(".judged").Says()
	require.NotEqual(t, long, short, "a shorter cape wants less cloth")
	require.NotNil(t, read(t, h, at+"&set-length=nonsense").One(".trouble"))
	require.Contains(t, page.One("main").Says(), "in the first wash")
	dry := read(t, h, "/cut?piece=hooded-wrap&finish=bagged-lining&shell=viscose-crepe&lining=cupro-lining").One("main").Says()
	require.Contains(t, dry, "in dry-cleaning")
	require.NotContains(t, dry, "first wash", "what is not washed has no first wash")
	require.NotContains(t, dry, "unwashed")
	require.NotNil(t, read(t, h, "/cut?piece=cowl&shell=denim&width=9km").One(".trouble"))
}

// Units go along with every link, and figures are told in them.
func TestUnitsLiveInTheAddress(t *testing.T) {
	h := newSite(t).Handler(here)
	page := read(t, h, "/cloth/cotton-sateen?units=imperial")
	require.Contains(t, page.One("#p-mass").Says(), "oz/yd²")
	for _, a := range page.All("main a[href]") {
		if to := a.Attr["href"]; !strings.HasPrefix(to, "#") {
			require.Contains(t, to, "units=imperial", to)
		}
	}
	require.Contains(t, page.One(".units a").Attr["href"], "/cloth/cotton-sateen")
	require.NotContains(t, page.One(".units a").Attr["href"], "imperial")
	page = read(t, h, "/cloth/cotton-sateen")
	require.Contains(t, page.One("#p-mass").Says(), "g/m²")
}

// A part is the part alone, and the same as in the whole page.
func TestPartsAreThePage(t *testing.T) {
	h := newSite(t).Handler(here)
	for _, x := range []struct{ at, part, id string }{
		{"/cloth/cotton-sateen?piece=cowl&mass=150", "share", "share"},
		{"/search?q=chiffon&kind=cloth", "hits", "hits"},
	} {
		res := get(h, x.at+"&part="+x.part)
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		part, err := htmlcheck.Parse(string(b))
		require.NoError(t, err)
		require.Nil(t, part.One("html"))
		whole := read(t, h, x.at).One("#" + x.id)
		require.NotEmpty(t, part.Says())
		if x.part == "share" {
			require.Equal(t, whole.Says(), part.Says())
		}
		require.NotContains(t, string(b), "part=", "links of a part lead to whole pages")
	}
}

// Sliding the mass moves the share.
func TestWhatIsSaidMovesTheShare(t *testing.T) {
	h := newSite(t).Handler(here)
	share := func(q string) int {
		res := get(h, "/cloth/viscose-twill?piece=triangular-shawl&finish=single-layer-hem&part=share&"+q)
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		part, err := htmlcheck.Parse(string(b))
		require.NoError(t, err)
		return len(part.All(".st.on"))
	}
	require.Greater(t, share("bending-length=1.2"), share("bending-length=2.6"))
	require.Greater(t, share("mass=150"), share("mass=440"))
}

// Hostile words come back as words.
func TestMarkupInTheAddressIsText(t *testing.T) {
	h := newSite(t).Handler(here)
	for _, evil := range []string{`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onfocus='alert(1)`, `javascript:alert(1)`, `</title><svg onload=alert(1)>`, "\u202e<b>", `{{.Token}}`} {
		for _, at := range []string{"/search?q=", "/check?piece=cowl&shell=", "/check?shell=denim&piece=", "/make?piece=", "/map?cloth=", "/cloth/denim?mass=", "/make?piece=cowl&finish=single-layer-hem&least-width=", "/cloth/denim?units="} {
			res := get(h, at+url.QueryEscape(evil))
			b, err := io.ReadAll(res.Body)
			require.NoError(t, err)
			page, err := htmlcheck.Parse(string(b))
			require.NoError(t, err, at+evil)
			require.Empty(t, htmlcheck.Faults(page), at+evil)
			require.Nil(t, page.One("img"), at+evil)
		}
		page := sound(t, evil, get(h, "/cloth/"+url.PathEscape(evil)), http.StatusNotFound)
		require.Nil(t, page.One("img"))
	}
}

// Any words in the address get an answer, and never a page of ours that failed. Each
// try asks one page of a shop with six cloths: what was not asked before is worked out,
// and with every cloth there is, thirteen tries took ten minutes.
func FuzzAddresses(f *testing.F) {
	paths := []string{"/map", "/check", "/cloth/denim", "/make"}
	for i := range paths {
		f.Add(uint8(i), "half-circle-cape", "bagged-lining", "wool-flannel", "120-150gsm", "2cm")
		f.Add(uint8(i), "", "x", "<b>", "-1", "1e9")
	}
	f.Add(uint8(1), "cowl", "single-layer-hem", "cotton", "0", "∞")
	h := sparseSite(f, "denim", "wool-flannel", "cotton-lawn", "silk-satin", "viscose-twill", "double-gauze").Handler(here)
	f.Fuzz(func(t *testing.T, which uint8, piece, finish, shell, mass, bend string) {
		q := url.Values{"piece": {piece}, "finish": {finish}, "shell": {shell}, "mass": {mass}, "bending-length": {bend}, "lining": {shell}, "units": {mass}}
		at := paths[int(which)%len(paths)] + "?" + q.Encode()
		if res := get(h, at); res.StatusCode >= 500 {
			t.Fatalf("%s: %d", at, res.StatusCode)
		}
	})
}

// sparseSite is a site that knows of no cloths but these.
func sparseSite(t testing.TB, cloths ...string) *Site {
	t.Helper()
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	for id := range adv.Cat.Cloths {
		if !slices.Contains(cloths, id) {
			delete(adv.Cat.Cloths, id)
		}
	}
	require.Len(t, adv.Cat.Cloths, len(cloths))
	s, err := New(Options{Knowledge: Knowledge{adv, &kb.Base{Cat: adv.Cat}}, Version: "test", Log: testLog{t}})
	require.NoError(t, err)
	return s
}

// coldSite makes a site from the data itself, without a search.
func coldSite(t testing.TB) *Site {
	t.Helper()
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	s, err := New(Options{Knowledge: Knowledge{adv, &kb.Base{Cat: adv.Cat}}, Version: "test", Log: testLog{t}})
	require.NoError(t, err)
	return s
}

// Twenty readers at once all get whole pages, the same that one alone gets.
func TestTwentyReadersAtOnce(t *testing.T) {
	s := newSite(t)
	alone := map[string]string{}
	h := s.Handler(here)
	for _, at := range flow {
		b, err := io.ReadAll(get(h, at).Body)
		require.NoError(t, err)
		alone[at] = string(b)
	}
	s.shared().Forget()
	at := serveSite(t, s)
	var wg sync.WaitGroup
	wrong := make(chan string, 20*len(flow))
	for reader := range 20 {
		wg.Go(func() {
			c := &http.Client{Transport: &http.Transport{}}
			defer c.CloseIdleConnections()
			for i := range flow {
				path := flow[(i+reader*3)%len(flow)] // each begins somewhere else
				res, err := c.Get(at + path)
				if err != nil {
					wrong <- err.Error()
					continue
				}
				b, err := io.ReadAll(res.Body)
				_ = res.Body.Close()
				if err != nil || res.StatusCode != http.StatusOK || string(b) != alone[path] {
					wrong <- fmt.Sprintf("%s: %d, %v, %d bytes for %d", path, res.StatusCode, err, len(b), len(alone[path]))
				}
			}
		})
	}
	wg.Wait()
	close(wrong)
	for w := range wrong {
		t.Error(w)
	}
}

// What was not taken is told beside its field, and the field says so to those
// who cannot see where it stands.
func TestTroubleStandsBesideItsField(t *testing.T) {
	h := newSite(t).Handler(here)
	for at, keys := range map[string][]string{
		"/check?piece=half-circle-cape&shell=no-such-cloth&mass=heavy&lining=nothing&lining-mass=light":              {"shell", "mass", "lining", "lining-mass"},
		"/make?piece=half-circle-cape&finish=bagged-lining&mass=heavy&least-width=x&most-price=lots":                 {"mass", "least-width", "most-price"},
		"/cut?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&width=wide&allowance=none&set-length=x": {"width", "allowance", "set-length"},
		"/map?cloth=no-such-cloth":              {"cloth"},
		"/compare?a=no-such-cloth&b=silk-satin": {"a"},
	} {
		page := read(t, h, at)
		var wrong []string
		for _, in := range page.All("input[aria-invalid=true]") {
			wrong = append(wrong, in.Attr["name"])
			id := strings.Fields(in.Attr["aria-describedby"])[0]
			require.NotEmpty(t, page.One("#"+id).Says(), "%s: %s", at, in.Attr["name"])
		}
		require.ElementsMatch(t, keys, wrong, at)
	}
	part, err := io.ReadAll(get(h, "/cloth/denim?piece=half-circle-cape&mass=heavy&part=share").Body)
	require.NoError(t, err)
	require.Contains(t, string(part), "does not begin with a number", "also where the share alone is asked for")
}

// What a swap of the lining changes includes how far the first wash parts the
// two, also for a piece that makes no demand of it.
func TestSwapTellsTheGap(t *testing.T) {
	h := newSite(t).Handler(here)
	const at = "/make?finish=bagged-lining&piece=hooded-wrap&shell=silk-jersey&lining=cotton-mull"
	adv := knowledge(t)
	gap := func(lining string) (mm float64, in string) {
		m := advise.MakeUp{Shell: subject(t, "silk-jersey"), Lining: subject(t, lining)}
		var err error
		m.Piece, err = adv.Piece("hooded-wrap")
		require.NoError(t, err)
		m.Finish, err = adv.Finish("bagged-lining")
		require.NoError(t, err)
		ans, err := adv.Pair(m, false, 1)
		require.NoError(t, err)
		return ans.Pairs[0].Gap.Typical, ans.Pairs[0].GapIn
	}
	now, nowIn := gap("cotton-mull")
	told := 0
	for _, card := range read(t, h, at).All("section[aria-labelledby=swap] .cards li") {
		u, err := url.Parse(card.One("a.whole").Attr["href"])
		require.NoError(t, err)
		then, thenIn := gap(u.Query().Get("lining"))
		if thenIn != nowIn { // parted by another cleaning: nothing to compare
			continue
		}
		d := then - now
		word := "more"
		if d < 0 {
			word, d = "less", -d
		}
		if d < 1 {
			continue
		}
		told++
		require.Contains(t, strings.ToLower(card.Says()), fmt.Sprintf("parts %.0f mm %s in the first cleaning", d, word))
	}
	require.Greater(t, told, 2)
}

func subject(t *testing.T, name string) *fibres.Subject {
	t.Helper()
	adv := knowledge(t)
	s, err := (&kb.Base{Cat: adv.Cat}).Subject(name)
	require.NoError(t, err)
	return s
}

// What is said of several seams, edges or interfacings is said once.
func TestPicksSayAThingOnce(t *testing.T) {
	page := read(t, newSite(t).Handler(here), "/make?finish=bagged-lining&piece=hooded-wrap&shell=silk-jersey&lining=stretch-tulle")
	links := 0
	for _, list := range page.All(".picks") {
		seen := map[string]bool{}
		for _, li := range list.All("li") {
			links += len(li.All("a.change"))
			say := strings.TrimSpace(li.Says())
			for _, a := range li.All("a") {
				say = strings.Replace(say, a.Says(), "", 1)
			}
			say = strings.Trim(say, " ·")
			require.False(t, seen[say], say)
			seen[say] = true
		}
	}
	require.Greater(t, links, 12, "and each can still be chosen")
	require.Contains(t, page.One("#before").Up.Says(), "along the length", "a knit has no warp")
}

// An imperial page has no metric figure left in what it tells to do. Tests at
// home are done by the metric square and slope that they are made for.
func TestImperialPagesTellInches(t *testing.T) {
	h := newSite(t).Handler(here)
	metric := regexp.MustCompile(`\d ?(?:mm|cm|m|°C|g/m[2²])(?:[^²³\pL\d]|$)`)
	for at, places := range map[string]string{
		"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel":                      ".cards",
		"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill": ".order, .cautions, .picks, .cards",
		"/make?piece=hooded-wrap&finish=single-layer-hem&shell=cotton-sateen":                       ".order, .cautions, .picks",
		"/check?shell=cotton-sateen&piece=hooded-wrap&finish=bagged-lining&lining=silk-taffeta":     ".reasons, .judged",
		"/cut?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill":  ".note, .judged, table",
		"/finish/bagged-lining": ".order", "/seam/french-seam": ".lead", "/structure/satin": "table", "/fibre/wool": "table",
	} {
		page := read(t, h, at+map[bool]string{true: "&", false: "?"}[strings.Contains(at, "?")]+"units=imperial")
		n := 0
		for _, place := range strings.Split(places, ", ") {
			for _, x := range page.All(place) {
				n++
				require.Empty(t, metric.FindString(x.Says()), "%s: %s: %s", at, place, x.Says())
			}
		}
		require.NotZero(t, n, at)
	}
}

// A caution that may hold is told as one that may.
func TestCautionsSayWhatMayApply(t *testing.T) {
	h := newSite(t).Handler(here)
	const at = "/make?finish=bagged-lining&piece=half-circle-cape&shell=wool-flannel&lining=viscose-twill"
	adv := knowledge(t)
	m, err := adv.ParseCase("half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill")
	require.NoError(t, err)
	ans, err := adv.Advise(m, 6)
	require.NoError(t, err)
	shown := read(t, h, at).All(".cautions li")
	require.Len(t, shown, len(ans.Cautions))
	may := 0
	for i, c := range ans.Cautions {
		if maybe := !c.Firm && len(c.Open) == 0; maybe {
			may++
			require.Contains(t, shown[i].Says(), "Test yours")
		} else {
			require.NotContains(t, shown[i].Says(), "Test yours")
		}
	}
	require.NotZero(t, may)
	require.Less(t, may, len(ans.Cautions))
}

// A page speaks of fields and buttons, not of the flags of the commands.
func TestPagesNameNoFlags(t *testing.T) {
	h := newSite(t).Handler(here)
	n := 0
	for _, a := range read(t, h, "/list/tests").All("main a[href]") {
		if at := a.Attr["href"]; strings.HasPrefix(at, "/test/") {
			n++
			require.NotRegexp(t, ` --[a-z]`, read(t, h, at).One("main").Says(), at)
		}
	}
	require.Greater(t, n, 10)
}

// Every seam and edge tells its stitch in words; a number alone tells few.
func TestStitchesHaveWords(t *testing.T) {
	h := newSite(t).Handler(here)
	n := 0
	for _, kind := range []string{"seam", "edge"} {
		for _, a := range read(t, h, "/list/"+kind+"s").All("main a[href]") {
			at := a.Attr["href"]
			if !strings.HasPrefix(at, "/"+kind+"/") {
				continue
			}
			for _, row := range read(t, h, at).All(".rows div") {
				if row.One("dt").Says() == "Stitch" {
					n++
					require.Regexp(t, `^[a-z][a-z ]*\(\d{3}( class)?\)((,| or| and) [a-z][a-z ]*\(\d{3}( class)?\))*$`, row.One("dd").Says(), at)
				}
			}
		}
	}
	require.Greater(t, n, 30)
}
