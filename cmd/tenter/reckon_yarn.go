package main

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

// sett reads threads per length: "52.4/cm", "130 per inch", "24 epi".
func (q *given) sett(flag string) yarn.Sett {
	if !q.has(flag) {
		return 0
	}
	t := strings.ToLower(strings.TrimSpace(q.text(flag)))
	for _, u := range []struct {
		word string
		per  yarn.Sett
	}{{"/cm", 1}, {"per cm", 1}, {"/inch", yarn.ThreadsPerInch}, {"per inch", yarn.ThreadsPerInch}, {"/in", yarn.ThreadsPerInch}, {"per in", yarn.ThreadsPerInch},
		{`/"`, yarn.ThreadsPerInch}, {"epi", yarn.ThreadsPerInch}, {"ppi", yarn.ThreadsPerInch}, {"tpi", yarn.ThreadsPerInch}} {
		n, ok := strings.CutSuffix(t, u.word)
		if !ok {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(n), ",", ".", 1), 64)
		if err != nil {
			break
		}
		return yarn.Sett(v) * u.per
	}
	q.refuse(flag, fmt.Sprintf("%q is not a sett", q.text(flag)), "threads per cm or per inch, such as 52.4/cm or 130/in", "name the unit: per cm and per inch are easily taken for each other")
	return 0
}

// threads reads one system of threads: sett, yarn and crimp.
func (q *given) threads(sett, count, crimp string) yarn.Threads {
	var t yarn.Threads
	q.need(sett, "threads per cm or inch", "28/cm")
	q.need(count, "the yarn's count", `"Ne 40"`)
	t.Sett = q.sett(sett)
	if q.has(count) {
		c, err := yarn.ParseCount(q.text(count))
		if err == nil {
			t.Yarn, err = yarn.LinearDensityFromCount(c)
		}
		if err != nil {
			q.bad(count, err)
		}
	}
	if crimp != "" {
		t.Crimp = q.fraction(crimp)
	}
	return t
}

func threadFlags(f *pflag.FlagSet, crimp bool) {
	f.String("ends", "", "warp threads: 52.4/cm or 133/in")
	f.String("picks", "", "weft threads")
	f.String("warp", "", `warp yarn: "Ne 40", "14.8 tex"`)
	f.String("weft", "", "weft yarn")
	if crimp {
		f.String("warp-crimp", "", "how much longer the warp yarn is than the cloth: 8%")
		f.String("weft-crimp", "", "the same of the weft yarn")
	}
}

var massKind = reckonKind{
	name: "mass", use: "mass --weight MASS --size WxH | --ends … | --running …", short: "mass per area from a swatch, from the threads, or per running metre",
	long: `What a cloth weighs per area: from a swatch that was weighed (--weight and --size), from
its threads (--ends, --picks, their yarns and crimp), or from its mass per running
metre and its width.`,
	example: `  tenter reckon mass --weight 1.52g --size 10x10cm
  tenter reckon mass --ends 52.4/cm --picks 28.3/cm --warp "14.76 tex" --weft "14.76 tex" --warp-crimp 8% --weft-crimp 4%
  tenter reckon mass --running 250 --width 150cm`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("weight", "", "what the swatch weighs: 1.52g, 0.05oz")
		f.String("size", "", "its sides: 10x10cm")
		threadFlags(f, true)
		f.String("running", "", "grams per running metre")
		f.String("width", "", "width of the cloth, for --running")
	},
	run: runMass,
}

