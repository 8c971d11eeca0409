//go:build !js

// Package data holds the facts: what cloth, fibre, structure, piece, finish and
// seam are known, and from where. It embeds the files and does nothing else.
package data

import "embed"

// FS is the data folder as it stood when the program was built.
//
//go:embed *.csv *.toml rules datapackage.json
var FS embed.FS
