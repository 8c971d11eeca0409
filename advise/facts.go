package advise

import (
	"tenter/advise/rules"
	"tenter/fibres"
)

// factIndex holds the place of every fact in a case, so that building a case
// looks nothing up by name.
type factIndex struct {
	piece, finish, seam, edge, interfacing, wearer                                    int
	pGroup, pShape, pSupport, pWash, pWearer, pFeatures, pFaces, pHang, pFlap, pStage int
	fLined, fTurned, fReversible, fLayers, fJoined, fEdge                             int
	layer                                                                             [2]layerFacts
	mMass, mBend, mStand, mFold, mThick, mGap, mPress, mHand, mShow, mWash            int
	iAttach, iStructure, iRole, iMass, iHeat, iWash, iHand                            int
	s                                                                                 [2]seamFacts
}

type layerFacts struct {
	cloth, structure, class, group, fibre, family, treatment, felts, lightness int
	props                                                                      [fibres.NumProperties]int
}

type seamFacts struct{ held, bulk, sheer, reversible, curve, layers, massLow, massHigh, allowance int }

// Words a fact may take, from the data format.
var (
	groups = []string{"wrap", "cape", "hood", "cowl", "sash", "skirt", "bodice", "coat", "trousers", "nightwear", "child", "hanging",
		"cushion", "bag", "apron", "tunic", "petticoat", "ruffle", "lining", "dress", "hat", "collar", "sleeve", "jacket"}
	shapes   = []string{"rectangle", "triangle", "part-circle", "full-circle", "shaped", "gathered", "pleated", "tube", "gored"}
	supports = []string{"head", "shoulder", "waist", "hand", "rod", "body", "frame", "none"}
	features = []string{"hood", "curved edge", "corner", "bias edge", "gathers", "pleats", "neck opening", "pocket", "strap", "load",
		"both faces show", "edge shows", "next to skin", "stretch fit", "cord", "closure"}
	joins       = []string{"none", "free", "edge", "fused", "quilted"}
	edges       = []string{"enclosed", "bound", "hemmed", "rolled", "faced", "raw", "overcast"}
	classes     = []string{"woven", "pile", "knit", "nonwoven", "openwork", "composite"}
	families    = []string{"cellulose", "protein", "regenerated", "ester", "synthetic", "mineral"}
	clothGroups = []string{"plain", "twill", "satin", "sheer", "crepe", "rib", "pile", "napped", "wool", "knit", "openwork", "felt",
		"coated", "quilted", "utility", "lining", "figured"}
)

// layerProps are the properties that rules may ask of a layer.
var layerProps = []fibres.Property{fibres.Mass, fibres.Thickness, fibres.BendingLength, fibres.ShrinkWarp, fibres.ShrinkWeft,
	fibres.PressingLimit, fibres.Fray, fibres.Stretch, fibres.ShowThrough, fibres.Slip, fibres.Crease, fibres.Nap, fibres.Wash, fibres.Hand}

