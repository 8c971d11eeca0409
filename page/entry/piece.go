package entry

import (
	"fmt"

	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/picture"
)

func piece(v *View, id string) bool {
	for _, p := range v.Adv.Pieces {
		if p.ID != id {
			continue
		}
		v.Name, v.Also, v.Say = p.Name, p.Synonyms, p.Say
		if v.Drawing = v.DrawPiece(v.Ask, p); v.Drawing == nil {
			v.Picture = v.PieceSVG(p, "A sketch of the parts of the "+p.Name+", at one scale")
			v.Caption = "Its parts at one scale, sketched; an outline behind is cut again, an arrow is the grain."
		}
		v.row("Sort", p.Group)
		v.row("Cut", p.Shape)
		v.row("Carried by", p.Support)
		v.row("Hangs", v.length(p.Hang))
		v.row("Fall judged over", v.length(p.Flap))
		v.row("Has", list(p.Features))
		v.row("Faces seen", fmt.Sprint(p.Faces))
		v.row("For", map[string]string{"adult": "an adult", "child": "a child"}[p.Wearer])
		v.row("Washed", p.Wash)
		for _, x := range p.Parts {
			v.row(prose.Upper(x.Name), fmt.Sprintf("%d × %s by %s, %s", x.Count, v.Length(x.Width), v.Length(x.Height), x.Shape))
		}
		for _, s := range p.Seams {
			v.row(prose.Upper(s.Name), v.Length(s.Length)+" long")
		}
		v.demands(p.Demands)
		v.Cite = v.Sheet.Cite(p.Basis, p.Sources)
		v.Next = []Next{{v.To("/make", address.KeyPiece, id), "Make one: choose the finish and see the cloths"}, {v.To("/check", address.KeyPiece, id), "Check a cloth for it"}}
		return true
	}
	return false
}

func finish(v *View, id string) bool {
	for _, f := range v.Adv.Finishes {
		if f.ID != id {
			continue
		}
		v.Name, v.Also, v.Say = f.Name, f.Synonyms, f.Say
		v.Picture = picture.Finish(f, "A cut through the edge: "+f.Name)
		v.Caption = "A cut through the edge: the shell thick, the lining thin, stitching dashed."
		v.row("Full layers", fmt.Sprint(f.Layers))
		v.row("Lined", yesNo(f.Lined))
		v.row("Layers held", f.Joined)
		v.row("Edge", f.Edge)
		v.row("Turned through", yesNo(f.Turned))
		v.row("Either face out", yesNo(f.Reversible))
		v.row("Allowance", v.length(f.Allowance))
		if f.StripWidth > 0 {
			v.row("Strip along the edge", fmt.Sprintf("%s wide, %d layers", v.Length(f.StripWidth), f.StripLayers))
		}
		v.demands(f.Demands)
		for _, s := range f.Steps {
			v.Steps = append(v.Steps, Step{s.Say, s.Because})
		}
		v.Cite = v.Sheet.Cite(f.Basis, f.Sources)
		v.Next = []Next{{v.To("/make", address.KeyFinish, id), "Make something so: choose the piece"}}
		return true
	}
	return false
}
