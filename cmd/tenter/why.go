package main

import (
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"tenter/advise"
	"tenter/fibres"
)

// demandIDs are the demands that any piece makes.
func demandIDs(adv *advise.Adviser) []string {
	var out []string
	for _, p := range adv.Pieces {
		for _, d := range p.Demands {
			if !slices.Contains(out, d.ID) {
				out = append(out, d.ID)
			}
		}
	}
	sort.Strings(out)
	return out
}

// checkWhy walks from the names to the verdict on one demand.
func (a *app) checkWhy(adv *advise.Adviser, m advise.MakeUp, demand string) error {
	ans, err := adv.Why(m, demand)
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(ans)
	}
	a.para("", ans.Say, 2)
	a.head(fmt.Sprintf("From the names to the verdict on %s, over %d members of the population", ans.Demand, ans.Members))
	for i, s := range ans.Steps {
		n := strconv.Itoa(i+1) + "."
		a.para(fmt.Sprintf("  %-3s ", n), s.Step+": "+a.estimate(s.Have), 6)
		if len(s.Chain) == 0 {
			a.para("        ", s.How+sourcesOf(s.Sources), 8)
		}
		for _, r := range s.Chain {
			if r.Used {
				a.para("        ", r.Asked+": "+r.Found, 8)
			}
		}
	}
	a.printMet(len(ans.Steps)+1, ans)
	for _, n := range ans.Notes {
		fmt.Fprintln(a.out)
		a.para("note: ", n, 6)
	}
	return nil
}

// printMet tells how the members meet the demand, and what became of the whole.
func (a *app) printMet(n int, ans advise.WhyAnswer) {
	met := ans.Met
	if len(met.At) == 0 {
		a.para(fmt.Sprintf("  %-3s ", strconv.Itoa(n)+"."), "The demand is not judged: the figure is not known.", 6)
		return
	}
	a.para(fmt.Sprintf("  %-3s ", strconv.Itoa(n)+"."), "wanted: "+a.needWords(met.Need)+". "+met.Say+" "+cite(met.Basis, met.Sources), 6)
	var rows [][]string
	for _, q := range met.At {
		v := a.quantity(q.Value, met.Need.Unit)
		if met.Need.Words != nil {
			v = strings.TrimSpace(fibres.Round(q.Value))
		}
		rows = append(rows, []string{fmt.Sprintf("%.0f %% lie below", 100*q.Part), v, fmt.Sprintf("counts %s", fibres.Round(q.Score))})
	}
	a.tabulate(8, rows)
	a.para("        ", fmt.Sprintf("%s inside what is ideal, %s between it and the limit, %s beyond: the mean counts %s.",
		percent(met.Ideal), percent(met.Partly), percent(met.Outside), fibres.Round(met.Share)), 8)
	var worst []string
	for id, k := range met.Worst {
		worst = append(worst, fmt.Sprintf("%s for %s", id, percent(float64(k)/float64(ans.Members))))
	}
	sort.Strings(worst)
	say := "Each member counts as its worst demand"
	if len(worst) > 0 {
		say += " (" + strings.Join(worst, ", ") + ")"
	}
	a.para(fmt.Sprintf("  %-3s ", strconv.Itoa(n+1)+"."), fmt.Sprintf("%s: the mean is %s, so the verdict is %s (suits from %v, unsuited under %v).", say, fibres.Round(ans.Share), ans.Verdict, advise.SuitsFrom, advise.BorderlineFrom), 6)
}

// needWords tells what a demand wants.
func (a *app) needWords(n advise.Need) string {
	if n.Words != nil {
		if n.Words[0] == n.Words[1] {
			return n.Words[0]
		}
		return n.Words[0] + " to " + n.Words[1]
	}
	return a.quantities(n.Ideal[0], n.Ideal[1], n.Unit) + ", at the limit " + a.quantities(n.Limit[0], n.Limit[1], n.Unit)
}

func sourcesOf(sources []string) string {
	if len(sources) == 0 {
		return ""
	}
	return " [" + strings.Join(sources, ", ") + "]"
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }
