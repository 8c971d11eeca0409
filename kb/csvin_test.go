package kb

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/kb/memory"
	"tenter/kb/record"
	"tenter/kb/store"
)

// stored is a base with an empty store.
func stored(t testing.TB) *Base {
	t.Helper()
	b := base(t)
	s, err := store.Open(filepath.Join(t.TempDir(), "tenter.db"))
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	b.Records = s
	return b
}

func imported(t testing.TB, b *Base, text string, o ImportOptions) *Import {
	t.Helper()
	o.Name = "stall.csv"
	im, err := b.ReadSwatches([]byte(text), o)
	require.NoError(t, err)
	return im
}

// one reads a list of one row that must be sound.
func one(t testing.TB, text string) record.SwatchRow {
	t.Helper()
	im := imported(t, base(t), text, ImportOptions{})
	require.Empty(t, im.Refused, "%v", im.Refused)
	require.Len(t, im.Rows, 1)
	return im.Rows[0]
}

func TestListsAsPeopleKeepThem(t *testing.T) {
	const plain = "name,sold as,content,width (cm),length (m),colour,weight gsm,kept where,notes\nking's blue,cotton sateen,\"60% cotton, 40% linen\",140,2.5,blue,150,box 4,\"smells, a bit\"\n"
	want := one(t, plain)
	require.Equal(t, "king's blue", want.Swatch.Name)
	require.Equal(t, "cotton-sateen", want.Swatch.SoldAs)
	require.Equal(t, []record.Part{{Fibre: "cotton", Percent: 60}, {Fibre: "linen", Percent: 40}}, want.Swatch.Content)
	require.Equal(t, 140.0, want.Swatch.WidthCM)
	require.Equal(t, 250.0, *want.Swatch.LengthCM)
	require.Equal(t, "box 4", want.Swatch.KeptWhere)
	require.Equal(t, "mass", want.Measured[0].Kind)
	require.Equal(t, 150.0, want.Measured[0].Readings[0][record.ReadingMass])

	same := func(name, text string) {
		t.Helper()
		got := one(t, text)
		got.Line = want.Line
		require.Equal(t, want, got, name)
	}
	same("a byte-order mark and CRLF", "\xef\xbb\xbf"+strings.ReplaceAll(plain, "\n", "\r\n"))
	same("semicolons and decimal commas", "name;sold as;content;width (cm);length (m);colour;weight gsm;kept where;notes\nking's blue;cotton sateen;60% cotton, 40% linen;140,0;2,5;blue;150;box 4;smells, a bit\n")
	same("tabs", strings.ReplaceAll("name|sold as|content|width (cm)|length (m)|colour|weight gsm|kept where|notes\nking's blue|cotton sateen|cotton 60 linen 40|140|2.5|blue|150|box 4|smells, a bit\n", "|", "\t"))
	same("a spreadsheet's line for the separator", "sep=;\nname;sold as;content;width (cm);length (m);colour;weight gsm;kept where;notes\nking's blue;cotton sateen;60 cotton 40 linen;140;2.5;blue;150;box 4;smells, a bit\n")
	same("units in the cells", "Swatch,Type,Fibre,W,Amount,Color,Weight,Location,Remarks\nking's blue,Cotton Sateen,60% cotton 40% linen,140cm,2500 mm,blue,150 g/m2,box 4,\"smells, a bit\"\n")
	same("the lines of an old machine", strings.ReplaceAll(plain, "\n", "\r"))
	same("blank lines and empty rows", "\n\n"+strings.Replace(plain, "\nking", "\n\n,,,,,,,,\nking", 1)+"\n\n")
	same("empty cells too many", strings.Replace(plain, "a bit\"", "a bit\",,", 1))
	same("JSON", `{"version":1,"swatches":[{"name":"king's blue","sold_as":"cotton-sateen","content":[{"fibre":"cotton","percent":60},{"fibre":"linen","percent":40}],"width_cm":140,"length_cm":250,"colour":"blue","mass_gsm":150,"kept_where":"box 4","notes":"smells, a bit"}]}`)
	same("a bare list of JSON", `[{"name":"king's blue","type":"cotton sateen","content":"60% cotton 40% linen","width":"140 cm","length":"2.5m","colour":"blue","weight":"150gsm","where":"box 4","notes":"smells, a bit"}]`)
}

