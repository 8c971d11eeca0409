package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

var threadKind = reckonKind{
	name: "thread", use: "thread --seam LENGTH …", short: "thread and bobbins that seams take",
	long: `The thread that seams take, by the stitch, how thick the seam is and how long a
stitch is; or from a stretch that was sewn and unpicked. --seam gives a seam's length,
with its name if you like; several are sewn in their order, and it says before
which to wind a full bobbin.`,
	example: `  tenter reckon thread --seam 410cm
  tenter reckon thread --seam "hood 60cm" --seam "closing 380cm" --thickness 1.2mm --stitch-length 2.5mm --yarn "30 tex"
  tenter reckon thread --seam 410cm --unpicked 10cm --needle 13cm --under 12cm`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.StringArray("seam", nil, `length of a seam, with its name: "hood seam 60cm"; may be repeated`)
		f.String("stitch", "301", "stitch type: 101, 301, 304, 401, 503, 504, 516")
		f.String("stitch-length", "", "length of one stitch, 2.5mm or 10 spi; with --thickness it is worked out from the stitch's path")
		f.String("thickness", "", "of everything sewn through")
		f.String("yarn", "30 tex", "the thread's count")
		f.String("bobbin", "", "what a full bobbin holds, 40m or 1.4g; 1.4 g unless given")
		f.String("waste", "15%", "for ends and tests")
		f.String("unpicked", "", "length of a seam that was sewn and unpicked")
		f.String("needle", "", "needle thread that it gave")
		f.String("under", "", "bobbin or looper thread that it gave")
	},
	run: runThread,
}

// seams reads the seams with their names.
func (q *given) seams() []cut.Join {
	var out []cut.Join
	for i, t := range q.list("seam") {
		name, text := fmt.Sprintf("seam %d", i+1), strings.TrimSpace(t)
		if len(q.list("seam")) == 1 {
			name = "seam"
		}
		if at := strings.IndexAny(text, "0123456789"); at > 0 {
			name, text = strings.TrimSpace(text[:at]), text[at:]
		}
		l, err := units.ParseLengthIn(text, units.Centimetre)
		if err == nil && !(l > 0) {
			err = &fault.Fault{Kind: fault.OutsideRange, What: "a seam of " + l.String(), Expected: "over 0"}
		}
		if err != nil {
			q.bad("seam", err)
			continue
		}
		out = append(out, cut.Join{Name: name, Kind: cut.Seam, Length: float64(l)})
	}
	if len(out) == 0 && len(q.found) == 0 {
		q.refuse("seam", "no seam is given", "the length of a seam", "--seam 410cm")
	}
	return out
}

func runThread(q *given, _ []string) (*reckoned, error) {
	joins := q.seams()
	how := cut.Sewing{Stitch: cut.Stitch(q.text("stitch")), Length: q.stitch("stitch-length"), Thickness: q.length("thickness"), Bobbin: q.bobbin(), Waste: 0.15, Tex: q.tex("yarn")}
	if w, err := units.ParsePercent(q.text("waste")); err != nil {
		q.bad("waste", err)
	} else if how.Waste = w; w == 0 {
		how.Waste = 1e-12 // none was asked for: zero would stand for the usual
	}
	if q.has("unpicked") {
		return q.unpicked(joins, how)
	}
	if q.has("thickness") && !q.has("stitch-length") {
		q.refuse("stitch-length", "the thickness says nothing without the length of a stitch", "length of one stitch", "--stitch-length 2.5mm")
	}
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	plan, err := cut.PlanThread(joins, how)
	if err != nil {
		return nil, err
	}
	r := &reckoned{Method: "a table of averages by stitch", Valid: "stitches 101, 301, 304, 401, 503, 504, 516", Accuracy: "averages over cloths; tension, a thick seam or a short stitch move it by a fifth",
		Source: "a ratio table reprinted in garment textbooks (from memory)", Sources: plan.Total.Sources}
	if how.Length > 0 && plan.Total.Basis == fibres.Derived {
		r.Method, r.Source = "301: 2 + 2 T S times the seam (101: 3, 401: 4), T thickness, S stitches per length", "two teaching articles on thread consumption (read)"
	}
	total := plan.Total
	total.Basis = fibres.Derived
	r.add(figure{Name: "thread in all", Estimate: total})
	f := total.High / total.Typical
	g := total.Low / total.Typical
	r.add(derived("off the needle's reel", plan.Needle*g, plan.Needle, plan.Needle*f, "m", "the needle's part of a stitch"))
	r.add(derived("off the bobbin", plan.Under*g, plan.Under, plan.Under*f, "m", "the bobbin's part of a stitch"))
	r.add(derived("full bobbins", float64(plan.Bobbins), float64(plan.Bobbins), float64(plan.Bobbins), "", plan.Holds.Because))
	r.note("%s", plan.In(q.a.system))
	return r, nil
}

