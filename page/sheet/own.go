package sheet

import (
	"sort"

	"tenter/fibres"
	"tenter/fibres/price"
	"tenter/kb/record"
	"tenter/page/picture"
)

// OwnSubjects are the user's swatches as the answers take them. What cannot be
// read counts as not there: the page of the swatches says why.
func (k *Site) OwnSubjects() []*fibres.Subject {
	if k.Base.Records == nil {
		return nil
	}
	return Remember(k, "own", func() []*fibres.Subject {
		out, _ := k.Base.Subjects()
		return out
	})
}

// HasOwn reports whether there are any swatches.
func (k *Site) HasOwn() bool {
	if k.Base.Records == nil {
		return false
	}
	return Remember(k, "has own", func() bool {
		_, n, err := k.Base.Records.ListSwatches(record.SwatchFilter{}, 1, 0)
		return err == nil && n > 0
	})
}

// ownByCloth are the swatches by the cloth that they were sold as.
func (k *Site) ownByCloth() map[string][]*fibres.Subject {
	return Remember(k, "own by cloth", func() map[string][]*fibres.Subject {
		out := map[string][]*fibres.Subject{}
		for _, s := range k.OwnSubjects() {
			if s.Cloth != nil {
				out[s.Cloth.ID] = append(out[s.Cloth.ID], s)
			}
		}
		return out
	})
}

// PriceOf is what a cloth costs as far as the user has recorded it: that of the
// swatch, or of the cheapest swatch that was sold under the name and is priced in
// the currency. Nil where no price of a length is known.
func (k *Site) PriceOf(s *fibres.Subject, in price.Price) *price.Price {
	if s.Swatch || s.Cloth == nil {
		return priced(s, in)
	}
	var least *price.Price
	for _, own := range k.ownByCloth()[s.Cloth.ID] {
		if p := priced(own, in); p != nil && (least == nil || perMetre(p) < perMetre(least)) {
			least = p
		}
	}
	return least
}

func priced(s *fibres.Subject, in price.Price) *price.Price {
	if s.Price == nil || s.Price.Per <= 0 || !s.Price.Like(in) {
		return nil
	}
	return s.Price
}

func perMetre(p *price.Price) float64 {
	v, _ := p.PerMetre()
	return v
}

// OwnOf are the swatches that were sold under the name of a cloth.
func (k *Site) OwnOf(cloth string) []Link {
	var out []Link
	for _, s := range k.ownByCloth()[cloth] {
		out = append(out, k.LinkOf(s))
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out[:min(len(out), 60)]
}

// ownPoints are the figures of a property that were measured on swatches of a
// cloth.
func (k *Site) ownPoints(cloth string, p fibres.Property) []float64 {
	var out []float64
	own := k.ownByCloth()[cloth]
	for _, s := range own[:min(len(own), 40)] {
		if len(out) == 12 {
			break
		}
		if e := k.Adv.Cat.Estimate(*s, p); picture.IsOwn(e) {
			out = append(out, e.Typical)
		}
	}
	return out
}
