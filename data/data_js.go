// Package data holds the facts: what cloth, fibre, structure, piece, finish and
// seam are known, and from where. It embeds the files and does nothing else.
package data

import "embed"

// FS is what of the data folder a browser needs beside the compiled literals: the
// other files would be a quarter of a megabyte more to fetch.
var FS = literal{files}

//go:embed thesaurus.csv shapes.toml
var files embed.FS

type literal struct{ embed.FS }

// Literal says that the literals stand for the files that are not here.
func (literal) Literal() bool { return true }