func runMass(q *given, _ []string) (*reckoned, error) {
	switch {
	case q.has("weight") || q.has("size"):
		q.need("weight", "what the swatch weighs", "1.52g")
		q.need("size", "its sides", "10x10cm")
		g := q.grams("weight")
		a, b := q.sides("size")
		if len(q.found) > 0 {
			return nil, q.found.OrNil()
		}
		w, err := yarn.ArealMassFromSample(g, float64(a*b))
		if err != nil {
			return nil, err
		}
		// half a mm on each side of the cut, and the last digit of the scale
		cut := 0.05/float64(a) + 0.05/float64(b)
		scale := 0.5 * lastDigit(q.text("weight")) / math.Max(g, 1e-9)
		part := math.Hypot(cut, scale)
		r := &reckoned{Method: "mass over area", Valid: "5 to 2000 g/m²", Accuracy: "0.5 mm on each side and half the scale's last digit; cut 5 cm clear of the selvedge",
			Source: "a garment laboratory's note on weighing cloth (read)", Sources: []string{"fabric-weight-procedure"}}
		f := derived("mass per area", float64(w)*(1-part), float64(w), float64(w)*(1+part), "g/m2", "weighed")
		f.Basis = fibres.Measured
		r.add(f)
		return r, nil
	case q.has("running"):
		q.need("width", "the width of the cloth", "150cm")
		m, w := q.number("running"), q.length("width")
		if len(q.found) > 0 {
			return nil, q.found.OrNil()
		}
		v, err := yarn.ArealMassFromRunningMass(m, w)
		if err != nil {
			return nil, err
		}
		r := &reckoned{Method: "mass per running metre over width", Valid: "width 5 cm to 10 m", Accuracy: "exact; the width between the selvedges may be 1 to 3 cm less than sold",
			Source: "arithmetic", Sources: []string{"tenter"}}
		r.add(exactly("mass per area", float64(v), "g/m2", "running mass over width"))
		return r, nil
	}
	warp, weft := q.threads("ends", "warp", "warp-crimp"), q.threads("picks", "weft", "weft-crimp")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	w, err := yarn.ArealMassFromSett(warp, weft)
	if err != nil {
		return nil, err
	}
	r := &reckoned{Method: "W = [n₁ T₁ (1 + k₁) + n₂ T₂ (1 + k₂)] / 10, n per cm, T tex, k crimp", Valid: "sett to 300 per cm, yarn 0.01 to 100,000 tex, crimp 0 to 100 %",
		Accuracy: "exact for the yarn as it lies in the cloth; nominal count, size, finish and moisture move it by some per cent", Source: "geometry of cloth, as in textbooks (from memory)",
		Sources: []string{"tenter"}}
	r.add(exactly("mass per area", float64(w), "g/m2", "from sett, count and crimp"))
	r.note("Bleaching takes 3 to 6 %% out, size and filling put more in.")
	return r, nil
}

// lastDigit is what the last digit of a written figure stands for, in grams.
func lastDigit(text string) float64 {
	m := regexp.MustCompile(`[.,](\d+)`).FindStringSubmatch(text)
	v := 1.0
	if m != nil {
		v = math.Pow(10, -float64(len(m[1])))
	}
	if strings.Contains(strings.ToLower(text), "oz") {
		v *= 28.349523125
	}
	return v
}

var yarnSystems = []yarn.CountSystem{yarn.Tex, yarn.Dtex, yarn.Denier, yarn.Metric, yarn.Cotton, yarn.Worsted, yarn.Lea, yarn.Run, yarn.Cut}

var yarnKind = reckonKind{
	name: "yarn", use: "yarn COUNT", short: "yarn counts in every system",
	long: `A yarn's count in tex, dtex, denier, metric, English cotton, worsted, linen lea and
woollen run and cut. The number after a stroke is the ply: Ne 60/2 is as coarse as
one of Ne 30.`,
	example: `  tenter reckon yarn "Ne 60/2"
  tenter reckon yarn "150 den" --to dtex`,
	args: cobra.ExactArgs(1),
	flags: func(f *pflag.FlagSet) {
		f.String("to", "", "only this system: tex, dtex, den, Nm, Ne, NeW, lea, run, cut")
	},
	run: func(q *given, args []string) (*reckoned, error) {
		c, err := yarn.ParseCount(args[0])
		if err != nil {
			return nil, err
		}
		want := yarnSystems
		if q.has("to") {
			s, err := yarn.ParseCountSystem(q.text("to"))
			if err != nil {
				q.bad("to", err)
				return nil, q.found.OrNil()
			}
			want = []yarn.CountSystem{s}
		}
		r := &reckoned{Method: "by way of tex: direct systems multiply, the others divide", Valid: "0.01 to 100,000 tex, ply to 64",
			Accuracy: "exact; a plied yarn's take-up of 2 to 5 % is left out, as the trade does", Source: "definitions as in GNU Units 2.22", Sources: []string{"gnu-units"}}
		for _, s := range want {
			x, err := yarn.ConvertCount(c, s)
			if err != nil {
				return nil, err
			}
			how := "more is coarser"
			if s.Finer() {
				how = "more is finer"
			}
			r.add(exactly(s.Name(), x.Single, s.String(), how))
		}
		return r, nil
	},
}