func TestUnitsOfLists(t *testing.T) {
	for _, c := range []struct {
		name, text string
		width      float64
		length     float64
	}{
		{"inches and yards in the header", "name,width in inches,length (yd)\nx,44,2\n", 111.76, 182.88},
		{"inches in the cell", "name,width,length\nx,\"44 1/2\"\"\",2 yd 9 in\n", 113.03, 205.74},
		{"an inch sign that no quotes keep", "name,width,length\nx,44\",1 1/2 yd\n", 111.76, 137.16},
		{"fractions", "name,width,length\nx,44½ in,⅝ yd\n", 113.03, 57.15},
		{"a header that is a unit", "name,width cm,metres\nx,150,1.25\n", 150, 125},
		{"yardage", "name,width (in),yardage\nx,60,3\n", 152.4, 274.32},
	} {
		r := one(t, c.text)
		require.InDelta(t, c.width, r.Swatch.WidthCM, 1e-9, c.name)
		require.InDelta(t, c.length, *r.Swatch.LengthCM, 1e-9, c.name)
	}
	bare := imported(t, base(t), "name,width,length\na,140,2.5\nb,150,1\nc,\"44 in\",\"30 cm\"\n", ImportOptions{})
	require.Empty(t, bare.Refused)
	require.Equal(t, 140.0, bare.Rows[0].Swatch.WidthCM)
	require.Equal(t, 250.0, *bare.Rows[0].Swatch.LengthCM)
	require.InDelta(t, 111.76, bare.Rows[2].Swatch.WidthCM, 1e-9)
	require.InDelta(t, 30, *bare.Rows[2].Swatch.LengthCM, 1e-9, "a unit in the cell goes before that of the column")
	require.Contains(t, fmt.Sprint(bare.Notices), "bare figures are taken as centimetres", "what was guessed is told")
	inches := imported(t, base(t), "name,width\na,44\nb,60\n", ImportOptions{})
	require.InDelta(t, 111.76, inches.Rows[0].Swatch.WidthCM, 1e-9)
	oz := imported(t, base(t), "name,weight\na,4.5\nb,8\n", ImportOptions{})
	require.InDelta(t, 152.5759, oz.Rows[0].Measured[0].Readings[0][record.ReadingMass], 0.001)
	imperial := imported(t, base(t), "name,length\na,2\n", ImportOptions{Imperial: true})
	require.InDelta(t, 182.88, *imperial.Rows[0].Swatch.LengthCM, 1e-9)
	unclear := imported(t, base(t), "name,weight\na,25\nb,28\n", ImportOptions{})
	require.Len(t, unclear.Refused, 2, "25 may be ounces or grams: it is not guessed")
	require.Contains(t, fmt.Sprint(unclear.Notices), "its figures do not tell it")
}

func TestColumnsAreGuessedSaidAndKept(t *testing.T) {
	const text = "Fabric,Ref,Opacity,Feels,Shrinks %,Extra\nlawn,A1,low,nice,4,x\n"
	b := base(t)
	im := imported(t, b, text, ImportOptions{})
	got := map[string]string{}
	for _, c := range im.Columns {
		got[c.Theirs] = c.Ours
	}
	require.Equal(t, map[string]string{"Fabric": "name", "Ref": "", "Opacity": "show_through", "Feels": "", "Shrinks %": "shrink", "Extra": ""}, got)
	require.Len(t, im.Rows[0].Measured, 3, "shrinkage without a direction counts for both")
	require.Empty(t, im.Mapping(), "what was guessed need not be kept")

	im = imported(t, b, text, ImportOptions{Map: map[string]string{"fabric": "sold_as", "REF": "name", "Feels": "notes", "Extra": "notes", "Opacity": "-"}})
	require.Equal(t, "A1", im.Rows[0].Swatch.Name)
	require.Equal(t, "Feels: nice\nExtra: x", im.Rows[0].Swatch.Notes)
	require.Equal(t, map[string]string{"Fabric": "sold_as", "Ref": "name", "Feels": "notes", "Extra": "notes", "Opacity": "-"}, im.Mapping())
	require.Equal(t, HeaderKey([]byte(text)), HeaderKey([]byte(strings.ToUpper(text))))
	require.NotEqual(t, HeaderKey([]byte(text)), HeaderKey([]byte("name\n")))

	_, err := b.ReadSwatches([]byte(text), ImportOptions{Map: map[string]string{"Colr": "colour", "Ref": "nam"}})
	require.ErrorContains(t, err, `the list has no column "colr"`)
	require.ErrorContains(t, err, `there is no column "nam"`)
	require.ErrorContains(t, err, `did you mean "name"`)
	_, err = b.ReadSwatches([]byte("colour,width\nblue,150\n"), ImportOptions{Name: "x.csv"})
	require.ErrorContains(t, err, "x.csv:1:1: no column names the swatches")
	require.ErrorContains(t, err, `--map "colour=name"`)

	both := imported(t, b, "name,fabric\nx,denim\n", ImportOptions{})
	require.Equal(t, "denim", both.Rows[0].Swatch.SoldAs)
	twice := imported(t, b, "name,colour,color\nx,red,blue\n", ImportOptions{})
	require.Equal(t, "red", twice.Rows[0].Swatch.Colour)
	require.Contains(t, twice.Columns[2].How, "taken from")
}

