package page

import (
	"bytes"
	"cmp"
	"context"
	"image"
	"image/color"
	stddraw "image/draw"
	"image/png"
	"runtime"
	"strconv"
	"sync"
	"time"

	"tenter/draw"
	"tenter/draw/worn"
	"tenter/fibres/fault"
	"tenter/page/address"
	"tenter/page/fall"
	"tenter/page/question"
)

// wornPicture gives the picture of a piece worn: one side of it, or all in a row; from the table that
// was computed beforehand, or computed for the make-up of the address.
func (s *Site) wornPicture(r Request) Reply {
	q := r.URL.Query()
	if q.Get(address.KeyOwn) != "" {
		return s.ownPicture(r)
	}
	bending, err := strconv.ParseFloat(q.Get(address.KeyClass), 64)
	if err != nil {
		return s.failed404(r)
	}
	sides, times := []draw.Shading(nil), wornRow
	if side := q.Get(address.KeySide); side != address.AllSides {
		n, err := strconv.Atoi(side)
		one, ok := worn.FindSide(q.Get(address.KeyPiece), bending, n)
		if err != nil || !ok {
			return s.failed404(r)
		}
		sides, times = []draw.Shading{one}, wornOne
	} else if p, ok := worn.Find(q.Get(address.KeyPiece), bending); ok {
		sides = p.Sides
	} else {
		return s.failed404(r)
	}
	face, ok := fall.Unhex(q.Get(address.KeyFace))
	if !ok {
		face = draw.UsualFace
	}
	back, ok := fall.Unhex(q.Get(address.KeyBack))
	if !ok {
		back = draw.UsualLining
	}
	a := s.inRow(r, sides, times, face, back)
	a.Header["Cache-Control"] = "private, max-age=3600"
	return a
}

// How many times larger than the table has it one side is painted, and a row of all: a picture is
// shown wider than it was computed, on screens with two pixels where there was one.
const (
	wornOne = 3
	wornRow = 2
)

// inRow paints pictures side by side, so many times larger.
func (s *Site) inRow(r Request, sides []draw.Shading, times int, face, back color.RGBA) Reply {
	row := image.NewNRGBA(image.Rect(0, 0, sides[0].W*times*len(sides), sides[0].H*times))
	for i, x := range sides {
		shading := x.Enlarged(times).Paint(face, back)
		stddraw.Draw(row, shading.Bounds().Add(image.Pt(i*shading.Bounds().Dx(), 0)), shading, image.Point{}, stddraw.Src)
	}
	var b bytes.Buffer
	quickly := png.Encoder{CompressionLevel: png.BestSpeed} // it goes no further than this machine
	if err := quickly.Encode(&b, row); err != nil {
		return s.failWith(r, err)
	}
	return newReply(statusOK, "image/png", b.Bytes())
}

// fallTime is how long a fall may take to compute: less than a browser waits for an answer.
const fallTime = 50 * time.Second

// maxFalls is how many computed falls are kept.
const maxFalls = 12

// falls are make-ups that were computed, one at a time: two would each take twice as long.
type falls struct {
	mu    sync.Mutex
	by    map[string]fall.Turned
	order []string      // oldest first
	limit time.Duration // of one fall; 0: fallTime
}

// turn gives the fall of a key, computed by work where it is not at hand; work is stopped once who asked has left.
func (f *falls) turn(left <-chan struct{}, key string, work func(context.Context) (fall.Turned, error)) (fall.Turned, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if t, ok := f.by[key]; ok {
		return t, nil
	}
	ctx, stop := context.WithTimeout(context.Background(), cmp.Or(f.limit, fallTime))
	defer stop()
	go func() {
		select {
		case <-left:
			stop()
		case <-ctx.Done():
		}
	}()
	t, err := work(ctx)
	if err != nil {
		return t, err
	}
	if f.by == nil {
		f.by = map[string]fall.Turned{}
	}
	f.by[key], f.order = t, append(f.order, key)
	if len(f.order) > maxFalls {
		delete(f.by, f.order[0])
		f.order = f.order[1:]
	}
	return t, nil
}

// ownPicture computes the make-up of the address in its own measures, and gives all its sides.
func (s *Site) ownPicture(r Request) Reply {
	if runtime.GOOS == "js" { // known when it is compiled: the mechanics are then left out of the program
		return s.failed404(r)
	}
	k, a := s.shared(), address.NewAsk(r.URL.EscapedPath(), "", r.URL.Query())
	m, _ := question.MakeUp(k, a)
	if m.Piece == nil || m.Shell == nil || s.phone {
		return s.failed404(r)
	}
	set := question.Measures(k, a, m.Piece)
	c, err := fall.Cloths(k.Adv, m, 0, true)
	if err != nil {
		return s.failWith(r, err)
	}
	t, err := s.falls.turn(r.Left, a.Question()+fallMark(c[0]), func(ctx context.Context) (fall.Turned, error) {
		return fall.Turn(ctx, k.Adv, m, set, worn.Turns, worn.Wide, worn.Tall)
	})
	if err != nil {
		return s.failWith(r, &fault.Fault{Kind: fault.NotFound, What: "no picture: " + fault.All(err)[0].What})
	}
	face, back := fall.Paints(m)
	return s.inRow(r, t.Sides, wornRow, face, back)
}

// fallMark tells two cloths of one address apart: a swatch that is measured anew keeps its name.
func fallMark(c fall.Cloth) string {
	return strconv.FormatFloat(c.Bending, 'g', 6, 64) + "/" + strconv.FormatFloat(c.Mass, 'g', 6, 64) + "/" + strconv.FormatFloat(c.Sheet.Shear, 'g', 6, 64)
}
