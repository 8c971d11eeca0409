// Package rules reads pieces of advice from TOML, checks them, and says of a
// make-up which of them speak, and for what share of the cloths it may mean.
//
// A rule is data: conditions in plain words, an effect, a sentence to say, a
// reason, and where it comes from. The package knows no cloth and no piece: the
// caller describes the facts that conditions may name ([NewSchema]), loads the
// files ([Load]), fills in what is known of a make-up ([Case]), and asks
// ([Rule.Fire]). Conditions are parsed and checked once, when they are loaded, and
// then compared by index.
package rules

import (
	"slices"
	"strings"
	"sync"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Kind is what sort of value a fact has.
type Kind int

// The kinds of fact.
const (
	Number Kind = iota // a figure in the fact's unit
	Level              // a word of an ordered scale
	Word               // one word or id
	Set                // any number of words or ids
	Flag               // yes or no
)

// String names the kind as the help lists it.
func (k Kind) String() string {
	if k < 0 || int(k) >= len(kindWords) {
		return "unknown kind"
	}
	return kindWords[k]
}

var kindWords = [...]string{"number", "level", "word", "set", "flag"}

// Fact is something that may be known of a make-up and that conditions may
// name.
type Fact struct {
	Name  string
	Kind  Kind
	Unit  string   // of a Number: "g/m2", "cm", "mm", "%", "C", or "" for a plain count
	Scale []string // of a Level: the words from least to most; of a Word or Set: its closed vocabulary, nil when open
	Ids   string   // name of the id list from which a Word or Set takes its words, or ""
	Doc   string   // one line of help
}

// short is the last part of the name, as a finding says it.
func (f *Fact) short() string { return f.Name[strings.LastIndexByte(f.Name, '.')+1:] }

// group is the first part of the name: the thing the fact is about.
func (f *Fact) group() string {
	g, _, _ := strings.Cut(f.Name, ".")
	return g
}

// Schema is the facts there are and the words they may take. It does not change
// once rules are loaded.
type Schema struct {
	facts []Fact
	index map[string]int
	vocab [][]string // by fact: its closed vocabulary, nil when open
	ids   map[string][]string
	imply func(c *Case, fact int, word string)
	spare sync.Pool // cases that nobody asks any more
}

// NewSchema checks the facts. The id lists are keyed by kind ("cloth",
// "piece", …); beside those that facts name, "source" is the list that a rule's
// sources must be in, "source-read" (optional) those that were read, which a
// published rule must rest on, "matter" (optional) what a rule may be about, and "step" (optional) the steps of work that rules may
// move, besides those that they add.
func NewSchema(facts []Fact, ids map[string][]string) (*Schema, error) {
	s := &Schema{facts: slices.Clone(facts), index: make(map[string]int, len(facts)), vocab: make([][]string, len(facts)), ids: ids}
	var l fault.List
	wrong := func(f *Fact, what string) {
		l = append(l, &fault.Fault{Kind: fault.Internal, Where: "fact " + f.Name, What: what})
	}
	for i := range s.facts {
		f := &s.facts[i]
		if _, twice := s.index[f.Name]; twice || f.Name == "" {
			wrong(f, "the name is empty or there twice")
		}
		s.index[f.Name] = i
		switch f.Kind {
		case Number:
			if _, err := (units.Quantity{Value: 1, Kind: kindOf(f.Unit)}).In(f.Unit); err != nil {
				wrong(f, "unit "+f.Unit+" is not known")
			}
		case Level:
			if len(f.Scale) < 2 || len(f.Scale) > 64 {
				wrong(f, "a scale has 2 to 64 words")
			}
			s.vocab[i] = f.Scale
		case Flag:
			s.vocab[i] = yesNo
		case Word, Set:
			s.vocab[i] = f.Scale
			if f.Ids != "" {
				if ids[f.Ids] == nil {
					wrong(f, "there is no list of ids called "+f.Ids)
				}
				s.vocab[i] = ids[f.Ids]
			}
		default:
			wrong(f, "the kind is not known")
		}
	}
	return s, l.OrNil()
}

var yesNo = []string{"no", "yes"}

// Imply tells the schema what follows from a word: fn fills into c what is then
// known of the make-up, above all what is absent (a finish of a single layer
// has no lining). With it, [Load] finds rules that can never fire. A flag's word
// is "yes" or "no".
func (s *Schema) Imply(fn func(c *Case, fact int, word string)) { s.imply = fn }

// Index gives the place of a fact in a [Case].
func (s *Schema) Index(name string) (int, bool) {
	i, ok := s.index[name]
	return i, ok
}

// Facts lists the facts in the order of their places.
func (s *Schema) Facts() []Fact { return s.facts }

// Group lists the places of the facts about one thing: of "seam", seam and
// every seam.….
func (s *Schema) Group(group string) []int {
	var out []int
	for i := range s.facts {
		if s.facts[i].group() == group {
			out = append(out, i)
		}
	}
	return out
}

// names lists the facts whose names begin with the group, without it, or all
// facts where there is no such group.
func (s *Schema) names(group string) (in, all []string) {
	for i := range s.facts {
		n := s.facts[i].Name
		all = append(all, n)
		if strings.HasPrefix(n, group+".") {
			in = append(in, n[len(group)+1:])
		}
	}
	return in, all
}

// groups lists the first parts of the names of facts, each once.
func (s *Schema) groups() []string {
	var out []string
	for i := range s.facts {
		if g := s.facts[i].group(); !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}

// kindOf gives the kind of quantity that a unit measures.
func kindOf(unit string) units.Kind {
	if unit == "" {
		return units.Number
	}
	q, err := units.Parse("1 " + unit)
	if err != nil {
		return units.Number
	}
	return q.Kind
}
