// Package worn holds pictures of pieces worn that were computed beforehand, by piece and class of
// bending length, so that a page can show one at once. They have no colours yet.
package worn

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"sync"

	"tenter/draw"
)

//go:generate go run tenter/internal/wornmake table table.bin

// Packed is the table as it is packed. A program for a browser does not hold it: whoever
// starts that fetches it beside the program, and sets it before anything is asked.
func Packed() []byte { return packed }

// Use sets the table of a program that does not hold it.
func Use(b []byte) { packed = b }

// Classes are the bending lengths in cm that were computed, even steps apart in their logarithm.
var Classes = []float64{1, 1.6, 2.4, 3.6, 5.5}

// Mass is the mass in g/m² that was computed. It enters by shear against weight alone: cloth half as
// heavy stands some centimetres farther out (docs/drape.md).
const Mass = 180

// Frame sizes and how many turns a piece is seen from.
const (
	Wide, Tall = 160, 200
	Turns      = 8
)

// Entry is one piece in one class, as it is packed: Why is set and Frames empty where the picture would
// have misled.
type Entry struct {
	Piece     string   `json:"piece"`
	Bending   float64  `json:"c"`
	Folds     int      `json:"folds"`
	Crossings int      `json:"crossings"`
	Residual  float64  `json:"residual"`
	Seconds   float64  `json:"seconds"`
	PerMetre  float64  `json:"per_metre"`
	Why       string   `json:"why,omitempty"`
	Frames    [][2]int `json:"frames"` // where in the body each lies, and how long it is
}

// Picture is a piece worn, from Turns sides; the first is that of every other piece of its kind.
type Picture struct {
	Entry
	Sides []draw.Shading
}

// Index are the entries of a table and the bytes of its frames.
type Index struct {
	Entries []Entry
	body    []byte
}

// Read takes a table apart; frames stay packed.
func Read(b []byte) (Index, error) {
	if len(b) < 4 || uint64(binary.LittleEndian.Uint32(b))+4 > uint64(len(b)) {
		return Index{}, errors.New("a table of pictures that is cut short")
	}
	n := 4 + int(binary.LittleEndian.Uint32(b))
	x := Index{body: b[n:]}
	return x, json.Unmarshal(b[4:n], &x.Entries)
}

// Write puts a table together.
func Write(entries []Entry, frames [][][]byte) ([]byte, error) {
	var body []byte
	for i := range entries {
		entries[i].Frames = [][2]int{}
		for _, f := range frames[i] {
			entries[i].Frames = append(entries[i].Frames, [2]int{len(body), len(f)})
			body = append(body, f...)
		}
	}
	head, err := json.Marshal(entries)
	if err != nil {
		return nil, err
	}
	out := binary.LittleEndian.AppendUint32(nil, uint32(len(head)))
	return append(append(out, head...), body...), nil
}

// Unpack reads the frames of an entry.
func (x Index) Unpack(e Entry) (Picture, error) {
	p := Picture{Entry: e}
	for side := range e.Frames {
		s, err := x.side(e, side)
		if err != nil {
			return p, err
		}
		p.Sides = append(p.Sides, s)
	}
	return p, nil
}

// side reads one frame of an entry.
func (x Index) side(e Entry, side int) (draw.Shading, error) {
	f := e.Frames[side]
	if f[0] < 0 || f[1] < 0 || f[0]+f[1] > len(x.body) {
		return draw.Shading{}, fmt.Errorf("a picture of %s lies outside the table", e.Piece)
	}
	return draw.UnpackShading(x.body[f[0] : f[0]+f[1]])
}

var table = sync.OnceValue(func() Index {
	if len(packed) == 0 {
		return Index{} // it was not fetched: then there are no pictures
	}
	x, err := Read(packed)
	if err != nil {
		panic("the built-in table of pictures: " + err.Error()) // a slip of ours, which a test would meet first
	}
	return x
})

// nearest is the entry of a piece in cloth of the nearest bending length; false where there is none.
func nearest(piece string, bendingCM float64) (Entry, bool) {
	var best Entry
	far := math.Inf(1)
	for _, e := range table().Entries {
		if e.Piece != piece || !(bendingCM > 0) {
			continue
		}
		if d := math.Abs(math.Log(bendingCM / e.Bending)); d < far {
			best, far = e, d
		}
	}
	return best, !math.IsInf(far, 1)
}

// Withheld says why a piece in the table is not shown in cloth of a bending length; empty where it is, or is not there.
func Withheld(piece string, bendingCM float64) string {
	e, _ := nearest(piece, bendingCM)
	return e.Why
}

// Class is the bending length in cm of the picture that Find gives; false where it gives none.
func Class(piece string, bendingCM float64) (float64, bool) {
	e, ok := nearest(piece, bendingCM)
	return e.Bending, ok && e.Why == ""
}

// Find is the picture of a piece in cloth of the nearest bending length; false where there is none, or
// only one that would mislead.
func Find(piece string, bendingCM float64) (Picture, bool) {
	e, ok := nearest(piece, bendingCM)
	if !ok || e.Why != "" {
		return Picture{}, false
	}
	p, err := table().Unpack(e)
	return p, err == nil
}

// FindSide is one side of the picture that Find gives; false where it gives none, or has no such side.
func FindSide(piece string, bendingCM float64, side int) (draw.Shading, bool) {
	e, ok := nearest(piece, bendingCM)
	if !ok || e.Why != "" || side < 0 || side >= len(e.Frames) {
		return draw.Shading{}, false
	}
	s, err := table().side(e, side)
	return s, err == nil
}
