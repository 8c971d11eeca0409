package fibres

import (
	"cmp"
	"hash/crc32"
	"io"
	"io/fs"
	"slices"
	"sort"
	"strings"

	"tenter/fibres/table"
)

// The built-in catalogue is also compiled in, as the literals of compiled.go,
// so that a run need not read a thousand rows to answer about one cloth. The
// literals are used only where the data files are, byte for byte, those that
// they were made of; any other files are read and checked as ever.
// TestCompiledCatalogue writes the literals, and fails where they are stale.

// Sum is a checksum of data files by name and content.
func Sum(files fs.FS, pattern string) uint32 {
	names, err := fs.Glob(files, pattern)
	if err != nil {
		return 0
	}
	sort.Strings(names)
	sum := crc32.New(crc32.MakeTable(crc32.Castagnoli))
	buf := make([]byte, 4<<10) // a file read whole would be as much new memory, which costs more than the sum
	for _, n := range names {
		f, err := files.Open(n)
		if err != nil {
			return 0
		}
		_, _ = io.WriteString(sum, n)
		_, err = io.CopyBuffer(sum, f, buf)
		_ = f.Close()
		if err != nil {
			return 0
		}
	}
	return sum.Sum32()
}

// Literal reports whether the literals stand for data files that are not there: a
// browser is given no more, and a test keeps the two alike.
func Literal(files fs.FS) bool {
	l, ok := files.(interface{ Literal() bool })
	return ok && l.Literal()
}

// factRows are the rows of one fact.
type factRows struct {
	At   ref
	Rows []Estimate
}

// factTable is every recorded fact in the order of [ref.compare]: as compiled in,
// nothing need be made of it before the first is asked for.
type factTable []factRows

func (t factTable) of(at ref) []Estimate {
	i, found := slices.BinarySearchFunc(t, at, func(r factRows, at ref) int { return r.At.compare(at) })
	if !found {
		return nil
	}
	return t[i].Rows
}

type scalarRows struct {
	At   ref
	Rows []Scalar
}

type effectRows struct {
	At   ref
	Rows []effect
}

// clothFigures are what the name of a cloth tells, see written.go.
type clothFigures struct{ Of, Written string }

// literals is what compiled.go holds.
type literals struct {
	sum        uint32
	sources    []Source
	fibres     []Fibre
	structures []Structure
	treatments []Treatment
	cloths     []Cloth
	shopNames  []ShopName
	idleWords  []string
	terms      []Term
	weaves     [][2]string
	facts      []factRows
	scalars    []scalarRows
	effects    []effectRows
	figures    []clothFigures
}

// fromCompiled makes the catalogue of the literals, or nil where the files are
// others.
func fromCompiled(files fs.FS) *Catalogue {
	l := compiled()
	if l == nil || l.sum == 0 {
		return nil
	}
	sum := make(chan uint32, 1) // the files are summed while the maps are filled
	go func() { sum <- Sum(files, "*.csv") }()
	c := newCatalogue(len(l.cloths))
	c.facts = l.facts
	c.ClothNames.entries = make([]nameEntry, 0, len(l.cloths))
	for i := range l.sources {
		c.Sources[l.sources[i].ID] = &l.sources[i]
	}
	for i := range l.fibres {
		f := &l.fibres[i]
		c.Fibres[f.ID] = f
		c.nameFibre(f)
	}
	for i := range l.structures {
		s := &l.structures[i]
		c.Structures[s.ID] = s
		c.StructureNames.Add(s.ID, s.Name, s.Synonyms...)
	}
	for i := range l.treatments {
		t := &l.treatments[i]
		c.Treatments[t.ID] = t
		c.TreatmentNames.Add(t.ID, t.Name, t.Synonyms...)
	}
	for i := range l.cloths {
		k := &l.cloths[i]
		c.Cloths[k.ID] = k
		c.nameCloth(k)
		c.clothOrder = append(c.clothOrder, k)
	}
	c.written = make(map[*Cloth]string, len(l.figures))
	for _, w := range l.figures {
		c.written[c.Cloths[w.Of]] = w.Written
	}
	c.shopNames = l.shopNames
	c.idleWords = l.idleWords
	for i := range l.terms {
		c.Terms[l.terms[i].ID] = &l.terms[i]
	}
	for _, w := range l.weaves {
		c.addWeave(w[0], w[1])
	}
	for i := range l.scalars {
		c.scalars[l.scalars[i].At] = l.scalars[i].Rows
	}
	for i := range l.effects {
		c.effects[l.effects[i].At] = l.effects[i].Rows
	}
	if <-sum != l.sum && !Literal(files) {
		return nil
	}
	return c
}

func newCatalogue(cloths int) *Catalogue {
	return &Catalogue{
		Sources: make(map[string]*Source, 256), Fibres: make(map[string]*Fibre, 64), Structures: make(map[string]*Structure, 64),
		Treatments: make(map[string]*Treatment, 96), Cloths: make(map[string]*Cloth, cloths), Terms: make(map[string]*Term, 320),
		Weaves: map[string]string{}, weaveEase: map[string]weaveEase{},
		ClothNames: NewNames("cloth"), FibreNames: NewNames("fibre"),
		StructureNames: NewNames("structure"), TreatmentNames: NewNames("treatment"),
		scalars: map[ref][]Scalar{}, effects: map[ref][]effect{},
	}
}

func (c *Catalogue) nameFibre(f *Fibre) {
	c.FibreNames.Add(f.ID, f.Name, append(table.List(f.USName), f.Synonyms...)...)
}

func (c *Catalogue) nameCloth(k *Cloth) {
	c.ClothNames.add(nameEntry{k.ID, k.Name, k.USName, k.Synonyms, k.Misspellings})
}

func (c *Catalogue) addWeave(id, plan string) {
	c.Weaves[id] = plan
	if e, ok := easeOf(plan); ok {
		c.weaveEase[id] = e
	}
}

// compare orders references by kind, id and property.
func (r ref) compare(o ref) int {
	return cmp.Or(strings.Compare(r.of, o.of), strings.Compare(r.id, o.id), strings.Compare(r.prop, o.prop))
}
