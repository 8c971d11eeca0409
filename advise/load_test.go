package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/plain"
	"tenter/fibres/fault"
)

// With tells a loader with no more than the built-in catalogue and facts.
func bareLoader(t *testing.T) *loader {
	t.Helper()
	return &loader{a: newAdviser(adviser(t).Cat)}
}

// readAs decodes a text and reads it, and gives what is found wrong with it.
func (l *loader) readAs(text string, read func(*plain.Doc)) []string {
	l.found = nil
	l.decode("x.toml", []byte(text), read)
	var out []string
	for _, f := range fault.All(l.found.OrNil()) {
		out = append(out, strings.TrimSuffix(f.Where+": "+f.What+"; "+f.Expected+"; "+f.Mend, "; "))
	}
	return out
}

const soundPiece = `[[piece]]
id = "sail"
name = "sail"
synonyms = ["canvas"]
group = "hanging"
shape = "triangle"
support = "rod"
hang = "2 m"
flap = "30 cm"
features = ["corner"]
faces = 2
wearer = "none"
wash = "never"
stage = true
say = "It fills."
basis = "practice"
sources = ["practice"]
[[piece.parts]]
name = "sail"
count = 2
width = "3 m"
height = "2 m"
shape = "triangle"
grain = "width"
shell-only = true
[[piece.parts]]
name = "patch"
width = "10 cm"
height = "5 cm"
[[piece.seams]]
name = "luff edge"
length = "5 m"
[[piece.demand]]
id = "mass"
fact = "make-up.mass"
ideal = "150 to 250 g/m2"
limit = "100 to 400 g/m2"
harm = 3
say = "Heavy enough to fill."
basis = "practice"
sources = ["practice"]
[[piece.demand]]
id = "fray"
fact = "shell.fray"
ideal = "none to low"
limit = "medium"
say = "Its edge is raw."
basis = "practice"
sources = ["practice"]
`

// A piece is what its block says, every key of it.
func TestAPieceIsWhatItsBlockSays(t *testing.T) {
	l := bareLoader(t)
	require.Equal(t, []string{`x.toml:46:9: the limit does not hold the ideal range; limit low ≤ ideal low ≤ ideal high ≤ limit high`}, l.readAs(soundPiece, l.pieces), "medium alone leaves none to low out")
	l = bareLoader(t)
	require.Empty(t, l.readAs(strings.Replace(soundPiece, `limit = "medium"`, `limit = "none to medium"`, 1), l.pieces))
	p, err := l.a.Piece("canvas")
	require.NoError(t, err)
	require.Equal(t, []string{"sail", "sail", "hanging", "triangle", "rod", "none", "never", "It fills."}, []string{p.ID, p.Name, p.Group, p.Shape, p.Support, p.Wearer, p.Wash, p.Say})
	require.Equal(t, []float64{200, 30}, []float64{float64(p.Hang), float64(p.Flap)})
	require.Equal(t, []string{"corner"}, p.Features)
	require.Equal(t, 2, p.Faces)
	require.True(t, p.Stage)
	require.Equal(t, []PiecePart{{Name: "sail", Count: 2, Width: 300, Height: 200, Shape: "triangle", Grain: "width", ShellOnly: true}, {Name: "patch", Count: 1, Width: 10, Height: 5}}, p.Parts)
	require.Equal(t, []PieceSeam{{"luff edge", 500}}, p.Seams)
	mass, fray := p.Demands[0], p.Demands[1]
	require.Equal(t, []Bounds{{150, 250}, {100, 400}}, []Bounds{mass.Ideal, mass.Limit})
	require.Equal(t, []any{"g/m2", 3, "weight", false}, []any{mass.Unit, mass.Harm, mass.Matter, mass.graded})
	require.Equal(t, "make-up.mass", l.a.facts[mass.upperFact-1].Name, "its upper end is asked of both layers")
	require.NotEqual(t, mass.upperFact-1, mass.fact, "its lower of the shell")
	require.Equal(t, []Bounds{{0, 1}, {0, 2}}, []Bounds{fray.Ideal, fray.Limit})
	require.Equal(t, []any{"level", 0, "fray", true, [2]string{"none", "low"}}, []any{fray.Unit, fray.Harm, fray.Matter, fray.graded, fray.Words})
	require.Zero(t, fray.upperFact)
}

