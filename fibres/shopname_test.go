package fibres

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"testing/fstest"
)

func shopName(t *testing.T, c *Catalogue, name string) Subject {
	t.Helper()
	s, err := c.Find(name)
	require.NoError(t, err)
	require.NotEmpty(t, s.May, name)
	return *s
}

// Which cloths a shop may mean by these names is common practice; no source counts them.
func TestAShopNameIsAllItMayMean(t *testing.T) {
	c := catalogue(t)
	s := shopName(t, c, "Taffeta")
	require.Nil(t, s.Cloth)
	require.Equal(t, "taffeta may be polyester, acetate, silk or nylon taffeta: all are counted", s.MayBe())
	require.Equal(t, "net may be nylon net, nylon tulle or cotton bobbinet: all are counted", shopName(t, c, "net").MayBe())
	require.Equal(t, s, shopName(t, c, "taffetas"))
	require.Equal(t, shopName(t, c, "crepe"), shopName(t, c, "crêpe"))
	sum := 0.0
	for _, m := range s.May {
		sum += m.Part
	}
	require.InDelta(t, 1, sum, 1e-9)
}

// An exact id or name is that cloth; more words never make another cloth of it.
func TestAnExactNameIsOneCloth(t *testing.T) {
	c := catalogue(t)
	for _, name := range []string{"silk taffeta", "silk-taffeta", "corduroy", "tweed", "SILK TAFFETA"} {
		s, err := c.Find(name)
		require.NoError(t, err)
		require.NotNil(t, s.Cloth, name)
		require.Empty(t, s.May, name)
	}
	for _, name := range []string{"heavy cotton canvas xyz", "cotton canvas xyz", "heavy cotton canvas", "stiff taffeta", "taffeta xyz", "xyz taffeta"} {
		s, err := c.Find(name)
		require.Error(t, err, "%q was read as %v", name, s)
		require.Contains(t, faultMend(t, err), "did you mean", name)
	}
	_, err := c.Find("heavy cotton canvas xyz")
	require.Contains(t, faultMend(t, err), `"cotton-canvas"`)
	_, err = c.Find("stiff taffeta")
	require.Contains(t, faultMend(t, err), `taffeta"`)
}

// The pool of two cloths spans both: its ends are those of the outer cloths, moved
// inwards by the part that the other has; checked against a count of many points.
func TestThePoolCountsEveryClothByItsPart(t *testing.T) {
	c := catalogue(t)
	s := shopName(t, c, "taffeta")
	e := c.Estimate(s, Mass)
	require.Equal(t, Derived, e.Basis)
	require.Equal(t, s.MayBe(), e.Because)
	require.Len(t, e.Chain, len(s.May))
	require.Equal(t, "polyester taffeta, 50 % of them", e.Chain[0].Asked)
	part := func(v float64) float64 { // of all taffetas that weigh less than v
		out := 0.0
		for _, m := range s.May {
			one := c.Estimate(Subject{Cloth: m.Cloth}, Mass)
			out += m.Part * normalCDF(one.z(v))
		}
		return out
	}
	require.InDelta(t, 0.1, part(e.Low), 0.01)
	require.InDelta(t, 0.5, part(e.Typical), 0.01)
	require.InDelta(t, 0.9, part(e.High), 0.01)

	fray := c.Estimate(shopName(t, c, "lace"), Fray)
	require.Len(t, fray.Words, 3, "a graded property is pooled by its levels")
}

// Members of one pool stay whole cloths: a column of one cloth is never mixed with
// that of another in the same member.
func TestThePoolDrawsWholeCloths(t *testing.T) {
	c := catalogue(t)
	s := shopName(t, c, "taffeta")
	pool := c.Sample(s, ShellSalt)
	again := c.Sample(s, ShellSalt)
	for p := range NumProperties {
		require.Equal(t, pool.Of(p), again.Of(p), "the same every time")
	}
	whose := s.members(ShellSalt)
	count := make([]int, len(s.May))
	for i, k := range whose {
		count[k]++
		own := c.Sample(Subject{Cloth: s.May[k].Cloth}, ShellSalt)
		for _, p := range []Property{Mass, BendingLength, Thickness, PressingLimit} {
			want, _ := own.At(p, i)
			got, ok := pool.At(p, i)
			require.True(t, ok)
			require.Equal(t, want, got, "member %d, %s", i, Properties[p].ID)
		}
		if i > 20 {
			break
		}
	}
	count = make([]int, len(s.May))
	for _, k := range whose {
		count[k]++
	}
	for k, m := range s.May {
		require.InDelta(t, m.Part*N, float64(count[k]), 1, m.Cloth.ID)
	}
	require.NotEqual(t, whose, s.members(LiningSalt), "a stiff shell meets every kind of lining")
	e := c.Estimate(s, Mass)
	v := slices.Sorted(slices.Values(pool.Of(Mass)))
	require.InEpsilon(t, e.Typical, v[N/2], 0.06)
	require.InEpsilon(t, e.Low, v[N/10], 0.08)
	require.InEpsilon(t, e.High, v[N*9/10], 0.08)
}

// What the user measured of the cloth they hold narrows every cloth that it may be.
func TestAFigureNarrowsAShopName(t *testing.T) {
	c := catalogue(t)
	s := shopName(t, c, "taffeta")
	held := s.With(c, Mass, 70, 70)
	was, is := c.Estimate(s, BendingLength), c.Estimate(held, BendingLength)
	require.Less(t, math.Log(is.High/is.Low), math.Log(was.High/was.Low))
	require.InDelta(t, 70, c.Estimate(held, Mass).Typical, 0.01)
	shrink, known := c.Shrink(s, "warp", "later-wash")
	require.True(t, known)
	require.Greater(t, shrink.High, 0.0)
}

// What rules ask by word is known of a shop's name only where all its cloths agree.
func TestWhatTheClothsOfAShopNameHaveInCommon(t *testing.T) {
	c := catalogue(t)
	velvet := shopName(t, c, "velvet").Named()
	require.Equal(t, "pile", velvet.Structure.Class)
	require.Nil(t, velvet.Content, "cotton, silk or polyester")
	require.Equal(t, "tulle", shopName(t, c, "net").Named().Structure.ID)
	twill := shopName(t, c, "twill").Named()
	require.Empty(t, twill.Structure.ID, "twills of 2/1, 2/2 and 3/1")
	require.Equal(t, "woven", twill.Structure.Class)
	require.Nil(t, (Subject{}).Named())
}

func TestAShopNameIsNoClothsOwn(t *testing.T) {
	const head = "name,cloth_id,weight,basis,source_id,locator,note\n"
	files := fstest.MapFS{}
	for _, x := range []struct{ row, want string }{
		{"denim,heavy-denim,1,practice,practice,,", `"denim" is the name of one cloth, denim`},
		{"taffeta,silk-tafeta,1,practice,practice,,", `cloth "silk-tafeta" is not in cloths.csv`},
		{"taffeta,silk-taffeta,0,practice,practice,,", "weight is 0"},
	} {
		files["shop_names.csv"] = &fstest.MapFile{Data: []byte(head + x.row + "\n")}
		l := loader{c: newCatalogue(8), files: data.FS}
		l.sources()
		l.structures()
		l.treatments()
		l.cloths()
		l.files = files
		l.shopNames()
		require.ErrorContains(t, l.found.OrNil(), x.want)
	}
}
