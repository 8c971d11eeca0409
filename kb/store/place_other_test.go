//go:build !linux

package store

import (
	"errors"
)

// playReadOnly is played on Linux only.
func playReadOnly(string) error { return errors.ErrUnsupported }
