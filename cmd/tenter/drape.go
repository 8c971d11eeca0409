package main

import (
	"context"
	"fmt"
	"image/color"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/advise/worn"
	"tenter/fibres"
	"tenter/fibres/drape"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/page/fall"
)

// drapeQuestion gathers the flags of `drape` beyond those of every question.
type drapeQuestion struct {
	question
	set              []string
	file, face, back string
	on               string
	turn             float64
	shear            float64
	one, quick       bool
}

// drapeExit ends the help of `drape`.
const drapeExit = exitStatus + ";\n  130 stopped"

func newDrape(a *app) *cobra.Command {
	var q drapeQuestion
	c := &cobra.Command{
		Use:     "drape PIECE|disc --shell CLOTH [--lining CLOTH] …",
		GroupID: groupAsk,
		Short:   "see the piece fall: a computed picture, limp, typical and stiff",
		Long: `Computes how the piece comes to rest in the cloth: as a sheet with weight, stiffness
along both yarns, shear and twist, on a plain dress form, a rod or a table. A cloth's
name is a population, so the picture shows its limp end, the typical cloth and its
stiff end side by side; one alone where the bending length was measured.

disc is the laboratory's test: a round of 30 cm over a disc of 18 cm. Shown worn are
capes, hooded wraps and cloaks, hoods, shawls, scarves, skirts, a sash's end, curtains, table
cloths and a napkin over a hand; --set changes the measures as in cut, --on the place: drape
half-circle-cape --shell wool-flannel --set length=60cm -o cape.png. A cape or a skirt
takes some ten seconds a cloth on an idle machine; a first look is in the file before. What was
computed is kept in the cache. --quick is a coarser mesh.

It is a computed fall, no photograph. Left out are friction within the cloth, creep
and pucker of seams. Folds are one of several arrangements: count on
their width, not their places. Against ten measured cloths the drape coefficient
was off by 13 points (root mean square), and the picture is no better. Where it would
mislead it is not shown: an .svg then shows how the edge falls.` + drapeExit,
		Example: `  tenter drape disc --shell cotton-poplin --typical --quick -o disc.svg
  tenter drape disc --shell cotton-poplin --bending-length 3.1cm --quick --json`,
		Args: cobra.ExactArgs(1),
		ValidArgsFunction: a.complete(func(*advise.Adviser) []string {
			names := []string{"disc"}
			return append(names, worn.Shown()...)
		}),
		RunE: func(cmd *cobra.Command, args []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			return q.run(ctx, a, args[0])
		},
	}
	q.flags(a, c, true)
	f := c.Flags()
	f.StringArrayVar(&q.set, "set", nil, `a measure of the piece's shape: length=80cm; may be repeated`)
	f.StringVar(&q.on, "on", "", "where it is: table, hand, shoulders, head … as the piece allows")
	f.Float64Var(&q.turn, "turn", 0, "turn the eye by so many degrees")
	f.StringVarP(&q.file, "output", "o", "", "the picture: FILE.png or FILE.svg")
	f.StringVar(&q.face, "paint", "", "how the shell is drawn, as #rrggbb; left out, as its colour is said to be")
	f.StringVar(&q.back, "lining-paint", "", "how the lining or the wrong side is drawn, as #rrggbb; left out, as its colour is said to be")
	f.Float64Var(&q.shear, "shear", 0, "resistance to shear in N/m per radian, where it was measured; left out, 20")
	f.BoolVar(&q.one, "typical", false, "only the typical cloth")
	f.BoolVar(&q.quick, "quick", false, "a coarser mesh: a first look")
	return c
}

// drapeAnswer answers `drape`.
type drapeAnswer struct {
	Version     int              `json:"version"`
	Piece       string           `json:"piece"`
	Coefficient *fibres.Estimate `json:"drape_coefficient,omitempty"`
	Folds       fibres.Estimate  `json:"folds"`
	StandOff    *fibres.Estimate `json:"stand_off,omitempty"`
	Bending     fibres.Estimate  `json:"bending_length"`
	Mass        fibres.Estimate  `json:"mass"`
	Converged   bool             `json:"converged"`
	Residual    float64          `json:"residual"`
	Crossings   int              `json:"crossings"`
	CrossedAt   string           `json:"crossings_at,omitempty"` // where most of them lie
	Nodes       int              `json:"nodes"`
	Seconds     float64          `json:"seconds"`
	Kept        bool             `json:"from_cache,omitempty"`
	NotShown    []string         `json:"not_shown,omitempty"` // which cloth, and why
	Says        []string         `json:"say"`
	File        string           `json:"file,omitempty"`
}

// fallOf is one cloth of the name and how it fell.
type fallOf struct {
	fall.Cloth
	result      drape.Result
	kept        bool
	misleads    string
	coefficient float64
	folds       int
}

