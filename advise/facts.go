package advise

import (
	"math"
	"slices"
	"strings"

	"tenter/advise/rules"
	"tenter/fibres"
)

// fact is something that rules and demands may ask about a T: its name, kind and
// words, and how what is known of the T goes into a case. The row is all there is
// to say of it. Rows are told apart by their places, so that a case of thousands of
// make-ups is filled without looking a name up.
type fact[T any] struct {
	rules.Fact
	set func(c *rules.Case, at int, of T)
}

// lay sets a table of facts, whose first stands at the place, from what they are
// about.
func lay[T any](c *rules.Case, at int, table []fact[T], of T) {
	for i := range table {
		table[i].set(c, at+i, of)
	}
}

// places are where each table of facts begins in a case, and where a fact comes
// from.
type places struct {
	makeUp, piece, finish, interfacing, seam, edge int
	layer, property                                [2]int // of shell and lining
	derived                                        int
	origin                                         []origin // of each fact
}

// origin is what a fact is derived from: the properties of which layers, the home
// test of the first of which settles it. Facts that are simply said have none.
type origin struct {
	from    []fibres.Property
	layer   int                 // shell or lining; both for a fact of the make-up
	because func(MakeUp) string // how it came about; nil where the layer's own estimate says it
	paired  bool                // there is none of it without a lining
	borne   bool                // a lining that bears answers for it too
}

// aloneFacts are what a piece asks of its shell by itself where it asks it of the
// make-up: a lining never supplies the body that the shell lacks.
var aloneFacts = map[string]string{"make-up.mass": "outer.mass", "make-up.bending-length": "outer.bending-length", "make-up.thickness": "outer.thickness"}

// Layers by their places.
const (
	shell  = 0
	lining = 1
	both   = 2
)

var layerNames = [2]string{"shell", "lining"}

// The kinds of fact, as the tables write them.

func idFact[T any](name, doc string, of func(T) string) fact[T] {
	return fact[T]{rules.Fact{Name: name, Kind: rules.Word, Ids: name, Doc: doc}, func(c *rules.Case, at int, t T) { c.SetWord(at, of(t)) }}
}

func jobFact[T any](name, doc string, of func(T) string) fact[T] {
	return fact[T]{rules.Fact{Name: name, Kind: rules.Word, Ids: "job", Doc: doc}, func(c *rules.Case, at int, t T) { c.SetWord(at, of(t)) }}
}

func wordFact[T any](name string, words []string, doc string, of func(T) string) fact[T] {
	return fact[T]{rules.Fact{Name: name, Kind: rules.Word, Scale: words, Doc: doc}, func(c *rules.Case, at int, t T) { c.SetWord(at, of(t)) }}
}

func setFact[T any](name string, words []string, ids, doc string, of func(T) []string) fact[T] {
	return fact[T]{rules.Fact{Name: name, Kind: rules.Set, Scale: words, Ids: ids, Doc: doc}, func(c *rules.Case, at int, t T) { c.SetSet(at, of(t)...) }}
}

func flagFact[T any](name, doc string, of func(T) bool) fact[T] {
	return fact[T]{rules.Fact{Name: name, Kind: rules.Flag, Scale: []string{"no", "yes"}, Doc: doc}, func(c *rules.Case, at int, t T) { c.SetFlag(at, of(t)) }}
}

// numberFact is a figure; one that is negative or not a number is not known.
func numberFact[T any](name, unit, doc string, of func(T) float64) fact[T] {
	return fact[T]{rules.Fact{Name: name, Kind: rules.Number, Unit: unit, Doc: doc}, func(c *rules.Case, at int, t T) {
		if v := of(t); v >= 0 {
			c.SetNumber(at, v)
		}
	}}
}

// levelFact is a place on a scale; −1 is not known.
func levelFact[T any](name string, scale []string, doc string, of func(T) int) fact[T] {
	return fact[T]{rules.Fact{Name: name, Kind: rules.Level, Scale: scale, Doc: doc}, func(c *rules.Case, at int, t T) { c.SetLevel(at, of(t)) }}
}

// unless is a figure that is known only while there is one.
func unless(missing bool, v float64) float64 {
	if missing {
		return math.NaN()
	}
	return v
}

