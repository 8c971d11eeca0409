package kb

import (
	"os"
	"testing"

	"tenter/data"
	"tenter/fibres"
	"tenter/internal/testkit"
)

// Where the data has a slip, no test of it says anything: those of data tell it.
func TestMain(m *testing.M) {
	_, err := fibres.Load(data.FS)
	os.Exit(testkit.NeedData(m, err))
}