func (q *drapeQuestion) run(ctx context.Context, a *app, name string) error {
	start := time.Now()
	if err := q.checkFile(); err != nil {
		return err
	}
	adv, err := a.adv()
	if err != nil {
		return err
	}
	id, title := q.pieceOf(adv, name)
	m, err := q.made(a)
	if err != nil {
		return err
	}
	scene, err := q.scene(adv, m, id)
	if err != nil {
		return q.edgeInstead(a, m, err)
	}
	ends, err := q.ends(adv, m)
	if err != nil {
		return err
	}
	c := &drapeRun{q: q, a: a, scene: scene, title: title, m: m, ends: ends, name: name, start: start}
	err = c.compute(ctx)
	if err != nil {
		if ctx.Err() != nil {
			return &fault.Fault{Kind: fault.Stopped, What: "stopped before the cloth came to rest", Expected: "some seconds a cloth", Mend: "--quick takes a coarser mesh"}
		}
		return err
	}
	if done, err := c.insteadOfNone(); done {
		return err
	}
	return c.answer(adv)
}

// answer writes the picture and says what came of it.
func (c *drapeRun) answer(adv *advise.Adviser) error {
	q, a := c.q, c.a
	ans := answerOf(c.title, c.scene, c.ends)
	if c.m.Piece != nil {
		if check, err := adv.Check(c.m); err == nil && check.Fall != nil {
			ans.StandOff = &check.Fall.StandOff
		}
	}
	if q.file != "" {
		if err := c.write(); err != nil {
			return err
		}
		ans.File = q.file
	}
	ans.Seconds = math.Round(time.Since(c.start).Seconds()*10) / 10
	if a.json {
		return a.writeJSON(ans)
	}
	a.printDrape(ans)
	return nil
}

func (q *drapeQuestion) checkFile() error {
	switch strings.ToLower(filepath.Ext(q.file)) {
	case ".png", ".svg":
		return nil
	}
	if q.file == "" {
		return nil
	}
	return &fault.Fault{Kind: fault.WrongCall, Where: "-o", What: fmt.Sprintf("%q is not a kind of picture that is made", q.file), Expected: "a name that ends in .png or .svg"}
}

// made is the make-up that falls.
func (q *drapeQuestion) made(a *app) (advise.MakeUp, error) {
	m, err := q.makeUp(a, "")
	if err == nil && m.Shell == nil {
		err = &fault.Fault{Kind: fault.WrongCall, Where: "--shell", What: "the cloth is not named", Expected: "--shell CLOTH", Mend: "`tenter list cloths` shows them all"}
	}
	return m, err
}

// ends are the limp end, the typical cloth and the stiff end of what was asked.
func (q *drapeQuestion) ends(adv *advise.Adviser, m advise.MakeUp) (out []fallOf, err error) {
	cloths, err := fall.Cloths(adv, m, q.shear, q.one)
	for _, c := range cloths {
		out = append(out, fallOf{Cloth: c})
	}
	return out, err
}

// scene makes the piece or the tester ready.
func (q *drapeQuestion) scene(adv *advise.Adviser, m advise.MakeUp, id string) (worn.Worn, error) {
	if id == disc {
		if len(q.set) > 0 {
			return worn.Worn{}, &fault.Fault{Kind: fault.WrongCall, Where: "--set", What: "the disc test has one size", Expected: "a piece with measures to set"}
		}
		return worn.Disc(), nil
	}
	set := map[string]string{}
	for _, s := range q.set {
		k, v, ok := strings.Cut(s, "=")
		if !ok {
			return worn.Worn{}, &fault.Fault{Kind: fault.WrongCall, Where: "--set", What: fmt.Sprintf("%q sets nothing", s), Expected: "a measure and its value: length=80cm"}
		}
		set[k] = v
	}
	w, err := fall.Scene(adv, m, id, set, q.on)
	w.Turn += q.turn
	return w, err
}

// disc is the laboratory's test in the place of a piece.
const disc = "disc"

// pieceOf finds what is to be shown by its id, by the name of a piece, or by that of a shape.
func (q *drapeQuestion) pieceOf(adv *advise.Adviser, name string) (id, called string) {
	if name == disc {
		return disc, "disc test"
	}
	p, err := adv.Piece(name)
	if err == nil {
		q.piece = p.ID
		if p.ID == name || !worn.Shows(name) {
			return p.ID, p.Name
		}
	}
	return name, strings.ReplaceAll(name, "-", " ")
}

// drapeError is how far the drape coefficient lay from the measured one over ten cloths,
// in points, root mean square, and two more for mesh and start: docs/mechanics.md.
const drapeError = 15

