package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise/cut"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

// one adds a figure without a spread.
func (r *reckoned) one(name string, v float64, unit, because string) {
	r.add(derived(name, v, v, v, unit, because))
}

var curtainKind = reckonKind{
	name: "curtain", use: "curtain --track L --drop L --width L [--fullness N]", short: "widths of cloth and length for a gathered hanging",
	long: `How many widths of cloth a gathered hanging takes and how long a piece to buy: the
track times the fullness over the cloth's width, each width as long as the drop with
heading and hem. With a repeat each width but the last is cut in whole repeats; a shop
counts whole repeats for all.`,
	example: `  tenter reckon curtain --track 300cm --drop 220cm --width 137cm --fullness 2
  tenter reckon curtain --track 84in --drop 78in --turnings 10in --sides 15in --width 54in --fullness 2.5
  tenter reckon curtain --track 300cm --drop 220cm --width 137cm --repeat 64cm`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("track", "", "length of the track or rod")
		f.String("fullness", "2", "how many times the track the cloth is, 1 to 5")
		f.String("drop", "", "finished, from the track to the hem")
		f.String("turnings", "25cm", "heading and hem together")
		f.String("sides", "0cm", "side hems, returns and overlap together")
		f.String("width", "", "how wide the cloth is")
		f.String("repeat", "0cm", "repeat of the figure along the cloth")
	},
	run: func(q *given, _ []string) (*reckoned, error) {
		q.need("track", "length of the track", "300cm")
		q.need("drop", "the finished drop", "220cm")
		q.need("width", "how wide the cloth is", "137cm")
		full := q.plain("fullness")
		track, drop, width, turn, sides, repeat := q.length("track"), q.length("drop"), q.length("width"), q.usual("turnings"), q.usual("sides"), q.usual("repeat")
		if len(q.found) > 0 {
			return nil, q.found.OrNil()
		}
		d, err := cut.DropsForCurtain(track, full, sides, width, drop, turn, repeat)
		if err != nil {
			return nil, err
		}
		r := &reckoned{Method: "widths ⌈(track · fullness + sides) / width⌉, each as long as drop and turnings", Valid: "a fullness of 1 to 5", Accuracy: "exact; shrinkage comes on top (tenter cut)",
			Source: "worked examples of home economics (read)", Sources: []string{"practice"}}
		r.add(exactly("widths", float64(d.Widths), "", "rounded up to whole widths"))
		r.one("each cut", float64(d.Cut), "cm", "drop with its turnings")
		if repeat > 0 {
			r.one("each in whole repeats", float64(d.Whole), "cm", "so that the figure meets")
			r.one("length, last width without its repeat", float64(d.Length), "cm", "nothing follows the last width that it must meet")
			r.one("length as a shop counts", float64(d.Shop), "cm", "whole repeats for every width")
		} else {
			r.one("length", float64(d.Length), "cm", "all widths, one after another")
		}
		r.note("Buy %s.", d.Shop.OffTheBolt(q.a.system))
		return r, nil
	},
}

// usual is a length that has a default.
func (q *given) usual(flag string) units.Length {
	l, err := units.ParseLengthIn(q.text(flag), units.Centimetre)
	if err != nil {
		q.bad(flag, err)
	}
	return l
}

var gatherKind = reckonKind{
	name: "gather", use: "gather --girth L --length L --width L [--fullness N]", short: "a gathered skirt or ruffle: panels and length to buy",
	long: `How many panels of cloth are gathered into a waist or an edge, and the length to buy:
the girth times the fullness over the cloth's width, each panel as long as the piece
with hem and seam. With --length of a ruffle's depth it serves a ruffle as well.`,
	example: `  tenter reckon gather --girth 74cm --length 65cm --width 140cm --fullness 2.5
  tenter reckon gather --girth 28in --length 24in --width 44in --turnings 3in`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("girth", "", "the edge it is gathered into, all round")
		f.String("fullness", "2", "how many times that edge the cloth is, 1 to 5")
		f.String("length", "", "finished, from the gathers to the hem")
		f.String("turnings", "6cm", "hem and seam allowance together")
		f.String("width", "", "how wide the cloth is")
	},
	run: func(q *given, _ []string) (*reckoned, error) {
		q.need("girth", "the edge it is gathered into", "74cm")
		q.need("length", "the finished length", "65cm")
		q.need("width", "how wide the cloth is", "140cm")
		full := q.plain("fullness")
		girth, length, width, turn := q.length("girth"), q.length("length"), q.length("width"), q.usual("turnings")
		if len(q.found) > 0 {
			return nil, q.found.OrNil()
		}
		d, err := cut.DropsForCurtain(girth, full, 0, width, length, turn, 0)
		if err != nil {
			return nil, err
		}
		r := &reckoned{Method: "panels ⌈girth · fullness / width⌉, each as long as length and turnings", Valid: "a fullness of 1 to 5", Accuracy: "exact; shrinkage comes on top (tenter cut)",
			Source: "arithmetic; common practice for the fullness", Sources: []string{"practice"}}
		r.add(exactly("panels", float64(d.Widths), "", "rounded up to whole widths"))
		r.one("each cut", float64(d.Cut), "cm", "length with hem and seam")
		r.one("length to buy", float64(d.Length), "cm", "all panels, one after another")
		r.add(exactly("fullness with whole widths", float64(d.Widths)*float64(width/girth), "", "times the girth"))
		return r, nil
	},
}

