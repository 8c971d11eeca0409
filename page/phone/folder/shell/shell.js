// The window: it holds the pages in a frame, owns the worker that runs the engine,
// and hands on what the service worker asks.
"use strict";
(() => {
	const stamp = document.querySelector("meta[name=tenter-stamp]").content;
	const frame = document.getElementById("frame");
	const saying = document.getElementById("say");
	const scope = new URL("./", location.href).pathname;
	const first = "shop";
	const drawn = ["", "shop"]; // pages that need no engine

	// say shows a line at the foot of the window, with things to press; no words hide it.
	// What has buttons stays until one is pressed.
	let asking = false;
	const say = (words, ...buttons) => {
		asking = buttons.length > 0;
		saying.hidden = !words;
		const p = document.createElement("p");
		p.textContent = words;
		saying.replaceChildren(p, ...buttons);
	};
	const button = (words, press) => {
		const b = document.createElement("button");
		b.textContent = words;
		b.addEventListener("click", press);
		return b;
	};

	const missing = () => {
		if (location.protocol === "file:") return "This folder was opened as a file. Browsers run no such program from a file: put the folder on a web host with https, or serve it on this machine (localhost).";
		if (!window.isSecureContext) return "This address has no https. Without it a browser keeps nothing for use without a network. Ask whoever looks after the host for https.";
		if (!("serviceWorker" in navigator) || !("indexedDB" in window) || !("locks" in navigator)) return "This browser, or this private window, keeps no programs. Use an ordinary window of a browser of 2023 or newer.";
		if (typeof WebAssembly !== "object" || typeof DecompressionStream !== "function") return "This browser runs no WebAssembly, or is older than 2023; a locked-down phone switches it off. tenter cannot work out its answers here.";
		return "";
	};

	// The engine, and what it was asked and has not answered.
	let full = false, refused = false, only = false, worker = null, ready = false, ends = [], waiting = new Map(), last = 0;

	const send = (id) => worker.postMessage({ id, ask: waiting.get(id).ask });
	const finish = (id, answer) => {
		const w = waiting.get(id);
		waiting.delete(id);
		if (w) w.line.postMessage(answer, answer.body ? [answer.body.buffer] : []);
	};

	const boot = () => {
		ready = false;
		settled();
		worker = new Worker("worker.js");
		worker.onmessage = (e) => {
			const m = e.data;
			if (m.held) watch();
			else if (m.ready) { ready = true; for (const id of waiting.keys()) send(id); settled(); }
			else if (m.failed) { for (const id of [...waiting.keys()]) finish(id, { error: m.failed }); say("tenter does not start: " + m.failed); }
			else if (m.kept) kept();
			else {
				document.documentElement.dataset.memory = m.memory; // for who measures
				finish(m.id, m.answer);
			}
		};
		worker.onerror = () => worker.terminate();
		worker.postMessage({ start: stamp });
	};

	// watch starts the engine anew when its worker is gone. What was only asked is
	// asked again; what was sent may have been kept, so that is told instead.
	const watch = () => navigator.locks.request("tenter engine " + scope, () => {}).then(() => {
		worker.terminate();
		const now = Date.now();
		ends = ends.filter((t) => now - t < 60000).concat(now);
		for (const [id, w] of [...waiting]) {
			if (w.ask.method !== "GET" || ++w.tries > 1) finish(id, { error: "tenter stopped while it worked this out. Look whether it was recorded before you send it again." });
		}
		if (ends.length > 3) say("tenter stopped several times. Close this window and open it again.");
		else boot();
	});

	navigator.serviceWorker?.addEventListener("message", (e) => {
		const line = e.ports[0];
		if (e.data.untaken) {
			full = e.data.untaken === "QuotaExceededError";
			if (refused) untaken();
		}
		if (!e.data.ask || !only) return;
		const id = ++last;
		waiting.set(id, { ask: e.data.ask, line, tries: 0 });
		line.onmessage = () => { waiting.delete(id); worker?.postMessage({ drop: id }); };
		if (ready) send(id);
	});

	// place is the page that the address of the window names; none outside the pages.
	const place = () => {
		const at = new URL(scope + "p/" + (location.hash.slice(1) || first), location.origin);
		return at.origin === location.origin && at.pathname.startsWith(scope + "p/") ? at.href : scope + "p/" + first;
	};
	frame.addEventListener("load", () => {
		worker?.postMessage({ drawn: true });
		const at = frame.contentWindow.location;
		if (!at.pathname.startsWith(scope + "p/")) return;
		document.title = frame.contentDocument.title || "tenter";
		history.replaceState(history.state, "", scope + "#" + at.pathname.slice((scope + "p/").length) + at.search);
		frame.hidden = false;
		settled();
	});
	const settled = () => {
		document.documentElement.dataset.engine = ready ? "ready" : "starting";
		if (asking || frame.hidden) return;
		say(ready ? "" : "Getting ready to reckon …");
	};

	// What is recorded lies in this browser alone.
	let asked = false;
	const kept = async () => {
		if (asked || !navigator.storage?.persist) return;
		asked = true;
		if (await navigator.storage.persisted() || await navigator.storage.persist()) return;
		const copy = button("Take a copy", () => { frame.src = scope + "p/records"; say(""); });
		say("This browser alone keeps what you record, and may clear it.", copy, button("Not now", () => say("")));
	};

	// A new build is taken in beside this one, and used when the user says so.
	const news = (registration) => {
		const offer = () => {
			if (!registration.waiting || !navigator.serviceWorker.controller) return;
			say("A newer tenter is here.", button("Use it now", () => registration.waiting.postMessage("switch")), button("Later", () => say("")));
		};
		registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", (e) => { if (e.target.state === "installed") offer(); }));
		offer();
	};

	// The files of this window and those that the service worker keeps are of one build.
	const agreed = (controller) => new Promise((done) => {
		const line = new MessageChannel();
		line.port1.onmessage = (m) => done(m.data === stamp);
		controller.postMessage("stamp", [line.port2]);
	});

	const register = () => navigator.serviceWorker.register("sw.js", { updateViaCache: "none" });

	// untaken says why the files of a first visit were not kept. The reason and the end come
	// from the service worker by two ways, and either may be first.
	const untaken = () => say(full
		? "This phone has no room for tenter, which takes 35 MB. Make room, then reload this page."
		: "Not all files came. Reload this page; if that does not help, the folder on the host is not whole.");

	// fetched waits for the files of a first visit.
	const fetched = async () => {
		const controlled = new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
		say("Fetching tenter, once. Afterwards it needs no network.");
		const registration = await register();
		registration.installing?.addEventListener("statechange", (e) => {
			if (e.target.state === "redundant" && !navigator.serviceWorker.controller) {
				refused = true;
				untaken();
			}
		});
		if (!navigator.serviceWorker.controller) await controlled;
	};

	// alone waits until this is the only window.
	const alone = () => new Promise((mine) => {
		navigator.locks.request("tenter window " + scope, { ifAvailable: true }, (lock) => {
			if (!lock) {
				say("tenter is open in another window. Use that one, or close it.");
				navigator.locks.request("tenter window " + scope, () => { mine(); return new Promise(() => {}); });
				return;
			}
			mine();
			return new Promise(() => {});
		});
	}).then(() => { only = true; });

	// What was drawn when the folder was made is shown before the engine is started,
	// which would take the processor from it.
	const open = () => new Promise((shown) => {
		say("Opening tenter …");
		const at = place();
		if (drawn.includes(new URL(at, location.origin).href.slice((location.origin + scope + "p/").length))) frame.addEventListener("load", () => setTimeout(shown, 60), { once: true });
		else shown();
		frame.src = at;
	});

	const run = async () => {
		if (!navigator.serviceWorker.controller) await fetched();
		navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
		const same = agreed(navigator.serviceWorker.controller);
		await alone();
		await open();
		if (!(await same)) return location.reload();
		boot();
		news(await register());
	};

	const why = missing();
	if (why) say(why);
	else run().catch((err) => say("tenter does not open: " + (err.message || err)));
})();
