package advise

import "tenter/fibres"

// The closed lists of words of the data: the reading of the files and the facts of
// the rule language take them from here.
var (
	groups = []string{"wrap", "cape", "hood", "cowl", "sash", "skirt", "bodice", "coat", "trousers", "nightwear", "child", "hanging",
		"cushion", "bag", "apron", "tunic", "petticoat", "ruffle", "lining", "dress", "hat", "collar", "sleeve", "jacket"}
	shapes   = []string{"rectangle", "triangle", "part-circle", "full-circle", "shaped", "gathered", "pleated", "tube", "gored"}
	supports = []string{"head", "shoulder", "waist", "hand", "rod", "body", "frame", "none"}
	features = []string{"hood", "curved edge", "corner", "bias edge", "gathers", "pleats", "neck opening", "pocket", "strap", "load",
		"both faces show", "edge shows", "next to skin", "stretch fit", "cord", "closure"}
	washings     = []string{"often", "seldom", "never"}
	wearers      = []string{"adult", "child"}
	pieceWearers = []string{"adult", "child", "none"}
	grains       = []string{"height", "width", "either", "bias"}

	joins = []string{"none", "free", "edge", "fused", "quilted"}
	edges = []string{"enclosed", "bound", "hemmed", "rolled", "faced", "raw", "overcast"}

	seamKinds = []string{"seam", "edge"}

	attachments   = []string{"fuse", "sew", "either"}
	supportWeaves = []string{"woven", "nonwoven", "knit", "weft-insertion", "net"}
	supportRoles  = []string{"interfacing", "underlining", "interlining"}

	classes     = []string{"woven", "pile", "knit", "nonwoven", "openwork", "composite"}
	families    = []string{"cellulose", "protein", "regenerated", "ester", "synthetic", "mineral"}
	clothGroups = []string{"plain", "twill", "satin", "sheer", "crepe", "rib", "pile", "napped", "wool", "knit", "openwork", "felt",
		"coated", "quilted", "utility", "lining", "figured"}
)

// The scales of seams.
var (
	CurveScale = fibres.Scale{"no", "gentle", "yes"}
	BulkScale  = fibres.Scale{"low", "medium", "high"}
)
