package page

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/hang"
	"tenter/fibres/units"
	"tenter/kb"
	"tenter/kb/search"
	"tenter/page/htmlcheck"
)

// A page is only taken for one that runs already where it serves the same records,
// and where it was not asked for at another address.
func TestAPageOfOtherRecordsIsAnotherPage(t *testing.T) {
	dir := t.TempDir()
	usual, demo, same := newSite(t), newSite(t), newSite(t)
	demo.serves = "demo.db"
	l, _, _, err := usual.Start(dir, "127.0.0.1:0")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- usual.Serve(ctx, l) }()
	t.Cleanup(func() { stop(); require.NoError(t, <-ended) })

	other, first, done, err := demo.Start(dir, "127.0.0.1:0")
	require.NoError(t, err)
	require.Empty(t, first, "the page of the usual records is none of the demonstration")
	require.NoError(t, other.Close())
	done()

	free, err := Listen("127.0.0.1:0")
	require.NoError(t, err)
	addr := free.Addr().String()
	require.NoError(t, free.Close())
	third, first, done, err := same.Start(dir, addr)
	require.NoError(t, err)
	require.Empty(t, first, "an address that was asked for is not passed over")
	require.Equal(t, addr, third.Addr().String())
	require.NoError(t, third.Close())
	done()
	_, noted := readNote(dir, noteName)
	require.True(t, noted, "the page that runs is still noted down")

	_, first, _, err = same.Start(dir, l.Addr().String())
	require.NoError(t, err)
	require.Equal(t, "http://"+l.Addr().String(), first)
}

func TestStoreIsNamedInTheHeaderUnlessItIsTheUsualOne(t *testing.T) {
	require.Nil(t, read(t, newSite(t).Handler(here), "/").One(".store"))
	s := newSite(t)
	s.now.shared.StoreName = "demo"
	require.Contains(t, read(t, s.Handler(here), "/").One(".store").Says(), "demo")
}

// sendList sends a file to the page that takes lists in.
func sendList(t *testing.T, s *Site, h http.Handler, name string, data []byte) *http.Response {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	require.NoError(t, w.WriteField("token", s.token))
	require.NoError(t, w.WriteField("do", "read"))
	part, err := w.CreateFormFile("file", name)
	require.NoError(t, err)
	_, err = part.Write(data)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	r := httptest.NewRequest(http.MethodPost, "/swatches/import", &body)
	r.Host, r.RemoteAddr = "127.0.0.1:8000", "127.0.0.1:51000"
	r.Header.Set("Content-Type", w.FormDataContentType())
	r.Header.Set("Origin", "http://127.0.0.1:8000")
	out := httptest.NewRecorder()
	h.ServeHTTP(out, r)
	return out.Result()
}

func TestUploadsThatAreTooLargeOrEmptySaySo(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	page := sound(t, "9 MB", sendList(t, s, h, "market.csv", bytes.Repeat([]byte("blue,denim\n"), 9<<20/11)), http.StatusRequestEntityTooLarge)
	require.Contains(t, page.One("main").Says(), "larger than 8 MB")
	page = sound(t, "empty", sendList(t, s, h, "market.csv", nil), http.StatusUnprocessableEntity)
	require.Contains(t, page.One("main").Says(), "market.csv is empty")
}

func TestImportNamesNoFlags(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	for _, list := range []string{"name,sold as,date\nblue,denim,03/04/2026\n", "name;sold as;mass\nblue;denim;4,5\n", "namen,x\nblue,denim\n", "name,mass\nblue,9 elephants\n"} {
		res := sendList(t, s, h, "market.csv", []byte(list))
		if res.StatusCode == http.StatusSeeOther {
			res = get(h, res.Header.Get("Location"))
		}
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		page, err := htmlcheck.Parse(string(b))
		require.NoError(t, err)
		require.NotRegexp(t, ` --[a-z]|tenter [a-z]+ `, page.One("main").Says(), list)
	}
}

