package literal

import (
	"go/parser"
	"go/token"
	"testing"

	"github.com/stretchr/testify/require"
)

type inner struct {
	N    []float64
	Next *inner
}

type outer struct {
	Name   string
	hidden int
	List   []inner
	To     *inner
}

func TestPrinted(t *testing.T) {
	known := &inner{N: []float64{1}}
	p := New("tenter/fibres/literal")
	p.Name(known, "knowns[0]")
	p.Var("x", []outer{{Name: `a "b"`, hidden: 3, List: []inner{{N: []float64{0.1, 2}}, {}}, To: known}, {To: &inner{Next: known}}})
	p.Array("knowns", []inner{*known})
	p.Array("none", []inner{})
	got := p.Source("// Code generated; DO NOT EDIT.")
	require.Contains(t, got, `var knowns = [...]inner{{N:[]float64{1}}}`)
	require.Contains(t, got, `var none = [...]inner{}`)
	require.Contains(t, got, `var x = []outer{{Name:"a \"b\"",hidden:3,List:[]inner{{N:[]float64{0.1,2}},{}},To:&knowns[0]},{To:&inner{Next:&knowns[0]}}}`)
	_, err := parser.ParseFile(token.NewFileSet(), "x.go", got, 0)
	require.NoError(t, err)
}

func TestWhatHasNoLiteralPanics(t *testing.T) {
	require.Panics(t, func() { New("x").Var("m", map[string]int{"a": 1}) })
}
