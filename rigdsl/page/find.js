"use strict";
// The search box: a source, an output, a box, a socket, a cable or a channel by its name or label.
(() => {
  const { at, make, names, select, stage } = window.rig;
  const MOST_HITS = 40;

  let hits = [];
  let chosen = 0;

  const rank = (one, text) => {
    const name = one.name.toLowerCase();
    if (name === text) return 0;
    const starts = name.startsWith(text) || one.label.toLowerCase().startsWith(text);
    return starts ? (one.kind === "socket" ? 3 : 1) : one.kind === "socket" ? 4 : 2;
  };

  const look = () => {
    const text = at("search").value.trim().toLowerCase();
    const some = text ? names.filter((one) => one.text.includes(text)) : [];
    some.sort((a, b) => rank(a, text) - rank(b, text) || a.name.length - b.name.length || (a.name < b.name ? -1 : 1));
    hits = some.slice(0, MOST_HITS);
    chosen = 0;
    const rows = hits.map((one, index) => {
      const row = make("li", one.label ? `${one.name}, ${one.label} ` : `${one.name} `);
      row.append(make("span", one.kind, "kind"));
      row.id = `hit-${index}`;
      row.setAttribute("role", "option");
      row.addEventListener("click", () => take(index));
      return row;
    });
    if (text && !rows.length) rows.push(make("li", "nothing of that name"));
    at("hits").replaceChildren(...rows);
    mark();
  };

  const mark = () => {
    [...at("hits").children].forEach((row, index) => row.setAttribute("aria-selected", String(index === chosen && hits.length > 0)));
    const open = at("hits").children.length > 0;
    at("hits").hidden = !open;
    at("search").setAttribute("aria-expanded", String(open));
    if (open && hits.length) {
      at("search").setAttribute("aria-activedescendant", `hit-${chosen}`);
      at("hits").children[chosen].scrollIntoView({ block: "nearest" });
    } else {
      at("search").removeAttribute("aria-activedescendant");
    }
  };

  const take = (index) => {
    if (!hits[index]) return;
    select(hits[index].name);
    close();
    stage.focus();
  };

  const close = () => {
    at("hits").replaceChildren();
    hits = [];
    mark();
  };

  at("search").addEventListener("input", look);
  at("search").addEventListener("keydown", (event) => {
    const steps = { ArrowDown: 1, ArrowUp: -1 };
    if (event.key in steps && hits.length) chosen = (chosen + steps[event.key] + hits.length) % hits.length;
    else if (event.key === "Enter") take(chosen);
    else if (event.key === "Escape") { close(); stage.focus(); }
    else return;
    event.preventDefault();
    mark();
  });
  at("search").addEventListener("blur", () => setTimeout(close, 200));
})();
