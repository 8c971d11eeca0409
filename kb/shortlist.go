package kb

import (
	"fmt"
	"strings"
	"time"
)

// Bolt is a cloth seen in a shop that may be bought: what was asked of it and what
// came of it, as the maker writes it on a slip.
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

// AddBolt puts a bolt on the shortlist; the same question again replaces it.
func AddBolt(r Records, b Bolt) error {
	list, err := Shortlist(r)
	if err != nil {
		return err
	}
	for _, old := range list {
		if old.Query == b.Query {
			return r.SetSetting(shortlisted+old.ID, b)
		}
	}
	id := b.At.UTC().Format("20060102T150405")
	for n := 2; ; n++ { // two in one second
		key := shortlisted + id
		if n > 2 {
			key = fmt.Sprintf("%s-%d", key, n-1)
		}
		if there, err := r.Setting(key, new(Bolt)); err != nil || !there {
			if err != nil {
				return err
			}
			return r.SetSetting(key, b)
		}
	}
}

// RemoveBolt takes a bolt off the shortlist.
func RemoveBolt(r Records, id string) error { return r.RemoveSetting(shortlisted + id) }
