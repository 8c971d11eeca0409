package advise

import (
	"hash/crc32"
	"io/fs"

	"tenter/advise/rules"
	"tenter/fibres"
)

// Pieces, finishes, seams, interfacings and rules are compiled in as literals,
// as the catalogue is (see fibres/builtin.go), and used only while the files and
// the facts of the rule language are those they were made of.

type literals struct {
	sum          uint32
	pieces       []Piece
	finishes     []Finish
	usual        []Usual
	unfit        []Unfit
	seams        []Seam
	interfacings []Interfacing
	needles      []Needle
	matters      []Matter
	traits       []Trait
	wishes       []Wish
	stock        []Stock
	jobs         []Job
	picks        []Pick
	notions      []Notion
	places       []Place
	rules        []rules.Rule
}

// sumOf is a checksum of the files and of the facts that rules are compiled
// against.
func sumOf(files fs.FS, facts []rules.Fact) uint32 { return withFacts(sumOfFiles(files), facts) }

func sumOfFiles(files fs.FS) uint32 {
	return fibres.Sum(files, "*.toml") ^ fibres.Sum(files, "rules/*.toml")*3 ^ fibres.Sum(files, "needles.csv")*5 ^ fibres.Sum(files, "matters.csv")*7 ^ fibres.Sum(files, "traits.csv")*11 ^ fibres.Sum(files, "stocked.csv")*13
}

func withFacts(sum uint32, facts []rules.Fact) uint32 {
	for _, f := range facts {
		sum = crc32.Update(sum, crc32.IEEETable, []byte(f.Name+f.Unit))
		for _, w := range f.Scale {
			sum = crc32.Update(sum, crc32.IEEETable, []byte(w))
		}
	}
	return sum
}

// take makes the things of the literals the adviser's own.
func (a *Adviser) take(l *literals) {
	for i := range l.pieces {
		p := &l.pieces[i]
		a.Pieces = append(a.Pieces, p)
		a.PieceNames.Add(p.ID, p.Name, p.Synonyms...)
	}
	for i := range l.finishes {
		f := &l.finishes[i]
		a.Finishes = append(a.Finishes, f)
		a.FinishNames.Add(f.ID, f.Name, f.Synonyms...)
	}
	for i := range l.seams {
		s := &l.seams[i]
		a.Seams = append(a.Seams, s)
		if s.Kind == "edge" {
			a.EdgeNames.Add(s.ID, s.Name, s.Synonyms...)
		} else {
			a.SeamNames.Add(s.ID, s.Name, s.Synonyms...)
		}
	}
	for i := range l.interfacings {
		x := &l.interfacings[i]
		a.Interfacings = append(a.Interfacings, x)
		a.InterfacingNames.Add(x.ID, x.Name, x.Synonyms...)
	}
	a.Needles, a.Matters, a.Traits, a.Stock = l.needles, l.matters, l.traits, l.stock
	a.Usual, a.Unfit, a.Picks, a.Notions, a.Places = l.usual, l.unfit, l.picks, l.notions, l.places
	for i := range l.wishes {
		w := &l.wishes[i]
		a.Wishes = append(a.Wishes, w)
		a.WishNames.Add(w.ID, w.Name, w.Synonyms...)
	}
	for i := range l.jobs {
		a.Jobs = append(a.Jobs, &l.jobs[i])
	}
}

// fromCompiled makes the adviser of the literals, or nil where the files are
// others.
func fromCompiled(files fs.FS) *Adviser {
	l := compiled()
	if l == nil || l.sum == 0 {
		return nil
	}
	sum := make(chan uint32, 1) // the files are summed while the rest is made
	go func() { sum <- sumOfFiles(files) }()
	cat, err := fibres.Load(files)
	if err != nil {
		return nil // reading the files anew tells what is wrong
	}
	a := newAdviser(cat)
	a.files = files
	a.take(l)
	none := []string{} // the literals were checked against the ids when they were made
	if a.useSchema(map[string][]string{"piece": none, "finish": none, "seam": none, "edge": none, "interfacing": none, "cloth": none,
		"fibre": none, "structure": none, "treatment": none, "source": none, "wish": none, "job": none}) != nil {
		return nil
	}
	list := make([]*rules.Rule, len(l.rules))
	for i := range l.rules {
		list[i] = &l.rules[i]
	}
	a.useRules(list)
	if withFacts(<-sum, a.facts) != l.sum && !fibres.Literal(files) {
		return nil
	}
	return a
}
