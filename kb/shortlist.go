package kb

import (
	"fmt"
	"strings"
	"time"
)

// Bolt is a cloth that may be bought: what was asked of it and what came of it, as the
// maker writes it on a slip, with the price and a note.
type Bolt struct {
	ID      string    `json:"-"`
	At      time.Time `json:"at"`
	Query   string    `json:"query"` // the question, as an address holds it
	Name    string    `json:"name"`
	Piece   string    `json:"piece"`
	Verdict string    `json:"verdict"`
	Buy     string    `json:"buy,omitempty"`
	Cost    string    `json:"cost,omitempty"`
	Price   string    `json:"price,omitempty"`
	Note    string    `json:"note,omitempty"`
}

// shortlisted begins the keys of the settings that hold the shortlist, one a bolt:
// so two devices add to it without a clash.
const shortlisted = "shortlist/"

// Shortlist lists the bolts, the latest first.
func Shortlist(r Records) ([]Bolt, error) {
	keys, err := r.Settings(shortlisted)
	if err != nil {
		return nil, err
	}
	var out []Bolt
	for i := len(keys) - 1; i >= 0; i-- { // the keys are times
		b := Bolt{ID: strings.TrimPrefix(keys[i], shortlisted)}
		if _, err := r.Setting(keys[i], &b); err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, nil
}

// PutBolt puts a bolt on the shortlist, or in the place of the one of its ID.
func PutBolt(r Records, b Bolt) error {
	if b.ID != "" {
		return r.SetSetting(shortlisted+b.ID, b)
	}
	id := shortlisted + b.At.UTC().Format("20060102T150405")
	key := id
	for n := 2; ; n++ { // two in one second
		there, err := r.Setting(key, new(Bolt))
		if err != nil {
			return err
		}
		if !there {
			return r.SetSetting(key, b)
		}
		key = fmt.Sprintf("%s-%02d", id, n)
	}
}

// RemoveBolt takes a bolt off the shortlist.
func RemoveBolt(r Records, id string) error { return r.RemoveSetting(shortlisted + id) }

// ChangeText puts a change of the shortlist, which is one of a setting, into a maker's words;
// any other change stays as it was told.
func ChangeText(what string) string {
	for end, sentence := range map[string]string{"made": "a cloth kept on the shortlist", "changed": "a cloth of the shortlist changed", "removed": "a cloth taken off the shortlist"} {
		if strings.HasPrefix(what, `setting "`+shortlisted) && strings.HasSuffix(what, `" `+end) {
			return sentence
		}
	}
	return what
}
