package rules

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

var update = flag.Bool("update", false, "write the golden files anew")

const clip = `# A house rule.
[[rule]]
id               = "lining-frays-clip-after-joining"
when.finish      = "bagged-lining"
when.lining.fray = "at least medium"
effect  = "do"
step    = { move = "clip-curves", after = "join-layers" }
say     = "Leave the lining's curves unclipped until the layers are joined."
because = "A clipped edge that frays loses a yarn each time it is handled."
basis   = "practice"
sources = ["practice"]
fires   = ["bagged-lining, lining silk-taffeta"]
quiet   = ["bagged-lining, lining cotton-percale", "single-layer"]
`

func load(t testing.TB, files ...File) ([]*Rule, error) {
	t.Helper()
	s := testSchema(t)
	s.Imply(implies(s))
	rs, _, err := Load(s, files...)
	return rs, err
}

func TestLoadedRuleKeepsEverything(t *testing.T) {
	rs, err := load(t, File{Name: "data/rules/fray.toml", Data: []byte(clip)})
	require.NoError(t, err)
	require.Len(t, rs, 1)
	r := rs[0]
	require.Equal(t, "lining-frays-clip-after-joining", r.ID)
	require.Equal(t, "data/rules/fray.toml:2:1", r.Place)
	require.Equal(t, Do, r.Effect)
	require.Equal(t, &Step{Move: "clip-curves", After: "join-layers"}, r.Step)
	require.Equal(t, "practice", r.Basis)
	require.Equal(t, []string{"practice"}, r.Sources)
	require.Equal(t, []string{"bagged-lining, lining silk-taffeta"}, r.Fires)
	require.Equal(t, []When{{"finish", "bagged-lining", "data/rules/fray.toml:4:1"}, {"lining.fray", "at least medium", "data/rules/fray.toml:5:1"}}, r.When())
	require.Equal(t, "lining.fray = at least medium", r.When()[1].String())
	require.Empty(t, r.About())
	require.Len(t, r.Facts(), 2)
	require.False(t, r.House)
}

func TestFlagsAndCountsMayBeBare(t *testing.T) {
	src := strings.Replace(clip, `when.lining.fray = "at least medium"`, "when.piece.faces = 2\nwhen.finish.turned = true\nwhen.piece.stage = false", 1)
	src = strings.Replace(src, `when.finish      = "bagged-lining"`, "when.finish.lined = true", 1)
	src = strings.Replace(src, "when.finish.turned = true\n", "", 1)
	rs, err := load(t, File{Name: "a.toml", Data: []byte(src)})
	require.NoError(t, err)
	require.Equal(t, []When{{"finish.lined", "yes", "a.toml:4:1"}, {"piece.faces", "2", "a.toml:5:1"}, {"piece.stage", "no", "a.toml:6:1"}}, rs[0].When())
}

// about builds a rule with other conditions, effect and id.
func about(id, effect string, when ...string) string {
	return "[[rule]]\nid = \"" + id + "\"\n" + strings.Join(when, "\n") + "\neffect = \"" + effect +
		"\"\nsay = \"Do so.\"\nbecause = \"It is so.\"\nbasis = \"practice\"\nsources = [\"practice\"]\nfires = [\"cowl\"]\nquiet = [\"sash\"]\n"
}

func TestAboutIsTheCandidateNamedFirst(t *testing.T) {
	for want, when := range map[string][]string{
		"":            {`when.shell.fray = "low"`},
		"seam":        {`when.shell.fray = "low"`, `when.seam.sheer = true`, `when.interfacing = "light-fusible"`},
		"edge":        {`when.edge = "rolled-hem"`},
		"interfacing": {`when.interfacing.attach = "fuse"`, `when.seam = "french-seam"`},
	} {
		rs, err := load(t, File{Name: "a.toml", Data: []byte(about("a", "for", when...))})
		require.NoError(t, err)
		require.Equal(t, want, rs[0].About())
	}
}