var makeUpFacts = []fact[MakeUp]{
	wordFact("wearer", wearers, "who wears it", MakeUp.wearer),
	numberFact("wished-fibre", "%", "share of the shell that is of the fibres that are wished", MakeUp.wishedFibre),
	setFact("wishes", nil, "wish", "what the maker wishes and says of it", MakeUp.wishIDs),
	flagFact("mounted", "a layer is mounted on the shell and worked as one with it", MakeUp.mounted),
	jobFact("lining.job", "the job of the lining: sliding, hiding …", MakeUp.job),
}

var pieceFacts = []fact[*Piece]{
	idFact("piece", "the piece, by id", func(p *Piece) string { return p.ID }),
	wordFact("piece.group", groups, "what sort of piece it is", func(p *Piece) string { return p.Group }),
	wordFact("piece.shape", shapes, "its cut", func(p *Piece) string { return p.Shape }),
	wordFact("piece.support", supports, "what carries it", func(p *Piece) string { return p.Support }),
	wordFact("piece.wash", washings, "how often it is washed", func(p *Piece) string { return p.Wash }),
	wordFact("piece.wearer", pieceWearers, "whom it is made for", func(p *Piece) string { return p.Wearer }),
	setFact("piece.features", features, "", "what it has: a hood, corners, curves …", func(p *Piece) []string { return p.Features }),
	numberFact("piece.faces", "", "how many faces are seen in wear", func(p *Piece) float64 { return float64(p.Faces) }),
	numberFact("piece.hang", "cm", "how far it hangs", func(p *Piece) float64 { return float64(p.Hang) }),
	numberFact("piece.flap", "cm", "the free overhang over which the stand-off is judged", func(p *Piece) float64 { return float64(p.Flap) }),
	flagFact("piece.stage", "made for a stage or hall", func(p *Piece) bool { return p.Stage }),
	flagFact("piece.sleeves", "one of its parts is a sleeve", func(p *Piece) bool {
		return slices.ContainsFunc(p.Parts, func(x PiecePart) bool { return strings.Contains(x.Name, "sleeve") })
	}),
}

var finishFacts = []fact[*Finish]{
	idFact("finish", "how it is made up, by id", func(f *Finish) string { return f.ID }),
	flagFact("finish.lined", "it has a lining", func(f *Finish) bool { return f.Lined }),
	flagFact("finish.turned", "sewn right sides together and turned through", func(f *Finish) bool { return f.Turned }),
	flagFact("finish.reversible", "either face may be worn out", func(f *Finish) bool { return f.Reversible }),
	numberFact("finish.layers", "", "full layers of cloth", func(f *Finish) float64 { return float64(f.Layers) }),
	wordFact("finish.joined", joins, "how the layers hold together", func(f *Finish) string { return f.Joined }),
	wordFact("finish.edge", edges, "what becomes of the edge", func(f *Finish) string { return f.Edge }),
}

var interfacingFacts = []fact[*Interfacing]{
	idFact("interfacing", "the interfacing, by id", func(x *Interfacing) string { return x.ID }),
	wordFact("interfacing.attach", attachments, "how it is put on", func(x *Interfacing) string { return x.Attach }),
	wordFact("interfacing.structure", supportWeaves, "how it is made", func(x *Interfacing) string { return x.Structure }),
	wordFact("interfacing.role", supportRoles, "what it is for", func(x *Interfacing) string { return x.Role }),
	numberFact("interfacing.mass", "g/m2", "its mass", func(x *Interfacing) float64 { return unless(x.MassHigh <= 0, math.Sqrt(x.MassLow*x.MassHigh)) }),
	numberFact("interfacing.heat", "C", "sole plate it is fused at", func(x *Interfacing) float64 { return unless(x.HeatHigh <= 0, x.HeatLow) }),
	numberFact("interfacing.stiffness", "", "the rigidity it adds, in times of the shell's own", func(x *Interfacing) float64 { return unless(x.Stiffness <= 0, x.Stiffness) }),
	levelFact("interfacing.wash", fibres.WashScale, "the hottest wash it takes", func(x *Interfacing) int { return x.Wash }),
	levelFact("interfacing.hand", fibres.HandScale, "its hand", func(x *Interfacing) int { return x.Hand }),
}