var coverKind = reckonKind{
	name: "cover", use: "cover --ends SETT --picks SETT --warp COUNT --weft COUNT", short: "cover factor and show-through from the threads",
	long: `How closely the threads cover the cloth, on the scale where 28 is side by side, what
part is open, and how much shows through an undyed cloth of middling yarns.`,
	example: `  tenter reckon cover --ends 52.4/cm --picks 28.3/cm --warp "14.76 tex" --weft "14.76 tex"
  tenter reckon cover --ends 60/in --picks 56/in --warp "Ne 80" --weft "Ne 80"`,
	args:  cobra.NoArgs,
	flags: func(f *pflag.FlagSet) { threadFlags(f, false) },
	run: func(q *given, _ []string) (*reckoned, error) {
		warp, weft := q.threads("ends", "warp", ""), q.threads("picks", "weft", "")
		if len(q.found) > 0 {
			return nil, q.found.OrNil()
		}
		k1, err := yarn.CoverFactor(warp)
		if err != nil {
			return nil, err
		}
		k2, err := yarn.CoverFactor(weft)
		if err != nil {
			return nil, err
		}
		k, err := yarn.ClothCover(k1, k2)
		if err != nil {
			return nil, err
		}
		open, err := yarn.OpenShareFromCover(k)
		if err != nil {
			return nil, err
		}
		lo, ty, hi, err := yarn.ShowThroughFromOpenShare(open)
		if err != nil {
			return nil, err
		}
		r := &reckoned{Method: "K = n / √Ne, n per inch; cloth K₁ + K₂ − K₁K₂/28; open 1 − K/28", Valid: "spun yarns about as dense as cotton; K to 28",
			Accuracy: "exact by definition; as a picture of the cloth some 10 %; show-through within one step", Source: "Peirce 1937, J. Textile Inst. 28, T45 (from memory); the steps of show-through are practice",
			Sources: []string{"practice"}}
		r.add(exactly("cover of the warp", k1, "", "28 is side by side"))
		r.add(exactly("cover of the weft", k2, "", "28 is side by side"))
		r.add(exactly("cover of the cloth", k, "", "28 is side by side"))
		r.add(exactly("open", 100*float64(open), "%", "part of the area that no thread covers"))
		r.add(figure{Name: "show-through", Estimate: fibres.Figure(fibres.ShowThrough, float64(lo), float64(ty), float64(hi), fibres.Derived, "from the open share", "practice")})
		r.note("Colour, lustre and what lies beneath decide more than the gaps: hold the cloth over print to know.")
		return r, nil
	},
}

// shareOf is one fibre of a blend with its share.
type shareOf struct {
	fibre *fibres.Fibre
	share units.Fraction
}

