package main

import (
	"cmp"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// tests is a test program that passes, with what its tests take.
type tests struct {
	bin, dir string
	asked    []string // each matches some of the tests, the quick ones first; together they are all
	took     time.Duration
}

var passed = regexp.MustCompile(`(?m)^--- PASS: (\w+) \(([\d.]+)s\)`)

// soundRun runs the tests with no mutant switched on.
func soundRun(bin, dir string) (*tests, error) {
	t := &tests{bin: bin, dir: dir}
	c := t.command(0, "-test.v")
	out, err := c.CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("the tests fail with no mutant switched on: %w\n%s", err, out)
	}
	t.took = c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	seconds := map[string]float64{}
	for _, m := range passed.FindAllStringSubmatch(string(out), -1) {
		seconds[m[1]], _ = strconv.ParseFloat(m[2], 64)
	}
	t.asked = batches(seconds)
	return t, nil
}

// batches puts the tests into three batches, the quickest first: the first take a
// sixteenth of the time together, the second as much as a quarter. What is left out
// of these, examples and fuzz seeds too, is the third.
func batches(seconds map[string]float64) []string {
	names := slices.SortedFunc(maps.Keys(seconds), func(a, b string) int {
		return cmp.Or(cmp.Compare(seconds[a], seconds[b]), cmp.Compare(a, b))
	})
	sum := 0.0
	for _, s := range seconds {
		sum += s
	}
	var out []string
	spent, at := 0.0, 0
	for _, part := range []float64{1. / 16, 1. / 4} {
		from := at
		for at < len(names) && (spent+seconds[names[at]] <= part*sum || at == 0) {
			spent += seconds[names[at]]
			at++
		}
		if at > from {
			out = append(out, "-test.run=^("+strings.Join(names[from:at], "|")+")$")
		}
	}
	return append(out, "-test.skip=^("+strings.Join(names[:at], "|")+")$|"+skip)
}

// notice reports whether the tests notice a mutant: the quick ones are asked first,
// since most mutants are noticed by one of them.
func (t *tests) notice(id, patience int) bool {
	// The bound is processor time, so that a busy machine notices nothing.
	seconds := strconv.Itoa(patience*int(t.took.Seconds()) + 10)
	for _, which := range t.asked {
		c := t.command(id, which)
		c.Args = append([]string{"sh", "-c", `ulimit -t "$0"; exec "$@"`, seconds}, c.Args...)
		c.Path = "/bin/sh"
		if c.Run() != nil {
			return true
		}
	}
	return false
}

// command is a run of the tests with one mutant switched on; 0 is none.
func (t *tests) command(id int, args ...string) *exec.Cmd {
	c := exec.Command(t.bin, append([]string{"-test.short", "-test.failfast", "-test.timeout=1h"}, args...)...)
	if !slices.ContainsFunc(args, func(s string) bool { return strings.HasPrefix(s, "-test.skip") }) {
		c.Args = append(c.Args, "-test.skip="+skip)
	}
	c.Dir = t.dir
	c.Env = append(os.Environ(), fmt.Sprintf("%s=%d", variable, id))
	return c
}
