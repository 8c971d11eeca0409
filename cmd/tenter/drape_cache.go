package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/gob"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"tenter/fibres/drape"
)

// A computed shape is kept in the cache, by what went into it: a picture in other colours, or
// the same question again, is then drawn at once.
type keptFall struct {
	At         [][3]float32
	Energy     float64
	Residual   float64
	Converged  bool
	Crossings  int
	Crossed    []drape.Mark
	Iterations int
	Seed       uint64
	Cell       float64
}

// maxKept is how many shapes the cache holds.
const maxKept = 60

// fallKey names a computed shape by its inputs and by the program that computed it.
func fallKey(inputs ...any) string {
	build := ""
	if at, err := os.Executable(); err == nil {
		if i, err := os.Stat(at); err == nil {
			build = fmt.Sprint(i.Size(), i.ModTime().UnixNano())
		}
	}
	return fmt.Sprintf("%x", sha256.Sum256(fmt.Append([]byte(build), inputs...)))[:32]
}

func fallFolder() string { return filepath.Join(cacheDir(), "drape") }

// keptResults reads what was computed before; nil where it was not.
func keptResults(key string, p *drape.Prepared) []drape.Result {
	if cacheDir() == "" {
		return nil
	}
	b, err := os.ReadFile(filepath.Join(fallFolder(), key))
	var kept []keptFall
	if err != nil || gob.NewDecoder(bytes.NewReader(b)).Decode(&kept) != nil {
		return nil
	}
	var out []drape.Result
	for _, k := range kept {
		at := make([]drape.Vec, len(k.At))
		for i, x := range k.At {
			at[i] = drape.Vec{float64(x[0]), float64(x[1]), float64(x[2])}
		}
		r, ok := p.Restore(at)
		if !ok {
			return nil
		}
		r.Energy, r.Residual, r.Converged, r.Crossings, r.Crossed, r.Iterations, r.Seed = k.Energy, k.Residual, k.Converged, k.Crossings, k.Crossed, k.Iterations, k.Seed
		out = append(out, r)
	}
	return out
}

// keepResults writes what was computed; a cache that cannot be written is no failure.
func keepResults(key string, results []drape.Result) {
	if cacheDir() == "" {
		return
	}
	var kept []keptFall
	for _, r := range results {
		k := keptFall{Energy: r.Energy, Residual: r.Residual, Converged: r.Converged, Crossings: r.Crossings, Crossed: r.Crossed, Iterations: r.Iterations, Seed: r.Seed, Cell: r.Cell}
		for _, p := range r.At {
			k.At = append(k.At, [3]float32{float32(p[0]), float32(p[1]), float32(p[2])})
		}
		kept = append(kept, k)
	}
	var b bytes.Buffer
	if gob.NewEncoder(&b).Encode(kept) != nil || os.MkdirAll(fallFolder(), 0o700) != nil {
		return
	}
	if writeWhole(filepath.Join(fallFolder(), key), b.Bytes()) == nil {
		forgetOldFalls()
	}
}

// forgetOldFalls removes what is beyond the number kept, the oldest first.
func forgetOldFalls() {
	files, err := os.ReadDir(fallFolder())
	if err != nil || len(files) <= maxKept {
		return
	}
	age := func(e os.DirEntry) int64 {
		if i, err := e.Info(); err == nil {
			return i.ModTime().UnixNano()
		}
		return 0
	}
	slices.SortFunc(files, func(a, b os.DirEntry) int { return int(age(a)/1e6 - age(b)/1e6) })
	for _, f := range files[:len(files)-maxKept] {
		_ = os.Remove(filepath.Join(fallFolder(), f.Name()))
	}
}
