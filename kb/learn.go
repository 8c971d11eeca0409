package kb

import (
	"maps"

	"tenter/fibres"
)

// What the user may switch off, as settings of the store.
const (
	SettingLearn = "learn" // false: own swatches and verdicts move nothing
)

// maxLessons is from how many swatches is learned, those measured last first.
const maxLessons = 2000

// Lessons are what the user's measured swatches may teach of their kin.
func (b *Base) Lessons() ([]fibres.Lesson, error) {
	if b.Records == nil {
		return nil, nil
	}
	ws, by, err := b.Records.Measured([]string{"mass", "droop", "loop"}, maxLessons)
	if err != nil {
		return nil, err
	}
	var out []fibres.Lesson
	for _, w := range ws {
		s := b.SubjectOf(w, EvidenceOf(by[w.ID]))
		if s.Cloth == nil {
			continue
		}
		known := maps.Clone(s.Known)
		maps.DeleteFunc(known, func(_ fibres.Property, e fibres.Estimate) bool { return e.Basis != fibres.Measured }) // the name's own figures are in it
		out = append(out, fibres.Lesson{Swatch: w.Name, Cloth: s.Cloth, Content: s.Content, Known: known})
	}
	return out, nil
}

// Learns tells whether the user lets own records move the answers; they do unless
// it was switched off.
func (b *Base) Learns() (bool, error) {
	if b.Records == nil {
		return true, nil
	}
	on := true
	_, err := b.Records.Setting(SettingLearn, &on)
	return on, err
}
