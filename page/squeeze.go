package page

import (
	"bytes"
	"regexp"
)

var (
	cssComment = regexp.MustCompile(`(?s)/\*.*?\*/`)
	cssSpace   = regexp.MustCompile(`\s+`)
	cssAround  = regexp.MustCompile(` ?([{};,]) ?`)
	jsIndent   = regexp.MustCompile(`(?m)^[\t ]+`)
	jsComment  = regexp.MustCompile(`(?m)^//.*\n`)
)

// squeezed is a style or a script as it is sent: without the comments and the
// indentation that are there for who reads it here. Neither file has a text in which
// these mean anything; a comment of the script stands on a line of its own.
func squeezed(ext string, b []byte) []byte {
	switch ext {
	case ".css":
		b = cssAround.ReplaceAll(cssSpace.ReplaceAll(cssComment.ReplaceAll(b, nil), []byte(" ")), []byte("$1"))
		return bytes.ReplaceAll(bytes.TrimSpace(b), []byte(";}"), []byte("}"))
	case ".js":
		return jsComment.ReplaceAll(jsIndent.ReplaceAll(b, nil), nil)
	}
	return b
}
