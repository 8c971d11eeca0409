package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"tenter/advise"
	"tenter/advise/worn"
	"tenter/draw"
	"tenter/fibres/drape"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/page/fall"
)

// drapeRun computes the cloths of one question and draws them.
type drapeRun struct {
	q     *drapeQuestion
	a     *app
	scene worn.Worn
	title string
	name  string
	m     advise.MakeUp
	ends  []fallOf
	start time.Time

	mu    sync.Mutex
	rough int // how many cloths have a coarse shape
	last  time.Time
}

// memoryWanted is where memory is looked for again, in bytes.
const memoryWanted = 200 << 20

// compute lets all cloths fall in one scene, two at a time.
func (c *drapeRun) compute(ctx context.Context) error {
	o := c.scene.Options()
	if c.q.quick {
		o.Cell *= 1.5
	}
	p, err := drape.Prepare(c.scene.Scene, o)
	if err != nil {
		return err
	}
	limitMemory(memoryWanted) // what is computed needs far less than the collector would let grow
	c.last = time.Now()
	errs := make([]error, len(c.ends))
	var wait sync.WaitGroup
	workers := make(chan struct{}, 2)
	for n := range c.ends {
		i := (len(c.ends)/2 + n) % len(c.ends) // the typical cloth first, for a first look
		workers <- struct{}{}
		wait.Go(func() {
			defer func() { <-workers }()
			errs[i] = c.one(ctx, p, i, o)
		})
	}
	wait.Wait()
	return errors.Join(errs...)
}

// one computes one cloth; anew in other cells where it would mislead and those may help.
func (c *drapeRun) one(ctx context.Context, p *drape.Prepared, i int, o drape.Options) error {
	e := &c.ends[i]
	in := func(cell float64) ([]drape.Result, error) {
		if cell != o.Cell {
			o.Cell = cell
			var err error
			if p, err = drape.Prepare(c.scene.Scene, o); err != nil {
				return nil, err
			}
		}
		return c.results(ctx, p, i, o)
	}
	results, err := in(c.scene.CellFor(e.Sheet, o.Cell))
	if err != nil {
		return err
	}
	why := c.scene.Misleads(e.Sheet, results[0])
	if again := c.scene.Again(e.Sheet, o.Cell); why != "" && again > 0 && c.scene.Tester == nil {
		if results, err = in(again); err != nil {
			return err
		}
		why = c.scene.Misleads(e.Sheet, results[0])
	}
	c.mu.Lock()
	e.result, e.folds, e.misleads = results[0], c.scene.Folds(results[0]), why
	c.mu.Unlock()
	if c.scene.Tester != nil {
		e.coefficient = c.scene.Tester.Mean(results)
	}
	return nil
}

// results lets one cloth fall, or takes it from the cache.
func (c *drapeRun) results(ctx context.Context, p *drape.Prepared, i int, o drape.Options) ([]drape.Result, error) {
	e := &c.ends[i]
	w, r, m := 0.0, 1.0, 1.0
	if adv, err := c.a.adv(); err == nil {
		width, rigidity, mass := adv.EdgeStrip(c.m)
		w, r, m = float64(width), rigidity, mass
	}
	key := fallKey(c.name, c.q.set, c.q.on, c.q.wearer, e.Sheet, o.Cell, o.Seeds, w, r, m)
	results := keptResults(key, p)
	e.kept = results != nil
	if !e.kept {
		var err error
		if results, err = p.Fall(ctx, e.Sheet, c.watch(i)); err != nil {
			return nil, err
		}
		keepResults(key, results)
	}
	return results, nil
}

// watch tells how far a cloth is, and draws a first look when one has a coarse shape.
func (c *drapeRun) watch(i int) drape.Watch {
	return drape.Watch{
		Progress: func(p drape.Progress) {
			c.mu.Lock()
			defer c.mu.Unlock()
			if time.Since(c.last) > 5*time.Second {
				c.last = time.Now()
				fmt.Fprintf(c.a.err, "%d of %d, %s: pass %d of %d, step %d\n", i+1, len(c.ends), c.ends[i].Label, p.Stage, p.Stages, p.Iteration)
			}
		},
		Rough: func(r drape.Result) {
			c.mu.Lock()
			defer c.mu.Unlock()
			c.ends[i].result = r
			if c.rough++; c.rough > 1 || c.q.file == "" {
				return
			}
			if err := c.write(); err == nil {
				fmt.Fprintf(c.a.err, "A first look is in %s, %.1f s; going on.\n", c.q.file, time.Since(c.start).Seconds())
			}
		},
	}
}

const frameWide, frameTall = 360, 460

