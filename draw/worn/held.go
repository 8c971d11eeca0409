//go:build !js

package worn

import _ "embed"

//go:embed table.bin
var packed []byte
