// The worker runs the engine for as long as the window lives, and keeps the records
// in the browser's own storage: what changed them is kept before it is answered.
"use strict";

importScripts("wasm_exec.js");

const scope = new URL("./", self.location.href).pathname;
let engine = null, memory = null;
const queue = [];
let busy = false;

// The store of this folder: two folders on one host do not share records.
const opened = () => new Promise((done, failed) => {
	const ask = indexedDB.open("tenter " + scope, 1);
	ask.onupgradeneeded = () => ask.result.createObjectStore("kept");
	ask.onsuccess = () => done(ask.result);
	ask.onerror = () => failed(ask.error);
});

// Opened anew each time: a phone loses the line to its store in the background.
const withStore = async (mode, use) => {
	const db = await opened();
	try {
		return await new Promise((done, failed) => {
			const t = db.transaction("kept", mode, { durability: "strict" });
			const ask = use(t.objectStore("kept"));
			t.oncomplete = () => done(ask.result);
			t.onabort = t.onerror = (e) => failed(t.error || e.target.error || new Error("the storage refused"));
		});
	} finally {
		db.close();
	}
};
const twice = async (mode, use) => {
	try {
		return await withStore(mode, use);
	} catch (err) {
		if (err.name === "QuotaExceededError") throw err;
		return withStore(mode, use);
	}
};

const tokenOf = async () => {
	let token = await twice("readonly", (s) => s.get("token"));
	if (!token) {
		token = [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
		await twice("readwrite", (s) => s.put(token, "token"));
	}
	return token;
};

// ample gives the engine at once the memory that it comes to take, which a browser hands out
// untouched: asked for piece by piece, each piece made the browser look for garbage.
const ample = (memory) => {
	const pages = (76e6 - memory.buffer.byteLength) >> 16;
	try {
		if (pages > 0) memory.grow(pages);
	} catch { /* it grows as it goes, then */ }
};

// What the engine needs is read while its program comes.
const start = async (version) => {
	const kept = tokenOf().then(async (token) => ({ token, document: await twice("readonly", (s) => s.get("document")) }));
	kept.catch(() => {}); // told where it is waited for
	const go = new Go();
	const pictures = fetch("worn.bin").then((r) => r.ok ? r.arrayBuffer() : null);
	const program = await fetch("engine.wasm");
	if (!program.ok) throw new Error("the engine is not among the files");
	const { instance } = await WebAssembly.instantiateStreaming(program, go.importObject);
	self.tenterEnd = () => self.close(); // the window sees that the worker is gone
	memory = instance.exports.mem;
	ample(memory);
	go.run(instance).then(self.tenterEnd, self.tenterEnd);
	const { token, document } = await kept;
	const worn = new Uint8Array(await pictures);
	const made = self.tenterStart({ document, token, prefix: scope + "p", version, worn });
	if (made.error) throw new Error(made.error);
	engine = made;
};

const answer = async ({ id, ask }) => {
	let a;
	try {
		a = engine.answer(ask);
		if (a.document) {
			try {
				await twice("readwrite", (s) => s.put(a.document, "document"));
				engine.kept(a.document);
				self.postMessage({ kept: true });
			} catch (err) {
				a = engine.lost(ask, err.name === "QuotaExceededError" ? "the storage of the browser is full" : "the browser did not keep it");
			}
			delete a.document;
		}
	} catch (err) { // the engine broke: it starts anew
		self.close();
		return;
	}
	self.postMessage({ id, answer: a, memory: memory.buffer.byteLength }, a.body ? [a.body.buffer] : []);
	engine.tidy(); // while the page is drawn
};

// One thing at a time, pages first. Between two, what was dropped meanwhile is taken off.
const work = async () => {
	if (busy || !engine) return;
	busy = true;
	for (;;) {
		await new Promise((next) => setTimeout(next));
		const at = queue.findIndex(({ ask }) => !ask.picture);
		if (at < 0) break;
		const one = queue.splice(at, 1)[0];
		await answer(one);
		if (one.ask.navigate) calm = performance.now() + drawTime;
	}
	busy = false;
	later(0);
};

// What can wait is done while nothing is asked, and once the page that was answered is drawn,
// which would share the processor: its pictures, then a little that is worked out ahead. A page
// that is asked for meanwhile waits for one piece of it at most.
const drawTime = 3000, breath = 100; // in ms: for a page that never tells that it is drawn; after one that does
let calm = 0, waiting = 0;
const later = (ms) => {
	clearTimeout(waiting);
	waiting = setTimeout(async () => {
		if (busy || !engine) return; // it goes on when that is answered
		const picture = queue.shift(); // pages were answered
		try {
			if (picture) {
				busy = true;
				await answer(picture);
				busy = false;
				work();
			} else if (engine.warm()) later(10);
		} catch { // the engine broke: it starts anew
			self.close();
		}
	}, Math.max(ms, calm - performance.now()));
};

self.onmessage = (e) => {
	const m = e.data;
	if (m.start !== undefined) {
		start(m.start).then(() => { self.postMessage({ ready: true }); work(); }, (err) => self.postMessage({ failed: String(err.message || err) }));
	} else if (m.drawn) {
		calm = performance.now() + breath;
		later(0);
	} else if (m.drop) {
		const at = queue.findIndex((x) => x.id === m.drop);
		if (at >= 0) queue.splice(at, 1);
	} else {
		queue.push(m);
		work();
	}
};

// Held for as long as the worker lives: who waits for it learns of its end.
navigator.locks.request("tenter engine " + scope, () => { self.postMessage({ held: true }); return new Promise(() => {}); });