func TestSlipsNameRowAndColumn(t *testing.T) {
	for _, c := range []struct{ text, where, want string }{
		{"name,width\na,-140cm\n", "stall.csv:2:3", "negative"},
		{"name,width (cm)\na,-140\n", "stall.csv:2:3", "negative"},
		{"name,width (cm)\na,14000\n", "stall.csv:2:3", "a width of 14000 cm"},
		{"name,width (cm)\na,0\n", "stall.csv:2:3", "a width of 0 cm"},
		{"name,shrinkage warp\na,150%\n", "stall.csv:2:3", "too large"},
		{"name,shrink_warp_pct\na,150\n", "stall.csv:2:3", "a shrinkage of 150 %"},
		{"name,colour,content\nä,blue,60% coton\n", "stall.csv:2:8", `no fibre is called "coton"`},
		{"name,content\na,130% cotton\n", "stall.csv:2:3", "is no share"},
		{"name,weight\na,7O gsm\n", "stall.csv:2:3", ""},
		{"name,weight gsm\na,9000\n", "stall.csv:2:3", "too large"},
		{"name,length\na,\"1,250 m\"\n", "stall.csv:2:3", "can be read two ways"},
		{"name,bought\na,31/2/2026\n", "stall.csv:2:3", "is no date"},
		{"name,fray\na,often\n", "stall.csv:2:3", "is no grade"},
		{"name,colour\n\"two\nlines\",red,3\n", "stall.csv:2:1", "the row has 3 cells, the header 2"},
		{"name,colour\na\n", "stall.csv:2:1", "the row has 1 cells, the header 2"},
		{"name,colour\nb,x\n\"a,red\nc,blue\n", "stall.csv:3:1", "quotation mark"},
		{"name,measurements\na,{}\n", "stall.csv:2:3", "not as an export writes them"},
	} {
		im := imported(t, base(t), c.text, ImportOptions{})
		require.Len(t, im.Refused, 1, c.text)
		require.Equal(t, c.where, im.Refused[0].Fault.Where, c.text)
		require.Contains(t, im.Refused[0].Fault.What, c.want, c.text)
		require.Equal(t, fault.BadData, im.Refused[0].Fault.Kind)
	}
	im := imported(t, base(t), "name,colour\nb,x\n\"a,red\nc,blue\n", ImportOptions{})
	require.Len(t, im.Rows, 2, "an open quotation mark does not swallow the rows behind it")
	require.Equal(t, "c", im.Rows[1].Swatch.Name)
	require.Equal(t, 4, im.Rows[1].Line)
}

