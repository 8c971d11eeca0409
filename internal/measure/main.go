// Measure runs the benchmarks of the repository and writes docs/measurements.md:
// each figure beside the reference that it is held against, both of one run, with
// the spread over the runs. Anyone can run it; a machine with other work gives other
// figures, and the document says which machine it was.
//
//	go run ./internal/measure                all of it, some eight minutes
//	go run ./internal/measure -count 1       once each
//	go run ./internal/measure -only search   the sections whose title holds the word
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"strings"
	"time"
)

func main() {
	count := flag.Int("count", 3, "runs of each benchmark")
	only := flag.String("only", "", "only sections whose title holds this word; the document is then printed, not written")
	out := flag.String("o", "docs/measurements.md", "where the document is written")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := measure(ctx, *count, *only, *out); err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(1)
	}
}

func measure(ctx context.Context, count int, only, out string) error {
	var b strings.Builder
	b.WriteString(heading(machine(), count, time.Now()))
	var failed []string
	for _, s := range sections {
		if !strings.Contains(strings.ToLower(s.title), strings.ToLower(only)) {
			continue
		}
		fmt.Fprintln(os.Stderr, s.title)
		text, err := s.measured(ctx, count)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if errors.Is(err, errNoSolver) {
			text = "## " + s.title + "\n\nNot measured here: " + err.Error() + ".\n\n"
		} else if err != nil { // the others are still worth having
			fmt.Fprintf(os.Stderr, "%s: %v\n", s.title, err)
			failed = append(failed, s.title)
			text = "## " + s.title + "\n\nNot measured: a benchmark of this section failed.\n\n"
		}
		b.WriteString(text)
	}
	if only == "" {
		if err := os.WriteFile(out, []byte(b.String()), 0o644); err != nil {
			return err
		}
	} else if _, err := os.Stdout.WriteString(b.String()); err != nil {
		return err
	}
	if len(failed) > 0 {
		return fmt.Errorf("these sections could not be measured: %s", strings.Join(failed, ", "))
	}
	return nil
}

// measured runs the benchmarks of a section and writes it.
func (s section) measured(ctx context.Context, count int) (string, error) {
	got, err := run(ctx, s.runs, count)
	if err != nil {
		return "", err
	}
	return s.write(got)
}

// run runs the benchmarks of a section, one after the other.
func run(ctx context.Context, runs []benchmarks, count int) (figures, error) {
	got := figures{}
	for _, r := range runs {
		c, err := r.command(ctx, count)
		if err != nil {
			return nil, err
		}
		said, err := c.CombinedOutput()
		if err != nil {
			return nil, fmt.Errorf("%s: %w\n%s", strings.Join(c.Args, " "), err, said)
		}
		if err := got.read(string(said)); err != nil {
			return nil, err
		}
	}
	return got, nil
}

// command is what runs the benchmarks so many times.
func (r benchmarks) command(ctx context.Context, count int) (*exec.Cmd, error) {
	if r.script != "" {
		python, err := pythonWithSciPy(ctx)
		return exec.CommandContext(ctx, python, r.script, fmt.Sprint(count)), err
	}
	args := []string{"test", "-run", "^$", "-bench", r.pattern, "-count", fmt.Sprint(count), "-timeout", "60m"}
	if r.time != "" {
		args = append(args, "-benchtime", r.time)
	}
	c := exec.CommandContext(ctx, "go", append(args, r.pkg)...)
	c.Dir = r.dir
	return c, nil
}

// errNoSolver says that the general solver cannot be had here.
var errNoSolver = errors.New("no Python 3 with SciPy was found")

// pythonWithSciPy finds a Python that has SciPy. The first on the path need not be the
// system's, whose packages it is most often one of.
func pythonWithSciPy(ctx context.Context) (string, error) {
	for _, python := range []string{"python3", "/usr/bin/python3", "/usr/local/bin/python3"} {
		if exec.CommandContext(ctx, python, "-c", "import scipy.integrate").Run() == nil {
			return python, nil
		}
	}
	return "", errNoSolver
}

// machine says in words what the figures were taken on.
func machine() string {
	say := fmt.Sprintf("%d processors, %s/%s, %s", runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, runtime.Version())
	if info, err := os.ReadFile("/proc/cpuinfo"); err == nil {
		for _, l := range strings.Split(string(info), "\n") {
			if k, v, ok := strings.Cut(l, ":"); ok && strings.TrimSpace(k) == "model name" {
				say = strings.TrimSpace(v) + ", " + say
				break
			}
		}
	}
	if load, err := os.ReadFile("/proc/loadavg"); err == nil {
		say += "; load " + strings.Fields(string(load))[0] + " at the start"
	}
	return say
}

func heading(machine string, count int, now time.Time) string {
	return fmt.Sprintf(`# Measurements

Written by `+"`go run ./internal/measure`"+` on %s: %s. Runs of each
benchmark: %d; a figure is their median, with the least and the most in brackets. A ratio compares two figures
of one run on one machine, so that it means something on another; a time does not.
Targets are bounds that this project set itself.

`, now.UTC().Format(time.DateOnly), machine, count)
}
