package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/units"
)

// told is what a command prints, its lines run together.
func told(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	a := newApp(&out, &errs)
	defer a.close()
	root := newRoot(a)
	root.SetArgs(args)
	require.NoError(t, root.Execute(), "%v: %s", args, errs.String())
	return flat(out.String())
}

// flat is a text with every gap a single blank.
func flat(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), " ")
}

var markup = regexp.MustCompile(`(?s)<(style|script|svg)\b.*?</(style|script|svg)>|<[^>]*>`)

// plain is the text of a page.
func plain(page string) string { return flat(html.UnescapeString(markup.ReplaceAllString(page, " "))) }

// media are all the places that tell of one plan.
type media struct{ brief, all, card, page, advise, pair string }

func askEverywhere(t *testing.T, at, piece, finish, shell, lining, money, system string) (cut.Answer, media) {
	t.Helper()
	made := []string{"--finish", finish, "--shell", shell, "--units", system}
	q := url.Values{"piece": {piece}, "finish": {finish}, "shell": {shell}, "units": {system}, "widths": {"yes"}}
	if lining != "" {
		made = append(made, "--lining", lining)
		q.Set("lining", lining)
	}
	priced := append([]string{"cut", piece}, made...)
	if money != "" {
		priced = append(priced, "--price", money)
		q.Set("price", money)
	}
	var ans cut.Answer
	require.NoError(t, json.Unmarshal([]byte(told(t, append(priced, "--json")...)), &ans))
	file := filepath.Join(t.TempDir(), "card.html")
	onCard := append([]string{"card", "--piece", piece, "--out", file}, made...)
	if money != "" {
		onCard = append(onCard, "--price", money)
	}
	told(t, onCard...)
	card, err := os.ReadFile(file)
	require.NoError(t, err)
	res, err := http.Get(at + "/cut?" + q.Encode())
	require.NoError(t, err)
	defer res.Body.Close()
	page, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	m := media{told(t, priced...), told(t, append(priced, "--all")...), plain(string(card)), plain(string(page)),
		told(t, append([]string{"advise", "--piece", piece, "--all"}, made...)...), ""}
	if lining != "" {
		m.pair = told(t, "pair", shell, lining, "--piece", piece, "--finish", finish, "--json")
	}
	return ans, m
}

