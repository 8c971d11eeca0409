package record

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"tenter/fibres/fault"
)

// Part is one fibre of a swatch and its share.
type Part struct {
	Fibre   string  `json:"fibre"`
	Percent float64 `json:"percent"`
}

// Swatch is one real cloth that the user has. Empty and zero mean not known.
type Swatch struct {
	ID          int64
	Name        string   // unique, capitals or not
	SoldAs      string   // id of a cloth, or what the ticket said
	Content     []Part   // may add up to less than 100
	WidthCM     float64  // 0 = not known
	LengthCM    *float64 // what is left; nil = not known, 0 = used up
	Colour      string
	Lightness   string // dark, mid, light, white
	Price       string
	KeptWhere   string
	PicturePath string
	Bought      time.Time // zero = not known
	Notes       string
	Created     time.Time
	Changed     time.Time
}

// Lightnesses are the words for how light a colour is.
var Lightnesses = []string{"dark", "mid", "light", "white"}

// NameKey is what two names share that count as one.
//
// Accents written as a sign of their own count as the letter that has them, joiners
// as nothing, and ß as ss.
func NameKey(name string) string {
	name = strings.Join(strings.Fields(name), " ")
	for i := 0; i < len(name); i++ {
		if name[i] >= utf8.RuneSelf {
			return fold.Replace(strings.ToLower(norm.NFC.String(name)))
		}
	}
	return strings.ToLower(name)
}

var fold = strings.NewReplacer("ß", "ss", "ς", "σ", "\u200c", "", "\u200d", "")

// Tidy checks a swatch and puts it in its stored form. The faults name the
// column.
func (w *Swatch) Tidy() fault.List {
	var found fault.List
	put := func(err error) { found.Add(err) }
	var err error
	w.Name, err = Name("name", w.Name)
	put(err)
	for _, f := range []struct {
		column string
		to     *string
	}{{"sold_as", &w.SoldAs}, {"colour", &w.Colour}, {"price", &w.Price}, {"kept_where", &w.KeptWhere}, {"picture_path", &w.PicturePath}} {
		if strings.TrimSpace(*f.to) == "" {
			*f.to = ""
			continue
		}
		if f.column == "picture_path" { // a path may hold two blanks, and be long
			*f.to, err = Text(f.column, *f.to)
		} else {
			*f.to, err = Name(f.column, *f.to)
		}
		put(err)
	}
	w.Notes, err = Text("notes", w.Notes)
	put(err)
	w.Lightness = strings.ToLower(strings.TrimSpace(w.Lightness))
	if w.Lightness != "" && !slices.Contains(Lightnesses, w.Lightness) {
		put(&fault.Fault{Kind: fault.WrongCall, Where: "lightness", What: fmt.Sprintf("lightness %q is not known", w.Lightness), Expected: "one of " + strings.Join(Lightnesses, ", "),
			Mend: fault.DidYouMean(w.Lightness, Lightnesses, "")})
	}
	if !(w.WidthCM >= 0 && w.WidthCM <= 1000) {
		put(&fault.Fault{Kind: fault.OutsideRange, Where: "width_cm", What: fmt.Sprintf("a width of %v cm", w.WidthCM), Expected: "over 0 and at most 1000 cm"})
	}
	if w.LengthCM != nil && !(*w.LengthCM >= 0 && *w.LengthCM <= 1e6) {
		put(&fault.Fault{Kind: fault.OutsideRange, Where: "length_cm", What: fmt.Sprintf("a length of %v cm", *w.LengthCM), Expected: "0 to 1,000,000 cm"})
	}
	total := 0.0
	seen := map[string]bool{}
	for i := range w.Content {
		p := &w.Content[i]
		p.Fibre, err = Name("content", p.Fibre)
		put(err)
		if seen[p.Fibre] {
			put(wrong("content", fmt.Sprintf("%s is named twice", p.Fibre), "each fibre once"))
		}
		seen[p.Fibre] = true
		if !(p.Percent >= 0 && p.Percent <= 100) {
			put(&fault.Fault{Kind: fault.OutsideRange, Where: "content", What: fmt.Sprintf("%v %% of %s", p.Percent, p.Fibre), Expected: "0 to 100 %"})
			continue
		}
		total += p.Percent
	}
	if total > 101 { // labels round
		put(&fault.Fault{Kind: fault.OutsideRange, Where: "content", What: fmt.Sprintf("the fibres add up to %v %%", math.Round(total*10)/10), Expected: "100 % at most"})
	}
	return found
}

// SwatchFilter picks swatches; what is left empty is not asked.
type SwatchFilter struct {
	Words     string // each word is part of the name, ticket, colour, place or notes
	SoldAs    string // exactly, capitals or not
	Fibre     string // holds it
	Lightness string
	KeptWhere string   // exactly, capitals or not
	MinLength float64  // at least so much is left, cm
	MinWidth  float64  // at least so wide, cm
	Measured  []string // kinds of measurement that were all taken
	Order     SwatchOrder
}

// SwatchOrder is what a list is ordered by.
type SwatchOrder int

// The orders of a list of swatches.
const (
	ByName    SwatchOrder = iota
	ByCreated             // newest first
	ByChanged             // latest first
)

// Clone copies a swatch so that a change of the one is none of the other.
func (w Swatch) Clone() Swatch {
	w.Content = slices.Clone(w.Content)
	if w.LengthCM != nil {
		l := *w.LengthCM
		w.LengthCM = &l
	}
	return w
}

// Same tells whether two swatches differ in nothing but when they were changed.
func (w Swatch) Same(o Swatch) bool {
	sameLength := (w.LengthCM == nil) == (o.LengthCM == nil) && (w.LengthCM == nil || *w.LengthCM == *o.LengthCM)
	sameContent := slices.Equal(w.Content, o.Content)
	return sameLength && sameContent && w.Bought.Equal(o.Bought) && w.bare() == o.bare()
}

// bare is what a swatch says in plain words and figures.
func (w Swatch) bare() [9]string {
	return [...]string{w.Name, w.SoldAs, fmt.Sprint(w.WidthCM), w.Colour, w.Lightness, w.Price, w.KeptWhere, w.PicturePath, w.Notes}
}

// Passes tells whether a swatch passes the filter, given the kinds of measurement
// that were taken of it.
func (f SwatchFilter) Passes(w Swatch, measured func(kind string) bool) bool {
	all := NameKey(w.Name) + " " + strings.ToLower(w.SoldAs+" "+w.Colour+" "+w.KeptWhere+" "+w.Notes)
	for _, word := range strings.Fields(f.Words) {
		if !strings.Contains(all, strings.ToLower(word)) {
			return false
		}
	}
	holds := func(p Part) bool { return p.Fibre == f.Fibre }
	switch {
	case f.SoldAs != "" && !strings.EqualFold(w.SoldAs, f.SoldAs),
		f.Fibre != "" && !slices.ContainsFunc(w.Content, holds),
		f.Lightness != "" && w.Lightness != f.Lightness,
		f.KeptWhere != "" && !strings.EqualFold(w.KeptWhere, f.KeptWhere),
		f.MinLength > 0 && (w.LengthCM == nil || *w.LengthCM < f.MinLength),
		f.MinWidth > 0 && w.WidthCM < f.MinWidth:
		return false
	}
	return !slices.ContainsFunc(f.Measured, func(kind string) bool { return !measured(kind) })
}
