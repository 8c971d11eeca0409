package advise

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/data"
)

// The literals stand for files that are byte for byte those they were made of, and for the
// facts that the rules were compiled against; any change makes them stale.
func TestChangedFilesAreNotTheLiterals(t *testing.T) {
	files := fstest.MapFS{}
	for name, text := range map[string]string{"pieces.toml": "a", "rules/a.toml": "b", "needles.csv": "c", "matters.csv": "d", "traits.csv": "e", "stocked.csv": "f"} {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	was := sumOfFiles(files)
	require.Equal(t, was, sumOfFiles(files))
	for name := range files {
		old := files[name]
		files[name] = &fstest.MapFile{Data: append([]byte("x"), old.Data...)}
		require.NotEqual(t, was, sumOfFiles(files), "a change of %s is not noticed", name)
		files[name] = old
	}
	files["unread.txt"] = &fstest.MapFile{Data: []byte("x")}
	require.Equal(t, was, sumOfFiles(files))
	facts := []rules.Fact{{Name: "shell.mass", Unit: "g/m2"}, {Name: "shell.fray", Scale: []string{"low", "high"}}}
	sum := withFacts(was, facts)
	for _, other := range [][]rules.Fact{facts[:1], {facts[1], facts[0]}, {{Name: "shell.mass", Unit: "g"}, facts[1]}, {facts[0], {Name: "shell.fray", Scale: []string{"low"}}}} {
		require.NotEqual(t, sum, withFacts(was, other), "%v", other)
	}
}

// What the literals hold is found by its names, as what is read from the files is.
func TestLiteralsAreFoundByTheirNames(t *testing.T) {
	a := fromCompiled(data.FS)
	require.NotNil(t, a, "go generate ./fibres ./advise")
	for _, p := range a.Pieces {
		got, err := a.Piece(p.Name)
		require.NoError(t, err)
		require.Same(t, p, got)
	}
	for _, f := range a.Finishes {
		got, err := a.Finish(f.ID)
		require.NoError(t, err)
		require.Same(t, f, got)
	}
	for _, s := range a.Seams {
		got, err := a.Seam(s.Kind, s.ID)
		require.NoError(t, err)
		require.Same(t, s, got)
	}
	for _, x := range a.Interfacings {
		got, err := a.Interfacing(x.ID)
		require.NoError(t, err)
		require.Same(t, x, got)
	}
	for _, w := range a.Wishes {
		got, err := a.Wish(w.Name)
		require.NoError(t, err)
		require.Same(t, w, got)
	}
	_, err := a.Piece("nothing-such")
	require.Error(t, err)
}
