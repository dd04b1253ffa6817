"use strict";
// What is on the drawings, what of it is lit, and which sheet is shown how large.
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const at = (id) => document.getElementById(id);
  const stage = at("stage");
  const views = [...document.querySelectorAll(".view")];
  const state = { view: "", sheet: {}, zoom: {}, name: "", theme: "" };
  const KEY = `rig:${data.title}`;
  const MOST_TRACES = 12;
  const LEAST_SCALE = 0.3; // below it no word can be read
  const NEAR = 0.9;

  const make = (tag, text, kind) => {
    const element = document.createElement(tag);
    if (text) element.textContent = text;
    if (kind) element.className = kind;
    return element;
  };
  const list = (element, name) => JSON.parse(element.getAttribute(`data-${name}`) || "[]");

  // ---- what is on the drawings, read once

  const sheets = views.flatMap((view) =>
    [...view.querySelectorAll(".sheet")].map((element, index) => ({
      view: view.dataset.view,
      number: index + 1,
      element,
      svg: element.querySelector("svg"),
      paper: element.querySelector(".paper"),
      nodes: [...element.querySelectorAll("svg g.node:not(.label)")].map((node) => ({
        element: node,
        id: node.id.slice(element.dataset.own.length),
        things: list(node, "things"),
        rows: [...node.querySelectorAll("g.socket")].map((row) => ({ element: row, things: list(row, "things") })),
      })),
      lines: [...element.querySelectorAll("svg [data-joins]")].map((line) => ({
        element: line,
        joins: list(line, "joins"),
        cables: list(line, "cables"),
        between: list(line, "between"),
        oneWay: line.hasAttribute("data-one-way"),
      })),
    })),
  );

  const names = (() => {
    const found = new Map();
    const add = (name) => {
      if (!found.has(name)) {
        const label = data.labels[name] || "";
        found.set(name, { name, label, kind: data.kinds[name] || "socket", text: `${name} ${label}`.toLowerCase() });
      }
    };
    for (const name of Object.keys(data.kinds)) add(name);
    for (const sheet of sheets) {
      for (const node of sheet.nodes) {
        node.things.forEach(add);
        node.rows.forEach((row) => row.things.forEach(add));
      }
    }
    Object.keys(data.index).forEach(add);
    return [...found.values()];
  })();

  // ---- lighting

  const orders = (paths) => paths.map((path) => new Map(path.names.map((name, index) => [name, index])));

  const runs = (line, way, cables) => {
    if (line.cables.length && !line.cables.some((cable) => cables.has(cable))) return false;
    return line.joins.some(([left, right]) =>
      way.some((order) => order.has(left) && order.has(right) && (!line.oneWay || order.get(left) < order.get(right))),
    );
  };

  const unlight = () => {
    for (const sheet of sheets) {
      sheet.svg.classList.remove("dim");
      for (const element of sheet.svg.querySelectorAll(".lit")) element.classList.remove("lit");
    }
  };

  const light = (name) => {
    unlight();
    const paths = (data.index[name] || []).map((index) => data.paths[index]);
    const way = orders(paths);
    const cables = new Set(paths.flatMap((path) => path.cables).concat(name));
    const all = new Set(paths.flatMap((path) => path.names).flatMap((end) => [end, end.split(".")[0]]).concat(name));
    for (const sheet of sheets) {
      sheet.svg.classList.add("dim");
      const ends = new Set();
      for (const line of sheet.lines) {
        const own = line.cables.includes(name) || line.joins.some((pair) => pair.includes(name));
        if (runs(line, way, cables) || (!paths.length && own)) {
          line.element.classList.add("lit");
          line.between.forEach((node) => ends.add(node));
        }
      }
      for (const node of sheet.nodes) {
        const own = node.things.includes(name);
        const rows = node.rows.filter((row) => row.things.some((thing) => all.has(thing)));
        const joined = ends.has(node.id) || (rows.length > 0 && node.element.classList.contains("zone")); // a card of the plan
        if (own || joined || (rows.length && !sheet.lines.length)) node.element.classList.add("lit");
        if (own || joined) rows.forEach((row) => row.element.classList.add("lit"));
      }
    }
    return paths;
  };

  // ---- the trace at the side

  const hopButton = (name) => {
    const button = make("button", name);
    button.type = "button";
    button.addEventListener("click", () => select(name));
    return button;
  };

  const traceOf = (path) => {
    const box = make("article", "", "trace");
    box.append(make("h3", path.title));
    if (path.because) box.append(make("p", `because ${path.because}`));
    const hops = make("ol");
    for (const [words, goal] of path.hops) {
      const item = make("li", `${words} → `);
      item.append(hopButton(goal));
      hops.append(item);
    }
    box.append(hops, make("small", path.total, "more"));
    return box;
  };

  const select = (name, quiet) => {
    const paths = light(name);
    state.name = name;
    const label = data.labels[name];
    at("traced").hidden = false;
    at("traced-name").textContent = label ? `${name}, ${label}` : name;
    const shown = paths.slice(0, MOST_TRACES).map(traceOf);
    if (!paths.length) shown.push(make("p", `no signal goes over ${name}`));
    if (paths.length > MOST_TRACES) shown.push(make("p", `and ${paths.length - MOST_TRACES} more`, "more"));
    at("traces").replaceChildren(...shown);
    if (!quiet) reveal(name);
    save();
  };

  const clear = () => {
    unlight();
    state.name = "";
    at("traced").hidden = true;
    for (const element of document.querySelectorAll(".found")) element.classList.remove("found");
    save();
  };

  // ---- sheets and zoom

  const key = (sheet) => `${sheet.view}/${sheet.number}`;
  const current = () => sheets.find((sheet) => sheet.view === state.view && sheet.number === (state.sheet[state.view] || 1));

  // The whole sheet in the middle of the stage: its scale, and its place in the sheet's own measure.
  const whole = (sheet) => {
    const [wide, high] = [sheet.svg.clientWidth, sheet.svg.clientHeight];
    const scale = Math.min(stage.clientWidth / wide, stage.clientHeight / high, 1.5);
    return [scale, (stage.clientWidth / scale - wide) / 2, (stage.clientHeight / scale - high) / 2];
  };

  const place = (sheet, [scale, x, y]) => {
    sheet.pan.zoom(scale, { animate: false, force: true });
    sheet.pan.pan(x, y, { animate: false, force: true });
  };

  const fit = (sheet) => place(sheet, whole(sheet));

  const prepare = (sheet) => {
    if (sheet.pan) return;
    const [startScale, startX, startY] = state.zoom[key(sheet)] || whole(sheet);
    const start = { startScale, startX, startY }; // it goes there once more a moment after it was made
    const options = { canvas: true, minScale: 0.05, maxScale: 12, origin: "0 0", cursor: "grab", step: 0.35, ...start };
    sheet.pan = Panzoom(sheet.paper, { ...options, handleStartEvent: (event) => event.preventDefault() });
    sheet.element.addEventListener("wheel", (event) => {
      event.preventDefault();
      sheet.pan.zoomWithWheel(event, { animate: false });
    }, { passive: false });
    sheet.paper.addEventListener("panzoomchange", () => keep(sheet));
  };

  const keep = (sheet) => {
    const { x, y } = sheet.pan.getPan();
    state.zoom[key(sheet)] = [sheet.pan.getScale(), x, y];
    save();
  };

  const show = (view, number) => {
    if (!views.some((element) => element.dataset.view === view)) return;
    state.view = view;
    const some = sheets.filter((sheet) => sheet.view === view);
    state.sheet[view] = Math.min(Math.max(number || state.sheet[view] || 1, 1), some.length);
    for (const element of views) element.hidden = element.dataset.view !== view;
    for (const sheet of some) sheet.element.hidden = sheet.number !== state.sheet[view];
    for (const tab of document.querySelectorAll(".tab")) tab.setAttribute("aria-pressed", String(tab.dataset.view === view));
    at("sheets").hidden = some.length < 2;
    at("which").textContent = `sheet ${state.sheet[view]} of ${some.length}`;
    const sheet = current();
    if (sheet) prepare(sheet);
    save();
  };

  // A zoom stands on the screen only with the next frame: where a part is can be read behind it.
  // A sheet shown for the first time takes its own first place with a timer: ours comes behind it.
  const settled = (act) => setTimeout(() => requestAnimationFrame(() => requestAnimationFrame(act)));

  const centre = (sheet, element) => settled(() => {
    const box = element.getBoundingClientRect();
    const room = stage.getBoundingClientRect();
    const scale = sheet.pan.getScale();
    const dx = room.left + room.width / 2 - (box.left + box.width / 2);
    const dy = room.top + room.height / 2 - (box.top + box.height / 2);
    const { x, y } = sheet.pan.getPan();
    sheet.pan.pan(x + dx / scale, y + dy / scale, { animate: false, force: true });
  });

  const outside = (element) => {
    const box = element.getBoundingClientRect();
    const room = stage.getBoundingClientRect();
    return box.right < room.left || box.left > room.right || box.bottom < room.top || box.top > room.bottom;
  };

  // Something of what is lit is in sight: on this sheet if it has any, else on the first that has.
  const reveal = (name) => {
    const here = current();
    const lit = (sheet) => sheet.svg.querySelector(".socket.lit, .edge.lit, .node.lit");
    const sheet = here && lit(here) ? here : sheets.find((one) => one.view === state.view && lit(one)) || sheets.find(lit);
    if (!sheet) return;
    if (sheet !== here) show(sheet.view, sheet.number);
    const parts = [...sheet.nodes.flatMap((node) => node.rows), ...sheet.nodes];
    const own = parts.find((part) => part.things.includes(name));
    const goal = own ? own.element : lit(sheet);
    if (sheet.pan.getScale() < LEAST_SCALE) {
      sheet.pan.zoom(NEAR, { animate: false });
      centre(sheet, goal);
    } else {
      settled(() => [...sheet.svg.querySelectorAll(".socket.lit, .node.lit")].every(outside) && centre(sheet, goal));
    }
  };

  // ---- findings

  const jump = (number) => {
    const mark = (sheet) => sheet.svg.querySelector(`.finding[data-finding="${number}"]`);
    const here = current();
    const sheet = here && mark(here) ? here : sheets.find((one) => one.view === state.view && mark(one)) || sheets.find(mark);
    if (!sheet) return;
    clear(); // what is dim cannot be seen, and a finding is to be seen
    show(sheet.view, sheet.number);
    const found = mark(sheet);
    if (sheet.pan.getScale() < 0.6) sheet.pan.zoom(NEAR, { animate: false });
    found.classList.add("found");
    centre(sheet, found);
  };

  const fillFindings = () => {
    const shown = new Set([...document.querySelectorAll(".finding")].map((mark) => mark.getAttribute("data-finding")));
    for (const finding of data.findings) {
      const item = make("li");
      const button = make("button", "", `finding-line ${finding.level}`);
      button.type = "button";
      button.dataset.number = finding.number;
      button.append(make("span", String(finding.number), "number"), `${finding.level}: ${finding.message}`);
      if (finding.consequence) button.append(make("small", `on the night: ${finding.consequence}`));
      if (finding.help) button.append(make("small", `to mend it: ${finding.help}`));
      const off = shown.has(String(finding.number)) ? "" : ", on no drawing";
      button.append(make("small", `${finding.place} ${finding.rule}${off}`));
      button.addEventListener("click", () => jump(finding.number));
      item.append(button);
      at("findings").append(item);
    }
    if (!data.findings.length) at("findings").append(make("li", "nothing found"));
    if (data.accepted) at("accepted").textContent = `${data.accepted} more accepted`;
  };

  // ---- state, kept over a reload

  const save = () => {
    try {
      sessionStorage.setItem(KEY, JSON.stringify({ ...state, search: at("search").value }));
    } catch { /* a browser that keeps nothing still shows everything */ }
  };

  const restore = () => {
    try {
      const kept = JSON.parse(sessionStorage.getItem(KEY) || "{}");
      Object.assign(state, { view: kept.view || "", sheet: kept.sheet || {}, zoom: kept.zoom || {}, name: kept.name || "", theme: kept.theme || "" });
      at("search").value = kept.search || "";
    } catch { /* nothing was kept */ }
    if (state.theme) document.documentElement.dataset.theme = state.theme;
    show(views.some((view) => view.dataset.view === state.view) ? state.view : views[0] && views[0].dataset.view);
    if (names.some((one) => one.name === state.name)) select(state.name, true);
  };

  // What a click on a part is about: its cable, else what sound goes over.
  const chosen = (part) => {
    const joins = list(part, "joins").flat();
    const things = [...joins, ...list(part, "things")];
    return list(part, "cables")[0] || things.find((one) => data.index[one]) || list(part, "things")[0];
  };

  fillFindings();
  window.rig = { at, chosen, clear, current, fit, make, names, outside, centre, restore, save, select, sheets, show, stage, state, views };
})();
