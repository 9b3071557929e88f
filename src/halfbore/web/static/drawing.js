// Parts and bearings are moved in the drawing by hand; what is let go is typed for the reader, who keeps it or goes back.
"use strict";
(() => {
  const one = (what) => document.querySelector(what);
  const part = (e) => e.target.closest && e.target.closest("#drawing a[data-edit]");
  const scaleOf = (svg) => (svg.getBoundingClientRect().width / svg.viewBox.baseVal.width) * Number(svg.dataset.scale);
  const written = (mm) => (one("#drawing").dataset.unit === "in" ? `${Math.round(mm * 100 / 25.4) / 100} in` : `${Math.round(mm)} mm`);
  let held = null;

  // While a value is typed the page asks for the one drawing that it shows.
  const wide = matchMedia("(min-width:1421px),(max-width:1130px)");
  document.addEventListener("htmx:configRequest", (e) => {
    if (e.detail.path.endsWith("/typed")) e.detail.parameters.drawing = wide.matches ? "wide" : "middle";
  });

  function hold(link, from) {
    held = { link, svg: link.ownerSVGElement, from, mm: 0, label: document.createElementNS("http://www.w3.org/2000/svg", "text") };
    held.label.setAttribute("font-size", "13");
    held.label.setAttribute("class", "moving");
    held.svg.append(held.label);
  }

  function move(mm) {
    const { link, svg, label } = held, scale = Number(svg.dataset.scale);
    held.mm = mm;
    link.setAttribute("transform", `translate(${mm * scale} 0)`);
    const at = Number(svg.dataset.origin) + (Number(link.dataset.x) + mm) * scale;
    label.setAttribute("x", at);
    label.setAttribute("y", 12);
    label.setAttribute("text-anchor", at > svg.viewBox.baseVal.width / 2 ? "end" : "start");
    label.textContent = written(Number(link.dataset.x) + mm);
    one("#moved").textContent = `${label.textContent} from the drive end, Enter keeps it for typing, Esc puts it back`;
  }

  function drop(keep) {
    const { link, label, mm } = held;
    held = null;
    label.remove();
    one("#moved").textContent = "";
    link.removeAttribute("transform");
    if (!keep || !mm) return;
    const to = new URL(link.dataset.edit, location.href);
    to.searchParams.set("value", written(Number(link.dataset.x) + mm));
    htmx.ajax("GET", to.pathname + to.search, { target: "#page", select: "#page", swap: "outerHTML show:none" })
      .then(() => history.pushState({}, "", to));
  }

  document.addEventListener("pointerdown", (e) => {
    const link = part(e);
    if (link && e.button === 0) hold(link, e.clientX);
  });
  document.addEventListener("pointermove", (e) => { if (held && held.from !== null) move((e.clientX - held.from) / scaleOf(held.svg)); });
  document.addEventListener("pointerup", () => { if (held && held.from !== null) { held.link.dataset.moved = Math.abs(held.mm * scaleOf(held.svg)) > 3 ? "yes" : ""; drop(held.link.dataset.moved === "yes"); } });
  document.addEventListener("pointercancel", () => { if (held) drop(false); });
  document.addEventListener("dragstart", (e) => { if (part(e)) e.preventDefault(); });
  document.addEventListener("click", (e) => {
    const link = part(e);
    if (link && link.dataset.moved === "yes") { e.preventDefault(); e.stopPropagation(); link.dataset.moved = ""; }
  }, true);
  document.addEventListener("keydown", (e) => {
    const link = part(e), by = { ArrowLeft: -1, ArrowRight: 1 }[e.key];
    if (link && by) {
      e.preventDefault();
      if (!held) hold(link, null);
      move(held.mm + by * (e.shiftKey ? 10 : 1));
    } else if (held && held.from === null && e.key === "Enter") { e.preventDefault(); e.stopPropagation(); drop(true); }
    else if (held && e.key === "Escape") { e.preventDefault(); e.stopImmediatePropagation(); drop(false); }
  }, true);
  document.addEventListener("focusout", (e) => { if (held && held.from === null && part(e) === held.link) drop(false); });
  document.addEventListener("dblclick", (e) => {
    const svg = e.target.closest && e.target.closest("#drawing svg[data-scale]"), adding = one("#elements .adding");
    if (!svg || !adding || part(e)) return;
    const place = (e.clientX - svg.getBoundingClientRect().left) / (svg.getBoundingClientRect().width / svg.viewBox.baseVal.width);
    adding.open = true;
    for (const x of adding.querySelectorAll('input[name="new.x"]')) x.value = written((place - Number(svg.dataset.origin)) / Number(svg.dataset.scale));
    adding.querySelector("select, input:not([type=hidden])").focus();
  });
})();
