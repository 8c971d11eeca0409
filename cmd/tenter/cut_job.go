package main

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/price"
	"tenter/fibres/units"
)

// cutWishes lays what the flags of `cut` say over the job of the make-up; what
// cannot be read is gathered, so that all of it is said at once.
type cutWishes struct {
	*cutQuestion
	a     *app
	adv   *advise.Adviser
	job   cut.Job
	found fault.List
}

// at puts the flag to a fault.
func (w *cutWishes) at(flag string, err error) {
	for _, f := range fault.All(err) {
		if f.Where != "" && flag != "" && !strings.HasPrefix(f.Where, flag) {
			g := *f
			g.Where = flag + " " + f.Where
			f = &g
		}
		w.found = append(w.found, f.At(flag))
	}
}

// length reads the length of a flag that was given.
func (w *cutWishes) length(flag, text string, to *units.Length) {
	if text == "" {
		return
	}
	l, err := units.ParseLength(text)
	w.at(flag, err)
	*to = l
}

// named tells whether a bare word is a piece, or else a shape that no piece is
// made of.
func (w *cutWishes) named(name string) *cut.Shape {
	if name == "" {
		return nil
	}
	_, errPiece := w.adv.Piece(name)
	if errPiece == nil {
		w.piece = name
		return nil
	}
	shapes, err := w.adv.Shapes()
	if err != nil {
		w.at("", err)
		return nil
	}
	s, err := shapes.Find(name)
	if err != nil {
		w.at("", errPiece)
	}
	return s
}

// parts fills in the parts and seams: drawn from the measures of the shape, by the
// sizes given, or the user's own.
func (w *cutWishes) parts(piece *advise.Piece, shape *cut.Shape, name string) {
	own := len(w.cutQuestion.parts)+len(w.outlines) > 0
	if piece == nil && shape == nil && name == "" && !own {
		w.found = append(w.found, &fault.Fault{Kind: fault.WrongCall, What: "there is nothing to cut", Expected: "a piece, --part with sizes or --outline with a file", Mend: `tenter cut cowl …, or --part "wrap 150cm x 75cm x1"`})
	}
	if shapes, err := w.adv.Shapes(); err == nil && piece != nil {
		shape = shapes.Of(piece)
	}
	set := w.measures()
	if len(set) > 0 && (own || shape == nil || len(w.sizes) > 0) {
		w.at("--set", &fault.Fault{Kind: fault.WrongCall, What: "there is no shape to set measures of", Expected: "a piece that is drawn from measures, without --size, --part or --outline", Mend: "`tenter list shapes` shows them"})
	}
	switch {
	case own:
		w.job.Parts, w.job.Joins = w.ownParts(), nil
	case shape != nil && len(w.sizes) == 0:
		d, err := shape.Draw(set)
		w.at("--set", err)
		w.job.Parts, w.job.Joins = d.Parts, d.Joins
		w.job.Notes = append(w.job.Notes, d.Says...)
	case shape != nil && piece == nil:
		w.at("--size", &fault.Fault{Kind: fault.WrongCall, What: shape.Name + " is drawn from its measures", Expected: "--set", Mend: "`--set width=60cm`"})
		return
	case piece != nil && len(w.sizes) > 0: // its seams are then those of its own sizes
		w.job.Parts, w.job.Joins = piece.CutParts(), nil
	}
	for _, s := range w.sizes {
		if shopSize.MatchString(strings.TrimSpace(s)) {
			w.at("--size", &fault.Fault{Kind: fault.WrongCall, What: "sizes of the shops are not kept: \"" + s + "\"", Mend: "give measures, as --set length=80cm, or finished sizes, as --size 240x45cm"})
			return
		}
	}
	w.at("--size", resize(w.job.Parts, w.sizes))
}

// shopSize is a size as a label has it: 12, XL.
var shopSize = regexp.MustCompile(`^(?i:\d{1,2}|x{0,3}[sml]|small|medium|large)$`)

