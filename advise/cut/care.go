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
		c.Say = "Fuse or sew a scrap of it to a scrap of the shell and wash both as the piece will be: if they pucker, it shrinks unlike the shell."
		c.Cautions = append(c.Cautions, "A hot iron and its steam burn: keep hands clear, and stand it on its heel.")
	case l.Prewashed:
		c.Say = "It has had its first wash: cut it at its finished size with the allowances."
	case dry:
		c.Say = fmt.Sprintf("It is not washed: steam the whole length of the %s well, let it dry lying flat, then cut it at its finished size.", l.Name)
	case t.wash.Known():
		how := map[string]string{"hand": "by hand, barely warm", "cool": "cool", "warm": "warm", "hot": "hot"}[fibres.WashScale.Word(t.wash.Typical)]
		c.Say = fmt.Sprintf("Wash and dry the %s as the piece will be washed, at the hottest %s; press it flat, then cut it at its finished size.", l.Name, how)
	default:
		c.Say = fmt.Sprintf("Wash and dry the %s as the piece will be washed, then cut it at its finished size; try a scrap first.", l.Name)
	}
	if t.feltsKnown {
		hand := t.wash.Known() && fibres.WashScale.Word(t.wash.Typical) == "hand"
		if n := shrink.FeltingNote(t.felts, !dry && !hand && !l.Prewashed); n != "" {
			c.Felts = n
			c.Cautions = append(c.Cautions, n)
		}
	}
	if !l.Prewashed && l.Warp.Known() && c.SteamWarp.Known() && c.SteamWarp.Typical < l.Warp.Typical/2 && !dry {
		c.Cautions = append(c.Cautions, fmt.Sprintf("Steam alone takes out about %s of the %s %% it loses along: it does not stand for a wash.", fibres.Round(c.SteamWarp.Typical), fibres.Round(l.Warp.Typical)))
	}
	if c.LeftWarp.Known() && c.LeftWarp.Typical >= 0.5 {
		c.Cautions = append(c.Cautions, fmt.Sprintf("It goes on shrinking: pre-washed once it still loses about %s %% along in the washes after; wash it twice before cutting.", fibres.Round(c.LeftWarp.Typical)))
	}
	return c
}
