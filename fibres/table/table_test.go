package table

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

var wanted = []string{"of", "id", "mass_gsm_low", "basis", "note"}

func read(t *testing.T, text string) *Table {
	t.Helper()
	got, err := Read("data/mass.csv", []byte(text), wanted)
	require.NoError(t, err)
	return got
}

// findings reads a table that has something wrong and returns place and message.
func findings(t *testing.T, text string, want []string) (*Table, fault.List) {
	t.Helper()
	tab, err := Read("m.csv", []byte(text), want)
	require.Error(t, err)
	require.NotNil(t, tab, "what could be read is handed back")
	var l fault.List
	require.True(t, errors.As(err, &l))
	for _, f := range l {
		require.Equal(t, fault.BadData, f.Kind)
		require.NotEmpty(t, f.Where)
	}
	return tab, l
}

func TestCellsByName(t *testing.T) {
	tab := read(t, "of,id,mass_gsm_low,basis,note\ncloth,cotton-lawn, 60 ,practice,\"light, thin\"\n")
	require.Equal(t, wanted, tab.Columns)
	require.Len(t, tab.Rows, 1)
	r := &tab.Rows[0]
	require.Equal(t, "cotton-lawn", r.Cell("id").Text)
	require.Equal(t, "60", r.Cell("mass_gsm_low").Text, "without spaces at the ends")
	require.Equal(t, "light, thin", r.Cell("note").Text)
	require.Equal(t, "cotton-lawn", r.At(tab.Index("id")).Text)
	require.Empty(t, r.Cell("colour").Text, "a column that is not there")
	require.Empty(t, r.At(-1).Text)
	require.Empty(t, r.At(99).Text)
}

func TestColumnsMayStandInAnyOrder(t *testing.T) {
	tab := read(t, "note,basis,mass_gsm_low,id,of\n,practice,60,cotton-lawn,cloth\n")
	require.Equal(t, "cotton-lawn", tab.Rows[0].Cell("id").Text)
}

func TestPlacesCountCharacters(t *testing.T) {
	for _, c := range []struct {
		name, text, column, want string
	}{
		{"plain", "of,id,mass_gsm_low,basis,note\ncloth,x,60,b,n\n", "mass_gsm_low", "data/mass.csv:2:9"},
		{"first", "of,id,mass_gsm_low,basis,note\ncloth,x,60,b,n\n", "of", "data/mass.csv:2:1"},
		{"after letters of two bytes", "of,id,mass_gsm_low,basis,note\ncloth,Öß,60,b,n\n", "basis", "data/mass.csv:2:13"},
		{"quoted", "of,id,mass_gsm_low,basis,note\ncloth,\"a,b\",60,b,n\n", "mass_gsm_low", "data/mass.csv:2:13"},
		{"after a cell of two lines", "of,id,mass_gsm_low,basis,note\ncloth,\"a\nbé\",60,b,n\n", "mass_gsm_low", "data/mass.csv:3:5"},
		{"with byte-order mark", "\ufeffof,id,mass_gsm_low,basis,note\ncloth,x,60,b,n\n", "mass_gsm_low", "data/mass.csv:2:9"},
		{"with CRLF", "of,id,mass_gsm_low,basis,note\r\ncloth,x,60,b,n\r\n", "mass_gsm_low", "data/mass.csv:2:9"},
		{"after blank lines", "of,id,mass_gsm_low,basis,note\n\n\ncloth,x,60,b,n\n", "mass_gsm_low", "data/mass.csv:4:9"},
		{"no line feed at the end", "of,id,mass_gsm_low,basis,note\ncloth,x,60,b,n", "note", "data/mass.csv:2:14"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tab := read(t, c.text)
			require.Equal(t, c.want, tab.Rows[0].Cell(c.column).Where())
		})
	}
}

