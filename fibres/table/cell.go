package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tenter/fibres/fault"
)

// Cell is one cell and where it stands. Text is without spaces at either end;
// empty means not known.
type Cell struct {
	Text string

	row    *Row
	column string
	index  int // -1 for a column the table does not have
}

// Place is the line and the column, in characters, both from 1.
func (c Cell) Place() (line, column int) {
	if c.row == nil {
		return 1, 1
	}
	return c.row.place(c.index)
}

// Where is the place as it is printed: "data/mass.csv:41:13".
func (c Cell) Where() string {
	if c.row == nil {
		return ""
	}
	return c.row.table.at(c.Place())
}

// Fault is a finding of bad data in this cell.
func (c Cell) Fault(what, expected, mend string) *fault.Fault {
	return &fault.Fault{Kind: fault.BadData, Where: c.Where(), What: what, Expected: expected, Mend: mend}
}

// Required returns the text, or a finding when the cell is empty.
func (c Cell) Required() (string, *fault.Fault) {
	if c.Text == "" {
		return "", c.Fault(c.column+" is empty", "a value in every row", "")
	}
	return c.Text, nil
}

// ID returns an id: lower-case ASCII words joined by hyphens. An empty cell or
// any other text is a finding.
func (c Cell) ID() (string, *fault.Fault) {
	if _, f := c.Required(); f != nil {
		return "", f
	}
	if !IsID(c.Text) {
		return "", c.Fault(fmt.Sprintf("%s is %q, not an id", c.column, c.Text),
			"lower-case letters, figures and single hyphens, such as cotton-lawn", "")
	}
	return c.Text, nil
}

// IsID reports whether s is written as an id: "cotton-lawn", "denier-40".
func IsID(s string) bool {
	hyphen := true // none at the start
	for i := 0; i < len(s); i++ {
		switch b := s[i]; {
		case 'a' <= b && b <= 'z', '0' <= b && b <= '9':
			hyphen = false
		case b == '-' && !hyphen:
			hyphen = true
		default:
			return false
		}
	}
	return !hyphen
}

// Float returns the number in the cell, ends of the range included. ok is false
// for an empty cell, and with a finding. unit is for the message.
func (c Cell) Float(low, high float64, unit string) (v float64, ok bool, f *fault.Fault) {
	if c.Text == "" {
		return 0, false, nil
	}
	expected := func() string {
		s := fmt.Sprintf("%s to %s", plain(low), plain(high))
		if unit != "" {
			s = unit + ", " + s
		}
		return s
	}
	v, ok = decimal(c.Text)
	if !ok {
		return 0, false, c.Fault(fmt.Sprintf("%s is %q, not a number", c.column, c.Text), expected(), hint(c.Text))
	}
	if !(v >= low && v <= high) {
		return 0, false, c.Fault(fmt.Sprintf("%s is %s, outside what it can be", c.column, c.Text), expected(), "")
	}
	return v, true, nil
}

// decimal reads a plain decimal number. ParseFloat also takes hexadecimal,
// "inf", "nan" and underscores; nobody means them.
func decimal(s string) (float64, bool) {
	for i := 0; i < len(s); i++ {
		switch b := s[i]; {
		case '0' <= b && b <= '9', b == '.', b == '+', b == '-', b == 'e', b == 'E':
		default:
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// hint guesses how a number that is none came about.
func hint(s string) string {
	if _, ok := decimal(strings.NewReplacer("O", "0", "o", "0").Replace(s)); ok {
		return "a letter O stands where a zero was meant"
	}
	if _, ok := decimal(strings.NewReplacer("l", "1", "I", "1").Replace(s)); ok {
		return "a letter stands where a figure 1 was meant"
	}
	if p := strings.Replace(s, ",", ".", 1); p != s {
		if _, ok := decimal(p); ok {
			return "write the decimal point as a point: " + p
		}
	}
	switch strings.ToLower(s) {
	case "-", "–", "—", "?", "n/a", "na", "nan", "unknown", "none", "null":
		return "leave the cell empty where the value is not known"
	}
	if s[0] >= '0' && s[0] <= '9' {
		return "write the number alone; the column names the unit"
	}
	return ""
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Word returns the place on a scale of the word in the cell, from 0. ok is false
// for an empty cell, and with a finding.
func (c Cell) Word(scale []string) (i int, ok bool, f *fault.Fault) {
	if c.Text == "" {
		return 0, false, nil
	}
	if i = slices.Index(scale, c.Text); i >= 0 {
		return i, true, nil
	}
	return 0, false, c.Fault(fmt.Sprintf("%s is %q, which is not on its scale", c.column, c.Text),
		strings.Join(scale, ", "), fault.DidYouMean(c.Text, scale, ""))
}

// List is the items of the cell, as [List] parts them.
func (c Cell) List() []string { return List(c.Text) }

// List splits a text at its semicolons. Spaces round an item and empty items are
// dropped; an empty text gives nil.
func List(text string) []string {
	if text == "" {
		return nil
	}
	var out []string
	for item := range strings.SplitSeq(text, ";") {
		if item = strings.TrimSpace(item); item != "" {
			out = append(out, item)
		}
	}
	return out
}
