"""The page as one file: the drawings, what is found, and the lists, with style and script inside."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files

from rigdsl.draw import css
from rigdsl.finding import Finding
from rigdsl.page.data import dumped, findings_data, known
from rigdsl.papers import Table, cell_text
from rigdsl.paths import Paths

__all__ = ["Drawn", "Page", "page"]

DECLARATION = re.compile(r"^<\?xml[^>]*\?>\s*")
IDS = re.compile(r' id="([^"]*)"')
SCRIPTS = ("panzoom.min.js", "page.js", "find.js", "parts.js", "hands.js")
CAUTIONS = (
    "Mains and supplies are work for licensed people; local codes rule.",
    "Mute and turn down before anything is plugged or phantom is switched: loudspeakers can hurt ears and people.",
    "Cover or fly cables where people walk; never look into a fibre.",
)
LABELLED = re.compile(r' aria-labelledby="([^"]*)"')


@dataclass(frozen=True)
class Drawn:
    """One view: its name and title, its sheets as finished SVG, and its text twin."""

    name: str
    title: str
    sheets: tuple[bytes, ...]
    twin: str


@dataclass(frozen=True)
class Page:
    """What the page shows. `path` is the rig's file, `note` stands at the top, `script` runs behind the page's own."""

    title: str
    facts: tuple[str, ...]
    path: str
    drawings: tuple[Drawn, ...]
    findings: tuple[Finding, ...]
    accepted: int
    paths: Paths | None
    lists: tuple[tuple[str, Table], ...] = ()
    note: str = ""
    script: str = ""


def page(shown: Page) -> bytes:
    """The page. The same values give the same bytes."""
    data = {
        "title": shown.title,
        "findings": findings_data(shown.findings, shown.path),
        "accepted": shown.accepted,
        **(known(shown.paths) if shown.paths else {"paths": [], "index": {}, "labels": {}, "kinds": {}}),
    }
    scripts = [*(_asset(name) for name in SCRIPTS), *filter(None, [shown.script])]
    parts = {
        "policy": _policy(scripts),
        "title": escape(shown.title),
        "facts": escape(" · ".join(shown.facts)),
        "note": f'<p id="note" role="status">{escape(shown.note)}</p>' if shown.note else "",
        "style": f"{_asset('page.css')}\n{_dark()}",
        "tabs": "".join(_tab(drawn) for drawn in shown.drawings),
        "drawings": "".join(_view(drawn) for drawn in shown.drawings),
        "twins": "".join(_twin(drawn) for drawn in shown.drawings),
        "lists": "".join(_table(title, table) for title, table in shown.lists),
        "cautions": "".join(f"<p>{escape(caution)}</p>" for caution in CAUTIONS),
        "data": dumped(data),
        "licence": escape(_asset("panzoom-license.txt")),
        "scripts": "".join(f"<script>{script}</script>" for script in scripts),
    }
    text = re.sub(r"\{\{(\w+)\}\}", lambda found: parts[found[1]], _asset("page.html"))
    return text.encode("utf-8", "replace")


@cache
def _asset(name: str) -> str:
    return (files("rigdsl.page") / name).read_text("utf-8").strip()


def _policy(scripts: Sequence[str]) -> str:
    """Nothing is loaded from anywhere, and no script runs but these."""
    hashes = " ".join(f"'sha256-{_hash(script)}'" for script in scripts)
    return f"default-src 'none'; style-src 'unsafe-inline'; script-src {hashes}; connect-src 'self'; base-uri 'none'"


def _hash(script: str) -> str:
    return base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")


def _dark() -> str:
    """The theme for dark wings, by choice and where the reader's machine asks for it; paper is always white."""
    chosen = css("screen", ':root[data-theme="dark"] .sheet svg')
    asked = css("screen", ":root:not([data-theme]) .sheet svg")
    return f"@media screen {{\n{chosen}\n}}\n@media screen and (prefers-color-scheme: dark) {{\n{asked}\n}}"


def _tab(drawn: Drawn) -> str:
    name = escape(drawn.name)
    return f'<button type="button" class="tab" data-view="{name}" aria-pressed="false">{escape(drawn.title)}</button>'


def _view(drawn: Drawn) -> str:
    sheets = "".join(_sheet(drawn, at, data) for at, data in enumerate(drawn.sheets, 1))
    return f'<div class="view" data-view="{escape(drawn.name)}" hidden>{sheets}</div>'


def _sheet(drawn: Drawn, number: int, data: bytes) -> str:
    """One sheet; its ids are made the page's own, where other sheets have parts of the same name."""
    own = re.sub(r"[^\w-]", "-", f"{drawn.name}-{number}")
    svg = DECLARATION.sub("", data.decode("utf-8"))
    svg = IDS.sub(lambda found: f' id="{own}--{found[1]}"', svg)
    svg = LABELLED.sub(lambda found: f' aria-labelledby="{_own(own, found[1])}"', svg)
    return f'<div class="sheet" data-sheet="{number}" data-own="{own}--"><div class="paper">{svg}</div></div>'


def _own(prefix: str, names: str) -> str:
    return " ".join(f"{prefix}--{name}" for name in names.split())


def _twin(drawn: Drawn) -> str:
    return f"<details><summary>{escape(drawn.title)} in words</summary><pre>{escape(drawn.twin)}</pre></details>"


def _table(title: str, table: Table) -> str:
    head = "".join(f'<th scope="col">{escape(column)}</th>' for column in table.columns)
    rows = "".join(f"<tr>{''.join(f'<td>{escape(cell_text(field))}</td>' for field in row)}</tr>" for row in table.rows)
    notes = "".join(f"<p>{escape(note)}</p>" for note in table.notes)
    scroll = f'<div class="scroll"><table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>'
    return f"<details><summary>{escape(title)}</summary>{scroll}{notes}</details>"
