package table

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// cell makes a table of one cell.
func cell(t *testing.T, text string) Cell {
	t.Helper()
	tab, err := Read("data/mass.csv", []byte("id,mass_gsm_low\nx,"+text+"\n"), []string{"id", "mass_gsm_low"})
	require.NoError(t, err)
	return tab.Rows[0].Cell("mass_gsm_low")
}

func TestFloat(t *testing.T) {
	for _, c := range []struct {
		text string
		v    float64
		ok   bool
	}{
		{"60", 60, true}, {"60.5", 60.5, true}, {" 60 ", 60, true}, {"5", 5, true}, {"2000", 2000, true}, {"6e1", 60, true}, {"", 0, false}, {"  ", 0, false},
	} {
		v, ok, f := cell(t, c.text).Float(5, 2000, "g/m2")
		require.Nil(t, f, c.text)
		require.Equal(t, c.v, v, c.text)
		require.Equal(t, c.ok, ok, c.text)
	}
}

func TestFloatRefusals(t *testing.T) {
	for _, c := range []struct{ text, what, mend string }{
		{"7O", `mass_gsm_low is "7O", not a number`, "a letter O stands where a zero was meant"},
		{"l20", `mass_gsm_low is "l20", not a number`, "a letter stands where a figure 1 was meant"},
		{"\"7,5\"", `mass_gsm_low is "7,5", not a number`, "write the decimal point as a point: 7.5"},
		{"80 g/m2", `mass_gsm_low is "80 g/m2", not a number`, "write the number alone; the column names the unit"},
		{"n/a", `mass_gsm_low is "n/a", not a number`, "leave the cell empty where the value is not known"},
		{"–", `mass_gsm_low is "–", not a number`, "leave the cell empty where the value is not known"},
		{"NaN", `mass_gsm_low is "NaN", not a number`, "leave the cell empty where the value is not known"},
		{"Inf", `mass_gsm_low is "Inf", not a number`, ""},
		{"0x50", `mass_gsm_low is "0x50", not a number`, "write the number alone; the column names the unit"},
		{"light", `mass_gsm_low is "light", not a number`, ""},
		{"1e400", `mass_gsm_low is "1e400", not a number`, "write the number alone; the column names the unit"},
		{"4.9", "mass_gsm_low is 4.9, outside what it can be", ""},
		{"2001", "mass_gsm_low is 2001, outside what it can be", ""},
		{"-60", "mass_gsm_low is -60, outside what it can be", ""},
	} {
		t.Run(c.text, func(t *testing.T) {
			v, ok, f := cell(t, c.text).Float(5, 2000, "g/m2")
			require.NotNil(t, f)
			require.False(t, ok)
			require.Zero(t, v)
			require.Equal(t, c.what, f.What)
			require.Equal(t, c.mend, f.Mend)
			require.Equal(t, "g/m2, 5 to 2000", f.Expected)
			require.Equal(t, "data/mass.csv:2:3", f.Where)
		})
	}
}

func TestWord(t *testing.T) {
	scale := []string{"none", "low", "medium", "high"}
	i, ok, f := cell(t, "medium").Word(scale)
	require.Nil(t, f)
	require.True(t, ok)
	require.Equal(t, 2, i)
	i, ok, f = cell(t, "none").Word(scale)
	require.Nil(t, f)
	require.True(t, ok, "the first word of a scale is a word, not an empty cell")
	require.Zero(t, i)
	_, ok, f = cell(t, "").Word(scale)
	require.Nil(t, f)
	require.False(t, ok)
	_, ok, f = cell(t, "medum").Word(scale)
	require.False(t, ok)
	require.Equal(t, `data/mass.csv:2:3: mass_gsm_low is "medum", which is not on its scale
  expected: none, low, medium, high
  mend: did you mean "medium"?`, f.Error())
}

func TestList(t *testing.T) {
	require.Equal(t, []string{"cotton", "linen flax", "silk"}, cell(t, " cotton; linen flax ;;silk;").List())
	require.Nil(t, cell(t, "").List())
	require.Nil(t, cell(t, ";").List())
}

func TestRequired(t *testing.T) {
	text, f := cell(t, "x").Required()
	require.Nil(t, f)
	require.Equal(t, "x", text)
	_, f = cell(t, " ").Required()
	require.Equal(t, "mass_gsm_low is empty", f.What)
}

func TestID(t *testing.T) {
	for text, good := range map[string]bool{
		"cotton-lawn": true, "denier-40": true, "a": true, "2-2-twill": true,
		"Cotton-lawn": false, "cotton_lawn": false, "-lawn": false, "lawn-": false, "cotton--lawn": false, "cotton lawn": false, "crêpe": false, "": false,
	} {
		require.Equal(t, good, IsID(text), text)
		id, f := cell(t, text).ID()
		if good {
			require.Nil(t, f)
			require.Equal(t, text, id)
		} else {
			require.NotNil(t, f, text)
			require.Empty(t, id)
		}
	}
}

func TestZeroCellHasNoPlace(t *testing.T) {
	var c Cell
	require.Empty(t, c.Where())
	require.Empty(t, c.Text)
	line, column := c.Place()
	require.Equal(t, [2]int{1, 1}, [2]int{line, column})
}