func answerOf(title string, w worn.Worn, ends []fallOf) drapeAnswer {
	typical := ends[len(ends)/2]
	ans := drapeAnswer{Version: 1, Piece: title, Converged: true, Says: w.Says}
	few, many := typical.folds, typical.folds
	for _, e := range ends {
		ans.Nodes, ans.Kept = max(ans.Nodes, len(e.result.At)), ans.Kept || e.kept
		if e.misleads != "" {
			ans.NotShown = append(ans.NotShown, e.Label+": "+e.misleads)
		}
		if u := w.Unresolved(e.Sheet, e.result); u > 0 && !slices.ContainsFunc(ans.Says, func(s string) bool { return strings.HasPrefix(s, "Folds under") }) {
			ans.Says = append(slices.Clone(ans.Says), fmt.Sprintf("Folds under %.0f cm cannot show in a mesh of %.0f mm: limp cloth makes finer ones.", 100*u, 1000*e.result.Cell))
		}
		ans.Converged = ans.Converged && e.result.Converged
		ans.Residual = math.Max(ans.Residual, e.result.Residual)
		if e.result.Crossings > ans.Crossings && e.misleads == "" {
			ans.Crossings, ans.CrossedAt = e.result.Crossings, w.Where(e.result)
		}
		few, many = min(few, e.folds), max(many, e.folds)
	}
	first, last := ends[0], ends[len(ends)-1]
	of := func(low, typical, high float64, unit, because string) fibres.Estimate {
		return fibres.Estimate{Low: low, Typical: typical, High: high, Unit: unit, Basis: fibres.Derived, Sources: []string{}, Because: because}
	}
	ans.Folds = of(math.Max(0, float64(few-2)), float64(typical.folds), float64(many+2), "", "counted at the hem of the computed shape, 2 either way: other arrangements rest as well")
	ans.Bending = of(first.Bending, typical.Bending, last.Bending, "cm", "all layers together")
	ans.Mass = of(first.Mass, typical.Mass, last.Mass, "g/m2", "all layers together")
	if w.Tester != nil {
		e := of(math.Max(0, first.coefficient-drapeError), typical.coefficient, math.Min(100, last.coefficient+drapeError), "%", "computed; 15 points either way: ten measured cloths were 13 from it, root mean square")
		ans.Coefficient = &e
	}
	return ans
}

func (a *app) printDrape(ans drapeAnswer) {
	var lines []string
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if c := ans.Coefficient; c != nil {
		say("Drape coefficient about %.0f %%, between %.0f and %.0f %%.", c.Typical, c.Low, c.High)
	}
	say("About %s at the hem, %.0f to %.0f. Bending length of all layers %s.", prose.Count(int(ans.Folds.Typical), "fold"), ans.Folds.Low, ans.Folds.High, a.bendingOf(ans.Bending))
	lines = append(lines, ans.Says...)
	if !ans.Converged {
		say("It had not come to rest: take the picture as a sketch.")
	}
	if ans.Crossings > 0 {
		lines = append(lines, crossed(ans.Crossings, ans.CrossedAt))
	}
	for _, s := range ans.NotShown {
		say("Not shown, %s.", s)
	}
	if ans.File != "" {
		say("A computed fall, in %s.", ans.File)
	}
	for _, line := range lines {
		a.para("", line, 2)
	}
}

// bendingOf is a bending length with its range, where it has one.
func (a *app) bendingOf(e fibres.Estimate) string {
	typical := a.quantity(round1(e.Typical), "cm")
	if round1(e.Low) == round1(e.High) {
		return typical
	}
	return typical + " (" + a.quantities(round1(e.Low), round1(e.High), "cm") + ")"
}

// crossed says where cloth passes through itself, by how much of it does: a place is a pair of triangles, some two
// centimetres of cloth.
func crossed(places int, at string) string {
	if places <= fewCrossings {
		return fmt.Sprintf("A fold touches its neighbour %s, closer than cloth can lie.", at)
	}
	return fmt.Sprintf("Mostly %s folds run through each other, in %d small places: do not go by them there.", at, places)
}

// fewCrossings are those of one touch of two folds.
const fewCrossings = 5

// round1 is a length to a millimetre.
func round1(cm float64) float64 { return math.Round(cm*10) / 10 }

// nameOf is what the cloth is called: the swatch's own name, where it is one.
func nameOf(s *fibres.Subject) string {
	if s.Name == "" && s.Cloth != nil {
		return s.Cloth.Name
	}
	return s.Name
}

// paints are the colours of both sides: those asked for, else those of the cloths.
func (q *drapeQuestion) paints(m advise.MakeUp) (face, back color.RGBA, err error) {
	face, back = fall.Paints(m)
	if q.face != "" {
		if face, err = colourOf("--paint", q.face); err != nil {
			return face, back, err
		}
	}
	if q.back != "" {
		back, err = colourOf("--lining-paint", q.back)
	}
	return face, back, err
}

func colourOf(flag, s string) (color.RGBA, error) {
	hex, signed := strings.CutPrefix(s, "#")
	c, ok := fall.Unhex(hex)
	if !signed || !ok {
		return color.RGBA{}, &fault.Fault{Kind: fault.WrongCall, Where: flag, What: fmt.Sprintf("%q is no colour", s), Expected: "#rrggbb, as #8e3b46"}
	}
	return c, nil
}
