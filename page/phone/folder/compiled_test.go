package folder

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What vets the engine compiles all of it with the flags of Build, else it is compiled twice.
func TestVettedAsBuilt(t *testing.T) {
	run, err := os.ReadFile("../../../.ci/run")
	require.NoError(t, err)
	list := "for p in " + strings.Join(reckoning, " ") + "; do"
	require.True(t, strings.Contains(string(run), list), ".ci/run vets with other flags than Build compiles with: it wants %q", list)
}
