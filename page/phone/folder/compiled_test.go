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
	require.Contains(t, string(run), "for p in "+strings.Join(reckoning, " ")+"; do")
}
