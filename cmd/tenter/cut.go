package main

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres/fault"
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
	bind                             []string
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
--size sets the size of its parts, and their outline follows. --part gives parts of
your own, --outline their outlines from an SVG or CSV file. The allowances are added first and the shrinkage
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
			if s, err := x.Shapes(); err == nil {
				names = append(names, s.Names.IDs()...)
			}
			return names
		}),
		RunE: func(_ *cobra.Command, args []string) error { return q.run(a, args) },
	}
	q.flags(a, c, true)
	q.layingFlags(c.Flags())
	a.allFlag(c)
	q.cuttingFlags(c.Flags())
	_ = c.RegisterFlagCompletionFunc("stitch", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return strings.Split(stitchWords(), ", "), cobra.ShellCompDirectiveNoFileComp
	})
	return c
}

// run plans the cutting and prints it.
func (q *cutQuestion) run(a *app, args []string) error {
	name := ""
	if len(args) > 0 {
		if q.piece != "" {
			return &fault.Fault{Kind: fault.WrongCall, Where: "--piece", What: "the piece is named twice", Expected: "one piece", Mend: "leave one of them out"}
		}
		name = args[0]
	}
	ans, err := q.plan(a, name)
	switch {
	case err != nil:
		return err
	case a.json:
		return a.writeJSON(ans)
	case a.all || q.layout:
		a.printCut(ans, q.layout)
	default:
		a.printCutBrief(ans, q.widths != "")
	}
	return nil
}

// cuttingFlags say what is cut and how it is sewn; a card takes none of them.
func (q *cutQuestion) cuttingFlags(f *pflag.FlagSet) {
	f.StringArrayVar(&q.parts, "part", nil, `a part of your own, finished: "wrap 150cm x 75cm x1"; may be repeated`)
	f.StringArrayVar(&q.outlines, "outline", nil, "parts from an SVG or CSV file, finished; may be repeated")
	f.StringVar(&q.widths, "widths", "", "other widths to lay it in, side by side: 115cm,140cm,150cm")
	f.StringVar(&q.care, "care", "", "how the piece will be cleaned: wash, dry-clean or steam; left out, as its cloths allow")
	f.StringVar(&q.stitch, "stitch", "", "stitch by its number: "+stitchWords()+"; left out, that of --seam and --edge, else 301")
	f.StringVar(&q.binding, "binding", "", "what a bias binding of the edges shows: 8mm; left out, 8mm where the finish is bound")
	f.StringSliceVar(&q.bind, "bind", nil, "only these edges are bound: \"front edge,hem\"; left out, all free edges and hems")
	f.StringVar(&q.stitchLength, "stitch-length", "", "length of one stitch: 2.5mm, \"10 spi\"; left out, by the mass of the cloth")
	f.StringVar(&q.tex, "tex", "", "the thread in tex (g per km); left out, by the mass of the cloth")
	f.StringVar(&q.interface_, "interface", "", "parts that are interfaced, as collar,facing; left out, bands, facings and collars")
	f.StringVar(&q.interfacingWidth, "interfacing-width", "", "how wide the interfacing is")
	f.BoolVar(&q.layout, "layout", false, "tell where each part lies, and everything else")
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
	adv, err := a.adv()
	if err != nil {
		return cut.Answer{}, err
	}
	w := &cutWishes{cutQuestion: q, a: a, adv: adv}
	shape := w.named(name)
	m, err := q.makeUp(a, "")
	if err != nil {
		return cut.Answer{}, append(w.found, fault.All(err)...).OrNil()
	}
	if m.Shell == nil {
		w.found = append(w.found, &fault.Fault{Kind: fault.WrongCall, Where: "--shell", What: "the cloth is not named", Expected: "--shell CLOTH", Mend: "`tenter list cloths` shows them all"})
	}
	w.job = adv.CutJob(m)
	w.job.Units = a.system
	w.job.CommonWidths = a.json || a.all || q.layout
	w.parts(m.Piece, shape, name)
	w.allowances()
	w.laid(m)
	w.interfaced(m)
	w.sewn()
	if err := w.found.OrNil(); err != nil {
		return cut.Answer{}, err
	}
	ans, err := cut.Plan(w.job)
	ans.MakeUp = advise.IDsOf(m)
	return ans, err
}