// TestSlipsOfTheStoreArePlacedToo: what only the store refuses is told with the place
// in the list.
func TestSlipsOfTheStoreArePlacedToo(t *testing.T) {
	b := stored(t)
	_, err := b.Records.AddSwatch(record.Swatch{Name: "Attic lawn"})
	require.NoError(t, err)
	text := "colour,name,light\nred,attic LAWN,\nblue,,\n\"b\x1b[31m\",c,\nx,y,purple\n" + strings.Repeat("z", 1000000) + ",d,\nok,e,dark\nok,e,dark\n"
	im := imported(t, b, text, ImportOptions{Map: map[string]string{"light": "lightness"}})
	require.Empty(t, im.Refused)
	kept, err := b.Keep(im, false, false)
	require.NoError(t, err)
	require.Zero(t, kept.Added)
	told := map[string]string{}
	for _, r := range kept.Refused {
		told[r.Fault.Where] = r.Column + " " + r.Fault.What
		require.Less(t, len(r.Fault.Error()), 500, "a million letters are not printed")
	}
	require.Contains(t, told["stall.csv:2:5"], `name there is a swatch "Attic lawn" already`)
	require.Contains(t, told["stall.csv:3:6"], "name name is empty")
	require.Contains(t, told["stall.csv:4:1"], "colour colour")
	require.Contains(t, told["stall.csv:5:5"], `light lightness "purple"`)
	require.Contains(t, told["stall.csv:6:1"], "colour colour has 1000000 letters")
	require.Contains(t, told["stall.csv:8:4"], "named in line 7 too")
	_, total, err := b.Swatches(record.SwatchFilter{}, 1, 0)
	require.NoError(t, err)
	require.Equal(t, 1, total, "one slip refuses the list")

	im = imported(t, b, text, ImportOptions{Map: map[string]string{"light": "lightness"}})
	dry, err := b.Keep(im, true, true)
	require.NoError(t, err)
	require.Equal(t, 1, dry.Added)
	_, total, _ = b.Swatches(record.SwatchFilter{}, 1, 0)
	require.Equal(t, 1, total, "a dry run changes nothing")
	im = imported(t, b, text, ImportOptions{Map: map[string]string{"light": "lightness"}})
	kept, err = b.Keep(im, true, false)
	require.NoError(t, err)
	require.Equal(t, 1, kept.Added)
	require.Len(t, kept.Refused, len(dry.Refused))

	// The refused rows stand in a file of their own, which reads again.
	rejects := string(im.Rejects(kept.Refused))
	require.True(t, strings.HasPrefix(rejects, "colour,name,light,rejected because\n"), rejects[:80])
	require.NotContains(t, rejects, "ok,e,dark\nok,e,dark")
	again := imported(t, b, strings.ReplaceAll(rejects, "purple", "white"), ImportOptions{Map: map[string]string{"light": "lightness"}})
	require.Len(t, again.Rows, 6)
	what, err := b.Records.Undo()
	require.NoError(t, err)
	require.Equal(t, "1 swatches imported", what)
}

// TestAPageInOneCellIsRefusedAtOnce: a million letters in any column are told
// briefly, and looked up in no list of names.
func TestAPageInOneCellIsRefusedAtOnce(t *testing.T) {
	page := strings.Repeat("cotton ", 150000)
	for _, c := range Columns {
		if c == "notes" || c == "name" {
			continue
		}
		b := stored(t)
		im := imported(t, b, "name,"+c+"\na,"+page+"\n", ImportOptions{})
		kept, err := b.Keep(im, false, true)
		require.NoError(t, err)
		require.NotEmpty(t, kept.Refused, c)
		for _, r := range kept.Refused {
			require.Less(t, len(r.Fault.Error()), 1500, c)
			require.Equal(t, "stall.csv:2:3", r.Fault.Where, c)
		}
	}
}

func TestFilesThatAreNoLists(t *testing.T) {
	for _, c := range []struct{ data, want string }{
		{"", "the file is empty"},
		{" \n\n", "the file is empty"},
		{"\xff\xfen\x00", "written in UTF-16"},
		{"PK\x03\x04xxxx", "a workbook, not CSV"},
		{"name\n\x00", "not text"},
		{"name,colour\nx,caf\xe9\n", `stall.csv:2:6: the byte e9 here is not UTF-8; in an old Western encoding it would be "é"`},
		{"{\"name\":\"x\"}", `no list of "swatches"`},
		{"[{\"name\":\"x\"", "breaks off"},
		{"[3]", "this is no swatch"},
		{"{\"swatches\":3}", "the swatches are no list"},
	} {
		_, err := base(t).ReadSwatches([]byte(c.data), ImportOptions{Name: "stall.csv"})
		require.ErrorContains(t, err, c.want, "%q", c.data)
		require.Equal(t, fault.BadData, fault.All(err)[0].Kind)
	}
}

