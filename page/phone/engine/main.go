//go:build js

// Engine is the program that a browser runs in a worker: it answers the requests
// that the worker hands to it. Built with GOOS=js GOARCH=wasm.
package main

import (
	"net/url"
	"os"
	"path"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"strings"
	"syscall/js"

	"tenter/draw/worn"
	"tenter/page"
	"tenter/page/phone"
	"tenter/page/sheet"
)

// room is how much memory the engine takes before it looks for garbage: a look takes a
// tenth of a second or more on a phone, and what a browser has given is never given back.
const room = 64 << 20

// spare is how much is taken beside what is in use, where much is: memory is held to 96 MB,
// of which the program itself is 13.
const spare = 20 << 20

// How much garbage is worth a look while nothing is asked, and while a page is drawn that
// was answered a moment ago: there is another core for that, and the next page has room.
const (
	idleGarbage  = 12 << 20
	aheadGarbage = 20 << 20 // while more is worked out ahead, so that no page comes to look for it
	drawnGarbage = 32 << 20
)

// main gives the worker one function, tenterStart, and goes on for ever.
func main() {
	debug.SetGCPercent(-1) // the limit alone says when
	debug.SetMemoryLimit(room)
	js.Global().Set("tenterStart", js.FuncOf(func(_ js.Value, args []js.Value) any { return start(args[0]) }))
	select {}
}

// memory gives how many bytes were in use when garbage was last looked for, and how many
// are taken now.
func memory() (used, taken int64) {
	s := []metrics.Sample{{Name: "/gc/heap/live:bytes"}, {Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(s)
	return int64(s[0].Value.Uint64()), int64(s[1].Value.Uint64())
}

// makeRoom lets a few pages' worth be taken beside what is in use, where that is more than room.
func makeRoom() {
	used, _ := memory()
	debug.SetMemoryLimit(max(room, used+spare))
}

// tidy looks for garbage ahead of the next page, where there may be much.
func tidy(garbage int64) {
	if used, taken := memory(); taken-used > garbage {
		runtime.GC()
		makeRoom()
	}
}

// start makes the site of {document, token, prefix, version, worn} and returns
// {answer, kept, lost, warm, tidy}, or {error}.
func start(o js.Value) any {
	worn.Use(octets(o.Get("worn")))
	p, err := phone.New(phone.Options{Document: octets(o.Get("document")), Token: o.Get("token").String(), Prefix: o.Get("prefix").String(),
		Version: o.Get("version").String(), Log: os.Stderr})
	if err != nil {
		return map[string]any{"error": err.Error()}
	}
	return map[string]any{
		"answer": js.FuncOf(func(_ js.Value, args []js.Value) any {
			r, err := request(args[0])
			if err != nil {
				return map[string]any{"error": err.Error()}
			}
			a, document := p.Answer(r)
			makeRoom()
			out := reply(a)
			if document != nil {
				out["document"] = array(document)
			}
			return out
		}),
		"warm": js.FuncOf(func(js.Value, []js.Value) any {
			more := p.Warm()
			if more {
				tidy(aheadGarbage)
			} else {
				tidy(idleGarbage)
			}
			return more
		}),
		"tidy": js.FuncOf(func(js.Value, []js.Value) any { tidy(drawnGarbage); return nil }),
		"kept": js.FuncOf(func(_ js.Value, args []js.Value) any { p.Kept(octets(args[0])); return nil }),
		"lost": js.FuncOf(func(_ js.Value, args []js.Value) any {
			r, err := request(args[0])
			if err != nil {
				return map[string]any{"error": err.Error()}
			}
			return reply(p.Lost(r, args[1].String()))
		}),
	}
}

// request reads {method, url, fields: [[name, value]], file, fileName}.
func request(v js.Value) (page.Request, error) {
	at, err := url.Parse(v.Get("url").String())
	if err != nil {
		return page.Request{}, err
	}
	r := page.Request{Method: v.Get("method").String(), URL: at}
	fields := v.Get("fields")
	if fields.IsUndefined() {
		return r, nil
	}
	r.Form = sheet.Form{Fields: url.Values{}, File: octets(v.Get("file")), FileName: path.Base(strings.ReplaceAll(v.Get("fileName").String(), `\`, "/"))}
	for i := range fields.Length() {
		f := fields.Index(i)
		r.Form.Fields.Add(f.Index(0).String(), f.Index(1).String())
	}
	return r, nil
}

func reply(a page.Reply) map[string]any {
	header := map[string]any{}
	for k, v := range a.Header {
		header[k] = v
	}
	return map[string]any{"status": a.Status, "header": header, "body": array(a.Body)}
}

// octets copies a Uint8Array; undefined or null is none.
func octets(v js.Value) []byte {
	if v.IsUndefined() || v.IsNull() {
		return nil
	}
	b := make([]byte, v.Length())
	js.CopyBytesToGo(b, v)
	return b
}

func array(b []byte) js.Value {
	v := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(v, b)
	return v
}
