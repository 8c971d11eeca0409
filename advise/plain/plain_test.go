package plain

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

const good = `# pieces
version = 1_0

[[piece]]
id       = "cowl"
hang     = '40 cm'
faces    = 2.5
stage    = true
features = ["hood", "neck opening"]
parts    = [ { name = "front", count = 1 },
             { name = "back", count = 2 } ]
when.lining.fray = "at least medium"
when.finish = "single-layer"
[[piece.demand]]
id = "fall"
[[piece.demand]]
id = "mass"

[[piece]]
id = "sash"
strip = { width = "12 mm", layers = 4 }
[piece.note]
say = "Ünlined, é"
`

func TestTypedAccess(t *testing.T) {
	d, err := Decode("p.toml", []byte(good))
	require.NoError(t, err)
	n, ok := d.Number("version")
	require.True(t, ok)
	require.Equal(t, 10.0, n)
	ps := d.Tables("piece")
	require.Len(t, ps, 2)
	p := ps[0]
	require.Equal(t, "p.toml:4:1", p.Where())
	require.Equal(t, "cowl", p.String("id"))
	require.Equal(t, "40 cm", p.String("hang"))
	faces, _ := p.Number("faces")
	require.Equal(t, 2.5, faces)
	stage, there := p.Bool("stage")
	require.True(t, stage)
	require.True(t, there)
	require.Equal(t, []string{"hood", "neck opening"}, p.Strings("features"))
	require.Equal(t, "p.toml:9:21", p.Value("features").List()[1].Where())
	require.Equal(t, "p.toml:9:12", p.WhereOf("features"))
	parts := p.Tables("parts")
	require.Len(t, parts, 2)
	require.Equal(t, "back", parts[1].String("name"))
	require.Equal(t, "p.toml:11:14", parts[1].Where())
	require.Equal(t, "p.toml:11:23", parts[1].WhereOf("name"))
	require.Len(t, p.Tables("demand"), 2)
	require.Equal(t, "mass", p.Tables("demand")[1].String("id"))
	require.Equal(t, "12 mm", ps[1].Table("strip").String("width"))
	require.Equal(t, "Ünlined, é", ps[1].Table("note").String("say"))
	require.Nil(t, ps[1].Table("nothing"))
	require.Empty(t, ps[1].String("hang"))
	require.NoError(t, d.Err())
}

func TestLeavesKeepOrderAndPlaces(t *testing.T) {
	d, err := Decode("p.toml", []byte(good))
	require.NoError(t, err)
	l := d.Tables("piece")[0].Table("when").Leaves()
	require.Len(t, l, 2)
	require.Equal(t, "lining.fray", l[0].Key())
	require.Equal(t, "p.toml:12:6", l[0].WhereKey())
	require.Equal(t, "p.toml:12:1", l[0].WhereLine())
	require.Equal(t, "p.toml:12:20", l[0].Value.Where())
	require.Equal(t, "p.toml:12:30", l[0].Value.WhereIn(9))
	require.Equal(t, "finish", l[1].Key())
	require.Equal(t, "p.toml:13:6", l[1].WhereKey())
	require.Equal(t, 13, l[1].Line())
}

func TestLeavesOfAHeaderAndAnInlineTable(t *testing.T) {
	for name, src := range map[string]string{
		"header":     "[[rule]]\n[rule.when]\nlining.fray = \"low\"",
		"inline":     "[[rule]]\nwhen = { lining.fray = \"low\" }",
		"deep":       "[[rule]]\n[rule.when.lining]\nfray = \"low\"",
		"quoted key": "[[rule]]\nwhen.\"lining.fray\" = \"low\"",
	} {
		t.Run(name, func(t *testing.T) {
			d, err := Decode("r.toml", []byte(src))
			require.NoError(t, err)
			l := d.Tables("rule")[0].Table("when").Leaves()
			require.Len(t, l, 1)
			require.Equal(t, "lining.fray", l[0].Key())
			require.Equal(t, "low", l[0].Value.Text())
		})
	}
}

func TestColumnsCountCharacters(t *testing.T) {
	d, err := Decode("p.toml", []byte("\ufeffa = [\"é€\", \"b\"]\r\nb = 1\r\n"))
	require.NoError(t, err)
	require.Equal(t, "p.toml:1:12", d.Value("a").List()[1].Where())
	require.Equal(t, "p.toml:2:5", d.WhereOf("b"))
}

// find returns the findings as "place what", one a line.
func find(err error) []string {
	var out []string
	if err == nil {
		return nil
	}
	for _, f := range fault.All(err) {
		s := strings.TrimPrefix(f.Where, "p.toml:") + " " + f.What
		if f.Expected != "" {
			s += " | " + f.Expected
		}
		if f.Mend != "" {
			s += " | " + f.Mend
		}
		out = append(out, s)
	}
	return out
}

