"""Runs: cables joined by passive panels, from one working port to another, with what keeps them from working."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rigdsl.paths.model import Piece, Run
from rigdsl.paths.verdict import Ends, Length, judge
from rigdsl.paths.wiring import Wiring
from rigdsl.rig import Port, natural

__all__ = ["find_runs", "run_name", "runs_by_port"]

LONGEST_RUN = 1000
# Two plugs in one panel socket fork a run, and forks in a row would multiply: so many ways from one port are enough.
MOST_WAYS = 64


def find_runs(wiring: Wiring) -> tuple[Run, ...]:
    """All runs with a digital or data port at an end, in natural order."""
    found: dict[frozenset[tuple[str, frozenset[Port]]], Run] = {}
    for start in _starts(wiring):
        for pieces, end in _followed(wiring, start):
            key = frozenset((piece.link.name, frozenset((piece.left, piece.right))) for piece in pieces)
            if key not in found:
                found[key] = _run(wiring, pieces, start, end)
    return tuple(sorted(found.values(), key=lambda run: run.key))


def run_name(pieces: tuple[Piece, ...]) -> str:
    """Its links in natural order: `C01+C02+C03`."""
    return "+".join(sorted({piece.link.name for piece in pieces}, key=natural))


def runs_by_port(runs: tuple[Run, ...]) -> Mapping[Port, tuple[Run, ...]]:
    """Runs by the ports at their ends."""
    found: dict[Port, list[Run]] = {}
    for run in runs:
        for port in run.ends:
            found.setdefault(port, []).append(run)
    return {port: tuple(at) for port, at in found.items()}


def _starts(wiring: Wiring) -> Iterator[Port]:
    """Ends that work: digital and data ports without a pass, and analogue sockets that are joined to one."""
    for port, pieces in wiring.pieces.items():
        role = wiring.rig.group(port).role
        if role in ("digital", "data"):
            if not is_passive(wiring, port):
                yield port
        elif not is_passive(wiring, port) and any(
            wiring.rig.group(piece.right).role in ("digital", "data") for piece in pieces
        ):
            yield port


def is_passive(wiring: Wiring, port: Port) -> bool:
    """A socket of a panel: what arrives goes on to its other side."""
    return next(_beyond(wiring, port), None) is not None


def _beyond(wiring: Wiring, port: Port) -> Iterator[Port]:
    """The other side of a passive pass; wire has no direction."""
    for step in (wiring.onward(port), wiring.back(port)):
        for other, one in step:
            if one.passive:
                yield other


def _followed(wiring: Wiring, start: Port) -> Iterator[tuple[tuple[Piece, ...], Port]]:
    """Every way from a port over cables and passive passes to the port that ends it."""
    waiting: list[tuple[tuple[Piece, ...], Port]] = [
        ((piece,), piece.right)
        for piece in wiring.pieces[start]
        if "digital" in (roles := _roles(wiring, piece)) or "data" in roles
    ]
    ways = 0
    while waiting and ways < MOST_WAYS:
        pieces, port = waiting.pop()
        beyond = list(dict.fromkeys(_beyond(wiring, port)))
        links = {piece.link.name for piece in pieces}
        onward = [
            ((*pieces, piece), piece.right)
            for other in beyond
            for piece in wiring.pieces.get(other, ())
            if piece.link.name not in links or all(piece.left not in (p.left, p.right) for p in pieces)
        ]
        if onward and len(pieces) < LONGEST_RUN:
            waiting += onward
        else:
            ways += 1
            yield pieces, port


def _roles(wiring: Wiring, piece: Piece) -> tuple[str, str]:
    return wiring.rig.group(piece.left).role, wiring.rig.group(piece.right).role


def _is_open(wiring: Wiring, port: Port) -> bool:
    """The loose side of a panel for digital lines; a loose analogue line is simply the wrong thing to be joined to."""
    return wiring.rig.group(port).role in ("digital", "data") and is_passive(wiring, port)


def _run(wiring: Wiring, pieces: tuple[Piece, ...], start: Port, end: Port) -> Run:
    if end.key < start.key:
        pieces, start, end = tuple(piece.turned for piece in reversed(pieces)), end, start
    lengths = [piece.link.lead.length_m if piece.link.lead else None for piece in pieces]
    known = sum(length for length in lengths if length is not None)
    open_end = any(_is_open(wiring, port) for port in (start, end))
    ends = Ends.of(wiring.rig, start, end, pieces)
    verdict = judge(wiring.rig, ends, pieces, Length(known, None not in lengths))
    return Run(
        name=run_name(pieces),
        pieces=pieces,
        ends=(start, end),
        length_m=known if None not in lengths else None,
        known_m=known,
        protocols=verdict.protocols,
        protocol=verdict.protocol,
        rate_hz=ends.rate_hz,
        faults=() if open_end else verdict.faults,
        reach_m=verdict.reach_m,
        open=open_end,
        data=ends.data,
    )