// seamFacts are those of a seam; an edge finish has the same under its own name.
// The first is the seam itself, under the name of the kind.
var seamFacts = []fact[*Seam]{
	idFact("", "", func(s *Seam) string { return s.ID }),
	levelFact("fray-held", fibres.FrayScale, "the most fray it holds", func(s *Seam) int { return s.FrayHeld }),
	levelFact("bulk", BulkScale, "how thick it makes the edge", func(s *Seam) int { return s.Bulk }),
	flagFact("sheer", "it looks well on sheer cloth", func(s *Seam) bool { return s.Sheer }),
	flagFact("reversible", "it is neat from both sides", func(s *Seam) bool { return s.Reversible }),
	levelFact("curve", CurveScale, "whether it goes round curves", func(s *Seam) int { return s.Curve }),
	numberFact("layers", "", "layers of cloth in it", func(s *Seam) float64 { return float64(s.Layers) }),
	numberFact("mass-low", "g/m2", "lightest cloth it suits", func(s *Seam) float64 { return unless(s.MassHigh <= 0, s.MassLow) }),
	numberFact("mass-high", "g/m2", "heaviest cloth it suits", func(s *Seam) float64 { return unless(s.MassHigh <= 0, s.MassHigh) }),
	numberFact("allowance", "mm", "seam allowance it takes", func(s *Seam) float64 { return unless(s.AllowanceHigh <= 0, float64(s.AllowanceHigh)*10) }),
}

// clothOf is a layer with what its fibres come to, worked out once for all facts.
type clothOf struct {
	*fibres.Subject
	fibres, families []string
	made             bool // anything is known of its fibres
	felts            int  // level of the scale, −1 where it is not known
}

// layerFacts are what is known of the cloth of a layer beside its properties.
var layerFacts = []fact[*clothOf]{
	ofCloth(wordFact("cloth", nil, "the cloth, by id", func(k *clothOf) string { return k.Cloth.ID }), "cloth"),
	ofCloth(wordFact("structure", nil, "its structure, by id", func(k *clothOf) string { return k.Cloth.Structure.ID }), "structure"),
	ofCloth(wordFact("class", classes, "the class of its structure", func(k *clothOf) string { return k.Cloth.Structure.Class }), ""),
	ofCloth(wordFact("group", clothGroups, "its sort of cloth", func(k *clothOf) string { return k.Cloth.Group }), ""),
	ofFibres(setFact("fibre", nil, "fibre", "fibres of a fifth or more of it; elastane however little", func(k *clothOf) []string { return k.fibres })),
	ofFibres(setFact("family", families, "", "families of those fibres", func(k *clothOf) []string { return k.families })),
	ofCloth(setFact("treatment", nil, "treatment", "finishes given to the cloth", (*clothOf).treatments), "treatment"),
	levelFact("felts", fibres.FeltsScale, "whether a wash felts it", func(k *clothOf) int { return k.felts }),
	levelFact("lightness", fibres.LightnessScale, "how light its colour is, as the user says", (*clothOf).lightness),
}

// ofCloth is a fact that is known while the cloth has a name; its words are the ids
// of the list, if one is named.
func ofCloth(f fact[*clothOf], ids string) fact[*clothOf] {
	f.Ids = ids
	set := f.set
	f.set = func(c *rules.Case, at int, k *clothOf) {
		if k.Cloth != nil {
			set(c, at, k)
		}
	}
	return f
}

// ofFibres is a fact that is known while the content is.
func ofFibres(f fact[*clothOf]) fact[*clothOf] {
	set := f.set
	f.set = func(c *rules.Case, at int, k *clothOf) {
		if k.made {
			set(c, at, k)
		}
	}
	return f
}

func (k *clothOf) treatments() []string {
	var out []string
	for _, t := range k.Cloth.Treatments {
		out = append(out, t.ID)
	}
	return out
}

func (k *clothOf) lightness() int {
	if v, ok := fibres.LightnessScale.Level(k.Lightness); ok {
		return v
	}
	return -1
}

