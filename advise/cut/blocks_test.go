package cut

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Boxes with a side in common are joined until one is left: 40 × 30 and 60 × 30 beside each
// other, 100 × 20 above them, make one of 100 × 50, each box once and none over another.
func TestBoxesWithACommonSideBecomeOneBlock(t *testing.T) {
	boxes := []box{{w: 40, h: 30}, {w: 100, h: 20}, {w: 60, h: 30}}
	list := joinBlocks(bench{width: 120}, boxes, 1, 1, 1000)
	require.Len(t, list, 1)
	whole := list[0].ways[0]
	require.InDelta(t, 100, whole.w, 1e-9)
	require.InDelta(t, 50, whole.h, 1e-9)
	require.Len(t, whole.boxes, 3)
	area := 0.0
	for i, a := range whole.boxes {
		area += boxes[a.box].w * boxes[a.box].h
		for _, b := range whole.boxes[:i] {
			p, q := boxes[a.box], boxes[b.box]
			require.True(t, a.x+p.w <= b.x+tolerance || b.x+q.w <= a.x+tolerance || a.y+p.h <= b.y+tolerance || b.y+q.h <= a.y+tolerance, "%v on %v", a, b)
		}
	}
	require.InDelta(t, whole.w*whole.h, area, 1e-9, "no gap is in it")
	require.Len(t, joinBlocks(bench{width: 90}, boxes[:1], 1, 1, 1000), 1)
	require.Len(t, joinBlocks(bench{width: 90}, []box{{w: 40, h: 30}, {w: 60, h: 30}}, 1, 1, 1000), 2, "side by side they are wider than the cloth")
}

// A block set on another and beside it: the sizes, and where each box lies.
func TestBlocksSetTogether(t *testing.T) {
	one := func(w, h float64) blockWay { return blockWay{w: w, h: h, boxes: []boxAt{{}}} }
	x := one(3, 2).above(one(3, 5)).beside(one(4, 7))
	require.Equal(t, []float64{7, 7}, []float64{x.w, x.h})
	require.Len(t, x.boxes, 3)
	require.Equal(t, []float64{0, 0, 0, 2, 3, 0}, []float64{x.boxes[0].x, x.boxes[0].y, x.boxes[1].x, x.boxes[1].y, x.boxes[2].x, x.boxes[2].y})
	y := one(1, 1).beside(one(2, 2).above(one(2, 3)))
	require.Equal(t, []float64{3, 5}, []float64{y.w, y.h})
	require.Equal(t, []float64{1, 2}, []float64{y.boxes[2].x, y.boxes[2].y})
}
