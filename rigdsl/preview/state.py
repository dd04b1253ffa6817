"""What the preview shows: the page of now, or, while a file is broken, the last good drawing with what is found now."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib.resources import files

from rigdsl.draw import DrawError, Wanted
from rigdsl.finding import Finding, Level
from rigdsl.reports.report import counted
from rigdsl.show import Drawing, Show

__all__ = ["Made", "Maker"]

UNREAD = ("syntax-error", "file-missing", "file-loop", "unreadable-file", "outside-project")


@dataclass(frozen=True)
class Made:
    """A state of the page: how many there were, the page itself, one line for the terminal, the files it is of."""

    number: int
    page: bytes
    said: str
    files: tuple[str, ...]


class Maker:
    """Makes page after page, and keeps the last show that was whole with its drawings.

    `opened` reads the rig anew; whatever goes wrong there or while drawing is a note on the page, and never the end.
    """

    def __init__(self, opened: Callable[[], Show], views: tuple[str, ...], wanted: Callable[[Show], Wanted]) -> None:
        self.opened = opened
        self.views = views
        self.wanted = wanted
        self.number = 0
        self.good: tuple[Show, Mapping[str, Drawing]] | None = None
        self.files: tuple[str, ...] = ()

    def made(self) -> Made:
        """The page of the files as they are now."""
        began = time.monotonic()
        self.number += 1
        try:
            page, said = self._page()
        except Exception as fault:  # a preview outlives whatever a half-written rig brings about
            said = " ".join(str(fault).split()) or type(fault).__name__
            page = _bare(said, self.script)
        return Made(self.number, page, f"{said} ({time.monotonic() - began:.1f} s)", self.files)

    @property
    def script(self) -> str:
        """The script that turns to the next page when there is one."""
        return f"const SEEN = {self.number};\n{_live()}"

    def _page(self) -> tuple[bytes, str]:
        show = self.opened()
        self.files = tuple(sorted({*self.files, *(source.path for source in show.sources)}))
        broken = _broken(show)
        note = ""
        if broken is None:
            try:
                wanted = self.wanted(show)
                self.good = (show, self._drawn(show, wanted))
            except (DrawError, LookupError) as trouble:
                note = f"no new drawing: {trouble.args[0]}"
        else:
            note = _where(broken)
        if self.good is None:
            return show.page({}, note=note, script=self.script), _said(show, note, first=self.number == 1)
        good, drawings = self.good
        old = None if good is show else good
        if old is not None:
            note += "; the drawings are of the last text that could be read"
        return show.page(drawings, self.wanted(good), of=old, note=note, script=self.script), _said(
            show, note, first=self.number == 1
        )

    def _drawn(self, show: Show, wanted: Wanted) -> Mapping[str, Drawing]:
        return {view: show.draw(_viewed(wanted, view)) for view in self.views}


def _viewed(wanted: Wanted, view: str) -> Wanted:
    return Wanted(view, wanted.choice, wanted.paper, wanted.theme, wanted.revision)


def _broken(show: Show) -> Finding | None:
    """What keeps a file from being read whole, if anything does."""
    return next((finding for finding in show.rig.findings if finding.rule in UNREAD), None)


def _where(finding: Finding) -> str:
    span = finding.place
    return f"{span.source.path}:{span.from_position[0]}: {finding.message}"


def _said(show: Show, note: str, *, first: bool) -> str:
    """The line for the terminal."""
    levels = [finding.level for finding in show.findings()]
    found = counted([(levels.count(level), str(level)) for level in (Level.ERROR, Level.WARNING, Level.NOTE)])
    drawn = note or ("drawn" if first else "drawn again")
    return f"{drawn}: {found or 'nothing found'}"


def _bare(said: str, script: str) -> bytes:
    """A page of nothing but what went wrong, before there ever was a drawing."""
    text = f"<!DOCTYPE html><html lang='en'><meta charset='utf-8'><title>no drawing</title><p>{escape(said)}</p>"
    return f"{text}<script>{script}</script></html>".encode("utf-8", "replace")


@cache
def _live() -> str:
    return (files("rigdsl.preview") / "live.js").read_text("utf-8").strip()
