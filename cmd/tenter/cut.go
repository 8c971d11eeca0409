package main

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/price"
	"tenter/fibres/units"
)

// cutQuestion gathers the flags of `cut` beyond those of every question.
type cutQuestion struct {
	question
	parts, sizes, outlines, set      []string
	width, liningWidth               string
	shrink, liningShrink             string
	price, liningPrice               string
	allowance, hem, selvedge         string
	repeat, repeatAcross, widths     string
	prewashed, liningPrewashed       bool
	fold, oneWay, anyWay, crossGrain bool
	join                             bool
	care, binding                    string
	stitch, stitchLength, tex        string
	interface_, interfacingWidth     string
	layout                           bool
}

func newCut(a *app) *cobra.Command {
	var q cutQuestion
	c := &cobra.Command{
		Use:     "cut [PIECE] --shell CLOTH [--lining CLOTH] …",
		GroupID: groupAsk,
		Short:   "cut sizes with shrinkage, and how much to buy",
		Long: `From finished sizes to the cloth on the table: what each part is cut at so that
it is right after the first wash, how the parts lie in the cloth's width, the
length to buy for the likely and the unlucky case, how far shell and lining part
along the longest edge, and the thread.

The parts are those of the piece, drawn from its measures; --set gives it yours,
--size sets the box of its parts. --part gives parts of your own, --outline their
outlines from an SVG or CSV file. The allowances are added first and the shrinkage
on top: cut = (finished + 2 allowances) / (1 - shrinkage), for the allowance is
cloth and shrinks as well.

A CSV outline has a corner in each row: x_cm,y_cm (or mm, in), and part and count
where there are several. In an SVG file each closed shape is a part.` + exitStatus,
		Example: `  tenter cut half-circle-cape --shell wool-flannel --lining viscose-twill --finish bagged-lining --width 150cm
  tenter cut half-circle-cape --shell wool-flannel --set length=80cm --set girth=46cm --widths 115cm,140cm,150cm
  tenter cut wide-sash --shell cotton-lawn --size 240x45cm --allowance 10mm
  tenter cut --part "wrap 150cm x 75cm x1" --part "tie 40 x 6 in x2" --shell cotton-sateen --width 160cm --fold`,
		Args: cobra.MaximumNArgs(1),
		ValidArgsFunction: a.complete(func(x *advise.Adviser) []string {
			names := x.PieceNames.IDs()
			if s, err := advise.LoadShapes(data.FS, x.Cat); err == nil {
				names = append(names, s.Names.IDs()...)
			}
			return names
		}),
		RunE: func(_ *cobra.Command, args []string) error {
			name := ""
			if len(args) > 0 {
				if q.piece != "" {
					return &fault.Fault{Kind: fault.WrongCall, Where: "--piece", What: "the piece is named twice", Expected: "one piece", Mend: "leave one of them out"}
				}
				name = args[0]
			}
			ans, err := q.plan(a, name)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(ans)
			}
			a.printCut(ans, q.layout)
			return nil
		},
	}
	q.flags(a, c, true)
	f := c.Flags()
	q.layingFlags(f)
	f.StringArrayVar(&q.parts, "part", nil, `a part of your own, finished: "wrap 150cm x 75cm x1"; may be repeated`)
	f.StringArrayVar(&q.outlines, "outline", nil, "parts from an SVG or CSV file, finished; may be repeated")
	f.StringVar(&q.widths, "widths", "", "other widths to lay it in, side by side: 115cm,140cm,150cm")
	f.StringVar(&q.care, "care", "", "how the piece will be cleaned: wash, dry-clean or steam; left out, as its cloths allow")
	f.StringVar(&q.stitch, "stitch", "", "stitch by its number: "+stitchWords()+"; left out, that of --seam and --edge, else 301")
	f.StringVar(&q.binding, "binding", "", "what a bias binding of the edges shows: 8mm; left out, 8mm where the finish is bound")
	f.StringVar(&q.stitchLength, "stitch-length", "", "length of one stitch: 2.5mm, \"10 spi\"; left out, by the mass of the cloth")
	f.StringVar(&q.tex, "tex", "", "the thread in tex (g per km); left out, by the mass of the cloth")
	f.StringVar(&q.interface_, "interface", "", "parts that are interfaced, as collar,facing; left out, bands, facings and collars")
	f.StringVar(&q.interfacingWidth, "interfacing-width", "", "how wide the interfacing is")
	f.BoolVar(&q.layout, "layout", false, "tell where each part lies")
	_ = c.RegisterFlagCompletionFunc("stitch", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return strings.Split(stitchWords(), ", "), cobra.ShellCompDirectiveNoFileComp
	})
	return c
}