// A question is answered before the list, and leads to where it is worked out.
func TestSearchAnswersBeforeItLists(t *testing.T) {
	adv := knowledge(t)
	hits := []search.Hit{{Kind: "rule", ID: "knit-takes-a-ball-point", Name: "Use a ball-point needle", Why: "topic needle"}}
	s, err := New(Options{Knowledge: Knowledge{adv, &kb.Base{Cat: adv.Cat}}, Search: func(search.Query) (kb.Answer, error) {
		return kb.Answer{Hits: hits, Asks: true}, nil
	}, Version: "test", Log: testLog{t}})
	require.NoError(t, err)
	h := s.Handler(here)
	for at, x := range map[string]struct {
		answers bool
		next    string
	}{
		"/search?q=which+needle+for+cotton+jersey":           {true, "/cloth/cotton-jersey"},
		"/search?q=which+needle+for+double+gauze":            {false, "/cloth/double-gauze"}, // it is no knit
		"/search?q=which+needle+for+a+tweed+coat":            {false, "/make?piece=coat&shell=tweed"},
		"/search?q=which+needle+for+a+leotard":               {true, "/make?piece=leotard"},
		"/search?q=which+needle+for+cotton+jersey&kind=rule": {false, ""}, // a list that was asked for
	} {
		page := read(t, h, at)
		if x.answers {
			require.Contains(t, page.One("main").Says(), "Use a ball-point needle. A sharp point cuts the loops, and they run.", at)
		} else {
			require.NotContains(t, page.One("main").Says(), "A sharp point cuts", at)
		}
		var next []string
		for _, a := range page.One("main").All("a.button") {
			next = append(next, a.Attr["href"])
		}
		if x.next == "" {
			require.Empty(t, next, at)
			continue
		}
		require.Equal(t, []string{x.next}, next, at)
	}
}

func TestWordsThatAreTooLongAreToldOf(t *testing.T) {
	page := read(t, newSite(t).Handler(here), "/search?q="+strings.Repeat("velvet+", 1000))
	require.Contains(t, page.One("main").Says(), "Left out, for nothing here is longer than 200 letters: q")
}

func TestAddressesThatAreNotThereSuggestOnlyWhatIsMeant(t *testing.T) {
	h := newSite(t).Handler(here)
	page := sound(t, "nosuch", get(h, "/nosuch"), http.StatusNotFound)
	require.NotContains(t, page.One("main").Says(), "notch")
	page = sound(t, "satten", get(h, "/cotton-satten"), http.StatusNotFound)
	require.Contains(t, page.One("main").Says(), "cotton sateen")
}

func TestSwatchWithoutFiguresSaysSoOnce(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	page := moved(t, h, post(s, h, "/swatches/add", "name", "mystery"))
	require.NotContains(t, page.One("main").Says(), "not known unknown")
	require.Equal(t, 1, strings.Count(page.One("main").Says(), "Nothing is known yet of"))
}

// Going back along the trail keeps what was chosen, and a swap tells the difference.
func TestTrailKeepsWhatWasChosen(t *testing.T) {
	h := newSite(t).Handler(here)
	const made = "piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill"
	for _, at := range []string{"/make?" + made, "/cut?" + made, "/check?" + made} {
		page := read(t, h, at)
		stages := map[string]string{}
		for _, a := range page.All(".trail a") {
			stages[strings.Fields(a.Says())[0]] = a.Attr["href"]
		}
		for _, stage := range []string{"Piece", "Finish", "Cloth", "Lining"} {
			to := stages[stage]
			require.NotEmpty(t, to, "%s at %s", stage, at)
			for _, kept := range strings.Split(made, "&") {
				require.Contains(t, to, kept, "%s at %s", stage, at)
			}
			require.NotNil(t, read(t, h, to).One(".trail .now"), to)
		}
	}
	cloths := read(t, h, "/make?"+made+"&step=cloth")
	require.Contains(t, cloths.One("h1").Says(), "Cloths for")
	require.NotNil(t, cloths.One("svg .behind"), "the cloth that is chosen lies behind the others")
	var swap string
	for _, a := range cloths.All(".cards .whole") {
		if u, _ := url.Parse(a.Attr["href"]); u.Query().Get("shell") != "wool-flannel" {
			swap = a.Attr["href"]
			break
		}
	}
	u, err := url.Parse(swap)
	require.NoError(t, err)
	require.Equal(t, "viscose-twill", u.Query().Get("lining"), "the lining stays")
	work := read(t, h, swap)
	require.Contains(t, work.One(".said").Says(), "Instead of wool flannel:")
	back := read(t, h, work.One(".said a").Attr["href"])
	require.Nil(t, back.One(".said"))
	require.Contains(t, back.One("h1").Says(), "wool flannel")
}