func TestPlacesOfLaterRows(t *testing.T) {
	tab := read(t, "of,id,mass_gsm_low,basis,note\ncloth,a,1,b,\"two\nlines\"\n\ncloth,b,2,b,n\ncloth,c,3,b,n\n")
	require.Equal(t, []string{"data/mass.csv:2:1", "data/mass.csv:5:1", "data/mass.csv:6:1"},
		[]string{tab.Rows[0].Where(), tab.Rows[1].Where(), tab.Rows[2].Where()})
	line, column := tab.Rows[2].Cell("basis").Place()
	require.Equal(t, [2]int{6, 11}, [2]int{line, column})
	require.Equal(t, "data/mass.csv:5:1", tab.Rows[1].Cell("nonsense").Where(), "a column that is not there is placed at its row")
	require.Equal(t, "data/mass.csv:5:1", tab.Rows[1].Fault("x", "", "").Where)
}

func TestCRLFLeavesNoReturnInTheText(t *testing.T) {
	tab := read(t, "\ufeffof,id,mass_gsm_low,basis,note\r\ncloth,x,60,b,last\r\n")
	require.Equal(t, "of", tab.Columns[0])
	require.Equal(t, "last", tab.Rows[0].Cell("note").Text)
}

func TestWrongHeader(t *testing.T) {
	for _, c := range []struct {
		name, header string
		want         []string // where, then what, of each finding
		mend         string   // of the first
	}{
		{"misspelt", "of,id,mas_gsm_low,basis,note", []string{"m.csv:1:7", `unknown column "mas_gsm_low"`}, `did you mean "mass_gsm_low"?`},
		{"missing", "of,id,basis,note", []string{"m.csv:1:1", `column "mass_gsm_low" is missing`}, ""},
		{"extra", "of,id,mass_gsm_low,basis,note,wardrobe", []string{"m.csv:1:31", `unknown column "wardrobe"`}, "leave it out"},
		{"twice", "of,id,id,mass_gsm_low,basis,note", []string{"m.csv:1:7", `column "id" stands twice`}, ""},
		{"nameless", "of,id,,mass_gsm_low,basis,note", []string{"m.csv:1:7", "column 3 has no name"}, ""},
		{"two things", "of,id,basis,note,colour", []string{"m.csv:1:1", `column "mass_gsm_low" is missing`, "m.csv:1:18", `unknown column "colour"`}, ""},
		{"semicolons", "of;id;mass_gsm_low;basis;note", []string{"m.csv:1:1", "the cells are parted by semicolons"}, "save it again with commas; a decimal comma becomes a point"},
		{"tabs", "of\tid\tmass_gsm_low\tbasis\tnote", []string{"m.csv:1:1", "the cells are parted by tabs"}, "save it again with commas; a decimal comma becomes a point"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, l := findings(t, c.header+"\n", wanted)
			var got []string
			for _, f := range l {
				got = append(got, f.Where, f.What)
			}
			require.Equal(t, c.want, got)
			require.Equal(t, c.mend, l[0].Mend)
		})
	}
}

// Rows that have the cell of a column that the header lacks are not each told of.
func TestAMissingColumnIsToldOnce(t *testing.T) {
	_, l := findings(t, "of,id,basis,note\ncloth,silk,1,practice,\ncloth,wool,2,practice,\n", wanted)
	require.Len(t, l, 1)
	require.Equal(t, `column "mass_gsm_low" is missing`, l[0].What)
}

func TestAnyHeaderWillDoWhereNoneIsWanted(t *testing.T) {
	tab, err := Read("wardrobe.csv", []byte("cloak,ells\nred,4\n"), nil)
	require.NoError(t, err)
	require.Equal(t, "4", tab.Rows[0].Cell("ells").Text)
	tab, err = Read("wardrobe.csv", []byte("cloak\nred\n"), nil)
	require.NoError(t, err)
	require.Equal(t, "red", tab.Rows[0].Cell("cloak").Text)
}

