package index

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"github.com/blevesearch/bleve/v2"

	"tenter/fibres/fault"
	"tenter/kb/search"
)

// A generation is a finished index in a folder of its own. It is never
// changed: built in a temporary folder, renamed into place, opened read-only.
// A build that is killed leaves a temporary folder and nothing else, and of
// several builders the first to rename wins.

const (
	layout       = "4"        // raise when fields or folding change: old generations are then left alone
	generation   = "search-"  // folders of the reference
	unfinished   = ".tmp-"    // being built, or left by a killed build
	spoilt       = ".bad-"    // found damaged
	manifestName = "manifest" // what a complete generation holds
	kept         = 3          // newest generations of a sort that stay
	forgotten    = time.Hour  // after this an unfinished folder belongs to nobody
	checkedWhole = 16 << 20   // bytes up to which the content is checked at each opening
	oneBatch     = 5000       // entries up to which one batch is written
	lockWait     = "2s"       // bleve waits for ever without it
)

// manifest tells a complete generation from a cut-off or damaged one.
type manifest struct {
	Count int              `json:"count"`
	Files map[string]check `json:"files"`
}

type check struct {
	Size int64  `json:"size"`
	CRC  uint32 `json:"crc32c"`
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// hashed shortens a key of any form to one that is fit for a folder name.
func hashed(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(h, "%d:%s", len(p), p)
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}

// open opens the generation of that key under cache, building it first when it
// is missing or damaged. Where the cache cannot be used it builds in memory.
// want is the number of entries it must hold, 0 = as many as the build gave.
func open(cache, key string, want int, docs func() []search.Doc) (bleve.Index, error) {
	build := func() ([]search.Doc, error) {
		ds := docs()
		if want > 0 && len(ds) != want {
			return nil, &fault.Fault{Kind: fault.Internal, What: fmt.Sprintf("the search was promised %d entries and given %d", want, len(ds)),
				Mend: "please report this: the data and its count do not belong together"}
		}
		return ds, nil
	}
	if cache != "" {
		dir := filepath.Join(cache, generation+hashed(layout, key))
		if ix := openReadOnly(dir, want); ix != nil {
			return ix, nil
		}
		// One more try by itself: another process may be at the same work.
		ds, err := build()
		if err != nil {
			return nil, err
		}
		ix, err := make1(cache, dir, want, ds)
		if err == nil {
			return ix, nil
		}
		if f := (*fault.Fault)(nil); errors.As(err, &f) {
			return nil, err
		}
		return inMemory(ds) // the cache is full, read-only or not ours
	}
	ds, err := build()
	if err != nil {
		return nil, err
	}
	return inMemory(ds)
}

// openReadOnly opens a generation if it is whole, else returns nil.
func openReadOnly(dir string, want int) bleve.Index {
	raw, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil {
		return nil
	}
	var m manifest
	if json.Unmarshal(raw, &m) != nil || (want > 0 && m.Count != want) || len(m.Files) == 0 {
		return nil
	}
	var total int64
	for _, c := range m.Files {
		total += c.Size
	}
	for name, c := range m.Files {
		p := filepath.Join(dir, filepath.FromSlash(name))
		st, err := os.Stat(p)
		if err != nil || st.Size() != c.Size {
			return nil
		}
		if total <= checkedWhole {
			if sum, err := checksum(p); err != nil || sum != c.CRC {
				return nil
			}
		}
	}
	ix, err := bleve.OpenUsing(filepath.Join(dir, "ix"), map[string]any{"read_only": true, "bolt_timeout": lockWait})
	if err != nil {
		return nil
	}
	if n, err := ix.DocCount(); err != nil || n != uint64(m.Count) {
		_ = ix.Close()
		return nil
	}
	now := time.Now()
	_ = os.Chtimes(dir, now, now) // so that the sweep knows it is in use; of no matter if it fails
	return ix
}

// make1 builds one generation and opens it. A [fault.Fault] is an error of the
// entries; any other error one of the folder.
func make1(cache, dir string, want int, docs []search.Doc) (bleve.Index, error) {
	if err := os.MkdirAll(cache, 0o755); err != nil {
		return nil, err
	}
	if _, err := os.Stat(dir); err == nil {
		// Damaged, or finished by another process since we looked.
		if ix := openReadOnly(dir, want); ix != nil {
			return ix, nil
		}
		bad := filepath.Join(cache, fmt.Sprintf("%s%s-%d-%d", spoilt, filepath.Base(dir), os.Getpid(), time.Now().UnixNano()))
		if err := os.Rename(dir, bad); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		_ = os.RemoveAll(bad)
	}
	tmp, err := os.MkdirTemp(cache, unfinished+filepath.Base(dir)+"-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(tmp)
	gen := filepath.Join(tmp, "gen")
	if err := os.Mkdir(gen, 0o755); err != nil {
		return nil, err
	}
	if err := write(filepath.Join(gen, "ix"), tmp, docs); err != nil {
		return nil, err
	}
	if err := seal(gen, len(docs)); err != nil {
		return nil, err
	}
	if err := os.Rename(gen, dir); err != nil {
		if ix := openReadOnly(dir, want); ix != nil { // another process was first
			return ix, nil
		}
		return nil, err
	}
	syncDir(cache)
	sweep(cache, dir)
	if ix := openReadOnly(dir, want); ix != nil {
		return ix, nil
	}
	return nil, fmt.Errorf("%s was built but does not open", dir)
}

// write builds the index at path; scratch is a folder it may litter.
func write(path, scratch string, docs []search.Doc) error {
	m := fields()
	if len(docs) <= oneBatch {
		ix, err := bleve.NewUsing(path, m, "scorch", "scorch", map[string]any{"bolt_timeout": lockWait})
		if err != nil {
			return err
		}
		b := ix.NewBatch()
		if err := fill(b, docs); err != nil {
			_ = ix.Close()
			return err
		}
		if err := ix.Batch(b); err != nil {
			_ = ix.Close()
			return err
		}
		return ix.Close()
	}
	// Many entries: the builder merges to one segment, which is quicker to search.
	b, err := bleve.NewBuilder(path, m, map[string]any{"batchSize": oneBatch, "buildPathPrefix": scratch})
	if err != nil {
		return err
	}
	if err := fill(b, docs); err != nil {
		return err
	}
	return b.Close()
}

// inMemory builds an index that leaves nothing behind.
func inMemory(docs []search.Doc) (bleve.Index, error) {
	ix, err := bleve.NewUsing("", fields(), "scorch", "scorch", nil)
	if err != nil {
		return nil, err
	}
	for len(docs) > 0 {
		n := min(len(docs), oneBatch)
		b := ix.NewBatch()
		if err := fill(b, docs[:n]); err != nil {
			_ = ix.Close()
			return nil, err
		}
		if err := ix.Batch(b); err != nil {
			_ = ix.Close()
			return nil, err
		}
		docs = docs[n:]
	}
	return ix, nil
}

// seal writes what the generation holds beside it, and brings all of it to the
// disk, so that a power cut cannot leave a folder in place without its content.
func seal(gen string, count int) error {
	m := manifest{Count: count, Files: map[string]check{}}
	err := filepath.WalkDir(gen, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(gen, p)
		if err != nil {
			return err
		}
		st, err := d.Info()
		if err != nil {
			return err
		}
		sum, err := checksum(p)
		if err != nil {
			return err
		}
		m.Files[filepath.ToSlash(rel)] = check{st.Size(), sum}
		return syncFile(p)
	})
	if err != nil {
		return err
	}
	raw, err := json.Marshal(m)
	if err != nil {
		return err
	}
	p := filepath.Join(gen, manifestName)
	if err := os.WriteFile(p, raw, 0o644); err != nil {
		return err
	}
	if err := syncFile(p); err != nil {
		return err
	}
	syncDir(filepath.Join(gen, "ix"))
	syncDir(gen)
	return nil
}

func checksum(p string) (uint32, error) {
	f, err := os.Open(p)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	h := crc32.New(castagnoli)
	if _, err := io.Copy(h, f); err != nil {
		return 0, err
	}
	return h.Sum32(), nil
}

func syncFile(p string) error {
	f, err := os.OpenFile(p, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		_ = f.Close()
		return err
	}
	return f.Close()
}

// syncDir brings a folder's list of names to the disk; some systems cannot.
func syncDir(p string) {
	if f, err := os.Open(p); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}

// sweep removes what killed builds left, damaged generations, and generations
// that other editions of the data have not used lately.
func sweep(cache, current string) {
	entries, err := os.ReadDir(cache)
	if err != nil {
		return
	}
	type gen struct {
		path string
		used time.Time
	}
	var old []gen
	for _, e := range entries {
		if !e.IsDir() {
			continue
		}
		st, err := e.Info()
		if err != nil {
			continue
		}
		p := filepath.Join(cache, e.Name())
		switch name := e.Name(); {
		case strings.HasPrefix(name, unfinished), strings.HasPrefix(name, spoilt):
			if time.Since(st.ModTime()) > forgotten {
				_ = os.RemoveAll(p)
			}
		case strings.HasPrefix(name, generation) && p != current:
			old = append(old, gen{p, st.ModTime()})
		}
	}
	sort.Slice(old, func(i, j int) bool { return old[i].used.After(old[j].used) })
	for i, g := range old {
		if i >= kept-1 {
			// Renamed first: a process that opens it just now sees it whole or not at all.
			bad := filepath.Join(cache, fmt.Sprintf("%sold-%s-%d", spoilt, filepath.Base(g.path), time.Now().UnixNano()))
			if os.Rename(g.path, bad) == nil {
				_ = os.RemoveAll(bad)
			}
		}
	}
}