func TestHouseRules(t *testing.T) {
	house := `[[rule]]
id = "mine"
when.shell.fray = "high"
effect = "caution"
say = "Mind it."
because = "I know it."
basis = "practice"
sources = ["own"]
`
	rs, err := load(t, File{Name: "house.toml", Data: []byte(house), House: true})
	require.NoError(t, err, "fires and quiet may be left out, and own experience is a source")
	require.True(t, rs[0].House)
	_, err = load(t, File{Name: "house.toml", Data: []byte(house + "needle = \"ball point\"\n"), House: true})
	require.NoError(t, err, "earlier house files could name a needle's point")
	_, err = load(t, File{Name: "data/rules/a.toml", Data: []byte(house + "needle = \"ball point\"\n")})
	require.ErrorContains(t, err, `unknown key "needle"`)
	_, err = load(t, File{Name: "data/rules/a.toml", Data: []byte(house)})
	require.ErrorContains(t, err, `source "own" stands in a file that is not your own`)
	require.ErrorContains(t, err, "fires is missing")
}

func TestReplacing(t *testing.T) {
	base := File{Name: "a.toml", Data: []byte(about("one", "for", `when.shell.fray = "low"`) + about("two", "for", `when.shell.fray = "none"`))}
	mine := func(id, replaces string) File {
		src := about(id, "forbids", `when.shell.fray = "low"`)
		if replaces != "" {
			src += "replaces = \"" + replaces + "\"\n"
		}
		return File{Name: "house.toml", Data: []byte(src), House: true}
	}
	names := func(rs []*Rule) (out []string) {
		for _, r := range rs {
			out = append(out, r.ID+" "+r.Effect.String())
		}
		return out
	}
	rs, err := load(t, base, mine("one", "one"))
	require.NoError(t, err, "the rule that would contradict it is gone")
	require.Equal(t, []string{"two for", "one forbids"}, names(rs))
	rs, err = load(t, base, mine("other", "one"))
	require.NoError(t, err)
	require.Equal(t, []string{"two for", "other forbids"}, names(rs))
	_, err = load(t, base, mine("two", ""))
	require.ErrorContains(t, err, `house.toml:2:6: id "two" is taken by a.toml:11:1`)
	require.ErrorContains(t, err, `or add replaces = "two"`)
	_, err = load(t, base, mine("other", "onne"))
	require.ErrorContains(t, err, `replaces "onne", but no rule before it has that id`)
	require.ErrorContains(t, err, `did you mean "one"?`)
	_, err = load(t, mine("other", "one"), base)
	require.ErrorContains(t, err, "no rule before it has that id")
}

// TestMessages reads files with slips and compares what is said of them with
// the golden text. Every file is read as a house file unless it begins with
// "# project".
func TestMessages(t *testing.T) {
	files, err := filepath.Glob("testdata/slips/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		name := filepath.Base(file)
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			_, err = load(t, File{Name: name, Data: data, House: !strings.HasPrefix(string(data), "# project")})
			require.Error(t, err)
			var b strings.Builder
			for _, f := range fault.All(err) {
				require.Equal(t, fault.BadData, f.Kind)
				b.WriteString(f.Error() + "\n")
			}
			golden := strings.TrimSuffix(file, ".toml") + ".golden"
			if *update {
				require.NoError(t, os.WriteFile(golden, []byte(b.String()), 0o644))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			require.Equal(t, string(want), b.String())
		})
	}
}

