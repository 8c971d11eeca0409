//go:build uncompiled

package advise

// compiled is empty with the tag uncompiled, for when a type has changed and
// the literals no longer compile: go test -tags uncompiled ./fibres ./advise -run Compiled -update
func compiled() *literals { return nil }
