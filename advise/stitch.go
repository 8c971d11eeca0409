package advise

import (
	"regexp"
	"sync"
)

// stitchNames are the stitch types of ISO 4915 in words: classes as read, types from memory.
var stitchNames = map[string]string{"101": "single chain stitch", "103": "blind chain stitch", "200 class": "by hand", "500 class": "overedge", "301": "lockstitch", "304": "zigzag lockstitch", "401": "double chain stitch",
	"406": "cover stitch of two needles", "503": "overedge of two threads", "504": "overedge of three threads", "514": "overedge of four threads", "516": "overedge and chain stitch together"}

var stitchNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\b[1-6]\d\d\b( class)?`) })

// StitchWords tells the stitch of a seam in words, with its number behind:
// "lockstitch (301)"; "" where it has none.
func (s *Seam) StitchWords() string {
	return stitchNumber().ReplaceAllStringFunc(s.Stitch, func(n string) string {
		if name := stitchNames[n]; name != "" {
			return name + " (" + n + ")"
		}
		return n
	})
}
