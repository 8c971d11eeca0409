package rules

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Pairs of rules of one matter, planted: those that can both speak of one case and cannot both be
// done are refused, with both places; those that can be done, or that part, pass.
func TestOpposedRulesOfOneMatterAreRefused(t *testing.T) {
	const seams = `when.seam = "french-seam"`
	step := func(id, step string, when ...string) string {
		return about(id, "do", when...) + "matter = \"m\"\nstep = { " + step + " }\n"
	}
	of := func(id, effect string, when ...string) string {
		return about(id, effect, when...) + "matter = \"m\"\n"
	}
	for name, x := range map[string]struct{ src, says string }{
		"forbids what the other is for, each on its own condition": {
			of("a", "for", seams, `when.shell.fray = "low"`) + of("b", "forbids", seams, `when.piece = "cowl"`),
			"a.toml:13:1: forbids french-seam that a.toml:1:1 is for"},
		"is for what the other is against": {
			of("a", "against", `when.shell.fray = "low"`) + of("b", "for", `when.piece = "cowl"`),
			"a.toml:12:1: is for a make-up that a.toml:1:1 is against"},
		"drops what the other adds": {
			step("a", `add = "clip-curves", after = "pre-wash"`, `when.shell.fray = "low"`) + step("b", `drop = "clip-curves"`, `when.piece = "cowl"`),
			"drops the step clip-curves that a.toml:1:1 adds"},
		"moves what the other drops": {
			step("a", `drop = "clip-curves"`, `when.shell.fray = "low"`) + step("b", `move = "clip-curves", after = "pre-wash"`, `when.piece = "cowl"`),
			"moves the step clip-curves that a.toml:1:1 drops"},
		"one before the step, one after it": {
			step("a", `move = "clip-curves", before = "pre-wash"`, `when.shell.fray = "low"`) + step("b", `move = "clip-curves", after = "pre-wash"`, `when.piece = "cowl"`),
			"moves the step clip-curves that a.toml:1:1 moves the other way"},

		"they part":    {of("a", "for", seams, `when.shell.fray = "low"`) + of("b", "forbids", seams, `when.shell.fray = "high"`), ""},
		"another seam": {of("a", "for", seams) + of("b", "forbids", `when.seam = "plain-seam"`), ""},
		"what follows from the finish parts them": {
			of("a", "for", `when.finish = "single-layer"`) + of("b", "against", `when.lining.fray = "high"`), ""},
		"both move it to a later place": {
			step("a", `move = "clip-curves", after = "pre-wash"`, `when.shell.fray = "low"`) + step("b", `move = "clip-curves", after = "join-layers"`, `when.piece = "cowl"`), ""},
		"of two matters": {
			about("a", "for", seams, `when.shell.fray = "low"`) + of("b", "forbids", seams, `when.piece = "cowl"`), ""},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := load(t, File{Name: "a.toml", Data: []byte(x.src)})
			if x.says == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, x.says)
			require.ErrorContains(t, err, `add replaces = "a", or narrow one of them`)
		})
	}
}

// A house rule that takes the other's place is heard alone.
func TestReplacedRuleOpposesNothing(t *testing.T) {
	ours := File{Name: "a.toml", Data: []byte(about("a", "for", `when.seam = "french-seam"`) + "matter = \"m\"\n")}
	mine := about("b", "forbids", `when.seam = "french-seam"`, `when.piece = "cowl"`) + "matter = \"m\"\n"
	_, err := load(t, ours, File{Name: "house.toml", Data: []byte(mine), House: true})
	require.ErrorContains(t, err, "house.toml:1:1: forbids french-seam that a.toml:1:1 is for")
	rs, err := load(t, ours, File{Name: "house.toml", Data: []byte(mine + "replaces = \"a\"\n"), House: true})
	require.NoError(t, err)
	require.Len(t, rs, 1)
}
