// Package entry is the pages of everything in the reference but cloths: fibres,
// structures, treatments, seams, edges, interfacings, pieces, finishes, rules,
// terms and sources. Each kind has a file that fills the one page they share.
package entry

import (
	"embed"
	"html/template"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed entry.tmpl
var files embed.FS

// Pages lists the page of each kind.
var Pages = []sheet.Page{
	page("fibre", fibre), page("structure", structure), page("treatment", treatment),
	page("seam", seam("seam")), page("edge", seam("edge")), page("interfacing", interfacing),
	page("piece", piece), page("finish", finish), page("rule", rule), page("term", term), page("source", source), page("test", hometest),
}

// View is one thing.
type View struct {
	sheet.Sheet
	Kind     sheet.Kind
	ID, Name string
	Also     []string
	Say      string
	Caution  string
	Picture  template.HTML
	Caption  string
	Drawing  *sheet.Drawing
	Rows     []Row
	Facts    []Fact
	Demands  []Demand
	Steps    []Step
	When     []string
	Cases    []Case
	Rests    []Rest
	Cite     sheet.Cited
	Locator  string
	Next     []Next
	Test     *fibres.HomeTest
	Groups   []sheet.Group
}

// Row is a line about a thing: words, or links.
type Row struct {
	Label, Text string
	Links       []sheet.Link
}

// Fact is one recorded figure.
type Fact struct {
	Property, Say string
	Cite          sheet.Cited
}

// Demand is what a piece or finish asks, drawn.
type Demand struct {
	ID, Wanted, Say, Of string
	Picture             template.HTML
	Cite                sheet.Cited
}

// Step is a step of the work.
type Step struct{ Say, Because string }

// Case is a make-up that a rule speaks of, or must not.
type Case struct {
	Text, Path string
	Fires      bool
}

// Rest is what rests on a source.
type Rest struct {
	Title string
	Links []sheet.Link
	Facts []RestFact
	N     int
	More  string // the address that shows all of it
	Open  bool
}

// RestFact is a figure with the thing it is of.
type RestFact struct {
	Of  sheet.Link
	Say string
}

// Next is where to go on with a thing in hand.
type Next struct{ Path, Word string }

// page makes the page of a kind from what fills it in.
func page(kind string, fill func(*View, string) bool) sheet.Page {
	return sheet.Page{Pattern: "/" + kind + "/{id}", Files: files, Template: "entry.tmpl",
		Make: func(k *sheet.Site, a address.Ask) (sheet.View, error) {
			kd, _ := sheet.KindOf(kind)
			v := &View{Sheet: sheet.NewSheet(k, a, "/list", ""), Kind: kd, ID: a.ID}
			if !fill(v, a.ID) {
				if id := v.named(kind, a.ID); id != "" {
					return nil, &sheet.Moved{To: a.To("/" + kind + "/" + id)}
				}
				return nil, sheet.Nothing(kind, a.ID)
			}
			v.Title = prose.Upper(v.Name)
			v.Groups = k.SeeAlso(kind, a.ID)
			return v, nil
		}}
}

// named finds the id of a thing by another of its names.
func (v *View) named(kind, name string) string {
	names := v.Adv.PieceNames
	switch kind {
	case "piece":
	case "finish":
		names = v.Adv.FinishNames
	case "seam":
		names = v.Adv.SeamNames
	case "edge":
		names = v.Adv.EdgeNames
	case "interfacing":
		names = v.Adv.InterfacingNames
	case "fibre":
		names = v.Adv.Cat.FibreNames
	case "structure":
		names = v.Adv.Cat.StructureNames
	case "treatment":
		names = v.Adv.Cat.TreatmentNames
	default:
		return ""
	}
	id, err := names.Find(name)
	if err != nil {
		return ""
	}
	return id
}

func (v *View) row(label, text string) {
	if text != "" {
		v.Rows = append(v.Rows, Row{Label: label, Text: text})
	}
}

// facts lists the recorded figures of a thing.
func (v *View) facts(of, id string) {
	for _, f := range v.FactsOf(of, id) {
		v.Facts = append(v.Facts, Fact{Property: f.Name(), Say: v.InUnits(f.Say), Cite: v.Sheet.CiteFact(f)})
	}
}

// demands draws what a piece or finish asks.
func (v *View) demands(list []advise.Demand) {
	for _, d := range list {
		asked := advise.Asked{ID: d.ID, Need: advise.Need{Ideal: [2]float64{d.Ideal.Low, d.Ideal.High}, Limit: [2]float64{d.Limit.Low, d.Limit.High}, Unit: d.Unit}}
		if d.Words[0] != "" {
			asked.Need.Words = []string{d.Words[0], d.Words[1]}
		}
		v.Demands = append(v.Demands, Demand{ID: d.ID, Of: words.FactWords(d.Fact), Wanted: v.Wanted(asked), Say: d.Say, Picture: v.NeedSVG(asked),
			Cite: v.Sheet.Cite(d.Basis, d.Sources)})
	}
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func list(words []string) string { return strings.Join(words, ", ") }