// tex reads the count of a thread.
func (q *given) tex(flag string) float64 {
	c, err := yarn.ParseCount(q.text(flag))
	if err != nil {
		q.bad(flag, err)
		return 0
	}
	d, err := yarn.LinearDensityFromCount(c)
	if err != nil {
		q.bad(flag, err)
	}
	return float64(d)
}

// bobbin reads what a full bobbin holds: a length, "40m", or a mass of thread,
// "1.4g".
func (q *given) bobbin() cut.Bobbin {
	if !q.has("bobbin") {
		return cut.Bobbin{}
	}
	if l, err := units.ParseLength(q.text("bobbin")); err == nil {
		if l < 1*units.Metre || l > 500*units.Metre {
			q.refuse("bobbin", fmt.Sprintf("no bobbin holds %s", q.text("bobbin")), "1 to 500 m, or grams of thread", "")
		}
		return cut.Bobbin{Length: l}
	}
	return cut.Bobbin{Grams: q.grams("bobbin")}
}

// unpicked works the thread out from a stretch that was sewn and unpicked.
func (q *given) unpicked(joins []cut.Join, how cut.Sewing) (*reckoned, error) {
	q.need("needle", "the needle thread that it gave", "13cm")
	q.need("under", "the bobbin thread that it gave", "12cm")
	un, n, u := q.length("unpicked"), q.length("needle"), q.length("under")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	var seam units.Length
	for _, j := range joins {
		seam += units.Length(j.Length)
	}
	all, err := cut.ThreadFromUnpicking(seam, un, n, u, how.Waste)
	if err != nil {
		return nil, err
	}
	holds, err := how.Holds()
	if err != nil {
		return nil, err
	}
	r := &reckoned{Method: "seam · (needle + under) / unpicked · (1 + waste)", Valid: "at least 10 cm unpicked of the real cloth", Accuracy: "as the unpicking",
		Source: "two worked examples on measuring thread consumption (read)", Sources: []string{"thread-measuring-article"}}
	m, part := float64(all/units.Metre), float64(n/(n+u))
	row := func(name string, v float64, unit, because string) { r.add(derived(name, v, v, v, unit, because)) }
	row("thread in all", m, "m", "from what was unpicked")
	row("off the needle's reel", m*part, "m", "its part of what was unpicked")
	row("off the bobbin", m*(1-part), "m", "its part of what was unpicked")
	row("full bobbins", math.Ceil(m*(1-part)/holds.Low-1e-9), "", holds.Because)
	return r, nil
}

