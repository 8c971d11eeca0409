//go:build !js

package folder

import (
	"bytes"
	"compress/gzip"
	"embed"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"

	"tenter/fibres/fault"
)

// The engine is the same program compiled for a browser. A program that is given
// away holds it (`go generate` puts it under built before the build); one that
// runs from its sources builds it with the Go that is there, so that it is never
// older than the sources.

//go:generate go run tenter/page/phone/folder/gen

//go:embed built
var built embed.FS

// The files of a built engine.
const (
	packedName = "engine.wasm.gz"
	execName   = "wasm_exec.js"
	ofName     = "built-of.json"
)

// Engine is the program for the browser, with the script that starts it: the one
// of the compiler that built it.
type Engine struct {
	Packed []byte // compressed
	Exec   []byte
	fresh  bool // built just now
}

// builtOf says what an engine was built of.
type builtOf struct {
	Revision string `json:"revision"`
	Modified bool   `json:"modified"` // by changes that are not committed
	Go       string `json:"go"`
}

// here is what this program was built of.
func here() builtOf {
	b := builtOf{Go: runtime.Version()}
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			switch s.Key {
			case "vcs.revision":
				b.Revision = s.Value
			case "vcs.modified":
				b.Modified = s.Value == "true"
			}
		}
	}
	return b
}

// findEngine takes the engine that the program holds where it is of the same
// sources, else builds it; a process does so once.
var findEngine = sync.OnceValues(func() (Engine, error) {
	e, of, err := held()
	if err == nil && of.Revision != "" && of == here() && !of.Modified {
		return e, nil
	}
	top, err := sources()
	if err != nil {
		return Engine{}, err
	}
	return Build(top)
})

func held() (e Engine, of builtOf, err error) {
	b, err := fs.ReadFile(built, "built/"+ofName)
	if err != nil {
		return e, of, err
	}
	if err = json.Unmarshal(b, &of); err != nil {
		return e, of, err
	}
	if e.Packed, err = fs.ReadFile(built, "built/"+packedName); err != nil {
		return e, of, err
	}
	e.Exec, err = fs.ReadFile(built, "built/"+execName)
	return e, of, err
}

// sources finds the folder that this program was compiled in, if it is still there.
func sources() (string, error) {
	_, file, _, _ := runtime.Caller(0)
	wd, _ := os.Getwd()
	for _, from := range []string{filepath.Dir(file), wd} {
		for dir := from; filepath.IsAbs(dir) && dir != filepath.Dir(dir); dir = filepath.Dir(dir) {
			if b, err := os.ReadFile(filepath.Join(dir, "go.mod")); err == nil && strings.HasPrefix(string(b), "module tenter\n") {
				return dir, nil
			}
		}
	}
	return "", &fault.Fault{Kind: fault.Internal, What: "this program was built without the engine for a phone, and its sources are not here", Expected: "a program built after `go generate ./page/phone/folder`",
		Mend: "run it in the folder of the sources: go run ./cmd/tenter page export DIR"}
}

// reckoning are the packages whose functions are worth inlining: those that pages wait
// for. Elsewhere the copies only make the engine larger, by half a megabyte compressed.
var reckoning = []string{"runtime", "internal/runtime/...", "internal/bytealg",
	"tenter/fibres/hang", "tenter/advise/rules", "tenter/advise/cut"}

// Build compiles the engine of the sources in a folder.
func Build(top string) (Engine, error) {
	e := Engine{fresh: true}
	dir, err := os.MkdirTemp("", "tenter-engine")
	if err != nil {
		return e, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "engine.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags", "-s -w", "-gcflags=all=-l"}
	for _, p := range reckoning {
		args = append(args, "-gcflags="+p+"=")
	}
	c := exec.Command("go", append(args, "-o", out, "./page/phone/engine")...)
	c.Dir = top
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	if output, err := c.CombinedOutput(); err != nil {
		return e, &fault.Fault{Kind: fault.Internal, What: "the engine for the phone could not be built: " + strings.TrimSpace(string(output)), Expected: "Go 1.26 or newer, and the modules of go.mod",
			Mend: "go build ./cmd/tenter, and see what it says", Err: err}
	}
	if e.Packed, err = pack(out); err != nil {
		return e, err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return e, err
	}
	e.Exec, err = os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", execName))
	return e, err
}

// pack compresses a module, twice: the tables that the linker writes are the same bytes over
// and over, and what one pass makes of them still repeats itself.
func pack(file string) ([]byte, error) {
	b, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	b = joined(b)
	for range 2 {
		var out bytes.Buffer
		w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(b); err != nil {
			return nil, err
		}
		if err := w.Close(); err != nil { // what is left is written now
			return nil, err
		}
		b = out.Bytes()
	}
	return b, nil
}

// Keep writes a built engine where the next build of the program takes it from.
func (e Engine) Keep(top, revision string, modified bool) error {
	of, err := json.Marshal(builtOf{revision, modified, runtime.Version()})
	if err != nil {
		return err
	}
	for name, b := range map[string][]byte{packedName: e.Packed, execName: e.Exec, ofName: of} {
		if err := os.WriteFile(filepath.Join(top, "page", "phone", "folder", "built", name), b, 0o644); err != nil {
			return err
		}
	}
	return nil
}