// Every slip of a block is told with its place and what was expected, and alone.
func TestSlipsOfBlocks(t *testing.T) {
	sound := strings.Replace(soundPiece, `limit = "medium"`, `limit = "none to medium"`, 1)
	for _, x := range []struct{ was, is, said string }{
		{`id = "sail"`, ``, `id is missing; lower-case words joined by hyphens`},
		{`name = "sail"`, ``, `name is missing; what it is called`},
		{`group = "hanging"`, `group = "hangin"`, `group is "hangin"; `},
		{`group = "hanging"`, ``, `group is missing; `},
		{`wash = "never"`, `wash = "no"`, `wash is "no"; often, seldom, never`},
		{`["corner"]`, `["corners"]`, `feature "corners" is not known; `},
		{`hang = "2 m"`, `hang = "2"`, `"2"`},
		{`hang = "2 m"`, `hang = "200 g/m2"`, `200 g/m2`},
		{`grain = "width"`, `grain = "wide"`, `grain is "wide"; height, width, either, bias`},
		{`fact = "make-up.mass"`, `fact = "make-up.mas"`, `unknown fact "make-up.mas"; a number or graded fact; did you mean "make-up.mass" or `},
		{`fact = "make-up.mass"`, `fact = "piece"`, `piece is neither a number nor graded; a fact that has more and less; say it as a rule`},
		{`ideal = "150 to 250 g/m2"`, `ideal = "15 to 25 cm"`, `cm`},
		{`limit = "100 to 400 g/m2"`, `limit = "160 to 400 g/m2"`, `the limit does not hold the ideal range; limit low ≤ ideal low ≤ ideal high ≤ limit high`},
		{`limit = "100 to 400 g/m2"`, `limit = "100 to 240 g/m2"`, `the limit does not hold the ideal range; `},
		{`ideal = "none to low"`, `ideal = "non to low"`, `"non to low" is not on the scale; none, low, medium, high; "none to low"`},
		{`harm = 3`, `harm = 6`, `harm is 6; 1 time or money`},
		{`harm = 3`, `harm = 0`, `harm is 0; 1 time or money`},
		{`harm = 3`, `harm = 2.5`, `harm is 2.5; 1 time or money`},
		{`harm = 3`, `matter = "wieght"`, `matter "wieght" is not in matters.csv; the id of a matter, or one of fall, `},
		{`sources = ["practice"]`, `sources = ["nobody"]`, `source "nobody" is not in sources.csv; the id of a source; "own" for your own experience, or add the source`},
		{`basis = "practice"`, `basis = "practise"`, `basis is "practise"; published, memory, practice, derived; did you mean "practice"?`},
		{`faces = 2`, `face = 2`, `unknown key "face"; `},
	} {
		require.Contains(t, sound, x.was)
		l := bareLoader(t)
		got := l.readAs(strings.Replace(sound, x.was, x.is, 1), l.pieces)
		require.Len(t, got, 1, "%s: one slip is told once: %q", x.is, got)
		require.Regexp(t, `^x\.toml:\d+:\d+: `, got[0])
		require.Contains(t, got[0], x.said, x.is)
	}
	l := bareLoader(t)
	require.Contains(t, l.readAs(sound+sound, l.pieces)[0], `id "sail" is there twice; each id once; rename one of them`)
	l = bareLoader(t)
	require.Equal(t, []string{`x.toml:2:6: no piece before it has the id "sale"; a piece that stands before its variants`}, l.readAs("[[variant]]\nof = \"sale\"\n", l.pieces))
}

// What is cited as published was read.
func TestPublishedIsWhatWasRead(t *testing.T) {
	l := bareLoader(t)
	for id, s := range l.a.Cat.Sources {
		text := strings.NewReplacer(`basis = "practice"`, `basis = "published"`, `["practice"]`, `["`+id+`"]`).Replace(strings.Replace(soundPiece, `limit = "medium"`, `limit = "none to medium"`, 1))
		got := bareLoader(t)
		found := got.readAs(text, got.pieces)
		require.Equal(t, s.Read, len(found) == 0, "%s: %q", id, found)
		if !s.Read {
			require.Contains(t, found[0], "was not read; memory; read the source, or say memory")
		}
	}
}

// A demand of a word is refused as one, though it is the first of all facts.
func TestADemandOfAWord(t *testing.T) {
	l := bareLoader(t)
	require.Equal(t, "wearer", l.a.facts[0].Name)
	got := l.readAs(strings.Replace(soundPiece, `fact = "make-up.mass"`, `fact = "wearer"`, 1), l.pieces)
	require.Contains(t, got[0], "wearer is neither a number nor graded")
}
