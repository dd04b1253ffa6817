"use strict";
// Mouse, fingers and keys; then the page as it was left.
(() => {
  const { at, chosen, clear, current, fit, restore, save, select, show, stage, state, views } = window.rig;

  const pick = (target) => {
    const finding = target.closest(".finding");
    if (finding) {
      const line = document.querySelector(`.finding-line[data-number="${finding.getAttribute("data-finding")}"]`);
      if (line) line.focus();
      return;
    }
    const part = target.closest("[data-joins], .socket, .node");
    const name = part && chosen(part);
    if (name) select(name, true);
  };

  let down = null;
  stage.addEventListener("pointerdown", (event) => { down = [event.clientX, event.clientY]; });
  stage.addEventListener("click", (event) => {
    if (down && Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 5) return;
    pick(event.target);
  });
  const move = (dx, dy) => {
    const sheet = current();
    if (sheet) sheet.pan.pan(dx / sheet.pan.getScale(), dy / sheet.pan.getScale(), { relative: true, force: true });
  };
  const KEYS = {
    "+": () => current()?.pan.zoomIn(), "=": () => current()?.pan.zoomIn(), "-": () => current()?.pan.zoomOut(),
    "0": () => current() && fit(current()), "/": () => at("search").focus(), "Escape": clear,
    "[": () => show(state.view, state.sheet[state.view] - 1), "]": () => show(state.view, state.sheet[state.view] + 1),
    "ArrowLeft": () => move(80, 0), "ArrowRight": () => move(-80, 0), "ArrowUp": () => move(0, 80), "ArrowDown": () => move(0, -80),
  };
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target === at("search")) return;
    if (event.defaultPrevented) return;
    const arrows = event.key.startsWith("Arrow") && event.target !== stage && event.target !== document.body;
    const view = views[Number(event.key) - 1];
    const act = view && event.key !== "0" ? () => show(view.dataset.view) : KEYS[event.key];
    if (!act || arrows) return;
    event.preventDefault();
    act();
  });
  for (const tab of document.querySelectorAll(".tab")) tab.addEventListener("click", () => show(tab.dataset.view));
  at("before").addEventListener("click", () => show(state.view, state.sheet[state.view] - 1));
  at("behind").addEventListener("click", () => show(state.view, state.sheet[state.view] + 1));
  at("in").addEventListener("click", () => current()?.pan.zoomIn());
  at("out").addEventListener("click", () => current()?.pan.zoomOut());
  at("fit").addEventListener("click", () => current() && fit(current()));
  at("clear").addEventListener("click", clear);
  at("theme").addEventListener("click", () => {
    const root = document.documentElement;
    const dark = root.dataset.theme ? root.dataset.theme === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
    root.dataset.theme = state.theme = dark ? "light" : "dark";
    save();
  });

  restore();
})();
