package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

// wrongCalls are slips that people make, with a word that the answer must hold.
var wrongCalls = []struct{ call, holds string }{
	{"check --piece cowl", "which cloth? example: tenter check denim --piece cowl"},
	{"check", "which cloth?"},
	{"check denim --piece cowle", `no piece is called "cowle"`},
	{"check satn --piece cowl", "did you mean"},
	{"check polyester --piece cowl", "name one in full"},
	{"check denim --piece cowl --finish single-lair", "finish"},
	{"check denim --piece cowl --mass heavy", "--mass"},
	{"check denim --piece cowl --mass 9kg", "--mass"},
	{"check denim --piece cowl --bending-length 40cm", "0.3 to 12 cm"},
	{"check denim --piece cowl --colour pink", "white"},
	{"check denim --piece cowl --hand woolly", "limp or stiff"},
	{"check denim --piece cowl --wearer baby", "adult or child"},
	{"check denim --piece cowl --seam glue", "seam"},
	{"check denim --piece cowl --wish cheap-ish", "wish"},
	{"check denim --piece cowl --lining-mass 90gsm", "--lining cloth"},
	{"check denim --piece", "a value is missing"},
	{"check denim --peace cowl", "--piece"},
	{"check denim --piece cowl --units stone", "metric"},
	{"check denim twill --piece", "a value is missing"},
	{"advise", "piece"},
	{"advise cowle", "cowl"},
	{"advise denim", "is a cloth"},
	{"advise hood --piece cowl", "two pieces"},
	{"advise --piece cowl --finish single-layer-hem --limit many", "whole number"},
	{"pair a b c", "these are 3 cloths"},
	{"pair denim", "what is to be made"},
	{"cut", "a piece"},
	{"cut cowl", "--shell"},
	{"cut cowl --shell denim --width 20m", "--width"},
	{"card", "--out"},
	{"drape", "which piece?"},
	{"show", "of what name?"},
	{"show nothingofthekind", "nothingofthekind"},
	{"search", "nothing to look for"},
	{"search silk --kind silks", "kind"},
	{"search silk --max-mass x", "--max-mass"},
	{"list", "which kind?"},
	{"list clothes", "cloths"},
	{"compare denim", "which cloth?"},
	{"source zzz", "tenter list sources"},
	{"test foo", "there is no home test"},
	{"reckon", "which sum?"},
	{"reckon droop", "--overhang"},
	{"reckon droop --overhang x", "--overhang"},
	{"rule show zzz", "zzz"},
	{"rule check nothere.toml", "nothere.toml"},
	{"rule add", "which one?"},
	{"rule silence zzz --because x", "zzz"},
	{"swatch add", "of what name?"},
	{"swatch show gold", "gold"},
	{"swatch measure gold mass 3g", "gold"},
	{"swatch import nothere.csv", "nothere.csv"},
	{"note add cowl", "what text?"},
	{"note remove x", "x"},
	{"favourite add zzz", "zzz"},
	{"wear add denim", "--verdict"},
	{"store restore nothere.db", "nothere.db"},
	{"undo", "nothing to undo"},
	{"redo", "nothing to make again"},
	{"learn maybe", "maybe"},
	{"frobnicate", "tenter help"},
	{"chek denim", "check"},
	{"--frob", "--frob"},
	{"page --addr 0.0.0.0:80", "127.0.0.1"},
}

// An error says what is wrong and the way out, in three lines and 45 words at most.
func TestErrorsAreShort(t *testing.T) {
	atHome(t)
	for _, x := range wrongCalls {
		t.Run(x.call, func(t *testing.T) {
			out, errs, code := called(t, strings.Fields(x.call)...)
			require.NotZero(t, code, out)
			require.Empty(t, out)
			flat := strings.ToLower(strings.Join(strings.Fields(errs), " "))
			require.Contains(t, flat, strings.ToLower(x.holds))
			lines := strings.Split(strings.TrimSpace(errs), "\n")
			faults := 0 // a call may hold several slips, each with its own lines
			for _, l := range lines {
				require.LessOrEqual(t, utf8.RuneCountInString(l), 80, l)
				if !strings.HasPrefix(l, " ") {
					faults++
				}
			}
			require.LessOrEqual(t, len(lines), maxFaultLines*faults, errs)
			require.LessOrEqual(t, len(strings.Fields(errs)), maxFaultWords*faults, errs)
			require.NotContains(t, errs, "expected: ")
			require.NotContains(t, errs, "mend: ")
			require.NotContains(t, errs, "arg(s)")
		})
	}
}