// measures are the --set flags.
func (w *cutWishes) measures() map[string]string {
	set := map[string]string{}
	for _, s := range w.set {
		k, v, ok := strings.Cut(s, "=")
		if !ok {
			w.at("--set", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q sets nothing", s), Expected: "a measure and its value: length=80cm"})
			continue
		}
		set[strings.TrimSpace(k)] = strings.TrimSpace(v)
	}
	return set
}

// ownParts are those of --part and --outline.
func (w *cutWishes) ownParts() (out []cut.Part) {
	for _, s := range w.cutQuestion.parts {
		p, err := cut.ParsePart(s)
		w.at("--part", err)
		out = append(out, p)
	}
	for _, file := range w.outlines {
		b, err := os.ReadFile(file)
		if err != nil {
			w.at("--outline", &fault.Fault{Kind: fault.WrongCall, Where: file, What: "the file cannot be read: " + plainCause(err), Expected: "an SVG or CSV file", Err: err})
			continue
		}
		read := cut.ReadCSV
		if strings.HasSuffix(strings.ToLower(file), ".svg") || bytes.Contains(b[:min(len(b), 1000)], []byte("<svg")) {
			read = cut.ReadSVG
		}
		parts, err := read(file, b)
		w.at("", err)
		out = append(out, parts...)
	}
	return out
}

// allowances are those of the flags in place of the finish's.
func (w *cutWishes) allowances() {
	if w.allowance != "" {
		w.length("--allowance", w.allowance, &w.job.Allowance)
		w.job.Hem, w.job.Edge = nil, nil
	}
	if w.hem != "" {
		w.job.Hem = new(units.Length)
		w.length("--hem", w.hem, w.job.Hem)
	}
}

// laid says how the layers lie, how wide they are and what they lose.
func (w *cutWishes) laid(m advise.MakeUp) {
	if w.oneWay && w.anyWay {
		w.found = append(w.found, &fault.Fault{Kind: fault.WrongCall, Where: "--any-way", What: "the cloth cannot run one way and be turned", Expected: "--one-way or --any-way"})
	}
	for _, text := range strings.FieldsFunc(w.widths, func(r rune) bool { return r == ',' }) {
		var l units.Length
		w.length("--widths", strings.TrimSpace(text), &l)
		w.at("--widths", units.Within(text, l, clothWidths))
		w.job.Widths = append(w.job.Widths, l)
	}
	if m.Lining == nil {
		for flag, v := range map[string]string{"width": w.liningWidth, "shrink": w.liningShrink, "price": w.liningPrice} {
			if v != "" {
				w.found = append(w.found, &fault.Fault{Kind: fault.WrongCall, Where: "--lining-" + flag, What: "no lining is named", Expected: "the cloth it belongs to", Mend: "name it with --lining, or leave the flag out"})
			}
		}
	}
	for i := range w.job.Layers {
		switch l := &w.job.Layers[i]; l.Name {
		case "shell":
			w.lay(l, "", w.width, w.shrink, w.price, w.prewashed)
		case "lining":
			w.lay(l, "lining-", w.liningWidth, w.liningShrink, w.liningPrice, w.prewashed || w.liningPrewashed)
		default:
			if m.HasInner(l.Name) { // laid as the others are
				w.lay(l, "", "", "", "", w.prewashed)
			}
		}
	}
	switch w.job.Care = cut.Treatment(w.care); w.job.Care {
	case "", cut.Washed, cut.DryCleaned, cut.Steamed:
	default:
		w.at("--care", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not a way to clean a piece", w.care), Expected: "wash, dry-clean or steam", Mend: fault.DidYouMean(w.care, []string{"wash", "dry-clean", "steam"}, "")})
	}
}

// lay puts the flags to one layer.
func (w *cutWishes) lay(l *cut.Layer, prefix, width, shrunk, cost string, washed bool) {
	l.Prewashed, l.Folded, l.CrossGrain, l.Join = washed, w.fold, w.crossGrain, w.join
	w.length("--selvedge", w.selvedge, &l.Selvedge)
	w.length("--repeat", w.repeat, &l.Repeat)
	w.length("--repeat-across", w.repeatAcross, &l.RepeatAcross)
	l.OneWay = l.OneWay && !w.anyWay || w.oneWay
	w.wide(l, "--"+prefix+"width", width)
	if shrunk != "" {
		w.at("--"+prefix+"shrink", l.ParseShrink(shrunk))
	}
	if cost != "" {
		p, err := price.ParseOfLength(cost, 0)
		w.at("--"+prefix+"price", err)
		l.Price = &p
	}
}

// wide sets how wide a layer is.
func (w *cutWishes) wide(l *cut.Layer, flag, text string) {
	if text == "" {
		return
	}
	r, err := units.ParseLengthRange(text, 0)
	for _, v := range []units.Length{r.Low, r.High} {
		if err == nil {
			err = units.Within(text, v, clothWidths)
		}
	}
	if w.at(flag, err); err == nil {
		w.a.doubt(flag+" "+text, l.Cloth, fibres.Width, l.Width, float64(r.Low), float64(r.High), "")
		l.SetWidth(r)
	}
}

// partNames finds parts by their names, parted by commas.
func (w *cutWishes) partNames(flag, text string) []string {
	out, err := w.job.PartNames(strings.Split(text, ","))
	w.at(flag, err)
	return out
}

// interfaced puts the flags to the interfacing: which parts, how wide.
func (w *cutWishes) interfaced(m advise.MakeUp) {
	if m.Interfacing == nil {
		for flag, v := range map[string]string{"--interface": w.interface_, "--interfacing-width": w.interfacingWidth} {
			if v != "" {
				w.at(flag, &fault.Fault{Kind: fault.WrongCall, What: "no interfacing is named", Expected: "--interfacing", Mend: "`tenter list interfacings` shows them"})
			}
		}
		return
	}
	// its parts are those of the sizes and shapes of the flags
	w.job.Layers = slices.DeleteFunc(w.job.Layers, func(l cut.Layer) bool { return l.Cloth == m.Interfacing.Name && l.Warp.Unit == "" })
	l := advise.InterfacingLayer(m.Interfacing, w.job.Parts)
	if w.interface_ != "" {
		l.Only = w.partNames("--interface", w.interface_)
	}
	w.length("--selvedge", w.selvedge, &l.Selvedge)
	w.wide(&l, "--interfacing-width", w.interfacingWidth)
	if len(l.Only) > 0 {
		w.job.Layers = append(w.job.Layers, l)
	}
}

// clothWidths are the widths that cloth is woven in.
var clothWidths = units.Range[units.Length]{Low: 5, High: 1500}

// sewn says how the seams are sewn and the edges bound.
func (w *cutWishes) sewn() {
	s := &w.job.Sewing
	if w.stitch != "" {
		s.Stitch, s.Edge = cut.Stitch(w.stitch), cut.Stitch(w.stitch)
		if _, _, err := cut.ThreadFromRatio(s.Stitch); err != nil {
			w.at("--stitch", err)
		}
	}
	if l, ok := units.StitchFromCount(w.stitchLength); ok {
		s.Length = l
	} else {
		w.length("--stitch-length", w.stitchLength, &s.Length)
	}
	if w.tex != "" {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(w.tex, "tex")), 64)
		if err != nil || !(v >= 5 && v <= 500) {
			w.at("--tex", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not a thread size", w.tex), Expected: "5 to 500, the mass of a kilometre in grams"})
		}
		s.Tex = v
	}
	if w.binding != "" {
		if w.job.Binding == nil {
			w.job.Binding = &cut.BindingWish{}
		}
		w.length("--binding", w.binding, &w.job.Binding.Shows)
		if w.job.Binding.Shows == 0 { // none is wanted
			w.job.Binding = nil
		}
	}
	switch {
	case len(w.bind) > 0 && w.job.Binding == nil:
		w.at("--bind", &fault.Fault{Kind: fault.WrongCall, What: "nothing is bound", Expected: "a bound finish, or --binding with what it shows", Mend: "--binding 8mm"})
	case len(w.bind) > 0:
		w.job.Binding.Edges = w.bind
	}
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
		if parts[i], err = parts[i].Resize(w, h); err != nil {
			return err
		}
	}
	return nil
}