var runningKind = reckonKind{
	name: "running", use: "running --mass M --width L | --per-yard M --width L", short: "what a running yard or metre weighs, and back",
	long: `Cloth is sold by its mass to the running yard as well as to the square yard; the two
differ by its width. --mass is that of an area; --per-yard or --per-metre that of a
running length.`,
	example: `  tenter reckon running --mass 270gsm --width 150cm
  tenter reckon running --per-yard 13oz --width 58in`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("mass", "", "mass per area")
		f.String("per-yard", "", "mass of a running yard: 13oz")
		f.String("per-metre", "", "mass of a running metre: 400g")
		f.String("width", "", "the whole width of the cloth")
	},
	run: func(q *given, _ []string) (*reckoned, error) {
		q.need("width", "how wide the cloth is", "150cm")
		width, mass := q.length("width"), q.areal("mass")
		grams, given := 0.0, 0
		for flag, per := range map[string]float64{"per-yard": 0.9144, "per-metre": 1} {
			if q.has(flag) {
				grams, given = q.grams(flag)/per, given+1
			}
		}
		if q.has("mass") {
			given++
		}
		if given != 1 {
			q.refuse("mass", "one mass is wanted", "--mass, --per-yard or --per-metre", "--mass 270gsm")
		}
		if len(q.found) > 0 {
			return nil, q.found.OrNil()
		}
		r := &reckoned{Method: "mass per running length = mass per area · width", Valid: "the whole width, selvedges included", Accuracy: "exact; some mills weigh without the selvedges",
			Source: "the definitions of the units", Sources: []string{"gnu-units"}}
		var err error
		if q.has("mass") {
			grams, err = cut.RunningMass(mass, width)
		} else {
			mass, err = cut.ArealFromRunning(grams, width)
		}
		if err != nil {
			return nil, err
		}
		r.one("per area", float64(mass), "g/m2", "the running mass over the width")
		r.add(exactly("per square yard", float64(mass)/float64(units.OuncePerSquareYard), "oz/yd2", "the same"))
		r.one("running metre", grams, "g", "mass per area times the width")
		r.add(exactly("running yard", grams*0.9144/28.349523125, "oz", "the same"))
		return r, nil
	},
}

var needleKind = reckonKind{
	name: "needle", use: "needle SIZE", short: "needle sizes, metric and US",
	long:    `A machine needle's size both ways: 80 is a blade of 0.80 mm and a US 12.`,
	example: "  tenter reckon needle 90\n  tenter reckon needle \"US 14\"",
	args:    cobra.ExactArgs(1),
	run: func(q *given, args []string) (*reckoned, error) {
		r := &reckoned{Method: "the sizes on the packet", Valid: "metric 60 to 120, US 8 to 19", Accuracy: "the nearest size that is made", Source: "common practice", Sources: []string{"practice"}}
		v, us, err := parseNeedle(args[0])
		if err != nil {
			return nil, err
		}
		if us {
			v = cut.NeedleMetric(v)
		}
		r.add(exactly("metric size", v, "", "the blade in hundredths of a millimetre"))
		r.add(exactly("US size", cut.NeedleUS(v), "", "beside it on the packet"))
		r.add(exactly("blade", v/100, "mm", "above the scarf"))
		return r, nil
	},
}

