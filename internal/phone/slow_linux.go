package main

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// breath is for how long the pages run between two stops.
const breath = 5 * time.Millisecond

// slowDown lets the processes that draw pages of one browser run for a part of the time,
// workers and compilers among them, until it is told to end.
func slowDown(profile string, parts int, end <-chan struct{}) {
	var pids []int
	for i := 0; ; i++ {
		if i%10 == 0 { // looking takes time too
			pids = renderers(profile)
		}
		for _, pid := range pids {
			_ = syscall.Kill(pid, syscall.SIGSTOP)
		}
		select {
		case <-end:
			for _, pid := range pids {
				_ = syscall.Kill(pid, syscall.SIGCONT)
			}
			return
		case <-time.After(time.Duration(parts-1) * breath):
		}
		for _, pid := range pids {
			_ = syscall.Kill(pid, syscall.SIGCONT)
		}
		time.Sleep(breath)
	}
}

// renderers are the processes that draw pages of the browser with a profile: children of
// the one that was started with it.
func renderers(profile string) (out []int) {
	parents, draws := map[int]int{}, map[int]bool{}
	root := 0
	dirs, _ := filepath.Glob("/proc/[0-9]*")
	for _, dir := range dirs {
		pid, err := strconv.Atoi(filepath.Base(dir))
		if err != nil {
			continue
		}
		line, _ := os.ReadFile(filepath.Join(dir, "cmdline"))
		stat, _ := os.ReadFile(filepath.Join(dir, "stat"))
		words := string(line)
		if !strings.Contains(words, "chrom") {
			continue
		}
		if _, rest, ok := strings.Cut(string(stat), ") "); ok {
			if f := strings.Fields(rest); len(f) > 1 {
				parents[pid], _ = strconv.Atoi(f[1])
			}
		}
		draws[pid] = strings.Contains(words, "--type=renderer")
		if !strings.Contains(words, "--type=") && strings.Contains(words, profile) {
			root = pid
		}
	}
	for pid := range draws {
		for up := pid; draws[pid] && up != 0; up = parents[up] {
			if up == root {
				out = append(out, pid)
			}
		}
	}
	return out
}

// spentBy is what processes took of the processor, by their threads.
func spentBy(pids []int) (s spent) {
	for _, pid := range pids {
		tasks, _ := filepath.Glob("/proc/" + strconv.Itoa(pid) + "/task/[0-9]*")
		for _, dir := range tasks {
			name, _ := os.ReadFile(filepath.Join(dir, "comm"))
			times, _ := os.ReadFile(filepath.Join(dir, "schedstat"))
			f := strings.Fields(string(times))
			if len(f) == 0 {
				continue
			}
			ns, _ := strconv.ParseFloat(f[0], 64)
			s.add(strings.TrimSpace(string(name)), filepath.Base(dir) == strconv.Itoa(pid), ns/1e9)
		}
	}
	return s
}
