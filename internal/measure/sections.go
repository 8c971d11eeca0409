package main

import (
	"fmt"
	"slices"
	"strings"
)

// benchmarks are one run of `go test -bench`.
type benchmarks struct {
	pkg, pattern string
	time         string // -benchtime
	dir          string // of another module
	script       string // in Python with SciPy, instead of a package
}

// line is one line of a table: a figure, or with over a ratio of two.
type line struct {
	say        string
	name, unit string
	over       [2]string // name and unit of what it is divided by
	scale      float64   // of the figure; 0 = 1
	shown      string    // the unit as it is shown; "" for a ratio
	target     string
}

type section struct {
	title, about string
	runs         []benchmarks
	lines        []line
}

func (s section) write(f figures) (string, error) {
	var b strings.Builder
	fmt.Fprintf(&b, "## %s\n\n%s\n\n| what | figure | target |\n|---|---|---|\n", s.title, s.about)
	for _, l := range s.lines {
		vs, err := f.of(l.name, l.unit)
		if err != nil {
			return "", err
		}
		if l.over[0] != "" {
			under, err := f.of(l.over[0], l.over[1])
			if err != nil {
				return "", err
			}
			vs = ratio(vs, under)
		}
		scale := l.scale
		if scale == 0 {
			scale = 1
		}
		fmt.Fprintf(&b, "| %s | %s | %s |\n", l.say, strings.TrimSpace(spread(vs, scale)+" "+l.shown), l.target)
	}
	return b.String() + "\n", nil
}

const (
	ms = 1e-6 // of nanoseconds
	us = 1e-3
)

