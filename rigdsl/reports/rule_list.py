"""The list of rules, and a rule's page as a terminal can show it."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rigdsl.reports.check_json import dumped
from rigdsl.reports.look import Look
from rigdsl.reports.rule_settings import snippet, takes

__all__ = ["Entry", "page_text", "rules_json", "rules_text"]

COLUMNS = 88  # of running text where the terminal is wider, or there is none

CODE = re.compile(r"^```(\w*)$")


@dataclass(frozen=True)
class Entry:
    """A rule as it is listed: `doc` is its page in Markdown, `options` the properties of its options' JSON Schema.

    `here` says how the project of the current folder sets it, where it does. `settable`: a project may choose its
    level; `took_ms` is what it cost on a rig, where that was asked for.
    """

    name: str
    level: str
    pack: str
    version: str
    doc: str
    on: bool
    options: dict[str, Any]
    here: tuple[str, ...] = ()
    edition: int = 1
    settable: bool = True
    took_ms: float | None = None

    @property
    def summary(self) -> str:
        """The first line of its page."""
        return self.doc.partition("\n")[0]


def rules_text(entries: Sequence[Entry], look: Look) -> str:
    """One line a rule: name, level, pack, version, edition, what it took where that was measured, summary."""
    timed = any(entry.took_ms is not None for entry in entries)
    rows = [_row(entry, timed) for entry in entries]
    wide = [max(map(len, column)) for column in list(zip(*rows, strict=True))[:-1]]
    lines = []
    for *cells, summary in rows:
        padded = [cell.ljust(room) for cell, room in zip(cells, wide, strict=True)]
        lines.append(look.text("  ".join([*padded, summary])).rstrip())
    return "\n".join([*lines, ""])


def _row(entry: Entry, timed: bool) -> tuple[str, ...]:
    level = entry.level if entry.on else f"{entry.level}, off"
    if entry.here:
        level = f"{level}; here {entry.here[0]}"
    took = ["" if entry.took_ms is None else f"{entry.took_ms:9.3f} ms"] if timed else []
    return entry.name, level, entry.pack, entry.version or "-", f"edition {entry.edition}", *took, entry.summary


def rules_json(entries: Sequence[Entry]) -> bytes:
    """The same for programs; `took_ms` only where it was measured."""
    keys = ["name", "level", "on", "pack", "version", "edition", "summary", "options"]
    if any(entry.took_ms is not None for entry in entries):
        keys.append("took_ms")
    return dumped({"rules": [{key: getattr(entry, key) for key in keys} for entry in entries]})


def page_text(entry: Entry, look: Look) -> str:
    """A rule's page: headings, running text, examples set in, and its options."""
    pack = f"pack {entry.pack} {entry.version}".rstrip()
    origin = f"{entry.level}, {pack}, edition {entry.edition}{'' if entry.on else ', off'}"
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
        said = f"- `{name}` ({takes(words)}): {words.get('description', '')}"
        yield from _wrapped([said], look, gap=False)
    if entry.options:
        yield ""
    if entry.settable:
        yield from (look.paint("In rig.toml", "bold"), "")
        yield from (f"    {line}" for line in snippet(entry.name, entry.options, on=entry.on).splitlines())
    for line in entry.here:
        yield from ("", *_wrapped([f"- in this project: {line}"], look, gap=False))
