//go:build unix

package store

import (
	"syscall"
)

// writable asks the system whether the file may be written. Opening it to find
// out would, on closing, drop the locks this process holds on it; and SQLite
// itself falls back to reading without a word.
func writable(path string) bool {
	const write = 2
	return syscall.Access(path, write) == nil
}
