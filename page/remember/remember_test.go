package remember

import (
	"fmt"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestOfManyWhoAskOneWorks(t *testing.T) {
	k := &Answers{}
	var worked atomic.Int32
	var wg sync.WaitGroup
	for range 50 {
		wg.Go(func() {
			got := Answer(k, "key", func() int { return int(worked.Add(1)) })
			require.Equal(t, 1, got)
		})
	}
	wg.Wait()
	k.Forget()
	require.Equal(t, 2, Answer(k, "key", func() int { return int(worked.Add(1)) }))
}

func TestOldAnswersAreDropped(t *testing.T) {
	k := &Answers{}
	for i := range 3 * maxAnswers {
		require.Equal(t, i, Answer(k, fmt.Sprint(i), func() int { return i }))
	}
	n := 0
	Answer(k, "0", func() int { n++; return 0 })
	require.Equal(t, 1, n, "the oldest is worked out anew")
}

// Work that panics leaves no answer behind.
func TestWorkThatPanicsIsDoneAgain(t *testing.T) {
	k := &Answers{}
	require.Panics(t, func() { Answer(k, "key", func() int { panic("x") }) })
	require.Equal(t, 7, Answer(k, "key", func() int { return 7 }))
}