var sections = []section{
	{"Start of the command", "A whole `tenter check` of a cloth that suits, from start to end, beside programs that only say hello: with the library for commands alone, and with all libraries linked in. What is above those is the reference that is read, the cloth's members that are drawn and the answer that is chosen. Of the processor's time of one check (profiled on 2026-11-29, 80 runs) two fifths are init functions of libraries, half of these the tables for near spellings that bleve makes whether it is asked or not; a tenth is the start of Go's runtime, a quarter the system's work for a larger program (1,480 pages where the linked hello has 870), under a fifth the question itself: reference, members, rules. Our own init functions take 0.5 ms. The libraries alone take 2.9 times what a program of commands takes, so that 4 × leaves 1.4 × for all the rest; 1.5 × of all libraries would leave 3 ms for loading 400 pages more, the commands and the answer. What could go has gone; what is left to gain is in bleve's tables. A check that does not suit looks for a way out besides: it judges every cloth, lining and finish that could take the place.",
		[]benchmarks{{pkg: "./cmd/tenter", pattern: "^BenchmarkWholeProcess$", time: "30x"}},
		[]line{
			{say: "tenter check", name: "WholeProcess", unit: "median-ms", shown: "ms", target: "50 ms"},
			{say: "over hello with all libraries", name: "WholeProcess", unit: "×linked", shown: "×", target: "1.5 ×"},
			{say: "over hello with the commands alone", name: "WholeProcess", unit: "×cobra", shown: "×", target: "4 ×"},
			{say: "a check that looks for a way out", name: "WholeProcess", unit: "way-out-ms", shown: "ms"},
		}},
	{"Long work", "Whole commands from start to end: every pair of shell and lining, the same where either face is worn out, and a word among 100,000 own swatches that one of them holds, one that a third of them hold, one misspelt that all of them hold, and one misspelt so that its stem begins a word of all of them.",
		[]benchmarks{{pkg: "./cmd/tenter", pattern: "^BenchmarkLongWork$", time: "1x"}},
		[]line{
			{say: "pair without names, processor time", name: "LongWork/pair", unit: "cpu-s", shown: "s", target: "3 s"},
			{say: "its peak of memory", name: "LongWork/pair", unit: "peak-MB", shown: "MB", target: "200 MB"},
			{say: "pair --reversible, processor time", name: "LongWork/reversible", unit: "cpu-s", shown: "s", target: "10 s"},
			{say: "its peak of memory", name: "LongWork/reversible", unit: "peak-MB", shown: "MB", target: "200 MB"},
			{say: "a rare word, processor time", name: "LongWork/rare-word", unit: "cpu-s", scale: 1e3, shown: "ms", target: "150 ms"},
			{say: "its peak of memory", name: "LongWork/rare-word", unit: "peak-MB", shown: "MB", target: "80 MB"},
			{say: "a word of a third of them, processor time", name: "LongWork/common-word", unit: "cpu-s", scale: 1e3, shown: "ms", target: "150 ms"},
			{say: "its peak of memory", name: "LongWork/common-word", unit: "peak-MB", shown: "MB", target: "80 MB"},
			{say: "a misspelt word of all of them, processor time", name: "LongWork/misspelt-word", unit: "cpu-s", scale: 1e3, shown: "ms", target: "150 ms"},
			{say: "its peak of memory", name: "LongWork/misspelt-word", unit: "peak-MB", shown: "MB", target: "80 MB"},
			{say: "a misspelt word whose stem begins one of all of them", name: "LongWork/begins-all", unit: "cpu-s", scale: 1e3, shown: "ms", target: "150 ms"},
			{say: "its peak of memory", name: "LongWork/begins-all", unit: "peak-MB", shown: "MB", target: "80 MB"},
		}},
	{"Rules", "200 rules over 260 cloths of 256 members: the engine, a loop written out by hand for the same rules, and a general expression library that compiles each rule once and is asked member by member.",
		[]benchmarks{{pkg: "./advise/rules", pattern: "^Benchmark(FireAll|BareLoop)$", time: "20x"}, {pkg: "./expression", pattern: "^BenchmarkExpression$", time: "1x", dir: "tools"}},
		[]line{
			{say: "engine, a rule and a cloth", name: "FireAll", unit: "ns/rule", shown: "ns"},
			{say: "over the bare loop", name: "FireAll", unit: "ns/rule", over: [2]string{"BareLoop", "ns/rule"}, shown: "×", target: "5 ×"},
			{say: "over the expression library", name: "FireAll", unit: "ns/rule", over: [2]string{"Expression", "ns/rule"}, shown: "×", target: "under 1 ×"},
		}},
	{"Advice", "One make-up over every shell, and every pair of shell and lining.",
		[]benchmarks{{pkg: "./advise", pattern: "^Benchmark(AdviseAllCloths|PairAll)$", time: "3x"}},
		[]line{
			{say: "all shells", name: "AdviseAllCloths", unit: "ns/op", scale: ms, shown: "ms"},
			{say: "all pairs", name: "PairAll", unit: "ns/op", scale: ms * 1e-3, shown: "s", target: "3 s"},
		}},
	{"Search", "Against SQLite's full-text index over the same invented entries, asked in turn. Two and three words are words of one entry; of three strangers no entry holds all, so the full-text index answers nothing, and ours goes on to guess at spellings and to words that are missing. Ours also says why each entry was found, puts names first, looks for what a word stands for, and counts by kind and fibre. What is counted is counted by sets of entries, which costs next to nothing, and the places of words are read only of entries that hold all words of a phrase. Among few entries two or three questions to an index and the reading of twenty hits cost more than one question to the other. The slowest (p99) is what a user waits for.",
		[]benchmarks{{pkg: "./kb/index", pattern: "^BenchmarkAgainstFullText$/^3000$", time: "300x"}, {pkg: "./kb/index", pattern: "^BenchmarkAgainstFullText$/^100000$/^(one|two|three|phrase)$", time: "200x"}},
		append(againstFullText("3000", "one", "two", "three", "three-strangers", "phrase"), append(againstFullText("100000", "one", "two", "three", "phrase"),
			line{say: "3000 entries: misspelt, p50", name: "AgainstFullText/3000/misspelt", unit: "µs-p50", shown: "µs"})...)},
	{"Import", "50,000 swatches: against a bare loop of one prepared statement a table, from rows in memory and from CSV.",
		[]benchmarks{{pkg: "./kb/store", pattern: "^BenchmarkImport$", time: "1x"}, {pkg: "./kb", pattern: "^BenchmarkImportCSV$", time: "1x"}},
		[]line{
			{say: "rows", name: "Import/swatches", unit: "ratio", shown: "×", target: "1.5 ×"},
			{say: "rows with a mass each", name: "Import/swatches_with_a_mass", unit: "ratio", shown: "×", target: "1.5 ×"},
			{say: "CSV", name: "ImportCSV", unit: "ratio", shown: "×", target: "2 ×"},
		}},
	{"Page", "The server's own time beside a bare handler that writes as many bytes from a template: for a page that was asked before, for one that was not, whose answer is worked out (the first view of a make-up computes it), and for addresses that there are none of, another each time.",
		[]benchmarks{{pkg: "./page", pattern: "^Benchmark(PagesFirst|Pages|Bare|Unknown)$/^(|check|50000|nosuch-%d|cloth)$", time: "100x"}},
		[]line{
			{say: "home, asked before, p50", name: "Pages//", unit: "p50-µs", over: [2]string{"Bare/50000", "p50-µs"}, shown: "×", target: "5 ×"},
			{say: "home, first", name: "PagesFirst//", unit: "p50-µs", over: [2]string{"Bare/50000", "p50-µs"}, shown: "×"},
			{say: "an address that is none", name: "Unknown//nosuch-%d", unit: "ns/op", over: [2]string{"Bare/50000", "ns/op"}, shown: "×", target: "5 ×"},
			{say: "a cloth that is none", name: "Unknown//cloth/nosuch-%d", unit: "ns/op", over: [2]string{"Bare/50000", "ns/op"}, shown: "×", target: "5 ×"},
			{say: "bare handler of 50 kB", name: "Bare/50000", unit: "p50-µs", shown: "µs"},
		}},
	{"Cutting", "Laying out 20 rectangles, and 20 parts of the shapes that pieces have. How far layouts of perfect strips lie above the best is held by a test (`TestPerfectStrips…` in advise/cut).",
		[]benchmarks{{pkg: "./advise/cut", pattern: "^BenchmarkLayoutOfTwenty", time: "5x"}},
		[]line{
			{say: "rectangles", name: "LayoutOfTwentyRectangles", unit: "ns/op", scale: ms, shown: "ms", target: "1 s"},
			{say: "outlines", name: "LayoutOfTwentyOutlines", unit: "ns/op", scale: ms, shown: "ms", target: "1 s"},
		}},
	{"Elastica against a general solver", "One fall of a strip, by how many bending lengths long it is: SciPy's `solve_bvp` to 1e-6 (`internal/measure/elastica.py`; it asks Python for the equation at every step), and ours. That they agree, to a ten-thousandth of a degree, is held by a test (`TestHangAgainstReference` in fibres/hang, figures of SciPy by two methods).",
		[]benchmarks{{pkg: "./fibres/hang", pattern: "^BenchmarkHang$", time: "200x"}, {script: "internal/measure/elastica.py"}},
		slices.Concat(againstSolver("0.5"), againstSolver("2"), againstSolver("5"))},
	{"Growth", "What a cost becomes where there is 4 and 16 times as much: 16 × and below is no worse than in proportion.",
		[]benchmarks{{pkg: "./kb", pattern: "^BenchmarkGrowth$", time: "1x"}, {pkg: "./advise/rules", pattern: "^BenchmarkGrowth$", time: "20x"}, {pkg: "./advise", pattern: "^BenchmarkGrowth$", time: "3x"}},
		[]line{
			growth("rules, 4 × as many", "Growth/rules=200", "Growth/rules=50"), growth("rules, 16 ×", "Growth/rules=800", "Growth/rules=50"),
			growth("shells judged, 4 × as many", "Growth/shells=80", "Growth/shells=20"), growth("shells judged, 16 ×", "Growth/shells=320", "Growth/shells=20"),
			growth("own swatches, a word that one holds, 4 ×", "Growth/find/swatches=12500", "Growth/find/swatches=3125"), growth("16 ×", "Growth/find/swatches=50000", "Growth/find/swatches=3125"),
			growth("own swatches, import, 4 ×", "Growth/import/swatches=12500", "Growth/import/swatches=3125"), growth("16 ×", "Growth/import/swatches=50000", "Growth/import/swatches=3125"),
		}},
}

