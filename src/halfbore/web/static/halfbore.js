// Keys, and what a form does by itself where a script runs; every page works without it.
"use strict";
(() => {
  const typing = (e) => e.target.closest("input, select, textarea, [contenteditable]");
  const one = (what) => document.querySelector(what);

  const letters = () => one("#page").dataset.keys !== "off";
  const rows = () => [...document.querySelectorAll("[data-rows] tbody tr:not(.editing, .opened, .phase)")];
  const adding = () => one("#elements .adding") || [...document.querySelectorAll(".adding")].find((a) => a.querySelector("select, input:not([type=hidden])"));
  function step(by) {
    const all = rows();
    const at = all.findIndex((r) => r.contains(document.activeElement));
    const next = all[Math.max(0, Math.min(all.length - 1, at + by))];
    if (!next) return;
    const link = next.querySelector("a");
    if (!link) next.tabIndex = -1;
    (link || next).focus();
  }

  // G and a letter go to a room; each link of the rooms says its letter.
  let going = 0;
  function room(key) {
    going = 0;
    const link = one(`.rooms a[data-key="${CSS.escape(key)}"]`);
    if (link) link.click();
  }
  const press = (what) => { const found = one(what); if (found && found.checkVisibility()) found.click(); };

  document.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === "Escape") {
      const back = one("[data-back]");
      if (back) { e.preventDefault(); back.click(); }
      return;
    }
    if (typing(e)) return;
    if (e.key === "F2") {
      const at = document.activeElement, row = at.closest("tr"), value = at.matches("a.value") ? at : row && row.querySelector("a.value");
      if (value) { e.preventDefault(); value.click(); }
      return;
    }
    if (!letters()) return;
    const after = Date.now() - going < 1500;
    if (after) room(e.key.toLowerCase());
    else if (e.key === "g") going = Date.now();
    else if (e.key === "?") press("#keys-page");
    else if (e.key === "w") press("#checks .asked a, #checks tbody a");
    else if (e.key === "s") press("#solve");
    else if (e.key === "/" && one("[data-filter]")) { e.preventDefault(); one("[data-filter]").focus(); }
    else if (e.key === "j") step(1);
    else if (e.key === "k") step(-1);
    else if (e.key === "n" && adding()) { adding().open = true; adding().querySelector("select, input:not([type=hidden])").focus(); }
  });

  document.addEventListener("change", (e) => {
    if (e.target.matches("[data-send]")) e.target.form.requestSubmit();
    if (e.target.matches("input[type=file][data-most]")) {
      const most = Number(e.target.dataset.most), size = [...e.target.files].reduce((sum, file) => sum + file.size, 0);
      e.target.setCustomValidity(size > most ? `That is ${(size / 1e6).toFixed(1)} MB; up to ${most / 1e6} MB are taken.` : "");
      e.target.reportValidity();
    }
  });

  document.addEventListener("focusin", (e) => {
    if (e.target.matches("[data-open]") && e.target.value === "?") e.target.select();
  });

  // Where the keys are stays where it was when a page is drawn anew: at the value that was edited, the check that was asked.
  let here = location.pathname, worked = Boolean(one("#working")), left = null;
  const named = (field) => { const found = one(`#edit input[name="${field}"]`); return found && found.value; };
  const edited = () => named("at") + "|" + named("path");
  let edits = edited();
  const asked = () => { const link = one("#checks .asked a"); return link && link.textContent; };
  document.addEventListener("htmx:beforeSwap", (e) => {
    const at = document.activeElement;
    if (!e.detail.target || e.detail.target.id !== "page") return;
    left = at === document.body ? null : { tag: at.tagName, href: at.getAttribute("href"), name: at.getAttribute("name"), text: at.textContent.trim(),
      edit: at.closest("#edit") && [named("at"), named("path")], check: at.closest("#working") && asked() };
  });

  function again() {
    const all = (what) => [...document.querySelectorAll(what)];
    if (left.edit) return all("a.value").find((a) => { const to = new URL(a.href).searchParams; return to.get("at") === left.edit[0] && to.get("edit") === left.edit[1]; });
    if (left.check) return all("#checks a").find((a) => a.textContent === left.check);
    const alike = all(left.tag);
    return alike.find((e) => left.href && e.getAttribute("href") === left.href) || alike.find((e) => left.name && e.getAttribute("name") === left.name)
      || alike.find((e) => left.text && e.textContent.trim() === left.text);
  }

  document.addEventListener("htmx:afterSettle", (e) => {
    const typed = one("#typed"), working = one("#working"), opened = working && !worked, moved = location.pathname !== here;
    const on = typed && document.activeElement === typed && edits === edited();
    [worked, here, edits] = [Boolean(working), location.pathname, edited()];
    if (on) return;
    if (typed) { typed.focus({ preventScroll: true }); if (typed.select) typed.select(); typed.scrollIntoView({ block: "nearest" }); }
    else if (moved) { scrollTo(0, 0); one("#main").focus({ preventScroll: true }); }
    else if (opened) { working.focus({ preventScroll: true }); working.scrollIntoView({ block: "nearest" }); }
    else if (left && document.activeElement === document.body) (again() || one("#main")).focus({ preventScroll: true });
    if (e.detail.target && e.detail.target.id === "page") left = null;
  });

  // What is typed while a form is under way would be lost with the page that its answer draws anew: its fields wait for it.
  function wait(form, on) {
    if (!form.matches("form[method=post]")) return;
    form.ariaBusy = on;
    for (const field of form.querySelectorAll("input, textarea")) field.readOnly = on;
  }
  document.addEventListener("htmx:beforeRequest", (e) => wait(e.detail.elt, true));
  document.addEventListener("htmx:afterRequest", (e) => wait(e.detail.elt, false));
  for (const kind of ["mousedown", "keydown"]) document.addEventListener(kind, (e) => {
    if (e.target.matches("[aria-busy=true] select") && !["Tab", "Escape"].includes(e.key)) e.preventDefault();
  });

  // An answer whose place in the page was drawn anew meanwhile goes to the new place while who asked is still there,
  // and came too late otherwise. Heard where it was asked: what has left the document tells the document nothing.
  document.addEventListener("htmx:beforeRequest", (e) => {
    const asking = e.detail.elt;
    asking.addEventListener("htmx:beforeOnLoad", (answer) => {
      const { target } = answer.detail;
      if (document.contains(target)) return;
      const anew = document.contains(asking) && document.getElementById(target.id);
      if (anew) answer.detail.target = anew; else answer.preventDefault();
    }, { once: true });
  });

  document.addEventListener("htmx:afterSwap", (e) => {
    const done = e.detail.target && ["running", "issuing"].includes(e.detail.target.id) && one(`#${e.detail.target.id}[data-finished]`);
    if (done) htmx.ajax("GET", location.pathname + location.search, { target: "#page", select: "#page", swap: "outerHTML show:none" }).catch(() => {});  // the page may be left meanwhile
  });
})();
