package advise

import (
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/units"
)

// Piece is a shape to be made and what it asks of the make-up.
type Piece struct {
	ID, Name              string
	Synonyms              []string
	Of                    string   // the piece that it varies, by id; "" where it stands by itself
	Purpose               []string // what cloths for it are said to be used for; its name, where none is said
	Group, Shape, Support string
	Hang, Flap            units.Length
	Features              []string
	Faces                 int
	Wearer, Wash          string
	Stage                 bool
	Parts                 []PiecePart
	Seams                 []PieceSeam
	Demands               []Demand
	Say                   string
	Asks                  string // what it asks of its cloth in a sentence; that of its first demand, where none is said
	Cite
}

// PiecePart is one part of a piece at its finished size.
type PiecePart struct {
	Name          string
	Count         int
	Width, Height units.Length
	Shape         string
	Grain         string // which way runs along the warp: height, width or either; "" is height
	ShellOnly     bool   // left out of a lining: bands, facings, pockets
}

// PieceSeam is a seam or edge of a piece with its length.
type PieceSeam struct {
	Name   string
	Length units.Length
}

// Demand is what a piece or finish asks of one fact of the make-up: 1 inside
// the ideal range, falling straight to 0 at the limit. For a graded fact the
// figures are levels and 0 is reached one level beyond the limit.
type Demand struct {
	ID, Fact  string
	Ideal     Bounds
	Limit     Bounds
	Unit, Say string
	Words     [2]string // the ideal in words, for a graded fact
	fact      int
	upperFact int // one more than where the fact stands that its upper end is asked of; 0 where that is the same
	graded    bool
	scale     fibres.Scale
	Matter    string      // what it is about, one of [Abouts]
	Harm      int         // what missing it spoils, see [rules.HarmWords]; 0 fails the piece
	about     int         // the place of Matter among [Abouts]
	when      *rules.Rule // the members of which it is asked; nil for all
	class     bool        // asked of every piece of a class, by the job of the shell
	Moved     *Moved      // by the maker's own verdicts after wear
	Cite
}

// Bounds are the two ends of a range.
type Bounds struct{ Low, High float64 }

// Cite is the basis and the sources of an entity.
type Cite struct {
	Basis   string
	Sources []string
}

// Finish is a way of making up: layers, how they are joined, what becomes of
// the edge, and the steps of the work.
type Finish struct {
	ID, Name     string
	Synonyms     []string
	Layers       int
	Lined        bool
	Joined, Edge string
	Turned       bool
	Reversible   bool
	Allowance    units.Length
	StripWidth   units.Length
	StripLayers  int
	Takes        []string // the roles of supports that lie under the whole shell in it, see [supportRoles]
	Steps        []Step
	Demands      []Demand
	Say          string
	Cite
}

// Step is one step of the work before rules edit it.
type Step struct {
	ID, Say, Because string
	After            []string
}

// Seam is a way to join two edges (kind seam) or to finish one (kind edge).
type Seam struct {
	ID, Kind, Name    string
	Synonyms          []string
	FrayHeld          int
	Sheer             bool
	Curve             int // level of CurveScale
	Reversible        bool
	Binds             bool // made with a strip that wraps the edge
	Layers            int
	OfShell           int // how many of them are the shell; the rest are thin strips
	MassLow, MassHigh float64
	AllowanceLow      units.Length
	AllowanceHigh     units.Length
	Bulk              int
	Stitch            string
	Say               string
	Cite
}

// Interfacing is a support layer: interfacing, underlining or interlining.
type Interfacing struct {
	ID, Name                    string
	Synonyms                    []string
	Structure, Attach, Role     string
	MassLow, MassHigh           float64
	ShellMassLow, ShellMassHigh float64
	Stiffness                   float64 // rigidity added, times the shell's
	Hand                        int     // level of fibres.HandScale, -1 not known
	HeatLow, HeatHigh           float64 // C; 0 for sew-in
	Wash                        int     // level of fibres.WashScale, -1 not known
	Narrow                      bool    // a tape along a line: any make-up may have it
	Say                         string
	Cite
}

// MakeUp is what is judged. Piece, Finish and Shell may be left out where a
// question does not name them; then what depends on them is unknown.
type MakeUp struct {
	Piece       *Piece
	Finish      *Finish
	Shell       *fibres.Subject
	Lining      *fibres.Subject
	Interfacing *Interfacing
	Inner       []Inner // further layers
	Seam, Edge  *Seam
	Job         *Job    // of the lining, where the user names one
	Wearer      string  // adult, child, or "" for the piece's own
	Wishes      []*Wish // what else the maker says
	FinishTaken bool    // nobody named the finish: it is the usual one of the piece

	past *beyond // what is not held against a lining
}

// wearer is who wears it: whom the user says, else whom the piece is made for; ""
// where nobody does.
func (m MakeUp) wearer() string {
	switch {
	case m.Wearer != "":
		return m.Wearer
	case m.Piece != nil && m.Piece.Wearer != "none":
		return m.Piece.Wearer
	}
	return ""
}

// job is the id of the job that the user gives the lining.
func (m MakeUp) job() string {
	if m.Job == nil {
		return ""
	}
	return m.Job.ID
}