// TestOneSlipOneFinding makes one slip after the other in a sound rule.
func TestOneSlipOneFinding(t *testing.T) {
	for _, c := range []struct{ name, was, is, want string }{
		{"word off the scale", `"at least medium"`, `"at least medum"`,
			"house.toml:5:30: \"medum\" is not on the scale of fray\n  expected: none, low, medium, high\n  mend: did you mean \"medium\"?"},
		{"unknown fact", `when.lining.fray `, `when.lining.frey `,
			"house.toml:5:6: unknown fact \"lining.frey\"\n  expected: a fact of lining, one of bending-length, cloth, colour, fibre, fray, mass …\n  mend: did you mean \"lining.fray\"? `tenter rule facts` lists them all"},
		{"unknown group", `when.lining.fray `, `when.linning.fray `,
			"house.toml:5:6: unknown fact \"linning.fray\"\n  expected: a fact of piece, finish, seam, edge, interfacing, wearer, make-up, shell or lining\n  mend: did you mean \"lining.fray\"? `tenter rule facts` lists them all"},
		{"no unit", `when.lining.fray = "at least medium"`, `when.shell.mass  = "80"`,
			"house.toml:5:20: mass is compared with \"80\", which has no unit\n  expected: \"80 g/m2\""},
		{"bare number for a measure", `when.lining.fray = "at least medium"`, `when.shell.mass  = 80`,
			"house.toml:5:20: mass is compared with \"80\", which has no unit\n  expected: \"80 g/m2\""},
		{"other unit", `when.lining.fray = "at least medium"`, `when.shell.mass  = "3 cm"`,
			"house.toml:5:20: mass is compared with \"3 cm\"\n  expected: mass is in g/m2"},
		{"list for a choice", `"at least medium"`, `["low", "high"]`,
			"house.toml:5:20: lining.fray is a list in [ ]\n  expected: the words of a condition: " + forms + "\n  mend: a choice is written \"X or Y\""},
		{"because missing", "because = \"A clipped edge that frays loses a yarn each time it is handled.\"\n", "",
			"house.toml:2:1: because is missing\n  expected: one sentence a maker would accept as a reason"},
		{"one bracket", "[[rule]]", "[rule]",
			"house.toml:2:1: [rule] has one bracket\n  expected: [[rule]] begins each rule"},
		{"curly quotes", `= "do"`, `= “do”`,
			"house.toml:6:11: “do” stands in curly quotes\n  expected: \"do\" in straight ones"},
		{"unknown source", `sources = ["practice"]`, `sources = ["B7"]`,
			"house.toml:11:12: source \"B7\" is not in sources.csv\n  expected: \"own\" for your own experience, or an id of sources.csv\n  mend: did you mean \"B1\"?"},
		{"published on nothing read", `basis   = "practice"`, `basis   = "published"`,
			"house.toml:10:11: basis is published, but no source of it was read\n  expected: memory or practice\n  mend: read the source, or say what the rule rests on"},
		{"no such basis", `basis   = "practice"`, `basis   = "practise"`,
			"house.toml:10:11: basis is \"practise\"\n  expected: published, memory or practice\n  mend: did you mean \"practice\"?"},
		{"can never fire, no lining", `"bagged-lining"`, `"single-layer"`,
			"house.toml:5:1: can never fire: line 4 wants single-layer, which has no lining\n  expected: conditions that can hold together\n  mend: widen one of the two, or make two rules of it"},
		{"wrong effect", `"do"`, `"doo"`,
			"house.toml:6:11: effect is \"doo\"\n  expected: forbids, against, for, caution or do\n  mend: did you mean \"do\"?"},
		{"step of no effect", `"do"`, `"caution"`,
			"house.toml:7:11: only a rule with effect = \"do\" has a step\n  expected: effect = \"do\", or no step"},
		{"step without place", `, after = "join-layers"`, ``,
			"house.toml:7:20: the step has no place\n  expected: after = \"…\" or before = \"…\""},
		{"two steps", `move = "clip-curves"`, `drop = "turn", move = "clip-curves"`,
			"house.toml:7:11: the step has both move and drop\n  expected: one of add, move, drop or say\n  mend: make two rules of it"},
		{"no such step", `"clip-curves"`, `"clip-curve"`,
			"house.toml:7:20: there is no step \"clip-curve\"\n  expected: a step of a finish, or one that a rule adds\n  mend: did you mean \"clip-curves\"?"},
		{"unknown key of a step", `after =`, `afer =`,
			"house.toml:7:20: the step has no place\n  expected: after = \"…\" or before = \"…\"\n" +
				"house.toml:7:35: unknown key \"afer\"\n  expected: one of add, move, drop, say, after, before\n  mend: did you mean \"after\"?"},
		{"id not an id", `"lining-frays-clip-after-joining"`, `"Lining frays"`,
			"house.toml:3:20: id \"Lining frays\" is not written as an id\n  expected: lower-case words joined by hyphens\n  mend: \"lining-frays\""},
		{"no full stop", `are joined."`, `are joined"`,
			"house.toml:8:11: say does not end with a full stop\n  expected: at most 3 short sentences, with a full stop at the end"},
		{"four sentences", `are joined."`, `are joined. Then clip. Then turn. Then press."`,
			"house.toml:8:99: say has more sentences than 3\n  expected: at most 3 short sentences\n  mend: say less, or make two rules of it"},
		{"too long", `are joined."`, strings.Repeat("are joined and ", 13) + `sewn."`,
			"house.toml:8:11: say has 253 characters\n  expected: at most 240\n  mend: say less, or make two rules of it"},
		{"unknown key", `because =`, `becuase =`,
			"house.toml:2:1: because is missing\n  expected: one sentence a maker would accept as a reason\n" +
				"house.toml:9:1: unknown key \"becuase\"\n  expected: one of id, effect, say, because, basis, sources, fires, quiet, when, matter, harm, replaces, step, needle\n  mend: did you mean \"because\"?"},
		{"no conditions", "when.finish      = \"bagged-lining\"\nwhen.lining.fray = \"at least medium\"\n", "",
			"house.toml:2:1: when is missing\n  expected: at least one condition, when.FACT = \"WORDS\""},
		{"when is a text", "when.finish      = \"bagged-lining\"\nwhen.lining.fray = \"at least medium\"\n", "when = \"it frays\"\n",
			"house.toml:4:8: when is text in \"quotation marks\"\n  expected: a block"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, clip, c.was)
			_, err := load(t, File{Name: "house.toml", Data: []byte(strings.Replace(clip, c.was, c.is, 1)), House: true})
			require.Error(t, err)
			require.Equal(t, c.want, err.Error())
		})
	}
}