var shareText = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(\d+(?:[.,]\d+)?)\s*%?`) })

// parseBlend reads "65% polyester 35% cotton", "cotton 60, linen 40" or
// "65/35 polyester/cotton".
func (q *given) parseBlend(text string) []shareOf {
	adv, err := q.a.adv()
	if err != nil {
		q.bad("given", err)
		return nil
	}
	bad := func(what string) []shareOf {
		q.found = append(q.found, &fault.Fault{Kind: fault.WrongCall, Where: text, What: what, Expected: "shares and fibres, such as \"65% polyester 35% cotton\"", Mend: "`tenter list fibres` shows the fibres"})
		return nil
	}
	t := strings.ToLower(strings.TrimSpace(text))
	var numbers []float64
	for _, m := range shareText().FindAllStringSubmatch(t, -1) {
		v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		if err != nil {
			return bad("a share cannot be read")
		}
		numbers = append(numbers, v)
	}
	var names []string
	for _, part := range strings.FieldsFunc(shareText().ReplaceAllString(t, ";"), func(r rune) bool { return strings.ContainsRune(";,/+&:", r) }) {
		part = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(part), "and "))
		if part != "" && part != "and" {
			names = append(names, strings.TrimSuffix(part, " and"))
		}
	}
	switch {
	case len(names) == 0:
		return bad("no fibre is named")
	case len(numbers) == 0 && len(names) == 1:
		numbers = []float64{100}
	case len(numbers) != len(names):
		return bad(fmt.Sprintf("there are %d shares for %d fibres", len(numbers), len(names)))
	}
	var out []shareOf
	for i, n := range names {
		id, err := adv.Cat.FibreNames.Find(n)
		if err != nil {
			q.bad(text, err)
			continue
		}
		out = append(out, shareOf{adv.Cat.Fibres[id], units.Fraction(numbers[i] / 100)})
	}
	if len(out) != len(names) {
		return nil
	}
	return out
}

// allowance is the agreed moisture of a fibre in a table; wool of which it is
// not known whether it was combed is taken as carded, as the law does.
func allowance(cat *fibres.Catalogue, f *fibres.Fibre, table string) (fibres.Scalar, bool) {
	var carded fibres.Scalar
	found := false
	for _, s := range cat.Scalars("moisture", f.ID) {
		switch s.Key {
		case table:
			return s, true
		case table + "-carded":
			carded, found = s, true
		}
	}
	return carded, found
}

var blendKind = reckonKind{
	name: "blend", use: "blend \"SHARE FIBRE SHARE FIBRE …\"", short: "a blend: dry and with agreed moisture, density, volume, label",
	long: `A blend's shares of the dry mass and with each fibre's agreed moisture, as a label
