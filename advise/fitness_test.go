package advise

import (
	"io/fs"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres"
)

// Which finishes go with which piece is of their shapes (common practice): a cord runs
// through no child's hood, only what hangs from a rod is lined at its sides, and a lining
// has none itself.
func TestFinishesThatDoNotGoWithAPiece(t *testing.T) {
	a := adviser(t)
	why := func(piece, finish string) string {
		p, err := a.Piece(piece)
		require.NoError(t, err)
		f, err := a.Finish(finish)
		require.NoError(t, err)
		if u := a.UnfitFor(p, f); u != nil {
			require.NotEmpty(t, u.Basis)
			return u.Say
		}
		return ""
	}
	for _, x := range []struct{ piece, finish, says string }{
		{"cushion-cover", "envelope-closing", ""},
		{"half-circle-cape", "envelope-closing", "only the cover of a cushion closes so"},
		{"window-curtain", "sides-lined", ""},
		{"half-circle-cape", "sides-lined", "only what hangs from a rod is lined so"},
		{"half-circle-cape", "self-lined", "a round edge has no fold to double on"},
		{"wide-sash", "self-lined", ""},
		{"gathered-straight-skirt", "quilted", "quilted layers neither gather nor stretch"},
		{"half-circle-cape", "bagged-lining", ""},
	} {
		require.Equal(t, x.says, why(x.piece, x.finish), "%s, %s", x.piece, x.finish)
	}
	cased, err := a.Finish("cased-edge")
	require.NoError(t, err)
	hoods := 0
	for _, p := range a.Pieces {
		if p.Wearer == "child" && slices.Contains(p.Features, "hood") {
			hoods++
			require.NotNil(t, a.UnfitFor(p, cased), p.ID)
			require.Contains(t, a.UnfitFor(p, cased).Say, "strangles", p.ID)
		}
	}
	require.NotZero(t, hoods)
	// What is usual for a group goes with a piece of it at least.
	for _, u := range a.Usual {
		for _, id := range u.Finishes {
			f, err := a.Finish(id)
			require.NoError(t, err)
			fits := false
			for _, p := range a.Pieces {
				fits = fits || (p.Group == u.Group || slices.Contains(u.Pieces, p.ID)) && a.UnfitFor(p, f) == nil
			}
			require.True(t, fits, "%s is usual for %s %v and goes with none", id, u.Group, u.Pieces)
		}
	}
}

// A cape is usually bagged, a wrap hemmed (common practice): that is taken where nobody
// says, never in place of what is said, and a named lining is not left out.
func TestUsualFinishIsTaken(t *testing.T) {
	a := adviser(t)
	taken := func(piece string, change func(*MakeUp)) MakeUp {
		p, err := a.Piece(piece)
		require.NoError(t, err)
		m := MakeUp{Piece: p}
		change(&m)
		return a.WithUsualFinish(m)
	}
	bare := taken("hooded-wrap", func(*MakeUp) {})
	require.Equal(t, "single-layer-hem", bare.Finish.ID)
	require.True(t, bare.FinishTaken)
	require.Equal(t, "bagged-lining", a.NextFinish(bare, false).ID, "the next of the usual finishes that goes: their order in finishes.toml bears")
	lined := taken("hooded-wrap", func(m *MakeUp) { m.Lining = &fibres.Subject{Cloth: a.Cat.Cloths["viscose-twill"]} })
	require.Equal(t, "bagged-lining", lined.Finish.ID)
	// A veil is not bagged as a hood is, nor an unlined jacket lined; a variant is its own.
	for piece, finish := range map[string]string{"veil": "single-layer-rolled-hem", "unlined-jacket": "single-layer-hem",
		"hood-two-part": "bagged-lining", "bed-quilt": "quilted", "cushion-cover": "envelope-closing", "half-circle-cape": "bagged-lining", "rain-cape": "single-layer-hem"} {
		require.Equal(t, finish, taken(piece, func(*MakeUp) {}).Finish.ID, piece)
	}
	said := taken("half-circle-cape", func(m *MakeUp) {
		f, err := a.Finish("single-layer-raw")
		require.NoError(t, err)
		m.Finish = f
	})
	require.Equal(t, "single-layer-raw", said.Finish.ID)
	require.False(t, said.FinishTaken)
	for _, p := range a.Pieces {
		if m := a.WithUsualFinish(MakeUp{Piece: p}); m.Finish != nil {
			require.Nil(t, a.UnfitFor(p, m.Finish), p.ID)
		}
	}
}

