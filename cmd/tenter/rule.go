package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/page/knowledge"
)

func newRule(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "rule",
		GroupID: groupAsk,
		Short:   "the rules behind the advice: list, show, add, check, silence",
		Long: `The rules are data that you can read and question: list them, show one whole, or
list the facts that they speak of. Rules of your own stand in files of the same
format in your config folder: "rule add" begins one, "rule check" tells what it
would change, "rule silence" takes a built-in one away, with your reason.` + exitStatus,
		Example: `  tenter rule list --about fray
  tenter rule show lining-frays-clip-after-joining
  tenter rule add cellar-bolt-is-washed
  tenter rule check draft.toml`,
		Args: onlyCommands,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newRuleList(a), newRuleShow(a), newRuleFacts(a), newRuleAdd(a), newRuleCheck(a), newRuleSilence(a), newRuleSpeak(a))
	return c
}

// shownRule is a rule in an answer.
type shownRule struct {
	ID      string   `json:"id"`
	Topic   string   `json:"topic"`
	Place   string   `json:"place"`
	When    []string `json:"when"`
	Effect  string   `json:"effect"`
	Say     string   `json:"say"`
	Because string   `json:"because"`
	Basis   string   `json:"basis"`
	Sources []string `json:"sources"`
	Step    string   `json:"step,omitempty"`
	Fires   []string `json:"fires,omitempty"`
	Quiet   []string `json:"quiet,omitempty"`
}

func ruleShown(r *rules.Rule) shownRule {
	out := shownRule{ID: r.ID, Topic: knowledge.TopicOf(r), Place: r.Place, Effect: r.Effect.String(), Say: r.Say, Because: r.Because, Basis: r.Basis, Sources: r.Sources,
		Fires: r.Fires, Quiet: r.Quiet}
	for _, w := range r.When() {
		out.When = append(out.When, w.String())
	}
	if s := r.Step; s != nil {
		for _, p := range [][2]string{{"add", s.Add}, {"move", s.Move}, {"drop", s.Drop}, {"say", s.Say}, {"after", s.After}, {"before", s.Before}} {
			if p[1] != "" {
				out.Step = strings.TrimSpace(out.Step + " " + p[0] + " " + p[1])
			}
		}
	}
	return out
}

