package data_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
)

// The limits of advice, in words: a plain sentence, a step read at the machine, a reason.
const (
	maxSentence = 18
	maxStep     = 14
	maxBecause  = 12
)

// verbs may begin a piece of advice: it says what to do.
var verbs = strings.Fields(`Add Agree Ask Back Begin Bind Blanket-stitch Brush Build Burn Buy Carry Catch Change Check Choose Clip Close
	Cover Crease Cut Damp Do Draw Dry Ease-stitch End Face Fell Fill Finish Fit Fix Flat-fell Fold Fuse Gather Give Go Grade Hand-wash Have Hang Hem Hold
	Interface Join Keep Label Lap Lay Leave Lengthen Let Level Lighten Line Look Make Mark Match Measure Mend Mount Never Notch
	Open Overcast Pad Pad-stitch Paint Part Pick Pin Pink Pipe Plan Pre-shrink Press Pull Push Put Read Roll Round Rub Run Search Seal Set Sew Shape
	Shear Shorten Shrink Skip Slip Slip-stitch Snap Sponge Square Stand Stay Stay-stitch Steam Stiffen Stitch Store Tack Tailor Take Tape Tie Top-sew
	Topstitch Trim Try Tuck Turn Unroll Use Wash Wash-test Wear Weight Wet Wind Wipe Work Zigzag`)

// banned are phrases that are stiff, dated or idle wherever they stand.
var banned = regexp.MustCompile(`(?i)\b(hangs on|let pass|turns out so|may apply|at the (most|least)|hottest hot|stands? for a|is told|it is said|reckon\w*|settles|` +
	`bears?|heeds?|failing those|as old books|stands off|which was not said|pass this edge over)\b`)

// sentenceEnd parts a text into sentences.
var sentenceEnd = regexp.MustCompile(`[.?!] +`)