// describe lists the facts of the rule language and notes their places.
func describe() ([]rules.Fact, *factIndex) {
	var list []rules.Fact
	x := &factIndex{}
	add := func(at *int, f rules.Fact) {
		*at = len(list)
		list = append(list, f)
	}
	id := func(at *int, name, doc string) {
		add(at, rules.Fact{Name: name, Kind: rules.Word, Ids: name, Doc: doc})
	}
	word := func(at *int, name string, scale []string, doc string) {
		add(at, rules.Fact{Name: name, Kind: rules.Word, Scale: scale, Doc: doc})
	}
	set := func(at *int, name string, scale []string, ids, doc string) {
		add(at, rules.Fact{Name: name, Kind: rules.Set, Scale: scale, Ids: ids, Doc: doc})
	}
	num := func(at *int, name, unit, doc string) {
		add(at, rules.Fact{Name: name, Kind: rules.Number, Unit: unit, Doc: doc})
	}
	level := func(at *int, name string, scale []string, doc string) {
		add(at, rules.Fact{Name: name, Kind: rules.Level, Scale: scale, Doc: doc})
	}
	flag := func(at *int, name, doc string) {
		add(at, rules.Fact{Name: name, Kind: rules.Flag, Scale: []string{"no", "yes"}, Doc: doc})
	}
	id(&x.piece, "piece", "the piece, by id")
	id(&x.finish, "finish", "how it is made up, by id")
	id(&x.seam, "seam", "the seam, by id")
	id(&x.edge, "edge", "the edge finish, by id")
	id(&x.interfacing, "interfacing", "the interfacing, by id")
	word(&x.wearer, "wearer", []string{"adult", "child"}, "who wears it")
	word(&x.pGroup, "piece.group", groups, "what sort of piece it is")
	word(&x.pShape, "piece.shape", shapes, "its cut")
	word(&x.pSupport, "piece.support", supports, "what carries it")
	word(&x.pWash, "piece.wash", []string{"often", "seldom", "never"}, "how often it is washed")
	word(&x.pWearer, "piece.wearer", []string{"adult", "child", "none"}, "whom it is made for")
	set(&x.pFeatures, "piece.features", features, "", "what it has: a hood, corners, curves …")
	num(&x.pFaces, "piece.faces", "", "how many faces are seen in wear")
	num(&x.pHang, "piece.hang", "cm", "how far it hangs")
	num(&x.pFlap, "piece.flap", "cm", "the free overhang over which the stand-off is judged")
	flag(&x.pStage, "piece.stage", "made for a stage or hall")
	flag(&x.fLined, "finish.lined", "it has a lining")
	flag(&x.fTurned, "finish.turned", "sewn right sides together and turned through")
	flag(&x.fReversible, "finish.reversible", "either face may be worn out")
	num(&x.fLayers, "finish.layers", "", "full layers of cloth")
	word(&x.fJoined, "finish.joined", joins, "how the layers hold together")
	word(&x.fEdge, "finish.edge", edges, "what becomes of the edge")
	for i, name := range []string{"shell", "lining"} {
		l := &x.layer[i]
		add(&l.cloth, rules.Fact{Name: name + ".cloth", Kind: rules.Word, Ids: "cloth", Doc: "the cloth, by id"})
		add(&l.structure, rules.Fact{Name: name + ".structure", Kind: rules.Word, Ids: "structure", Doc: "its structure, by id"})
		word(&l.class, name+".class", classes, "the class of its structure")
		word(&l.group, name+".group", clothGroups, "its sort of cloth")
		set(&l.fibre, name+".fibre", nil, "fibre", "fibres of a fifth or more of it; elastane however little")
		set(&l.family, name+".family", families, "", "families of those fibres")
		set(&l.treatment, name+".treatment", nil, "treatment", "finishes given to the cloth")
		level(&l.felts, name+".felts", fibres.FeltsScale, "whether a wash felts it")
		level(&l.lightness, name+".lightness", fibres.LightnessScale, "how light its colour is, as the user says")
		for _, p := range layerProps {
			info := fibres.Properties[p]
			if info.Scale != nil {
				level(&l.props[p], name+"."+info.ID, info.Scale, info.Name)
			} else {
				num(&l.props[p], name+"."+info.ID, info.Unit, info.Name)
			}
		}
	}
	num(&x.mMass, "make-up.mass", "g/m2", "mass of all full layers")
	num(&x.mBend, "make-up.bending-length", "cm", "bending length of the layers together")
	num(&x.mStand, "make-up.stand-off", "cm", "how far a flap of it stands off before it falls")
	num(&x.mFold, "make-up.fold-width", "cm", "width of a fold of it, roughly")
	num(&x.mThick, "make-up.thickness", "mm", "thickness of all full layers")
	num(&x.mGap, "make-up.shrink-gap", "mm", "how far shell and lining part on the longest edge in the first wash, or in dry-cleaning where a layer is not washed")
	num(&x.mPress, "make-up.pressing-limit", "C", "the least pressing limit of its layers")
	level(&x.mHand, "make-up.hand", fibres.HandScale, "hand of the layers together")
	level(&x.mShow, "make-up.show-through", fibres.ShowThroughScale, "show-through of the layers together")
	level(&x.mWash, "make-up.wash", fibres.WashScale, "the hottest wash all its layers take")
	word(&x.iAttach, "interfacing.attach", []string{"fuse", "sew", "either"}, "how it is put on")
	word(&x.iStructure, "interfacing.structure", []string{"woven", "nonwoven", "knit", "weft-insertion", "net"}, "how it is made")
	word(&x.iRole, "interfacing.role", []string{"interfacing", "underlining", "interlining"}, "what it is for")
	num(&x.iMass, "interfacing.mass", "g/m2", "its mass")
	num(&x.iHeat, "interfacing.heat", "C", "sole plate it is fused at")
	level(&x.iWash, "interfacing.wash", fibres.WashScale, "the hottest wash it takes")
	level(&x.iHand, "interfacing.hand", fibres.HandScale, "its hand")
	for i, name := range []string{"seam", "edge"} {
		s := &x.s[i]
		level(&s.held, name+".fray-held", fibres.FrayScale, "the most fray it holds")
		level(&s.bulk, name+".bulk", BulkScale, "how thick it makes the edge")
		flag(&s.sheer, name+".sheer", "it looks well on sheer cloth")
		flag(&s.reversible, name+".reversible", "it is neat from both sides")
		level(&s.curve, name+".curve", CurveScale, "whether it goes round curves")
		num(&s.layers, name+".layers", "", "layers of cloth in it")
		num(&s.massLow, name+".mass-low", "g/m2", "lightest cloth it suits")
		num(&s.massHigh, name+".mass-high", "g/m2", "heaviest cloth it suits")
		num(&s.allowance, name+".allowance", "mm", "seam allowance it takes")
	}
	return list, x
}