func TestNoticesOfLists(t *testing.T) {
	im := imported(t, base(t), "name,type,bought\na,crepe,3/4/2026\nb,crepe,\nc,flurb,\n", ImportOptions{})
	require.Empty(t, im.Refused)
	require.Equal(t, "crepe", im.Rows[0].Swatch.SoldAs, "a ticket that names no cloth is kept as it is")
	say := fmt.Sprint(im.Notices)
	require.Equal(t, 1, strings.Count(say, `"crepe" fits`), "and told once: %s", say)
	require.Contains(t, say, `no cloth is called "flurb"`)
	require.Contains(t, say, "read with the day first")
	require.Equal(t, time.Date(2026, 4, 3, 0, 0, 0, 0, time.UTC), im.Rows[0].Swatch.Bought)
	us := imported(t, base(t), "name,bought\na,3/4/2026\nb,11/25/2026\n", ImportOptions{})
	require.Equal(t, time.Month(3), us.Rows[0].Swatch.Bought.Month(), "another row tells the order")
}

func TestContentOfLabels(t *testing.T) {
	b := base(t)
	for text, want := range map[string][]record.Part{
		"60% cotton 40% linen":         {{Fibre: "cotton", Percent: 60}, {Fibre: "linen", Percent: 40}},
		"Cotton 60, Linen 40":          {{Fibre: "cotton", Percent: 60}, {Fibre: "linen", Percent: 40}},
		"62,5 % wool / 37,5 % nylon":   {{Fibre: "wool", Percent: 62.5}, {Fibre: "nylon-6", Percent: 37.5}},
		"100% merino":                  {{Fibre: "wool", Percent: 100}},
		"silk":                         {{Fibre: "silk"}},
		"silk and wool":                {{Fibre: "silk"}, {Fibre: "wool"}},
		"95 cotton 5 spandex":          {{Fibre: "cotton", Percent: 95}, {Fibre: "elastane", Percent: 5}},
		"55% linen, 45% viscose rayon": {{Fibre: "linen", Percent: 55}, {Fibre: "viscose", Percent: 45}},
	} {
		got, err := b.ParseContent(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
		back, err := b.ParseContent(SayContent(got))
		require.NoError(t, err)
		require.Equal(t, got, back)
	}
	for text, want := range map[string]string{
		"": "no fibre is named", "60%": "60 % of nothing", "60% coton": `did you mean "cotton"`, "160% cotton": "is no share", "-5% cotton": "is no share", "60% fluff 40% lint": `"lint"`,
	} {
		_, err := b.ParseContent(text)
		require.ErrorContains(t, err, want, text)
	}
}

// TestExportsImportAgainWithoutLoss makes swatches at random, with every sign a text
// may hold, and takes them out and in by CSV and by JSON.
func TestExportsImportAgainWithoutLoss(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	signs := []string{"a", "é", "\"", "'", "=", "+", "-", "@", ",", ";", "|", " ", "½", "中", "0", "1.5", "%", "\\", "</td>", "{", "["}
	word := func(n int) string {
		var b strings.Builder
		for range 1 + r.IntN(n) {
			b.WriteString(signs[r.IntN(len(signs))])
		}
		return b.String()
	}
	maybe := func(s string) string {
		if r.IntN(2) == 0 {
			return ""
		}
		return s
	}
	fibreIDs := base(t).Cat.FibreNames.IDs()
	from := stored(t)
	for i := range 150 {
		w := record.Swatch{Name: fmt.Sprint(word(6), " ", i), SoldAs: maybe([]string{"cotton-lawn", word(4), "denim"}[r.IntN(3)]), Colour: maybe(word(5)), Price: maybe(word(5)), KeptWhere: maybe(word(5)),
			PicturePath: maybe("/p/" + word(5) + ".jpg"), Notes: maybe(word(8) + "\n" + word(8)), Lightness: maybe(record.Lightnesses[r.IntN(4)])}
		if r.IntN(2) == 0 {
			w.WidthCM = math.Round(r.Float64()*1e5+1) / 1e3 * []float64{1, 2.54}[r.IntN(2)]
		}
		if r.IntN(2) == 0 {
			l := r.Float64() * []float64{0, 1, 1000, 1e6}[r.IntN(4)]
			w.LengthCM = &l
		}
		if r.IntN(2) == 0 {
			w.Bought = time.Unix(r.Int64N(2e9), 0).UTC()
			if r.IntN(2) == 0 {
				w.Bought = w.Bought.Truncate(24 * time.Hour)
			}
		}
		if r.IntN(2) == 0 {
			w.Content = []record.Part{{Fibre: fibreIDs[r.IntN(len(fibreIDs))], Percent: math.Round(r.Float64()*50*8) / 8}}
			if r.IntN(2) == 0 {
				w.Content = append(w.Content, record.Part{Fibre: "fibre of " + word(3), Percent: r.Float64() * 50})
			}
		}
		k, err := from.Records.AddSwatch(w)
		require.NoError(t, err, "%+v", w)
		for range r.IntN(4) {
			_, err := from.Records.AddMeasurement(record.Measurement{SwatchID: k.ID, Kind: record.Kinds[r.IntN(len(record.Kinds))], Taken: time.Unix(r.Int64N(2e9), 0), Note: maybe(word(6)),
				Readings: []record.Reading{{"x": r.NormFloat64(), "word": word(4)}, {record.ReadingMass: 100 * r.Float64()}}})
			require.NoError(t, err)
		}
	}
	want := everything(t, from)
	for _, form := range []struct {
		name  string
		write func(*Base, *bytes.Buffer) (int, error)
	}{{"csv", func(b *Base, w *bytes.Buffer) (int, error) { return b.ExportCSV(w) }}, {"json", func(b *Base, w *bytes.Buffer) (int, error) { return b.ExportJSON(w) }}} {
		var file bytes.Buffer
		n, err := form.write(from, &file)
		require.NoError(t, err)
		require.Equal(t, 150, n)
		if form.name == "csv" {
			for _, cells := range cellsOf(t, file.Bytes()) {
				for _, c := range cells {
					require.False(t, c != "" && strings.ContainsRune("=+-@", rune(c[0])), "a formula: %q", c)
				}
			}
		}
		to := stored(t)
		im, err := to.ReadSwatches(file.Bytes(), ImportOptions{Name: "export"})
		require.NoError(t, err)
		require.Empty(t, im.Refused)
		kept, err := to.Keep(im, false, false)
		require.NoError(t, err)
		require.Empty(t, kept.Refused)
		require.Equal(t, 150, kept.Added)
		require.Equal(t, want, everything(t, to), form.name)
		var again bytes.Buffer
		_, err = form.write(to, &again)
		require.NoError(t, err)
		require.Equal(t, file.String(), again.String(), "written again it is the same file")
	}
}

func cellsOf(t *testing.T, data []byte) [][]string {
	t.Helper()
	l, err := readList("x", data)
	require.NoError(t, err)
	require.Empty(t, l.broken)
	var out [][]string
	for _, r := range l.rows {
		out = append(out, r.cells)
	}
	return out
}

// everything is what a store holds of swatches, without numbers and times of entry.
func everything(t *testing.T, b *Base) []record.SwatchJSON {
	t.Helper()
	ws, by, err := b.all()
	require.NoError(t, err)
	var out []record.SwatchJSON
	for _, w := range ws {
		out = append(out, record.SwatchOf(w, by[w.ID]))
	}
	return out
}

func FuzzReadSwatches(f *testing.F) {
	b := base(f)
	for _, s := range []string{
		"name,width\na,44\"\n", "name;length\nx;1,5\n", "\"a\nb\",c\n\"", "[{\"name\":\"x\",\"width\":3}]", "{\"swatches\":[{}]}", "sep=;\nname\n=1+1\n", "name,content,bought,shrink,measurements\na,60% wool,3/4/5,-3,[]\n",
		"name\n" + strings.Repeat("x", 300) + "\n", "fabric\tm\tyd\na\t1\t2\n", "name,name\na,b\n", "\xef\xbb\xbfname\r\nx\r\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		im, err := b.ReadSwatches(data, ImportOptions{Name: "x"})
		if err != nil {
			if fault.All(err)[0].What == "" {
				t.Fatal("an error without words")
			}
			return
		}
		bad := map[int]bool{}
		for _, r := range im.Refused {
			bad[r.Line] = true
			if r.Fault.What == "" || !strings.HasPrefix(r.Fault.Where, "x:") {
				t.Fatalf("a refusal without words or place: %+v", r.Fault)
			}
			if len(r.Fault.Error()) > 4000 {
				t.Fatalf("a refusal of %d bytes", len(r.Fault.Error()))
			}
		}
		if len(im.Rows)+len(bad) < im.Read {
			t.Fatalf("%d rows read, %d taken and %d refused: some are lost", im.Read, len(im.Rows), len(bad))
		}
		for _, r := range im.Rows {
			if w := r.Swatch.WidthCM; w != 0 && !(w > 0 && w <= 1000) {
				t.Fatalf("a width of %v", w)
			}
			if l := r.Swatch.LengthCM; l != nil && !(*l >= 0) {
				t.Fatalf("a length of %v", *l)
			}
		}
		if len(im.Refused) > 0 && len(im.Rejects(im.Refused)) == 0 {
			t.Fatal("refused rows that no file holds")
		}
	})
}