// layingFlags say how the parts are sized and laid; those of the card as well.
func (q *cutQuestion) layingFlags(f *pflag.FlagSet) {
	f.StringArrayVar(&q.set, "set", nil, `a measure of the piece's shape: length=80cm; may be repeated`)
	f.StringArrayVar(&q.sizes, "size", nil, `finished size of the piece's parts, in their order or as "hood=30x38cm"; may be repeated`)
	f.StringVar(&q.width, "width", "", "how wide the cloth is: 140cm")
	f.StringVar(&q.liningWidth, "lining-width", "", "how wide the lining is")
	f.StringVar(&q.shrink, "shrink", "", "what the cloth loses in its first wash, warp,weft: 5%,2%")
	f.StringVar(&q.liningShrink, "lining-shrink", "", "what the lining loses, warp,weft")
	f.StringVar(&q.price, "price", "", `what the cloth costs: "12.50 per metre", "£8 a yard"; left out, as you recorded of the swatch`)
	f.StringVar(&q.liningPrice, "lining-price", "", "what the lining costs")
	f.StringVar(&q.allowance, "allowance", "", "seam allowance on every edge; left out, that of the finish, else 12mm")
	f.StringVar(&q.hem, "hem", "", "allowance of hems, where it is another: 30mm")
	f.StringVar(&q.selvedge, "selvedge", "", "selvedge not used on each side, of both cloths")
	f.BoolVar(&q.prewashed, "prewashed", false, "both cloths have had their first wash")
	f.BoolVar(&q.liningPrewashed, "lining-prewashed", false, "the lining has had its first wash")
	f.BoolVar(&q.fold, "fold", false, "lay the cloth folded, selvedge to selvedge")
	f.BoolVar(&q.oneWay, "one-way", false, "the cloth has a nap or a figure that runs one way")
	f.BoolVar(&q.anyWay, "any-way", false, "parts may be turned end for end, whatever the nap")
	f.BoolVar(&q.crossGrain, "cross-grain", false, "parts may be cut across the grain")
	f.BoolVar(&q.join, "join", false, "a part wider than the cloth may be joined from strips")
	f.StringVar(&q.repeat, "repeat", "", "repeat of the figure along the cloth, to be matched: 32cm")
	f.StringVar(&q.repeatAcross, "repeat-across", "", "repeat across the cloth: of stripes")
}

func stitchWords() string {
	var out []string
	for _, s := range cut.Stitches() {
		out = append(out, string(s))
	}
	return strings.Join(out, ", ")
}

