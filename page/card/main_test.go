package card

import (
	"os"
	"testing"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
	"tenter/internal/testkit/chromium"
)

// Where the data has a slip, no test of it says anything: those of data tell it.
func TestMain(m *testing.M) {
	_, err := advise.Load(data.FS)
	code := testkit.NeedData(m, err)
	chromium.Close()
	os.Exit(code)
}
