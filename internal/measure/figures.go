package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// figures are what benchmarks gave, by name and unit: one figure a run.
type figures map[string]map[string][]float64

// read takes the lines of `go test -bench`: name, runs, then figures with units.
func (f figures) read(said string) error {
	n := 0
	for _, l := range strings.Split(said, "\n") {
		w := strings.Fields(l)
		if len(w) < 4 || !strings.HasPrefix(w[0], "Benchmark") || len(w)%2 != 0 {
			continue
		}
		name := strings.TrimPrefix(w[0], "Benchmark")
		if i := strings.LastIndexByte(name, '-'); i > 0 { // the number of processors
			if _, err := strconv.Atoi(name[i+1:]); err == nil {
				name = name[:i]
			}
		}
		if f[name] == nil {
			f[name] = map[string][]float64{}
		}
		for i := 2; i < len(w); i += 2 {
			v, err := strconv.ParseFloat(w[i], 64)
			if err != nil {
				return fmt.Errorf("%q is no figure, in %q", w[i], l)
			}
			f[name][w[i+1]] = append(f[name][w[i+1]], v)
		}
		n++
	}
	if n == 0 {
		return fmt.Errorf("no benchmark ran:\n%s", said)
	}
	return nil
}

// of are the figures of one benchmark in one unit.
func (f figures) of(name, unit string) ([]float64, error) {
	vs := f[name][unit]
	if len(vs) == 0 {
		return nil, fmt.Errorf("benchmark %s gave no %s", name, unit)
	}
	return vs, nil
}

// ratio divides run by run.
func ratio(a, b []float64) []float64 {
	out := make([]float64, min(len(a), len(b)))
	for i := range out {
		out[i] = a[i] / b[i]
	}
	return out
}

// spread writes the median, with the least and the most.
func spread(vs []float64, scale float64) string {
	s := slices.Sorted(slices.Values(vs))
	mid := s[len(s)/2]
	if len(s)%2 == 0 {
		mid = (s[len(s)/2-1] + mid) / 2
	}
	say := three(mid * scale)
	if len(s) > 1 {
		say += fmt.Sprintf(" (%s to %s)", three(s[0]*scale), three(s[len(s)-1]*scale))
	}
	return say
}

// three writes a figure to three digits.
func three(v float64) string {
	digits := 0
	for x := v; x < 100 && x > 0 && digits < 4; x *= 10 {
		digits++
	}
	return strconv.FormatFloat(v, 'f', digits, 64)
}
