package entry

import (
	"fmt"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/units"
)

func seam(kind string) func(*View, string) bool {
	return func(v *View, id string) bool {
		for _, s := range v.Adv.Seams {
			if s.ID == id && s.Kind == kind {
				v.seam(s)
				return true
			}
		}
		return false
	}
}

func (v *View) seam(s *advise.Seam) {
	v.Name, v.Also, v.Say = s.Name, s.Synonyms, s.Say
	if s.FrayHeld >= 0 {
		v.row("Holds fray", "up to "+fibres.FrayScale[s.FrayHeld])
	}
	v.row("On sheers", yesNo(s.Sheer))
	if s.Curve >= 0 {
		v.row("On curves", advise.CurveScale[s.Curve])
	}
	v.row("Neat from both sides", yesNo(s.Reversible))
	v.row("Layers in it", fmt.Sprint(s.Layers))
	if s.Bulk >= 0 {
		v.row("Bulk", advise.BulkScale[s.Bulk])
	}
	if s.MassHigh > 0 {
		v.row("For cloth of", v.Quantities(s.MassLow, s.MassHigh, "g/m2"))
	}
	if s.AllowanceHigh > 0 {
		v.row("Allowance", v.Quantities(float64(s.AllowanceLow)*10, float64(s.AllowanceHigh)*10, "mm"))
	}
	v.row("Stitch", s.StitchWords())
	v.Cite = v.Sheet.Cite(s.Basis, s.Sources)
}

func interfacing(v *View, id string) bool {
	for _, x := range v.Adv.Interfacings {
		if x.ID != id {
			continue
		}
		v.Name, v.Also, v.Say = x.Name, x.Synonyms, x.Say
		v.row("Made as", x.Structure)
		v.row("Put on", map[string]string{"fuse": "fused", "sew": "sewn in", "either": "fused or sewn in"}[x.Attach])
		v.row("Role", x.Role)
		if x.MassHigh > 0 {
			v.row("Mass", v.Quantities(x.MassLow, x.MassHigh, "g/m2"))
		}
		if x.ShellMassHigh > 0 {
			v.row("For shells of", v.Quantities(x.ShellMassLow, x.ShellMassHigh, "g/m2"))
		}
		if x.HeatHigh > 0 {
			v.row("Fused at", v.Quantities(x.HeatLow, x.HeatHigh, "C"))
			v.Caution = "Try it on a scrap first. Iron and steam burn."
		}
		if x.Stiffness > 0 {
			v.row("Stiffness added", fibres.Round(x.Stiffness)+" times the shell’s own, a low guess")
		}
		if x.Hand >= 0 {
			v.row("Hand", fibres.HandScale[x.Hand])
		}
		if x.Wash >= 0 {
			v.row("Hottest wash", fibres.WashScale[x.Wash])
		}
		v.Cite = v.Sheet.Cite(x.Basis, x.Sources)
		return true
	}
	return false
}

// length tells a length, or nothing where it is not given.
func (v *View) length(l units.Length) string {
	if l <= 0 {
		return ""
	}
	return v.Length(l)
}
