//go:build js

package worn

// packed is what [Use] was given.
var packed []byte