func TestSoundRulesComeWithTheFindings(t *testing.T) {
	rs, err := load(t, File{Name: "a.toml", Data: []byte(about("good", "for", `when.shell.fray = "low"`) + about("bad", "four", `when.shell.fray = "lw"`))})
	require.Len(t, fault.All(err), 2)
	require.Len(t, rs, 1)
	require.Equal(t, "good", rs[0].ID)
}

func TestEffectsAreWordsInJSON(t *testing.T) {
	b, err := json.Marshal(map[string]any{"effect": Against})
	require.NoError(t, err)
	require.JSONEq(t, `{"effect":"against"}`, string(b))
	var e struct{ Effect Effect }
	require.NoError(t, json.Unmarshal([]byte(`{"Effect":"caution"}`), &e))
	require.Equal(t, Caution, e.Effect)
	require.Error(t, json.Unmarshal([]byte(`{"Effect":"nonsense"}`), &e))
	require.Equal(t, "unknown effect", Effect(9).String())
}

// An id is lower-case words and figures joined by single hyphens, a letter first.
func TestTheFormOfAnID(t *testing.T) {
	for id, want := range map[string]bool{"a": true, "z": true, "a0": true, "a9": true, "cotton-lawn": true, "3d": false, "0": false, "": false, "-a": false, "a-": false, "a--b": false,
		"A": false, "a_b": false, "a:b": false, "a/b": false, "{": false, "`": false, "a-9": true, "ä": false} {
		require.Equal(t, want, kebab(id), "%q", id)
	}
}

// What is cited: own experience in one's own file alone, a source that is read for what is published.
func TestSourcesOfARule(t *testing.T) {
	rule := func(basis, sources string) string {
		return strings.NewReplacer(`basis   = "practice"`, `basis   = "`+basis+`"`, `sources = ["practice"]`, `sources = [`+sources+`]`).Replace(clip)
	}
	for _, x := range []struct{ basis, sources, want string }{
		{"practice", `"practice"`, ""},
		{"published", `"B1"`, ""},
		{"practice", ``, "sources is empty"},
		{"practice", `"own"`, `source "own" stands in a file that is not your own`},
		{"practice", `"B7"`, `"B7"`},
	} {
		_, err := load(t, File{Name: "a.toml", Data: []byte(rule(x.basis, x.sources))})
		if x.want == "" {
			require.NoError(t, err, x.sources)
			continue
		}
		require.ErrorContains(t, err, x.want)
	}
}