// Any cloth and any swatch can be looked for as a lining, also one that is not sold
// as such, and what is said of the one in hand is judged.
func TestOwnClothAtTheLiningStep(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	const at = "/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel"
	moved(t, h, post(s, h, "/swatches/add", "name", "grandmother’s sheet", "sold_as", "cotton-sheeting"))
	page := read(t, h, at+"&find=sheet")
	names := page.One("#list").Says()
	require.Contains(t, names, "grandmother’s sheet", "a swatch by its name")
	require.Contains(t, read(t, h, at+"&find=denim").One("#list").Says(), "denim", "no lining, and judged all the same")
	require.Contains(t, read(t, h, at+"&own=yes").One("#list").Says(), "grandmother’s sheet")
	share := func(q string) int { return len(read(t, h, at+"&find=viscose+twill&"+q).All("#list .st.on")) }
	require.Greater(t, share("lining-hand=soft"), share("lining-hand=rigid"), "what mine feels like is judged")
	require.Greater(t, share("lining-drop=9.7"), share("lining-drop=8.6"), "and how far it drops")
	require.Contains(t, read(t, h, at+"&lining-drop=14").One(".trouble").Says(), "cannot drop by 14")
}

// A list parts what is recommended, what will do and what speaks against it, and the
// reason beside a cloth is of its group.
func TestLiningsAreGroupedWithReasonsThatAgree(t *testing.T) {
	page := read(t, newSite(t).Handler(here), "/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&count=all")
	groups := map[string]int{}
	for _, li := range page.All("#list .cards li") {
		words := li.Says()
		switch {
		case strings.Contains(li.Attr["class"], "v-suits"):
			groups["suits"]++
			require.NotContains(t, words, "would not do")
		case strings.Contains(li.Attr["class"], "v-unsuited"):
			groups["unsuited"]++
			require.NotContains(t, words, "does what the piece asks", words)
			require.NotContains(t, words, "Meant for it", words)
		}
		require.NotEmpty(t, li.One("p.small").Says())
	}
	require.Greater(t, groups["suits"], 3)
	require.Greater(t, groups["unsuited"], 3)
	heads := ""
	for _, g := range page.All("#list h2") {
		heads += g.Says() + "; "
	}
	require.Contains(t, heads, "Recommended; ")
	require.Contains(t, heads, "Against; ")
}

// Any number of cloths can be picked and laid side by side for the piece, and kept.
func TestPickedClothsAreComparedAndKept(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	at := "/make?piece=triangular-shawl&finish=single-layer-hem"
	for _, name := range []string{"wool-challis", "denim", "cotton-lawn", "double-gauze", "tweed"} {
		page := read(t, h, at+"&find="+name)
		at = strings.SplitN(page.One("#c-" + name + " a.pick").Attr["href"], "#", 2)[0]
		at = strings.Replace(at, "&find="+name, "", 1)
		at = strings.Replace(at, "find="+name+"&", "", 1)
	}
	page := read(t, h, at)
	require.Contains(t, page.One(".picked").Says(), "Compare 5")
	side := read(t, h, page.One(".picked a.button").Attr["href"])
	cards := side.All(".cards li")
	require.Len(t, cards, 5)
	require.Contains(t, side.One("h1").Says(), "5 cloths for a triangular shawl")
	fields := []string{}
	for _, in := range side.All(".keep input") {
		if in.Attr["name"] != "token" {
			fields = append(fields, in.Attr["name"], in.Attr["value"])
		}
	}
	list := moved(t, h, post(s, h, "/shortlist", fields...))
	require.Len(t, list.All(".kept .whole"), 5)
	require.Equal(t, "For a triangular shawl: 5", list.One("h2").Says())
	bolt := list.One("input[name=bolt]").Attr["value"]
	list = moved(t, h, post(s, h, "/shortlist", "do", "write", "bolt", bolt, "price", "14.50", "note", "at the Saturday market, end of the bolt"))
	require.Contains(t, list.One(".kept").Says(), "end of the bolt")
	require.Regexp(t, `Buy .* cm.*: about [0-9.]+ at 14\.50 per metre`, list.One(".kept").Says(), "at its price it costs so much")
	compare := list.One(".next a.button")
	require.Equal(t, "Compare 5 for a triangular shawl", compare.Says())
	require.Len(t, read(t, h, compare.Attr["href"]).All(".cards li"), 5)
	list = moved(t, h, post(s, h, "/shortlist", "do", "remove", "bolt", bolt))
	changes := read(t, h, "/swatches").One("section[aria-labelledby=changes]").Says()
	for _, want := range []string{"a cloth kept on the shortlist", "a cloth of the shortlist changed", "a cloth taken off the shortlist"} {
		require.Contains(t, changes, want)
	}
	require.Len(t, list.All(".kept .whole"), 4)
	require.NotContains(t, list.One(".kept").Says(), "end of the bolt")
	sound(t, "gone", post(s, h, "/shortlist", "do", "write", "bolt", bolt, "note", "x"), http.StatusNotFound)
}

