package search_test

import (
	"testing"

	"tenter/kb/search"
	"tenter/kb/search/searchtest"
)

func TestInMemory(t *testing.T) { searchtest.Run(t, search.InMemory) }