// plan turns the words of the question into a job and works it out.
func (q *cutQuestion) plan(a *app, name string) (cut.Answer, error) {
	var ans cut.Answer
	adv, err := a.adv()
	if err != nil {
		return ans, err
	}
	shapes, err := advise.LoadShapes(data.FS, adv.Cat)
	if err != nil {
		return ans, err
	}
	var found fault.List
	at := func(flag string, err error) {
		for _, f := range fault.All(err) {
			if f.Where != "" && flag != "" && !strings.HasPrefix(f.Where, flag) {
				g := *f
				g.Where = flag + " " + f.Where
				f = &g
			}
			found = append(found, f.At(flag))
		}
	}
	// A bare word is a piece, or else a shape that no piece is made of.
	var shape *cut.Shape
	if name != "" {
		_, errPiece := adv.Piece(name)
		s, errShape := shapes.Find(name)
		switch {
		case errPiece == nil:
			q.piece = name
		case errShape == nil:
			shape = s
		default:
			at("", errPiece)
		}
	}
	m, err := q.makeUp(a, "")
	if err != nil {
		return ans, append(found, fault.All(err)...).OrNil()
	}
	if m.Shell == nil {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--shell", What: "the cloth is not named", Expected: "--shell CLOTH", Mend: "`tenter list cloths` shows them all"})
	}
	if m.Piece != nil {
		shape = shapes.Of(m.Piece)
	}
	if m.Piece == nil && shape == nil && name == "" && len(q.parts)+len(q.outlines) == 0 {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, What: "there is nothing to cut", Expected: "a piece, --part with sizes or --outline with a file", Mend: `tenter cut hooded-wrap …, or --part "wrap 150cm x 75cm x1"`})
	}
	// The finish says what its edges take; a seam takes 12 mm at the least.
	job := cut.Job{Allowance: usualSeam}
	if m.Finish != nil {
		job.Allowance = max(usualSeam, m.Finish.Allowance)
		if m.Finish.Allowance < usualSeam {
			job.Hem, job.Edge = &m.Finish.Allowance, &m.Finish.Allowance
		}
	}
	length := func(flag, text string, to *units.Length) {
		if text == "" {
			return
		}
		l, err := units.ParseLength(text)
		at(flag, err)
		*to = l
	}
	if q.allowance != "" {
		length("--allowance", q.allowance, &job.Allowance)
		job.Hem, job.Edge = nil, nil
	}
	if q.hem != "" {
		job.Hem = new(units.Length)
		length("--hem", q.hem, job.Hem)
	}
	notes := q.draw(a, &job, m.Piece, shape, at)
	var common cut.Layer
	length("--selvedge", q.selvedge, &common.Selvedge)
	length("--repeat", q.repeat, &common.Repeat)
	length("--repeat-across", q.repeatAcross, &common.RepeatAcross)
	if q.widths != "" {
		for _, w := range strings.Split(q.widths, ",") {
			var l units.Length
			length("--widths", strings.TrimSpace(w), &l)
			at("--widths", units.Within(w, l, clothWidths))
			job.Widths = append(job.Widths, l)
		}
	}
	if q.oneWay && q.anyWay {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--any-way", What: "the cloth cannot run one way and be turned", Expected: "--one-way or --any-way"})
	}
	layer := func(name string, s *fibres.Subject, salt fibres.Salt, prefix, width, shrunk, cost string, washed bool) {
		if s == nil {
			for flag, v := range map[string]string{"width": width, "shrink": shrunk, "price": cost} {
				if v != "" && name != "shell" {
					found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--" + prefix + flag, What: "it is said of no cloth", Expected: "the cloth it belongs to", Mend: "name it with --" + name + ", or leave the flag out"})
				}
			}
			return
		}
		l := cut.NewLayer(adv.Cat, name, *s, salt)
		l.Prewashed, l.Selvedge, l.Folded, l.CrossGrain = washed, common.Selvedge, q.fold, q.crossGrain
		l.Join = q.join
		l.Repeat, l.RepeatAcross = common.Repeat, common.RepeatAcross
		l.OneWay = l.OneWay && !q.anyWay || q.oneWay
		if width != "" {
			r, err := units.ParseLengthRange(width, 0)
			if err == nil {
				err = units.Within(width, r.Low, clothWidths)
			}
			if err == nil {
				err = units.Within(width, r.High, clothWidths)
			}
			at("--"+prefix+"width", err)
			if err == nil {
				l.SetWidth(r)
			}
		}
		if shrunk != "" {
			one, two, both := strings.Cut(shrunk, ",")
			if !both {
				two = one
			}
			warp, err := units.ParsePercentRange(strings.TrimSpace(one))
			weft, err2 := units.ParsePercentRange(strings.TrimSpace(two))
			for _, e := range []error{err, err2} {
				at("--"+prefix+"shrink", e)
			}
			if err == nil && err2 == nil {
				at("--"+prefix+"shrink", l.SetShrink(warp, weft))
			}
		}
		if cost != "" {
			p, err := price.ParseOfLength(cost, 0)
			at("--"+prefix+"price", err)
			l.Price = &p
		}
		job.Layers = append(job.Layers, l)
	}
	layer("shell", m.Shell, fibres.ShellSalt, "", q.width, q.shrink, q.price, q.prewashed)
	layer("lining", m.Lining, fibres.LiningSalt, "lining-", q.liningWidth, q.liningShrink, q.liningPrice, q.prewashed || q.liningPrewashed)
	switch job.Care = cut.Treatment(q.care); job.Care {
	case "", cut.Washed, cut.DryCleaned, cut.Steamed:
	default:
		at("--care", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is no way to clean a piece", q.care), Expected: "wash, dry-clean or steam", Mend: fault.DidYouMean(q.care, []string{"wash", "dry-clean", "steam"}, "")})
	}
	q.interfaced(&job, m, common.Selvedge, at)
	sewing := q.sewing(adv, m, length, at)
	shows := units.Length(0)
	if m.Finish != nil && m.Finish.Edge == "bound" {
		shows = 0.8
	}
	length("--binding", q.binding, &shows)
	if err := found.OrNil(); err != nil {
		return ans, err
	}
	if ans, err = cut.Plan(job); err != nil {
		return ans, err
	}
	ans.MakeUp, ans.Notes = advise.Said(m), append(notes, ans.Notes...)
	if len(job.Joins) > 0 && sewing.Tex > 0 {
		t, err := cut.PlanThread(job.Joins, sewing)
		if err != nil {
			return ans, fault.All(err)[0].At("--stitch")
		}
		ans.Thread = &t
	}
	if shows > 0 && len(job.Joins) > 0 {
		b, err := cut.PlanBinding(job.Joins, shows, sewing.Thickness, cut.SingleBinding, 0)
		if err != nil {
			return ans, fault.All(err)[0].At("--binding")
		}
		ans.Binding = &b
	}
	return ans, nil
}

