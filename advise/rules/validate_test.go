package rules

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"tenter/fibres/fault"
)

// TestConditionsThatCannotHoldTogether goes through what two conditions may say of each
// other, each beside its neighbour on the other side of the bound. The answers are worked
// out by hand from what the words mean.
func TestConditionsThatCannotHoldTogether(t *testing.T) {
	s := testSchema(t)
	s.Imply(implies(s))
	for _, x := range []struct {
		when  []string // conditions; the first stands in line 3
		never string   // what is said of them; "" where they can hold together
	}{
		// levels and words
		{[]string{`shell.fray = "low"`, `shell.fray = "at most low"`}, ""},
		{[]string{`shell.fray = "low"`, `shell.fray = "at least medium"`}, "line 3 wants shell.fray = low, line 4 wants shell.fray = at least medium"},
		{[]string{`piece = "cowl or sash"`, `piece = "not cowl"`}, ""},
		{[]string{`piece = "cowl"`, `piece = "not cowl or sash"`}, "line 3 wants piece = cowl, line 4 wants piece = not cowl or sash"},
		{[]string{`piece = "not cowl or sash"`, `piece = "cowl"`}, "line 3 wants piece = not cowl or sash, line 4 wants piece = cowl"},
		{[]string{`piece = "not cowl"`, `piece = "not sash"`}, ""},
		{[]string{`piece = "cowl or sash"`, `piece = "sash or hooded-wrap"`}, ""},
		{[]string{`piece = "cowl"`, `piece = "sash or hooded-wrap"`}, "line 3 wants piece = cowl, line 4 wants piece = sash or hooded-wrap"},
		{[]string{`piece.features = "hood"`, `piece.features = "cord"`}, ""}, // a piece has both
		{[]string{`piece.features = "hood or cord"`, `piece.features = "not hood"`}, ""},
		{[]string{`piece.features = "hood"`, `piece.features = "not hood or cord"`}, "line 3 wants piece.features = hood, line 4 wants piece.features = not hood or cord"},
		{[]string{`piece.features = "not hood or cord"`, `piece.features = "hood"`}, "line 3 wants piece.features = not hood or cord, line 4 wants piece.features = hood"},
		// figures: the bounds belong to "at most" and to a range, not to "under"
		{[]string{`shell.mass = "at most 100 g/m2"`, `shell.mass = "at least 100 g/m2"`}, ""},
		{[]string{`shell.mass = "under 100 g/m2"`, `shell.mass = "at least 100 g/m2"`}, "line 3 wants shell.mass = under 100 g/m2, line 4 wants shell.mass = at least 100 g/m2"},
		{[]string{`shell.mass = "not 80 to 120 g/m2"`, `shell.mass = "100 to 130 g/m2"`}, ""},
		{[]string{`shell.mass = "not 80 to 120 g/m2"`, `shell.mass = "80 to 120 g/m2"`}, "line 3 wants shell.mass = not 80 to 120 g/m2, line 4 wants shell.mass = 80 to 120 g/m2"},
		{[]string{`shell.mass = "not 80 to 120 g/m2"`, `shell.mass = "under 90 g/m2"`}, ""},
		// known and unknown
		{[]string{`shell.mass = "known"`, `shell.mass = "unknown"`}, "line 3 wants shell.mass = known, line 4 wants shell.mass = unknown"},
		{[]string{`shell.mass = "unknown"`, `shell.mass = "over 90 g/m2"`}, "line 3 wants shell.mass = unknown, line 4 wants shell.mass = over 90 g/m2"},
		{[]string{`shell.mass = "known"`, `shell.mass = "over 90 g/m2"`}, ""},
		{[]string{`lining.mass = "unknown"`, `shell.mass = "over lining.mass"`}, "line 3 wants lining.mass = unknown, line 4 wants shell.mass = over lining.mass"},
		{[]string{`shell.mass = "over lining.mass"`, `lining.mass = "unknown"`}, "line 3 wants shell.mass = over lining.mass, line 4 wants lining.mass = unknown"},
		{[]string{`lining.thickness = "unknown"`, `shell.mass = "over lining.mass"`}, ""},
		// one fact over another, and back
		{[]string{`shell.mass = "over lining.mass"`, `lining.mass = "over shell.mass"`}, "line 3 wants shell.mass = over lining.mass, line 4 wants lining.mass = over shell.mass"},
		{[]string{`shell.mass = "at least lining.mass"`, `lining.mass = "at least shell.mass"`}, ""}, // where they are alike
		{[]string{`shell.mass = "at least lining.mass"`, `lining.mass = "over shell.mass"`}, "line 3 wants shell.mass = at least lining.mass, line 4 wants lining.mass = over shell.mass"},
		{[]string{`shell.mass = "under lining.mass"`, `lining.mass = "at most shell.mass"`}, "line 3 wants shell.mass = under lining.mass, line 4 wants lining.mass = at most shell.mass"},
		{[]string{`shell.mass = "at least 2 times lining.mass"`, `lining.mass = "at least 0.4 times shell.mass"`}, ""},
		{[]string{`shell.mass = "at least 2 times lining.mass"`, `lining.mass = "at least 0.6 times shell.mass"`}, "line 3 wants shell.mass = at least 2 times lining.mass, line 4 wants lining.mass = at least 0.6 times shell.mass"},
		{[]string{`shell.mass = "at most 2 times lining.mass"`, `lining.mass = "at most 0.4 times shell.mass"`}, "line 3 wants shell.mass = at most 2 times lining.mass, line 4 wants lining.mass = at most 0.4 times shell.mass"},
		{[]string{`shell.mass = "over lining.mass"`, `lining.thickness = "over shell.thickness"`}, ""},
		// over one multiple and under another
		{[]string{`shell.mass = "over 2 times lining.mass"`, `shell.mass = "under 3 times lining.mass"`}, ""},
		{[]string{`shell.mass = "over 3 times lining.mass"`, `shell.mass = "under 2 times lining.mass"`}, "line 3 wants shell.mass = over 3 times lining.mass, line 4 wants shell.mass = under 2 times lining.mass"},
		{[]string{`shell.mass = "under 2 times lining.mass"`, `shell.mass = "over 3 times lining.mass"`}, "line 3 wants shell.mass = under 2 times lining.mass, line 4 wants shell.mass = over 3 times lining.mass"},
		{[]string{`shell.mass = "at least 2 times lining.mass"`, `shell.mass = "at most 2 times lining.mass"`}, ""},
		{[]string{`shell.mass = "at least 2 times lining.mass"`, `shell.mass = "under 2 times lining.mass"`}, "line 3 wants shell.mass = at least 2 times lining.mass, line 4 wants shell.mass = under 2 times lining.mass"},
		{[]string{`shell.mass = "over 2 times lining.mass"`, `shell.mass = "over 3 times lining.mass"`}, ""},
		{[]string{`shell.fray = "over lining.fray"`, `shell.fray = "under lining.fray"`}, "line 3 wants shell.fray = over lining.fray, line 4 wants shell.fray = under lining.fray"},
		{[]string{`shell.fray = "lining.fray"`, `shell.fray = "at least lining.fray"`}, ""},
		// bounds that leave a comparison no values
		{[]string{`shell.mass = "at most 100 g/m2"`, `lining.mass = "at least 100 g/m2"`, `shell.mass = "at least lining.mass"`}, ""},
		{[]string{`shell.mass = "at most 100 g/m2"`, `lining.mass = "at least 100 g/m2"`, `shell.mass = "over lining.mass"`}, "line 4 wants lining.mass = at least 100 g/m2, line 5 wants shell.mass = over lining.mass"},
		{[]string{`shell.mass = "at most 90 g/m2"`, `lining.mass = "at least 100 g/m2"`, `shell.mass = "at least lining.mass"`}, "line 4 wants lining.mass = at least 100 g/m2, line 5 wants shell.mass = at least lining.mass"},
		{[]string{`shell.mass = "at least 100 g/m2"`, `lining.mass = "at most 100 g/m2"`, `shell.mass = "at most lining.mass"`}, ""},
		{[]string{`shell.mass = "at least 100 g/m2"`, `lining.mass = "at most 100 g/m2"`, `shell.mass = "under lining.mass"`}, "line 4 wants lining.mass = at most 100 g/m2, line 5 wants shell.mass = under lining.mass"},
		{[]string{`shell.mass = "at least 110 g/m2"`, `lining.mass = "at most 100 g/m2"`, `shell.mass = "at most lining.mass"`}, "line 4 wants lining.mass = at most 100 g/m2, line 5 wants shell.mass = at most lining.mass"},
		{[]string{`shell.fray = "low"`, `lining.fray = "high"`, `shell.fray = "lining.fray"`}, "line 4 wants lining.fray = high, line 5 wants shell.fray = lining.fray"},
		{[]string{`shell.fray = "low or high"`, `lining.fray = "medium"`, `shell.fray = "over lining.fray"`}, ""},
		{[]string{`shell.fray = "high"`, `lining.fray = "over shell.fray"`}, "line 3 wants shell.fray = high, line 4 wants lining.fray = over shell.fray"},
		{[]string{`shell.fray = "none"`, `lining.fray = "at least shell.fray"`}, ""},
		// what follows from a word
		{[]string{`finish = "bagged-lining"`, `finish.edge = "enclosed"`}, ""},
		{[]string{`finish = "bagged-lining"`, `finish.edge = "raw"`}, "line 3 wants bagged-lining, which has finish.edge = enclosed"},
		{[]string{`finish.edge = "raw"`, `finish = "bagged-lining"`}, "line 3 wants finish.edge = raw, but bagged-lining has finish.edge = enclosed"},
		{[]string{`finish = "bagged-lining"`, `finish.edge = "unknown"`}, "line 3 wants bagged-lining, which makes finish.edge known"},
		{[]string{`finish = "bagged-lining or bound-edge"`, `finish.edge = "raw"`}, ""}, // a bound edge may be
		{[]string{`finish.lined = "no"`, `lining.mass = "over 90 g/m2"`}, "line 3 wants finish.lined = no, which has no lining"},
		{[]string{`finish = "single-layer"`, `shell.mass = "over lining.mass"`}, "line 3 wants single-layer, which has no lining"},
		{[]string{`finish = "single-layer"`, `finish.lined = "yes"`}, "line 3 wants single-layer, which has finish.lined = no"},
		{[]string{`piece = "sash"`, `piece.hang = "at most 30 cm"`}, ""},
		{[]string{`piece = "sash"`, `piece.hang = "under 30 cm"`}, "line 3 wants sash, which has piece.hang = 30 cm"},
	} {
		var when []string
		for _, w := range x.when {
			fact, words, _ := strings.Cut(strings.TrimSuffix(w, `"`), ` = "`)
			when = append(when, fact, words)
		}
		r := rule(t, s, "one", when...)
		for i := range r.Parts.Lines {
			r.Parts.Lines[i] = 3 + i
		}
		err := s.neverFires(r, s.NewCase(1))
		if x.never == "" {
			assert.NoError(t, err, "%q", x.when)
			continue
		}
		found := fault.All(err)
		if !assert.Len(t, found, 1, "%q", x.when) {
			continue
		}
		assert.Equal(t, "can never fire: "+x.never, found[0].What, "%q", x.when)
	}
}

