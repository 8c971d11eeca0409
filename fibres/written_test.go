package fibres

import (
	"encoding/base64"
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
)

// writtenFigures are the figures of a name, property by property: nothing but a mark
// where they are not known, else low, typical and high, levels as a byte each.
func (c *Catalogue) writtenFigures(k *Cloth) string {
	var b []byte
	for p := range NumProperties {
		e := c.Estimate(Subject{Cloth: k}, p)
		var mark byte
		if e.Known() {
			mark |= figureKnown
		}
		if e.Words != nil {
			mark |= figureGraded
		}
		if e.Basis == Derived {
			mark |= figureDerived
		}
		b = append(b, mark)
		for _, v := range [...]float64{e.Low, e.Typical, e.High} {
			switch {
			case mark&figureKnown == 0:
			case mark&figureGraded != 0:
				b = append(b, byte(v))
			default:
				b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
			}
		}
	}
	return base64.RawStdEncoding.EncodeToString(b)
}

// What was written down of each name is what is worked out, also where the user's own
// swatches have taught something since.
func TestWrittenFiguresAreTheEstimates(t *testing.T) {
	c := fromCompiled(data.FS)
	require.NotNil(t, c, "the literals are stale: run `go generate ./...`")
	flannel := c.Cloths["wool-flannel"]
	known := map[Property]Estimate{}
	for _, p := range learns {
		e := c.Estimate(Subject{Cloth: flannel}, p)
		known[p] = Figure(p, 2*e.Typical, 2*e.Typical, 2*e.Typical, Measured, "")
	}
	taught := c.Learned([]Lesson{{Cloth: flannel, Known: known}, {Cloth: c.Cloths["denim"], Known: known}})
	require.NotEmpty(t, taught.learned)
	for c, least := range map[*Catalogue]int{c: int(NumProperties), taught: int(NumProperties) / 3} {
		written := 0
		for _, k := range c.clothOrder {
			s := c.Sample(Subject{Cloth: k}, ShellSalt)
			require.NotNil(t, s.written)
			for p := range NumProperties {
				want, got := c.Estimate(s.subject, p), s.figures(p)
				if c.asWritten(p) {
					written++
				}
				require.Equal(t, [3]float64{want.Low, want.Typical, want.High}, [3]float64{got.Low, got.Typical, got.High}, "%s %s", k.ID, Properties[p].ID)
				require.Equal(t, [3]bool{want.Known(), want.Basis == Derived, want.Words != nil}, [3]bool{got.Known(), got.Basis == Derived, got.Words != nil}, "%s %s", k.ID, Properties[p].ID)
			}
		}
		require.GreaterOrEqual(t, written, least*len(c.clothOrder))
	}
	require.Nil(t, c.Sample(Subject{Cloth: flannel, Known: known}, ShellSalt).written, "more is known than the name")
}

// The span of a property is that of the estimates of all names, whether or not their
// figures were written down.
func TestSpansAreThoseOfAllEstimates(t *testing.T) {
	read, err := Load(data.FS)
	require.NoError(t, err)
	for _, cat := range []*Catalogue{fromCompiled(data.FS), read} {
		spans := cat.Spans()
		for p := range NumProperties {
			want := [2]float64{math.Inf(1), math.Inf(-1)}
			for _, k := range cat.ClothList() {
				if e := cat.Estimate(Subject{Cloth: k}, p); e.Known() {
					want = [2]float64{math.Min(want[0], e.Low), math.Max(want[1], e.High)}
				}
			}
			require.Equal(t, want, spans[p], Properties[p].ID)
		}
	}
}