// parseNeedle reads a needle's size: "90", "NM 90", "US 14", "90/14". Sizes under
// 25 are those of the United States.
func parseNeedle(text string) (v float64, us bool, err error) {
	t := strings.ToLower(strings.TrimSpace(text))
	t, _, _ = strings.Cut(t, "/")
	metric := strings.HasPrefix(t, "nm")
	us = strings.HasPrefix(t, "us")
	v, e := strconv.ParseFloat(strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(t, "nm"), "us"), "size")), 64)
	us = us || !metric && v < 25
	if e != nil || us && !(v >= 7 && v <= 20) || !us && !(v >= 55 && v <= 130) {
		return 0, false, badArgument(text, "is no needle size", "60 to 120, or US 8 to 19", `"NM 90" or "US 14"`)
	}
	return v, us, nil
}

var ticketKind = reckonKind{
	name: "ticket", use: "ticket NUMBER | ticket COUNT", short: "ticket numbers of sewing thread and tex",
	long: `The ticket number on a reel of sewing thread is three times the count of the whole
thread: metric for synthetic and core-spun thread, cotton for cotton. From the number
to tex, or from a thread's count to its ticket.`,
	example: "  tenter reckon ticket 120\n  tenter reckon ticket \"Nm 80/2\"\n  tenter reckon ticket 50 --cotton",
	args:    cobra.ExactArgs(1),
	flags:   func(f *pflag.FlagSet) { f.Bool("cotton", false, "the number is a cotton ticket") },
	run: func(q *given, args []string) (*reckoned, error) {
		r := &reckoned{Method: "metric ticket 3000 / tex, cotton ticket 1771.6 / tex", Valid: "sewing thread", Accuracy: "the number on a reel is rounded", Source: "two teaching articles on thread numbering (read)", Sources: []string{"practice"}}
		kind := yarn.MetricTicket
		if cotton, _ := q.flags.GetBool("cotton"); cotton {
			kind = yarn.CottonTicket
		}
		var d yarn.LinearDensity
		if n, err := strconv.ParseFloat(strings.TrimSpace(args[0]), 64); err == nil {
			if d, err = yarn.LinearDensityFromTicket(n, kind); err != nil {
				return nil, err
			}
		} else {
			c, err := yarn.ParseCount(args[0])
			if err != nil {
				return nil, err
			}
			if d, err = yarn.LinearDensityFromCount(c); err != nil {
				return nil, err
			}
		}
		r.add(exactly("thread", float64(d), "tex", "of the whole thread"))
		for _, k := range []yarn.Ticket{yarn.MetricTicket, yarn.CottonTicket} {
			n, err := yarn.TicketFromLinearDensity(d, k)
			if err != nil {
				return nil, err
			}
			r.add(exactly(string(k)+" ticket", n, "", "three times the count"))
		}
		return r, nil
	},
}

var wrapsKind = reckonKind{
	name: "wraps", use: "wraps COUNT", short: "wraps per inch of a yarn",
	long:    `How many threads of a yarn lie side by side in an inch, packed close.`,
	example: "  tenter reckon wraps \"Ne 8/2\"\n  tenter reckon wraps \"Nm 2/28\" --soft",
	args:    cobra.ExactArgs(1),
	flags:   func(f *pflag.FlagSet) { f.Bool("soft", false, "a soft yarn, such as woollen") },
	run: func(q *given, args []string) (*reckoned, error) {
		c, err := yarn.ParseCount(args[0])
		if err != nil {
			return nil, err
		}
		d, err := yarn.LinearDensityFromCount(c)
		if err != nil {
			return nil, err
		}
		k := 0.9
		if soft, _ := q.flags.GetBool("soft"); soft {
			k = 0.84
		}
		n, err := yarn.DiametersPerInch(d, k)
		if err != nil {
			return nil, err
		}
		r := &reckoned{Method: "0.9 √(yards in a pound); 0.84 for soft yarns", Valid: "spun yarns", Accuracy: "yarn wrapped loosely on a ruler counts a third less or more", Source: "Ashenhurst's rule, as told by weavers' pages and textbooks (read)", Sources: []string{"practice"}}
		r.add(exactly("wraps per inch", n, "", "threads side by side, packed close"))
		r.add(exactly("thickness", 25.4/n, "mm", "one over the count"))
		r.note("Wound on a ruler without packing, expect about %s.", strconv.Itoa(int(math.Round(n*0.7))))
		return r, nil
	},
}

// badArgument is the fault of a word that cannot be read.
func badArgument(text, what, expected, example string) error {
	return &fault.Fault{Kind: fault.WrongCall, Where: text, What: fmt.Sprintf("%q %s", text, what), Expected: expected, Mend: "write it as " + example}
}
