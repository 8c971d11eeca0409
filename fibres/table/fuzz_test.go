package table

import (
	"bytes"
	"errors"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

var place = regexp.MustCompile(`^m\.csv:[1-9][0-9]*:[1-9][0-9]*$`)

// FuzzRead: nothing panics; every finding has a place inside the file; every
// cell of every row can be placed, at a line and column the file has, and the
// text of the cell begins there.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"", "of,id\n", "of,id\ncloth,x\n", "\ufeffof,id\r\ncloth,\"a\nb\"\r\n", "of,id\ncloth,\"x\n", "of;id\n", "of,id\n\n\ncloth,é\n", "of,id\n\xff,x\n",
		"of,id\ncloth,x,y\n\"a\"b,c\n", "of,id\rcloth,x", "id,of\n \"x\",y\n", "of,id\n\"\"\"\",x\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		tab, err := Read("m.csv", bytes.Clone(data), []string{"of", "id"})
		require.NotNil(t, tab)
		if err != nil {
			var l fault.List
			require.True(t, errors.As(err, &l))
			for _, x := range l {
				require.Regexp(t, place, x.Where)
				require.NotEmpty(t, x.What)
			}
		}
		lines := strings.Split(strings.TrimPrefix(string(data), "\ufeff"), "\n")
		for i := range tab.Rows {
			r := &tab.Rows[i]
			for j := range tab.Columns {
				c := r.At(j)
				require.Equal(t, c, r.At(j))
				line, column := c.Place()
				require.LessOrEqual(t, line, len(lines))
				text := lines[line-1]
				require.LessOrEqual(t, column-1, utf8.RuneCountInString(text))
				_, _, _ = c.Float(0, 1, "")
				_ = c.List()
				if utf8.ValidString(text) && c.Text != "" && !strings.ContainsAny(c.Text, "\"\n\r") {
					here := strings.TrimSpace(string([]rune(text)[column-1:]))
					require.True(t, strings.HasPrefix(here, c.Text) || strings.HasPrefix(here, `"`), "%q at %d:%d of %q", c.Text, line, column, text)
				}
			}
		}
	})
}
