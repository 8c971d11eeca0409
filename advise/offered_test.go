package advise

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// takenWords are the words by which a sentence names a seam or an edge as what to take.
var takenWords = map[string]*regexp.Regexp{
	"french-seam":               regexp.MustCompile(`French`),
	"flat-felled-seam":          regexp.MustCompile(`(?i)\bfell`),
	"run-and-fell-seam":         regexp.MustCompile(`(?i)^fell|hand-felled`),
	"bound-seam":                regexp.MustCompile(`(?i)\bbind|\bbound`),
	"bound-plain-together-seam": regexp.MustCompile(`(?i)\bbind|\bbound`),
	"self-bound-seam":           regexp.MustCompile(`(?i)self-bound`),
	"overcast-seam":             regexp.MustCompile(`(?i)overcast`),
	"overlocked-seam":           regexp.MustCompile(`(?i)overlock`),
	"catch-stitched-seam":       regexp.MustCompile(`(?i)catch-stitch`),
	"lapped-seam":               regexp.MustCompile(`(?i)\blap\b`),
	"welt-seam":                 regexp.MustCompile(`(?i)\bwelt`),
	"bias-binding":              regexp.MustCompile(`(?i)\bbind`),
	"taped-edge":                regexp.MustCompile(`(?i)\bbinding`),
	"narrow-hem":                regexp.MustCompile(`(?i)\bnarrow hem`),
	"fringe-edge":               regexp.MustCompile(`(?i)^fringe`),
	"blanket-stitch-edge":       regexp.MustCompile(`(?i)^blanket`),
	"overlocked-edge":           regexp.MustCompile(`(?i)overlock`),
	"raw-edge":                  regexp.MustCompile(`(?i)a cut edge`),
}

// notTaken begins a sentence that names what not to take, or where to keep it.
var notTaken = []string{"Do not", "Never", "Keep", "Leave", "No "}

// recommends reports whether a sentence names a choice as what to take.
func recommends(say, id string) bool {
	re := takenWords[id]
	for s := range strings.SplitSeq(say, ". ") {
		if re != nil && !slices.ContainsFunc(notTaken, func(w string) bool { return strings.HasPrefix(s, w) }) && re.MatchString(s) {
			return true
		}
	}
	return false
}

// Every piece with every finish in the cloths of [extremes] dealt round is joined and
// finished in some way: a seam and an edge stand first unless each is banned, and what is
// refused is not refused in words that name it as what to take, or that only describe it.
func TestSomeSeamAndEdgeIsAlwaysOffered(t *testing.T) {
	a := adviser(t)
	tried, refused := 0, 0
	bad := map[string]string{}
	for pi, p := range a.Pieces {
		for fi, f := range a.Finishes {
			if leftOut(pi + fi) {
				continue
			}
			m := MakeUp{Piece: p, Finish: f, Shell: &fibres.Subject{Cloth: a.Cat.Cloths[extremes[(pi*5+fi)%len(extremes)]]}}
			if inside, err := a.Wish("inside-neat"); err == nil && (pi+fi)%2 == 0 {
				m.Wishes = []*Wish{inside}
			}
			for _, kind := range seamKinds {
				list := a.choices(&judged{make: m}, kind, 0)
				what := m.Shell.Label() + " in " + p.ID + ", " + f.ID
				if banned := !slices.ContainsFunc(list, func(c Choice) bool { return c.Effect != "forbids" }); !banned {
					tried++
					require.False(t, list[0].Refused(), "%s: no %s is offered", what, kind)
				}
				for _, c := range list {
					if !c.Refused() {
						continue
					}
					refused++
					s, _ := a.Seam(kind, c.ID)
					if c.Say == s.Say || recommends(c.Say, c.ID) {
						bad[c.ID+": "+c.Say] = what
					}
				}
			}
		}
	}
	require.Empty(t, bad, "refused in words that name it as what to take")
	require.Greater(t, tried, sampled(2000))
	require.Greater(t, refused, sampled(20000))
}

// What is least spoken against is offered with its reservation, where each is spoken
// against; what is banned is not, and one that belongs to the finish goes before another.
func TestTheLeastBadIsOffered(t *testing.T) {
	list := func() []scored {
		return []scored{{Choice: Choice{ID: "banned", Effect: "forbids"}, v: 1}, {Choice: Choice{ID: "worse", Effect: NotFor}, v: -2, because: "It pulls."},
			{Choice: Choice{ID: "least", Effect: NotFor, Say: "Take another."}, v: -1, own: "It is flat.", because: "Heavy cloth makes bulk."},
			{Choice: Choice{ID: "elsewhere", Effect: WillDo, other: true}, v: 1}}
	}
	x := list()
	leastBad(x, nil)
	require.Equal(t, []string{"forbids", NotFor, WillDo, WillDo}, []string{x[0].Effect, x[1].Effect, x[2].Effect, x[3].Effect})
	require.Equal(t, "It is flat. It is the least bad here: heavy cloth makes bulk.", x[2].Say)
	require.InDelta(t, 1, x[2].v, 1e-9, "it stands no lower than what is of another finish")

	x = list()
	leastBad(x, map[string]float64{"worse": 1})
	require.Equal(t, WillDo, x[1].Effect, "makers take it")

	x = append(list(), scored{Choice: Choice{ID: "good", Effect: WillDo}})
	leastBad(x, nil)
	require.Equal(t, NotFor, x[2].Effect, "one will do")

	x = list()[:1]
	leastBad(x, nil)
	require.Equal(t, "forbids", x[0].Effect)
}
