//go:build !js

// Package folder is the site for a phone as a folder of static files: any web host
// serves it, and after the first visit it needs neither host nor network.
package folder

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"net/url"
	"os"
	"path/filepath"
	"slices"

	"tenter/draw/worn"
	"tenter/fibres/fault"
	"tenter/page"
	"tenter/page/phone"
)

//go:embed shell
var shell embed.FS

// markName is the file by which a folder of ours is known.
const markName = "tenter-folder.json"

// stampPlace is what stands for the stamp in the files of the shell.
var stampPlace, filesPlace = []byte("{{STAMP}}"), []byte("{{FILES}}")

// mark is what the folder says of itself.
type mark struct {
	Program string `json:"program"`
	Version string `json:"version"`
	Stamp   string `json:"stamp"` // of everything in it
}

// drawn are the pages that are there before the engine: they hang on no record.
var drawn = map[string]string{"/": "home.html", "/shop": "shop.html"}

// Written is what became of an export.
type Written struct {
	Dir   string
	Stamp string
	Files int
	Bytes int64 // as the host serves them, the engine compressed
	Built bool  // the engine was built from the sources just now
}

// Export writes the folder. One that was exported before is replaced as a whole;
// any other that holds something is refused.
func Export(dir, version string) (Written, error) {
	if err := mayWrite(dir); err != nil {
		return Written{}, err
	}
	e, err := findEngine()
	if err != nil {
		return Written{}, err
	}
	files, stamp, err := Files(e, version)
	if err != nil {
		return Written{}, err
	}
	out := Written{Dir: dir, Stamp: stamp, Files: len(files), Built: e.fresh}
	for _, b := range files {
		out.Bytes += int64(len(b))
	}
	return out, replace(dir, files)
}

// Files are the files of the folder by name, and the stamp that names the whole.
func Files(e Engine, version string) (map[string][]byte, string, error) {
	files := map[string][]byte{"engine.wasm.gz": e.Packed, "wasm_exec.js": e.Exec, "worn.bin": worn.Packed()}
	if err := addAll(files, shell, "shell"); err != nil {
		return nil, "", err
	}
	for _, name := range []string{"shell.css", "shell.js", "sw.js", "worker.js"} {
		files[name] = page.Squeezed(filepath.Ext(name), files[name])
	}
	if err := drawPages(files, version); err != nil {
		return nil, "", err
	}
	for name, b := range icons() {
		files[name] = b
	}
	stamp := stampOf(files)
	for name := range files {
		files[name] = bytes.ReplaceAll(files[name], stampPlace, []byte(stamp))
	}
	sums := map[string]string{}
	for name, b := range files {
		if name != "sw.js" { // the browser itself fetches that anew
			sums[name] = sumOf(b)
		}
	}
	list, err := json.MarshalIndent(sums, "", "\t")
	if err != nil {
		return nil, "", err
	}
	files["sw.js"] = bytes.ReplaceAll(files["sw.js"], filesPlace, list)
	files[markName], err = json.MarshalIndent(mark{"tenter", version, stamp}, "", "\t")
	files["LICENCES.txt"] = []byte(licences)
	return files, stamp, err
}

const licences = `The engine and the pages: see the licence of tenter. wasm_exec.js and the runtime
inside the engine are of the Go project, Copyright The Go Authors, under its
BSD-style licence: https://go.dev/LICENSE
`

func addAll(files map[string][]byte, from fs.FS, dir string) error {
	return fs.WalkDir(from, dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(from, path)
		files[filepath.Base(path)] = b
		return err
	})
}

// drawPages adds the pages that are there before the engine, and the files that
// all pages use. Their addresses are told from where they lie.
func drawPages(files map[string][]byte, version string) error {
	p, err := phone.New(phone.Options{Prefix: ".", Token: "none", Version: version})
	if err != nil {
		return err
	}
	for at, name := range drawn {
		a, _ := p.Answer(page.Request{Method: "GET", URL: &url.URL{Path: at}})
		if a.Status != 200 {
			return fmt.Errorf("the page %s cannot be drawn: status %d", at, a.Status)
		}
		files[name] = a.Body
	}
	static, err := page.Static()
	if err != nil {
		return err
	}
	for name, b := range static {
		files["static/"+name] = b
	}
	return nil
}

// stampOf names files by what they hold.
func stampOf(files map[string][]byte) string {
	h := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintln(h, name, len(files[name]))
		_, _ = h.Write(files[name])
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}

func sumOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// mayWrite refuses a folder that holds something of the user's.
func mayWrite(dir string) error {
	list, err := os.ReadDir(dir)
	if os.IsNotExist(err) || (err == nil && len(list) == 0) {
		return nil
	}
	var m mark
	if err == nil {
		var b []byte
		if b, err = os.ReadFile(filepath.Join(dir, markName)); err == nil && json.Unmarshal(b, &m) == nil && m.Program == "tenter" {
			return nil
		}
	}
	return &fault.Fault{Kind: fault.WrongCall, Where: dir, What: "this is not an empty folder, nor one that was exported before", Expected: "a new folder, or an exported one to bring up to date",
		Mend: "name another folder", Err: err}
}

// replace puts the files in the place of the folder: written beside it first, so
// that it is never half old and half new.
func replace(dir string, files map[string][]byte) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return err
	}
	fresh, err := os.MkdirTemp(filepath.Dir(dir), ".tenter-new-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(fresh)
	for name, b := range files {
		to := filepath.Join(fresh, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(to, b, 0o644); err != nil {
			return err
		}
	}
	if err := os.Chmod(fresh, 0o755); err != nil {
		return err
	}
	old := fresh + "-old"
	if err := os.Rename(dir, old); err != nil && !os.IsNotExist(err) {
		return err
	}
	if err := os.Rename(fresh, dir); err != nil {
		_ = os.Rename(old, dir) // the one before stays
		return err
	}
	return os.RemoveAll(old)
}