// usualSeam is the allowance of a seam that nothing is said of (common practice).
const usualSeam units.Length = 1.2

// interfaced adds the layer of the interfacing, cut at the finished size where it
// is fused.
func (q *cutQuestion) interfaced(job *cut.Job, m advise.MakeUp, selvedge units.Length, at func(string, error)) {
	if m.Interfacing == nil {
		for flag, v := range map[string]string{"--interface": q.interface_, "--interfacing-width": q.interfacingWidth} {
			if v != "" {
				at(flag, &fault.Fault{Kind: fault.WrongCall, What: "it is said of no interfacing", Expected: "--interfacing", Mend: "`tenter list interfacings` shows them"})
			}
		}
		return
	}
	l := cut.Layer{Name: "interfacing", Cloth: m.Interfacing.Name, Selvedge: selvedge, Width: cut.InterfacingWidth}
	if m.Interfacing.Attach != "sew" {
		l.Allowance = new(units.Length)
	}
	var names []string
	for _, p := range job.Parts {
		names = append(names, p.Name)
		if q.interface_ == "" && p.ShellOnly {
			l.Only = append(l.Only, p.Name)
		}
	}
	if q.interface_ != "" {
		for _, w := range strings.Split(q.interface_, ",") {
			i := slices.IndexFunc(names, func(n string) bool { return fibres.FoldName(n) == fibres.FoldName(w) })
			if i < 0 {
				at("--interface", &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("there is no part %q", strings.TrimSpace(w)), Expected: strings.Join(names, ", "), Mend: fault.DidYouMean(strings.TrimSpace(w), names, "")})
				continue
			}
			l.Only = append(l.Only, names[i])
		}
	}
	if q.interfacingWidth != "" {
		r, err := units.ParseLengthRange(q.interfacingWidth, 0)
		at("--interfacing-width", err)
		if err == nil {
			l.SetWidth(r)
		}
	}
	if len(l.Only) > 0 {
		job.Layers = append(job.Layers, l)
	}
}

// clothWidths are the widths that cloth is woven in.
var clothWidths = units.Range[units.Length]{Low: 5, High: 1500}