// content works out what the fibres of a layer come to.
func content(s *fibres.Subject) *clothOf {
	if len(s.May) > 0 {
		common := *s // what all the cloths that it may be have in common
		common.Cloth, common.May = s.Named(), nil
		s = &common
	}
	k := &clothOf{Subject: s, felts: -1}
	for _, p := range s.Made() {
		k.made = true
		if p.Share.Typical >= 20 || (p.Fibre.ID == "elastane" && p.Share.Typical > 0) {
			k.fibres = append(k.fibres, p.Fibre.ID)
			if !slices.Contains(k.families, p.Fibre.Family) {
				k.families = append(k.families, p.Fibre.Family)
			}
		}
		if p.Share.Typical >= 50 {
			k.felts = max(k.felts, p.Fibre.Felts)
		}
	}
	return k
}

// layerProperties are the properties that rules and demands may ask of a layer.
var layerProperties = fibres.Having(func(p *fibres.PropertyInfo) bool { return p.Ruled })

// derivedFact is a fact of the make-up as a whole, made of its layers.
type derivedFact struct {
	rules.Fact
	column  func(*composite) []float64 // its figures, member by member
	from    []fibres.Property          // of the layers; the home test of the first settles it
	because func(MakeUp) string        // how it came about, in a phrase
	paired  bool                       // there is none of it without a lining
	borne   bool                       // a lining that bears answers for it together with its shell, see [composite.support]
}

