package main

import "strings"

// spent is what was taken of the processor, in seconds: by the worker that runs the engine,
// by the thread that draws pages, and by all others of the same processes.
type spent struct{ engine, page, rest float64 }

func (s *spent) add(thread string, first bool, seconds float64) {
	switch {
	case strings.HasPrefix(thread, "DedicatedWorker"):
		s.engine += seconds
	case first:
		s.page += seconds
	default:
		s.rest += seconds
	}
}

func (s spent) less(o spent) spent {
	return spent{s.engine - o.engine, s.page - o.page, s.rest - o.rest}
}
