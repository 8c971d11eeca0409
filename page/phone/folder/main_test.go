package folder

import (
	"os"
	"testing"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
)

// Where the data has a slip, no test of it says anything: those of data tell it.
func TestMain(m *testing.M) {
	_, err := advise.Load(data.FS)
	os.Exit(testkit.NeedData(m, err))
}