// A header that says what length the price is for says it of every bare figure.
func TestPriceOfWhatLength(t *testing.T) {
	for _, x := range []struct{ header, cell, want string }{
		{"price per yard", "8", "8 per yard"},
		{"Price (per metre)", "£12.50", "£12.50 per metre"},
		{"price per metre", "30 for 2.5 m", "30 for 2.5 m"},
		{"price per metre", "5 in all", "5 in all"},
		{"price per metre", "a gift", "a gift"},
		{"price", "8", "8"},
		{"paid", "£3 a yard", "£3 a yard"},
	} {
		require.Equal(t, x.want, one(t, "name,"+x.header+"\nred,"+x.cell+"\n").Swatch.Price, x.header)
	}
}

// The document in which a browser keeps records is a list of swatches to any
// import; what was removed stays removed.
func TestDocumentOfRecordsIsImported(t *testing.T) {
	m := memory.New()
	w, err := m.AddSwatch(record.Swatch{Name: "Attic lawn", SoldAs: "cotton-lawn", WidthCM: 140})
	require.NoError(t, err)
	gone, err := m.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 10.0}}})
	require.NoError(t, err)
	require.NoError(t, m.RemoveMeasurement(gone.ID))
	_, err = m.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 71.5}}})
	require.NoError(t, err)
	require.NoError(t, m.SetSetting("learn", false))
	raw, err := m.Write()
	require.NoError(t, err)

	b := base(t)
	b.Records = memory.New()
	im, err := b.ReadSwatches(raw, ImportOptions{})
	require.NoError(t, err)
	kept, err := b.Keep(im, false, false)
	require.NoError(t, err)
	require.Empty(t, kept.Refused)
	s, err := b.Swatch("attic lawn")
	require.NoError(t, err)
	require.Equal(t, 140.0, s.WidthCM)
	require.Len(t, s.Measurements, 1)
	require.Equal(t, 71.5, s.Measurements[0].Readings[0][record.ReadingMass])
}

