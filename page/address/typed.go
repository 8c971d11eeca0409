package address

import (
	"fmt"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/price"
	"tenter/fibres/units"
)

// Bending reads what is said of how a layer bends: a bending length, else how far
// the tip of a strip drops, else a word for its hand. It gives the key it read.
func (a Ask) Bending(keys LayerKeys) (*units.Range[units.Length], string, error) {
	var r units.Range[units.Length]
	var err error
	key := keys.Bend
	switch {
	case a.Get(keys.Bend) != "":
		r, err = ParseBending(a.Get(keys.Bend), a.Units)
	case a.Get(keys.Drop) != "":
		key = keys.Drop
		r, err = ParseDrop(a.Get(key), a.Units)
	case a.Get(keys.Feels) != "":
		key = keys.Feels
		level, ok := fibres.HandScale.Level(a.Get(key))
		if !ok {
			err = &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is no word for a hand", a.Get(key)), Expected: strings.Join(fibres.HandScale, ", ")}
			break
		}
		r = units.Range[units.Length]{Low: units.Length(fibres.HandEdges[int(level)]), High: units.Length(fibres.HandEdges[int(level)+1])}
	default:
		return nil, "", nil
	}
	if err != nil {
		return nil, key, err
	}
	return &r, key, nil
}

// DropReach is how far the strip reaches over the table whose drop is asked for,
// and dropError how finely a drop is read by eye.
const (
	DropReach units.Length = 10
	dropError units.Length = 0.3
)

// ParseDrop reads how far the tip of 10 cm of cloth drops over the edge of a table,
// as the bending lengths that it may mean; a bare figure is in cm, or in inches
// where the page is imperial.
func ParseDrop(v string, sys units.System) (units.Range[units.Length], error) {
	var out units.Range[units.Length]
	unit := units.Length(1)
	if sys == units.Imperial {
		unit = 2.54
	}
	r, err := units.ParseLengthRange(v, unit)
	if err != nil {
		return out, err
	}
	if r.Low <= 0 || r.High > DropReach {
		return out, &fault.Fault{Kind: fault.OutsideRange, What: "the tip of 10 cm cannot drop by " + v, Expected: "more than nothing, at most 10 cm: straight down from the edge to the tip"}
	}
	within := func(d units.Length) units.Length { return max(0.1, min(d, 0.985*DropReach)) }
	if out.Low, err = hang.BendingLengthFromDrop(DropReach, within(r.High+dropError)); err != nil {
		return out, err
	}
	out.High, err = hang.BendingLengthFromDrop(DropReach, within(r.Low-dropError))
	return out, err
}

// ParseMass reads a mass or a range of it; a bare figure is in g/m², or in
// oz/yd² where the page is imperial.
func ParseMass(v string, sys units.System) (units.Range[units.ArealMass], error) {
	if Bare(v) {
		if sys == units.Imperial {
			v += "oz/yd2"
		} else {
			v += "gsm"
		}
	}
	r, err := units.ParseArealMassRange(v)
	if err == nil {
		info := fibres.Properties[fibres.Mass]
		if float64(r.Low) < info.Low || float64(r.High) > info.High {
			err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth weighs " + v, Expected: fibres.Quantities(info.Low, info.High, info.Unit, sys)}
		}
	}
	return r, err
}

// ParseBending reads a bending length; a bare figure is in cm, or in inches
// where the page is imperial.
func ParseBending(v string, sys units.System) (units.Range[units.Length], error) {
	unit := units.Length(1)
	if sys == units.Imperial {
		unit = 2.54
	}
	r, err := units.ParseLengthRange(v, unit)
	info := fibres.Properties[fibres.BendingLength]
	if err == nil && (float64(r.Low) < info.Low || float64(r.High) > info.High) {
		err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth has a bending length of " + v, Expected: fibres.Quantities(info.Low, info.High, info.Unit, sys) + ": half the reach of the ruler test"}
	}
	return r, err
}

// Bare reports whether a text is only figures: 150, 120-150.
func Bare(v string) bool {
	return v != "" && strings.Trim(v, "0123456789.,-– ") == ""
}

// ParseWidth reads a width of cloth; a bare figure is in cm, or in inches where
// the page is imperial.
func ParseWidth(v string, sys units.System) (units.Length, error) {
	unit := units.Length(1)
	if sys == units.Imperial {
		unit = 2.54
	}
	l, err := units.ParseLengthIn(v, unit)
	info := fibres.Properties[fibres.Width]
	if err == nil && (float64(l) < info.Low || float64(l) > info.High) {
		err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth is sold " + v + " wide", Expected: fibres.Quantities(info.Low, info.High, info.Unit, sys)}
	}
	return l, err
}

// ParsePrice reads the price of a length: of a metre where none is said, or of a
// yard where the page is in imperial units.
func ParsePrice(s string, sys units.System) (price.Price, error) {
	if sys == units.Imperial {
		return price.ParseOfLength(s, units.Yard)
	}
	return price.ParseOfLength(s, units.Metre)
}
