package fibres

// FibreFigure is a recorded figure of a fibre by the name of its file:
// "density", "crease" …; ok is false where nobody has recorded it.
func (c *Catalogue) FibreFigure(fibre, figure string) (e Estimate, ok bool) {
	r := c.facts.of(ref{"fibre", fibre, figure})
	if len(r) == 0 {
		return Estimate{}, false
	}
	return r[0], true
}
