package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// BenchmarkWholeProcess runs `tenter check` from exec to exit beside a program
// that only says hello, with and without bleve and SQLite linked in, turn and
// turn about, and reports the ratios of the medians and of the least times.
func BenchmarkWholeProcess(b *testing.B) {
	dir := b.TempDir()
	build := func(name, path string) string {
		bin := filepath.Join(dir, name)
		out, err := exec.Command("go", "build", "-o", bin, path).CombinedOutput()
		if err != nil {
			b.Fatalf("%s: %v\n%s", path, err, out)
		}
		return bin
	}
	programs := [][]string{
		{build("tenter", "."), "check", "cotton-sateen", "--piece", "hooded-wrap", "--finish", "bagged-lining", "--lining", "silk-taffeta"},
		{build("cobra", "./testdata/hello/cobra")},
		{build("linked", "./testdata/hello/linked")},
	}
	times := make([][]float64, len(programs))
	env := append(os.Environ(), "HOME="+dir, "XDG_CACHE_HOME=", "XDG_DATA_HOME=", "XDG_CONFIG_HOME=")
	for b.Loop() {
		for i, p := range programs {
			c := exec.Command(p[0], p[1:]...)
			c.Env = env
			start := time.Now()
			if out, err := c.CombinedOutput(); err != nil {
				b.Fatalf("%v: %v\n%s", p, err, out)
			}
			times[i] = append(times[i], float64(time.Since(start).Microseconds())/1000)
		}
	}
	least := func(i int) float64 { return slices.Min(times[i]) }
	median := func(i int) float64 {
		s := slices.Clone(times[i])
		slices.Sort(s)
		return s[len(s)/2]
	}
	b.ReportMetric(least(0), "least-ms")
	b.ReportMetric(median(0), "median-ms")
	b.ReportMetric(least(0)/least(1), "×cobra")
	b.ReportMetric(least(0)/least(2), "×linked")
	b.ReportMetric(median(0)/median(2), "×linked-median")
}
