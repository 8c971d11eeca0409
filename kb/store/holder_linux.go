package store

import (
	"fmt"
	"os"
	"strings"
	"syscall"
)

// holder names the process that holds a lock on the store, as well as the
// system tells. A lock is on the file or on its shared-memory index.
func holder(path string) string {
	const unknown = "another process"
	locks, err := os.ReadFile("/proc/locks")
	if err != nil {
		return unknown
	}
	// Only stat: closing a file here would drop our own locks on it.
	inodes := map[string]bool{}
	for _, p := range []string{path, path + "-shm", path + "-wal"} {
		if st, err := os.Stat(p); err == nil {
			if sys, ok := st.Sys().(*syscall.Stat_t); ok {
				inodes[fmt.Sprint(sys.Ino)] = true
			}
		}
	}
	found := ""
	for _, line := range strings.Split(string(locks), "\n") {
		// "1: POSIX  ADVISORY  WRITE 1234 fd:00:5678 120 120"
		w := strings.Fields(line)
		if len(w) < 6 || w[1] == "->" {
			continue
		}
		place := strings.Split(w[5], ":")
		if !inodes[place[len(place)-1]] || w[4] == fmt.Sprint(os.Getpid()) {
			continue
		}
		who := "process " + w[4]
		if name, err := os.ReadFile("/proc/" + w[4] + "/comm"); err == nil {
			who += " (" + strings.TrimSpace(string(name)) + ")"
		}
		if w[3] == "WRITE" {
			return who
		}
		found = who
	}
	if found != "" {
		return found
	}
	return unknown
}
