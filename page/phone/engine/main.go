//go:build js

// Engine is the program that a browser runs in a worker: it answers the requests
// that the worker hands to it. Built with GOOS=js GOARCH=wasm.
package main

import (
	"log"
	"net/url"
	"path"
	"runtime/debug"
	"strings"
	"syscall/js"

	"tenter/draw/worn"
	"tenter/page"
	"tenter/page/phone"
	"tenter/page/sheet"
)

// garbage is how much memory may be garbage, against what is in use: a phone has
// little of it, and what a browser has given is never given back.
const garbage = 50

// main gives the worker one function, tenterStart, and goes on for ever.
func main() {
	debug.SetGCPercent(garbage)
	js.Global().Set("tenterStart", js.FuncOf(func(_ js.Value, args []js.Value) any { return start(args[0]) }))
	select {}
}

// start makes the site of {document, token, prefix, version, worn} and returns
// {answer, kept, lost, warm}, or {error}.
func start(o js.Value) any {
	worn.Use(octets(o.Get("worn")))
	p, err := phone.New(phone.Options{Document: octets(o.Get("document")), Token: o.Get("token").String(), Prefix: o.Get("prefix").String(),
		Version: o.Get("version").String(), Log: log.Writer()})
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
			out := reply(a)
			if document != nil {
				out["document"] = array(document)
			}
			return out
		}),
		"warm": js.FuncOf(func(js.Value, []js.Value) any { return p.Warm() }),
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
