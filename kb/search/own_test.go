package search

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRootsAreNeverMissed(t *testing.T) {
	words := append(strings.Fields("grey pyjamas fibre colours theatre woollens sulphur metres centred mercerising ties dying dyeing relational sensibility hopping filing knitted happily ponies curtains organdie universally a by"),
		strings.Fields("gray pajamas fiber colors theater woolens sulfur meters centered mercerizing")...)
	for _, written := range words {
		d := Doc{Text: written}
		for _, w := range tokens(written, 0) {
			ok := false
			for _, r := range roots(w, stem(w)) {
				ok = ok || strings.Contains(squeeze(&d), r)
			}
			require.True(t, ok, "%s: %v", written, roots(w, stem(w)))
		}
	}
}
