package kb

import (
	"bytes"
	"fmt"
	"io"

	"tenter/fibres/fault"
)

// What a list of swatches may hold, in bytes.
const (
	maxList = 256 << 20 // in all
	maxLine = 1 << 20   // on one line of CSV, or in one text of JSON
)

// ReadList reads the bytes of a list of swatches and stops at what no list holds: a
// line of over 1 MB, or in JSON so long a text. The name is for the error.
func ReadList(name string, r io.Reader) ([]byte, error) {
	var b bounded
	_, err := io.Copy(&b, io.LimitReader(r, maxList+1))
	switch {
	case b.long:
		f := &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:1", name, b.line+1), What: fmt.Sprintf("this line has over %d MB, too long for a list", maxLine>>20), Expected: "a list of swatches, CSV with one row for each or JSON"}
		if b.isJSON() {
			f.What = fmt.Sprintf("a text here has over %d MB, too long for a list", maxLine>>20)
		}
		return nil, f
	case err != nil:
		return nil, &fault.Fault{Kind: fault.Internal, Where: name, What: "the file cannot be read: " + err.Error(), Err: err}
	case b.read.Len() > maxList:
		return nil, &fault.Fault{Kind: fault.BadData, Where: name, What: "the file is too large", Expected: fmt.Sprintf("at most %d MB", maxList>>20), Mend: "part it into several lists"}
	}
	return b.read.Bytes(), nil
}

// bounded takes bytes until a line, or in JSON a text, is too long.
type bounded struct {
	read bytes.Buffer
	run  int  // bytes since the last line or text ended
	line int  // lines that ended
	long bool // what made it stop
}

// Write is called with a piece of any length; what ends a line is not parted, since
// it is one byte.
func (b *bounded) Write(p []byte) (int, error) {
	_, _ = b.read.Write(p)
	ends := "\r\n"
	if b.isJSON() {
		ends = `"`
	}
	for rest := p; ; {
		i := bytes.IndexAny(rest, ends)
		if i < 0 {
			b.run += len(rest)
			break
		}
		if b.run+i > maxLine {
			b.run += i
			break
		}
		b.run, rest = 0, rest[i+1:]
	}
	if b.run > maxLine {
		b.long = true
		b.line = bytes.Count(b.read.Bytes()[:b.read.Len()-min(b.run, b.read.Len())], []byte{'\n'})
		return 0, io.ErrShortWrite
	}
	return len(p), nil
}

// isJSON tells whether what was read begins as JSON does.
func (b *bounded) isJSON() bool {
	c := bytes.TrimLeft(bytes.TrimPrefix(b.read.Bytes(), []byte("\xef\xbb\xbf")), " \t\r\n")
	return len(c) > 0 && (c[0] == '{' || c[0] == '[')
}