var biasKind = reckonKind{
	name: "bias", use: "bias --square L --width L | --length L --width L | --shows L", short: "bias strip from a square, and the width to cut a binding",
	long: `How much bias strip a square of cloth gives, cut apart and joined or as one continuous
strip; the smallest square for a length of strip; or, from the width that a binding
shows, the width to cut it and the tightest curve it goes round flat.`,
	example: `  tenter reckon bias --square 50cm --width 4cm --continuous
  tenter reckon bias --length 410cm --width 4cm
  tenter reckon bias --shows 8mm --thickness 1mm --double --stretch 10%`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("square", "", "side of the square of cloth")
		f.String("length", "", "length of strip that is wanted")
		f.String("width", "", "width of the strip, across it")
		f.String("join", "6mm", "allowance of the joins")
		f.Bool("continuous", false, "one continuous strip, cut from a tube")
		f.String("shows", "", "width of the binding that shows on each side")
		f.String("thickness", "", "of the edge that is bound")
		f.Bool("double", false, "a double binding")
		f.String("stretch", "", "how far a strip of the cloth stretches on the bias: 10%")
	},
	run: runBias,
}

func runBias(q *given, _ []string) (*reckoned, error) {
	continuous, _ := q.flags.GetBool("continuous")
	join, err := units.ParseLengthIn(q.text("join"), units.Centimetre)
	if err != nil {
		q.bad("join", err)
	}
	if q.has("shows") {
		return q.binding()
	}
	q.need("width", "the width of the strip", "4cm")
	width := q.length("width")
	if !q.has("square") && !q.has("length") {
		q.refuse("square", "neither the square nor the length of strip is given", "the side of the square, or --length of the strip wanted", "--square 50cm")
	}
	side, length := q.length("square"), q.length("length")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	r := &reckoned{Method: "whole strips beside the diagonal, joined along the grain", Valid: "squares to 10 m, joins to 5 cm", Accuracy: "exact for straight cutting; near side²/width without joins",
		Source: "geometry of the square", Sources: []string{"tenter"}}
	if continuous {
		r.Method = "rows ⌊(a − 2s)/(√2 w)⌋ of √2 (a − 2s), the tube joined one row out of step"
	}
	if q.has("length") {
		if side, err = cut.SquareForBias(length, width, join, continuous); err != nil {
			return nil, err
		}
		r.add(derived("square", float64(side), float64(side), float64(side), "cm", "the smallest, to half a centimetre"))
	}
	b, err := cut.BiasFromSquare(side, width, join, continuous)
	if err != nil {
		return nil, err
	}
	r.add(derived("strip", float64(b.Length), float64(b.Length), float64(b.Length), "cm", "joined, ready to sew"))
	r.add(exactly("strips", float64(b.Strips), "", "cut apart, or rows of the tube"))
	r.add(exactly("joins in it", float64(b.Joins), "", "seams in the finished strip"))
	if plain, err := cut.BiasWithoutLoss(side, width); err == nil {
		r.one("without the loss at joins", float64(plain), "cm", "side times side over the width, as handbooks tell it")
	}
	if long, err := cut.LongestBias(side, width); err == nil {
		r.one("longest single strip", float64(long), "cm", "the one on the diagonal")
	}
	return r, nil
}

// binding is the width to cut a binding and the curve it goes round.
func (q *given) binding() (*reckoned, error) {
	double, _ := q.flags.GetBool("double")
	kind := cut.SingleBinding
	if double {
		kind = cut.DoubleBinding
	}
	shows, thick, stretch := q.length("shows"), q.length("thickness"), q.fraction("stretch")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	w, err := cut.BindingWidth(shows, thick, kind)
	if err != nil {
		return nil, err
	}
	r := &reckoned{Method: "single 4 b + T, double 6 b + T", Valid: "2 mm to 10 cm that show", Accuracy: "folded flat; cut 2 to 3 mm more for a strip that is pulled round a curve",
		Source: "the folds counted; the curve from two arcs", Sources: []string{"tenter"}}
	r.add(derived("width to cut", float64(w), float64(w), float64(w), "cm", "the folds counted"))
	if q.has("stretch") {
		for _, inward := range []bool{false, true} {
			c, err := cut.CurveForBinding(shows, stretch, inward)
			if err != nil {
				return nil, err
			}
			word := map[bool]string{false: "tightest outward curve, radius", true: "tightest inward curve, radius"}[inward]
			r.add(derived(word, float64(c), float64(c), float64(c), "cm", "where stretching takes the difference of two arcs"))
		}
	}
	return r, nil
}