// derivedFacts are all of them; one row is all there is to say of each.
var derivedFacts = []derivedFact{
	{rules.Fact{Name: "make-up.mass", Kind: rules.Number, Unit: "g/m2", Doc: "mass of all full layers"},
		func(w *composite) []float64 { return w.mass }, []fibres.Property{fibres.Mass}, always("mass of all layers"), false, false},
	{rules.Fact{Name: "make-up.bending-length", Kind: rules.Number, Unit: "cm", Doc: "bending length of the layers together"},
		func(w *composite) []float64 { return w.bend }, bending, fromLayers, false, false},
	{rules.Fact{Name: "make-up.stand-off", Kind: rules.Number, Unit: "cm", Doc: "how far out a flap of it stands before it falls"},
		func(w *composite) []float64 { return w.stand() }, bending, flapFromLayers, false, false},
	{rules.Fact{Name: "make-up.fold-width", Kind: rules.Number, Unit: "cm", Doc: "width of a fold of it, roughly"},
		func(w *composite) []float64 { return w.fold() }, bending, fromLayers, false, false},
	{rules.Fact{Name: "make-up.thickness", Kind: rules.Number, Unit: "mm", Doc: "thickness of all full layers"},
		func(w *composite) []float64 { return w.thick }, []fibres.Property{fibres.Thickness}, always("thickness of all layers"), false, false},
	{rules.Fact{Name: "make-up.shrink-gap", Kind: rules.Number, Unit: "mm",
		Doc: "how far shell and lining part on the longest edge in the first wash, or in dry-cleaning where a layer is not washed"},
		func(w *composite) []float64 { return w.gap }, []fibres.Property{fibres.ShrinkWarp, fibres.ShrinkWeft},
		always("first-wash shrinkage of shell against lining over the longest edge"), true, false},
	{rules.Fact{Name: "make-up.pressing-limit", Kind: rules.Number, Unit: "C", Doc: "the least pressing limit of its layers"},
		func(w *composite) []float64 { return w.press }, []fibres.Property{fibres.PressingLimit}, always("the tenderest layer decides"), false, false},
	{rules.Fact{Name: "make-up.hand", Kind: rules.Level, Scale: fibres.HandScale, Doc: "hand of the layers together"},
		func(w *composite) []float64 { return w.hand() }, bending, fromLayers, false, false},
	{rules.Fact{Name: "make-up.show-through", Kind: rules.Level, Scale: fibres.ShowThroughScale, Doc: "show-through of the layers together"},
		func(w *composite) []float64 { return w.show }, []fibres.Property{fibres.ShowThrough}, always("each layer hides its part"), false, false},
	{rules.Fact{Name: "make-up.wash", Kind: rules.Level, Scale: fibres.WashScale, Doc: "the hottest wash all its layers take"},
		func(w *composite) []float64 { return w.wash }, []fibres.Property{fibres.Wash}, always("the tenderest layer decides"), false, false},
	{rules.Fact{Name: "make-up.wear", Kind: rules.Level, Scale: fibres.Properties[fibres.Wear].Scale, Doc: "strength against wear of the shell, or of the layer under it that takes the load"},
		func(w *composite) []float64 { return w.wear }, []fibres.Property{fibres.Wear}, always("the shell's, or that of the layer that takes the load"), false, true},
	{rules.Fact{Name: "make-up.stretch", Kind: rules.Level, Scale: fibres.Properties[fibres.Stretch].Scale, Doc: "stretch of the shell, held by the layer under it that takes the load"},
		func(w *composite) []float64 { return w.stretch }, []fibres.Property{fibres.Stretch}, always("the shell's, or that of the layer that takes the load"), false, true},
	{rules.Fact{Name: "make-up.rough", Kind: rules.Level, Scale: fibres.Properties[fibres.Rough].Scale, Doc: "how the face to the body feels: the lining's, where it is lined"},
		func(w *composite) []float64 { return w.skin }, []fibres.Property{fibres.Rough}, always("the layer that lies to the body"), false, false},
	{rules.Fact{Name: "make-up.warmth", Kind: rules.Level, Scale: fibres.Properties[fibres.Warmth].Scale, Doc: "how much still air all layers hold"},
		func(w *composite) []float64 { return w.warm }, []fibres.Property{fibres.Warmth}, always("the air of all layers together"), false, false},
	{rules.Fact{Name: "make-up.flame", Kind: rules.Level, Scale: fibres.Properties[fibres.Flame].Scale, Doc: "how the layers burn: as the quickest of them"},
		func(w *composite) []float64 { return w.flame }, []fibres.Property{fibres.Flame}, always("the layer that burns quickest"), false, false},
	{rules.Fact{Name: "make-up.water", Kind: rules.Level, Scale: fibres.Properties[fibres.Water].Scale, Doc: "how water is kept out: by the layer that does it best"},
		func(w *composite) []float64 { return w.water }, []fibres.Property{fibres.Water}, always("the layer that keeps it out"), false, false},
	{rules.Fact{Name: "make-up.seam-thickness", Kind: rules.Number, Unit: "mm", Doc: "what lies under the needle in the seam: its layers upon each other"},
		func(w *composite) []float64 { return w.seam }, []fibres.Property{fibres.Thickness}, always("the layers of the seam upon each other"), false, false},
	{rules.Fact{Name: "make-up.edge-thickness", Kind: rules.Number, Unit: "mm", Doc: "what lies under the needle at the edge: its layers upon each other"},
		func(w *composite) []float64 { return w.edge }, []fibres.Property{fibres.Thickness}, always("the layers of the edge upon each other"), false, false},
	{rules.Fact{Name: "outer.mass", Kind: rules.Number, Unit: "g/m2", Doc: "mass of the shell's layers by themselves"},
		func(w *composite) []float64 { return w.outer.mass }, []fibres.Property{fibres.Mass}, always("mass of the shell by itself"), false, true},
	{rules.Fact{Name: "outer.bending-length", Kind: rules.Number, Unit: "cm", Doc: "bending length of the shell's layers by themselves"},
		func(w *composite) []float64 { return w.outer.bend }, bending, always("the bending length of the shell by itself"), false, true},
	{rules.Fact{Name: "outer.thickness", Kind: rules.Number, Unit: "mm", Doc: "thickness of the shell's layers by themselves"},
		func(w *composite) []float64 { return w.outer.thick }, []fibres.Property{fibres.Thickness}, always("thickness of the shell by itself"), false, true},
	{rules.Fact{Name: "interfacing.mass-ratio", Kind: rules.Number, Doc: "mass of the interfacing over that of the shell"},
		func(w *composite) []float64 { return w.behind }, []fibres.Property{fibres.Mass}, always("mass of the interfacing over the shell's"), false, false},
	{rules.Fact{Name: "lining.mass-ratio", Kind: rules.Number, Doc: "mass of the lining over that of the shell"},
		func(w *composite) []float64 { return w.pair.mass }, []fibres.Property{fibres.Mass}, always("mass of the lining over the shell's"), true, false},
	{rules.Fact{Name: "lining.stiffness-ratio", Kind: rules.Number, Doc: "bending length of the lining over that of the shell"},
		func(w *composite) []float64 { return w.pair.bend }, bending, always("bending length of the lining over the shell's"), true, false},
	{rules.Fact{Name: "lining.rigidity-ratio", Kind: rules.Number, Doc: "rigidity of the lining over that of the shell: which of the two sets the hang"},
		func(w *composite) []float64 { return w.pair.rigid }, bending, always("rigidity of the lining over the shell's"), true, false},
	{rules.Fact{Name: "lining.stretch-lack", Kind: rules.Number, Doc: "by how many grades the lining gives less than the shell"},
		func(w *composite) []float64 { return w.pair.stretch }, []fibres.Property{fibres.Stretch}, always("grades by which the lining gives less than the shell"), true, false},
	{rules.Fact{Name: "lining.care-lack", Kind: rules.Number, Doc: "by how many grades the lining takes a milder wash than the shell"},
		func(w *composite) []float64 { return w.pair.wash }, []fibres.Property{fibres.Wash}, always("grades by which the lining takes a milder wash than the shell"), true, false},
}

