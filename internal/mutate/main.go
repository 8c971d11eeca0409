// Mutate asks whether the tests of a package would notice a fault. It changes
// comparisons, boolean and arithmetic operators, constants and early exits in
// lines that the package's own short tests run, one at a time, and counts the
// changes that make a test fail.
//
//	go run ./internal/mutate -n 40 -seed 1 ./advise/cut
//
// All changes of a sample are compiled into one test program, each behind a
// switch that an environment variable throws, so that a mutant costs a run of
// the tests and no build. Nothing is written into the tree.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

func main() {
	n := flag.Int("n", 40, "how many mutants are tried of each package; 0 tries all")
	seed := flag.Uint64("seed", 1, "which sample is drawn")
	patience := flag.Int("patience", 5, "a mutant that uses so many times the processor time of the sound program counts as killed")
	file := flag.String("file", "", "only changes in files of which the name contains this")
	flag.StringVar(&skip, "skip", "^$", "tests that are left out, as go test -skip takes them")
	flag.Parse()
	if flag.NArg() == 0 {
		fmt.Fprintln(os.Stderr, "usage: go run ./internal/mutate [-n 40] [-seed 1] [-file name] PACKAGE...")
		os.Exit(2)
	}
	for _, p := range flag.Args() {
		if err := try(p, sample{*n, *seed, *file}, *patience); err != nil {
			fmt.Fprintf(os.Stderr, "%s: %v\n", p, err)
			os.Exit(1)
		}
	}
}

// skip names the tests that are left out.
var skip string

// sample says which of the mutants are tried.
type sample struct {
	n    int
	seed uint64
	file string
}

// try mutates one package and prints what came of it.
func try(pattern string, s sample, patience int) error {
	work, err := os.MkdirTemp("", "tenter-mutate")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	p, err := load(pattern)
	if err != nil {
		return err
	}
	profile := filepath.Join(work, "cover.out")
	if out, err := exec.Command("go", "test", "-short", "-timeout=0", "-skip", skip, "-coverprofile="+profile, p.ImportPath).CombinedOutput(); err != nil {
		return fmt.Errorf("the tests of the sound program fail: %w\n%s", err, out)
	}
	lines, err := covered(profile, p.ImportPath)
	if err != nil {
		return err
	}
	all, err := p.mutants(lines)
	if err != nil {
		return err
	}
	drawn := s.draw(all)
	bin := filepath.Join(work, "mutants.test")
	if drawn, err = p.build(drawn, work, bin); err != nil {
		return err
	}
	t, err := soundRun(bin, p.Dir)
	if err != nil {
		return err
	}
	killed := 0
	for i, m := range drawn {
		if t.notice(i+1, patience) {
			killed++
		} else {
			fmt.Printf("survived %s: %s\n", m.where(), m.says)
		}
	}
	fmt.Printf("%s: %d of %d mutants killed (%.0f %%), drawn of %d in covered lines; seed %d\n", p.ImportPath, killed, len(drawn), 100*float64(killed)/float64(max(1, len(drawn))), len(all), s.seed)
	return nil
}

// draw shuffles the mutants and takes the first that do not touch each other.
func (s sample) draw(all []mutant) (drawn []mutant) {
	r := rand.New(rand.NewPCG(s.seed, 1))
	for _, i := range r.Perm(len(all)) {
		m := all[i]
		if s.file != "" && !strings.Contains(filepath.Base(m.file), s.file) {
			continue
		}
		if s.n > 0 && len(drawn) == s.n {
			break
		}
		free := true
		for _, d := range drawn {
			free = free && (d.file != m.file || d.end <= m.start || m.end <= d.start)
		}
		if free {
			drawn = append(drawn, m)
		}
	}
	return drawn
}

// variable names the mutant that is switched on.
const variable = "TENTER_MUTANT"

// switches is the file that is added to the package: which mutant is on.
const switches = `package %s

import (
	"os"
	"strconv"
)

var mutantOn, _ = strconv.Atoi(os.Getenv("` + variable + `"))
`

var compileError = regexp.MustCompile(`([\w.-]+\.go):(\d+):\d+: `)

// build compiles the tests with all mutants in them. Those that do not compile
// where they stand are left out.
func (p *pkg) build(ms []mutant, work, bin string) ([]mutant, error) {
	for range 8 {
		overlay := map[string]string{}
		byFile := map[string][]int{}
		for i, m := range ms {
			byFile[m.file] = append(byFile[m.file], i)
		}
		spans := map[string][]span{}
		for file, is := range byFile {
			text, at, err := rewritten(file, ms, is)
			if err != nil {
				return nil, err
			}
			to := filepath.Join(work, filepath.Base(file))
			if err := os.WriteFile(to, text, 0o600); err != nil {
				return nil, err
			}
			overlay[file], spans[filepath.Base(file)] = to, at
		}
		on := filepath.Join(work, "switches.go")
		if err := os.WriteFile(on, fmt.Appendf(nil, switches, p.Name), 0o600); err != nil {
			return nil, err
		}
		overlay[filepath.Join(p.Dir, "mutant_switches.go")] = on
		spec, err := json.Marshal(map[string]any{"Replace": overlay})
		if err != nil {
			return nil, err
		}
		js := filepath.Join(work, "overlay.json")
		if err := os.WriteFile(js, spec, 0o600); err != nil {
			return nil, err
		}
		out, err := exec.Command("go", "test", "-c", "-vet=off", "-gcflags=-e", "-overlay="+js, "-o", bin, p.ImportPath).CombinedOutput()
		if err == nil {
			return ms, nil
		}
		bad := map[int]bool{}
		for _, e := range compileError.FindAllStringSubmatch(string(out), -1) {
			line, _ := strconv.Atoi(e[2])
			for _, s := range spans[e[1]] {
				if s.from <= line && line <= s.to {
					bad[s.mutant] = true
				}
			}
		}
		if len(bad) == 0 {
			return nil, fmt.Errorf("%w\n%s", err, out)
		}
		var good []mutant
		for i, m := range ms {
			if !bad[i] {
				good = append(good, m)
			}
		}
		ms = good
	}
	return nil, fmt.Errorf("the mutants do not compile")
}
