package advise

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// endsOfCloth are shells with linings at the ends of what there is: thick, thin, loose, coated,
// pile, knit, net, felt; linings that fray, shrink, are thick or take no heat.
var endsOfCloth = []struct{ shell, lining string }{
	{"wool-melton", "viscose-twill"}, {"silk-velvet", "silk-habotai"}, {"waxed-cotton", "polar-fleece"}, {"silk-chiffon", "silk-taffeta"},
	{"cotton-jersey", "stretch-lining"}, {"fake-fur", "polyester-satin"}, {"double-gauze", "cotton-percale"}, {"tweed", "cotton-sateen"},
	{"pvc-cloth", "nylon-taffeta"}, {"sequin-mesh", "tricot-knit"}, {"polyester-satin", "acetate-lining"}, {"boiled-wool", "quilted-lining"},
}

// partsSaid are words for parts, and what a make-up must have where a step speaks of them.
var partsSaid = []struct {
	words *regexp.Regexp
	has   func(MakeUp) bool
}{
	{word("sleeves?|armholes?|cuffs?"), func(m MakeUp) bool { return hasPart(m.Piece, "sleeve", "cuff", "armhole") }},
	{word("hoods?"), func(m MakeUp) bool { return slices.Contains(m.Piece.Features, "hood") || hasPart(m.Piece, "hood") }},
	{word("collars?|lapels?"), func(m MakeUp) bool { return hasPart(m.Piece, "collar", "lapel") }},
	{word("pockets?"), func(m MakeUp) bool { return slices.Contains(m.Piece.Features, "pocket") || hasPart(m.Piece, "pocket") }},
	{word("waistbands?"), func(m MakeUp) bool { return hasPart(m.Piece, "waist", "band") }},
	{word("gathers|gathering"), func(m MakeUp) bool {
		return slices.Contains(m.Piece.Features, "gathers") || m.Piece.Shape == "gathered"
	}},
	{word("the pleats"), func(m MakeUp) bool { return slices.Contains(m.Piece.Features, "pleats") || m.Piece.Shape == "pleated" }},
	{word("linings?"), func(m MakeUp) bool { return m.Finish.Lined || strings.Contains(m.Finish.ID, "lined") }},
}

func word(w string) *regexp.Regexp { return regexp.MustCompile(`(?i)\b(` + w + `)\b`) }

func hasPart(p *Piece, names ...string) bool {
	named := func(s string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return strings.Contains(s, n) })
	}
	return slices.ContainsFunc(p.Parts, func(x PiecePart) bool { return named(x.Name) }) || slices.ContainsFunc(p.Seams, func(x PieceSeam) bool { return named(x.Name) })
}

// firstHandled are the steps in which cloth is shrunk before it is cut, and clipsCurves the
// words of clipping along a curve; a row of stay stitches only says how far.
var (
	firstHandled = []string{"pre-wash", "steam-shell", "sponge-wool"}
	clipsCurves  = regexp.MustCompile(`(?i)\b(clip|notch) (the |and notch )?(inward |outward |curve|edge)`)
)

// The order of work does not contradict itself, over every piece with every finish that it
// takes and cloths at the ends of what there is: one way to shrink the cloth first, curves
// clipped in one step at most, and no part that the piece does not have.
func TestOrderOfWorkIsWhole(t *testing.T) {
	a := adviser(t)
	tried := 0
	for pi, p := range a.Pieces {
		for fi, f := range a.Finishes {
			if a.UnfitFor(p, f) != nil {
				continue
			}
			x := endsOfCloth[(5*pi+fi)%len(endsOfCloth)]
			m := MakeUp{Piece: p, Finish: f, Shell: &fibres.Subject{Cloth: a.Cat.Cloths[x.shell]}}
			if f.Lined {
				m.Lining = &fibres.Subject{Cloth: a.Cat.Cloths[x.lining]}
			}
			wholeOrder(t, a, m, fmt.Sprintf("%s, %s, %s lined with %s", p.ID, f.ID, x.shell, x.lining))
			tried++
		}
	}
	require.Greater(t, tried, 1000)
}

func wholeOrder(t *testing.T, a *Adviser, m MakeUp, what string) {
	t.Helper()
	var ans AdviseAnswer
	a.work(a.judge(m), &ans)
	require.NotEmpty(t, ans.Order, what)
	var shrunk, clipped []string
	for _, s := range ans.Order {
		text := s.Say + " " + strings.Join(s.Notes, " ")
		for _, w := range partsSaid {
			if hit := w.words.FindString(text); hit != "" {
				require.True(t, w.has(m), "%s has no %s: %s", what, hit, text)
			}
		}
		if slices.Contains(firstHandled, s.Step) {
			shrunk = append(shrunk, s.Say)
		}
		if s.Step != "stay-stitch" && clipsCurves.MatchString(text) {
			clipped = append(clipped, s.Step)
		}
	}
	require.LessOrEqual(t, len(shrunk), 1, "%s is shrunk in two ways: %q", what, shrunk)
	require.LessOrEqual(t, len(clipped), 1, "%s is clipped in more steps than one: %q", what, clipped)
	if slices.Contains(treatmentIDs(m.Shell), "waxed") {
		for _, say := range shrunk {
			require.NotRegexp(t, `^(Steam|Wash)`, say, "%s: heat and water take the wax", what)
		}
	}
}

func treatmentIDs(s *fibres.Subject) (ids []string) {
	for _, x := range s.Named().Treatments {
		ids = append(ids, x.ID)
	}
	return ids
}
