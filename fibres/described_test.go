package fibres

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A cloth without a name is known by two of fibre, weave and weight, or by one and the
// word that it has no name; anything else is no description.
func TestClothsThatAreDescribed(t *testing.T) {
	c := catalogue(t)
	for text, want := range map[string]struct {
		fibres    []string
		structure string
		low, high float64 // of the mass; 0 is not said
	}{
		"hemp satin":             {[]string{"hemp"}, "satin", 0, 0},
		"linen crepe 180 g":      {[]string{"linen"}, "crepe", 172.8, 187.2}, // with the error of a scale
		"ramie satin 120-180 g":  {[]string{"ramie"}, "satin", 120, 180},
		"plain weave, 120 gsm":   {nil, "plain", 115.2, 124.8},
		"4 oz hemp satin":        {[]string{"hemp"}, "satin", 130.2, 141.05}, // an ounce a square yard is 33.906 g/m²
		"hemp 200g/m2":           {[]string{"hemp"}, "", 192, 208},
		"unknown hemp":           {[]string{"hemp"}, "", 0, 0},
		"hemp ramie satin":       {[]string{"hemp", "ramie"}, "satin", 0, 0},
		"some hemp satin cloth":  {[]string{"hemp"}, "satin", 0, 0},
		"hemp ramie":             {[]string{"hemp", "ramie"}, "", 0, 0},
		"hemp ramie blend":       {[]string{"hemp", "ramie"}, "", 0, 0},
		"printed hemp satin":     {[]string{"hemp"}, "satin", 0, 0},
		"wool silk twill":        {[]string{"wool", "silk"}, "twill", 0, 0}, // and no silk twill of wool
		"hemp and ramie":         {},
		"satin":                  {},
		"hemp":                   {},
		"hemp satin nonsense":    {},
		"hemp hemp satin":        {},
		"satin hemp satin":       {},
		"unnamed":                {},
		"120 g":                  {},
		"hemp a b c d e f g h i": {},
	} {
		t.Run(text, func(t *testing.T) {
			s, ok := c.Described(text)
			require.Equal(t, want.fibres != nil || want.structure != "" || want.low > 0, ok, "%+v", s)
			if !ok {
				return
			}
			require.True(t, s.IsDescribed())
			var fibres []string
			for _, p := range s.Made() {
				if want.fibres == nil {
					break
				}
				fibres = append(fibres, p.Fibre.ID)
				require.InDelta(t, 100/float64(len(want.fibres)), p.Share.Typical, 1e-9, "in equal parts")
			}
			require.Equal(t, want.fibres, fibres)
			if want.structure != "" {
				require.Contains(t, s.Cloth.Structure.ID, want.structure)
			} else {
				require.Equal(t, "unknown structure", s.Cloth.Structure.Name)
			}
			m := s.Known[Mass]
			require.Equal(t, want.low > 0, m.Basis == Measured)
			if want.low == 0 {
				return
			}
			require.InDelta(t, want.low, m.Low, 0.05)
			require.InDelta(t, want.high, m.High, 0.05)
		})
	}
	s, ok := c.Described("cotton lawn 80 g")
	require.True(t, ok)
	require.Equal(t, "cotton-lawn", s.Cloth.ID, "a name with a weight is that cloth")
	require.False(t, s.IsDescribed())
	require.InDelta(t, 80, s.Known[Mass].Typical, 1e-9)
	_, ok = c.Described("cotton lawn")
	require.False(t, ok, "a name alone is a name")
	for text, want := range map[string]string{"poly satin": "polyester-satin", "poly cotton twill": "polycotton-twill", "organic cotton lawn": "cotton-lawn", "striped seersucker": "seersucker"} {
		s, ok := c.Described(text)
		require.True(t, ok, text)
		require.Equal(t, want, s.Cloth.ID, text)
	}
}

// A cloth of no name that is woven as one of a name is taken to weigh what that weighs.
func TestDescribedClothWeighsAsItsWeave(t *testing.T) {
	c := catalogue(t)
	s, ok := c.Described("wool silk twill")
	require.True(t, ok)
	twill, err := c.Find("twill")
	require.NoError(t, err)
	got, want := c.Estimate(*s, Mass), c.Estimate(*twill, Mass)
	require.Equal(t, []float64{want.Low, want.Typical, want.High}, []float64{got.Low, got.Typical, got.High})
	require.Equal(t, Derived, got.Basis)
}

// A name that fits several lists first what is met most.
func TestAmbiguousNameListsTheUsualFirst(t *testing.T) {
	n := NewNames("cloth")
	n.Add("a-shirting", "a shirting")
	n.Add("b-shirting", "b shirting")
	n.Usually(func(id string) int { return map[string]int{"b-shirting": 1}[id] })
	_, err := n.Find("shirting")
	require.ErrorContains(t, err, "b-shirting, a-shirting")
}

// What a hand says is a range of words, and a ruler goes before it.
func TestWhatAHandSays(t *testing.T) {
	c, k := toy()
	s := Subject{Cloth: k}.Feeling(1, 3)
	require.Equal(t, "soft to firm", s.Felt())
	require.Equal(t, []float64{1, 2, 3}, ends(s.Known[Hand]))
	s = Subject{Cloth: k}.Feeling(2, 2)
	require.Equal(t, "moderate", s.Felt())
	s = s.With(c, BendingLength, 2, 2)
	require.Empty(t, s.Felt())
	require.Empty(t, (&Subject{Cloth: k}).Felt())
	require.Empty(t, (*Subject)(nil).Felt())
	for word, bands := range FeltWords {
		for _, b := range bands {
			_, ok := HandScale.Level(b)
			require.True(t, ok, "%s: %s", word, b)
		}
	}
}
