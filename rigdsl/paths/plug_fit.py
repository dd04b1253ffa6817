"""Plugs and sockets: which fit each other, and which plug of a cable goes to which end.

A connector is a word: `xlr-f`, `jack`. Behind the hyphen stands what it is where the two sides differ: female or male.
"""

from __future__ import annotations

from collections.abc import Sequence

from rigdsl.rig import Cable

__all__ = ["Ends", "Options", "fits", "orientations", "turned", "wrong_at"]

# Plug and socket of these differ, and nobody calls them female and male.
NO_GENDER = ("rj45", "lc", "bnc")
GENDERS = ("f", "m")
OTHER = {"f": "m", "m": "f"}

Options = tuple[str, ...]  # plugs of which a cable has one at an end; none: nobody knows which
Ends = tuple[Options, Options]


def _parts(connector: str) -> tuple[str, str]:
    """What it is, and its gender or nothing."""
    base, _, gender = connector.rpartition("-")
    if not base or gender not in GENDERS:
        return connector, ""
    return base, "" if base in NO_GENDER else gender


def fits(plug: str, socket: str) -> bool:
    """Whether a plug goes into a socket: of one kind, and female into male where both say which they are."""
    (kind, plug_gender), (socket_kind, socket_gender) = _parts(plug), _parts(socket)
    return kind == socket_kind and (not plug_gender or not socket_gender or plug_gender != socket_gender)


def turned(plug: str, socket: str) -> bool:
    """Whether plug and socket are of one kind, and only their genders are alike."""
    return _parts(plug)[0] == _parts(socket)[0] and not fits(plug, socket)


def orientations(cable: Cable) -> tuple[Ends, ...]:
    """How a cable may lie: its plugs at the two ends, either way round.

    One word names both ends, but one end alone where it is female or male. Where it has more than two, any may be
    at either end. `tails` without a connector end in plugs that nobody named.
    """
    words = (*cable.connectors, *cable.ends)
    if not words:
        return ()
    if len(words) > 2:
        return ((words, words),)
    first: Options = words[:1]
    second: Options = words[1:]
    if not second and cable.tails_m is None and not _parts(words[0])[1]:
        second = first
    return ((first, second),) if first == second else ((first, second), (second, first))


def wrong_at(plugs: Options, sockets: Sequence[str]) -> tuple[str, str] | None:
    """The plug and the socket that do not fit; nothing where one of each does, or where nobody says what they are."""
    if not plugs or not sockets or any(fits(plug, socket) for plug in plugs for socket in sockets):
        return None
    alike = ((plug, socket) for plug in plugs for socket in sockets if turned(plug, socket))
    return next(alike, (plugs[0], sockets[0]))