func sentencesOf(text string) []string {
	var out []string
	for _, s := range strings.Split(sentenceEnd.ReplaceAllStringFunc(text, func(m string) string { return m[:1] + "\n" }), "\n") {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

var conjunction = regexp.MustCompile(`\band\b`)

// unplain lists what makes a text hard to follow: long, chained or stiff sentences.
func unplain(text string, most int) []string {
	var out []string
	for _, s := range sentencesOf(text) {
		if n := len(strings.Fields(s)); n > most {
			out = append(out, fmt.Sprintf("%d words in one sentence, at most %d", n, most))
		}
		if n := strings.Count(s, ","); n > 2 {
			out = append(out, fmt.Sprintf("%d commas in one sentence, at most 2", n))
		}
		if len(conjunction.FindAllString(s, -1)) > 1 {
			out = append(out, "more than one \"and\" in a sentence")
		}
	}
	if strings.Contains(text, ";") {
		out = append(out, "a semicolon: make two sentences")
	}
	if p := banned.FindString(text); p != "" {
		out = append(out, "\""+p+"\" is banned")
	}
	return out
}

// unordered finds advice that does not begin with what to do. A short question, or an
// aim ("To sell it …"), may come first.
func unordered(say string) string {
	list := sentencesOf(say)
	first := list[0]
	if strings.HasSuffix(first, "?") && len(strings.Fields(first)) <= 10 && len(list) > 1 {
		first = list[1]
	}
	if _, after, ok := strings.Cut(first, ", "); ok && regexp.MustCompile(`^(To|Near) `).MatchString(first) {
		first = strings.ToUpper(after[:1]) + after[1:]
	}
	if w := strings.TrimRight(strings.Fields(first)[0], ",:."); !slices.Contains(verbs, w) {
		return "begins with \"" + w + "\", not with what to do"
	}
	return ""
}

// Advice is said as a cutter says it: what to do first, in short sentences, without
// semicolons and idle words; the reason in a dozen words.
func TestAdviceIsPlain(t *testing.T) {
	a := adviser(t)
	words, sentences := 0, 0
	for _, r := range a.Rules {
		assert.Empty(t, unplain(r.Say, maxSentence), "%s %s: %s", r.Place, r.ID, r.Say)
		assert.Empty(t, unordered(r.Say), "%s %s: %s", r.Place, r.ID, r.Say)
		assert.Empty(t, unplain(r.Because, maxBecause), "%s %s: %s", r.Place, r.ID, r.Because)
		assert.LessOrEqual(t, len(strings.Fields(r.Because)), maxBecause, "%s %s: %s", r.Place, r.ID, r.Because)
		assert.NotEmpty(t, r.Matter, r.Place)
		assert.NotZero(t, r.Harm, r.Place)
		for _, s := range sentencesOf(r.Say) {
			words, sentences = words+len(strings.Fields(s)), sentences+1
		}
	}
	t.Logf("%d rules: %.1f words a sentence", len(a.Rules), float64(words)/float64(sentences))
	assert.Less(t, float64(words)/float64(sentences), 11.0)
}

// A step is read at the machine.
func TestStepsAreShort(t *testing.T) {
	a := adviser(t)
	for _, f := range a.Finishes {
		assert.NotContains(t, f.Say, ";", f.ID)
		for _, s := range f.Steps {
			assert.Empty(t, unplain(s.Say, maxStep), "%s %s: %s", f.ID, s.ID, s.Say)
			assert.LessOrEqual(t, len(strings.Fields(s.Say)), maxStep+6, "%s %s with its caution: %s", f.ID, s.ID, s.Say)
			assert.Empty(t, unplain(s.Because, maxBecause), "%s %s: %s", f.ID, s.ID, s.Because)
		}
	}
	for _, x := range a.Seams {
		assert.NotContains(t, x.Say, ";", x.ID)
		assert.Empty(t, banned.FindString(x.Say), x.ID)
	}
	for _, x := range a.Interfacings {
		assert.NotContains(t, x.Say, ";", x.ID)
		assert.Empty(t, banned.FindString(x.Say), x.ID)
	}
}

// What pieces, jobs, terms and ways of making up are is told in short sentences too: a
// definition may hold a list, and two words more.
func TestDescriptionsArePlain(t *testing.T) {
	const most, commas = maxSentence + 2, 3
	a := adviser(t)
	told := map[string][]string{}
	tell := func(what string, texts ...string) { told[what] = append(told[what], texts...) }
	demands := func(what string, list []advise.Demand) {
		for _, d := range list {
			tell(what+" "+d.ID, d.Say)
		}
	}
	for _, p := range a.Pieces {
		tell("piece "+p.ID, p.Say)
		demands("piece "+p.ID, p.Demands)
	}
	for _, f := range a.Finishes {
		tell("finish "+f.ID, f.Say)
	}
	for _, s := range a.Seams {
		tell(s.Kind+" "+s.ID, s.Say)
	}
	for _, x := range a.Interfacings {
		tell("interfacing "+x.ID, x.Say)
	}
	for _, j := range a.Jobs {
		tell("job "+j.ID, j.Say)
		demands("job "+j.ID, j.Demands)
	}
	for _, w := range a.Wishes {
		tell("wish "+w.ID, w.Say)
		demands("wish "+w.ID, w.Demands)
	}
	for id, x := range a.Cat.Terms {
		tell("term "+id, x.Meaning, x.Trap)
	}
	require.Greater(t, len(told), 400)
	for what, texts := range told {
		for _, text := range texts {
			for _, s := range sentencesOf(text) {
				assert.LessOrEqual(t, len(strings.Fields(s)), most, "%s: %s", what, s)
				assert.LessOrEqual(t, strings.Count(s, ","), commas, "%s: %s", what, s)
			}
			assert.NotContains(t, text, ";", what)
			assert.Empty(t, banned.FindString(text), "%s: %s", what, text)
		}
	}
}

// Safety is never softened: advice whose neglect hurts a person bids or forbids, it does
// not advise.
func TestSafetyIsNotSoftened(t *testing.T) {
	soft := regexp.MustCompile(`(?i)\b(should|prefer|consider|might|perhaps|ideally|if you like|think twice)\b`)
	for _, r := range adviser(t).Rules {
		if r.Harm == 5 {
			require.Empty(t, soft.FindString(r.Say), "%s: %s", r.ID, r.Say)
		}
	}
	require.NotEmpty(t, soft.FindString("Prefer a snap to a cord."))
}

// What the reader of the documents meets is free of the same phrases. A term's name may
// be one of them; docs/voice.md lists them.
func TestDocumentsArePlain(t *testing.T) {
	files, err := filepath.Glob("../docs/*.md")
	require.NoError(t, err)
	read := 0
	for _, f := range append(files, "../README.md") {
		if name := filepath.Base(f); name == "voice.md" || name == "data-dictionary.md" {
			continue
		}
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		for i, line := range strings.Split(string(b), "\n") {
			if found := banned.FindString(line); found != "" && !strings.EqualFold(found, "reckon") {
				assert.Fail(t, "a banned phrase", "%s:%d: %q in %s", f, i+1, found, line)
			}
		}
		read++
	}
	require.Greater(t, read, 5)
}

// messages finds the line of a program in which an error or an answer is worded.
var messages = regexp.MustCompile(`\b(What|Expected|Mend|Because|Say|Short|Long): `)

// Errors and pages are free of the same phrases: the lines of the programs in which they
// are worded, and every template.
func TestErrorsAndPagesArePlain(t *testing.T) {
	worded := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		name := d.Name()
		if err != nil || d.IsDir() || strings.HasSuffix(name, "_test.go") || name == "compiled.go" {
			return err
		}
		template := strings.HasSuffix(name, ".tmpl")
		if !template && !strings.HasSuffix(name, ".go") {
			return nil
		}
		b, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for i, line := range strings.Split(string(b), "\n") {
			if !template && !messages.MatchString(line) {
				continue
			}
			worded++
			if found := banned.FindString(strings.ReplaceAll(line, "reckon", "")); found != "" { // the command is called so
				assert.Fail(t, "a banned phrase", "%s:%d: %q in %s", path, i+1, found, line)
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, worded, 1500)
}

// The checks find what they are for.
func TestPlantedUnplainWordsAreFound(t *testing.T) {
	for text, want := range map[string]string{
		"Trim each allowance to a width of its own, the one nearest the outside widest at 6 mm, the innermost the least of all.": "words in one sentence",
		"Cut, fold, pin, press.":              "commas",
		"Cut and fold and pin.":               "more than one \"and\"",
		"Fold it; press it.":                  "semicolon",
		"Wash it as hot as its lining bears.": "banned",
		"Leave 6 mm at the least.":            "banned",
	} {
		require.Contains(t, strings.Join(unplain(text, maxSentence), "\n"), want, text)
	}
	require.Empty(t, unplain("Dark cape on the road at night? Add a reflective band.", maxSentence))
	require.Empty(t, unordered("Dark cape on the road at night? Add a reflective band."))
	require.Empty(t, unordered("Do not machine-wash this cloth: it felts."))
	require.Empty(t, unordered("To wear it either way out, match the two weights."))
	require.NotEmpty(t, unordered("Next to the skin a lining of silk is pleasanter."))
	require.NotEmpty(t, unordered("A smooth lining suits a coat."))
}

// What the lists say of cloths, weaves, fibres and figures is told in short sentences, as
// a note is: a list of names may hold more commas.
func TestListsArePlain(t *testing.T) {
	said := map[string]bool{"say": true, "right_side": true, "definition": true, "burn": true, "caution": true, "note": true, "why": true, "name": true, "ease_reason": true, "meaning": true, "trap": true}
	const most, commas = maxSentence + 2, 4
	names, err := fs.Glob(data.FS, "*.csv")
	require.NoError(t, err)
	texts := 0
	for _, name := range names {
		b, err := fs.ReadFile(data.FS, name)
		require.NoError(t, err)
		rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
		require.NoError(t, err, name)
		for line, r := range rows[1:] {
			for i, text := range r {
				if !said[rows[0][i]] || text == "" {
					continue
				}
				texts++
				where := fmt.Sprintf("%s row %d: %s", name, line+2, text)
				assert.Empty(t, banned.FindString(text), where)
				if name == "sources.csv" { // what is said of a source lists what was read in it
					continue
				}
				assert.NotContains(t, text, ";", where)
				for _, s := range sentencesOf(text) {
					assert.LessOrEqual(t, len(strings.Fields(s)), most, where)
					assert.LessOrEqual(t, strings.Count(s, ","), commas, where)
				}
			}
		}
	}
	require.Greater(t, texts, 3000)
}
