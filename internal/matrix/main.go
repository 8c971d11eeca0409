// Matrix asks many make-ups at once, for whoever works on the rules: it prints the
// verdicts that differ from what was expected of them.
//
//	go run ./internal/matrix [-v] [-why] FILE..
//
// A line of a file is a make-up in the words of a rule's cases, a bar, and what is
// expected: S (suits), r (with a reservation) or U (unsuited), the matters any of which
// may decide parted by "/", and the cloths for which it is expected, parted by spaces:
//
//	apron, single-layer-hem | S cotton-drill denim | U:wash silk-dupion
//
// Without cloths the make-up names its own. A * in the make-up stands for the cloth, where
// that is not the shell; "> a b c" asks whether each cloth is better than the next; and
// "seam: a b ! c" asks what is offered (see [tally.choice]). Lines that begin with # are
// left out.
package main

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/data"
)

var letters = map[string]string{"S": advise.Suits, "r": advise.Borderline, "U": advise.Unsuited}

type tally struct {
	unread, asked, exact, accepted, objected, named int
	rankings, ranked, choices, passed, clean        int
}

func main() {
	all := flag.Bool("v", false, "print those that agree, too")
	why := flag.Bool("why", false, "print what each objection is")
	flag.Parse()
	a, err := advise.Load(data.FS)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	var t tally
	for _, path := range flag.Args() {
		text, err := os.ReadFile(path)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		t.text(a, string(text), *all, *why)
	}
	pc := func(n, of int) float64 { return 100 * float64(n) / float64(max(1, of)) }
	fmt.Printf("%d asked: exact %d (%.0f %%), accepted %d (%.0f %%); of %d that do not simply suit the matter named %d (%.0f %%)\n",
		t.asked, t.exact, pc(t.exact, t.asked), t.accepted, pc(t.accepted, t.asked), t.objected, t.named, pc(t.named, t.objected))
	fmt.Printf("%d rankings, %d met (%.0f %%); %d choices, %d passed (%.0f %%), %d free of the absurd (%.0f %%)\n",
		t.rankings, t.ranked, pc(t.ranked, t.rankings), t.choices, t.passed, pc(t.passed, t.choices), t.clean, pc(t.clean, t.choices))
}

func (t *tally) text(a *advise.Adviser, text string, all, why bool) {
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			t.line(a, line, all, why)
		}
	}
}

func (t *tally) line(a *advise.Adviser, line string, all, why bool) {
	parts := strings.Split(line, "|")
	words := strings.TrimSpace(parts[0])
	for _, p := range parts[1:] {
		f := strings.Fields(p)
		letter, matters, _ := strings.Cut(f[0], ":")
		cloths := f[1:]
		switch {
		case letter == ">":
			t.rank(a, words, cloths, all)
			continue
		case matters == "" && strings.HasSuffix(f[0], ":"):
			t.choice(a, words, p, all)
			continue
		}
		if len(cloths) == 0 {
			cloths = []string{""}
		}
		for _, c := range cloths {
			said := with(words, c)
			ans, ok := t.check(a, said)
			if !ok {
				continue
			}
			t.judge(said, letter, strings.Split(matters, "/"), ans, against(a, ans), all || why)
			if why {
				explain(ans)
			}
		}
	}
}

// with puts a cloth into the words of a make-up: where the * stands, else as the shell.
func with(words, cloth string) string {
	if strings.Contains(words, "*") {
		return strings.Replace(words, "*", cloth, 1)
	}
	if cloth != "" {
		words += ", shell " + cloth
	}
	return words
}

func (t *tally) check(a *advise.Adviser, said string) (ans advise.CheckAnswer, ok bool) {
	m, err := a.ParseCase(said)
	if err == nil {
		if m.Finish == nil {
			m.Finish, _ = a.Finish("single-layer-hem")
		}
		ans, err = a.CheckAlone(m)
	}
	if err != nil {
		fmt.Println("??", said, err)
		t.unread++
	}
	return ans, err == nil
}

// rank asks whether each cloth is better than the one that is named after it.
func (t *tally) rank(a *advise.Adviser, words string, cloths []string, all bool) {
	for i := range cloths[1:] {
		x, ok := t.check(a, with(words, cloths[i]))
		y, ok2 := t.check(a, with(words, cloths[i+1]))
		if !ok || !ok2 {
			continue
		}
		t.rankings++
		better := x.Share > y.Share
		if better {
			t.ranked++
		}
		if !better || all {
			fmt.Printf("> %s: %s %.2f, %s %.2f\n", words, cloths[i], x.Share, cloths[i+1], y.Share)
		}
	}
}

// against are the matters of what speaks against a make-up, weightiest first: what costs
// it something, and cautions of harm that come of its cloth. That irons burn is true of all.
func against(a *advise.Adviser, ans advise.CheckAnswer) []string {
	var out []string
	for _, r := range ans.Reasons {
		if r.Cost > 0 || r.Effect == "caution" && r.Harm == 5 && ofCloth(a, r.Rule) && !slices.Contains(out, r.Matter) {
			out = append(out, r.Matter)
		}
	}
	return out
}

// ofCloth reports whether a rule asks what the shell or the make-up is like.
func ofCloth(a *advise.Adviser, id string) bool {
	r := a.RuleByID(id)
	return r != nil && slices.ContainsFunc(r.Parts.Names, func(n string) bool {
		return strings.HasPrefix(n, "shell.") && n != "shell.mass" || strings.HasPrefix(n, "make-up.")
	})
}

func (t *tally) judge(said, letter string, matters []string, ans advise.CheckAnswer, against []string, all bool) {
	any := func(list []string) bool {
		return slices.ContainsFunc(list, func(x string) bool { return slices.Contains(matters, x) })
	}
	t.asked++
	exact := ans.Verdict == letters[letter]
	ok := exact || letter == "r" && ans.Verdict == advise.Suits && any(against)
	named := true
	if exact {
		t.exact++
	}
	if ok {
		t.accepted++
	}
	if letter != "S" {
		t.objected++
		if named = any(against[:min(2, len(against))]); named {
			t.named++
		}
	}
	sign := "  "
	switch {
	case !ok:
		sign = "✗ "
	case !named:
		sign = "m "
	case !all:
		return
	}
	fmt.Printf("%s%s: %s %s; we %s %.2f %v\n", sign, said, letter, strings.Join(matters, "/"), ans.Verdict, ans.Share, against)
}

// explain prints what each objection is and what it costs.
func explain(ans advise.CheckAnswer) {
	for _, r := range ans.Reasons {
		if r.Cost > 0 {
			fmt.Printf("    %.2f %s %s%s %s\n", r.Cost, r.Matter, r.Demand, r.Rule, r.Because)
		}
	}
}