func TestSlipsOfTheFormat(t *testing.T) {
	for _, c := range []struct {
		name, src string
		want      []string
	}{
		{"curly quotes", "[[rule]]\neffect  = “do”\nid = \"a\"",
			[]string{`2:11 “do” stands in curly quotes | "do" in straight ones`}},
		{"one curly quote", "id = \"do”\neffect = \"for\"",
			[]string{`1:9 the text begins with a straight quote and ends with a curly one | "…" in straight ones`}},
		{"no closing quote", "say = \"Clip.\nid = \"a\"",
			[]string{`1:7 the text has no closing quotation mark | "…" on one line`}},
		{"no quotes", "effect = do\nx = 80 g/m2\ny = for\nz = true story",
			[]string{`1:10 do stands without quotation marks | "do"`,
				`2:5 80 g/m2 stands without quotation marks | "80 g/m2"`,
				`3:5 for stands without quotation marks | "for"`,
				`4:5 true story stands without quotation marks | "true story"`}},
		{"quotes inside a text", "say = \"Leave 1\" free.\"",
			[]string{`1:17 something follows the value | one value, and nothing after it on its line | quotation marks inside a text are written '…', inches are written in`}},
		{"list not closed, next line read", "sources = [\"a\"\nsay = \"b\"\nsay = \"c\"",
			[]string{`2:1 a comma or the closing ] of the list is missing before here | ["one", "two"]`,
				`3:1 "say" stands twice, here and on line 2 | one line for one key`}},
		{"no comma", "sources = [\"a\" \"b\"]\n",
			[]string{`1:16 a comma or the closing ] of the list is missing before here | ["one", "two"]`}},
		{"no equals sign", "say \"b\"\nid 5",
			[]string{`1:5 no = after the key | name = "value"`}},
		{"no value", "say =\nid = \"a\"", []string{`1:6 no value after say = | name = "value"`}},
		{"prose", "- a list\nid = \"a\"", []string{`1:3 no = after the key | name = "value"`}},
		{"brackets", "[[rule]\nid = \"a\"\n[[rule]]\nid = \"b\"",
			[]string{`1:7 the brackets of the block do not match | [name] or [[name]]`}},
		{"backslash", `say = "a\q"`, []string{`1:9 a backslash stands in the text | text without \, or in 'single quotes'`}},
		{"nested too deep", "a = " + strings.Repeat("[", 17) + strings.Repeat("]", 17) + "\nb = " + strings.Repeat("{a = ", 17) + "1" + strings.Repeat("}", 17) +
			"\nc" + strings.Repeat(".a", 16) + " = 1\n[d" + strings.Repeat(".a", 16) + "]\ne = 1\n",
			[]string{`1:5 this is nested more than 16 deep | a few levels at most`, `2:85 this is nested more than 16 deep | a few levels at most`,
				`3:33 this is nested more than 16 deep | a few levels at most`, `4:2 this is nested more than 16 deep | a few levels at most`}},
		{"key twice", "a = \"1\"\na = \"2\"", []string{`2:1 "a" stands twice, here and on line 1 | one line for one key`}},
		{"value and facts of it", "when.finish = \"a\"\nwhen.finish.turned = true",
			[]string{`2:6 "finish" stands twice, here and on line 1 | one value for one key | to use both finish and a fact of it, put the longer one in quotation marks, as in when."finish.…"`}},
		{"facts of it and value", "when.finish.turned = true\nwhen.finish = \"a\"",
			[]string{`2:6 "finish" stands twice, here and on line 1 | one value for one key | to use both finish and a fact of it, put the longer one in quotation marks, as in when."finish.…"`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Decode("p.toml", []byte(c.src))
			require.NotNil(t, d)
			require.Equal(t, c.want, find(err))
		})
	}
}

func TestReadsOnAfterASlip(t *testing.T) {
	d, err := Decode("p.toml", []byte("[[rule]]\nid = \"a\"\nsay = Clip it.\nbecause = \"b\"\n[[rule]]\nid = \"c\"\n"))
	require.Len(t, find(err), 1)
	r := d.Tables("rule")
	require.Len(t, r, 2)
	require.Equal(t, "b", r[0].String("because"))
	require.True(t, r[0].Broken())
	require.False(t, r[0].Need("say", "a sentence"), "it is not there")
	require.Len(t, find(d.Err()), 1, "but a slip may hide it, so it is not said to be missing")
	require.False(t, r[1].Need("say", "one sentence"))
	require.Equal(t, "5:1 say is missing | one sentence", find(d.Err())[1])
}

func TestWrongSorts(t *testing.T) {
	d, err := Decode("p.toml", []byte("a = 1\nb = \"x\"\nc = [1, \"y\"]\nd = \"yes\"\ne = \"5\"\nf = [\"z\"]\ng = nan\nh = 2026-11-25\n[i]\n"))
	require.NoError(t, err)
	d.String("a")
	d.Strings("b")
	require.Equal(t, []string{"y"}, d.Strings("c"))
	d.Bool("d")
	d.Number("e")
	d.Tables("f")
	d.Number("g")
	d.String("h")
	d.String("i")
	require.Equal(t, []string{
		`1:5 a is a number | text in "quotation marks" | "1"`,
		`2:5 b is text in "quotation marks" | a list in [ ] | ["x"]`,
		`3:6 an element of the list is a number | text in "quotation marks" | "1"`,
		`4:5 d is text in "quotation marks" | true or false | true, without quotation marks`,
		`5:5 e is text in "quotation marks" | a number | the number without quotation marks`,
		`6:6 an element of the list is text in "quotation marks" | a block`,
		`7:5 g is nan, not a number | a figure such as 2 or 1.5`,
		`8:5 h is a date | text in "quotation marks" | "2026-11-25"`,
		`9:1 i is a block | text in "quotation marks"`,
	}, find(d.Err()))
}

func TestOneBracketForTwo(t *testing.T) {
	d, err := Decode("p.toml", []byte("[rule]\nid = \"a\"\n[[rule]]\nid = \"b\"\n[rule]\nid = \"c\"\n[[one]]\n[two]\n[two]\n"))
	require.NoError(t, err)
	require.Len(t, d.Tables("rule"), 3)
	d.Table("one")
	d.Table("two")
	require.Equal(t, []string{
		`1:1 [rule] has one bracket | [[rule]] begins each rule`,
		`5:1 [rule] has one bracket | [[rule]] begins each rule`,
		`7:1 [[one]] has two brackets | [one], because there is one of it`,
		`9:1 [two] stands twice | one block of it | the other begins at p.toml:8:1`,
	}, find(d.Err()))
}

func TestUnknownKeys(t *testing.T) {
	d, err := Decode("p.toml", []byte("saai = \"x\"\n[[rule]]\nbecuase = \"x\"\nid = \"a\"\nstep = { mvoe = \"a\", after = \"b\" }\n[[other]]\nid = \"x\"\n"))
	require.NoError(t, err)
	for _, r := range d.Tables("rule") {
		_ = r.String("id")
		_ = r.String("because")
		s := r.Table("step")
		_ = s.String("move")
		_ = s.String("after")
	}
	require.Equal(t, []string{
		`1:1 unknown key "saai" | one of rule | it stands before the first block; does it belong inside one?`,
		`3:1 unknown key "becuase" | one of id, because, step | did you mean "because"?`,
		`5:10 unknown key "mvoe" | one of move, after | did you mean "move"?`,
		`6:1 unknown key "other" | one of rule`,
	}, find(d.Done()))
	require.NoError(t, d.Err(), "asking for what is unknown adds nothing to the file's own findings")
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte("a = [\n[b]\n"))
	f.Add([]byte("a = \"\"\"x\ny\"\"\"\r\nb = '''z'''"))
	f.Add([]byte("[a]\n[a.b]\n[[a.b]]\nx = {y.z = 1, y = 2}\n"))
	f.Add([]byte("\ufeff“a” = 1\n\x00\n\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Decode("f.toml", data)
		if d == nil {
			t.Fatal("no document")
		}
		if err != nil && len(fault.All(err)) == 0 {
			t.Fatal("an error without a finding")
		}
		walk(t, d.root, 0)
		for _, x := range findings(d.Done()) {
			if !strings.HasPrefix(x.Where, "f.toml:") || x.What == "" {
				t.Fatalf("finding without place or words: %+v", x)
			}
		}
	})
}

func findings(err error) fault.List {
	if err == nil {
		return nil
	}
	return fault.All(err)
}

// walk asks everything of everything.
func walk(t *testing.T, b *Table, depth int) {
	for _, k := range b.Keys() {
		v := b.Value(k)
		if v.Where() == "" || b.WhereOf(k) != v.Where() {
			t.Fatal("a value without a place")
		}
		_ = v.WhereIn(len(v.Text()))
		b.String(k)
		b.Strings(k)
		b.Number(k)
		b.Bool(k)
		if n := b.Table(k); n != nil && depth < 20 {
			n.Leaves()
			walk(t, n, depth+1)
		}
		if depth < 20 {
			for _, n := range b.Tables(k) {
				walk(t, n, depth+1)
			}
		}
	}
}