// A slip in the tables is told with its place.
func TestSlipsOfFitnessAreTold(t *testing.T) {
	files := fstest.MapFS{}
	require.NoError(t, fs.WalkDir(data.FS, ".", func(at string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(data.FS, at)
		files[at] = &fstest.MapFile{Data: b}
		return err
	}))
	files["finishes.toml"].Data = append(files["finishes.toml"].Data, []byte("\n[[usual]]\ngroup = \"wrap\"\nfinishes = [\"baged-lining\"]\nbasis = \"practice\"\nsources = [\"practice\"]\n[[usual]]\npiece = [\"vail\", \"veil\"]\nfinishes = [\"quilted\"]\nbasis = \"practice\"\nsources = [\"practice\"]\n[[unfit]]\nfinish = \"quilted\"\nsupport = [\"roof\"]\nsay = \"x\"\nbasis = \"practice\"\nsources = [\"practice\"]\n")...)
	_, err := Load(files)
	require.ErrorContains(t, err, `"baged-lining"`)
	require.ErrorContains(t, err, `the usual finishes of the group "wrap" are there twice`)
	require.ErrorContains(t, err, `the usual finishes of the piece "veil" are there twice`)
	require.ErrorContains(t, err, `"vail"`)
	require.ErrorContains(t, err, `"roof"`)
	require.ErrorContains(t, err, "data/finishes.toml:")
}

// A finish is unfit for the pieces that all its words name, and for no others.
func TestForWhomAFinishIsUnfit(t *testing.T) {
	p := &Piece{Group: "cape", Support: "shoulders", Shape: "circle", Wearer: "adult", Features: []string{"hood", "corners"}}
	for name, x := range map[string]struct {
		u    Unfit
		want bool
	}{
		"all":             {Unfit{}, true},
		"group":           {Unfit{Group: []string{"hood", "cape"}}, true},
		"another group":   {Unfit{Group: []string{"hood"}}, false},
		"not group":       {Unfit{NotGroup: []string{"cape"}}, false},
		"not another":     {Unfit{NotGroup: []string{"hood"}}, true},
		"support":         {Unfit{Support: []string{"head"}}, false},
		"not support":     {Unfit{NotSupport: []string{"shoulders"}}, false},
		"shape":           {Unfit{Shape: []string{"rectangle"}}, false},
		"own shape":       {Unfit{Shape: []string{"circle"}}, true},
		"wearer":          {Unfit{Wearer: "adult"}, true},
		"another wearer":  {Unfit{Wearer: "child"}, false},
		"a feature":       {Unfit{Features: []string{"sleeves", "hood"}}, true},
		"no such feature": {Unfit{Features: []string{"sleeves"}}, false},
		"without":         {Unfit{Without: []string{"corners"}}, false},
		"without another": {Unfit{Without: []string{"sleeves"}}, true},
		"one of two":      {Unfit{Group: []string{"cape"}, Support: []string{"head"}}, false},
		"both":            {Unfit{Group: []string{"cape"}, Features: []string{"hood"}, Wearer: "adult"}, true},
	} {
		require.Equal(t, x.want, x.u.holds(p), name)
	}
	plain, lined := &Finish{ID: "plain"}, &Finish{ID: "lined", Lined: true}
	a := &Adviser{Unfit: []Unfit{{Finish: "other"}, {Finish: everyLined, Say: "every"}, {Finish: "plain", Group: []string{"hood"}}}}
	require.Nil(t, a.UnfitFor(p, plain))
	require.Equal(t, "every", a.UnfitFor(p, lined).Say)
	a.Unfit[2].Group = nil
	require.Same(t, &a.Unfit[2], a.UnfitFor(p, plain))
}
