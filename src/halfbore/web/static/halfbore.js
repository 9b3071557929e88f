// Keys, and what a form does by itself where a script runs; every page works without it.
"use strict";
(() => {
  const typing = (e) => e.target.closest("input, select, textarea, [contenteditable]");
  const one = (what) => document.querySelector(what);

  const rows = () => [...document.querySelectorAll("[data-rows] tbody tr")].filter((r) => r.querySelector("a"));
  const adding = () => one("#elements .adding") || [...document.querySelectorAll(".adding")].find((a) => a.querySelector("select, input:not([type=hidden])"));
  function step(by) {
    const all = rows();
    const at = all.findIndex((r) => r.contains(document.activeElement));
    const next = all[Math.max(0, Math.min(all.length - 1, at + by))];
    if (next) next.querySelector("a").focus();
  }

  document.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === "Escape") {
      const back = one("[data-back]");
      if (back) { e.preventDefault(); back.click(); }
      return;
    }
    if (typing(e)) return;
    if (e.key === "/" && one("[data-filter]")) { e.preventDefault(); one("[data-filter]").focus(); }
    else if (e.key === "j") step(1);
    else if (e.key === "k") step(-1);
    else if (e.key === "n" && adding()) { adding().open = true; adding().querySelector("select, input:not([type=hidden])").focus(); }
    else if (e.key === "F2") {
      const row = document.activeElement.closest("tr");
      const value = row && row.querySelector("a.value");
      if (value) { e.preventDefault(); value.click(); }
    }
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

  let here = location.pathname, worked = Boolean(one("#working"));
  document.addEventListener("htmx:afterSettle", () => {
    const typed = one("#typed");
    if (typed && document.activeElement === typed) return;
    if (typed) { typed.focus({ preventScroll: true }); if (typed.select) typed.select(); typed.scrollIntoView({ block: "nearest" }); }
    else if (location.pathname !== here) { scrollTo(0, 0); one("#main").focus({ preventScroll: true }); }
    const working = one("#working");
    if (working && !worked) working.scrollIntoView({ block: "nearest" });
    worked = Boolean(working);
    here = location.pathname;
  });

  // An answer for a field that is no longer there came too late.
  document.addEventListener("htmx:beforeSwap", (e) => {
    if (!document.contains(e.detail.requestConfig.elt)) e.detail.shouldSwap = false;
  });

  document.addEventListener("htmx:afterSwap", (e) => {
    const done = e.detail.target && ["running", "issuing"].includes(e.detail.target.id) && one(`#${e.detail.target.id}[data-finished]`);
    if (done) htmx.ajax("GET", location.pathname + location.search, { target: "#page", select: "#page", swap: "outerHTML show:none" }).catch(() => {});  // the page may be left meanwhile
  });
})();