var circleKind = reckonKind{
	name: "circle", use: "circle --girth L | --radius L  --length L | --cloth-width L", short: "part circles: radius, hem, cloth, the longest that fits",
	long: `A part circle that goes round a neck or waist: the radius of its inner edge, the
length of its hem, and the narrowest cloth one part of it lies on. --angle is that of
the whole piece: 360 a full circle, 180 a half; --parts cuts it in so many. With
--cloth-width in place of --length: the longest one that goes on that cloth.`,
	example: `  tenter reckon circle --girth 70cm --length 60cm --angle 360 --parts 2
  tenter reckon circle --girth 42cm --length 75cm --angle 180
  tenter reckon circle --girth 28in --cloth-width 44in --angle 360 --parts 4`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("girth", "", "length of the inner edge, along the seam line")
		f.String("radius", "", "radius of the inner edge, in place of its length")
		f.String("length", "", "from the inner edge to the hem")
		f.String("cloth-width", "", "between the selvedges: how long a one goes on it?")
		f.String("allowance", "12mm", "seam and hem allowance, on both sides of a part, with --cloth-width")
		f.String("angle", "360", "angle of the whole piece, in degrees, to 720")
		f.String("parts", "1", "parts it is cut in")
	},
	run: runCircle,
}

func runCircle(q *given, _ []string) (*reckoned, error) {
	if q.has("girth") == q.has("radius") {
		q.refuse("girth", "the inner edge is given twice or not at all", "its length, or --radius", "--girth 70cm")
	}
	if q.has("length") == q.has("cloth-width") {
		q.refuse("length", "the length is given twice or not at all", "from the inner edge to the hem, or --cloth-width", "--length 60cm")
	}
	a, parts := units.Angle(q.plain("angle", "°", "deg")), q.plain("parts")
	if parts != float64(int(parts)) || parts < 1 || parts > 64 {
		q.refuse("parts", "it is "+q.text("parts"), "a whole number from 1 to 64", "")
	}
	girth, radius, length, width := q.length("girth"), q.length("radius"), q.length("length"), q.length("cloth-width")
	allowance := q.usual("allowance")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	var err error
	if q.has("girth") {
		radius, err = cut.NeckRadius(girth, a)
	}
	if err == nil && q.has("cloth-width") {
		length, err = cut.LongestCircle(width-2*allowance, radius, a/units.Angle(parts))
	}
	if err != nil {
		return nil, err
	}
	hem, err := cut.HemFromCircle(radius, length, a)
	if err != nil {
		return nil, err
	}
	r := &reckoned{Method: "r = girth / φ; hem = φ (r + length)", Valid: "an angle over 0° and at most 720°", Accuracy: "exact on paper; bias parts of edge and hem stretch and drop",
		Source: "the length of an arc", Sources: []string{"tenter"}}
	inner := derived("radius of the inner edge", float64(radius), float64(radius), float64(radius), "cm", "girth over the angle")
	inner.fine = true
	r.add(inner)
	if q.has("radius") {
		r.one("inner edge", float64(radius)*float64(a)*math.Pi/180, "cm", "the length of the arc")
	}
	if q.has("cloth-width") {
		r.one("longest", float64(length), "cm", "from the inner edge to the hem, allowances left out")
	}
	r.one("radius of the hem", float64(radius+length), "cm", "with the length")
	r.one("hem", float64(hem), "cm", "the length of the arc")
	if w, err := cut.ClothForCircle(radius, length, a/units.Angle(parts)); err == nil {
		r.one("narrowest cloth for one part", float64(w), "cm", "seam line to seam line; allowances come on top")
	} else {
		r.note("One part of %s° does not lie flat in one: cut it in two or more (--parts).", sixDigits(float64(a)/parts))
	}
	r.note("A waist cut to the measure grows where its edge runs on the bias: cut it some per cent smaller, or stay it.")
	return r, nil
}

