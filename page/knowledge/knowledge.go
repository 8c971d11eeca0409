// Package knowledge joins what the answers rest on: the reference, and what the
// user's own records make of it. Every program that answers is built on it.
package knowledge

import (
	"encoding/json"
	"strings"

	"tenter/advise"
	"tenter/advise/rules"
	"tenter/kb"
)

// Learned is the adviser moved by the user's own swatches and verdicts, where there
// are any and nobody switched it off.
func Learned(adv *advise.Adviser, b *kb.Base) (*advise.Adviser, error) {
	on, err := b.Learns()
	if err != nil || !on || b.Records == nil {
		return adv, err
	}
	lessons, err := b.Lessons()
	if err != nil {
		return adv, err
	}
	worn, err := Worn(b.Records)
	if err != nil {
		return adv, err
	}
	return adv.WithCatalogue(adv.Cat.Learned(lessons)).WithWorn(worn), nil
}

// WornMakeUp is a make-up with its figures, as a verdict after wear keeps it.
type WornMakeUp struct {
	advise.MakeUpIDs
	Figures map[string]advise.Figures `json:"figures,omitempty"`
}

// Worn are the user's verdicts as the adviser takes them.
func Worn(r kb.Records) ([]advise.Worn, error) {
	list, err := r.Wears(0)
	if err != nil {
		return nil, err
	}
	var out []advise.Worn
	for _, w := range list {
		var m WornMakeUp
		if json.Unmarshal(w.MakeUp, &m) != nil {
			continue // of another program; it moves nothing
		}
		out = append(out, advise.Worn{ID: w.ID, Piece: m.Piece, Finding: w.Verdict, Who: m.Cloth, At: w.At, Figures: m.Figures})
	}
	return out, nil
}

// TopicOf is the topic of a rule: the name of the file that it stands in.
func TopicOf(r *rules.Rule) string {
	file, _, _ := strings.Cut(r.Place, ".toml")
	return file[strings.LastIndexAny(file, `/\\`)+1:]
}
