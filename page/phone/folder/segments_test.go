package folder

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The memory that a browser makes of the joined module is the one that the linker meant,
// at places whose numbers look like negative ones too.
func TestJoinedDataIsTheSameMemory(t *testing.T) {
	head := []byte("\x00asm\x01\x00\x00\x00")
	custom := []byte{0, 3, 1, 'x', 7}
	was := []segment{{63, []byte("ab")}, {70, []byte("c")}, {8191, []byte("def")}, {8194, []byte("g")}, {8194 + 1 + joinAcross + 1, []byte("h")}, {1 << 30, []byte("i")}}
	body := written(was)
	module := append(append([]byte{}, head...), custom...)
	module = append(append(append(module, dataSection, byte(len(body))), body...), custom...)

	now := joined(module)
	require.Equal(t, append(append([]byte{}, head...), custom...), now[:len(head)+len(custom)], "what stands before stays")
	require.Equal(t, custom, now[len(now)-len(custom):], "and what stands after")
	all, ok := segments(now[len(head)+len(custom)+2 : len(now)-len(custom)])
	require.True(t, ok)
	require.Len(t, all, 4)
	require.Equal(t, memory(was), memory(all))

	body[1] = 1 // a passive segment
	module[len(head)+len(custom)+3] = 1
	require.Equal(t, module, joined(module), "of another form: as it was")
	require.Equal(t, module[:20], joined(module[:20]), "cut off: as it was")
}

func memory(all []segment) map[uint64]byte {
	out := map[uint64]byte{}
	for _, s := range all {
		for i, b := range s.data {
			if b != 0 {
				out[s.at+uint64(i)] = b
			}
		}
	}
	return out
}