// A weave by itself is no cloth: it is read with the fibres of its row.
func TestWeaveIsReadWithItsFibre(t *testing.T) {
	b := stored(t)
	im := imported(t, b, "name,content,weave\na,silk,pile\nb,wool,twill\nc,cotton,twill\nd,cotton,lawn\n", ImportOptions{})
	require.Len(t, im.Rows, 4)
	for _, r := range im.Rows {
		if k := b.Cat.Cloths[r.Swatch.SoldAs]; k != nil {
			holds := false
			for _, p := range k.Content {
				holds = holds || p.Fibre.ID == r.Swatch.Content[0].Fibre
			}
			require.True(t, holds, "%s of %s became %s", r.Swatch.Name, r.Swatch.Content[0].Fibre, k.ID)
		}
	}
	require.NotEqual(t, "polar-fleece", im.Rows[0].Swatch.SoldAs)
	require.NotEqual(t, "cotton-twill", im.Rows[1].Swatch.SoldAs)
	require.Equal(t, "cotton-lawn", im.Rows[3].Swatch.SoldAs)
	require.Contains(t, fmt.Sprint(im.Notices), `"pile"`, "what was left open is said")
}

func TestCellsThatSayNothingIsKnown(t *testing.T) {
	im := imported(t, stored(t), "name,width cm,mass gsm,bought,fray\na,n/a,unknown,?,-\n", ImportOptions{})
	require.Empty(t, im.Refused)
	require.Zero(t, im.Rows[0].Swatch.WidthCM)
	require.Empty(t, im.Rows[0].Measured)
}

