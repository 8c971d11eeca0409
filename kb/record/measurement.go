package record

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"tenter/fibres/fault"
	"time"
)

// Kinds are what can be measured on a swatch at home.
var Kinds = []string{"mass", "thickness", "droop", "wash", "stretch", "fray", "show-through", "press", "bleed", "loop",
	"width", "slide", "slip", "crease", "nap", "reverse", "rough", "warmth", "wind", "water", "sunfast", "wear", "crease-holds", "flame", "lustre", "drying", "spring", "drape"}

// Reading is one reading: figures and words by name, as "overhang_cm": 7.5,
// "face": "right". A figure's name ends in its unit.
type Reading map[string]any

// ReadingMass is the name of a mass in the readings of kind mass; the search
// and the lists look for it.
const ReadingMass = "mass_gsm"

// Measurement is what was read on one swatch at one time. It is never
// overwritten: a later one stands beside it.
type Measurement struct {
	ID       int64
	SwatchID int64
	Kind     string
	Taken    time.Time // zero = now
	Readings []Reading
	Note     string
	Removed  time.Time // zero = it counts
}

// Mean is the mean of a figure over the readings that give it.
func (m Measurement) Mean(figure string) (float64, bool) {
	sum, n := 0.0, 0
	for _, r := range m.Readings {
		if v, ok := r[figure].(float64); ok {
			sum, n = sum+v, n+1
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

// Tidy checks a measurement and returns its readings as they are kept.
func (m *Measurement) Tidy() (string, error) {
	var found fault.List
	var err error
	m.Kind = strings.TrimSpace(m.Kind)
	if !slices.Contains(Kinds, m.Kind) {
		found.Add(&fault.Fault{Kind: fault.WrongCall, Where: "kind", What: fmt.Sprintf("%q is nothing that is measured", m.Kind), Expected: "one of " + strings.Join(Kinds, ", "),
			Mend: fault.DidYouMean(m.Kind, Kinds, "")})
	}
	if m.Note, err = Text("note", m.Note); err != nil {
		found.Add(err)
	}
	if len(m.Readings) == 0 {
		found.Add(wrong("readings", "there are no readings", "one reading or more"))
	}
	for i, r := range m.Readings {
		where := fmt.Sprintf("reading %d", i+1)
		if len(r) == 0 {
			found.Add(wrong(where, "the reading is empty", "a figure"))
		}
		for k, v := range r {
			if f, ok := v.(float64); ok && (math.IsNaN(f) || math.IsInf(f, 0)) {
				found.Add(wrong(where, fmt.Sprintf("%s is no number", k), "a figure"))
			}
		}
	}
	if err := found.OrNil(); err != nil {
		return "", err
	}
	b, err := json.Marshal(m.Readings)
	if err != nil || len(b) > longestText {
		return "", &fault.Fault{Kind: fault.WrongCall, Where: "readings", What: "the readings cannot be kept", Expected: "figures and short words", Err: err}
	}
	m.Readings = nil // as they come back: every figure a float64
	return string(b), json.Unmarshal(b, &m.Readings)
}

// Clone copies a measurement so that a change of the one is none of the other.
func (m Measurement) Clone() Measurement {
	m.Readings = slices.Clone(m.Readings)
	for i := range m.Readings {
		m.Readings[i] = maps.Clone(m.Readings[i])
	}
	return m
}
