package card

import (
	"bytes"
	"flag"
	"fmt"
	"html/template"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/units"
	"tenter/internal/testkit"
	"tenter/page/htmlcheck"
)

var update = flag.Bool("update", false, "write the golden card anew")

var knowledge = testkit.Loaded(func() (*advise.Adviser, error) { return advise.Load(data.FS) })

// made is a make-up in words with its plan of cutting, on cloth 165 cm wide.
func made(t testing.TB, words string) (*advise.Adviser, advise.MakeUp, cut.Answer) {
	t.Helper()
	a := knowledge(t)
	m, err := a.ParseCase(words)
	require.NoError(t, err)
	if plan, ok := plans.Load(words); ok {
		return a, m, plan.(cut.Answer)
	}
	plan := planned(t, a, m)
	plans.Store(words, plan)
	return a, m, plan
}

// plans keeps what several tests ask for: a plan takes a second or more.
var plans sync.Map

func planned(t testing.TB, a *advise.Adviser, m advise.MakeUp) cut.Answer {
	t.Helper()
	job := a.CutJob(m)
	for i := range job.Layers {
		job.Layers[i].SetWidth(units.Range[units.Length]{Low: 165, High: 165})
	}
	plan, err := cut.Plan(job)
	require.NoError(t, err)
	return plan
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

// makings are make-ups with several kinds of edge, from the wardrobe.
var makings = map[string]string{
	"wrap":   "hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta",
	"cape":   "half-circle-cape, bagged-lining, shell wool-flannel, lining viscose-twill",
	"cowl":   "cowl, single-layer-bound-edge, shell double-gauze",
	"shawl":  "triangular-shawl, single-layer-rolled-hem, shell silk-chiffon",
	"velvet": "half-circle-cape, faced-edge, shell cotton-velvet",
}

func TestCardsAreSoundPagesThatStandAlone(t *testing.T) {
	for name, words := range makings {
		for _, kind := range []string{Job, Shopping} {
			t.Run(name+" "+kind, func(t *testing.T) {
				c := cardOf(t, words, Options{Kind: kind})
				page := written(t, c)
				_, err := htmlcheck.Parse(page)
				require.NoError(t, err)
				if dir := os.Getenv("TENTER_SHOTS"); dir != "" { // to be looked at
					require.NoError(t, os.WriteFile(filepath.Join(dir, name+"-"+kind+".html"), []byte(page), 0o644))
				}
				page = strings.NewReplacer("http://www.w3.org/2000/svg", "", ` src="data:image/png;base64,`, "").Replace(page) // which stand in the card itself
				for _, s := range []string{"http://", "https://", "<link", "<script", "@import", " src=", "ZgotmplZ", "NaN", "Inf "} {
					require.NotContains(t, page, s)
				}
				ids := map[string]bool{}
				for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(page, -1) {
					require.False(t, ids[m[1]], "id %s twice", m[1])
					ids[m[1]] = true
				}
			})
		}
	}
}

// What a job card must say.
func TestJobCardSaysAllOfTheJob(t *testing.T) {
	for name, words := range makings {
		t.Run(name, func(t *testing.T) {
			a, m, plan := made(t, words)
			c, err := New(a, m, plan, Options{})
			require.NoError(t, err)
			page := written(t, c)
			ans, err := a.Advise(m, 6)
			require.NoError(t, err)
			for _, s := range []string{ans.Judged.Verdict, template.HTMLEscapeString(c.Headline), "In the shop", "Refuse", "Buy", "Before cutting", "Order of work", "Sources", template.HTMLEscapeString(ans.Pressing.Say), template.HTMLEscapeString(ans.Needle.Say)} {
				require.Contains(t, page, s)
			}
			require.Contains(t, c.Headline, "in 10", "the share is told")
			require.Equal(t, len(ans.Order), strings.Count(page, `type="checkbox"`))
			require.Len(t, c.Order, len(ans.Order))
			for i, s := range c.Order {
				require.Equal(t, i+1, s.N)
				require.Equal(t, ans.Order[i].Because, s.Because)
				require.Equal(t, ans.Order[i].Notes, s.Notes)
				if ans.Order[i].Later == "" && !ans.Order[i].Movable {
					require.Empty(t, s.May)
				}
			}
			require.NotNil(t, c.FallPicture)
			require.NotNil(t, c.EdgePicture)
			require.NotEmpty(t, c.Layouts)
			require.NotEmpty(t, c.Sources)
			require.Len(t, c.Buy, len(plan.Layers))
			for _, f := range append([]Figure{*c.FallPicture, *c.EdgePicture}, c.Layouts...) {
				require.NotEmpty(t, f.Text, "the same in words")
			}
			require.NotRegexp(t, `(?i)\b(minutes|hours?) of work\b`, page)
		})
	}
}

// A step that may wait names a later step; where it may not, nothing is said.
func TestStepsSayHowFarTheyMayMove(t *testing.T) {
	a, m, plan := made(t, makings["wrap"])
	c, err := New(a, m, plan, Options{})
	require.NoError(t, err)
	ans, err := a.Advise(m, 6)
	require.NoError(t, err)
	at := map[string]int{}
	for i, s := range ans.Order {
		at[s.Step] = i + 1
	}
	may := 0
	for i, s := range c.Order {
		if k := regexp.MustCompile(`^May wait until after step (\d+)\.$`).FindStringSubmatch(s.May); k != nil {
			require.Equal(t, s.May, fmt.Sprintf("May wait until after step %d.", at[ans.Order[i].Later]))
			require.Greater(t, at[ans.Order[i].Later], s.N)
			may++
		}
	}
	require.NotZero(t, may)
}

// Cautions stand at their step, and none is lost.
func TestCautionsStandWhereTheyBelong(t *testing.T) {
	for _, words := range makings {
		a, m, plan := made(t, words)
		c, err := New(a, m, plan, Options{})
		require.NoError(t, err)
		ans, err := a.Check(m)
		require.NoError(t, err)
		n := len(c.Cautions)
		for _, s := range c.Order {
			n += len(s.Cautions)
		}
		want := 0
		for _, r := range ans.Reasons {
			if r.Effect == "caution" {
				want++
			}
		}
		require.Equal(t, want, n)
	}
	c := cardOf(t, makings["wrap"], Options{})
	found := false
	for _, s := range c.Order {
		for _, k := range s.Cautions {
			if strings.Contains(k.Say, "iron on its heel") {
				found = true
				require.Contains(t, s.ID, "press")
				require.True(t, s.Press, "here one stops and presses")
			}
			if strings.Contains(k.Say, "rotary cutter") {
				require.Equal(t, "cut", s.ID)
			}
		}
	}
	require.True(t, found)
}

// The figures for the shop are those that the judgement gives: inside the window
// the make-up suits, beyond what is refused it is unsuited.
func TestShopFiguresAgreeWithTheVerdict(t *testing.T) {
	a, m, _ := made(t, "hooded-wrap, bagged-lining, shell cotton-sateen, lining cupro-lining")
	w, ok := windowOf(a, m, fibres.BendingLength, false)
	require.True(t, ok)
	require.False(t, w.none)
	verdict := func(c float64) string {
		s := m.Shell.With(a.Cat, fibres.BendingLength, c, c)
		mm := m
		mm.Shell = &s
		ans, err := a.Check(mm)
		require.NoError(t, err)
		return ans.Verdict
	}
	require.Equal(t, advise.Suits, verdict(w.from))
	require.Equal(t, advise.Suits, verdict(w.to))
	require.False(t, w.openTop, "a wrap wants no stiff cloth")
	require.NotEqual(t, advise.Suits, verdict(w.to*1.1))
	require.Greater(t, w.refuseOver, w.to)
	require.Equal(t, advise.Unsuited, verdict(w.refuseOver))
	// The droop in words is that of the elastica.
	long := overhang(w.to, units.Metric)
	d, ok := dropOf(long, w.to)
	require.True(t, ok)
	c, err := hang.BendingLengthFromDrop(long, units.Length(d))
	require.NoError(t, err)
	require.InDelta(t, w.to, float64(c), 1e-4)
	require.InDelta(t, 0.75, d/float64(long), 0.2, "a droop that the eye can tell")
}

// A make-up that nothing mends says so, and gives no figure to hunt for.
func TestUnsuitedMakeUpGivesNoFalseHope(t *testing.T) {
	a, m, _ := made(t, "triangular-shawl, single-layer-hem, shell cotton-lawn")
	found := false
	for _, k := range a.Shells() {
		m.Shell = &fibres.Subject{Cloth: k}
		w, ok := windowOf(a, m, fibres.BendingLength, false)
		if !ok || !w.none {
			continue
		}
		found = true
		c, err := New(a, m, planned(t, a, m), Options{Kind: Shopping})
		require.NoError(t, err)
		page := written(t, c)
		require.NotEqual(t, advise.Suits, c.Verdict)
		require.NotContains(t, page, "its end should drop", k.ID)
		require.Contains(t, page, "No droop alone makes it suit")
		break
	}
	require.True(t, found, "every cloth could be a shawl")
}

// The picture hangs as the answer says.
func TestFallPictureAgreesWithTheAnswer(t *testing.T) {
	for _, words := range makings {
		a, m, _ := made(t, words)
		ans, err := a.Check(m)
		require.NoError(t, err)
		v, ok := FallOf(a, m, ans.Fall)
		require.True(t, ok)
		for i, want := range []float64{ans.Fall.StandOff.Low, ans.Fall.StandOff.Typical, ans.Fall.StandOff.High} {
			h, err := hang.Hang(v.Flaps[i], 0)
			require.NoError(t, err)
			require.InEpsilon(t, want, float64(h.StandOff), 0.06, "%s %d", words, i)
		}
	}
}

func TestEdgeIsThatOfTheFinish(t *testing.T) {
	a := knowledge(t)
	shell := &fibres.Subject{Cloth: a.Cat.Cloths["wool-flannel"]}
	lining := &fibres.Subject{Cloth: a.Cat.Cloths["viscose-twill"]}
	for _, f := range a.Finishes {
		v, ok := EdgeOf(a, advise.MakeUp{Finish: f, Shell: shell, Lining: lining}, false)
		require.True(t, ok, f.ID)
		require.Equal(t, f.Edge, v.Kind)
		require.Equal(t, f.Lined, v.Lining != nil && v.Lining.Name == lining.Label(), f.ID)
	}
	_, ok := EdgeOf(a, advise.MakeUp{Shell: shell}, false)
	require.False(t, ok)
}

func TestUnitsAndPaper(t *testing.T) {
	page := written(t, cardOf(t, makings["cape"], Options{Units: units.Imperial, Paper: Letter}))
	require.Contains(t, page, "size: letter")
	require.Contains(t, page, "oz/yd²")
	require.Contains(t, page, "yd")
	require.Contains(t, page, "°F")
	text := unseen().ReplaceAllString(page, " ")
	require.NotRegexp(t, `\d g/m[2²]`, text)
	page = written(t, cardOf(t, makings["cape"], Options{}))
	require.Contains(t, page, "size: A4")
	require.Contains(t, page, "°C")
}

// The arrow of the nap stands on the layer whose cloth has one.
func TestNapIsThatOfTheLayer(t *testing.T) {
	a, m, plan := made(t, makings["velvet"])
	plan.Layers = append(plan.Layers, plan.Layers[0])
	plan.Layers[1].Layer = "interfacing"
	plan.Layers[1].Buy.Width++ // not the same picture twice
	if x := plan.Layers[1].Washed; x != nil {
		y := *x
		y.Width++
		plan.Layers[1].Washed = &y
	}
	c, err := New(a, m, plan, Options{})
	require.NoError(t, err)
	require.Len(t, c.Layouts, 2)
	require.Contains(t, c.Layouts[0].Text, "All lie one way")
	require.NotContains(t, c.Layouts[1].Text, "All lie one way")
	c, err = New(a, m, plan, Options{AnyWay: true})
	require.NoError(t, err)
	require.NotContains(t, c.Layouts[0].Text, "All lie one way")
}

// A shop cuts no less than is asked: lengths to buy round up.
func TestClothToBuyRoundsUp(t *testing.T) {
	c := &Card{}
	require.Equal(t, "155 cm", c.cloth(152))
	require.Equal(t, "160 cm", c.cloth(160))
	require.Equal(t, "165 cm", c.cloth(160.1))
	c.Units = units.Imperial
	require.Equal(t, "1 yd", c.cloth(90))
	require.Equal(t, "1 1/8 yd", c.cloth(91.5))
}

func TestNamesAreOnlyText(t *testing.T) {
	a, m, _ := made(t, makings["cowl"])
	s := *m.Shell
	s.Name, s.Swatch = `<script>alert(1)</script>"'&`+"\u202e", true
	m.Shell = &s
	for _, kind := range []string{Job, Shopping} {
		c, err := New(a, m, planned(t, a, m), Options{Kind: kind})
		require.NoError(t, err)
		page := written(t, c)
		require.NotContains(t, page, "<script")
		_, err = htmlcheck.Parse(page)
		require.NoError(t, err)
	}
}

func TestWrongCallsAreToldTogether(t *testing.T) {
	a, m, plan := made(t, makings["cowl"])
	m.Shell = nil
	_, err := New(a, m, plan, Options{Kind: "postcard", Paper: "a3"})
	require.Len(t, fault.All(err), 3)
	for _, f := range fault.All(err) {
		require.Equal(t, fault.WrongCall, f.Kind)
		require.NotEmpty(t, f.Expected)
	}
	m, err = a.ParseCase("cowl, shell denim")
	require.NoError(t, err)
	c, err := New(a, m, plan, Options{})
	require.NoError(t, err, "without a finish it is the usual one of the piece")
	require.Contains(t, written(t, c), a.WithUsualFinish(m).Finish.Name)
}

// The markup of a card, with made-up words so that no fact of cloth moves it.
func TestGoldenCards(t *testing.T) {
	fig := &Figure{"<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"x\" width=\"10\" height=\"10\"></svg>", "A picture.", "In words."}
	c := Card{Title: "Cape of the village king", Verdict: "suits", Headline: "about 9 in 10 would do", Fall: "Soft in the hand.", MakeUp: []Line{{"Piece", "cape"}, {"Finish", "bagged lining"}, {"Shell", "red flannel"}},
		Reasons: []Sourced{{"Choose another lining.", "It is stiff.", "1"}}, Look: []Look{{"Shell, weight", "At least 200 g/m2."}}, Refuse: []string{"What is off square."}, Buy: []BuyRow{{"shell", "red flannel", "150 cm", "2.4 m", "2.6 m", "about £24.00 at £10.00 per metre"}},
		Notions: []Line{{"thread", "40 m."}}, Prewash: []Line{{"shell", "Wash it once."}}, Cut: []CutTable{{"shell", "red flannel", true, []CutRow{{"cape", "2", "110 × 110 cm", "112.4 × 112.4 cm", "115 × 114 cm", "cape"}}}}, CutSay: "With allowances.",
		Machine: []Line{{"needle", "Size 90."}}, Order: []Step{{N: 1, ID: "cut", Say: "Cut.", Because: "It must be.", Notes: []string{"On the grain."}, May: "May wait until after step 2.", Cautions: []Sourced{{"Mind the blade.", "It cuts.", "p"}}}, {N: 2, ID: "press-seams", Say: "Press.", Press: true}},
		PressingShort: "at most 150 °C", Cautions: []Sourced{{"Keep it from flame.", "It burns.", "1"}}, Settle: []Line{{"fall", "The ruler."}}, Notes: []string{"A note."}, FallPicture: fig, EdgePicture: fig, Layouts: []Figure{*fig}, Sources: []Source{{1, "A book, 1910"}}, UsesPractice: true,
		Front: Front{Settings: []Line{{"needle", "90"}}, Cut: []FrontCut{{1, "cape × 2", "112.4 × 112.4 cm", "shell"}}, CutSay: "Allowances are in.", Pull: "Unwashed they part.", Plans: []Figure{*fig}, Ticks: []Tick{{1, "Cut."}}, Mind: []string{"Keep it from flame."}, Foot: []string{"Stand the iron on its heel."}}}
	for _, kind := range []string{Job, Shopping} {
		c.Kind, c.Paper = kind, A4
		path := filepath.Join("testdata", kind+".golden.html")
		got := written(t, &c)
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			old, _ := os.ReadFile(path)
			if string(old) != got {
				t.Logf("%s is written anew", path)
			}
			require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
			continue
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		testkit.Same(t, string(want), got, "%s; `go test ./page/card -update` writes it anew", path)
	}
}

// A job card shows the piece worn, small and in itself, where there is a picture of it.
func TestJobCardShowsThePieceWorn(t *testing.T) {
	for text, shown := range map[string]bool{"full-circle-skirt, single-layer-hem, shell cotton-poplin": true, "tailored-jacket, bagged-lining, shell wool-flannel, lining viscose-twill": false} {
		c := cardOf(t, text, Options{Kind: Job})
		require.Equal(t, shown, c.Worn != nil, text)
		page := written(t, c)
		require.Equal(t, shown, strings.Contains(page, `src="data:image/png;base64,`), text)
		require.Equal(t, shown, strings.Contains(page, "a computed fall"), text)
	}
}

// What was tried and is not shown worn is shown by its edge, and the card says why.
func TestJobCardSaysWhyAPieceIsNotShownWorn(t *testing.T) {
	c := cardOf(t, "cowl, single-layer-hem, shell viscose-twill", Options{Kind: Job})
	require.Nil(t, c.Worn)
	require.NotNil(t, c.FallPicture)
	require.Contains(t, c.FallPicture.Caption, "Not shown worn: its folds lie on each other in heaps")
	c = cardOf(t, "full-circle-skirt, single-layer-hem, shell cotton-poplin", Options{Kind: Job})
	require.NotContains(t, c.FallPicture.Caption, "Not shown")
}
