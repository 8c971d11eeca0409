package advise

import "tenter/fibres"

// Version is the version of the answers' format; keys are only added.
const Version = 1

// MakeUpIDs is a make-up by its ids, as answers repeat it.
type MakeUpIDs struct {
	Cloth       string `json:"cloth,omitempty"`
	Lining      string `json:"lining,omitempty"`
	Interfacing string `json:"interfacing,omitempty"`
	Piece       string `json:"piece,omitempty"`
	Finish      string `json:"finish,omitempty"`
	Seam        string `json:"seam,omitempty"`
	Edge        string `json:"edge,omitempty"`
	Wearer      string `json:"wearer,omitempty"`
	Job         string `json:"lining_job,omitempty"` // where it was said

	Layers []InnerIDs `json:"layers,omitempty"` // further ones
}

// Need is what a demand asks.
type Need struct {
	Ideal [2]float64 `json:"ideal"`
	Limit [2]float64 `json:"limit"`
	Unit  string     `json:"unit"`
	Words []string   `json:"words,omitempty"`
}

// Asked is one demand in an answer.
type Asked struct {
	ID      string          `json:"id"`
	Fact    string          `json:"fact"`
	Share   float64         `json:"share"`
	Known   bool            `json:"known"`
	Missing string          `json:"missing,omitempty"` // on which side most that miss it lie: "too stiff"
	Need    Need            `json:"need"`
	Have    fibres.Estimate `json:"have"`
	Say     string          `json:"say"`
	Basis   string          `json:"basis"`
	Sources []string        `json:"sources"`
}

// Reason is a rule that had its say, or a demand that is met or missed. Reasons are
// ranked by what they cost; the first decide.
type Reason struct {
	Demand  string   `json:"demand,omitempty"` // the demand that it is of, where it is no rule
	Rule    string   `json:"rule,omitempty"`
	Effect  string   `json:"effect"`
	Matter  string   `json:"matter,omitempty"` // what it is about, one of [Abouts]
	Harm    int      `json:"harm,omitempty"`   // 1 time or money … 5 a person is hurt
	Share   float64  `json:"share"`
	Cost    float64  `json:"cost,omitempty"` // the part of the cloths that it takes by itself
	Firm    bool     `json:"firm"`
	Say     string   `json:"say"`
	Because string   `json:"because"`
	Basis   string   `json:"basis"`
	Sources []string `json:"sources"`
	Open    []string `json:"open,omitempty"` // facts not known that would decide
}

// OfRules are the reasons that rules gave: what demands have to say stands by itself
// in an answer.
func OfRules(list []Reason) []Reason {
	var out []Reason
	for _, r := range list {
		if r.Demand == "" {
			out = append(out, r)
		}
	}
	return out
}

// Settle is a home test that would narrow the answer.
type Settle struct {
	Test    string `json:"test"`
	Say     string `json:"say"`
	How     string `json:"how"`
	Caution string `json:"caution,omitempty"`
	Decides string `json:"decides"`
}

// Fall is the predicted hang in maker's measures.
type Fall struct {
	StandOff  fibres.Estimate `json:"stand_off"`
	FoldWidth fibres.Estimate `json:"fold_width"`
	Hand      fibres.Estimate `json:"hand"`
	Bending   fibres.Estimate `json:"bending_length"`
	Mass      fibres.Estimate `json:"mass"`
	Say       string          `json:"say"`
}

// CheckAnswer answers `check`.
type CheckAnswer struct {
	Version      int        `json:"version"`
	MakeUp       MakeUpIDs  `json:"make_up"`
	Wishes       []WishEcho `json:"wishes,omitempty"` // what was wished and said
	Verdict      string     `json:"verdict"`
	Share        float64    `json:"share"`
	Fits         float64    `json:"fits"`               // how many of the name meet what is asked, reservations apart
	Unjudged     bool       `json:"unjudged,omitempty"` // nothing that is asked is known: the verdict is open
	Headline     string     `json:"say"`
	Demands      []Asked    `json:"demands"`
	Reasons      []Reason   `json:"reasons"`
	Reservations []Reason   `json:"reservations"`         // of the reasons, those that cost something
	NotJudged    []string   `json:"not_judged,omitempty"` // matters of which too little is known
	Settle       []Settle   `json:"settle"`
	Instead      []Instead  `json:"instead,omitempty"` // what would do, where this does not suit
	Fall         *Fall      `json:"fall,omitempty"`
	Notes        []string   `json:"notes,omitempty"`
}

// Candidate is a cloth or lining in a list, best first.
type Candidate struct {
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Verdict  string  `json:"verdict"`
	Share    float64 `json:"share"`
	Unjudged bool    `json:"unjudged,omitempty"` // nothing that is asked is known: the verdict is open
	Say      string  `json:"say"`
	Group    string  `json:"group,omitempty"` // recommended, will do or against
	Why      string  `json:"why,omitempty"`   // what speaks for it
}

// Choice is a seam, edge or interfacing with what the rules say of it.
type Choice struct {
	other bool // it belongs to another way of making up than the one named

	ID     string `json:"id"`
	Name   string `json:"name"`
	Where  string `json:"where,omitempty"`
	Place  string `json:"place,omitempty"` // where in the piece it goes
	Effect string `json:"effect"`
	Say    string `json:"say"`
	Why    string `json:"why,omitempty"` // what it does there
}

// Refused reports whether something speaks against the choice.
func (c Choice) Refused() bool { return c.Effect == NotFor || c.Effect == "forbids" }

// PreWash is what to do with a layer before cutting.
type PreWash struct {
	Layer  string                     `json:"layer"`
	Cloth  string                     `json:"cloth"`
	Method string                     `json:"method"`
	Times  int                        `json:"times,omitempty"` // washed so often before it is cut
	Shrink map[string]fibres.Estimate `json:"shrink"`
	Say    string                     `json:"say"`
}

