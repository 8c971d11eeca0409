package drape

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

func BenchmarkFactor(b *testing.B) {
	sc := Usual.Scene()
	m, err := newMesh(sc, 0.0075)
	require.NoError(b, err)
	sheet, err := NewSheet(150, 2.46, 1.54, 0, 20)
	require.NoError(b, err)
	s := newSystem(newPlan(m, sc), sheet, false)
	s.hessian(m.disturbed(m.start, 1, 0.002), true)
	b.ReportAllocs()
	for b.Loop() {
		require.True(b, s.mat.factor(1, s.weight))
	}
}

// Three seeds of the usual test: at most 3 s on two idle cores.
func BenchmarkDisc(b *testing.B) {
	sheet, err := NewSheet(150, 2.46, 1.54, 0, 20)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		_, err := fall(context.Background(), Usual.Scene(), sheet, Options{Cell: 0.0075, Seeds: 3})
		require.NoError(b, err)
	}
}
