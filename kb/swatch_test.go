package kb

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/kb/memory"
	"tenter/kb/record"
)

func TestLabels(t *testing.T) {
	b := base(t)
	for text, want := range map[string]string{
		"60% cotton 40% linen": "60% cotton, 40% linen", "cotton 60, linen 40": "60% cotton, 40% linen", "cotton 60 linen 40": "60% cotton, 40% linen",
		"60 cotton 40 linen": "60% cotton, 40% linen", "100 percent of wool": "100% wool", "wool": "wool", "62,5 % wool/37,5 % silk": "62.5% wool, 37.5% silk",
		"wool & silk": "wool, silk", "nylon": "nylon-6",
	} {
		parts, err := b.ParseContent(text)
		require.NoError(t, err, text)
		require.Equal(t, want, SayContent(parts), text)
		again, err := b.ParseContent(want)
		require.NoError(t, err)
		require.Equal(t, parts, again, "what is written is read as the same")
	}
	for text, want := range map[string]string{"": "no fibre is named", "60%": "60 % of nothing", "101% wool": `"101" is no share`, "50% unobtainium": "unobtainium"} {
		_, err := b.ParseContent(text)
		require.ErrorContains(t, err, want, text)
	}
}

// A label is out by three points either way and never over 100; one that tells no shares says
// little.
func TestLabelAsShares(t *testing.T) {
	b := base(t)
	shares := func(parts ...record.Part) (out [][3]float64) {
		for _, p := range b.content(parts) {
			out = append(out, [3]float64{p.Share.Low, p.Share.Typical, p.Share.High})
		}
		return out
	}
	require.Equal(t, [][3]float64{{57, 60, 63}, {37, 40, 43}}, shares(record.Part{Fibre: "cotton", Percent: 60}, record.Part{Fibre: "linen", Percent: 40}))
	require.Equal(t, [][3]float64{{95, 98, 100}, {0, 2, 5}}, shares(record.Part{Fibre: "cotton", Percent: 98}, record.Part{Fibre: "elastane", Percent: 2}))
	require.Equal(t, [][3]float64{{100, 100, 100}}, shares(record.Part{Fibre: "wool"}))
	require.Equal(t, [][3]float64{{100, 100, 100}}, shares(record.Part{Fibre: "wool", Percent: 100}))
	require.Equal(t, [][3]float64{{5, 50, 95}, {5, 50, 95}}, shares(record.Part{Fibre: "wool"}, record.Part{Fibre: "silk"}))
	require.Empty(t, shares(record.Part{Fibre: "unobtainium", Percent: 100}))
}

func TestASwatchAsAnAnswerTakesIt(t *testing.T) {
	b := base(t)
	s := b.SubjectOf(record.Swatch{Name: "king's blue", SoldAs: "Cotton Sateen", WidthCM: 140, Price: "9.50 per metre", Lightness: "dark"}, Evidence{})
	require.Equal(t, "cotton-sateen", s.Cloth.ID)
	w := s.Known[fibres.Width]
	require.Equal(t, [3]float64{139, 140, 141}, [3]float64{w.Low, w.Typical, w.High})
	require.NotNil(t, s.Price)
	narrow := b.SubjectOf(record.Swatch{Name: "tape", WidthCM: 1.5}, Evidence{}).Known[fibres.Width]
	require.Equal(t, 1.0, narrow.Low, "no width is under a centimetre")
	none := b.SubjectOf(record.Swatch{Name: "found", SoldAs: " "}, Evidence{})
	require.Nil(t, none.Cloth)
	require.Empty(t, none.Known)
	require.Nil(t, none.Price)

	require.Empty(t, PriceNote(""))
	require.Empty(t, PriceNote("9.50/m"))
	require.Contains(t, PriceNote("cheap"), "not read as a price")
	require.Contains(t, PriceNote("9.50"), "not said for what length")
}

// What was measured lies somewhere among the cloths sold under the name: a heavy one above most.
func TestPlacesAmongItsName(t *testing.T) {
	b := base(t)
	k := b.Cat.Cloths["cotton-lawn"]
	at := func(gsm float64) []Place {
		s := &fibres.Subject{Cloth: k, Swatch: true, Known: map[fibres.Property]fibres.Estimate{fibres.Mass: fibres.Figure(fibres.Mass, gsm, gsm, gsm, fibres.Measured, "weighed")}}
		return b.Places(s, k)
	}
	light, heavy := at(60), at(110)
	require.Len(t, light, 1, "only what was measured")
	require.Equal(t, fibres.Mass, light[0].Property)
	require.Less(t, light[0].Part, 0.3)
	require.Greater(t, heavy[0].Part, 0.7)
	require.Empty(t, heavy[0].Of.Chain)
}

