package advise

import (
	"fmt"
	"os"
	"slices"
	"testing"
)

func TestZZCross(t *testing.T) {
	if os.Getenv("ZZCROSS") == "" {
		t.Skip()
	}
	tr := newTranslator(t)
	for _, held := range []bool{false, true} {
		for _, kind := range []string{"judged.csv", "pairs.csv"} {
			cross := map[string]int{}
			miss := map[string]int{}
			all := map[string]int{}
			unnamed := map[string]int{}
			first := map[string]int{}
			for _, of := range panels {
				for _, r := range panelRows(t, of+kind) {
					if r.held() != held {
						continue
					}
					m := tr.judged(r)
					if kind == "pairs.csv" {
						m = tr.pair(r)
					}
					if m.Shell == nil || m.Piece == nil {
						cross["unsaid"]++
						continue
					}
					ans := tr.a.say(tr.a.judge(m))
					_, ok := accepts(r["verdict"], r["matter"], ans)
					cross[r["verdict"]+" x "+ans.Verdict]++
					all[r["matter"]]++
					if !ok {
						miss[r["matter"]]++
						if o := objectedTo(ans); len(o) > 0 && r["verdict"] == "suits" {
							first[o[0]]++
						}
					}
					if r["verdict"] != "suits" && !slices.Contains(firstTwo(objectedTo(ans)), r["matter"]) {
						unnamed[r["matter"]]++
					}
				}
			}
			fmt.Println("held", held, kind, "\n  cross", cross, "\n  missed", miss, "\n  of", all, "\n  unnamed", unnamed, "\n  first objection to suits that we refuse", first)
		}
	}
}
