package data_test

import (
	"os"
	"testing"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
)

// A slip in the data is told here in full, before the tests that would all meet it.
func TestMain(m *testing.M) {
	_, err := advise.Load(data.FS)
	os.Exit(testkit.TellData(m, err))
}
