package main

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise"
)

// choice asks what is offered: at least three of the first five are among those named
// (all of them, where fewer are named), and nothing behind the ! is among the first ten.
func (t *tally) choice(a *advise.Adviser, words, part string, all bool) {
	kind, rest, _ := strings.Cut(strings.TrimSpace(part), ":")
	good, absurd, _ := strings.Cut(rest, "!")
	for _, said := range everyOne(words) {
		m, err := a.ParseCase(said)
		if err != nil {
			fmt.Println("??", said, err)
			t.unread++
			continue
		}
		if m.Finish == nil && kind != "shell" {
			m.Finish, _ = a.Finish("single-layer-hem")
		}
		ans, err := a.Advise(m, 0)
		if err != nil {
			fmt.Println("??", said, err)
			t.unread++
			continue
		}
		t.offer(said+": "+kind, offered(ans, kind), strings.Fields(good), strings.Fields(absurd), all)
	}
}

func (t *tally) offer(said string, got, good, absurd []string, all bool) {
	first, ten := got[:min(5, len(got))], got[:min(10, len(got))]
	in := func(list []string) func(string) bool {
		return func(id string) bool { return !slices.Contains(list, id) }
	}
	met := len(slices.DeleteFunc(slices.Clone(first), in(good)))
	bad := slices.DeleteFunc(slices.Clone(ten), in(absurd))
	t.choices++
	sign := "  "
	if len(bad) == 0 {
		t.clean++
	} else {
		sign = "! "
	}
	if len(good) == 0 || met >= min(3, len(good), max(1, len(first))) || got[0] == "none" && good[0] == "none" {
		t.passed++
	} else {
		sign = "✗ "
	}
	if sign != "  " || all {
		fmt.Printf("%s%s: %d good in %v; absurd %v\n", sign, said, met, first, bad)
	}
}

// offered are the ids of a kind that nothing speaks against, best first.
func offered(ans advise.AdviseAnswer, kind string) (out []string) {
	switch kind {
	case "shell", "lining":
		list := ans.Cloths
		if kind == "lining" {
			list = ans.Linings
		}
		for _, c := range list {
			if c.Verdict != advise.Unsuited {
				out = append(out, c.ID)
			}
		}
		return out
	case "size":
		if ans.Needle == nil {
			return nil
		}
		return []string{fmt.Sprint(ans.Needle.FirstNM)}
	}
	for _, c := range map[string][]advise.Choice{"interfacing": ans.Interfacings, "seam": ans.Seams, "edge": ans.Edges,
		"needle": ans.Needles, "thread": ans.Threads, "binding": ans.Bindings}[kind] {
		if !c.Refused() {
			out = append(out, c.ID)
		}
	}
	return out
}

// everyOne are the make-ups of words that name several pieces or shells, joined by +.
func everyOne(words string) []string {
	out := []string{""}
	for part := range strings.SplitSeq(words, ",") {
		head, list := "", strings.TrimSpace(part)
		if rest, ok := strings.CutPrefix(list, "shell "); ok {
			head, list = "shell ", rest
		}
		var next []string
		for _, was := range out {
			for one := range strings.SplitSeq(list, "+") {
				next = append(next, was+", "+head+strings.TrimSpace(one))
			}
		}
		out = next
	}
	for i := range out {
		out[i] = strings.TrimPrefix(out[i], ", ")
	}
	return out
}