var bending = []fibres.Property{fibres.BendingLength, fibres.Mass}

func always(phrase string) func(MakeUp) string { return func(MakeUp) string { return phrase } }

func stackOf(m MakeUp) string {
	if m.Lining != nil {
		return "mass and bending length of shell and lining, layer on layer"
	}
	return "the bending length of the shell"
}

func fromLayers(m MakeUp) string { return "from " + stackOf(m) }

func flapFromLayers(m MakeUp) string {
	if m.Piece == nil {
		return fromLayers(m)
	}
	return "a flap of " + m.Piece.Flap.String() + ", from " + stackOf(m)
}

// describe lists the facts of the rule language in the order of their places.
func describe() ([]rules.Fact, *places) {
	x := &places{}
	var list []rules.Fact
	add := func(f rules.Fact, o origin) {
		list, x.origin = append(list, f), append(x.origin, o)
	}
	x.makeUp = len(list)
	addAll(add, makeUpFacts)
	x.piece = len(list)
	addAll(add, pieceFacts)
	x.finish = len(list)
	addAll(add, finishFacts)
	for i, name := range layerNames {
		x.layer[i] = len(list)
		for _, f := range layerFacts {
			f.Name = name + "." + f.Name
			add(f.Fact, origin{})
		}
		x.property[i] = len(list)
		for _, p := range layerProperties {
			info := fibres.Properties[p]
			f := rules.Fact{Name: name + "." + info.ID, Kind: rules.Number, Unit: info.Unit, Doc: info.Name + ": " + info.Doc}
			if info.Scale != nil {
				f.Kind, f.Unit, f.Scale = rules.Level, "", info.Scale
			}
			add(f, origin{from: []fibres.Property{p}, layer: i})
		}
	}
	x.derived = len(list)
	for i := range derivedFacts {
		d := &derivedFacts[i]
		add(d.Fact, origin{from: d.from, layer: both, because: d.because, paired: d.paired, borne: d.borne})
	}
	x.interfacing = len(list)
	addAll(add, interfacingFacts)
	for _, kind := range seamKinds {
		if kind == "seam" {
			x.seam = len(list)
		} else {
			x.edge = len(list)
		}
		add(rules.Fact{Name: kind, Kind: rules.Word, Ids: kind, Doc: map[string]string{"seam": "the seam, by id", "edge": "the edge finish, by id"}[kind]}, origin{})
		for _, f := range seamFacts[1:] {
			f.Name = kind + "." + f.Name
			add(f.Fact, origin{})
		}
	}
	return list, x
}

func addAll[T any](add func(rules.Fact, origin), table []fact[T]) {
	for _, f := range table {
		add(f.Fact, origin{})
	}
}

// place is where a fact stands; a name that there is not is a mistake of the code.
func (a *Adviser) place(name string) int {
	i, ok := a.schema.Index(name)
	if !ok {
		panic("no fact is called " + name)
	}
	return i
}
