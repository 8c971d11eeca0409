package hang

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// photographed makes the marks of a strip of known bending length on a photograph:
// turned, mirrored, n marks along the curve, each out by up to blur either way in
// both directions, at perCM pixels to the cm.
func photographed(t *testing.T, r *rand.Rand, c, overhang units.Length, n int, turned units.Angle, blur, perCM float64, left bool) Photograph {
	t.Helper()
	const mass = 180
	fall, err := Hang(Flap{Segments: []Segment{{overhang, RigidityFromBendingLength(c, mass), mass}}}, 400)
	require.NoError(t, err)
	cos, sin := math.Cos(radians(turned)), math.Sin(radians(turned))
	put := func(out, down float64) Mark {
		x, y := out*cos-down*sin, out*sin+down*cos
		if left {
			x = -x
		}
		shaken := func(v float64) float64 { return v + blur*(2*r.Float64()-1) }
		return Mark{600 + perCM*shaken(x), 200 + perCM*shaken(y)}
	}
	end := fall.Points[len(fall.Points)-1]
	p := Photograph{RulerTrue: true, Edge: put(0, 0), Tip: put(float64(end.Out), float64(end.Down)), RulerLength: 20, Ruler: [2]Mark{put(0, 20), put(20, 20)}}
	for i := range n {
		q := fall.Points[(i+1)*399/(n+1)]
		p.Along = append(p.Along, put(float64(q.Out), float64(q.Down)))
	}
	r.Shuffle(n, func(i, k int) { p.Along[i], p.Along[k] = p.Along[k], p.Along[i] })
	return p
}

// The bending length of a photograph whose answer is known: to a hundredth without
// blur, whatever the tilt and the side; within 5 % at 20 marks of ± 1 mm.
// Source: own computation; the curve is that of Hang, which reference_test.go checks
// against two other methods.
func TestPhotographReadsBack(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 7))
	worst, held, all := 0.0, 0, 0
	for _, c := range []units.Length{1.2, 2, 3.2, 5} {
		for _, reach := range []float64{2.5, 3.5, 5} { // overhangs in bending lengths
			overhang := c * units.Length(reach)
			for _, turned := range []units.Angle{-6, 0, 4} {
				left := r.IntN(2) == 0
				sharp := photographed(t, r, c, overhang, 20, turned, 0, 40, left)
				sharp.MarkError = 0.002
				exact, err := FromPhotograph(sharp)
				require.NoError(t, err)
				require.InEpsilon(t, float64(c), float64(exact.Bending.Typical), 0.01, "c %v, overhang %v, turned %v", c, overhang, turned)
				require.InEpsilon(t, float64(overhang), float64(exact.Overhang), 0.005)
				require.InDelta(t, math.Abs(float64(turned)), math.Abs(float64(exact.Tilt)), 0.5)
				if overhang < 10 {
					continue
				}
				blurred, err := FromPhotograph(photographed(t, r, c, overhang, 20, turned, 0.1, 40, left))
				require.NoError(t, err)
				out := math.Abs(float64(blurred.Bending.Typical/c) - 1)
				worst = math.Max(worst, out)
				all++
				if blurred.Bending.Low <= c && c <= blurred.Bending.High {
					held++
				}
			}
		}
	}
	t.Logf("worst with blur %.3f, held %d of %d", worst, held, all)
	require.LessOrEqual(t, worst, 0.05)
	require.GreaterOrEqual(t, held, all*7/10, "the interval holds the truth less often than it says")
}

// The drop that is told is the one that gives the bending length back, so that it can
// be recorded as any droop of a ruler.
func TestPhotographIsADroopOfTheRuler(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	p, err := FromPhotograph(photographed(t, r, 2.4, 11, 12, 2, 0.05, 30, true))
	require.NoError(t, err)
	c, err := BendingLengthFromDrop(p.Overhang, p.Drop)
	require.NoError(t, err)
	require.InEpsilon(t, float64(p.Bending.Typical), float64(c), 1e-3)
	require.Less(t, p.Curve[len(p.Curve)-1].X, p.Curve[0].X, "it hangs to the left, as it was photographed")
	require.Less(t, float64(p.Miss), 0.1)
}

func TestPhotographsThatSayNothingAreRefused(t *testing.T) {
	good := photographed(t, rand.New(rand.NewPCG(1, 1)), 2, 8, 6, 0, 0, 40, false)
	for name, spoil := range map[string]func(*Photograph){
		"few":   func(p *Photograph) { p.Along = p.Along[:2] },
		"ruler": func(p *Photograph) { p.Ruler[1] = p.Ruler[0] },
		"none":  func(p *Photograph) { p.RulerLength = 0 },
		"tip":   func(p *Photograph) { p.Tip = p.Edge },
		"NaN":   func(p *Photograph) { p.Along = append([]Mark{{math.NaN(), 1}}, p.Along...) },
		"turned": func(p *Photograph) { // lying on its side
			turn := func(m Mark) Mark { return Mark{m.Y, -m.X} }
			p.Edge, p.Tip = turn(p.Edge), turn(p.Tip)
			along := []Mark{}
			for _, m := range p.Along {
				along = append(along, turn(m))
			}
			p.Along = along
		},
	} {
		p := good
		spoil(&p)
		got, err := FromPhotograph(p)
		require.Error(t, err, "%s: %+v", name, got.Bending)
	}
}
