package kb

import "tenter/kb/record"

// columnKind is what a column of a list of swatches may tell.
type columnKind struct {
	name     string   // ours
	units    []string // that its bare figures may be in, the one of our own files first
	called   []string // how people call it
	freeText bool     // whatever is written is kept
	measured bool     // it holds a home test's result
	set      setter   // what a cell does to its row
}

// setter reads a cell into its row. A slip is a fault, with no place yet.
type setter func(r *rowReader, out *record.SwatchRow, c *column, cell string) error

// columnKinds are all of them. A measurement is one of those that a home test
// records; "measurements" holds all, as an export writes them.
var columnKinds = []columnKind{
	{name: "name", called: []string{"name", "swatch", "swatch name", "title", "label", "item", "fabric name", "cloth name", "called", "our name"}, freeText: true, set: asWritten(func(w *record.Swatch) *string { return &w.Name })},
	{name: "sold_as", called: []string{"sold as", "type", "kind", "fabric type", "cloth type", "sold under", "trade name", "category", "sort", "weave"}, freeText: true, set: asWritten(func(w *record.Swatch) *string { return &w.SoldAs })},
	{name: "content", called: []string{"content", "composition", "fibre", "fiber", "fibres", "fibers", "fibre content", "fiber content", "made of", "blend", "fabric content"}, set: (*rowReader).setContent},
	{name: "width", units: []string{"cm", "mm", "m", "in", "yd"}, called: []string{"width", "w", "fabric width", "cloth width", "wide", "bolt width"}, set: (*rowReader).setWidth},
	{name: "length", units: []string{"cm", "mm", "m", "in", "yd"}, called: []string{"length", "amount", "quantity", "qty", "in hand", "length in hand", "left", "length left", "have", "how much", "remaining", "yardage", "metrage", "metreage", "stock"}, set: (*rowReader).setLength},
	{name: "colour", called: []string{"colour", "color", "shade", "hue", "colourway", "colorway"}, freeText: true, set: asWritten(func(w *record.Swatch) *string { return &w.Colour })},
	{name: "lightness", called: []string{"lightness", "tone", "value", "light or dark", "dark or light"}, set: (*rowReader).setLightness},
	{name: "price", units: []string{"m", "yd"}, called: []string{"price", "cost", "paid", "price paid", "price per metre", "price per yard"}, freeText: true, set: (*rowReader).setPrice},
	{name: "kept_where", called: []string{"kept where", "where", "kept", "where kept", "place", "location", "box", "shelf", "bin", "storage", "stored", "drawer", "cupboard"}, freeText: true, set: asWritten(func(w *record.Swatch) *string { return &w.KeptWhere })},
	{name: "picture_path", called: []string{"picture path", "picture", "photo", "image", "file", "photograph"}, freeText: true, set: asWritten(func(w *record.Swatch) *string { return &w.PicturePath })},
	{name: "bought", called: []string{"bought", "date", "date bought", "bought on", "purchased", "purchase date", "acquired", "when"}, set: (*rowReader).setBought},
	{name: "notes", called: []string{"notes", "note", "comment", "comments", "remark", "remarks", "memo", "details"}, freeText: true, set: (*rowReader).addNote},
	{name: "mass", units: []string{"gsm", "oz", "momme"}, called: []string{"mass", "weight", "gsm", "grammage", "fabric weight", "areal mass"}, measured: true, set: (*rowReader).addMass},
	{name: "thickness", units: []string{"mm", "cm", "in"}, called: []string{"thickness", "thick"}, measured: true, set: (*rowReader).addThickness},
	{name: "bending_length", units: []string{"cm", "mm", "in"}, called: []string{"bending length", "droop"}, measured: true, set: droop("")},
	{name: "bending_length_warp", units: []string{"cm", "mm", "in"}, called: []string{"bending length warp", "warp bending length"}, measured: true, set: droop("warp")},
	{name: "bending_length_weft", units: []string{"cm", "mm", "in"}, called: []string{"bending length weft", "weft bending length"}, measured: true, set: droop("weft")},
	{name: "shrink", units: []string{"pct"}, called: []string{"shrink", "shrinkage", "shrinks"}, measured: true, set: washed("warp", "weft")},
	{name: "shrink_warp", units: []string{"pct"}, called: []string{"shrink warp", "shrinkage warp", "warp shrinkage", "shrinkage length", "lengthwise shrinkage", "shrink length"}, measured: true, set: washed("warp")},
	{name: "shrink_weft", units: []string{"pct"}, called: []string{"shrink weft", "shrinkage weft", "weft shrinkage", "shrinkage width", "crosswise shrinkage", "shrink width"}, measured: true, set: washed("weft")},
	{name: "fray", called: []string{"fray", "frays", "fraying"}, measured: true, set: levelOf("fray")},
	{name: "stretch", called: []string{"stretch", "stretches"}, measured: true, set: (*rowReader).addStretch},
	{name: "show_through", called: []string{"show through", "opacity", "sheerness", "see through"}, measured: true, set: levelOf("show-through")},
	{name: "measurements", called: []string{"measurements"}, set: (*rowReader).addMeasurements},
}

// Columns are what a list of swatches may tell, as --map names them. Those with a
// unit may carry it: width_in, length_yd, mass_oz.
var Columns = func() []string {
	out := make([]string, len(columnKinds))
	for i, k := range columnKinds {
		out[i] = k.name
	}
	return out
}()

// kindOf is the kind of that name, nil where there is none.
func kindOf(name string) *columnKind {
	for i := range columnKinds {
		if columnKinds[i].name == name {
			return &columnKinds[i]
		}
	}
	return nil
}