states them; its density and its shares by volume. --tested compares a test with the
label. Allowances of one table only: the EU's and the US's differ.`,
	example: `  tenter reckon blend "65% polyester 35% cotton"
  tenter reckon blend "60% wool 40% viscose" --shares dry
  tenter reckon blend "60% cotton 40% linen" --tested "57.4% cotton 42.6% linen"`,
	args: cobra.ExactArgs(1),
	flags: func(f *pflag.FlagSet) {
		f.String("shares", "label", "what the shares are: label (with agreed moisture) or dry")
		f.String("table", "eu", "table of allowances: eu or us")
		f.String("tested", "", "what a test found, as the blend is written: within the label's tolerance?")
	},
	run: runBlend,
}

func runBlend(q *given, args []string) (*reckoned, error) {
	parts := q.parseBlend(args[0])
	table := q.text("table")
	if table != "eu" && table != "us" {
		q.refuse("table", fmt.Sprintf("%q is no table of allowances", table), "eu or us", "")
	}
	shares := q.text("shares")
	if shares != "label" && shares != "dry" {
		q.refuse("shares", fmt.Sprintf("%q says not what the shares are", shares), "label or dry", "")
	}
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	adv, err := q.a.adv()
	if err != nil {
		return nil, err
	}
	if q.has("tested") {
		return q.labelTolerance(parts)
	}
	b := blend{&reckoned{
		Method:   "with moisture: P (1 + a) / Σ P (1 + a); density: 1 / Σ (w / d)",
		Valid:    "shares that add to 100 % within 2 points and are taken in proportion",
		Accuracy: "exact; the law's own examples round at each step",
		Source:   "Regulation (EU) No 1007/2011, Annex VIII and IX (read); densities as in the data",
		Sources:  []string{},
	}, adv.Cat, parts}
	if err := b.moisture(table, shares); err != nil {
		return nil, err
	}
	b.named()
	return b.reckoned, b.volume()
}

// blend is an answer about the fibres of a blend.
type blend struct {
	*reckoned
	cat   *fibres.Catalogue
	parts []shareOf
}

func (b blend) cite(s string) {
	if !contains(b.Sources, s) {
		b.Sources = append(b.Sources, s)
	}
}

// moisture tells the shares dry, or with the moisture that is agreed, whichever was not
// given.
func (b blend) moisture(table, shares string) error {
	var moist []yarn.Part
	for _, p := range b.parts {
		s, ok := allowance(b.cat, p.fibre, table)
		if !ok {
			b.note("No %s allowance is recorded for %s: dry and moist shares are not told.", strings.ToUpper(table), p.fibre.Name)
			return nil
		}
		b.cite(s.Source)
		moist = append(moist, yarn.Part{Share: p.share, Allowance: units.Fraction(s.Value / 100)})
	}
	other, turn := "with agreed moisture", yarn.AllowanceSharesFromDry
	if shares == "label" {
		other, turn = "of the dry mass", yarn.DrySharesFromAllowance
	}
	out, err := turn(moist)
	for i, v := range out {
		b.add(exactly(b.parts[i].fibre.Name+", "+other, 100*float64(v), "%", fmt.Sprintf("allowance %s %%", fibres.Round(100*float64(moist[i].Allowance)))))
	}
	return err
}

// named tells which fibres a label may leave out.
func (b blend) named() {
	for _, p := range b.parts {
		if p.share < yarn.NamedFromUS {
			b.cite("16-cfr-303-6")
			b.note("%s is under 5 %%: a US label has to name a fibre from 5 %% of the mass (16 CFR 303.6, read); for cloth that you sell ask the rules of your country.", p.fibre.Name)
		}
	}
}

// volume tells the density and the shares by volume.
func (b blend) volume() error {
	var dense []yarn.Dense
	for _, p := range b.parts {
		d, ok := b.cat.FibreFigure(p.fibre.ID, "density")
		if !ok {
			b.note("The density of %s is not recorded: density and volume are not told.", p.fibre.Name)
			return nil
		}
		b.cite(d.Sources[0])
		dense = append(dense, yarn.Dense{Share: p.share, Density: d.Typical})
	}
	d, err := yarn.BlendDensity(dense)
	if err != nil {
		return err
	}
	b.add(exactly("density of the fibre", d, "g/cm3", "volumes add, densities do not"))
	v, err := yarn.VolumeShares(dense)
	for i, x := range v {
		b.add(exactly(b.parts[i].fibre.Name+", by volume", 100*float64(x), "%", "mass over density"))
	}
	return err
}

// labelTolerance compares a test with a label.
func (q *given) labelTolerance(label []shareOf) (*reckoned, error) {
	tested := q.parseBlend(q.text("tested"))
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	found := map[string]units.Fraction{}
	for _, t := range tested {
		found[t.fibre.ID] += t.share
	}
	var a, b []units.Fraction
	for _, l := range label {
		a = append(a, l.share)
		b = append(b, found[l.fibre.ID])
		delete(found, l.fibre.ID)
	}
	for id := range found {
		q.refuse("tested", "the test found "+id+", which the label does not name", "the fibres of the label", "a fibre that is not on the label is another matter than a tolerance")
		return nil, q.found.OrNil()
	}
	ok, most, err := yarn.WithinLabelTolerance(a, b)
	if err != nil {
		return nil, err
	}
	r := &reckoned{Method: "|tested − label| ≤ 3 points for each fibre", Valid: "the same fibres, both with agreed moisture", Accuracy: "exact; the law has further rules that this does not judge",
		Source: "Regulation (EU) No 1007/2011, Art. 20(3) (read)", Sources: []string{"eu-1007-2011"}}
	r.add(exactly("greatest difference", 100*float64(most), "points", "tested against label"))
	v := 0.0
	word := "no"
	if ok {
		v, word = 1, "yes"
	}
	f := exactly("within the tolerance of 3 points", v, "", word)
	f.Words = []string{word, word, word}
	f.exact = false
	r.add(f)
	return r, nil
}

var convertKind = reckonKind{
	name: "convert", use: "convert FIGURE [UNIT]", short: "a figure in other units: length, mass per area, rigidity, heat, yarn",
	long: `A figure in another unit, or in those a maker uses: lengths (mm, cm, m, in, yd), mass