// topics are those of a list, each once, in its order.
func topics[T any](list []T, of func(T) string) []string {
	var out []string
	for _, x := range list {
		if t := of(x); !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

// begins reports whether a word of the text begins with what is looked for: "pin" is in
// "pins", not in "clipping".
func begins(text, word string) bool {
	text, word = strings.ToLower(text), strings.ToLower(word)
	for at := 0; ; {
		i := strings.Index(text[at:], word)
		if i < 0 {
			return false
		}
		before, _ := utf8.DecodeLastRuneInString(text[:at+i])
		if at+i == 0 || !unicode.IsLetter(before) && !unicode.IsDigit(before) {
			return true
		}
		at += i + 1
	}
}

func newRuleList(a *app) *cobra.Command {
	var w ruleFilter
	c := &cobra.Command{
		Use:     "list",
		Short:   "all rules, or those on a topic, about a word, of an effect, from a source",
		Long:    "Lists the rules by topic: all, or those on one topic, that hold a word (or its beginning), have an effect, or rest on a source." + exitStatus,
		Example: "  tenter rule list --topic pressing\n  tenter rule list --about lint\n  tenter rule list --effect forbids",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.listRules(w) },
	}
	c.Flags().StringVar(&w.topic, "topic", "", "bias, care, cutting, edge …: the file that a rule stands in")
	c.Flags().StringVar(&w.about, "about", "", "a word in the rule, or its beginning")
	c.Flags().StringVar(&w.effect, "effect", "", "forbids, against, for, caution or do")
	c.Flags().StringVar(&w.source, "source", "", "the id of a source")
	c.Flags().BoolVar(&w.silenced, "silenced", false, "those that a house file took away")
	return c
}

// ruleFilter are the flags that narrow a list of rules.
type ruleFilter struct {
	about, effect, source, topic string
	silenced                     bool
}

// of are the rules that pass.
func (w ruleFilter) of(adv *advise.Adviser) []shownRule {
	all := adv.Rules
	if w.silenced {
		all = nil
		for _, s := range adv.Silenced {
			all = append(all, s.Rule)
		}
	}
	list := []shownRule{}
	for _, r := range all {
		s := ruleShown(r)
		text := strings.Join(append([]string{s.ID, s.Say, s.Because, s.Topic}, s.When...), " ")
		if begins(text, w.about) && (w.topic == "" || s.Topic == w.topic) && (w.effect == "" || s.Effect == w.effect) && (w.source == "" || contains(s.Sources, w.source)) {
			list = append(list, s)
		}
	}
	return list
}

// listRules prints the rules that pass, by topic.
func (a *app) listRules(w ruleFilter) error {
	adv, err := a.adv()
	if err != nil {
		return err
	}
	if w.effect != "" && !contains([]string{"forbids", "against", "for", "caution", "do"}, w.effect) {
		return &fault.Fault{Kind: fault.WrongCall, Where: "--effect", What: fmt.Sprintf("%q is not an effect", w.effect), Expected: "forbids, against, for, caution or do"}
	}
	if known := topics(adv.Rules, knowledge.TopicOf); w.topic != "" && !contains(known, w.topic) {
		return &fault.Fault{Kind: fault.WrongCall, Where: "--topic", What: fmt.Sprintf("%q is not a topic", w.topic), Expected: strings.Join(known, ", "), Mend: fault.DidYouMean(w.topic, known, "`tenter rule list --about "+w.topic+"` looks for the word")}
	}
	list := w.of(adv)
	if a.json {
		return a.writeJSON(struct {
			Version int         `json:"version"`
			Rules   []shownRule `json:"rules"`
		}{advise.Version, list})
	}
	if len(list) == 0 {
		fmt.Fprintln(a.out, "no rule fits; `tenter rule list` shows all")
		return nil
	}
	for i, under := range topics(list, func(s shownRule) string { return s.Topic }) {
		var rows [][]string
		for _, s := range list {
			if s.Topic == under {
				rows = append(rows, []string{s.Effect, s.Say + " [" + s.ID + "]"})
			}
		}
		if i > 0 {
			fmt.Fprintln(a.out)
		}
		fmt.Fprintln(a.out, under)
		a.tabulate(2, rows)
	}
	return nil
}

func newRuleShow(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "show ID",
		Short:   "one rule whole: when, what, why, and where from",
		Long:    "Prints a rule: its conditions, what it says and why, its basis and sources, and the cases that prove it." + exitStatus,
		Example: "  tenter rule show lining-frays-clip-after-joining",
		Args:    cobra.ExactArgs(1),
		ValidArgsFunction: a.complete(func(x *advise.Adviser) []string {
			var ids []string
			for _, r := range x.Rules {
				ids = append(ids, r.ID)
			}
			return ids
		}),
		RunE: func(_ *cobra.Command, args []string) error {
			adv, err := a.adv()
			if err != nil {
				return err
			}
			var ids []string
			for _, r := range adv.Rules {
				if r.ID == args[0] {
					return a.printRule(adv, r)
				}
				ids = append(ids, r.ID)
			}
			for _, s := range adv.Silenced {
				if s.ID == args[0] {
					return a.printSilenced(adv, s)
				}
				ids = append(ids, s.ID)
			}
			return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("no rule has the id %q", args[0]), Expected: "the id of a rule", Mend: fault.DidYouMean(args[0], ids, "`tenter rule list` shows them")}
		},
	}
}

func (a *app) printRule(adv *advise.Adviser, r *rules.Rule) error {
	s := ruleShown(r)
	if a.json {
		return a.writeJSON(struct {
			Version int    `json:"version"`
			Kind    string `json:"kind"`
			shownRule
			Related related `json:"related,omitempty"`
		}{advise.Version, "rule", s, webOf(adv).of("rule", r.ID)})
	}
	a.para("", s.ID, 0)
	rows := [][]string{}
	for i, w := range s.When {
		label := "when"
		if i > 0 {
			label = "and"
		}
		rows = append(rows, []string{label, w})
	}
	rows = append(rows, []string{s.Effect, s.Say}, []string{"because", s.Because})
	if s.Step != "" {
		rows = append(rows, []string{"step", s.Step})
	}
	rows = append(rows, []string{"basis", s.Basis})
	for _, id := range s.Sources {
		if src := adv.Cat.Sources[id]; src != nil {
			rows = append(rows, []string{"source", sourceLine(src)})
		}
	}
	for _, f := range s.Fires {
		rows = append(rows, []string{"fires for", f})
	}
	for _, f := range s.Quiet {
		rows = append(rows, []string{"quiet for", f})
	}
	rows = append(rows, []string{"written in", s.Place})
	rows = append(rows, webOf(adv).of("rule", r.ID).rows()...)
	a.tabulate(2, rows)
	return nil
}