// write draws the row of pictures and puts it in the file.
func (c *drapeRun) write() error {
	face, back, err := c.q.paints(c.m)
	if err != nil {
		return err
	}
	title := c.title + ", " + nameOf(c.m.Shell)
	if c.m.Lining != nil {
		title += " lined with " + nameOf(c.m.Lining)
	}
	sheet := draw.WornSheet{Title: title, Caption: "A computed fall, no photograph: folds are one of several arrangements. " + strings.Join(c.scene.Says, " ")}
	low, high := c.scene.Low, c.scene.High
	for _, e := range c.ends {
		if e.result.At == nil { // a first look, at the cloths that have a shape
			continue
		}
		l, h := draw.Box(e.result)
		for k := range 3 {
			low[k], high[k] = math.Min(low[k], l[k]), math.Max(high[k], h[k])
		}
	}
	for _, e := range c.ends {
		if e.result.At == nil {
			continue
		}
		f := fall.Seen(c.scene, e.result)
		f.Face, f.Back, f.Low, f.High = face, back, low, high
		sheet.PerMetre = f.PerMetre(frameWide, frameTall)
		frame := draw.WornFrame{Label: fmt.Sprintf("%s: c %.1f cm, %.0f g/m²", e.Label, e.Bending, e.Mass)}
		if e.misleads == "" {
			frame.Picture = f.Draw(frameWide, frameTall)
		} else {
			frame.Picture = draw.NewShading(frameWide, frameTall).Paint(face, back)
			frame.Label += ", not shown: " + e.misleads
		}
		sheet.Frames = append(sheet.Frames, frame)
	}
	var b []byte
	if strings.EqualFold(filepath.Ext(c.q.file), ".svg") {
		s, err := sheet.SVG()
		if err != nil {
			return err
		}
		b = []byte(s)
	} else if b, err = sheet.PNG(); err != nil {
		return err
	}
	return writeWhole(c.q.file, b)
}

// insteadOfNone draws the edge where no cloth of the name can be shown worn; done is false where one
// can, and where no picture was asked for. A first look that was written meanwhile is taken away.
func (c *drapeRun) insteadOfNone() (done bool, err error) {
	why := ""
	for _, e := range c.ends {
		if e.misleads == "" {
			return false, nil
		}
		why = e.misleads
	}
	if c.q.file == "" {
		return false, nil
	}
	if c.rough > 0 {
		_ = os.Remove(c.q.file)
	}
	return true, c.q.edgeInstead(c.a, c.m, &fault.Fault{Kind: fault.NotFound, Where: c.title, What: "it is not shown worn in this cloth: " + why, Expected: "a fall that does not mislead",
		Mend: "an -o FILE.svg draws how its edge falls"})
}

// edgeInstead draws how the edge falls, where a piece cannot be shown worn; an .svg must have been
// asked for.
func (q *drapeQuestion) edgeInstead(a *app, m advise.MakeUp, why error) error {
	var f *fault.Fault
	if !errors.As(why, &f) || f.Kind != fault.NotFound || f.Where == "--on" || q.piece == "" || !strings.EqualFold(filepath.Ext(q.file), ".svg") {
		return why
	}
	adv, err := a.adv()
	if err != nil {
		return err
	}
	ends, err := q.ends(adv, m)
	if err != nil {
		return err
	}
	long := units.Length(15)
	if m.Piece != nil && m.Piece.Flap > 0 {
		long = m.Piece.Flap
	}
	v := draw.FallView{Name: nameOf(m.Shell)}
	for i := range v.Flaps {
		e := ends[min(i, len(ends)-1)]
		rigidity := hang.RigidityFromBendingLength(units.Length(e.Bending), units.ArealMass(e.Mass))
		v.Flaps[i] = hang.Flap{Segments: []hang.Segment{{Length: long, Rigidity: rigidity, Mass: units.ArealMass(e.Mass)}}}
	}
	p, err := draw.Fall(draw.Options{}, v)
	if err != nil {
		return err
	}
	if err := writeWhole(q.file, []byte(p.String())); err != nil {
		return err
	}
	a.para("", fmt.Sprintf("%s. %s shows how an edge of %.0f cm falls.", prose.Upper(f.What), q.file, float64(long)), 2)
	return nil
}

// writeWhole writes a file so that a failure leaves none by half.
func writeWhole(name string, b []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".tenter-*")
	if err == nil {
		_, err = f.Write(b)
		if e := f.Chmod(0o644); err == nil {
			err = e
		}
		if e := f.Close(); err == nil {
			err = e
		}
		if err == nil {
			err = os.Rename(f.Name(), name)
		}
		if err != nil {
			_ = os.Remove(f.Name())
		}
	}
	if err != nil {
		return &fault.Fault{Where: name, What: "the picture could not be written: " + err.Error(), Expected: "a folder that can be written to"}
	}
	return nil
}