// draw fills in the parts and seams of a job, and gives what their geometry
// shows.
func (q *cutQuestion) draw(a *app, job *cut.Job, piece *advise.Piece, shape *cut.Shape, at func(string, error)) []string {
	var notes []string
	own := len(q.parts)+len(q.outlines) > 0
	set := map[string]string{}
	for _, s := range q.set {
		k, v, ok := strings.Cut(s, "=")
		if !ok {
			at("--set", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q sets nothing", s), Expected: "a measure and its value: length=80cm"})
			continue
		}
		set[strings.TrimSpace(k)] = strings.TrimSpace(v)
	}
	switch {
	case own:
	case shape != nil && len(q.sizes) == 0:
		d, err := shape.Draw(set)
		at("--set", err)
		job.Parts, job.Joins, notes = d.Parts, d.Joins, d.Says
	case piece != nil:
		job.Parts, job.Joins = piece.CutParts(), piece.CutJoins()
		if len(q.sizes) > 0 {
			job.Joins = nil // its seams are those of its own sizes
		}
	case shape != nil:
		at("--size", &fault.Fault{Kind: fault.WrongCall, What: shape.Name + " is drawn from its measures", Expected: "--set", Mend: "`--set width=60cm`"})
	}
	if len(set) > 0 && (own || shape == nil || len(q.sizes) > 0) {
		at("--set", &fault.Fault{Kind: fault.WrongCall, What: "there is no shape to set measures of", Expected: "a piece that is drawn from measures, without --size, --part or --outline", Mend: "`tenter list shapes` shows them"})
	}
	for _, s := range q.parts {
		p, err := cut.ParsePart(s)
		at("--part", err)
		job.Parts = append(job.Parts, p)
	}
	for _, file := range q.outlines {
		b, err := os.ReadFile(file)
		if err != nil {
			at("--outline", &fault.Fault{Kind: fault.WrongCall, Where: file, What: "the file cannot be read: " + plainCause(err), Expected: "an SVG or CSV file", Err: err})
			continue
		}
		read := cut.ReadCSV
		if strings.HasSuffix(strings.ToLower(file), ".svg") || bytes.Contains(b[:min(len(b), 1000)], []byte("<svg")) {
			read = cut.ReadSVG
		}
		parts, err := read(file, b)
		for _, f := range fault.All(err) {
			at("", f)
		}
		job.Parts = append(job.Parts, parts...)
	}
	at("--size", resize(job.Parts, q.sizes))
	return notes
}

// stitchOf is the stitch that a seam or edge is sewn with, of those that can be
// reckoned; a lockstitch where it is another or not said.
func stitchOf(s *advise.Seam) cut.Stitch {
	if s != nil {
		for _, w := range strings.Fields(s.Stitch) {
			if _, _, err := cut.ThreadFromRatio(cut.Stitch(w)); err == nil {
				return cut.Stitch(w)
			}
		}
	}
	return cut.Lockstitch
}

// sewing is how the seams are sewn, by the flags or by the mass of the cloth.
func (q *cutQuestion) sewing(adv *advise.Adviser, m advise.MakeUp, length func(string, string, *units.Length), at func(string, error)) cut.Sewing {
	s := cut.Sewing{Stitch: cut.Stitch(q.stitch), Edge: cut.Stitch(q.stitch)}
	if q.stitch == "" {
		s.Stitch, s.Edge = stitchOf(m.Seam), stitchOf(m.Edge)
	} else if _, _, err := cut.ThreadFromRatio(s.Stitch); err != nil {
		at("--stitch", err)
	}
	if m.Shell != nil {
		s.Length, s.Tex, s.Thickness = adv.SewingOf(m)
	}
	if l, ok := units.StitchFromCount(q.stitchLength); ok {
		s.Length = l
	} else {
		length("--stitch-length", q.stitchLength, &s.Length)
	}
	if q.tex != "" {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(q.tex, "tex")), 64)
		if err != nil || !(v >= 5 && v <= 500) {
			at("--tex", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is no thread", q.tex), Expected: "5 to 500, the mass of a kilometre in grams"})
		}
		s.Tex = v
	}
	return s
}

// resize gives parts the sizes of the --size flags: those with a name go to the
// part of that name, the others to the parts in their order.
func resize(parts []cut.Part, sizes []string) error {
	next := 0
	for _, s := range sizes {
		name, w, h, err := cut.ParseSize(s)
		if err != nil {
			return err
		}
		i := next
		if name != "" {
			i = -1
			var names []string
			for k, p := range parts {
				names = append(names, p.Name)
				if fibres.FoldName(p.Name) == fibres.FoldName(name) {
					i = k
				}
			}
			if i < 0 {
				return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("the piece has no part %q", name), Expected: strings.Join(names, ", "), Mend: fault.DidYouMean(name, names, "")}
			}
		} else {
			next++
		}
		if i >= len(parts) {
			return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there are %d sizes for %d parts", len(sizes), len(parts)), Expected: "at most one size for each part", Mend: "leave one out, or give parts of your own with --part"}
		}
		parts[i].Width, parts[i].Height = w, h
		if err := parts[i].Check(); err != nil {
			return err
		}
	}
	return nil
}

