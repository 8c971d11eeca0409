package fibres

// Cloth is a trade name for fibre, structure and treatment: a population of
// cloths, not one. Its measurements are in the fact files, see
// [Catalogue.Estimate].
type Cloth struct {
	ID, Name, USName string
	Synonyms         []string
	Misspellings     []string
	Structure        *Structure
	Treatments       []*Treatment
	Content          []Part
	Group            string // plain, twill, satin, sheer …
	RightSide        string
	UsedFor          []string
	ConfusedWith     []string // ids
	Era              string   // "" is sold today
	Describe         string
	Cite
}

// Part is one fibre of a cloth with its share in percent of the mass.
type Part struct {
	Fibre *Fibre
	Share Estimate
}

// Cite is where an entity or fact comes from.
type Cite struct {
	Basis   Basis
	Source  string
	Locator string
	Note    string
}

// Structure is how yarns (or fibres) are joined to cloth.
type Structure struct {
	ID, Name   string
	Synonyms   []string
	Class      string // woven, pile, knit, nonwoven, openwork, composite
	Weave      string // key of the lift plan, or ""
	Definition string
	Cite
}

// Fibre is what yarn is made of, by the generic names of the standards.
type Fibre struct {
	ID, Name, USName string
	Synonyms         []string
	Family           string // cellulose, protein, regenerated, ester, synthetic, mineral
	Felts            int    // level of FeltsScale; -1 not known
	Burn, Hurts      string
	Caution          string
	Cite
}

// Treatment is a finish given to cloth; "finish" alone means how a piece is
// made up.
type Treatment struct {
	ID, Name   string
	Synonyms   []string
	Definition string
	KeptDry    bool // neither washed nor steamed, since what it was treated with runs
	Cite
}

// Source is where a fact was found.
type Source struct {
	ID, Title, Author, Year, Kind, Licence string
	Read                                   bool
	Seen, Note                             string
}

// Term is a word of the trade, with the trap where the UK and the US differ.
type Term struct {
	ID, Name, Region, Meaning, Trap string
	SeeAlso                         []string
	Cite
}

// Names lists every name a cloth answers to, id first.
func (c *Cloth) Names() []string {
	out := []string{c.ID, c.Name}
	if c.USName != "" {
		out = append(out, c.USName)
	}
	return append(append(out, c.Synonyms...), c.Misspellings...)
}

// Has reports whether the cloth contains the fibre with at least the given
// typical share in percent.
func (c *Cloth) Has(fibre string, atLeast float64) bool {
	for _, p := range c.Content {
		if p.Fibre.ID == fibre && p.Share.Typical >= atLeast {
			return true
		}
	}
	return false
}