// Pressing is how hot and how.
type Pressing struct {
	Limit fibres.Estimate `json:"limit_c"`
	Dots  int             `json:"dots"`
	Steam string          `json:"steam"`
	How   []string        `json:"how,omitempty"`
	Fuse  *Fuse           `json:"fuse,omitempty"`
	Say   string          `json:"say"`
}

// Fuse is what becomes of a fusible interfacing in the make-up.
type Fuse struct {
	Interfacing string      `json:"interfacing"`
	Known       bool        `json:"known"`
	Possible    bool        `json:"possible"`
	At          *[2]float64 `json:"at_c,omitempty"`
	Say         string      `json:"say"`
}

// NeedleAdvice is the needle and stitch for the make-up.
type NeedleAdvice struct {
	FirstNM  float64    `json:"first_nm"`
	LowNM    float64    `json:"low_nm"`
	HighNM   float64    `json:"high_nm"`
	StitchMM [2]float64 `json:"stitch_mm"`
	Say      string     `json:"say"`
	Basis    string     `json:"basis"`
	Sources  []string   `json:"sources"`
}

// ThreadAdvice is the thread, and how much of it the seams eat.
type ThreadAdvice struct {
	TexLow  float64          `json:"tex_low"`
	TexHigh float64          `json:"tex_high"`
	Metres  *fibres.Estimate `json:"metres,omitempty"`
	Say     string           `json:"say"`
	Basis   string           `json:"basis"`
	Sources []string         `json:"sources"`
}

// OrderStep is one step of the work, in order.
type OrderStep struct {
	Step    string   `json:"step"`
	Say     string   `json:"say"`
	Because string   `json:"because"`
	If      bool     `json:"if,omitempty"`      // only some cloths of the name need it: its words say which
	Notes   []string `json:"notes,omitempty"`   // what rules add to it
	Why     string   `json:"why,omitempty"`     // why it stands where it does
	Movable bool     `json:"movable,omitempty"` // it could be done earlier or later
	Later   string   `json:"later,omitempty"`   // the last step after which it could still be done
}

// Caution is a warning with where it is from.
type Caution struct {
	Say     string   `json:"say"`
	Because string   `json:"because"`
	Basis   string   `json:"basis"`
	Sources []string `json:"sources"`
	Share   float64  `json:"share"`
	Cost    float64  `json:"cost,omitempty"` // the part of the cloths that it takes by itself
	Firm    bool     `json:"firm"`           // it holds for this make-up; else it may, and a test tells
	Open    []string `json:"open,omitempty"`
}

// AdviseAnswer answers `advise`.
type AdviseAnswer struct {
	Version      int           `json:"version"`
	MakeUp       MakeUpIDs     `json:"make_up"`
	Wishes       []WishEcho    `json:"wishes,omitempty"` // what was wished and said
	Judged       *CheckAnswer  `json:"judged,omitempty"` // the make-up that the work below is for
	Cloths       []Candidate   `json:"cloths"`
	Linings      []Candidate   `json:"linings"`
	Interfacings []Choice      `json:"interfacings"`
	Seams        []Choice      `json:"seams"`
	Edges        []Choice      `json:"edges"`
	Places       []Sewn        `json:"places"` // how each seam and edge of the piece is sewn
	PreWash      []PreWash     `json:"prewash"`
	Pressing     *Pressing     `json:"pressing,omitempty"`
	Needle       *NeedleAdvice `json:"needle,omitempty"`
	Thread       *ThreadAdvice `json:"thread,omitempty"`
	Needles      []Choice      `json:"needles"`  // by their points, and
	Threads      []Choice      `json:"threads"`  // by their kinds, best first
	Bindings     []Choice      `json:"bindings"` // strips for the edge, where it may be bound
	Order        []OrderStep   `json:"order"`
	Working      []Working     `json:"working"`
	Cautions     []Caution     `json:"cautions"`
	Notes        []string      `json:"notes,omitempty"`
}

// Working is what rules say to do that is no step of the order: how to cut,
// mark, press, sew and keep this make-up.
type Working struct {
	Topic   string   `json:"topic"`
	Rule    string   `json:"rule,omitempty"`
	Share   float64  `json:"share"`
	Say     string   `json:"say"`
	Because string   `json:"because"`
	Basis   string   `json:"basis"`
	Sources []string `json:"sources"`
}

// Paired is a shell and a lining judged together.
type Paired struct {
	Shell    string          `json:"shell"`
	Lining   string          `json:"lining"`
	Verdict  string          `json:"verdict"`
	Share    float64         `json:"share"`
	Unjudged bool            `json:"unjudged,omitempty"` // nothing that is asked is known: the verdict is open
	Gap      fibres.Estimate `json:"gap_mm"`
	// GapIn is what parts them so far: wash, or dry-clean where a layer is not washed.
	GapIn   string   `json:"gap_in"`
	Group   string   `json:"group,omitempty"` // recommended, will do or against
	Why     string   `json:"why,omitempty"`   // what speaks for it
	Say     string   `json:"say"`
	Short   string   `json:"-"` // what is said without the gap
	Reasons []Reason `json:"reasons"`
}

// PairAnswer answers `pair`.
type PairAnswer struct {
	Version int        `json:"version"`
	MakeUp  MakeUpIDs  `json:"make_up"`
	Wishes  []WishEcho `json:"wishes,omitempty"` // what was wished and said
	Pairs   []Paired   `json:"pairs"`
	Judged  int        `json:"judged"` // how many pairs were judged
	Notes   []string   `json:"notes,omitempty"`
}