// TestARuleThatGainsaysAnother: a rule for what another forbids is refused where both
// speak, a doubt alone only where it speaks of the very same; of one matter and of
// different candidates they may both stand.
func TestARuleThatGainsaysAnother(t *testing.T) {
	french, plain := `when.seam = "french-seam"`, `when.seam = "plain-seam"`
	frays, much := `when.shell.fray = "at least low"`, `when.shell.fray = "high"`
	for _, x := range []struct {
		good, bad    []string
		effect, said string
	}{
		{[]string{french, much}, []string{french, frays}, "forbids", "forbids french-seam where a.toml:1:1 is for it"},
		{[]string{french, frays}, []string{french, much}, "forbids", ""}, // the exception is narrower
		{[]string{french, much}, []string{french, frays}, "against", ""}, // a doubt of wider reach
		{[]string{french, much}, []string{french, much}, "against", "is against french-seam where a.toml:1:1 is for it"},
		{[]string{plain, much}, []string{french, frays}, "forbids", ""},
		{[]string{`when.seam.sheer = true`, much}, []string{frays}, "forbids", ""}, // of a seam, of the make-up
		{[]string{`when.seam.sheer = true`, much}, []string{`when.seam.sheer = true`, frays}, "forbids", "forbids a sort of seam where a.toml:1:1 is for it"},
		{[]string{much}, []string{frays}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.shell.mass = "100 to 120 g/m2"`}, []string{`when.shell.mass = "100 to 200 g/m2"`}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.shell.mass = "100 to 120 g/m2"`}, []string{`when.shell.mass = "101 to 200 g/m2"`}, "forbids", ""},
		{[]string{`when.shell.mass = "100 to 120 g/m2"`}, []string{`when.shell.mass = "50 to 119 g/m2"`}, "forbids", ""},
		{[]string{`when.shell.mass = "over 100 g/m2"`}, []string{`when.shell.mass = "known"`}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.shell.mass = "over lining.mass"`}, []string{`when.lining.mass = "known"`}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.shell.mass = "unknown"`}, []string{`when.shell.mass = "known"`}, "forbids", ""},
		{[]string{`when.shell.mass = "over lining.mass"`}, []string{`when.shell.mass = "at least lining.mass"`}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.shell.mass = "at least lining.mass"`}, []string{`when.shell.mass = "over lining.mass"`}, "forbids", ""},
		{[]string{`when.shell.mass = "under lining.mass"`}, []string{`when.shell.mass = "at most lining.mass"`}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.piece = "cowl"`}, []string{`when.piece = "not sash"`}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.piece = "not sash or cowl"`}, []string{`when.piece = "not sash"`}, "forbids", "forbids a make-up where a.toml:1:1 is for it"},
		{[]string{`when.piece = "not sash"`}, []string{`when.piece = "not sash or cowl"`}, "forbids", ""},
		{[]string{`when.piece.features = "hood"`}, []string{`when.piece.features = "not cord"`}, "forbids", ""}, // a hood may have a cord
	} {
		_, err := load(t, File{Name: "a.toml", Data: []byte(about("one", "for", x.good...) + about("two", x.effect, x.bad...))})
		if x.said == "" {
			assert.NoError(t, err, "%q against %q", x.good, x.bad)
			continue
		}
		found := fault.All(err)
		if !assert.Len(t, found, 1, "%q against %q", x.good, x.bad) {
			continue
		}
		assert.Equal(t, x.said, found[0].What)
		assert.Equal(t, `add replaces = "one", or narrow one of them`, found[0].Mend)
	}
}