// What does not go with a piece is folded away with its reason; the usual comes first.
func TestFinishesAreRankedForThePiece(t *testing.T) {
	h := newSite(t).Handler(here)
	folded := func(piece string) (first, away string) {
		page := read(t, h, "/make?piece="+piece)
		return page.One(".cards .whole span").Says(), page.One("details.level").Says()
	}
	first, away := folded("half-circle-cape")
	require.Equal(t, "bagged lining", first)
	require.Contains(t, away, "envelope closingNo: only the cover of a cushion closes so.")
	require.Contains(t, away, "tailored")
	first, away = folded("cushion-cover")
	require.Equal(t, "envelope closing", first)
	require.NotContains(t, away, "envelope closing")
	_, away = folded("child-cape")
	require.Contains(t, away, "strangles")
}

// A "no" offers three ways out, each one click, and each leads to a better answer.
func TestNoOffersThreeWaysOut(t *testing.T) {
	h := newSite(t).Handler(here)
	for _, at := range []string{"/check?piece=triangular-shawl&finish=single-layer-hem&shell=buckram", "/make?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth"} {
		page := read(t, h, at)
		require.Equal(t, "No", page.One(".answer b").Says(), at)
		ways := page.All(".ways-out a")
		require.Len(t, ways, 3, at)
		better := len(page.All(".judged .st.on"))
		for _, w := range ways {
			to := read(t, h, w.Attr["href"])
			if to.One(".answer") == nil { // it leads to a list to choose from
				continue
			}
			require.Greater(t, len(to.All(".judged .st.on")), better, w.Attr["href"])
		}
	}
}

// words counts what a page shows before anything is opened.
func shownWords(n *htmlcheck.Node) int {
	count := 0
	var walk func(*htmlcheck.Node)
	walk = func(n *htmlcheck.Node) {
		class := " " + n.Attr["class"] + " "
		switch {
		case n.Tag == "svg" || n.Tag == "select" || n.Tag == "datalist" || strings.Contains(class, " hidden ") || strings.Contains(class, " skip "):
			return
		case n.Tag == "":
			count += len(strings.Fields(n.Text))
		}
		_, open := n.Attr["open"]
		for _, k := range n.Kids {
			if n.Tag == "details" && !open && k.Tag != "summary" {
				continue
			}
			walk(k)
		}
	}
	walk(n)
	return count
}

// The whole work page says what to do in 600 words, before anything is opened.
func TestWorkPageKeepsToItsWords(t *testing.T) {
	h := newSite(t).Handler(here)
	for _, at := range []string{
		"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill",
		"/make?piece=child-cape&finish=bagged-lining&shell=boiled-wool&lining=cotton-lawn",
		"/make?piece=stage-curtain&finish=interlined&shell=cotton-velvet&lining=cotton-sateen",
		"/make?piece=coat&finish=fused-front-tailored&shell=tweed&lining=cupro-twill",
		"/make?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth",
		"/make?piece=gathered-skirt&finish=single-layer-hem&shell=cotton-lawn",
	} {
		n := shownWords(read(t, h, at).One("body"))
		require.LessOrEqual(t, n, 600, at)
		require.Greater(t, n, 100, at)
	}
}

