// What the page does better with script: forms are sent in place, the answer is laid over
// what is there, and what comes later is asked for. Without it everything works by whole pages.
(() => {
  const here = "swap:'outerMorph show:none' target:#page select:#page";
  const there = "swap:'outerMorph show:top' target:#page select:#page";

  // Marks forms and links for htmx before it looks at them.
  function ready(root) {
    for (const f of root.querySelectorAll("form:not([data-whole])")) {
      const again = f.hasAttribute("data-again");
      f.setAttribute("hx-boost", again || f.hasAttribute("data-stay") ? here : there);
      if (again) f.setAttribute("hx-push-url", "false");
      if (f.hasAttribute("data-change")) f.setAttribute("hx-trigger", "submit, change");
    }
    for (const a of root.querySelectorAll(".way a, .where a, a.name")) a.setAttribute("hx-boost", there);
    for (const a of root.querySelectorAll(".settings a, .turning a")) { a.setAttribute("hx-boost", here); }
    for (const a of root.querySelectorAll("main:not(.detail) [data-unfold]")) {
      a.setAttribute("hx-get", a.getAttribute("href"));
      a.setAttribute("hx-target", "#" + a.dataset.unfold);
      a.setAttribute("hx-select", "#sum");
      a.setAttribute("hx-swap", "innerHTML");
      a.setAttribute("aria-expanded", "false");
      a.setAttribute("role", "button");
    }
  }
  // A calculation that is open is closed by the same link.
  document.addEventListener("click", (e) => {
    const a = e.target.closest && e.target.closest("[data-unfold]");
    const place = a && document.getElementById(a.dataset.unfold);
    if (!place || e.ctrlKey || e.metaKey || e.shiftKey) return;
    const open = place.childElementCount > 0;
    a.setAttribute("aria-expanded", String(!open));
    if (open) { place.replaceChildren(); e.preventDefault(); e.stopPropagation(); }
  }, true);

  // A valve touched in the picture is turned in place, as by its twin beside the picture.
  document.addEventListener("click", (e) => {
    const a = e.target.closest && e.target.closest("svg a");
    if (!a || e.ctrlKey || e.metaKey || e.shiftKey) return;
    const to = a.getAttribute("href");
    const twin = [...document.querySelectorAll("a.way-to")].find((t) => t.getAttribute("href") === to);
    if (twin) { e.preventDefault(); twin.click(); }
  });

  // Who leaves with something typed and not yet sent loses nothing.
  addEventListener("pagehide", () => {
    const i = document.activeElement, f = i && i.form;
    if (f && f.hasAttribute("data-change") && i.name && i.value !== i.defaultValue && i.tagName !== "SELECT")
      navigator.sendBeacon(f.action, new URLSearchParams(new FormData(f)));
  });

  document.documentElement.classList.add("scripted");
  ready(document);

  // The section one is in stays in view where the sections do not fit.
  function inView() {
    const here = document.querySelector(".way [aria-current]"), row = here && here.closest("ol");
    if (row) row.scrollLeft = Math.max(0, here.offsetLeft - row.clientWidth / 3);
  }
  inView();

  // A script says which sheet of the page lies before it. Blocks that are the same on it come
  // empty and are left as they are; where one is of another version by now, the page is asked
  // for whole.
  const sheet = () => document.getElementById("work")?.dataset.sheet || "";
  document.addEventListener("htmx:config:request", (e) => { e.detail.ctx.request.headers["Tideover-Sheet"] = sheet(); });
  function leaveSame(fragment) {
    for (const same of fragment.querySelectorAll("[data-same]")) {
      const there = document.getElementById(same.id);
      if (there?.dataset.laid !== same.dataset.same) return false;
      there.setAttribute("hx-morph-skip", "");
    }
    for (const box of typed()) if (box.value !== box.sent) box.closest(".field").setAttribute("hx-morph-skip", "");
    return true;
  }

  // What is typed and not yet sent stays, with what its writer saw there before: whoever
  // changed it meanwhile is asked about, not written over.
  const typed = () => [...document.querySelectorAll(".field input, .field textarea")].filter((b) => b.value !== b.defaultValue && b.type !== "hidden");
  document.addEventListener("htmx:before:request", (e) => {
    const form = e.detail.ctx.sourceElement?.closest?.("form");
    for (const box of typed()) if (box.form === form) box.sent = box.value;
  });

  // What is still to come is asked for, one request at a time. Anything somebody does ends
  // it, for its answer would be laid over theirs; the page that follows asks anew.
  let asked = null;
  function follow() {
    const w = document.querySelector("[data-wait]");
    if (asked && w && asked.url === w.dataset.wait) return;
    leave();
    if (!w) return;
    const mine = asked = { url: w.dataset.wait, end: new AbortController() };
    fetch(mine.url, { headers: { "HX-Request": "true", "Tideover-Sheet": sheet() }, signal: mine.end.signal })
      .then((r) => (r.ok ? r.text() : ""))
      .then((text) => {
        if (asked !== mine) return;
        asked = null;
        if (text) return htmx.swap({ sourceElement: w, text, target: document.getElementById("page"), select: "#page", swap: "outerMorph show:none" });
      })
      .catch(() => { if (asked === mine) asked = null; });
  }
  function leave() { if (asked) asked.end.abort(); asked = null; }
  document.addEventListener("htmx:before:request", (e) => {
    const from = e.detail.ctx.sourceElement;
    if (!(from && from.matches("[data-unfold]"))) leave();
  });
  document.addEventListener("htmx:finally:request", follow);
  addEventListener("DOMContentLoaded", follow);

  // The answer carries no marks of its own: give it them before it is laid over the page.
  document.addEventListener("htmx:before:swap", (e) => {
    for (const t of e.detail.tasks || []) {
      if (!leaveSame(t.fragment)) { e.preventDefault(); location.reload(); return; }
      ready(t.fragment);
      for (const p of t.fragment.querySelectorAll("[autofocus]")) p.removeAttribute("autofocus");
      keepOpen(t.fragment);
    }
  });

  // What somebody opened stays open; a calculation, as long as it is still the one.
  function keepOpen(fragment) {
    for (const d of document.querySelectorAll("details[id][open]")) {
      const same = fragment.querySelector("#" + CSS.escape(d.id));
      if (same) same.setAttribute("open", "");
    }
    const now = document.getElementById("work"), then = fragment.querySelector("#work");
    if (!now || !then || now.dataset.revision !== then.dataset.revision) return;
    for (const u of document.querySelectorAll(".unfolded:not(:empty)")) {
      const same = fragment.querySelector("#" + CSS.escape(u.id));
      if (!same) continue;
      same.append(...[...u.childNodes].map((n) => n.cloneNode(true)));
      const a = fragment.querySelector('[data-unfold="' + CSS.escape(u.id) + '"]');
      if (a) a.setAttribute("aria-expanded", "true");
    }
  }

  // An address that only takes what is sent cannot be come back to.
  document.addEventListener("htmx:before:history:update", (e) => {
    if (e.detail.response && e.detail.response.status >= 400) e.preventDefault();
  });

  // What a browser keeps of its own when the page changes under it: the choice of a list.
  document.addEventListener("htmx:after:swap", () => {
    for (const s of document.querySelectorAll("[hx-morph-skip]")) s.removeAttribute("hx-morph-skip");
    for (const box of typed()) delete box.sent;
    for (const s of document.querySelectorAll("select")) {
      if (s === document.activeElement) continue;
      const o = [...s.options].findIndex((o) => o.defaultSelected);
      s.selectedIndex = Math.max(0, o);
    }
    inView();
    follow();
    const p = document.getElementById("problems");
    const a = document.activeElement; // who types on in the next field is not torn away
    if (p && (a === document.body || a.tagName === "BUTTON")) p.focus();
  });

  // Undo and redo by key, where the key is not the browser's own.
  document.addEventListener("keydown", (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName)) return;
    const id = e.key === "z" && !e.shiftKey ? "undo" : e.key === "y" || (e.key === "Z" && e.shiftKey) ? "redo" : "";
    const b = id && document.getElementById(id);
    if (b && !b.disabled) { e.preventDefault(); b.click(); }
  });
})();
