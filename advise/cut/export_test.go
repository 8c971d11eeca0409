package cut

import "tenter/fibres/units"

// LengthOf lays the parts of a job on one of its layers, as cloth of the width that
// loses what it mostly does, and returns how long the layout is.
func LengthOf(j Job, l Layer, width units.Length) (float64, error) {
	const effort = 100_000 // the properties hold whatever the effort
	var parts []Part
	for _, p := range j.Parts {
		if l.cuts(p) {
			parts = append(parts, p)
		}
	}
	out, err := lay(drawParts(parts, j.allowances(&l)), l, float64(width), typical(l.Weft), typical(l.Warp), effort)
	return out.length, err
}
