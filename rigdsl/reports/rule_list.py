"""The list of rules, and a rule's page as a terminal can show it."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rigdsl.config.values import written
from rigdsl.reports.check_json import dumped
from rigdsl.reports.look import Look

__all__ = ["Entry", "page_text", "rules_json", "rules_text"]

COLUMNS = 88  # of running text where the terminal is wider, or there is none

CORE = "core"  # the rules of no pack, which are always on
CODE = re.compile(r"^```(\w*)$")


@dataclass(frozen=True)
class Entry:
    """A rule as it is listed: `doc` is its page in Markdown, `options` the properties of its options' JSON Schema.

    `here` says how the project of the current folder sets it, where it does.
    """

    name: str
    level: str
    pack: str
    version: str
    doc: str
    on: bool
    options: dict[str, Any]
    here: tuple[str, ...] = ()

    @property
    def summary(self) -> str:
        """The first line of its page."""
        return self.doc.partition("\n")[0]


def rules_text(entries: Sequence[Entry], look: Look) -> str:
    """One line a rule: name, level, pack, version, summary."""
    rows = [_row(entry) for entry in entries]
    wide = [max((len(row[column]) for row in rows), default=0) for column in range(4)]
    lines = []
    for row in rows:
        cells = [cell.ljust(room) for cell, room in zip(row, wide, strict=False)]
        lines.append(look.text("  ".join([*cells, row[4]])).rstrip())
    return "\n".join([*lines, ""])


def _row(entry: Entry) -> tuple[str, str, str, str, str]:
    level = entry.level if entry.on else f"{entry.level}, off"
    if entry.here:
        level = f"{level}; here {entry.here[0]}"
    return entry.name, level, entry.pack, entry.version, entry.summary


def rules_json(entries: Sequence[Entry]) -> bytes:
    """The same for programs."""
    keys = ("name", "level", "on", "pack", "version", "summary", "options")
    return dumped({"rules": [{key: getattr(entry, key) for key in keys} for entry in entries]})


def page_text(entry: Entry, look: Look) -> str:
    """A rule's page: headings, running text, examples set in, and its options."""
    origin = f"{entry.level}, pack {entry.pack} {entry.version}{'' if entry.on else ', off'}"
    lines = [f"{look.paint(entry.name, 'bold')} ({origin})", ""]
    return "\n".join([*lines, *_markdown(entry.doc, look), *_options(entry, look), ""])


def _markdown(page: str, look: Look) -> Iterator[str]:
    paragraph: list[str] = []
    inside = False
    for line in [*page.splitlines(), ""]:
        fence = CODE.match(line)
        if inside:
            inside = not fence
            yield "" if fence else f"    {line}".rstrip()
        elif fence or not line.strip() or line.startswith("#"):
            yield from _wrapped(paragraph, look)
            paragraph = []
            inside = bool(fence)
            if line.startswith("#"):
                yield from (look.paint(line.lstrip("# "), "bold"), "")
        elif line.startswith(("- ", "* ", "|")):
            yield from _wrapped(paragraph, look, gap=False)
            paragraph = [line]
        else:
            paragraph.append(line.strip())


def _wrapped(paragraph: Sequence[str], look: Look, gap: bool = True) -> Iterator[str]:
    if not paragraph:
        return
    room = min(look.columns or COLUMNS, COLUMNS)
    later = "  " if paragraph[0].startswith(("- ", "* ")) else ""
    text = look.text(" ".join(paragraph))
    yield from textwrap.wrap(text, room, subsequent_indent=later, break_long_words=False, break_on_hyphens=False)
    if gap:
        yield ""


def _options(entry: Entry, look: Look) -> Iterator[str]:
    if entry.options:
        yield from (look.paint("Options", "bold"), "")
    for name, words in entry.options.items():
        default = json.dumps(words.get("default"), ensure_ascii=False)
        yield from _wrapped([f"- `{name}` = {default}: {words.get('description', '')}"], look, gap=False)
    if entry.pack == CORE:
        return
    yield from _to_set(entry, look)


def _to_set(entry: Entry, look: Look) -> Iterator[str]:
    """The lines of `rig.toml` that set a rule, and those that set it here."""
    key = f'"{entry.name}"' if "/" in entry.name else entry.name
    yield from (*([""] if entry.options else []), look.paint("In rig.toml", "bold"), "")
    yield f"    [rules.{key}]"
    yield f'    level = "{entry.level}"{"" if entry.on else "  # it is off where nothing is set"}'
    settable = {name: words["default"] for name, words in entry.options.items() if words["default"] is not None}
    yield from (f"    {name} = {written(default)}" for name, default in settable.items())
    for line in entry.here:
        yield from ("", *_wrapped([f"- in this project: {line}"], look, gap=False))
