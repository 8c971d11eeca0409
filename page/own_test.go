package page

import (
	"bytes"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/kb/store"
	"tenter/page/htmlcheck"
)

// ownSite is a site with records of its own, in a folder of the test.
func ownSite(t testing.TB) (*Site, string) {
	t.Helper()
	adv := knowledge(t)
	find, err := index()
	require.NoError(t, err)
	at := filepath.Join(t.TempDir(), "tenter.db")
	var mu sync.Mutex
	var records *store.Store
	open := func() (err error) {
		mu.Lock()
		defer mu.Unlock()
		if records == nil {
			records, err = store.Open(at)
		}
		return err
	}
	t.Cleanup(func() {
		if records != nil {
			require.NoError(t, records.Close())
		}
	})
	again := func() (Knowledge, error) {
		mu.Lock()
		defer mu.Unlock()
		if records == nil {
			s, there, err := store.OpenIfExists(at)
			if err != nil || !there {
				return Knowledge{adv, &kb.Base{Cat: adv.Cat}}, err
			}
			records = s
		}
		return Knowledge{adv, &kb.Base{Cat: adv.Cat, Records: records}}, nil
	}
	s, err := New(Options{Knowledge: Knowledge{adv, &kb.Base{Cat: adv.Cat}}, Search: find, Version: "test", Log: testLog{t}, Own: &Own{Path: at, Make: open, Again: again}})
	require.NoError(t, err)
	return s, at
}