per area (g/m2, oz/yd2, momme), rigidity (uN.m, mg.cm, gf.cm2/cm), temperature (C, F),
angle, yarn counts (tex, den, Nm, Ne …) and stitches (10 spi, stitches to the inch).
oz alone is ounces per square yard.`,
	example: `  tenter reckon convert 4.5oz/yd2 g/m2
  tenter reckon convert "10 spi"
  tenter reckon convert "44 1/2in" cm
  tenter reckon convert "12 momme"
  tenter reckon convert "Ne 30" tex`,
	args: cobra.RangeArgs(1, 2),
	run:  runConvert,
}

// customary are the units that a figure of a kind is told in where none is
// asked.
var customary = map[units.Kind][]string{
	units.OfLength: {"cm", "in"}, units.OfArealMass: {"g/m2", "oz/yd2", "momme"}, units.OfTemperature: {"C", "F"},
	units.OfAngle: {"deg", "rad"}, units.OfRigidity: {"uN.m", "mg.cm", "gf.cm2/cm"}, units.OfPercent: {"%"},
}

func runConvert(q *given, args []string) (*reckoned, error) {
	r := &reckoned{Method: "by definition of the units", Valid: "any figure", Accuracy: "exact to six digits as told", Source: "definitions as in GNU Units 2.22", Sources: []string{"gnu-units"}}
	text, want := args[0], args[1:]
	if l, ok := units.StitchFromCount(text); ok {
		return r, r.asUnits("length of a stitch", units.Quantity{Kind: units.OfLength, Value: float64(l)}, append(want, "mm")[:1], "one over the count")
	}
	v, err := units.Parse(text)
	if err != nil {
		c, yarnErr := yarn.ParseCount(text)
		if yarnErr != nil {
			return nil, err
		}
		return r, r.asCounts(c, text, want)
	}
	if v.Kind == units.Number {
		return nil, &fault.Fault{Kind: fault.WrongCall, Where: text, What: "it has no unit", Expected: "a figure with its unit, such as 4.5oz/yd2", Mend: "write the unit behind it"}
	}
	if v.Kind == units.OfLength && len(want) == 1 {
		if over, count := units.StitchFromCount("1 " + want[0]); count { // one stitch to it: the inch or the centimetre itself
			r.add(exactly("stitches", float64(over)/v.Value, want[0], "one over the length"))
			return r, nil
		}
	}
	if len(want) == 0 {
		want = customary[v.Kind]
	}
	if err := r.asUnits(text, v, want, v.Kind.String()); err != nil {
		return nil, err
	}
	if v.Kind == units.OfLength && (len(args) == 1 && v.Value >= float64(units.Yard) || len(args) == 2 && strings.HasPrefix(args[1], "yd")) {
		r.note("As a shop cuts it: %s.", units.Length(v.Value).OffTheBolt(units.Imperial))
	}
	return r, nil
}

// asUnits tells a quantity in each of the units.
func (r *reckoned) asUnits(name string, v units.Quantity, want []string, because string) error {
	for _, u := range want {
		x, err := v.In(u)
		if err != nil {
			return err
		}
		called := name
		if len(want) > 1 {
			called = "in " + u
		}
		r.add(exactly(called, x, u, because))
	}
	return nil
}

// asCounts tells a yarn count in the system that is wanted, else in all; what may be
// the size of a needle is told as one too.
func (r *reckoned) asCounts(c yarn.Count, text string, want []string) error {
	systems := yarnSystems
	if len(want) == 1 {
		s, err := yarn.ParseCountSystem(want[0])
		if err != nil {
			return err
		}
		systems = []yarn.CountSystem{s}
	}
	for _, s := range systems {
		x, err := yarn.ConvertCount(c, s)
		if err != nil {
			return err
		}
		r.add(exactly(s.Name(), x.Single, s.String(), "a yarn count"))
	}
	if v, us, err := parseNeedle(text); err == nil && !us && len(want) == 0 {
		r.note("If you mean a needle: %g is a blade of %g mm, US %g (tenter reckon needle %g).", v, v/100, cut.NeedleUS(v), v)
	}
	return nil
}
