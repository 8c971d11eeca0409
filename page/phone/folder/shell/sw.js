// The service worker keeps the files of one build, and hands what is asked of the
// pages to the window that runs the engine. It knows nothing of cloth.
"use strict";

const STAMP = "{{STAMP}}";
const FILES = {{FILES}}; // name → SHA-256 of what it must hold

const scope = new URL(self.registration.scope).pathname; // ends in a slash
const keep = "tenter " + scope + " ";
const store = keep + STAMP;
const pages = scope + "p/"; // below it everything is answered by the engine

// What was drawn when the folder was made, so that it is there before the engine:
// pages that hang on no record.
const drawn = { "": "home.html", "shop": "shop.html" };

const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
const drawnPolicy = "default-src 'self'; base-uri 'none'; form-action 'self'; object-src 'none'; frame-ancestors 'self'";

const hex = (buffer) => [...new Uint8Array(buffer)].map((b) => b.toString(16).padStart(2, "0")).join("");

// The engine comes packed, twice, and is kept unpacked: the browser keeps what it compiled
// only of a module that it was handed as it lies here, and the next start takes half the time.
const packed = "engine.wasm.gz", engine = "engine.wasm";
const unpacked = (body) => {
	const inflate = () => new DecompressionStream("gzip");
	return new Blob([body]).stream().pipeThrough(inflate()).pipeThrough(inflate());
};

// All files of one build, or nothing: a host that is being written to has files of
// two, and then the build before stays.
const takeIn = async () => {
	const cache = await caches.open(store);
	try {
		await Promise.all(Object.entries(FILES).map(async ([name, sum]) => {
			const answer = await fetch(scope + name, { cache: "no-store", credentials: "same-origin" });
			if (!answer.ok) throw new Error(name + ": " + answer.status);
			const body = await answer.arrayBuffer();
			if (hex(await crypto.subtle.digest("SHA-256", body)) !== sum) throw new Error(name + " is of another build");
			const [as, holds] = name === packed ? [engine, unpacked(body)] : [name, body];
			await cache.put(scope + as, new Response(holds, { headers: { "Content-Type": kindOf(as) } }));
		}));
	} catch (err) {
		await caches.delete(store);
		for (const c of await self.clients.matchAll({ type: "window", includeUncontrolled: true })) c.postMessage({ untaken: err.name });
		throw err;
	}
};

const kinds = { html: "text/html; charset=utf-8", js: "text/javascript; charset=utf-8", css: "text/css; charset=utf-8", svg: "image/svg+xml", png: "image/png",
	webmanifest: "application/manifest+json", wasm: "application/wasm", txt: "text/plain; charset=utf-8" };
const kindOf = (name) => kinds[name.slice(name.lastIndexOf(".") + 1)] || "application/octet-stream";

self.addEventListener("install", (e) => e.waitUntil(takeIn()));
self.addEventListener("activate", (e) => e.waitUntil((async () => {
	for (const name of await caches.keys()) {
		if (name.startsWith(keep) && name !== store) await caches.delete(name);
	}
	await self.clients.claim();
})()));
self.addEventListener("message", (e) => {
	if (e.data === "switch") self.skipWaiting(); // only when the window asks for it
	if (e.data === "stamp") e.ports[0].postMessage(STAMP);
});

self.addEventListener("fetch", (e) => {
	const at = new URL(e.request.url);
	if (at.origin !== self.location.origin || !at.pathname.startsWith(scope)) return;
	e.respondWith(at.pathname.startsWith(pages) ? page(e, at) : file(at.pathname.slice(scope.length) || "index.html", policy));
});

const file = async (name, rules) => {
	const held = await (await caches.open(store)).match(scope + name);
	if (!held) return new Response("there is no such file\n", { status: 404, headers: { "Content-Type": kinds.txt } });
	if (name === engine) return held;
	const headers = new Headers(held.headers);
	headers.set("Content-Security-Policy", rules);
	headers.set("X-Content-Type-Options", "nosniff");
	headers.set("Referrer-Policy", "same-origin");
	if (name.startsWith("static/")) headers.set("Cache-Control", "max-age=31536000, immutable"); // its address tells what it holds
	return new Response(held.body, { headers });
};

const page = async (e, at) => {
	const rest = at.pathname.slice(pages.length);
	const read = e.request.method === "GET";
	if (read && at.search === "" && drawn[rest] !== undefined) return file(drawn[rest], drawnPolicy);
	if (read && rest.startsWith("static/")) return file(rest, drawnPolicy);
	const shells = await windows();
	if (shells.length === 0) {
		if (e.request.mode === "navigate" && read) return Response.redirect(scope + "#" + rest + at.search, 302);
		return trouble("The window of tenter was closed. Open it again.");
	}
	const ask = { method: e.request.method, url: at.pathname + at.search, navigate: e.request.mode === "navigate", picture: e.request.destination === "image" };
	if (!read) {
		try {
			await readForm(e.request, ask);
		} catch {
			return trouble("The form could not be read.");
		}
	}
	return relay(shells, ask, e.request.signal);
};

// readForm takes the fields of a form, and its file.
const readForm = async (request, ask) => {
	ask.fields = [];
	for (const [name, value] of await request.formData()) {
		if (typeof value === "string") ask.fields.push([name, value]);
		else if (name === "file" && value.size > 8 << 20) throw new Error("too large");
		else if (name === "file") { ask.file = new Uint8Array(await value.arrayBuffer()); ask.fileName = value.name; }
	}
};

const windows = async () => (await self.clients.matchAll({ type: "window", includeUncontrolled: true })).filter((c) => {
	const path = new URL(c.url).pathname;
	return path === scope || path === scope + "index.html";
});

// relay asks the windows: the one that runs the engine answers.
const relay = (shells, ask, signal) => new Promise((done) => {
	for (const shell of shells) {
		const line = new MessageChannel();
		line.port1.onmessage = (m) => {
			const a = m.data;
			done(a.error ? trouble(a.error) : new Response(noBody(a.status) ? null : a.body, { status: a.status, headers: a.header }));
		};
		shell.postMessage({ ask }, [line.port2]);
		signal.addEventListener("abort", () => line.port1.postMessage("dropped"));
	}
});

const noBody = (status) => status === 204 || status === 303 || status === 304;

const trouble = (what) => new Response("<!doctype html><html lang=\"en-GB\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>tenter</title><h1>This did not work</h1><p>" + what.replace(/[<&]/g, "") + "</p>",
	{ status: 503, headers: { "Content-Type": kinds.html, "Content-Security-Policy": "default-src 'none'; frame-ancestors 'self'" } });
