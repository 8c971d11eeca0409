package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const said = `goos: linux
pkg: tenter/kb
BenchmarkImport/swatches_with_a_mass-2         	       1	 900 ns/op	         1.40 ratio
BenchmarkImport/swatches_with_a_mass-2         	       1	 700 ns/op	         1.20 ratio
BenchmarkBare/50-2         	       1	 350 ns/op
BenchmarkBare/50-2         	       1	 350 ns/op
PASS
ok  	tenter/kb	1.2s
`

func TestFiguresOfBenchmarks(t *testing.T) {
	f := figures{}
	require.NoError(t, f.read(said))
	vs, err := f.of("Import/swatches_with_a_mass", "ratio")
	require.NoError(t, err)
	assert.Equal(t, "1.30 (1.20 to 1.40)", spread(vs, 1))
	s := section{title: "T", about: "A.", lines: []line{{say: "import", name: "Import/swatches_with_a_mass", unit: "ns/op", over: [2]string{"Bare/50", "ns/op"}, shown: "×", target: "3 ×"}}}
	text, err := s.write(f)
	require.NoError(t, err)
	assert.Contains(t, text, "| import | 2.29 (2.00 to 2.57) × | 3 × |")
	_, err = f.of("Import/swatches", "ratio")
	assert.ErrorContains(t, err, "gave no ratio")
	assert.ErrorContains(t, figures{}.read("ok tenter/kb [no test files]"), "no benchmark ran")
}

func TestThreeDigits(t *testing.T) {
	for v, want := range map[float64]string{1234: "1234", 123.4: "123", 12.34: "12.3", 1.234: "1.23", 0.01234: "0.0123"} {
		assert.Equal(t, want, three(v))
	}
}
