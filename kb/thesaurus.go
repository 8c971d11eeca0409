package kb

import (
	"fmt"
	"io/fs"
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
	graded  map[string]bool   // words that say something of a cloth's grade
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
	t := &Thesaurus{Means: map[string][]string{}, grams: map[string]string{}, graded: map[string]bool{}}
	var found fault.List
	var read []string
	for _, h := range heads {
		if h.grade != "" {
			read = append(read, `word "`+gradeWord(h.grade)+`"`, h.grade, `"`+gradeWord(h.grade)+`"`, `"`+h.grade+`"`)
		}
	}
	seen := map[string]bool{}
	for _, r := range tab.Rows {
		word, means := r.Cell("word"), r.Cell("means")
		folded := search.Fold(word.Text)
		if len(folded) == 0 || means.Text == "" {
			found = append(found, r.Fault("a word or its meaning is missing", "a word, and what it means", ""))
			continue
		}
		var others []string
		grade := false
		for _, m := range strings.Split(means.Text, ";") {
			var words []string
			for _, part := range strings.Split(strings.TrimSpace(m), " and ") {
				if part = strings.TrimSpace(part); isGrade(part) {
					grade = true
					t.grades = append(t.grades, placed{part, means.Where()})
					read = append(read, `"`+gradeWord(part)+`"`, `"`+part+`"`)
					part = gradeWord(part)
				}
				words = append(words, part)
			}
			others = append(others, strings.Join(words, " "))
		}
		key := strings.Join(folded, " ")
		if len(folded) > 1 && grade {
			// Taken by themselves "not" and "fray" would find what frays.
			key = strings.Join(folded, "")
			t.grams[stemmed(folded)] = key
			read = append(read, `"`+key+`"`, `"`+word.Text+`"`)
		}
		if seen[strings.Join(folded, " ")] {
			found = append(found, r.Fault(fmt.Sprintf("%q is there twice", word.Text), "each word once", "write both meanings into one row"))
		}
		seen[strings.Join(folded, " ")] = true
		t.Means[key] = others
		if grade {
			t.graded[stemmed(folded)] = true
		}
	}
	// Two made-up words may stand side by side in one alternative.
	for _, others := range t.Means {
		for _, o := range others {
			if strings.Contains(o, " ") {
				var parts []string
				for _, w := range strings.Fields(o) {
					if i := slices.Index(read, `"`+w+`"`); i >= 0 && i%2 == 0 {
						w = strings.Trim(read[i+1], `"`)
					}
					parts = append(parts, w)
				}
				read = append([]string{`"` + o + `"`, `"` + strings.Join(parts, " and ") + `"`}, read...)
			}
		}
	}
	t.reading = strings.NewReplacer(read...)
	return t, found.OrNil()
}

func stemmed(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = search.Stem(w)
	}
	return strings.Join(out, " ")
}
