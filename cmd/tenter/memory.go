package main

import "runtime/debug"

// alone tells that the process runs one command and ends. Tests run many in one process,
// whose memory no command may rule: a limit under what lives collects without end.
var alone bool

// limitMemory sets where memory is looked for again, in bytes.
func limitMemory(bytes int64) {
	if alone {
		debug.SetMemoryLimit(bytes)
	}
}

// collectAt sets by how much of what lives memory grows before it is looked through, in
// percent; -1 = not before the limit.
func collectAt(percent int) {
	if alone {
		debug.SetGCPercent(percent)
	}
}
