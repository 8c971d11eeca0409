package main

import (
	"fmt"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
)

// listed is one thing in a list.
type listed struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Say  string `json:"say,omitempty"`
}

// kinds lists what can be listed, in the order of the help, with how to list
// it.
var kinds = []struct {
	name string
	list func(*advise.Adviser) []listed
}{
	{"cloths", func(x *advise.Adviser) (out []listed) {
		for _, c := range x.Cat.ClothList() {
			out = append(out, listed{c.ID, c.Name, c.Describe})
		}
		return out
	}},
	{"fibres", func(x *advise.Adviser) (out []listed) {
		for _, f := range x.Cat.Fibres {
			out = append(out, listed{f.ID, f.Name, f.Family})
		}
		return byID(out)
	}},
	{"structures", func(x *advise.Adviser) (out []listed) {
		for _, s := range x.Cat.Structures {
			out = append(out, listed{s.ID, s.Name, s.Definition})
		}
		return byID(out)
	}},
	{"treatments", func(x *advise.Adviser) (out []listed) {
		for _, t := range x.Cat.Treatments {
			out = append(out, listed{t.ID, t.Name, t.Definition})
		}
		return byID(out)
	}},
	{"pieces", func(x *advise.Adviser) (out []listed) {
		for _, p := range x.Pieces {
			out = append(out, listed{p.ID, p.Name, p.Say})
		}
		return out
	}},
	{"shapes", func(x *advise.Adviser) (out []listed) {
		shapes, err := x.Shapes()
		if err != nil {
			return nil // the tests load them
		}
		for _, s := range shapes.List {
			say := s.Say + " Measures:"
			for i, p := range s.Parameters {
				if i > 0 {
					say += ","
				}
				say += " " + p.ID
			}
			out = append(out, listed{s.ID, s.Name, say + "."})
		}
		return out
	}},
	{"finishes", func(x *advise.Adviser) (out []listed) {
		for _, f := range x.Finishes {
			out = append(out, listed{f.ID, f.Name, f.Say})
		}
		return out
	}},
	{"seams", func(x *advise.Adviser) []listed { return seamsOf(x, "seam") }},
	{"edges", func(x *advise.Adviser) []listed { return seamsOf(x, "edge") }},
	{"interfacings", func(x *advise.Adviser) (out []listed) {
		for _, i := range x.Interfacings {
			out = append(out, listed{i.ID, i.Name, i.Say})
		}
		return out
	}},
	{"wishes", func(x *advise.Adviser) (out []listed) {
		for _, w := range x.Wishes {
			out = append(out, listed{w.ID, w.Name, w.Say})
		}
		return out
	}},
	{"rules", func(x *advise.Adviser) (out []listed) {
		for _, r := range x.Rules {
			out = append(out, listed{r.ID, r.Effect.String(), r.Say})
		}
		return out
	}},
	{"terms", func(x *advise.Adviser) (out []listed) {
		for _, t := range x.Cat.Terms {
			out = append(out, listed{t.ID, t.Name, t.Meaning})
		}
		return byID(out)
	}},
	{"sources", func(x *advise.Adviser) (out []listed) {
		for _, s := range x.Cat.Sources {
			out = append(out, listed{s.ID, s.Title, strings.TrimSpace(s.Author + " " + s.Year)})
		}
		return byID(out)
	}},
}

func byID(l []listed) []listed {
	sort.Slice(l, func(i, j int) bool { return l[i].ID < l[j].ID })
	return l
}

func seamsOf(x *advise.Adviser, kind string) (out []listed) {
	for _, s := range x.Seams {
		if s.Kind == kind {
			out = append(out, listed{s.ID, s.Name, s.Say})
		}
	}
	return out
}

func kindNames() []string {
	var out []string
	for _, k := range kinds {
		out = append(out, k.name)
	}
	return out
}

func newList(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "list KIND",
		GroupID: groupAsk,
		Short:   "all pieces, finishes, cloths, seams …",
		Long:    "Lists all of a kind: " + strings.Join(kindNames(), ", ") + "." + exitStatus,
		Example: `  tenter list pieces
  tenter list finishes --json`,
		Args:      cobra.ExactArgs(1),
		ValidArgs: kindNames(),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.list(strings.ToLower(args[0]))
		},
	}
}

func (a *app) list(kind string) error {
	for _, k := range kinds {
		if k.name != kind && k.name != kind+"s" && k.name != kind+"es" {
			continue
		}
		adv, err := a.adv()
		if err != nil {
			return err
		}
		items := k.list(adv)
		if a.json {
			return a.writeJSON(struct {
				Version int      `json:"version"`
				Kind    string   `json:"kind"`
				Items   []listed `json:"items"`
			}{advise.Version, k.name, items})
		}
		var rows [][]string
		for _, i := range items {
			say := i.Say
			if i.Name != "" && !strings.EqualFold(strings.ReplaceAll(i.ID, "-", " "), i.Name) {
				say = strings.TrimSuffix(i.Name, ".") + ": " + say
			}
			rows = append(rows, []string{i.ID, say})
		}
		a.tabulate(0, rows)
		return nil
	}
	return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there is no kind %q", kind), Expected: strings.Join(kindNames(), ", "),
		Mend: fault.DidYouMean(kind, kindNames(), "")}
}
