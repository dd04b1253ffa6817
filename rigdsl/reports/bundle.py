"""The signals that go over one cable, or through one box, in short: how many, and from where to where."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigdsl.paths.model import Path
from rigdsl.reports.look import Look
from rigdsl.reports.report import counted
from rigdsl.rig import Leg, Port, natural, ports_text

__all__ = ["bundled"]

STOPS = "stops at"
Ends = tuple[Port | Leg, Port | Leg]


def bundled(subject: str, kind: str, paths: Sequence[Path], look: Look) -> Iterator[str]:
    """Of two signals or more: how many, then a line for each row of neighbours: "SL.mic 1-8 -> DESK.ch 1-8"."""
    stopped = sum(not path.complete for path in paths)
    lost = f", {stopped} of them {'stops' if stopped == 1 else 'stop'}" if stopped else ""
    way = "over" if kind == "cable" else "through"
    yield look.paint(look.text(f"{counted([(len(paths), 'signal')])} go {way} {subject}{lost}"), "bold")
    rows = list(_rows(sorted(paths, key=_order)))
    sides = [tuple(ports_text(side) for side in zip(*map(_ends, row), strict=True)) for row in rows]
    wide = [max(len(side[at]) for side in sides) for at in (0, 1)]
    verbs = ["->" if row[0].complete else STOPS for row in rows]
    room = max(map(len, verbs))
    for (left, right), verb, row in zip(sides, verbs, rows, strict=True):
        names = dict.fromkeys(str(end) for path in row for end in (path.start, path.end) if isinstance(end, Leg))
        line = f"  {left.ljust(wide[0])}  {verb.ljust(room)}  {right.ljust(wide[1])}  {', '.join(names)}"
        yield look.text(line.rstrip())


def _ends(path: Path) -> Ends:
    """The first and the last socket of a path: a source's or output's own, where it has one."""
    first, last = (path.hops[0].right, path.hops[-1].left) if path.hops else (path.start, path.end)
    start = first if isinstance(path.start, Leg) else path.start
    return start, last if isinstance(path.end, Leg) else path.end


def _order(path: Path) -> tuple[object, ...]:
    return tuple(end.key if isinstance(end, Port) else (natural(end.name), natural(""), 0) for end in _ends(path))


def _rows(paths: Sequence[Path]) -> Iterator[list[Path]]:
    """The paths in their order, neighbours on both sides together."""
    row: list[Path] = []
    for path in paths:
        if row and not _next(row[-1], path):
            yield row
            row = []
        row.append(path)
    if row:
        yield row


def _next(one: Path, other: Path) -> bool:
    """Whether the other follows the one: the next socket of the same group at both ends."""
    pairs = zip(_ends(one), _ends(other), strict=True)
    return one.complete == other.complete and all(_beside(left, right) for left, right in pairs)


def _beside(one: Port | Leg, other: Port | Leg) -> bool:
    if not isinstance(one, Port) or not isinstance(other, Port):
        return False
    return one[:2] == other[:2] and other.number == one.number + 1
