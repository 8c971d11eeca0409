package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/drape"
	"tenter/fibres/fault"
)

// Who stops it gets code 130 and no half-written picture.
func TestDrapeStopped(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	var out, errs bytes.Buffer
	a := newApp(&out, &errs)
	file := filepath.Join(t.TempDir(), "disc.png")
	q := &drapeQuestion{file: file, one: true}
	q.shell = "cotton-poplin"
	ctx, stop := context.WithCancel(t.Context())
	stop()
	err := q.run(ctx, a, "disc")
	require.ErrorContains(t, err, "stopped before the cloth came to rest")
	require.Equal(t, 130, a.report(err))
	_, err = os.Stat(file)
	require.ErrorIs(t, err, os.ErrNotExist)
	require.Equal(t, exitStopped, codeOf(fault.Stopped))
}

// Where every cloth of the name would mislead, the first look is taken away and the edge is drawn.
func TestDrapeShowsTheEdgeInsteadOfWhatMisleads(t *testing.T) {
	var out, errs bytes.Buffer
	a := newApp(&out, &errs)
	run := func(name string, misleads ...string) (string, bool, error) {
		file := filepath.Join(t.TempDir(), name)
		require.NoError(t, os.WriteFile(file, []byte("a first look"), 0o600))
		q := &drapeQuestion{file: file}
		q.piece, q.shell = "hooded-cloak", "wool-flannel"
		m, err := q.made(a)
		require.NoError(t, err)
		c := &drapeRun{q: q, a: a, m: m, title: "hooded cloak", rough: 1}
		for _, why := range misleads {
			c.ends = append(c.ends, fallOf{misleads: why})
		}
		done, err := c.insteadOfNone()
		return file, done, err
	}
	const why = "the cloth passes through itself in 40 places"
	file, done, err := run("cloak.svg", why, why)
	require.True(t, done)
	require.NoError(t, err)
	b, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Contains(t, string(b), "<svg")
	require.Contains(t, strings.Join(strings.Fields(out.String()), " "), why)
	file, done, err = run("cloak.png", why)
	require.True(t, done)
	require.ErrorContains(t, err, why)
	_, err = os.Stat(file)
	require.ErrorIs(t, err, os.ErrNotExist)
	_, done, err = run("cloak.png", why, "")
	require.False(t, done, "one can be shown")
	require.NoError(t, err)
}

// What is kept of a shape comes back as it was, and only to the mesh it was computed on.
func TestKeptFallComesBack(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	p, err := drape.Prepare(drape.Usual.Scene(), drape.Options{Cell: 0.03})
	require.NoError(t, err)
	sheet, err := drape.NewSheet(150, 3, 3, 0, 0)
	require.NoError(t, err)
	want, err := p.Fall(t.Context(), sheet, drape.Watch{})
	require.NoError(t, err)
	key := fallKey("disc", sheet)
	require.Nil(t, keptResults(key, p))
	keepResults(key, want)
	have := keptResults(key, p)
	require.Len(t, have, 1)
	require.Equal(t, want[0].Converged, have[0].Converged)
	require.InDelta(t, drape.Usual.Coefficient(want[0]), drape.Usual.Coefficient(have[0]), 0.2)
	other, err := drape.Prepare(drape.Usual.Scene(), drape.Options{Cell: 0.02})
	require.NoError(t, err)
	require.Nil(t, keptResults(key, other))
	require.NotEqual(t, key, fallKey("disc", sheet, 1))
}

func TestOldFallsAreForgotten(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	for i := range maxKept + 5 {
		keepResults(fallKey(i), []drape.Result{{}})
	}
	files, err := os.ReadDir(fallFolder())
	require.NoError(t, err)
	require.Len(t, files, maxKept)
}

// Few crossings are one touch, said with its place; many warn of the folds there.
func TestCrossingsAreSaidByNumberAndPlace(t *testing.T) {
	require.Equal(t, "A fold touches its neighbour high up at the back, closer than cloth can lie.", crossed(5, "high up at the back"))
	many := crossed(9, "low down in front")
	require.Contains(t, many, "low down in front")
	require.Contains(t, many, "do not go by them")
}
