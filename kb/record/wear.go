package record

import (
	"encoding/json"
	"fmt"
	"time"
)

// Wear is how a make-up did in wear.
type Wear struct {
	ID      int64
	MakeUp  json.RawMessage // the make-up as the answers write it
	Verdict string          // one word
	Said    string          // in the user's words
	At      time.Time       // zero = now
}

// Compact checks JSON and takes the blanks out.
func Compact(where string, raw []byte) (string, error) {
	var v any
	if len(raw) > longestText || json.Unmarshal(raw, &v) != nil {
		return "", wrong(where, where+" is no JSON that can be kept", fmt.Sprintf("JSON of at most %d bytes", longestText))
	}
	b, err := json.Marshal(json.RawMessage(raw))
	return string(b), err
}

// Tidy checks a verdict and puts it in its kept form.
func (w *Wear) Tidy() error {
	makeUp, err := Compact("make_up", w.MakeUp)
	if err != nil {
		return err
	}
	w.MakeUp = json.RawMessage(makeUp)
	if w.Verdict, err = Name("verdict", w.Verdict); err != nil {
		return err
	}
	w.Said, err = Text("said", w.Said)
	return err
}

// SettingValue is the value of a setting as it is kept: JSON without blanks.
func SettingValue(key string, value any) (string, error) {
	raw, err := json.Marshal(value)
	if err != nil {
		return "", wrong(key, "the value cannot be kept", "what JSON can say")
	}
	return Compact(key, raw)
}

// ReadSetting reads a kept value into a pointer.
func ReadSetting(key, kept string, to any) error {
	if err := json.Unmarshal([]byte(kept), to); err != nil {
		return wrong(key, "the setting holds something else than was expected", fmt.Sprintf("%T", to))
	}
	return nil
}
