package fibres

import (
	"strings"

	"tenter/fibres/units"
)

// Quantity writes a figure given in one of the data's units ("cm", "mm",
// "g/m2", "C", "%") in the units of a system. What hangs and bends is given in
// centimetres, however small.
func Quantity(v float64, unit string, sys units.System) string { return Quantities(v, v, unit, sys) }

// Quantities is Quantity for a range; equal ends are written once.
func Quantities(lo, hi float64, unit string, sys units.System) string {
	switch unit {
	case "cm":
		if sys != units.Metric {
			return units.FormatRange(units.Length(lo), units.Length(hi), sys)
		}
	case "mm":
		if sys != units.Metric {
			return units.FormatRange(units.Length(lo/10), units.Length(hi/10), sys)
		}
	case "g/m2":
		return units.FormatRange(units.ArealMass(lo), units.ArealMass(hi), sys)
	case "C":
		return units.FormatRange(units.Temperature(lo), units.Temperature(hi), sys)
	}
	if lo == hi {
		return strings.TrimSpace(Round(lo) + " " + unit)
	}
	return strings.TrimSpace(Round(lo) + " to " + Round(hi) + " " + unit)
}

// In writes the estimate's range in the units of a system, as [Estimate.Say]
// does in those of the data: "120 – 150 – 180 g/m2", "low – medium",
// "do not iron", "not known".
func (e Estimate) In(sys units.System) string {
	switch {
	case !e.Known(), e.Words != nil, e.Unit == "%":
		return e.Say()
	case e.Unit == "C" && e.High == 0:
		return "do not iron"
	case e.Low == e.High:
		return Quantity(e.Typical, e.Unit, sys)
	case sys != units.Metric:
		return Quantity(e.Low, e.Unit, sys) + " – " + Quantity(e.Typical, e.Unit, sys) + " – " + Quantity(e.High, e.Unit, sys)
	}
	unit := e.Unit
	if unit == "C" {
		unit = "°C"
	}
	return strings.TrimSpace(Round(e.Low) + " – " + Round(e.Typical) + " – " + Round(e.High) + " " + unit)
}
