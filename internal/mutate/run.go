package main

import (
	"cmp"
	"fmt"
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
	quick    string // matches the tests that take little time together: they are asked first
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
	type test struct {
		name    string
		seconds float64
	}
	var all []test
	sum := 0.0
	for _, m := range passed.FindAllStringSubmatch(string(out), -1) {
		s, _ := strconv.ParseFloat(m[2], 64)
		all = append(all, test{m[1], s})
		sum += s
	}
	slices.SortStableFunc(all, func(a, b test) int { return cmp.Compare(a.seconds, b.seconds) })
	var names []string
	spent := 0.0
	for _, x := range all {
		if spent += x.seconds; spent > sum/8 && len(names) > 0 {
			break
		}
		names = append(names, x.name)
	}
	t.quick = "^(" + strings.Join(names, "|") + ")$"
	return t, nil
}

// notice reports whether the tests notice a mutant: the quick ones are asked first,
// since most mutants are noticed by one of them.
func (t *tests) notice(id, patience int) bool {
	// The bound is processor time, so that a busy machine notices nothing.
	seconds := strconv.Itoa(patience*int(t.took.Seconds()) + 10)
	for _, which := range []string{"-test.run=" + t.quick, "-test.skip=" + t.quick + "|" + skip} {
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
