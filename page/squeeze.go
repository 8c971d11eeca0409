package page

import "bytes"

// Squeezed is a style or a script as it is sent: without the comments and the
// indentation that are there for who reads it here. Neither file has a text in which
// these mean anything; a comment of the script stands on a line of its own.
func Squeezed(ext string, b []byte) []byte {
	switch ext {
	case ".css":
		return squeezedStyle(b)
	case ".js":
		return squeezedScript(b)
	}
	return b
}

func squeezedStyle(b []byte) []byte {
	mark := func(c byte) bool { return bytes.IndexByte([]byte("{};,"), c) >= 0 }
	out := make([]byte, 0, len(b))
	for len(b) > 0 {
		if comment, found := bytes.CutPrefix(b, []byte("/*")); found {
			_, b, _ = bytes.Cut(comment, []byte("*/"))
			continue
		}
		c, n := b[0], len(out)
		b = b[1:]
		switch {
		case c == ' ' || c == '\n' || c == '\t':
			if n > 0 && out[n-1] != ' ' && !mark(out[n-1]) {
				out = append(out, ' ')
			}
		case mark(c):
			out = bytes.TrimSuffix(out, []byte(" "))
			if c == '}' {
				out = bytes.TrimSuffix(out, []byte(";"))
			}
			out = append(out, c)
		default:
			out = append(out, c)
		}
	}
	return bytes.TrimSpace(out)
}

func squeezedScript(b []byte) []byte {
	out := make([]byte, 0, len(b))
	for line := range bytes.Lines(b) {
		if line = bytes.TrimLeft(line, "\t "); !bytes.HasPrefix(line, []byte("//")) {
			out = append(out, line...)
		}
	}
	return out
}
