package price

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

func TestParse(t *testing.T) {
	for _, x := range []struct {
		in      string
		want    Price
		metre   float64 // 0 where it is not said
		inWords string
	}{
		{"12.50 per metre", Price{12.5, "", units.Metre, false}, 12.5, "12.50 per metre"},
		{"12,50 €/m", Price{12.5, "€", units.Metre, false}, 12.5, "€12.50 per metre"},
		{"£8 a yard", Price{8, "£", units.Yard, false}, 8 / 0.9144, "£8.75 per metre"},
		{"$7.99/yd", Price{7.99, "$", units.Yard, false}, 7.99 / 0.9144, "$8.74 per metre"},
		{"30 EUR for 2.5 m", Price{30, "€", 2.5 * units.Metre, false}, 12, "€12.00 per metre"},
		{"4 pounds per half metre", Price{4, "£", units.Metre / 2, false}, 8, "£8.00 per metre"},
		{"2.20 for 50 cm", Price{2.2, "", 50, false}, 4.4, "4.40 per metre"},
		{"95p a metre", Price{0.95, "£", units.Metre, false}, 0.95, "£0.95 per metre"},
		{"40 in all", Price{40, "", 0, true}, 0, "40.00 in all"},
		{"£5 for the remnant", Price{5, "£", 0, true}, 0, "£5.00 in all"},
		{"1,250.00 kr per metre", Price{1250, "kr", units.Metre, false}, 1250, "1250.00 kr per metre"},
		{"1.250,00 kr per metre", Price{1250, "kr", units.Metre, false}, 1250, "1250.00 kr per metre"},
		{"1,250 per metre", Price{1250, "", units.Metre, false}, 1250, "1250.00 per metre"},
		{"CHF 18.- per metre", Price{}, 0, ""},
		{"GBP 3", Price{3, "£", 0, false}, 0, "£3.00"},
		{"0", Price{}, 0, "0.00"},
	} {
		got, err := Parse(x.in)
		if x.inWords == "" {
			require.Error(t, err, x.in)
			continue
		}
		require.NoError(t, err, x.in)
		require.InDelta(t, x.want.Amount, got.Amount, 1e-9, x.in)
		require.InDelta(t, float64(x.want.Per), float64(got.Per), 1e-9, x.in)
		require.Equal(t, x.want.Currency, got.Currency, x.in)
		require.Equal(t, x.want.Whole, got.Whole, x.in)
		m, ok := got.PerMetre()
		require.Equal(t, x.metre > 0, ok, x.in)
		require.InDelta(t, x.metre, m, 1e-9, x.in)
		require.Equal(t, x.inWords, got.Say(units.Metric), x.in)
	}
}

func TestWhatIsNoPrice(t *testing.T) {
	for _, x := range []struct{ in, says string }{
		{"a gift", "no figure"},
		{"", "no figure"},
		{"-3 per metre", "negative"},
		{"12 per armful", "for what length"},
		{"12 per 0 m", "for what length"},
		{"12.5.1 per metre", "not a sum"},
		{"99999999 per metre", "not a sum"},
		{"£12 EUR per metre", "twice"},
		{"12 bought in spring", "no currency"},
		{"12 metres", "no currency"},
		{"5 per", "no currency"},
	} {
		_, err := Parse(x.in)
		require.ErrorContains(t, err, x.says, x.in)
		require.ErrorContains(t, err, "12.50 per metre", x.in)
	}
}

// A yard is 0.9144 m by definition (international yard, 1959): 8 a yard is 8.7489 a metre, and
// 3 yards at that price cost 24.
func TestYardsAndMetres(t *testing.T) {
	p, err := Parse("£8 a yard")
	require.NoError(t, err)
	c, ok := p.For(3 * units.Yard)
	require.True(t, ok)
	require.InDelta(t, 24, c, 1e-9)
	m, _ := p.PerMetre()
	require.InDelta(t, 8.7489, m, 1e-4)
	require.Equal(t, "£8.00 per yard", p.Say(units.Imperial))
	require.Equal(t, "£24.00", p.Sum(c))

	q, err := Parse("9 EUR per metre")
	require.NoError(t, err)
	require.False(t, p.Like(q))
	bare, err := Parse("9 per metre")
	require.NoError(t, err)
	require.True(t, p.Like(bare) && bare.Like(q))
	_, ok = Price{Amount: 3, Whole: true}.For(units.Metre)
	require.False(t, ok)
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"12.50 per metre", "£8 a yard", "30 EUR for 2.5 m", "40 in all", "1,250.00 kr/m", "95p", "per 3 for", "£", "1e9/m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := Parse(s)
		if err != nil {
			require.Equal(t, Price{}, p)
			return
		}
		require.True(t, p.Amount >= 0 && p.Amount <= maxAmount && p.Per >= 0, "%+v", p)
		require.False(t, p.Whole && p.Per > 0)
		// what is said of a price is read as the same price of a metre
		again, err := Parse(p.Say(units.Metric))
		require.NoError(t, err, p.Say(units.Metric))
		m, ok := p.PerMetre()
		n, same := again.PerMetre()
		require.Equal(t, ok, same)
		require.InDelta(t, m, n, 0.006)
	})
}

// A currency is a sign of money (Unicode's category Sc) or a word of at most four
// letters (the codes of ISO 4217 have three) that is no length and no filler.
func TestWhatPassesForACurrency(t *testing.T) {
	for word, want := range map[string]bool{
		"£": true, "€": true, "CHF": true, "zł": true, "kr": true, "euro": true, "₺": true,
		"pound": false, "m": false, "cm": false, "yd": false, "in": false, "12": false, "a1": false, "%": false, "£-": false,
	} {
		require.Equal(t, want, isCurrency(word), word)
	}
}