// againstFullText are the ratios of the forms of a question among so many entries.
func againstFullText(entries string, forms ...string) (lines []line) {
	for _, f := range forms {
		say, name := entries+" entries: "+strings.ReplaceAll(f, "-", " "), "AgainstFullText/"+entries+"/"+f
		target := ""
		if entries == "100000" {
			target = "1 ×"
		}
		lines = append(lines, line{say: say + ", p50", name: name, unit: "ratio-p50", shown: "×", target: target}, line{say: say + ", p99", name: name, unit: "ratio-p99", shown: "×", target: target})
	}
	return lines
}

// againstSolver is one fall of a strip of so many bending lengths.
func againstSolver(lengths string) []line {
	solver, ours := "GeneralSolver/L/c="+lengths, "Hang/L/c="+lengths
	return []line{
		{say: lengths + " c long, general solver", name: solver, unit: "ns/op", scale: us, shown: "µs"},
		{say: "ours", name: ours, unit: "ns/op", scale: us, shown: "µs"},
		{say: "ours over the general solver", name: ours, unit: "ns/op", over: [2]string{solver, "ns/op"}, shown: "×", target: "under 1 ×"},
	}
}

func growth(say, more, less string) line {
	return line{say: say, name: more, unit: "ns/op", over: [2]string{less, "ns/op"}, shown: "×"}
}