func TestFilesThatAreNoCSV(t *testing.T) {
	for _, c := range []struct{ name, text, what string }{
		{"empty", "", "the file is empty"},
		{"mark alone", "\ufeff", "the file is empty"},
		{"blank lines alone", "\n\n\n", "the file is empty"},
		{"UTF-16", "\xff\xfeo\x00f\x00", "the file is written in UTF-16"},
		{"UTF-16 the other way", "\xfe\xff\x00o\x00f", "the file is written in UTF-16"},
		{"workbook", "PK\x03\x04rest", "the file is a workbook, not CSV"},
		{"not text", "of,id\x00\n", "the file is not text"},
		{"old line ends", "of,id\rcloth,x\r", "the lines end in a carriage return alone"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, l := findings(t, c.text, wanted)
			require.Len(t, l, 1, "one finding, not one for each line")
			require.Equal(t, c.what, l[0].What)
			require.Equal(t, "m.csv:1:1", l[0].Where)
		})
	}
}

func TestInvalidBytesAreNamedByLine(t *testing.T) {
	tab, l := findings(t, "of,id,mass_gsm_low,basis,note\ncloth,x,60,b,n\ncloth,é\xe9,60,b,n\ncloth,y,\xff,b,\xff\n", wanted)
	require.Len(t, l, 2, "one for each line")
	require.Equal(t, "m.csv:3:8", l[0].Where)
	require.Equal(t, "the byte e9 here is not UTF-8", l[0].What)
	require.Equal(t, "m.csv:4:9", l[1].Where)
	require.Len(t, tab.Rows, 3)
}

func TestWrongNumberOfCells(t *testing.T) {
	tab, l := findings(t, "of,id,mass_gsm_low,basis,note\ncloth,x,60,b\ncloth,y,60,b,light, thin\ncloth,z,60,b,n\n", wanted)
	require.Len(t, l, 2)
	require.Equal(t, "m.csv:2:1: the row has 4 cells, the header 5\n  expected: one cell for each column\n  mend: what is not known is an empty cell, and keeps its comma", l[0].Error())
	require.Equal(t, "m.csv:3:1", l[1].Where)
	require.Contains(t, l[1].Mend, "double quotes")
	require.Len(t, tab.Rows, 1, "the good row is kept")
	require.Equal(t, "z", tab.Rows[0].Cell("id").Text)
}

func TestQuotationMarks(t *testing.T) {
	_, l := findings(t, "of,id,mass_gsm_low,basis,note\ncloth,é,60,b,a 44\" cloth\ncloth,y,60,b,n\n", wanted)
	require.Len(t, l, 1)
	require.Equal(t, "m.csv:2:18", l[0].Where)
	require.Contains(t, l[0].What, "a quotation mark stands in a cell")

	_, l = findings(t, "of,id,mass_gsm_low,basis,note\ncloth,x,60,b,\"never closed\ncloth,y,60,b,n\n", wanted)
	require.Len(t, l, 1)
	require.Equal(t, "m.csv:2:1", l[0].Where, "where it opens, not the end of the file")

	_, l = findings(t, "of,id,mass_gsm_low,basis,note\ncloth,x,60,b,\"closed\" early\ncloth,y,60,b,n\n", wanted)
	require.Contains(t, l[0].What, "closes too early")

	_, l = findings(t, "of,\"id\ncloth,x\n", wanted)
	require.Len(t, l, 1, "without a header nothing else can be judged")
}

func TestFaultsOfWholeFileStandInOrder(t *testing.T) {
	var sb strings.Builder
	sb.WriteString("of,id,mass_gsm_low,basis,note\n")
	for range 12 {
		sb.WriteString("cloth,x\n")
	}
	_, l := findings(t, sb.String(), wanted)
	require.Len(t, l, 12)
	require.Equal(t, "m.csv:2:1", l[0].Where)
	require.Equal(t, "m.csv:13:1", l[11].Where)
}

func TestSpacedHeaderIsTheSameHeader(t *testing.T) {
	tab := read(t, "of, id, mass_gsm_low, basis, note\ncloth, x, 60, b, n\n")
	require.Equal(t, "x", tab.Rows[0].Cell("id").Text)
}
