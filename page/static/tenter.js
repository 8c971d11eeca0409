// What the pages gain from script; each of them works without it. A form marked
// data-live asks for the part of that name as its fields change, and puts it
// where it belongs; the address follows, so that it still holds everything.
(() => {
	"use strict";

	const status = document.createElement("p");
	status.className = "hidden";
	status.setAttribute("role", "status");
	document.body.append(status);

	const query = (form) => {
		const q = new URLSearchParams();
		for (const [key, value] of new FormData(form)) {
			if (typeof value === "string" && value.trim() !== "") q.set(key, value.trim());
		}
		return q;
	};

	const live = (form) => {
		const part = form.dataset.live;
		const place = document.getElementById(part);
		if (!place) return;
		let timer = 0;
		let asking = null;
		let asked = query(form).toString();

		const ask = async () => {
			const q = query(form);
			// Leaving a field tells once more what typing has told: to put the
			// same answer there again would take the focus out of it.
			if (q.toString() === asked) return;
			asked = q.toString();
			const here = new URL(form.action);
			if (location.pathname === here.pathname) {
				history.replaceState(history.state, "", here.pathname + (q.size ? "?" + q : ""));
			}
			if (asking) asking.abort();
			asking = new AbortController();
			q.set("part", part);
			try {
				const answer = await fetch(here.pathname + "?" + q, { signal: asking.signal });
				if (!answer.ok) { asked = null; return; }
				const made = new DOMParser().parseFromString(await answer.text(), "text/html");
				const held = place.contains(document.activeElement) ? document.activeElement.href : undefined;
				place.replaceChildren(...made.body.childNodes);
				if (held !== undefined) { // who was already in it stays in it
					const links = [...place.querySelectorAll("a[href]")];
					(links.find((a) => a.href === held) || links[0] || form.querySelector("input:not([type=hidden])")).focus();
				}
				const say = place.querySelector("[data-say]");
				status.textContent = say ? say.dataset.say : "";
			} catch (err) {
				if (err.name === "AbortError") return;
				asked = null;
				status.textContent = "The page does not answer.";
			}
		};
		const soon = (ms) => { clearTimeout(timer); timer = setTimeout(ask, ms); };

		form.addEventListener("input", (e) => soon(e.target.type === "range" ? 40 : 160));
		form.addEventListener("change", () => soon(0));
	};

	const slider = (range) => {
		const field = document.getElementById(range.dataset.for);
		if (!field) return;
		const say = () => range.setAttribute("aria-valuetext", field.value === "" ? "not said" : range.value);
		range.hidden = false;
		range.addEventListener("input", () => { field.value = range.value; say(); });
		field.addEventListener("input", () => {
			if (field.value !== "" && !Number.isNaN(Number(field.value))) range.value = field.value;
			say();
		});
		say();
	};

	document.querySelectorAll("input[type=range][data-for]").forEach(slider);
	document.querySelectorAll("form[data-live]").forEach(live);

	// From the field of the search down into what was found, up and down in it,
	// and back with Escape.
	const words = document.querySelector("form[data-live=hits] input[type=search]");
	const hits = document.getElementById("hits");
	if (words && hits) {
		const found = () => [...hits.querySelectorAll("ol > li > a")];
		words.addEventListener("keydown", (e) => {
			const first = found()[0];
			if (e.key === "ArrowDown" && first) { e.preventDefault(); first.focus(); }
		});
		hits.addEventListener("keydown", (e) => {
			const all = found();
			const at = all.indexOf(e.target);
			if (at < 0 || e.altKey || e.ctrlKey || e.metaKey) return;
			const to = { ArrowDown: all[at + 1] || all[at], ArrowUp: all[at - 1] || words, Escape: words }[e.key];
			if (to) { e.preventDefault(); to.focus(); }
		});
	}
})();
