package advise

import (
	"crypto/sha256"
	"encoding/csv"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// What a trade panel says of make-ups, pairs and choices. Source of every row:
// testdata/reference/expert (common practice unless the row names a source).

var showPanel = flag.Bool("panel", false, "print where the product and the panel differ, on the rows that are worked on")

const panelDir = "../testdata/reference/expert/"

type panelRow map[string]string

func (r panelRow) held() bool { return sha256.Sum256([]byte(r["id"]))[0]%3 == 0 }

// panels are where the rows of the two panels lie below [panelDir]: the first one's,
// and one that was composed later, when the first had been worked on.
var panels = []string{"", "second/"}

func panelRows(t testing.TB, file string) []panelRow {
	t.Helper()
	f, err := os.Open(panelDir + file)
	require.NoError(t, err)
	defer f.Close()
	list, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []panelRow
	for _, x := range list[1:] {
		r := panelRow{}
		for i, h := range list[0] {
			r[h] = x[i]
		}
		out = append(out, r)
	}
	return out
}

// translator turns the words of a row into a make-up that a maker could type.
type translator struct {
	a      *Adviser
	words  map[[2]string][2]string // kind and words: what they mean, and with a lining
	unsaid map[string]int          // circumstances that cannot be said to the product
	alien  map[string]int          // words of which nothing is known
}

func newTranslator(t testing.TB) *translator {
	tr := &translator{a: adviser(t), words: map[[2]string][2]string{}, unsaid: map[string]int{}, alien: map[string]int{}}
	for _, r := range panelRows(t, "words.csv") {
		tr.words[[2]string{r["kind"], r["words"]}] = [2]string{r["means"], r["lined"]}
	}
	return tr
}

// say adds what words of a kind mean to a make-up; role is the layer of a cloth.
func (tr *translator) say(m *MakeUp, kind, words, role string, lined bool) {
	words = strings.TrimSpace(words)
	if words == "" {
		return
	}
	means, ok := tr.words[[2]string{kind, words}]
	text := means[0]
	if lined && means[1] != "" {
		text = means[1]
	}
	if !ok && kind == "cloth" {
		if id, err := tr.a.Cat.ClothNames.Find(words); err == nil {
			text, ok = "@ "+id, true
		}
	}
	if !ok {
		tr.alien[kind+" "+words]++
		return
	}
	for _, part := range strings.Split(text, ", ") {
		if part != "" {
			tr.part(m, strings.ReplaceAll(part, "@", role))
		}
	}
}

// part takes the first of the ways to say one thing that the product knows.
func (tr *translator) part(m *MakeUp, part string) {
	for _, way := range strings.Split(part, "|") {
		was := *m
		way = strings.TrimSpace(way)
		if rest, ok := strings.CutPrefix(way, "fact "); ok {
			way = "wish " + rest
		}
		if tr.a.caseWord(m, way) == nil {
			return
		}
		*m = was
	}
	if head, _, _ := strings.Cut(part, " "); head == "wish" || head == "fact" || head == "job" {
		tr.unsaid[part]++
		return
	}
	tr.alien[part]++
}

// judged is the make-up of a row of judged.csv.
func (tr *translator) judged(r panelRow) MakeUp {
	var m MakeUp
	lined := tr.lines(r["lining"])
	tr.say(&m, "finish", r["finish"], "", lined)
	tr.say(&m, "piece", r["piece"], "", lined)
	tr.say(&m, "cloth", r["cloth"], "shell", false)
	if mass := r["mass_gsm"]; mass != "" && m.Shell != nil {
		tr.part(&m, "shell mass "+mass+" g/m2")
	}
	tr.say(&m, "cloth", r["lining"], "lining", false)
	tr.say(&m, "extra", r["extra"], "", lined)
	return m
}

// lines reports whether what stands in the lining's column is a full layer.
func (tr *translator) lines(cloth string) bool {
	means, ok := tr.words[[2]string{"cloth", cloth}]
	return cloth != "" && cloth != "none" && (!ok || strings.HasPrefix(means[0], "@"))
}

var finishOfJob = map[string]string{"hold shape": "underlined", "strength": "underlined", "second face": "double-faced", "curtain": "sides-lined"}

// pair is the make-up of a row of pairs.csv.
func (tr *translator) pair(r panelRow) MakeUp {
	var m MakeUp
	f := finishOfJob[r["job"]]
	if f == "" {
		f = "dropped-in-lining"
	}
	if !tr.lines(r["lining"]) {
		f = "single-layer-hem"
	}
	tr.part(&m, f)
	tr.say(&m, "piece", r["piece"], "", true)
	tr.say(&m, "cloth", r["shell"], "shell", false)
	tr.say(&m, "cloth", r["lining"], "lining", false)
	tr.say(&m, "job", r["job"], "", true)
	return m
}

// choice is the make-up of a row of choose.csv.
func (tr *translator) choice(r panelRow) MakeUp {
	var m MakeUp
	finish := r["finish"]
	if finish == "" {
		finish = "plain hem"
	}
	tr.say(&m, "finish", finish, "", r["ask"] == "lining")
	tr.say(&m, "piece", r["piece"], "", r["ask"] == "lining")
	tr.say(&m, "cloth", r["given"], "shell", false)
	for w := range strings.SplitSeq(r["wish"], ", ") {
		tr.say(&m, "wish", w, "", false)
	}
	return m
}

var panelVerdict = map[string]string{"suits": Suits, "with reservations": Borderline, "unsuited": Unsuited}
var panelShare = map[string]float64{"suits": 1, "with reservations": 0.5, "unsuited": 0}

// objectedTo are the matters of what speaks against a make-up, weightiest first.
func objectedTo(ans CheckAnswer) []string {
	var out []string
	for _, r := range ans.Reasons {
		if r.Cost > 0 || r.Effect == "caution" && r.Harm == 5 {
			out = append(out, r.Matter)
		}
	}
	return out
}

// tally counts what agreed.
type tally struct {
	made, exact, accepted, objected, named int
	pairs, pairsAccepted, rankings, ranked int
	choices, passed, clean                 int
	brier                                  float64
	suitsUnsuited, unsuitedAsSuits         int
}

func (y *tally) say() string {
	pc := func(n, of int) string {
		return fmt.Sprintf("%d of %d (%.0f %%)", n, of, 100*float64(n)/float64(max(1, of)))
	}
	return fmt.Sprintf("make-ups accepted %s, exact %s, matter named %s; pairs %s, rankings %s; choices %s, free of the absurd %s; Brier %.3f",
		pc(y.accepted, y.made), pc(y.exact, y.made), pc(y.named, y.objected), pc(y.pairsAccepted, y.pairs), pc(y.ranked, y.rankings),
		pc(y.passed, y.choices), pc(y.clean, y.choices), y.brier/float64(max(1, y.made)))
}

// accepts says how an answer stands to the panel's verdict.
func accepts(want, matter string, ans CheckAnswer) (exact, accepted bool) {
	exact = ans.Verdict == panelVerdict[want]
	accepted = exact || want == "with reservations" && ans.Verdict == Suits && slices.Contains(objectedTo(ans), matter)
	return exact, accepted
}

func firstTwo(list []string) []string { return list[:min(2, len(list))] }

// panel asks everything the panel was asked. tell hears of each difference.
func panel(t testing.TB, tr *translator, of string, held bool, tell func(string)) *tally {
	y := &tally{}
	for _, r := range panelRows(t, of+"judged.csv") {
		if r.held() != held {
			continue
		}
		m := tr.judged(r)
		if m.Shell == nil || m.Piece == nil {
			y.made++
			tell(r["id"] + " cannot be said: " + r["cloth"] + " for " + r["piece"])
			continue
		}
		ans := tr.a.say(tr.a.judge(m))
		y.judge(r, ans, tell)
	}
	shares := map[string]float64{}
	rows := panelRows(t, of+"pairs.csv")
	for _, r := range rows {
		m := tr.pair(r)
		if r.held() == held {
			y.pairs++
		}
		if m.Shell == nil || m.Piece == nil {
			continue
		}
		ans := tr.a.say(tr.a.judge(m))
		shares[r["id"]] = ans.Share
		if r.held() != held {
			continue
		}
		if _, ok := accepts(r["verdict"], r["matter"], ans); ok {
			y.pairsAccepted++
		} else {
			tell(fmt.Sprintf("%s %s + %s: %s for %s: panel %s (%s), we %s %.2f %v", r["id"], r["shell"], r["lining"], r["job"], r["piece"], r["verdict"], r["matter"], ans.Verdict, ans.Share, objectedTo(ans)))
		}
	}
	for _, r := range rows {
		if r.held() != held || r["better_than"] == "" {
			continue
		}
		y.rankings++
		if shares[r["id"]] > shares[r["better_than"]] {
			y.ranked++
		} else {
			tell(fmt.Sprintf("%s %s + %s is not above %s: %.2f, %.2f", r["id"], r["shell"], r["lining"], r["better_than"], shares[r["id"]], shares[r["better_than"]]))
		}
	}
	for _, r := range panelRows(t, of+"choose.csv") {
		if r.held() == held {
			y.choose(t, tr, r, tell)
		}
	}
	return y
}

func (y *tally) judge(r panelRow, ans CheckAnswer, tell func(string)) {
	y.made++
	exact, ok := accepts(r["verdict"], r["matter"], ans)
	if exact {
		y.exact++
	}
	if ok {
		y.accepted++
	}
	named := true
	if r["verdict"] != "suits" {
		y.objected++
		if named = slices.Contains(firstTwo(objectedTo(ans)), r["matter"]); named {
			y.named++
		}
	}
	d := ans.Share - panelShare[r["verdict"]]
	y.brier += d * d
	switch {
	case r["verdict"] == "suits" && ans.Verdict == Unsuited:
		y.suitsUnsuited++
	case r["verdict"] == "unsuited" && ans.Verdict == Suits:
		y.unsuitedAsSuits++
	}
	if !ok || !named {
		tell(fmt.Sprintf("%s %s (%s) %s, %s [%s]: panel %s (%s), we %s %.2f %v", r["id"], r["cloth"], r["lining"], r["piece"], r["finish"], r["extra"], r["verdict"], r["matter"], ans.Verdict, ans.Share, objectedTo(ans)))
	}
}

// choose asks for what would be picked: at least 3 of the first 5 are good or
// fine (all, where fewer are named), nothing absurd is among the first 10.
func (y *tally) choose(t testing.TB, tr *translator, r panelRow, tell func(string)) {
	y.choices++
	got := panelOffers(t, tr.a, r["ask"], tr.choice(r))
	wanted, absurd := tr.means(r["ask"], r["good"]+"; "+r["fine"]), tr.means(r["ask"], r["absurd"])
	n := 0
	for _, id := range got[:min(5, len(got))] {
		if wanted[id] {
			n++
		}
	}
	need := 3
	if none := strings.HasPrefix(r["good"], "none"); none {
		need = 1
	}
	passed := n >= need
	if r["good"] == "none" {
		passed = len(got) > 0 && got[0] == "none"
	}
	var bad []string
	for _, id := range got[:min(10, len(got))] {
		if absurd[id] && !wanted[id] {
			bad = append(bad, id)
		}
	}
	if passed {
		y.passed++
	}
	if len(bad) == 0 {
		y.clean++
	}
	if !passed || len(bad) > 0 {
		tell(fmt.Sprintf("%s %s for %s, %s (%s): %d good in %v; absurd %v\n      good: %s; %s", r["id"], r["ask"], r["piece"], r["given"], r["wish"], n, got[:min(10, len(got))], bad, r["good"], r["fine"]))
	}
}

// panelOffers are the ids that are offered, best first.
func panelOffers(t testing.TB, a *Adviser, ask string, m MakeUp) []string {
	t.Helper()
	var out []string
	if m.Piece == nil || m.Finish == nil {
		return nil
	}
	ans, err := a.Advise(m, 0)
	require.NoError(t, err)
	switch ask {
	case "shell", "lining":
		list := ans.Cloths
		if ask == "lining" {
			list = ans.Linings
		}
		for _, c := range list {
			if c.Verdict != Unsuited {
				out = append(out, c.ID)
			}
		}
	default:
		list := map[string][]Choice{"interfacing": ans.Interfacings, "seam": ans.Seams, "edge": ans.Edges}[ask]
		for _, c := range list {
			if !c.Refused() {
				out = append(out, c.ID)
			}
		}
	}
	return out
}

// how are words that say how a thing is used, or which of its kind, and name no
// other thing.
var how = []string{"skin-tone", "on the bias", "on the straight", "sewn in", "flame-proofed", "inherently flame-retardant", "light", "heavy", "soft", "stiff", "fine", "firm", "close",
	"wide", "loose", "all over", "doubled", "printed", "white", "black", "navy", "red", "ivory", "lining", "untreated", "proofed"}

// means are the ids that a list of the panel's words may mean: every one of
// which the name or a synonym holds all the words.
func (tr *translator) means(ask, list string) map[string]bool {
	out := map[string]bool{}
	for w := range strings.SplitSeq(list, ";") {
		w = strings.TrimSpace(w)
		if w == "" {
			continue
		}
		if w == "none" || strings.HasPrefix(w, "none ") {
			out["none"] = true
		}
		for _, id := range tr.named(ask, w) {
			out[id] = true
		}
	}
	return out
}

func (tr *translator) named(ask, words string) []string {
	if m, ok := tr.words[[2]string{ask + "s", words}]; ok {
		return strings.Fields(m[0])
	}
	if m, ok := tr.words[[2]string{"cloth", words}]; ok && (ask == "shell" || ask == "lining") && strings.HasPrefix(m[0], "@") {
		for way := range strings.SplitSeq(strings.Split(m[0], ", ")[0], "|") {
			if id := strings.TrimPrefix(way, "@ "); tr.a.Cat.Cloths[id] != nil {
				return []string{id}
			}
		}
	}
	var out []string
	hit := func(id, name string, synonyms []string) {
		for _, n := range append([]string{id, name}, synonyms...) {
			if holds(n, words) || holds(n, plainly(words)) {
				out = append(out, id)
				return
			}
		}
	}
	switch ask {
	case "shell", "lining":
		for _, c := range tr.a.Cat.ClothList() {
			hit(c.ID, c.Name, c.Synonyms)
		}
	case "interfacing":
		for _, x := range tr.a.Interfacings {
			hit(x.ID, x.Name, x.Synonyms)
		}
	default:
		for _, x := range tr.a.Seams {
			if x.Kind == ask {
				hit(x.ID, x.Name, x.Synonyms)
			}
		}
	}
	return out
}

// plainly leaves out the words that only say how.
func plainly(words string) string {
	w := fibres.FoldName(words)
	for _, h := range how {
		if s := strings.TrimSpace(strings.ReplaceAll(" "+w+" ", " "+fibres.FoldName(h)+" ", " ")); s != "" {
			w = s
		}
	}
	return w
}

// holds reports whether a name holds all words.
func holds(name, words string) bool {
	have := strings.Fields(fibres.FoldName(name))
	need := strings.Fields(fibres.FoldName(words))
	for _, w := range need {
		if !slices.Contains(have, w) && !slices.Contains(have, w+"s") {
			return false
		}
	}
	return len(need) > 0
}

func TestPanel(t *testing.T) {
	if testing.Short() {
		t.Skip("judges some 40,000 make-ups")
	}
	tr := newTranslator(t)
	tell := func(string) {}
	if *showPanel {
		tell = func(s string) { fmt.Println(s) }
	}
	var work, held []*tally
	for i, of := range panels {
		if i > 0 && !testing.Verbose() { // it is only told of
			translate(t, tr, of)
			continue
		}
		y := panel(t, tr, of, false, tell)
		work = append(work, y)
		t.Log("worked on", of, y.say())
	}
	if *showPanel {
		return // whoever works on the rows leaves the others unasked
	}
	for i, of := range panels {
		if i > 0 && !testing.Verbose() {
			continue
		}
		y := panel(t, tr, of, true, func(string) {})
		held = append(held, y)
		t.Log("held out ", of, y.say())
	}
	t.Log("the panel's words that cannot be said:", tr.unsaid, tr.alien)
	require.Empty(t, tr.alien, "words of the panel that words.csv does not give")
	for _, x := range []struct {
		what  string
		of    *tally
		floor panelFloor
	}{{"worked on", work[0], workFloor}, {"held out", held[0], heldFloor}} {
		y, f := x.of, x.floor
		require.GreaterOrEqual(t, y.accepted, f.accepted, "%s: make-ups accepted", x.what)
		require.GreaterOrEqual(t, y.exact, f.exact, "%s: make-ups exact", x.what)
		require.GreaterOrEqual(t, y.named, f.named, "%s: matters named", x.what)
		require.GreaterOrEqual(t, y.pairsAccepted, f.pairs, "%s: pairs accepted", x.what)
		require.GreaterOrEqual(t, y.ranked, f.ranked, "%s: rankings", x.what)
		require.GreaterOrEqual(t, y.passed, f.passed, "%s: choices", x.what)
		require.GreaterOrEqual(t, y.clean, f.clean, "%s: choices free of the absurd", x.what)
		require.LessOrEqual(t, y.brier/float64(y.made), f.brier, "%s: Brier", x.what)
	}
}

// translate puts the words of a panel into make-ups without judging them: what it says
// that words.csv does not give is found.
func translate(t testing.TB, tr *translator, of string) {
	for _, r := range panelRows(t, of+"judged.csv") {
		tr.judged(r)
	}
	for _, r := range panelRows(t, of+"pairs.csv") {
		tr.pair(r)
	}
	for _, r := range panelRows(t, of+"choose.csv") {
		tr.choice(r)
		tr.means(r["ask"], r["good"]+"; "+r["fine"]+"; "+r["absurd"])
	}
}

// panelFloor is what must at least agree (Brier: at most); raised as it grows.
type panelFloor struct {
	accepted, exact, named, pairs, ranked, passed, clean int
	brier                                                float64
}

var (
	workFloor = panelFloor{accepted: 84, exact: 67, named: 48, pairs: 49, ranked: 28, passed: 36, clean: 34, brier: 0.05}
	heldFloor = panelFloor{accepted: 36, exact: 31, named: 26, pairs: 22, ranked: 14, passed: 14, clean: 17, brier: 0.095}
)
