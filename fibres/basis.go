package fibres

// Basis says what a value rests on. The order is the order of trust.
type Basis string

// The bases, best first.
const (
	Measured  Basis = "measured"  // the user's own measurement
	Published Basis = "published" // a source that was read
	Memory    Basis = "memory"    // a named publication, not read here
	Practice  Basis = "practice"  // common practice, no source
	Derived   Basis = "derived"   // computed here from other values
	Unknown   Basis = "unknown"   // nothing is known
)

// rank orders bases for sorting, best first.
func (b Basis) rank() int {
	for i, x := range []Basis{Measured, Published, Memory, Practice, Derived} {
		if x == b {
			return i
		}
	}
	return 5
}

// Bases are the words a data file may use.
var Bases = []string{string(Published), string(Memory), string(Practice)}
