"""The lines of `.gitattributes` that rigs need; all others stay as they are."""

from __future__ import annotations

__all__ = ["WANTED", "added", "missing", "ours", "without"]

HEADING = "# Rigs: plain line ends, compared and merged by what things are called (`rigdsl git setup`)."
PATTERN = "*.rig"
WANTED = ("text", "eol=lf", "diff=rigdsl", "merge=rigdsl")


def missing(data: bytes) -> list[str]:
    """The line that a list of attributes lacks, with no more than what no line of it says of every rig."""
    said = {word for line in _lines(data) if line.split()[:1] == [PATTERN] for word in line.split()[1:]}
    lacking = [word for word in WANTED if word not in said]
    return [" ".join((PATTERN, *lacking))] if lacking else []


def added(data: bytes) -> bytes:
    """The list with the line at its end, where it beats those before it."""
    text = _text(data)
    end = "\r\n" if "\r\n" in text else "\n"
    before = text if not text or text.endswith("\n") else text + end
    return "".join([before, *(f"{line}{end}" for line in (HEADING, *missing(data)))]).encode("utf-8", "surrogateescape")


def without(data: bytes) -> tuple[bytes, list[str]]:
    """The list without what `added` put there, and the lines that this were."""
    kept: list[str] = []
    gone: list[str] = []
    after_heading = False
    for line in _text(data).splitlines(keepends=True):
        added_by_us = after_heading and line.split()[:1] == [PATTERN] and set(line.split()[1:]) <= set(WANTED)
        after_heading = line.strip() == HEADING
        if added_by_us:
            gone.append(line.strip())
        elif not after_heading:
            kept.append(line)
    return "".join(kept).encode("utf-8", "surrogateescape"), gone


def ours(data: bytes) -> list[str]:
    """The lines that have git call us."""
    return [line for line in _lines(data) if {"diff=rigdsl", "merge=rigdsl"} & set(line.split()[1:])]


def _text(data: bytes) -> str:
    return data.decode("utf-8", "surrogateescape")


def _lines(data: bytes) -> list[str]:
    return _text(data).splitlines()