func newRuleFacts(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "facts",
		Short:   "every fact that a rule may speak of",
		Long:    "Lists the facts that conditions may name, with their units or words." + exitStatus,
		Example: "  tenter rule facts",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			adv, err := a.adv()
			if err != nil {
				return err
			}
			type fact struct {
				Name  string   `json:"name"`
				Kind  string   `json:"kind"`
				Unit  string   `json:"unit,omitempty"`
				Words []string `json:"words,omitempty"`
				Say   string   `json:"say"`
			}
			list := []fact{}
			for _, f := range adv.Facts() {
				list = append(list, fact{f.Name, f.Kind.String(), f.Unit, f.Scale, f.Doc})
			}
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					Facts   []fact `json:"facts"`
				}{advise.Version, list})
			}
			var rows [][]string
			for _, f := range list {
				what := f.Unit
				if len(f.Words) > 0 {
					what = strings.Join(f.Words, ", ")
				}
				if what == "" {
					what = f.Kind
				}
				rows = append(rows, []string{f.Name, f.Say + " (" + what + ")"})
			}
			a.tabulate(0, rows)
			return nil
		},
	}
}

// newCompare lays cloths side by side.
func newCompare(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "compare CLOTH CLOTH …",
		GroupID: groupAsk,
		Short:   "two or more cloths side by side",
		Long: `Lays two to four cloths side by side, each property as low – typical – high of
what is sold under the name. Of a swatch it tells where it lies among the cloths
sold under each of the other names.` + exitStatus,
		Example: `  tenter compare "cotton sateen" viscose-twill denim
  tenter compare "king's blue" cotton-sateen`,
		Args:              cobra.MinimumNArgs(2),
		ValidArgsFunction: a.completeCloth(),
		RunE: func(_ *cobra.Command, args []string) error {
			if args = a.cloths(args); len(args) < 2 || len(args) > 4 {
				return tooManyCloths(args, "two to four cloths", "tenter compare denim wool-flannel")
			}
			adv, err := a.adv()
			if err != nil {
				return err
			}
			var list []*fibres.Subject
			var found fault.List
			for _, n := range args {
				s, err := a.subject(n)
				found.Add(err)
				list = append(list, s)
			}
			if err := found.OrNil(); err != nil {
				return err
			}
			b, err := a.kb()
			if err != nil {
				return err
			}
			places := comparedPlaces(b, list)
			if a.json {
				out := struct {
					Version int           `json:"version"`
					Cloths  []shownCloth  `json:"cloths"`
					Places  []swatchPlace `json:"places,omitempty"`
				}{Version: advise.Version, Places: places}
				for _, s := range list {
					out.Cloths = append(out.Cloths, describeCloth(adv, s, false))
				}
				return a.writeJSON(out)
			}
			a.printCompare(adv, list)
			a.printPlaces(places)
			return nil
		},
	}
}

func (a *app) printCompare(adv *advise.Adviser, list []*fibres.Subject) {
	const label = 16
	col := (a.width() - label) / len(list)
	line := func(first string, cells []string) {
		var lines [][]string
		deep := 1
		for _, c := range cells {
			l := wrap(clean(c), col-2, 0)
			lines = append(lines, l)
			deep = max(deep, len(l))
		}
		for i := range deep {
			out := pad("", label)
			if i == 0 {
				out = pad(first, label)
			}
			for _, l := range lines {
				cell := ""
				if i < len(l) {
					cell = l[i]
				}
				out += pad(cell, col)
			}
			fmt.Fprintln(a.out, strings.TrimRight(out, " "))
		}
	}
	var heads, made []string
	for _, s := range list {
		heads = append(heads, s.Label())
		m := []string{}
		if s.Cloth != nil {
			for _, p := range s.Cloth.Content {
				if p.Share.Typical >= 1 {
					m = append(m, p.Fibre.Name)
				}
			}
			m = append(m, s.Cloth.Structure.Name)
		}
		made = append(made, strings.Join(m, ", "))
	}
	line("", heads)
	line("made of", made)
	for p := range fibres.NumProperties {
		if p == fibres.BendingLengthWarp || p == fibres.BendingLengthWeft || p == fibres.BendingLengthBias {
			continue
		}
		var cells []string
		for _, s := range list {
			e := adv.Cat.Estimate(*s, p)
			c := a.estimate(e)
			if e.Known() {
				c += " (" + string(e.Basis) + ")"
			}
			cells = append(cells, c)
		}
		line(fibres.Properties[p].Name, cells)
	}
}