func TestEveryLineOfAnotherEncodingIsNamed(t *testing.T) {
	_, err := base(t).ReadSwatches([]byte("name\ncaf\xe9\nok\ncr\xeape\n"), ImportOptions{Name: "stall.csv"})
	require.ErrorContains(t, err, "stall.csv:2:4")
	require.ErrorContains(t, err, "stall.csv:4:3")
}

func TestDoubtfulFiguresAreNoticed(t *testing.T) {
	im := imported(t, stored(t), "name,weight,shrink warp\na,12 oz,0.04\nb,10 oz,0.05\n", ImportOptions{})
	require.Empty(t, im.Refused)
	said := fmt.Sprint(im.Notices)
	require.Equal(t, 1, strings.Count(said, "square yard"), "once a column")
	require.Equal(t, 1, strings.Count(said, "not 4 %"))
}

// Units of a header hold to the figure: a length in millimetres is not ten times
// shorter, nor one in yards a metre.
func TestLengthsAreInTheUnitOfTheirHeader(t *testing.T) {
	for header, want := range map[string]float64{"length mm": 125, "length cm": 1250, "length (m)": 125000, "length in inches": 3175, "length yd": 114300} {
		im := imported(t, stored(t), "name,"+header+"\na,1250\n", ImportOptions{})
		require.Empty(t, im.Refused, header)
		require.InDelta(t, want, *im.Rows[0].Swatch.LengthCM, 1e-6, header)
	}
}

// A byte of another encoding is told with the letter it would be, where it would be one.
func TestLettersOfAnOldEncoding(t *testing.T) {
	for b, letter := range map[string]string{"\xe9": `"é"`, "\xa1": `"¡"`, "\xa0": "", "\x92": "", "\xff": `"ÿ"`} {
		_, err := base(t).ReadSwatches([]byte("name\ncaf"+b+"\n"), ImportOptions{Name: "stall.csv"})
		if letter == "" {
			require.NotContains(t, err.Error(), "old Western encoding", "%q", b)
			continue
		}
		require.ErrorContains(t, err, "in an old Western encoding it would be "+letter)
	}
}

// Whether ounces are of a square or a running yard is said where the header leaves it open.
func TestOuncesOfWhichYard(t *testing.T) {
	for header, said := range map[string]int{"weight oz": 1, "weight (oz/yd2)": 0, "mass_oz": 1} {
		im := imported(t, stored(t), "name,"+header+"\na,5\nb,6\n", ImportOptions{})
		require.Empty(t, im.Refused, header)
		require.Equal(t, said, strings.Count(fmt.Sprint(im.Notices), "square yard"), "%s %v", header, im.Columns)
		require.NotEmpty(t, im.Rows[0].Measured, "%s %v", header, im.Columns)
		require.InDelta(t, 5*33.906, im.Rows[0].Measured[0].Readings[0][record.ReadingMass], 0.01, header)
	}
}

// Noughts in a column tell nothing of its unit.
func TestNoughtsTellNoUnit(t *testing.T) {
	im := imported(t, stored(t), "name,weight\na,0\nb,0\nc,0\nd,150\n", ImportOptions{})
	require.Contains(t, fmt.Sprint(im.Notices), "bare figures are taken as")
	require.InDelta(t, 150.0, im.Rows[len(im.Rows)-1].Measured[0].Readings[0][record.ReadingMass], 1e-9)
}

// Days of people, to the end of the year and of the month.
func TestDaysOfPeople(t *testing.T) {
	for text, want := range map[string]string{"31/12/2025": "2025-12-31", "12/31/2025": "", "29/02/2024": "2024-02-29", "29/02/2025": "", "1 Dec 2025": "2025-12-01", "December 2025": "2025-12-01", "2025-12": "2025-12-01", "2200": "2200-01-01", "2201": ""} {
		im := imported(t, base(t), "name,bought\na,\""+text+"\"\nb,25/11/2025\n", ImportOptions{})
		if want == "" {
			require.Len(t, im.Refused, 1, text)
			continue
		}
		require.Empty(t, im.Refused, text)
		require.Equal(t, want, im.Rows[0].Swatch.Bought.Format(time.DateOnly), text)
	}
}