// stripMarks are the marks of a strip of known bending length on a photograph: ruler,
// edge, tip and eight along it, 30 pixels to the centimetre.
func stripMarks(t *testing.T, c, overhang float64) [][2]float64 {
	t.Helper()
	const mass, perCM, x0, y0 = 180, 30, 160, 120
	fall, err := hang.Hang(hang.Flap{Segments: []hang.Segment{{Length: units.Length(overhang), Rigidity: hang.RigidityFromBendingLength(units.Length(c), mass), Mass: mass}}}, 181)
	require.NoError(t, err)
	at := func(i int) [2]float64 {
		return [2]float64{x0 + perCM*float64(fall.Points[i].Out), y0 + perCM*float64(fall.Points[i].Down)}
	}
	out := [][2]float64{{40, 560}, {40 + 20*perCM, 560}, {x0, y0}, at(180)}
	for i := 20; i < 180; i += 20 {
		out = append(out, at(i))
	}
	return out
}

func marksOf(list [][2]float64) string {
	var out []string
	for _, m := range list {
		out = append(out, fmt.Sprintf("%.1f,%.1f", m[0], m[1]))
	}
	return strings.Join(out, ";")
}

// A strip of known bending length, marked on a photograph, gives that bending length,
// and is recorded as any reading of the ruler test.
func TestCameraMeasuresAndIsRecorded(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	moved(t, h, post(s, h, "/swatches/add", "name", "blue", "sold_as", "denim"))
	require.NotNil(t, read(t, h, "/swatch/blue/measure?kind=droop").One("a[href=/swatch/blue/camera]"))
	at := "/swatch/blue/camera?apart=20cm&marks=" + url.QueryEscape(marksOf(stripMarks(t, 2.4, 11)))
	page := read(t, h, at)
	require.Contains(t, page.One("#fit").Says(), "It bends at 2.4 cm")
	require.Contains(t, page.One("#fit").Says(), "11 cm hang over the edge")
	guide := read(t, h, page.One("#fit a.button").Attr["href"])
	require.Contains(t, guide.One(".guide").Says(), "So far")
	var fields []string
	for _, in := range guide.All("form[method=post] input") {
		if in.Attr["name"] != "token" {
			fields = append(fields, in.Attr["name"], in.Attr["value"])
		}
	}
	swatch := moved(t, h, post(s, h, "/swatch/blue/measure", fields...))
	require.Contains(t, swatch.One("#p-bending-length-warp").Says(), "measured")
	require.Contains(t, swatch.One("#p-bending-length").Says(), "your own measurement", "as any strip of the warp")

	require.Contains(t, read(t, h, "/camera?marks=1,1%3B2,2").One("#fit").Says(), "2 marks so far")
	require.Contains(t, read(t, h, "/camera?marks=one,two").One(".trouble").Says(), "not a place on a photograph")
	require.Contains(t, read(t, h, "/camera?apart=far&marks="+url.QueryEscape(marksOf(stripMarks(t, 2.4, 11)))).One(".trouble").Says(), "apart")
	imperial := read(t, h, "/camera?units=imperial&apart=7.874&marks="+url.QueryEscape(marksOf(stripMarks(t, 2.54, 11))))
	require.Contains(t, imperial.One("#fit").Says(), "1 in")
}

// What is sent of a style or a script is shorter, and still says the same.
func TestSqueezedFilesSayTheSame(t *testing.T) {
	require.Equal(t, "a{color:red}b,c{margin:calc(1px + 2px) 0}", string(Squeezed(".css", []byte("/* x */\na { color:red; }\nb, c {\n  margin:calc(1px + 2px) 0;\n}\n"))))
	require.Equal(t, "f(\"// no comment\");\n", string(Squeezed(".js", []byte("\t// a comment\n\tf(\"// no comment\");\n"))))
	s := newSite(t)
	for _, name := range []string{"tenter.css", "tenter.js"} {
		whole, err := static.ReadFile("static/" + name)
		require.NoError(t, err)
		require.Less(t, len(s.files[name].data), len(whole)*97/100, name)
		require.Equal(t, strings.Count(string(s.files[name].data), "{"), strings.Count(string(s.files[name].data), "}"), name)
	}
}