// plain reads a number, with a sign of its unit behind it if there is one.
func (q *given) plain(flag string, signs ...string) float64 {
	t := strings.TrimSpace(q.text(flag))
	for _, s := range signs {
		t = strings.TrimSpace(strings.TrimSuffix(t, s))
	}
	v, err := units.Parse(t)
	if err != nil || v.Kind != units.Number {
		q.refuse(flag, fmt.Sprintf("%q is not a number", q.text(flag)), "a plain number", "")
		return 0
	}
	return v.Value
}

var buyKind = reckonKind{
	name: "buy", use: "buy --part \"NAME W x H xN\" … --width L", short: "the length to buy for parts of your own",
	long: `How long a piece of cloth to buy for parts of your own, by laying them out in its
width with allowances and what the first wash takes. "tenter cut" does it for a piece
and a named cloth, with the layout.`,
	example: `  tenter reckon buy --part "wrap 150cm x 75cm x1" --part "tie 80 x 8 cm x2" --width 140cm
  tenter reckon buy --part "panel 120cm x 200cm x2" --width 150cm --shrink 5%,2% --one-way`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.StringArray("part", nil, `a part, finished: "wrap 150cm x 75cm x1"; may be repeated`)
		f.String("width", "", "how wide the cloth is")
		f.String("shrink", "0%,0%", "what it loses in its first wash, warp,weft")
		f.String("allowance", "12mm", "seam allowance on every edge")
		f.Bool("one-way", false, "nap or figure: no part is turned end for end")
	},
	run: runBuy,
}

func runBuy(q *given, _ []string) (*reckoned, error) {
	job, err := q.toBuy()
	if err != nil {
		return nil, err
	}
	ans, err := cut.Plan(job)
	if err != nil {
		return nil, err
	}
	buy := ans.Layers[0].Buy
	r := &reckoned{Method: "cut = (finished + 2 allowances) / (1 − s), then laid out in the width", Valid: "parts from 2 mm to 50 m", Accuracy: "the shortest layout that was found; another may be a little shorter",
		Source: "arithmetic and a search for layouts, here", Sources: []string{"tenter"}}
	e := buy.Length
	e.Basis, e.Sources = fibres.Derived, nil
	r.add(figure{Name: "length to buy", Estimate: e})
	r.add(derived("never less than", buy.Bound, buy.Bound, buy.Bound, "cm", "what the parts take of each line across the cloth, or the longest of them"))
	r.add(derived("waste", 100*buy.Waste, 100*buy.Waste, 100*buy.Waste, "%", "of the likely length, in no part"))
	for _, n := range ans.Notes {
		r.note("%s", n)
	}
	return r, nil
}

// toBuy is what the flags say is to be cut, from which width.
func (q *given) toBuy() (cut.Job, error) {
	var job cut.Job
	for _, t := range q.list("part") {
		p, err := cut.ParsePart(t)
		if err != nil {
			q.bad("part", err)
			continue
		}
		job.Parts = append(job.Parts, p)
	}
	if len(job.Parts) == 0 && len(q.found) == 0 {
		q.refuse("part", "no part is given", "a part at its finished size", `--part "wrap 150cm x 75cm x1"`)
	}
	q.need("width", "how wide the cloth is", "140cm")
	width := q.lengthRange("width")
	var err error
	if job.Allowance, err = units.ParseLengthIn(q.text("allowance"), units.Centimetre); err != nil {
		q.bad("allowance", err)
	}
	adv, err := q.a.adv()
	if err != nil {
		return job, err
	}
	l := cut.NewLayer(adv.Cat, "shell", fibres.Subject{Name: "your cloth"}, fibres.ShellSalt)
	if err := l.ParseShrink(q.text("shrink")); err != nil {
		q.bad("shrink", err)
	}
	if len(q.found) > 0 {
		return job, q.found.OrNil()
	}
	l.SetWidth(width)
	l.OneWay, _ = q.flags.GetBool("one-way")
	job.Layers = []cut.Layer{l}
	return job, nil
}
