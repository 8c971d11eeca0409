package cut

import (
	"fmt"
	"math"

	"tenter/fibres"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

// Care is what to do about the shrinking of a layer before it is cut.
type Care struct {
	Say string `json:"say"`
	// Left is what a layer that was washed once still loses in later washes, in
	// per cent; not known where no source gives it.
	LeftWarp fibres.Estimate `json:"left_after_prewash_warp"`
	LeftWeft fibres.Estimate `json:"left_after_prewash_weft"`
	// Steam is what steaming alone takes out.
	SteamWarp fibres.Estimate `json:"steam_warp"`
	SteamWeft fibres.Estimate `json:"steam_weft"`
	Cautions  []string        `json:"cautions"`
	// Felts is the caution about felting among them; "" is none.
	Felts string `json:"-"`
}

// treatment is what NewLayer learns of a cloth beyond its first wash.
type treatment struct {
	later, steam, clean [2]fibres.Estimate // warp, weft
	wash                fibres.Estimate    // hottest wash, a level
	felts               shrink.Felts
	feltsKnown          bool
}

// treatmentOf gathers it.
func treatmentOf(cat *fibres.Catalogue, s fibres.Subject) treatment {
	t := treatment{wash: cat.Estimate(s, fibres.Wash)}
	for i, d := range []string{"warp", "weft"} {
		if e, ok := cat.Shrink(s, d, "later-wash"); ok {
			t.later[i] = e
		}
		if e, ok := cat.Shrink(s, d, "steam"); ok {
			t.steam[i] = e
		}
		if e, ok := cat.Shrink(s, d, "dry-clean"); ok {
			t.clean[i] = e
		}
	}
	for _, p := range s.Made() {
		if p.Fibre != nil && p.Fibre.Felts >= 0 && p.Share.Typical >= 20 {
			t.feltsKnown = true
			t.felts = max(t.felts, shrink.Felts(p.Fibre.Felts))
		}
	}
	return t
}

// left is what later washes still take when the first was taken before cutting.
func left(later, first fibres.Estimate) fibres.Estimate {
	if first.Basis == fibres.Measured {
		return fibres.Estimate{Unit: "%", Basis: fibres.Unknown, Sources: []string{}, Because: "of this cloth only the first wash was measured: wash the swatch again"}
	}
	if !later.Known() || !first.Known() {
		return fibres.Estimate{Unit: "%", Basis: fibres.Unknown, Sources: []string{}, Because: "nobody tells how it goes on shrinking"}
	}
	rest := func(all, once float64) float64 {
		v, err := shrink.LeftAfter(units.Fraction(math.Max(all, once)/100), units.Fraction(once/100))
		if err != nil {
			return 0
		}
		return float64(v) * 100
	}
	e := fibres.Estimate{Low: rest(later.Low, first.Low), Typical: rest(later.Typical, first.Typical), High: rest(later.High, first.High), Unit: "%",
		Basis: fibres.Derived, Because: "what five washes take, less what the first one takes", Sources: append([]string{}, later.Sources...)}
	e.Low, e.High = math.Min(e.Low, e.Typical), math.Max(e.High, e.Typical)
	return e
}

// careOf says how to treat a layer before it is cut.
func careOf(l Layer) Care {
	t := l.care
	c := Care{LeftWarp: left(t.later[0], l.Warp), LeftWeft: left(t.later[1], l.Weft), SteamWarp: t.steam[0], SteamWeft: t.steam[1], Cautions: []string{}}
	for _, e := range []*fibres.Estimate{&c.SteamWarp, &c.SteamWeft} {
		if !e.Known() {
			*e = fibres.Estimate{Unit: "%", Basis: fibres.Unknown, Sources: []string{}, Because: "nobody tells what steam takes"}
		}
	}
	dry := l.Treatment == DryCleaned || l.Treatment == Steamed
	if dry { // later washes do not come
		c.LeftWarp = fibres.Estimate{Unit: "%", Basis: fibres.Unknown, Sources: []string{}, Because: "it is not washed"}
		c.LeftWeft = c.LeftWarp
	}
	switch {
	case l.Name == "interfacing":
		c.Say = "Fuse or sew a scrap of it to a scrap of the shell. Wash them as you will the piece: if they pucker, the two shrink apart."
		c.Cautions = append(c.Cautions, "A hot iron and its steam burn: keep hands clear, and stand it on its heel.")
	case l.Prewashed:
		c.Say = "It has had its first wash: cut it at its finished size with the allowances."
	case dry:
		c.Say = fmt.Sprintf("Do not wash the %s: steam the whole length, let it dry flat, then cut it.", l.Name)
	case t.byHand():
		c.Say = fmt.Sprintf("Wash the %s by hand, barely warm, and dry it flat. Press it, then cut.", l.Name)
	case t.wash.Known():
		c.Say = fmt.Sprintf("Wash and dry the %s as you will the piece, %s at most. Press it flat, then cut.", l.Name, fibres.WashScale.Word(t.wash.Typical))
	default:
		c.Say = fmt.Sprintf("Wash and dry a scrap of the %s first: nobody has recorded how it washes. Then wash it all and cut.", l.Name)
	}
	if t.feltsKnown {
		if n := shrink.FeltingNote(t.felts, !dry && !t.byHand() && !l.Prewashed); n != "" {
			c.Felts = n
			c.Cautions = append(c.Cautions, n)
		}
	}
	if !l.Prewashed && l.Warp.Known() && c.SteamWarp.Known() && c.SteamWarp.Typical < l.Warp.Typical/2 && !dry {
		c.Cautions = append(c.Cautions, fmt.Sprintf("Steaming is not enough: it takes out about %s of the %s %% lost along.", fibres.Round(c.SteamWarp.Typical), fibres.Round(l.Warp.Typical)))
	}
	if say := c.Again(l.Name, fibres.Round(c.LeftWarp.Typical)); say != "" {
		c.Cautions = append(c.Cautions, say)
	}
	return c
}

// byHand reports whether a cloth takes no other wash than one by hand.
func (t treatment) byHand() bool {
	return t.wash.Known() && fibres.WashScale.Word(t.wash.Typical) == "hand"
}

// leastLeft is what a washed layer may still lose, in per cent, unsaid (common
// practice).
const leastLeft = 0.5

// Again says what to do of layers that go on shrinking after their first wash; ""
// where they do not. A second wash takes that out of most cloths, but moves a felting
// one further.
func (c Care) Again(layers, percent string) string {
	switch {
	case !c.LeftWarp.Known() || c.LeftWarp.Typical < leastLeft:
		return ""
	case c.Felts != "":
		return fmt.Sprintf("Wash the %s once only. It loses about %s %% more in later washes: cut it that much longer.", layers, percent)
	}
	return fmt.Sprintf("Wash the %s twice: after one wash it still loses about %s %%.", layers, percent)
}
