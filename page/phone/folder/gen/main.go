//go:build !js

// Gen builds the engine of the phone and puts it where the next build of tenter
// takes it from.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"strings"

	"tenter/page/phone/folder"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "tenter").Output()
	if err != nil {
		return err
	}
	top := strings.TrimSpace(string(out))
	revision, err := exec.Command("git", "-C", top, "rev-parse", "HEAD").Output()
	if err != nil {
		return fmt.Errorf("an engine is kept with the revision that it is of: %w", err)
	}
	changed, err := exec.Command("git", "-C", top, "status", "--porcelain").Output()
	if err != nil {
		return err
	}
	e, err := folder.Build(top)
	if err != nil {
		return err
	}
	return e.Keep(top, strings.TrimSpace(string(revision)), len(changed) > 0)
}
