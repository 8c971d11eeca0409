package address

import (
	"maps"
	"net/url"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/units"
)

// The keys of an address that say what is to be made of what; each is called
// as the flag of the commands.
const (
	KeyPiece, KeyFinish, KeyShell, KeyLining         = "piece", "finish", "shell", "lining"
	KeyInterfacing, KeySeam, KeyEdge, KeyWearer      = "interfacing", "seam", "edge", "wearer"
	KeyMass, KeyBending, KeyColour                   = "mass", "bending-length", "colour"
	KeyLiningMass, KeyLiningBending, KeyLiningColour = "lining-mass", "lining-bending-length", "lining-colour"
	KeyDrop, KeyFeels, KeyLiningDrop, KeyLiningFeels = "drop", "hand", "lining-drop", "lining-hand"
	KeyUnits                                         = "units"
)

// questionKeys are all of them, in the order in which they are asked.
var questionKeys = []string{KeyPiece, KeyFinish, KeyShell, KeyLining, KeyInterfacing, KeySeam, KeyEdge, KeyWearer,
	KeyMass, KeyBending, KeyDrop, KeyFeels, KeyColour, KeyLiningMass, KeyLiningBending, KeyLiningDrop, KeyLiningFeels, KeyLiningColour}

// LayerKeys are the keys that say something of one layer.
type LayerKeys struct{ Name, Mass, Bend, Drop, Feels, Tint string }

// ShellKeys and LiningKeys are those of the two layers that have keys of their own.
var (
	ShellKeys  = LayerKeys{KeyShell, KeyMass, KeyBending, KeyDrop, KeyFeels, KeyColour}
	LiningKeys = LayerKeys{KeyLining, KeyLiningMass, KeyLiningBending, KeyLiningDrop, KeyLiningFeels, KeyLiningColour}
)

// The keys of an address that say how it is cut; each is called as the flag of
// the command. A measure of the piece's shape has its own name behind KeySet.
const (
	KeyWidth, KeyLiningWidth  = "width", "lining-width"
	KeyPrice, KeyLiningPrice  = "price", "lining-price"
	KeyAllowance, KeySelvedge = "allowance", "selvedge"
	KeyPrewashed, KeyFold     = "prewashed", "fold"
	KeyOneWay, KeyJoin        = "one-way", "join"
	KeyLayer                  = "layer" // further layers, parted by |: "underlining=cotton lawn | second lining=silk habotai"
	KeySet                    = "set-"
)

var cutKeys = []string{KeyWidth, KeyLiningWidth, KeyPrice, KeyLiningPrice, KeyAllowance, KeySelvedge, KeyPrewashed, KeyFold, KeyOneWay, KeyJoin, KeyLayer}

// The stages of a maker's way, in order.
const (
	StagePiece  = "piece"
	StageFinish = "finish"
	StageCloth  = "cloth"
	StageLining = "lining"
	StageWork   = "work"
	StageCut    = "cut"
	StageCard   = "card"
)

// KeyStep asks for a stage that was passed already, or for the work without a
// lining named.
const KeyStep = "step"

// Yes is the value of a key that is set or not.
const Yes = "yes"

// KeyWidths asks the cutting for the lengths in the widths that cloth is commonly sold in.
const KeyWidths = "widths"

// WornPath is where pictures of pieces worn are had. KeyOwn asks for the make-up of the address,
// computed in its own measures; else KeyClass says of which bending length, in cm.
const (
	WornPath = "/fall.png"
	KeyOwn   = "own"
	KeyClass = "c"
	KeySide  = "side"
	KeyFace  = "face" // and KeyBack: the colours of its sides, as rrggbb
	KeyBack  = "back"
	AllSides = "all"
)

// Kept is what the address says of the make-up and of its cutting, as pairs of key
// and value for a link: no filter, no step.
func (a Ask) Kept() []string {
	var out []string
	for _, key := range slices.Sorted(maps.Keys(a.Query)) {
		if strings.HasPrefix(key, KeySet) || slices.Contains(questionKeys, key) || slices.Contains(cutKeys, key) {
			out = append(out, key, a.Query.Get(key))
		}
	}
	return out
}

// Question is what the address says of the make-up, as the query of a link, in the
// units it was said in.
func (a Ask) Question() string {
	q := url.Values{}
	if a.Units != units.Metric {
		q.Set(KeyUnits, a.Units.String())
	}
	kept := a.Kept()
	for i := 0; i+1 < len(kept); i += 2 {
		q.Set(kept[i], kept[i+1])
	}
	return q.Encode()
}

// Pairs writes a make-up as the keys of an address, for links to it.
func Pairs(m advise.MakeUp) []string {
	var out []string
	add := func(key, v string) {
		if v != "" {
			out = append(out, key, v)
		}
	}
	if m.Piece != nil {
		add(KeyPiece, m.Piece.ID)
	}
	if m.Finish != nil {
		add(KeyFinish, m.Finish.ID)
	}
	layer := func(s *fibres.Subject, key, tint, mass string) {
		if s == nil {
			return
		}
		switch {
		case s.Swatch:
			add(key, s.Name)
		case s.Cloth != nil:
			add(key, s.Cloth.ID)
		case len(s.May) > 0:
			add(key, s.Name)
		}
		add(tint, s.Lightness)
		if e, ok := s.Known[fibres.Mass]; ok {
			add(mass, fibres.Round(e.Typical)+"gsm")
		}
	}
	layer(m.Shell, KeyShell, KeyColour, KeyMass)
	layer(m.Lining, KeyLining, KeyLiningColour, KeyLiningMass)
	if m.Interfacing != nil {
		add(KeyInterfacing, m.Interfacing.ID)
	}
	if m.Seam != nil {
		add(KeySeam, m.Seam.ID)
	}
	if m.Edge != nil {
		add(KeyEdge, m.Edge.ID)
	}
	add(KeyWearer, m.Wearer)
	return out
}