// printCut tells cut sizes and what to buy.
func (a *app) printCut(ans cut.Answer, layout bool) {
	for i, l := range ans.Layers {
		if i > 0 {
			fmt.Fprintln(a.out)
		}
		if len(l.Pieces) == 0 {
			a.para("", fmt.Sprintf("%s, %s: no part is cut from it.", capital(l.Layer), l.Cloth), 2)
			continue
		}
		a.para("", fmt.Sprintf("%s, %s: buy %s.", capital(l.Layer), l.Cloth, a.buyWords(l.Buy)), 2)
		if c := l.Buy.CostIn(a.system); c != "" {
			a.para("  ", "It costs "+c+".", 2)
		}
		if !l.Prewashed && l.Shrink.Warp.Known() && l.Shrink.Weft.Known() {
			a.para("  ", fmt.Sprintf("It loses %s along and %s across %s.", percentWords(l.Shrink.Warp), percentWords(l.Shrink.Weft), l.Treatment.In()), 2)
		}
		a.para("  ", l.Care.Say, 2)
		rows := [][]string{{"part", "", "finished", "cut as bought", "cut pre-" + l.Treatment.First()}}
		if l.Prewashed || !l.Shrink.Warp.Known() {
			rows[0][3], rows[0] = "cut", rows[0][:4]
		}
		var lie []string
		for _, p := range l.Pieces {
			switch {
			case p.Bias:
				lie = append(lie, p.Name+" on the bias")
			case p.Turned:
				lie = append(lie, p.Name+" with its width along the cloth")
			}
			row := []string{p.Name, fmt.Sprintf("× %d", p.Count), a.size(p.Finished), a.size(p.Cut), a.size(p.Washed)}
			rows = append(rows, row[:len(rows[0])])
		}
		a.tabulate(2, rows)
		a.para("  ", "Width × height, with "+a.allowanceWords(l.Pieces[0])+".", 2)
		if len(lie) > 0 {
			a.para("  ", "Laid "+strings.Join(lie, ", ")+".", 2)
		}
		if w := l.Washed; w != nil {
			first := "wash"
			if l.Treatment != cut.Washed {
				first = "steam"
			}
			a.para("  ", "Or "+first+" it first and cut at the pre-"+l.Treatment.First()+" sizes: buy "+a.buyWords(*w)+".", 2)
		}
		for _, c := range l.Care.Cautions {
			a.para("  caution: ", c, 11)
		}
		if len(l.Widths) > 0 {
			var rows [][]string
			for _, w := range l.Widths {
				say := w.Say
				if w.Fits {
					say = fmt.Sprintf("%s, %.0f %% of it waste", a.tape(w.Length), w.Waste*100)
				}
				rows = append(rows, []string{a.length(w.Width) + " wide", say})
			}
			a.tabulate(4, rows)
		}
		if layout {
			rows := [][]string{{"part", "across", "along", "size on the cloth"}}
			for _, p := range l.Buy.Lie {
				how := ""
				if p.Mirror {
					how = ", face down"
				}
				if p.OnFold {
					how += ", on the fold"
				}
				if p.Turn != 0 {
					how += fmt.Sprintf(", turned %d°", p.Turn)
				}
				rows = append(rows, []string{p.Part, a.at(p.X), a.at(p.Y), a.size([2]float64{p.Across, p.Along}) + how})
			}
			a.tabulate(4, rows)
		}
	}
	if c := ans.CostIn(a.system); c != "" {
		fmt.Fprintln(a.out)
		a.para("", "All the cloth costs "+c+".", 2)
	}
	if g := ans.Gap; g != nil {
		a.head("Shell against lining")
		a.para("  ", fmt.Sprintf("Cut alike and joined as bought, they part by about %s over the %s edge of the %s %s (%s). %s About %s mm is let pass.",
			a.length(g.MM.Typical/10), a.length(g.EdgeCM), g.Edge, ans.Layers[0].Treatment.In(), a.lengths(g.MM.Low/10, g.MM.High/10), g.Say, fibres.Round(g.Limit)), 2)
		if g.Washed.Known() {
			a.para("  ", fmt.Sprintf("Both washed once before cutting, five washes part them by about %s (%s).", a.length(g.Washed.Typical/10), a.lengths(g.Washed.Low/10, g.Washed.High/10)), 2)
		}
	}
	a.printCurves(ans.Parts)
	if b := ans.Binding; b != nil {
		a.head("Bias binding")
		a.para("  ", b.Say, 2)
	}
	if t := ans.Thread; t != nil {
		a.head("Thread")
		a.para("  ", t.Say, 2)
		var rows [][]string
		for _, s := range t.Seams {
			wind := ""
			if s.Wind {
				wind = "wind a full bobbin first"
			}
			rows = append(rows, []string{s.Name, a.length(s.Length), a.length(s.Under*100) + " under, stitch " + string(s.Stitch), wind})
		}
		a.tabulate(2, rows)
	}
	for _, n := range ans.Notes {
		fmt.Fprintln(a.out)
		a.para("note: ", n, 6)
	}
}

