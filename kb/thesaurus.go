package kb

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/table"
	"tenter/kb/search"
)

// Thesaurus is how makers say things: "floaty" is a soft hand and little mass,
// "does not fray" is a grade of fray. It is data/thesaurus.csv.
type Thesaurus struct {
	Means map[string][]string // for [search.Options]

	grams   map[string]string // stems of several words → the one word that replaces them
	phrases map[string]bool   // stems of several words that mean no grade together
	single  map[string]string // stem of a word that says a cloth's grade → the made-up word for it alone
	reading *strings.Replacer // made-up words → how they read
	grades  []placed          // every grade that is named, for the tests
}

type placed struct{ grade, where string }

// LoadThesaurus reads the thesaurus of the data files.
func LoadThesaurus(files fs.FS) (*Thesaurus, error) {
	const name = "thesaurus.csv"
	b, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, &fault.Fault{Kind: fault.BadData, Where: "data/" + name, What: "the file is missing", Err: err}
	}
	tab, err := table.Read("data/"+name, b, []string{"word", "means", "basis", "source_id", "locator", "note"})
	if err != nil {
		return nil, err
	}
	l := thesaurusReader{t: &Thesaurus{Means: map[string][]string{}, grams: map[string]string{}, phrases: map[string]bool{}, single: map[string]string{}}, seen: map[string]bool{}}
	for _, h := range slices.AppendSeq(slices.Collect(maps.Values(heads)), maps.Values(works)) {
		if h.grade != "" {
			l.reads = append(l.reads, `word "`+gradeWord(h.grade)+`"`, h.grade, `"`+gradeWord(h.grade)+`"`, `"`+h.grade+`"`)
		}
	}
	for _, r := range tab.Rows {
		l.row(r)
	}
	l.sideBySide()
	l.t.reading = strings.NewReplacer(l.reads...)
	return l.t, l.found.OrNil()
}

// thesaurusReader reads one row after the other.
type thesaurusReader struct {
	t     *Thesaurus
	reads []string // made-up words and how they read, in pairs
	seen  map[string]bool
	found fault.List
}

func (l *thesaurusReader) row(r table.Row) {
	word, means := r.Cell("word"), r.Cell("means")
	folded := search.Fold(word.Text)
	if len(folded) == 0 || means.Text == "" {
		l.found = append(l.found, r.Fault("a word or its meaning is missing", "a word, and what it means", ""))
		return
	}
	others, grade := l.meanings(means)
	key := strings.Join(folded, " ")
	if l.seen[key] {
		l.found = append(l.found, r.Fault(fmt.Sprintf("%q is there twice", word.Text), "each word once", "write both meanings into one row"))
	}
	l.seen[key] = true
	if grade {
		if len(folded) == 1 {
			made := "graded" + key
			l.t.single[stemmed(folded)], l.t.Means[made] = made, others
			l.reads = append(l.reads, `"`+made+`"`, `"`+word.Text+`"`)
		} else {
			// Taken by themselves "not" and "fray" would find what frays.
			key = strings.Join(folded, "")
			l.t.grams[stemmed(folded)] = key
			l.reads = append(l.reads, `"`+key+`"`, `"`+word.Text+`"`)
		}
	}
	if !grade && len(folded) > 1 {
		l.t.phrases[stemmed(folded)] = true
	}
	l.t.Means[key] = others
}

// meanings are what a word may stand for, grades as the made-up words that stand for
// them; it tells whether there is a grade among them.
func (l *thesaurusReader) meanings(means table.Cell) (others []string, grade bool) {
	for _, m := range strings.Split(means.Text, ";") {
		var words []string
		for _, part := range strings.Split(strings.TrimSpace(m), " and ") {
			if part = strings.TrimSpace(part); isGrade(part) {
				grade = true
				l.t.grades = append(l.t.grades, placed{part, means.Where()})
				l.reads = append(l.reads, `"`+gradeWord(part)+`"`, `"`+part+`"`)
				part = gradeWord(part)
			}
			words = append(words, part)
		}
		others = append(others, strings.Join(words, " "))
	}
	return others, grade
}

// sideBySide tells how two made-up words read that stand in one alternative.
func (l *thesaurusReader) sideBySide() {
	for _, others := range l.t.Means {
		for _, o := range others {
			if !strings.Contains(o, " ") {
				continue
			}
			var parts []string
			for _, w := range strings.Fields(o) {
				if i := slices.Index(l.reads, `"`+w+`"`); i >= 0 && i%2 == 0 {
					w = strings.Trim(l.reads[i+1], `"`)
				}
				parts = append(parts, w)
			}
			l.reads = append([]string{`"` + o + `"`, `"` + strings.Join(parts, " and ") + `"`}, l.reads...)
		}
	}
}

func stemmed(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = search.Stem(w)
	}
	return strings.Join(out, " ")
}
