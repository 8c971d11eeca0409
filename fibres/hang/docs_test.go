package hang

import (
	"testing"

	"tenter/internal/testkit"
)

// Every formula says what it is given, where it holds, how well, what it refuses, whence it comes
// and which test holds it to that; and it has a worked example.
func TestFormulasAreDocumented(t *testing.T) {
	testkit.Formulas(t, 27, "Hands", "BandRange", "TestFor")
}
