package main

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/page/knowledge"
)

// learned is the adviser moved by the user's own swatches and verdicts, where there
// are any and nobody switched it off.
func (a *app) learned(adv *advise.Adviser) (*advise.Adviser, error) {
	if a.noLearn {
		return adv, nil
	}
	s, err := a.store()
	if err != nil || s == nil {
		return adv, err
	}
	return knowledge.Learned(adv, newBase(adv.Cat, s))
}

// sayBroken tells, after an answer, which house files it was given without: one line
// for each file, its first slip.
func (a *app) sayBroken() {
	printed := map[string]bool{}
	for _, f := range a.broken {
		file, _, _ := strings.Cut(f.Where, ":")
		if printed[file] {
			continue
		}
		printed[file] = true
		say := "caution: a house file was left out. " + f.Where + ": " + f.What + "."
		if f.Expected != "" {
			say += " Expected: " + strings.TrimSuffix(f.Expected, ".") + "."
		}
		for _, l := range wrap(clean(say+" All of it: tenter rule check "+file), a.width(), 4) {
			fmt.Fprintln(a.err, l)
		}
	}
}

// sayUnused tells, after an answer, that the user's records moved nothing in it.
func (a *app) sayUnused() {
	if a.unused == nil {
		return
	}
	f := fault.All(a.unused)[0]
	for _, l := range wrap("caution: your own records were not used: "+clean(f.Error()), a.width(), 4) {
		fmt.Fprintln(a.err, l)
	}
}

func newLearn(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "learn [on|off]",
		GroupID: groupRecord,
		Short:   "what your swatches and verdicts moved, and the switch for it",
		Long: `Your measured swatches shift and narrow what is predicted of cloths that are their
kin and that you did not measure: of the same name most, of the same weave or
family of fibre less. Your verdicts after wear move what a piece asks. This tells
what was moved, by how much and why; off switches it off, and --no-learn leaves it
out of one answer.` + exitStatus,
		Example: `  tenter learn
  tenter learn off`,
		Args:      cobra.MaximumNArgs(1),
		ValidArgs: []string{"on", "off"},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return a.switchLearn(args[0])
			}
			return a.sayLearned()
		},
	}
}

func (a *app) switchLearn(word string) error {
	if word != "on" && word != "off" {
		return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is neither on nor off", word), Expected: "on or off"}
	}
	s, err := a.makeStore()
	if err != nil {
		return err
	}
	if err := s.SetSetting(kb.SettingLearn, word == "on"); err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(struct {
			Version int  `json:"version"`
			On      bool `json:"on"`
		}{advise.Version, word == "on"})
	}
	say := "your swatches and verdicts move the answers about other cloths again"
	if word == "off" {
		say = "your swatches and verdicts no longer move the answers about other cloths; a swatch itself is still known by what was measured"
	}
	a.para("", say, 2)
	return nil
}

// movedEstimate is an estimate that was moved by the user's swatches.
type movedEstimate struct {
	Cloth    string          `json:"cloth"`
	Property string          `json:"property"`
	Was      fibres.Estimate `json:"was"`
	Is       fibres.Estimate `json:"is"`
	Shift    float64         `json:"shift"`  // part of the figure
	Narrow   float64         `json:"narrow"` // part of the width that is gone
	Why      string          `json:"why"`
}

// movedEstimates lists what was moved, the most first.
func movedEstimates(adv *advise.Adviser) []movedEstimate {
	out := []movedEstimate{}
	base := adv.Cat.Unlearned()
	if base == adv.Cat {
		return out
	}
	for _, k := range adv.Cat.ClothList() {
		s := fibres.Subject{Cloth: k}
		for _, p := range []fibres.Property{fibres.Mass, fibres.BendingLength} {
			was, is := base.Estimate(s, p), adv.Cat.Estimate(s, p)
			if !was.Known() || !(was.Low > 0) || was.Typical == is.Typical && was.High == is.High {
				continue
			}
			m := movedEstimate{k.ID, fibres.Properties[p].ID, was, is, is.Typical/was.Typical - 1, 1 - math.Log(is.High/is.Low)/math.Log(was.High/was.Low), ""}
			for _, r := range is.Chain {
				if r.Asked == "your own swatches of its kin" {
					m.Why = r.Found
				}
			}
			m.Was.Chain, m.Is.Chain = nil, nil
			out = append(out, m)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		return math.Abs(out[i].Shift)+out[i].Narrow > math.Abs(out[j].Shift)+out[j].Narrow
	})
	return out
}

// movedDemand is a demand that was moved by the user's verdicts.
type movedDemand struct {
	Piece  string        `json:"piece"`
	Demand string        `json:"demand"`
	Ideal  advise.Bounds `json:"ideal"`
	Was    advise.Bounds `json:"ideal_was"`
	By     []int64       `json:"by"`
	Say    string        `json:"say"`
}

func (a *app) sayLearned() error {
	adv, err := a.adv()
	if err != nil {
		return err
	}
	s, err := a.store()
	if err != nil {
		return err
	}
	on, err := newBase(adv.Cat, s).Learns()
	if err != nil {
		return err
	}
	moved := movedEstimates(adv)
	demands := []movedDemand{}
	for _, p := range adv.Pieces {
		for i := range p.Demands {
			if d := &p.Demands[i]; d.Moved != nil {
				demands = append(demands, movedDemand{p.ID, d.ID, d.Ideal, d.Moved.IdealWas, d.Moved.By, d.SayMoved()})
			}
		}
	}
	if a.json {
		return a.writeJSON(struct {
			Version   int             `json:"version"`
			On        bool            `json:"on"`
			Estimates []movedEstimate `json:"estimates"`
			Demands   []movedDemand   `json:"demands"`
		}{advise.Version, on && !a.noLearn, moved, demands})
	}
	switch {
	case !on:
		a.para("", "Learning is switched off; `tenter learn on` switches it on.", 0)
		return nil
	case len(moved) == 0 && len(demands) == 0:
		a.para("", "Nothing is moved yet: swatches that were weighed or drooped and sold under a name, and verdicts after wear, would.", 0)
		return nil
	}
	const most = 6
	if len(moved) > 0 {
		a.para("", fmt.Sprintf("%d ranges of cloths that you did not measure are moved by those you did. The most:", len(moved)), 0)
		for _, m := range moved[:min(len(moved), most)] {
			fmt.Fprintln(a.out)
			p, _ := fibres.PropertyByID(m.Property)
			a.para("  ", fmt.Sprintf("%s, %s: %s (was %s)", m.Cloth, fibres.Properties[p].Name, a.estimate(m.Is), a.estimate(m.Was)), 4)
			a.para("    ", m.Why, 4)
		}
		if len(moved) > most {
			fmt.Fprintf(a.out, "\n  %d more with --json\n", len(moved)-most)
		}
	}
	for _, d := range demands {
		fmt.Fprintln(a.out)
		a.para("  ", d.Piece+": "+d.Say, 4)
	}
	return nil
}
