//go:build !unix

package store

import (
	"os"
)

// writable asks the system whether the file may be written.
func writable(path string) bool {
	st, err := os.Stat(path)
	return err == nil && st.Mode().Perm()&0o200 != 0
}
