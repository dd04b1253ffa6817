"use strict";
// The parts of a drawing for keys and for screen readers: one stop of the Tab key a sheet, arrows from part to part.
(() => {
  const { centre, chosen, current, outside, select, sheets } = window.rig;
  const STEPS = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

  // Several fields of a row stand for the same socket: one of them is enough.
  const partsOf = (sheet) => {
    const parts = [];
    for (const node of sheet.nodes) {
      const seen = new Set();
      for (const element of [node.element, ...node.rows.map((row) => row.element)]) {
        const things = element.getAttribute("data-things");
        if (!things || seen.has(things)) continue;
        seen.add(things);
        parts.push(element);
      }
    }
    for (const line of sheet.lines) if (line.element.classList.contains("edge") && chosen(line.element)) parts.push(line.element);
    return parts;
  };

  const name = (part) => {
    const title = part.querySelector(":scope > title");
    part.setAttribute("role", "button");
    part.setAttribute("aria-label", (title && title.textContent) || chosen(part));
    part.setAttribute("tabindex", "-1");
  };

  const prepare = (sheet) => {
    sheet.svg.setAttribute("role", "group"); // what is inside of a picture is hidden from a screen reader
    const parts = partsOf(sheet);
    parts.forEach(name);
    if (parts.length) parts[0].setAttribute("tabindex", "0");
    sheet.svg.addEventListener("keydown", (event) => onKey(event, sheet, parts));
  };

  const go = (sheet, parts, from, to) => {
    parts[from].setAttribute("tabindex", "-1");
    parts[to].setAttribute("tabindex", "0");
    parts[to].focus({ preventScroll: true });
    if (outside(parts[to])) centre(sheet, parts[to]);
  };

  const onKey = (event, sheet, parts) => {
    const from = parts.indexOf(event.target);
    if (from < 0 || sheet !== current()) return;
    if (event.key in STEPS) go(sheet, parts, from, (from + STEPS[event.key] + parts.length) % parts.length);
    else if (event.key === "Enter" || event.key === " ") select(chosen(event.target), true);
    else return;
    event.preventDefault();
  };

  sheets.forEach(prepare);
})();
