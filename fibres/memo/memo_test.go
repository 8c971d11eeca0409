package memo

import (
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWorkIsDoneOnceForAll(t *testing.T) {
	var c Cache[string, int]
	var works atomic.Int32
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			if got := c.Get("a", func() int { return int(works.Add(1)) }); got != 1 {
				t.Errorf("got %d", got)
			}
		})
	}
	all.Wait()
	require.EqualValues(t, 1, works.Load())
	require.Equal(t, 7, c.Get("b", func() int { return 7 }), "another key is other work")
	c.Clear()
	require.Equal(t, 2, c.Get("a", func() int { return int(works.Add(1)) }), "after Clear it is worked out anew")
}

func TestOldestGoWhereThereIsTooMuch(t *testing.T) {
	var c Cache[string, string]
	c.Within(10, func(s string) int { return len(s) })
	c.Put("a", "four")
	c.Put("b", "three")
	c.Put("a", "another")
	got, ok := c.Peek("a")
	require.True(t, ok)
	require.Equal(t, "four", got, "what is kept stays")
	c.Put("c", "six...")
	_, ok = c.Peek("a")
	require.False(t, ok, "15 were too many")
	_, ok = c.Peek("b")
	require.False(t, ok, "11 are too many still")
	_, ok = c.Peek("c")
	require.True(t, ok)
	c.Put("d", strings.Repeat("x", 11))
	_, ok = c.Peek("d")
	require.False(t, ok, "what is larger than all that may be kept is not kept")

	var few Cache[int, int]
	few.Within(2, nil)
	for i := range 3 {
		few.Put(i, i)
	}
	_, ok = few.Peek(0)
	require.False(t, ok)
	_, ok = few.Peek(1)
	require.True(t, ok, "without sizes each counts 1, and 2 are kept")
}

func TestPanicIsNotKept(t *testing.T) {
	var c Cache[int, string]
	require.Panics(t, func() { c.Get(1, func() string { panic("no") }) })
	_, ok := c.Peek(1)
	require.False(t, ok)
	require.Equal(t, "yes", c.Get(1, func() string { return "yes" }))
}
