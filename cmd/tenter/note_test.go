package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
)

// A name typed without quotes before the text of a note is found whatever thing it is of.
func TestNoNameIsLongerThanIsLookedFor(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	for _, x := range things(adv) {
		if x.kind == "source" {
			continue // named by its id
		}
		for _, name := range append(x.also, x.name) {
			require.LessOrEqual(t, len(strings.Fields(name)), maxNameWords, name)
		}
	}
	for _, c := range adv.Cat.ClothList() {
		for _, name := range append(c.Names(), c.Name) {
			require.LessOrEqual(t, len(strings.Fields(name)), maxNameWords, name)
		}
	}
}