// The same make-up is asked for on the terminal, briefly and in full, on the page, on
// the card, as JSON and of the work: every figure of its plan stands in each place that
// tells it, in both systems of units.
func TestEveryPlaceTellsTheFiguresOfOnePlan(t *testing.T) {
	home(t)
	at, _ := servePage(t)
	for _, x := range []struct{ piece, finish, shell, lining, money, system string }{
		{"half-circle-cape", "bagged-lining", "wool-flannel", "viscose-twill", "12.50/m", "metric"},
		{"half-circle-cape", "bagged-lining", "wool-flannel", "viscose-twill", "", "imperial"},
		{"cowl", "single-layer-bound-edge", "double-gauze", "", "9/m", "metric"},
		{"tunic", "single-layer-hem", "linen-dress", "", "", "imperial"},
	} {
		t.Run(x.piece+" "+x.system, func(t *testing.T) {
			ans, m := askEverywhere(t, at, x.piece, x.finish, x.shell, x.lining, x.money, x.system)
			sys := map[string]units.System{"metric": units.Metric, "imperial": units.Imperial}[x.system]
			all := map[string]string{"cut": m.brief, "cut --all": m.all, "card": m.card, "page": m.page}
			in := func(what, figure string, of ...string) {
				t.Helper()
				require.NotEmpty(t, figure, what)
				for _, k := range of {
					require.Contains(t, all[k], flat(figure), "%s: %s", k, what)
				}
			}
			tape := func(cm float64) string { return units.Length(cm).OffTheBolt(sys) }
			size := func(s [2]float64) string { return units.TapeBy(units.Length(s[0]), units.Length(s[1]), sys) }
			require.NotEmpty(t, ans.Layers)
			for _, l := range ans.Layers {
				bought := []string{"cut", "cut --all", "page"}
				in("to buy", tape(l.Buy.Length.Typical), bought...)
				in("to be safe", tape(l.Buy.Length.High), bought...)
				in("its width", fibres.Quantity(l.Buy.Width, "cm", sys), "cut", "cut --all", "card", "page")
				if w := l.Washed; w != nil { // the card is for cloth that is washed first
					in("to buy, washed first", tape(w.Length.Typical), "cut --all", "card", "page")
					in("washed first, to be safe", tape(w.Length.High), "cut --all", "card")
				}
				in("what lies in no part", fmt.Sprintf("%.0f %% of the cloth", l.Buy.Waste*100), "page")
				if s := l.Buy.Near(sys); s != "" {
					in("how near to the shortest", strings.TrimSuffix(s[1:], "."), "cut --all", "page")
				}
				for _, p := range l.Pieces {
					in(p.Name+" finished", size(p.Finished), "cut", "cut --all", "card", "page")
					in(p.Name+" as bought", size(p.Cut), "cut --all", "page")
					in(p.Name+" washed", size(p.Washed), "cut", "cut --all", "card", "page")
				}
				for _, w := range l.Widths {
					if w.Fits {
						in("another width", tape(w.Length), "cut --all", "page")
					}
				}
			}
			in("thread", ans.Thread.In(sys), "cut", "cut --all", "page")
			thread := fibres.Round(ans.Thread.Total.Typical) + " m"
			if sys == units.Imperial {
				thread = fibres.Round(ans.Thread.Total.Typical/0.9144) + " yd"
			}
			in("thread", thread, "cut", "cut --all", "card", "page")
			under := 0.0
			require.NotEmpty(t, ans.Thread.Seams)
			for _, s := range ans.Thread.Seams {
				under += s.Under
				row := s.Name + " " + fibres.Quantity(s.Length, "cm", sys) + " " + fibres.Quantity(s.Under*100, "cm", sys)
				in("thread of the "+s.Name, row+map[bool]string{true: " fill the bobbin"}[s.Wind], "page")
				in("thread of the "+s.Name, row+" under", "cut --all")
			}
			require.InDelta(t, ans.Thread.Under, under, 0.05, "the seams together")
			require.Contains(t, m.advise, thread, "advise: thread")
			require.Equal(t, x.finish == "single-layer-bound-edge", ans.Binding != nil)
			if b := ans.Binding; b != nil {
				in("binding", b.In(sys), "cut", "cut --all", "page")
				in("strip of the binding", units.TapeBy(units.Length(b.Width/10), units.Length(b.Length), sys), "card")
				in("square for the binding", fmt.Sprintf("%s square, %d strips", units.Length(b.Square).Tape(sys), b.Strips), "card")
			}
			if g := ans.Gap; g != nil && g.MM.Typical > g.Limit {
				in("the edge along which they part", fibres.Quantity(g.EdgeCM, "cm", sys), "cut", "cut --all", "card", "page")
				in("how far they part", fibres.Quantity(g.MM.Typical/10, "cm", sys), "cut", "cut --all")
				in("how far they part", fibres.Quantity(g.MM.Typical, "mm", sys), "card", "page")
				var pair struct {
					Pairs []struct {
						Gap fibres.Estimate `json:"gap_mm"`
					}
				}
				require.NoError(t, json.Unmarshal([]byte(m.pair), &pair))
				require.InDelta(t, g.MM.Typical, pair.Pairs[0].Gap.Typical, 1e-9, "pair: how far they part")
			}
			in("area and perimeter", ans.Whole(sys), "cut --all", "page")
			if x.money != "" {
				require.NotNil(t, ans.Layers[0].Buy.Cost)
				c := ans.Layers[0].Buy.Cost
				in("cost", fmt.Sprintf("%.2f", c.Likely), "cut", "cut --all", "card", "page")
				in("cost to be safe", fmt.Sprintf("%.2f", c.Safe), "cut", "cut --all", "card", "page")
			}
		})
	}
}
