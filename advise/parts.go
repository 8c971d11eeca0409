package advise

import "tenter/advise/cut"

// CutParts is the parts of a piece as they are cut.
func (p *Piece) CutParts() []cut.Part {
	var out []cut.Part
	for _, x := range p.Parts {
		out = append(out, cut.Part{Name: x.Name, Count: x.Count, Width: x.Width, Height: x.Height, Grain: cut.Grain(x.Grain), ShellOnly: x.ShellOnly})
	}
	return out
}

// Said names a make-up by its ids, as every answer repeats it.
func Said(m MakeUp) MakeUpSaid { return said(m) }