// post sends a form as a page of the site does.
func post(s *Site, h http.Handler, at string, fields ...string) *http.Response {
	f := url.Values{"token": {s.token}}
	for i := 0; i+1 < len(fields); i += 2 {
		f.Set(fields[i], fields[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, at, strings.NewReader(f.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return sent(h, r)
}

func sent(h http.Handler, r *http.Request) *http.Response {
	r.Host, r.RemoteAddr = "127.0.0.1:8000", "127.0.0.1:51000"
	r.Header.Set("Origin", "http://127.0.0.1:8000")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

// moved follows a form that was taken to the page it leads to.
func moved(t *testing.T, h http.Handler, res *http.Response) *htmlcheck.Node {
	t.Helper()
	b, _ := io.ReadAll(res.Body)
	require.Equal(t, http.StatusSeeOther, res.StatusCode, "%s", b)
	return read(t, h, res.Header.Get("Location"))
}

func TestSwatchIsRecordedFoundAndTakenBack(t *testing.T) {
	s, at := ownSite(t)
	h := s.Handler(here)
	require.NotContains(t, read(t, h, "/swatches").Says(), "The latest changes")
	require.NoFileExists(t, at, "reading makes no store")
	page := moved(t, h, post(s, h, "/swatches/add", "name", "king's blue", "sold_as", "sateen", "width", "140", "length", "2.5m", "content", "100% cotton", "lightness", "dark", "kept_where", "box 4"))
	require.Contains(t, page.One("h1").Says(), "king's blue")
	require.NotNil(t, page.One("a[href=/cloth/cotton-sateen]"))
	require.NotNil(t, read(t, h, "/cloth/cotton-sateen").One("#own"), "the cloth's page tells of it")
	list := read(t, h, "/swatches?q=blue")
	require.Len(t, list.All("tbody tr"), 1)
	// it is judged wherever a cloth is
	answer := read(t, h, "/check?shell=king%27s+blue&piece=hooded-wrap")
	require.Contains(t, answer.One(".judged").Says(), "king's blue")
	cards := read(t, h, "/make?piece=hooded-wrap&finish=bagged-lining&own=yes")
	require.Len(t, cards.All(".cards .whole"), 1)
	// and taken back
	page = moved(t, h, post(s, h, "/swatches", "do", "undo"))
	require.Empty(t, page.All("tbody tr"))
	sound(t, "gone", get(h, "/swatch/king%27s%20blue"), http.StatusNotFound)
	// and made again, until something else is recorded
	require.Contains(t, page.Says(), `Taken back: swatch "king's blue" added.`)
	page = moved(t, h, post(s, h, "/swatches", "do", "redo"))
	require.Len(t, page.All("tbody tr"), 1)
	require.NotContains(t, page.Says(), "Taken back")
	moved(t, h, post(s, h, "/swatches", "do", "undo"))
	moved(t, h, post(s, h, "/swatches/add", "name", "chorus red"))
	require.NotContains(t, read(t, h, "/swatches").Says(), "Taken back")
}

// A page that is asked for again is sent as it was, until something is recorded; what could not be
// found is looked for anew each time.
func TestPagesAreKeptUntilSomethingIsRecorded(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	const at = "/check?shell=chorus+red&piece=cowl"
	text := func(at string) string {
		res := get(h, at)
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		require.Equal(t, http.StatusOK, res.StatusCode)
		return string(b)
	}
	first := text("/cloth/cotton-sateen")
	require.NotNil(t, s.shared().Written("/cloth/cotton-sateen"))
	require.Equal(t, first, text("/cloth/cotton-sateen"))
	require.NotNil(t, read(t, h, at).One(".trouble"), "there is no such cloth yet")
	sound(t, "no such", get(h, "/cloth/chorus-red"), http.StatusNotFound)
	require.Nil(t, s.shared().Written("/cloth/chorus-red"))
	post(s, h, "/swatches/add", "name", "chorus red", "sold_as", "sateen")
	require.Nil(t, s.shared().Written("/cloth/cotton-sateen"))
	require.Nil(t, read(t, h, at).One(".trouble"))
	require.Contains(t, text("/cloth/cotton-sateen"), "chorus red")
	for i := range 400 { // however many pages are looked at, what is kept stays within bounds
		text(fmt.Sprintf("/cloth/cotton-sateen?mass=%d", 100+i))
	}
	require.Nil(t, s.shared().Written("/cloth/cotton-sateen"))
	require.NotNil(t, s.shared().Written("/cloth/cotton-sateen?mass=499"))
}

// Cloth has no price of its own: the wish keeps the swatches that cost no more, and the names under
// which such a swatch was sold; the rest is counted as not known.
func TestNarrowedByPrice(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	const at = "/make?piece=hooded-wrap&finish=bagged-lining&count=all"
	none := read(t, h, at+"&most-price=15")
	require.Empty(t, none.All(".cards li"))
	require.Contains(t, none.One("main").Says(), "write the price of a swatch down")
	for _, x := range [][2]string{{"dear sateen", "40 per metre"}, {"cheap sateen", "£8 a yard"}, {"unsaid sateen", "8"}, {"euro sateen", "9 EUR per metre"}} {
		post(s, h, "/swatches/add", "name", x[0], "sold_as", "sateen", "price", x[1])
	}
	post(s, h, "/swatches/add", "name", "dear denim", "sold_as", "denim", "price", "30 per metre")
	names := func(query string) string {
		page := read(t, h, at+query)
		out := ""
		for _, c := range page.All(".cards .whole") {
			out += c.One("span").Says() + "; "
		}
		return out
	}
	require.Equal(t, "cotton sateen; ", names("&most-price=15"), "the name under which a swatch so cheap was sold")
	own := names("&most-price=15&own=yes")
	require.Contains(t, own, "cheap sateen")
	require.Contains(t, own, "euro sateen", "a sum without a currency compares with all")
	require.NotContains(t, own, "dear")
	require.NotContains(t, own, "unsaid")
	require.Equal(t, "cheap sateen; ", names("&most-price=%C2%A315&own=yes"), "euros are no pounds")
	require.NotContains(t, names("&most-price=8&own=yes"), "cheap sateen", "8 a yard is 8.75 a metre")
	require.Contains(t, names("&most-price=8&own=yes&units=imperial"), "cheap sateen", "and the page in yards means a yard")
	require.Contains(t, names("&most-price=8+a+yard&own=yes"), "cheap sateen")
	require.Contains(t, read(t, h, at+"&most-price=15&own=yes").One("main").Says(), "£8.75 per metre")
	require.Contains(t, read(t, h, at+"&most-price=little").One(".trouble").Says(), "no figure")
	// what it costs is told where it is cut
	cut := read(t, h, "/cut?piece=hooded-wrap&finish=bagged-lining&shell=cheap+sateen&lining=viscose-twill&width=140")
	require.Regexp(t, `Buy ?[0-9]+ cm of cheap sateen, 140 cm wide: about £[0-9.]+ at £8\.75 per metre`, cut.One("main").Says())
	cut = read(t, h, "/cut?piece=hooded-wrap&finish=bagged-lining&shell=cheap+sateen&lining=viscose-twill&price=%C2%A310&lining-price=%C2%A35")
	require.Contains(t, cut.One("main").Says(), "at £10.00 per metre")
	require.Contains(t, cut.One("main").Says(), "All the cloth costs about £")
	require.Contains(t, read(t, h, "/swatch/unsaid%20sateen").One("main").Says(), "not said for what length")
}

func TestNothingIsRecordedWithoutTheToken(t *testing.T) {
	s, at := ownSite(t)
	h := s.Handler(here)
	res := post(s, h, "/swatches/add", "name", "x", "token", "guess")
	require.Equal(t, http.StatusForbidden, res.StatusCode)
	require.NoFileExists(t, at)
}

// What cannot be read is told at its field, and what was typed stays.
func TestSlipsInAFormAreToldAndWhatWasTypedStays(t *testing.T) {
	s, at := ownSite(t)
	h := s.Handler(here)
	page := sound(t, "add", post(s, h, "/swatches/add", "name", "linen remnant", "width", "wide", "content", "60% hemlock", "bought", "yesterday"), http.StatusUnprocessableEntity)
	trouble := page.One(".trouble").Says()
	for _, want := range []string{"width", "its label", "bought"} {
		require.Contains(t, trouble, want)
	}
	require.Equal(t, "linen remnant", page.One("input#name").Attr["value"])
	require.Equal(t, "wide", page.One("input#width").Attr["value"])
	require.NotContains(t, trouble, "kept_where")
	require.NotNil(t, page.One("input#width[aria-invalid=true]"))
	require.Contains(t, page.One("#width-wrong").Says(), "wide")
	require.Nil(t, page.One("input#name[aria-invalid=true]"))
	require.NoFileExists(t, at, "nothing was kept")
	page = sound(t, "length", post(s, h, "/swatches/add", "name", "linen remnant", "length", "-3m"), http.StatusUnprocessableEntity)
	require.Contains(t, page.One(".trouble").Says(), "left of it", "a field is called as the form calls it")
	page = sound(t, "no name", post(s, h, "/swatches/add", "name", "  "), http.StatusUnprocessableEntity)
	require.NotNil(t, page.One(".trouble"))
	moved(t, h, post(s, h, "/swatches/add", "name", "twice"))
	page = sound(t, "twice", post(s, h, "/swatches/add", "name", "Twice"), http.StatusUnprocessableEntity)
	require.Contains(t, page.One(".trouble").Says(), "name")
	// editing keeps what it does not name in the form's own words
	moved(t, h, post(s, h, "/swatch/twice/edit", "name", "twice", "colour", "red", "width", "150cm"))
	form := read(t, h, "/swatch/twice/edit")
	require.Equal(t, "red", form.One("input#colour").Attr["value"])
	require.Equal(t, "150 cm", form.One("input#width").Attr["value"])
}

// Readings are typed one by one, each in the address; a slip is told and changes
// nothing; what they come to stands beside; recording makes them the swatch's.
func TestMeasuringIsGuidedThroughTheAddress(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	moved(t, h, post(s, h, "/swatches/add", "name", "blue", "sold_as", "cotton-sateen"))
	at := "/swatch/blue/measure?kind=droop"
	page := read(t, h, at)
	require.NotEmpty(t, page.All("ol.order li"), "the test is told step by step")
	require.NotNil(t, page.One("pre"), "with its figure")
	step := func(line string) {
		res := get(h, at+"&line="+url.QueryEscape(line))
		require.Equal(t, http.StatusSeeOther, res.StatusCode, line)
		at = res.Header.Get("Location")
	}
	step("3.4cm")
	step("3.5cm")
	slip := sound(t, "slip", get(h, at+"&line=long"), http.StatusUnprocessableEntity)
	require.Contains(t, slip.One(".trouble").Says(), "not taken")
	page = read(t, h, at)
	require.Contains(t, page.One("main").Says(), "3.4cm; 3.5cm")
	back := ""
	goOn := ""
	for _, a := range page.All("main a") {
		switch {
		case strings.Contains(a.Says(), "back"):
			back = a.Attr["href"]
		case strings.Contains(a.Says(), "go on"):
			goOn = a.Attr["href"]
		}
	}
	require.NotContains(t, read(t, h, back).One("main").Says(), "3.5cm;")
	at = goOn
	step("3.6cm")
	page = read(t, h, at)
	require.Contains(t, page.One(".lead").Says(), "bending length")
	u, err := url.Parse(at)
	require.NoError(t, err)
	page = moved(t, h, post(s, h, "/swatch/blue/measure", "kind", "droop", "lines", u.Query().Get("lines"), "note", "dry day"))
	require.Contains(t, page.One("#p-bending-length-warp .figure").Says(), "measured")
	require.Contains(t, page.One("#p-bending-length").Says(), "From the warp alone")
	require.NotNil(t, page.One("#p-bending-length .knot.own"), "the point is a diamond")
	require.Contains(t, page.One("[aria-labelledby=measured]").Says(), "dry day")
	require.NotNil(t, read(t, h, "/cloth/cotton-sateen").One("#p-bending-length .knot.own"), "and lies on the scale of its cloth")
	id := page.One("input[name=measurement]").Attr["value"]
	page = moved(t, h, post(s, h, "/swatch/blue", "do", "remove-measurement", "measurement", id))
	require.Nil(t, page.One("#p-bending-length .knot.own"))
	sound(t, "another's", post(s, h, "/swatch/blue", "do", "remove-measurement", "measurement", "999"), http.StatusBadRequest)
	sound(t, "no kind", get(h, "/swatch/blue/measure?kind=weight"), http.StatusBadRequest)
}

// sendFile sends a file as the form for lists does.
func sendFile(s *Site, h http.Handler, at, name string, data []byte) *http.Response {
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	_ = m.WriteField("token", s.token)
	_ = m.WriteField("do", "read")
	f, _ := m.CreateFormFile("file", name)
	_, _ = f.Write(data)
	_ = m.Close()
	r := httptest.NewRequest(http.MethodPost, at, &b)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return sent(h, r)
}

// A list is looked at before anything is kept; columns can be told anew; sound
// rows are kept and the others given back with their reasons; one undo takes all
// of it back.
func TestListIsLookedAtBeforeItIsKept(t *testing.T) {
	s, at := ownSite(t)
	h := s.Handler(here)
	list := "name,sold as,width,weight\nred,wool flannel,150,260\ngreen,denim,wide,400\nblue,cotton sateen,140,130\n"
	res := sendFile(s, h, "/swatches/import", "market.csv", []byte(list))
	require.Equal(t, http.StatusSeeOther, res.StatusCode)
	preview := res.Header.Get("Location")
	page := read(t, h, preview)
	require.NoFileExists(t, at, "looking keeps nothing")
	require.Contains(t, page.One(".lead").Says(), "3 rows; 2 would be added")
	require.Contains(t, page.One("section[aria-labelledby=refused]").Says(), "line 3")
	require.Len(t, page.All("section[aria-labelledby=rows] tbody tr"), 2)
	var weight *htmlcheck.Node
	for _, l := range page.All("section[aria-labelledby=columns] label") {
		if l.Says() == "weight" {
			weight = page.One("#" + l.Attr["for"])
		}
	}
	require.NotNil(t, weight)
	require.Equal(t, "mass", weight.One("option[selected]").Attr["value"], "the column was guessed")
	left := read(t, h, preview+"&"+weight.Attr["name"]+"=-")
	require.Equal(t, "-", left.One("#" + weight.Attr["id"] + " option[selected]").Attr["value"])

	refused := sound(t, "all or nothing", post(s, h, preview, "do", "keep"), http.StatusUnprocessableEntity)
	require.Contains(t, refused.One(".trouble").Says(), "Nothing was kept")
	page = moved(t, h, post(s, h, preview, "do", "keep-sound"))
	require.Len(t, page.All("tbody tr"), 2)
	bad := page.One(".said a").Attr["href"]
	b, err := io.ReadAll(get(h, bad).Body)
	require.NoError(t, err)
	require.Contains(t, string(b), "green,denim,wide,400")
	require.Contains(t, string(b), "rejected because")
	page = moved(t, h, post(s, h, "/swatches", "do", "undo"))
	require.Empty(t, page.All("tbody tr"))

	// rows pasted, and what is no list
	res = post(s, h, "/swatches/import", "do", "read", "text", "name;colour\nlast of the velvet;red")
	require.Contains(t, read(t, h, res.Header.Get("Location")).One(".lead").Says(), "1 would be added")
	res = sendFile(s, h, "/swatches/import", "x.xlsx", []byte("PK\x03\x04 rest"))
	page = sound(t, "a workbook", get(h, res.Header.Get("Location")), http.StatusUnprocessableEntity)
	require.Contains(t, page.One(".trouble").Says(), "workbook")
	sound(t, "nothing", post(s, h, "/swatches/import", "do", "read"), http.StatusUnprocessableEntity)
	sound(t, "gone", get(h, "/swatches/import?list=none"), http.StatusNotFound)
}

func TestVerdictAfterWearIsKeptAndTakenBack(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	at := "/worn?piece=half-circle-cape&shell=wool-flannel&finish=bagged-lining"
	page := moved(t, h, post(s, h, at, "do", "add", "verdict", "too-stiff", "said", "it stood off like a bell"))
	require.Contains(t, page.One("section[aria-labelledby=verdicts]").Says(), "it stood off like a bell")
	require.Contains(t, page.One("section[aria-labelledby=verdicts]").Says(), "half-circle cape of wool flannel", "by name, not by id")
	page = moved(t, h, post(s, h, at, "do", "remove", "number", page.One("input[name=number]").Attr["value"]))
	require.NotContains(t, page.One("section[aria-labelledby=verdicts]").Says(), "bell")
	sound(t, "no verdict", post(s, h, at, "do", "add", "verdict", "purple"), http.StatusBadRequest)
	sound(t, "no make-up", post(s, h, "/worn", "do", "add", "verdict", "right"), http.StatusBadRequest)
	require.Contains(t, read(t, h, "/check?piece=half-circle-cape&shell=wool-flannel").One("main").Says(), "Say how it wore")
}

// What another command records while the page runs is on the next page.
func TestRecordsOfAnotherCommandAreSeen(t *testing.T) {
	s, at := ownSite(t)
	h := s.Handler(here)
	require.Empty(t, read(t, h, "/swatches").All("tbody tr"))
	other, err := store.Open(at)
	require.NoError(t, err)
	defer other.Close()
	_, err = other.AddSwatch(record.Swatch{Name: "from the stall"})
	require.NoError(t, err)
	testkit.Until(t, "the swatch is on the page", func() bool { return len(read(t, h, "/swatches").All("tbody tr")) == 1 })
}

// A site without records reads as ever and takes no forms.
func TestSiteWithoutRecordsTakesNoForms(t *testing.T) {
	s := newSite(t)
	h := s.Handler(here)
	require.NotContains(t, read(t, h, "/swatches").Says(), "Add a swatch")
	require.Equal(t, http.StatusForbidden, post(s, h, "/swatches/add", "name", "x").StatusCode)
}

// manySwatches is a list of so many sound rows.
func manySwatches(n int) []byte {
	var b strings.Builder
	b.WriteString("name,sold as,width_cm,mass_gsm,bending_length_cm,colour,kept where\n")
	cloths := []string{"cotton-sateen", "wool-flannel", "denim", "silk-satin", "viscose-twill", "linen-lawn"}
	for i := range n {
		fmt.Fprintf(&b, "swatch %d,%s,%d,%d,%.2f,%s,box %d\n", i, cloths[i%len(cloths)], 90+i%70, 80+i%400, 1.1+float64(i%30)/10, []string{"red", "blue", "undyed"}[i%3], i%40)
	}
	return []byte(b.String())
}

// Twenty readers go on reading whole pages while a list of 5,000 swatches is
// taken in.
func TestTwentyReadersWhileAListIsTakenIn(t *testing.T) {
	s, _ := ownSite(t)
	at := serveSite(t, s)
	h := s.Handler(here)
	res := sendFile(s, h, "/swatches/import", "all.csv", manySwatches(5000))
	preview := res.Header.Get("Location")
	stop := make(chan bool)
	var started sync.WaitGroup // until every reader has read one page
	started.Add(20)
	var wg sync.WaitGroup
	wrong := make(chan string, 1000)
	var pagesRead int
	var mu sync.Mutex
	for reader := range 20 {
		wg.Go(func() {
			c := &http.Client{Transport: &http.Transport{}, Timeout: time.Minute}
			defer c.CloseIdleConnections()
			first := sync.OnceFunc(started.Done)
			defer first()
			for i := reader; ; i++ {
				path := []string{"/", "/swatches", "/map", "/make?piece=cowl&finish=single-layer-hem", "/cloth/denim", "/check?shell=denim&piece=cowl"}[i%6]
				res, err := c.Get(at + path)
				if err != nil {
					wrong <- err.Error()
					return
				}
				b, err := io.ReadAll(res.Body)
				_ = res.Body.Close()
				if err != nil || res.StatusCode != http.StatusOK || !bytes.HasSuffix(bytes.TrimSpace(b), []byte("</html>")) {
					wrong <- fmt.Sprintf("%s: %d, %v", path, res.StatusCode, err)
					return
				}
				mu.Lock()
				pagesRead++
				mu.Unlock()
				first()
				if i == reader {
					continue // the second page is begun before the list, or with it
				}
				select {
				case <-stop:
					return
				default:
				}
			}
		})
	}
	started.Wait() // from here on to the stop all twenty read without a pause
	mu.Lock()
	before := pagesRead
	mu.Unlock()
	kept := post(s, h, preview, "do", "keep")
	mu.Lock()
	during := pagesRead - before
	mu.Unlock()
	close(stop)
	wg.Wait()
	close(wrong)
	for w := range wrong {
		t.Error(w)
	}
	require.Equal(t, http.StatusSeeOther, kept.StatusCode)
	// How many pages pass meanwhile is a matter of the machine; each reader has one
	// under way when the list begins and ends.
	require.GreaterOrEqual(t, pagesRead, 40, "each reader read before and after")
	require.Contains(t, read(t, h, "/swatches").One("main").Says(), "5000 swatches")
	t.Logf("%d pages were read while 5,000 swatches were taken in", during)
}

// A name that no cloth has is kept, and what may be meant is offered.
func TestTicketThatNoClothHasIsQuestioned(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	page := moved(t, h, post(s, h, "/swatches/add", "name", "remnant", "sold_as", "coton satteen"))
	require.Contains(t, page.One(".rows").Says(), "No cloth of that name is known")
	require.NotNil(t, page.One(".rows a[href=/cloth/cotton-sateen]"))
	// nothing is known of it, so it neither suits nor not
	cards := read(t, h, "/make?piece=half-circle-cape&finish=bagged-lining&own=yes")
	require.Contains(t, cards.One("main").Says(), "0 recommended, 0 will do, 0 against, 1 not judged")
	card := cards.One(".cards li").Says()
	require.Contains(t, card, "not judged")
	require.NotContains(t, card, "..")
	answer := read(t, h, "/check?piece=half-circle-cape&shell=remnant").One(".judged")
	require.Contains(t, answer.Says(), "Not judged")
	require.Nil(t, answer.One(".stitches"), "no share is drawn")
	page = moved(t, h, post(s, h, "/swatch/remnant/edit", "name", "remnant", "sold_as", "cotton sateen"))
	require.NotContains(t, page.One(".rows").Says(), "No cloth of that name is known")
}

// A list without swatches says why, and offers to narrow only what is there.
func TestEmptyListSaysWhy(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	page := read(t, h, "/swatches?added=lots")
	require.Nil(t, page.One("form.narrow"))
	require.Contains(t, page.One(".lead").Says(), "None yet")
	require.Nil(t, page.One(".said"), "what is no number was not taken in")
	moved(t, h, post(s, h, "/swatches/add", "name", "remnant", "sold_as", "cotton sateen"))
	page = read(t, h, "/swatches?fibre=silk&added=1")
	require.NotNil(t, page.One("form.narrow"))
	require.Contains(t, page.One(".lead").Says(), "No swatch fits")
	require.Contains(t, page.One(".said").Says(), "1 swatch was taken in")
}

// What is worth noting of a measurement is said once.
func TestNoteOfAMeasurementIsSaidOnce(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	moved(t, h, post(s, h, "/swatches/add", "name", "remnant", "sold_as", "cotton sateen"))
	page := moved(t, h, post(s, h, "/swatch/remnant/measure", "kind", "droop", "lines", "4.2|4.3|"))
	require.Equal(t, 1, strings.Count(page.One("[aria-labelledby=measured]").Says(), "Only the warp was measured"))
}
