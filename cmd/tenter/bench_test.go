package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
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
	tenter := build("tenter", ".")
	programs := [][]string{
		{tenter, "check", "double-gauze", "--piece", "cowl", "--finish", "single-layer-bound-edge"},
		{build("cobra", "./testdata/hello/cobra")},
		{build("linked", "./testdata/hello/linked")},
		{tenter, "check", "cotton-sateen", "--piece", "hooded-wrap", "--finish", "bagged-lining", "--lining", "silk-taffeta"},
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
	b.ReportMetric(median(3), "way-out-ms")
	b.ReportMetric(least(0)/least(1), "×cobra")
	b.ReportMetric(least(0)/least(2), "×linked")
	b.ReportMetric(median(0)/median(2), "×linked-median")
}

// BenchmarkLongWork runs the commands that take longest as whole processes, and reports
// their processor time and their peak of memory.
func BenchmarkLongWork(b *testing.B) {
	dir := b.TempDir()
	bin := filepath.Join(dir, "tenter")
	if out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	env := append(os.Environ(), "HOME="+dir, "XDG_CACHE_HOME=", "XDG_DATA_HOME=", "XDG_CONFIG_HOME=", "XDG_STATE_HOME=")
	run := func(b *testing.B, args ...string) *os.ProcessState {
		c := exec.Command(bin, args...)
		c.Env = env
		if out, err := c.CombinedOutput(); err != nil {
			b.Fatalf("%v: %v\n%s", args, err, out)
		}
		return c.ProcessState
	}
	var list strings.Builder
	list.WriteString("name,sold as,colour,mass gsm\n")
	for i := range 100_000 {
		fmt.Fprintf(&list, "remnant %06d,%s,%s,%d\n", i, []string{"denim", "cotton lawn", "wool flannel"}[i%3], []string{"red", "grey", "blue"}[i/3%3], 80+i%300)
	}
	file := filepath.Join(dir, "all.csv")
	if err := os.WriteFile(file, []byte(list.String()), 0o600); err != nil {
		b.Fatal(err)
	}
	run(b, "swatch", "import", file)
	run(b, "search", "flannel") // the index is made at the first search
	for _, x := range []struct {
		name string
		args []string
	}{
		{"pair", []string{"pair", "--piece", "half-circle-cape", "--finish", "bagged-lining"}},
		{"reversible", []string{"pair", "--piece", "half-circle-cape", "--finish", "bagged-lining", "--reversible"}},
		{"rare-word", []string{"search", "remnant 051234"}},
		{"common-word", []string{"search", "grey"}},
		{"misspelt-word", []string{"search", "remnent"}},
		{"begins-all", []string{"search", "remnane"}},
	} {
		b.Run(x.name, func(b *testing.B) {
			var cpu, peak float64
			for b.Loop() {
				s := run(b, x.args...)
				cpu += (s.UserTime() + s.SystemTime()).Seconds()
				peak = max(peak, peakMB(s))
			}
			b.ReportMetric(cpu/float64(b.N), "cpu-s")
			b.ReportMetric(peak, "peak-MB")
		})
	}
}

// peakMB is the most memory that a process had, where the system tells it.
func peakMB(s *os.ProcessState) float64 {
	if u, ok := s.SysUsage().(*syscall.Rusage); ok {
		return float64(u.Maxrss) / 1024
	}
	return 0
}
