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

	// Marks on a photograph: put by pointer or keys, dragged, taken away; what the
	// server fits to them is drawn over the picture. The picture stays here.
	const camera = (canvas) => {
		const form = canvas.closest("form");
		const field = form.elements.marks;
		const fit = document.getElementById("fit");
		const told = document.getElementById("next-mark");
		const pen = canvas.getContext("2d");
		const asks = ["one mark of the ruler", "another mark of the ruler, far from the first", "the edge, where the cloth leaves the table", "the tip of the cloth"];
		let photo = null;
		let at = null;
		let held = -1; // the mark that is dragged

		const marks = () => field.value.split(";").filter(Boolean).map((m) => m.split(",").map(Number));
		const px = () => canvas.width / (canvas.clientWidth || canvas.width); // of the picture to one on the screen
		const draw = () => {
			if (!photo) return;
			pen.drawImage(photo, 0, 0, canvas.width, canvas.height);
			const u = px();
			const line = (points, width, colour) => {
				pen.beginPath();
				points.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y)));
				pen.lineWidth = width * u;
				pen.strokeStyle = colour;
				pen.stroke();
			};
			const cross = ([x, y], r, colour) => {
				for (const [w, c] of [[4, "#fff"], [1.6, colour]]) {
					line([[x - r * u, y], [x + r * u, y]], w, c);
					line([[x, y - r * u], [x, y + r * u]], w, c);
				}
			};
			const curve = fit.querySelector("[data-curve]");
			if (curve) {
				const points = curve.dataset.curve.split(" ").map((m) => m.split(",").map(Number));
				line(points, 5, "#fff");
				line(points, 2, "#b02a14");
			}
			marks().forEach((m, i) => cross(m, 7, i < 2 ? "#1c4f91" : "#b02a14"));
			if (!at) return;
			cross(at, 16, "#111");
			const size = 110 * u; // a loupe in the corner that is away from the aim
			const left = at[0] < canvas.width / 2 ? canvas.width - size : 0;
			pen.drawImage(photo, (at[0] - size / 8) * photo.width / canvas.width, (at[1] - size / 8) * photo.height / canvas.height,
				size / 4 * photo.width / canvas.width, size / 4 * photo.height / canvas.height, left, 0, size, size);
			cross([left + size / 2, size / 2], 14, "#b02a14");
		};
		const ask = () => {
			const n = marks().length;
			told.textContent = photo ? "Mark " + (asks[n] || (n < 7 ? "points along the cloth, " + (7 - n) + " more at least" : "more points along the cloth, or take the reading")) + "." : "Choose a photograph.";
		};
		const put = (list) => {
			field.value = list.map((m) => m.map((v) => v.toFixed(1)).join(",")).join(";");
			field.dispatchEvent(new Event("input", { bubbles: true }));
			ask();
			draw();
		};
		const where = (e) => {
			const box = canvas.getBoundingClientRect();
			return [(e.clientX - box.left) * canvas.width / box.width, (e.clientY - box.top) * canvas.height / box.height];
		};
		document.getElementById(canvas.dataset.photo).addEventListener("change", async (e) => {
			const file = e.target.files[0];
			if (!file) return;
			try {
				photo = await createImageBitmap(file);
			} catch {
				told.textContent = "That is no picture this browser can show.";
				return;
			}
			canvas.width = Math.min(photo.width, 1600);
			canvas.height = Math.round(photo.height * canvas.width / photo.width);
			canvas.hidden = false;
			at = null;
			put([]);
		});
		canvas.addEventListener("pointerdown", (e) => {
			canvas.setPointerCapture(e.pointerId);
			at = where(e);
			held = marks().findIndex((m) => Math.hypot(m[0] - at[0], m[1] - at[1]) < 12 * px());
			draw();
		});
		canvas.addEventListener("pointermove", (e) => {
			if (!canvas.hasPointerCapture(e.pointerId)) return;
			at = where(e);
			draw();
		});
		canvas.addEventListener("pointerup", (e) => {
			const list = marks();
			list.splice(held < 0 ? list.length : held, held < 0 ? 0 : 1, where(e));
			at = null;
			put(list);
		});
		canvas.addEventListener("keydown", (e) => {
			const step = (e.shiftKey ? 20 : 1) * px();
			const move = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
			const aim = at || [canvas.width / 2, canvas.height / 2];
			if (move) at = [Math.max(0, Math.min(canvas.width, aim[0] + step * move[0])), Math.max(0, Math.min(canvas.height, aim[1] + step * move[1]))];
			else if (e.key === "Enter" || e.key === " ") put([...marks(), aim]);
			else if (e.key === "Backspace" || e.key === "Delete") put(marks().slice(0, -1));
			else return;
			e.preventDefault();
			draw();
		});
		new MutationObserver(draw).observe(fit, { childList: true });
		ask();
	};

	document.querySelectorAll("canvas[data-photo]").forEach(camera);
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
