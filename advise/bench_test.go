package advise

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres"
	"tenter/internal/testkit"
)

// adviser is the built-in knowledge, loaded once for all tests.
var adviser = testkit.Loaded(func() (*Adviser, error) { return Load(data.FS) })

func makeUp(t testing.TB, words string) MakeUp {
	t.Helper()
	m, err := adviser(t).ParseCase(words)
	require.NoError(t, err)
	return m
}

func BenchmarkLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Load(data.FS); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAdviseAllCloths(b *testing.B) {
	a := adviser(b)
	m := makeUp(b, "half-circle-cape, bagged-lining, lining cupro-lining")
	b.ReportAllocs()
	for b.Loop() {
		a.judgeAll(m, subjectsOf(a.Shells()), func(m *MakeUp, s *fibres.Subject) { m.Shell = s })
	}
}

// BenchmarkGrowth is what more shells cost.
func BenchmarkGrowth(b *testing.B) {
	a := adviser(b)
	m := makeUp(b, "half-circle-cape, bagged-lining, lining cupro-lining")
	shells := subjectsOf(a.Shells())
	for _, n := range []int{20, 80, 320} {
		b.Run(fmt.Sprintf("shells=%d", n), func(b *testing.B) {
			some := make([]*fibres.Subject, n)
			for i := range some {
				some[i] = shells[i%len(shells)]
			}
			for b.Loop() {
				a.judgeAll(m, some, func(m *MakeUp, s *fibres.Subject) { m.Shell = s })
			}
		})
	}
}

func BenchmarkPairAll(b *testing.B) {
	a := adviser(b)
	m := makeUp(b, "half-circle-cape, bagged-lining")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := a.Pair(m, false, 10); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBestPieces is what takes longest on a cloth's page; beside it all pieces
// judged.
func BenchmarkBestPieces(b *testing.B) {
	a := adviser(b)
	for _, n := range []int{10, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				a.BestPieces(&fibres.Subject{Cloth: a.Shells()[i%20*15]}, n)
			}
		})
	}
}
