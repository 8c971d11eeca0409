package fibres

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A fact counts as published only where its source gives every figure of it.
func TestWhatAFactCountsAs(t *testing.T) {
	for want, f := range map[string]FactRow{
		"published":         {Basis: Published, Given: GivesAll},
		"published in part": {Basis: Published, Given: GivesLow | GivesHigh},
		"published word":    {Basis: Practice, Word: Published, Given: GivesWord},
		"memory":            {Basis: Memory, Given: GivesLow},
		"practice":          {Basis: Practice},
	} {
		require.Equal(t, want, f.CountsAs())
	}
	require.Equal(t, "published; low ours", FactRow{Basis: Published, Given: GivesTypical | GivesHigh}.Rests())
}

// A fact has a name that a maker reads.
func TestNamesOfFacts(t *testing.T) {
	for property, want := range map[string]string{"mass": "mass", "show-through": "show-through", "recovery 5": "recovery, from 5 % stretch", "shrink warp later-wash": "shrink, warp, five washes",
		"moisture us": "moisture, US regain", "effect on mass": "effect on mass", "bend overall": "bending length, overall"} {
		require.Equal(t, want, FactRow{Property: property}.Name())
	}
}

// The list of facts holds each with its unit and its digits, in the order of property,
// thing and id.
func TestFactsAreListedAsTheyStand(t *testing.T) {
	c, k := toy(toyRow{"cloth", "stuff", "mass", 100, 120, 150}, toyRow{"cloth", "stuff", "pressing-limit", 150, 150, 150}, toyRow{"cloth", "stuff", "fray", 0, 1, 1},
		toyRow{"fibre", "down", "mass", 1, 1, 1})
	cite := Cite{Basis: Practice, Source: "practice"}
	c.scalars[ref{"fibre", "down", "moisture"}] = []Scalar{{Key: "eu", Value: 18.25, Cite: cite}}
	c.scalars[ref{"fibre", "down", "dots"}] = []Scalar{{Value: 2, Cite: cite}}
	c.effects[ref{"treatment", "x", "effects"}] = []effect{{property: "mass", low: 0.5, typical: 1, high: 1.25, Cite: cite}, {property: "fray", low: -1, typical: 0, high: 0, Cite: cite}}
	var said []string
	for _, f := range c.Facts() {
		said = append(said, f.Property+" of "+f.ID+": "+f.Say)
	}
	require.Equal(t, []string{
		"content of stuff: down 60 %", "content of stuff: straw 40 %", "dots of down: 2", "effect on fray of x: -1 – 0 – 0 steps", "effect on mass of x: 0.5 – 1 – 1.25 times",
		"fray of stuff: none – low", "mass of stuff: 100 – 120 – 150 g/m2", "mass of down: 1 g/m2", "moisture eu of down: 18.25 %", "pressing-limit of stuff: 150 °C"}, said)
	require.Len(t, c.FactsOf("cloth", k.ID), 5)
	require.Zero(t, c.FactsOf("fibre", "down")[0].Given, "practice gives no figure of a source")
	require.Len(t, c.FactsFrom("practice"), 10)
	require.Empty(t, c.FactsFrom("nobody"))
	e, ok := c.FibreFigure("down", "mass")
	require.True(t, ok)
	require.Equal(t, 1.0, e.Typical)
	_, ok = c.FibreFigure("straw", "mass")
	require.False(t, ok)
}
