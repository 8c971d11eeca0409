package cut

import (
	"tenter/fibres/units"
)

// Little is the effort of tests that hold what is true however hard a layout was
// sought, Usual that of every answer.
const (
	Little = 16_000
	Usual  = quickEffort
)

// PlanQuickly is [Plan] with little effort.
func PlanQuickly(j Job) (Answer, error) {
	j.effort = effort{Little, Little / 4}
	return Plan(j)
}

// LengthOf lays the parts of a job on one of its layers, as cloth of the width that
// loses what it mostly does, and returns how long the layout is after so
// much effort.
func LengthOf(j Job, l Layer, width units.Length, effort int) (float64, error) {
	var parts []Part
	for _, p := range j.Parts {
		if l.cuts(p) {
			parts = append(parts, p)
		}
	}
	out, err := lay(drawParts(parts, j.allowances(&l)), l, float64(width), typical(l.Weft), typical(l.Warp), effort)
	return out.length, err
}
