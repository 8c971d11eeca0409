package advise

import (
	"io/fs"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/table"
)

// The scales of how a cloth is met in shops, each from least to most.
var (
	CommonScale = fibres.Scale{"rare", "seldom", "sometimes", "often", "always"}
	PriceScale  = fibres.Scale{"low", "medium", "high"}
	EaseScale   = fibres.Scale{"hard", "tricky", "fair", "easy", "very easy"}
)

// Stock is how a cloth is met in shops: how commonly, at what price, how easily a
// beginner sews it, and what it is bought for.
type Stock struct {
	Cloth               string // id
	Common, Price, Ease int    // levels of their scales
	EaseReason          string
	BoughtFor           []string
	Shop                string
	Note                string
	Cite
}

// stocked reads stocked.csv.
func (l *loader) stocked() {
	b, err := fs.ReadFile(l.files, "stocked.csv")
	if err != nil {
		l.found.Add(&fault.Fault{Kind: fault.BadData, Where: "data/stocked.csv", What: "the file is missing", Err: err})
		return
	}
	t, err := table.Read("data/stocked.csv", b, []string{"cloth_id", "common", "price", "ease", "ease_reason", "bought_for", "shop",
		"basis", "source_id", "locator", "note"})
	l.found.Add(err)
	if t == nil {
		return
	}
	for _, r := range t.Rows {
		s := Stock{Cloth: r.Cell("cloth_id").Text, EaseReason: r.Cell("ease_reason").Text, Shop: r.Cell("shop").Text, Note: r.Cell("note").Text,
			Cite: Cite{Basis: r.Cell("basis").Text, Sources: []string{r.Cell("source_id").Text}}}
		if l.a.Cat != nil && l.a.Cat.Cloths[s.Cloth] == nil {
			f := r.Cell("cloth_id").Fault(`no cloth has the id "`+s.Cloth+`"`, "the id of a cloth", fault.DidYouMean(s.Cloth, l.a.Cat.ClothNames.IDs(), ""))
			f.Names = "cloth"
			l.found.Add(f)
		}
		for _, x := range []struct {
			column string
			scale  fibres.Scale
			to     *int
		}{{"common", CommonScale, &s.Common}, {"price", PriceScale, &s.Price}, {"ease", EaseScale, &s.Ease}} {
			i, _, bad := r.Cell(x.column).Word(x.scale)
			l.found.Add(bad)
			*x.to = i
		}
		s.BoughtFor = r.Cell("bought_for").List()
		l.a.Stock = append(l.a.Stock, s)
	}
	slices.SortFunc(l.a.Stock, func(x, y Stock) int { return strings.Compare(x.Cloth, y.Cloth) })
}

// StockOf is how shops have a cloth; nil where nobody says.
func (a *Adviser) StockOf(cloth string) *Stock {
	i, found := slices.BinarySearchFunc(a.Stock, cloth, func(s Stock, id string) int { return strings.Compare(s.Cloth, id) })
	if !found {
		return nil
	}
	return &a.Stock[i]
}
