"""What the preview shows: the page of now, or, while a file is broken, the last good drawing with what is found now."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from html import escape
from importlib.resources import files

from rigdsl.draw import DrawError, EmptyPartError, Layouts, Wanted
from rigdsl.finding import Finding, Level
from rigdsl.packs import PackError
from rigdsl.reports.report import counted
from rigdsl.rig.readers import beside
from rigdsl.show import VIEWS, Drawing, Show

__all__ = ["Made", "Maker"]

UNREAD = ("syntax-error", "file-missing", "file-loop", "unreadable-file", "outside-project")
AWAITED = ("file-missing", "unreadable-file")  # a file that a rig names and that may come yet


@dataclass(frozen=True)
class Made:
    """A state of the page: which it is, the page itself, one line for the terminal, the files it is of."""

    number: int
    page: bytes
    said: str
    files: tuple[str, ...]


@dataclass(frozen=True)
class _Good:
    """A show that was whole, as it was drawn."""

    show: Show
    wanted: Wanted
    drawings: Mapping[str, Drawing]


class Maker:
    """Makes page after page, and keeps the last show that was whole with its drawings.

    `opened` reads the rig anew; whatever goes wrong there or while drawing is a note on the page, and never the end.
    `number` is that of the page before the first: two makers that a browser may meet one after the other at the same
    address need numbers of their own.
    """

    def __init__(self, opened: Callable[[], Show], wanted: Callable[[Show], Wanted], number: int = 0) -> None:
        self.opened = opened
        self.wanted = wanted
        self.number = number
        self.good: _Good | None = None
        self.files: tuple[str, ...] = ()
        self.layouts = Layouts()

    def made(self) -> Made:
        """The page of the files as they are now."""
        began = time.monotonic()
        self.number += 1
        drawn = "drawn again" if self.good else "drawn"
        show: Show | None = None
        try:
            show = self.opened()
            self.files = tuple(sorted({*self.files, *_files(show)}))
            note = self._renewed(show)
        except Exception as fault:  # a preview outlives whatever a half-written rig brings about
            note = f"no new drawing: {_words(fault)}" if show else _words(fault)
        page, said = self._shown(show, note, drawn)
        return Made(self.number, page, f"{said} ({time.monotonic() - began:.1f} s)", self.files)

    @property
    def script(self) -> str:
        """The script that turns to the next page when there is one."""
        return f"const SEEN = {self.number};\n{_live()}"

    def _renewed(self, show: Show) -> str:
        """Draw the show, if it is whole; what there is to say of that. What could not be drawn leaves all as it was."""
        broken = next((finding for finding in show.rig.findings if finding.rule in UNREAD), None)
        if broken is not None:
            return _where(broken)
        wanted = self.wanted(show)
        self.layouts.turn()
        drawings, notes = self._drawn(show, wanted)
        self.good = _Good(show, wanted, drawings)
        return "; ".join(dict.fromkeys(notes))

    def _drawn(self, show: Show, wanted: Wanted) -> tuple[Mapping[str, Drawing], list[str]]:
        """Every view that has something of what is wanted; the others are said."""
        drawings: dict[str, Drawing] = {}
        notes: list[str] = []
        for view in (*VIEWS, *sorted(show.packs.views)):
            try:
                drawings[view] = show.draw(replace(wanted, view=view), layouts=self.layouts)
            except (EmptyPartError, PackError) as trouble:
                notes.append(str(trouble.args[0]))
            else:
                notes += drawings[view].notes
        if not drawings:
            raise EmptyPartError("nothing of that is on any drawing")
        return drawings, notes

    def _shown(self, show: Show | None, note: str, drawn: str) -> tuple[bytes, str]:
        """The page, and the line for the terminal."""
        last = self.good.show if self.good else None
        for told in [there for there in (show, last) if there is not None]:
            try:
                return self._page(told, show, note), _said(show, note, drawn if last is show else "")
            except Exception as fault:
                show, note = None, _words(fault)
        return _bare(note, self.script), note

    def _page(self, told: Show, show: Show | None, note: str) -> bytes:
        good = self.good
        if good is None:
            return told.page({}, note=note, script=self.script)
        if good.show is not show:
            note += f"; the drawings are of the last text that could be {'drawn' if _whole(show) else 'read'}"
        of = None if good.show is told else good.show
        return told.page(good.drawings, good.wanted, of=of, note=note, script=self.script)


def _files(show: Show) -> set[str]:
    """The files that a show is of, and those that it names and that are not there yet."""
    awaited = [finding for finding in show.rig.findings if finding.rule in AWAITED]
    named = {beside(finding.place.source.path, finding.subject) for finding in awaited}
    return {*(source.path for source in show.sources), *named}


def _whole(show: Show | None) -> bool:
    return show is not None and not any(finding.rule in UNREAD for finding in show.rig.findings)


def _where(finding: Finding) -> str:
    span = finding.place
    return f"{span.source.path}:{span.from_position[0]}: {finding.message}"


def _words(fault: Exception) -> str:
    """What went wrong, on one line."""
    text = fault.args[0] if isinstance(fault, (DrawError, LookupError)) and fault.args else fault
    return " ".join(str(text).split()) or type(fault).__name__


def _said(show: Show | None, note: str, drawn: str) -> str:
    """The line for the terminal."""
    if show is None:
        return note
    levels = [finding.level for finding in show.findings()]
    found = counted([(levels.count(level), str(level)) for level in (Level.ERROR, Level.WARNING, Level.NOTE)])
    return f"{'; '.join(filter(None, (drawn, note)))}: {found or 'nothing found'}"


def _bare(said: str, script: str) -> bytes:
    """A page of nothing but what went wrong, before there ever was a drawing."""
    text = f"<!DOCTYPE html><html lang='en'><meta charset='utf-8'><title>no drawing</title><p>{escape(said)}</p>"
    return f"{text}<script>{script}</script></html>".encode("utf-8", "replace")


@cache
def _live() -> str:
    return (files("rigdsl.preview") / "live.js").read_text("utf-8").strip()