// allowanceWords tells what is left outside the seam line.
func (a *app) allowanceWords(p cut.PieceAnswer) string {
	mm := func(v float64) string {
		if v == 0 {
			return "none"
		}
		return a.length(v / 10)
	}
	if p.Hem == p.Allowance && p.Edge == p.Allowance {
		if p.Allowance == 0 {
			return "no allowance"
		}
		return mm(p.Allowance) + " of allowance on each edge"
	}
	s := mm(p.Allowance) + " of allowance at seams"
	if p.Hem == p.Edge {
		return s + ", " + mm(p.Hem) + " at hems and free edges"
	}
	return s + ", " + mm(p.Hem) + " at hems, " + mm(p.Edge) + " at free edges"
}

// printCurves tells which edges are clipped or notched.
func (a *app) printCurves(parts []cut.Geometry) {
	var rows [][]string
	for _, p := range parts {
		for _, e := range p.Edges {
			if e.Clips == 0 {
				continue
			}
			what := "notches, for it curves outwards"
			if e.Inward {
				what = "clips, for it curves inwards"
			}
			rows = append(rows, []string{p.Name, e.Name, fmt.Sprintf("%s, radius %s: about %d %s", a.length(e.Length), a.length(e.Radius), e.Clips, what)})
		}
	}
	if len(rows) > 0 {
		a.head("Curves")
		a.tabulate(2, rows)
	}
}

// buyWords says how much of a cloth to buy.
func (a *app) buyWords(b cut.Buy) string {
	s := fmt.Sprintf("%s of cloth %s wide", a.tape(b.Length.Typical), a.length(b.Width))
	if b.Folded {
		s += ", laid folded"
	}
	if safe := a.tape(b.Length.High); safe != a.tape(b.Length.Typical) {
		s += "; " + safe + " to be safe"
	}
	return s
}

// at prints a place on the cloth.
func (a *app) at(cm float64) string {
	if a.system == units.Imperial {
		return units.Length(cm).In(a.system)
	}
	return units.Length(cm).Centimetres()
}

// tape writes a length as it is measured off the bolt.
func (a *app) tape(cm float64) string { return units.Length(cm).OffTheBolt(a.system) }

// size prints width × height.
func (a *app) size(s [2]float64) string {
	w, h := units.Length(s[0]), units.Length(s[1])
	metric := strings.TrimSuffix(w.Centimetres(), " cm") + " × " + h.Centimetres()
	if a.system == units.Metric {
		return metric
	}
	in := w.In(units.Imperial) + " × " + h.In(units.Imperial)
	if w < 10*units.Yard/3 && h < 10*units.Yard/3 { // inches only
		in = strings.TrimSuffix(w.In(units.Imperial), " in") + " × " + h.In(units.Imperial)
	}
	return in
}

func percentWords(e fibres.Estimate) string {
	if e.Low == e.High {
		return fibres.Round(e.Typical) + " %"
	}
	return fmt.Sprintf("%s %% (%s to %s)", fibres.Round(e.Typical), fibres.Round(e.Low), fibres.Round(e.High))
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