func TestSwatchesByName(t *testing.T) {
	b := base(t)
	_, err := b.Swatch("king's blue")
	require.ErrorContains(t, err, "nothing has been recorded")
	list, n, err := b.Listed(record.SwatchFilter{}, 0, 0)
	require.NoError(t, err)
	require.Zero(t, n)
	require.Empty(t, list)

	r := memory.New()
	b.Records = r
	for _, name := range []string{"king's blue", "widow grey"} {
		w, err := r.AddSwatch(record.Swatch{Name: name})
		require.NoError(t, err)
		_, err = r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 100.0 + float64(w.ID)}}})
		require.NoError(t, err)
	}
	w, err := b.Swatch("swatch:King's  Blue")
	require.NoError(t, err)
	require.InDelta(t, 100+float64(w.ID), w.Subject.Known[fibres.Mass].Typical, 1e-9)
	w, err = b.Swatch("widow")
	require.NoError(t, err)
	require.Equal(t, "widow grey", w.Name)
	_, err = b.Swatch("king's black")
	require.ErrorContains(t, err, `there is no swatch "king's black"`)
	list, n, err = b.Listed(record.SwatchFilter{}, 1, 1)
	require.NoError(t, err)
	require.Equal(t, 2, n)
	require.Equal(t, "widow grey", list[0].Name)
	require.Len(t, list[0].Measurements, 1)
	all, err := b.Subjects()
	require.NoError(t, err)
	require.Len(t, all, 2)
	require.NotEmpty(t, all[0].Known)
}

// A figure far outside of what is sold under the name, or beyond every cloth, is asked
// about once, with what is usual and how the slip was made.
func TestFiguresThatAreAskedAbout(t *testing.T) {
	b := base(t)
	asked := func(cloth string, ms ...record.Measurement) []string {
		w := Swatch{Subject: &fibres.Subject{}, Evidence: EvidenceOf(ms)}
		if cloth != "" {
			w.Subject.Cloth = b.Cat.Cloths[cloth]
		}
		return b.questions(w)
	}
	none := ReadingOptions{}
	require.Empty(t, asked("cotton-lawn", read(t, "mass", "0.8g", none)), "80 g/m² is what lawn weighs")
	heavy := asked("cotton-lawn", read(t, "mass", "7.5g", none))
	require.Len(t, heavy, 1)
	require.Regexp(t, `^Weight 750 g/m2: is that right\? Cotton lawn usually weighs \d+ to \d+ g/m2\. A slip\? Remove the reading\.$`, heavy[0])
	require.Len(t, asked("cotton-lawn", read(t, "mass", "0.08g", none)), 1, "too light is asked about as well")
	droop := asked("cotton-lawn", read(t, "droop", "warp 18cm 18cm weft 18cm 18cm", none))
	require.Len(t, droop, 1, "one reading too long makes every direction of it so")
	require.Contains(t, droop[0], "Type the overhang as you read it, not doubled.")
	require.NotContains(t, asked("denim", read(t, "droop", "warp 1cm 1cm weft 1cm 1cm", none))[0], "not doubled")
	require.Empty(t, asked("", read(t, "mass", "7.5g", none)), "some cloth weighs as much")
	beyond := asked("", read(t, "mass", "19.9g", none))
	require.Len(t, beyond, 1)
	require.Contains(t, beyond[0], "Cloth usually weighs")
	low, high := b.span(fibres.Mass)
	for _, k := range b.Cat.ClothList() {
		e := b.Cat.Estimate(fibres.Subject{Cloth: k}, fibres.Mass)
		require.True(t, low <= e.Low && e.High <= high, "%s weighs what no cloth does", k.ID)
	}
}

// What was measured is placed among its name, but for its width, which is the loom's, and
// what only a hand says.
func TestWhatHasNoPlaceAmongItsName(t *testing.T) {
	b := base(t)
	k := b.Cat.Cloths["cotton-lawn"]
	known := map[fibres.Property]fibres.Estimate{}
	for p, v := range map[fibres.Property]float64{fibres.Width: 140, fibres.Hand: 1, fibres.Mass: 80, fibres.Thickness: 0.2} {
		known[p] = fibres.Figure(p, v, v, v, fibres.Measured, "")
	}
	var got []fibres.Property
	for _, x := range b.Places(&fibres.Subject{Cloth: k, Swatch: true, Known: known}, k) {
		got = append(got, x.Property)
	}
	require.Equal(t, []fibres.Property{fibres.Mass, fibres.Thickness}, got)
}
