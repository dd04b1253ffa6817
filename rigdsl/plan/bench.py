"""A desk and a box side by side on a bench: a rig of two or three boxes, to ask its paths whether they work together.

What is said of a pair of models comes from the same paths that rules judge a whole rig by.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from rigdsl.paths import Paths
from rigdsl.rig import Box, Control, Group, Head, Link, Model, Patch, Port, Rig
from rigdsl.rig.things import FROM_MODEL
from rigdsl.text import Source, Span

__all__ = ["BOX", "DESK", "SWITCH", "Join", "bench", "first", "hub", "line_in", "line_out", "sockets"]

# In natural order, so that a run's left end is the box.
BOX, DESK, SWITCH = "BOX", "DESK", "SWITCH"

Join = tuple[Port, Port]

NOWHERE = Span(Source("", ""), 0, 0)


def bench(
    gear: Rig,
    models: Mapping[str, Model],
    joins: Iterable[Join],
    rate_hz: int,
    *,
    feeds: Iterable[Join] = (),
    owned: Iterable[Port] = (),
) -> Paths:
    """The paths of a rig of these boxes, by name, joined by cables that nobody asks the kind or length of.

    `feeds` are patches, from socket to socket; `owned` are preamps that a `control` line gives to the desk.
    """
    links = {
        (name := f"C{number:02}"): Link(name, name, (join,), None, NOWHERE) for number, join in enumerate(joins, 1)
    }
    patches = tuple(Patch(f"{left} -> {right}", ((left, right),), NOWHERE) for left, right in feeds)
    ports = tuple(owned)
    return Paths(
        replace(
            gear,
            head=Head(rate_hz=rate_hz),
            boxes={name: _stood(name, model) for name, model in models.items()},
            links=links,
            patches=patches,
            controls=(Control(ports, DESK, NOWHERE),) if ports else (),
            incomplete=frozenset(),
            left_out=frozenset(),
            findings=(),
        )
    )


def _stood(name: str, model: Model) -> Box:
    return Box(name, "", model, "", NOWHERE, **{fact: getattr(model, fact) for fact in FROM_MODEL})


def first(box: str, group: Group) -> Port:
    """The first socket of a group."""
    return Port(box, group.name, 0 if group.count == 1 else 1)


def sockets(box: str, model: Model, *roles: str) -> list[Port]:
    """The first socket of each group of these roles, of those that take a cable."""
    return [first(box, group) for group in model.of_role(*roles) if not group.soft]


def line_in(desk: Model) -> Port:
    """Where a desk takes sound: its first channel; where its entry in the catalogue names none, one is made up."""
    return next((first(DESK, group) for group in desk.of_role("channels")), Port(DESK, "channel", 1))


def line_out(desk: Model) -> Port | None:
    """Where a desk sends sound from: its first mix, else a direct out of its first channel."""
    return next((first(DESK, group) for group in (*desk.of_role("mixes"), *desk.of_role("channels"))), None)


def hub(ports: int) -> Model:
    """A switch with so many ports."""
    group = Group(name="port", role="digital", count=max(ports, 2), place=NOWHERE)
    return Model("switch", "", NOWHERE, "switch", {"port": group})
