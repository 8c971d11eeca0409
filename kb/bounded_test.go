package kb_test

import (
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tenter/kb"
)

// endless gives one letter for ever, and counts how many were taken.
type endless struct{ taken int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	e.taken += len(p)
	return len(p), nil
}

func TestReadListStopsAtALongLine(t *testing.T) {
	for name, c := range map[string]struct{ begins, where, what string }{
		"the first line of CSV":  {"", "l:1:1", "this line has over 1 MB"},
		"a later line of CSV":    {"name,width\nsateen,150\r\ncrepe,140\n", "l:4:1", "this line has over 1 MB"},
		"a text of JSON":         {"{\"swatches\":[\n{\"name\":\"sateen\"},\n{\"name\":\"", "l:3:1", "a text here has over 1 MB"},
		"JSON behind blank ones": {"\n\n [{\"name\":\"", "l:3:1", "a text here has over 1 MB"},
	} {
		rest := &endless{}
		_, err := kb.ReadList("l", io.MultiReader(strings.NewReader(c.begins), rest))
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.where, name)
		assert.Contains(t, err.Error(), c.what, name)
		assert.Less(t, rest.taken, 2<<20, "%s: no more is read than shows it", name)
	}
}

func TestReadListTakesWhatListsHold(t *testing.T) {
	wide := strings.Repeat("a theatre's notes, ", 50_000) // 950 kB on a line
	for name, list := range map[string]string{
		"nothing":                  "",
		"a wide line":              "name,notes\nsateen,\"" + wide + "\"\n",
		"many lines":               strings.Repeat("sateen,150\n", 300_000),
		"JSON on one line, 2.6 MB": "[" + strings.Repeat(`{"name":"sateen"},`, 150_000) + `{"name":"crepe"}]`,
	} {
		got, err := kb.ReadList("l", strings.NewReader(list))
		require.NoError(t, err, name)
		assert.Equal(t, list, string(got), name)
	}
}
