package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Who wears it: whom the user names, else whom the piece is made for.
func TestWhoWearsIt(t *testing.T) {
	for _, x := range []struct {
		said  string
		piece *Piece
		want  string
	}{{"child", &Piece{Wearer: "adult"}, "child"}, {"", &Piece{Wearer: "adult"}, "adult"}, {"", &Piece{Wearer: "none"}, ""}, {"", nil, ""}, {"adult", nil, "adult"}} {
		require.Equal(t, x.want, MakeUp{Wearer: x.said, Piece: x.piece}.wearer())
	}
	require.Empty(t, MakeUp{}.job())
	require.Equal(t, "warm", MakeUp{Job: &Job{ID: "warm"}}.job())
}
