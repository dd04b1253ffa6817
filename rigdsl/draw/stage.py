"""Zones as they lie on the stage, in rows as lines of print: upstage at the top, the audience's side at the bottom.

Seen from the audience the performer's left is on the right, so x grows to the right and y upwards.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rigdsl.rig import Rig, Zone, natural

__all__ = ["COLUMNS", "Grid", "column_of", "grid"]

# Within a zone boxes stand in columns, left to right as sound mostly goes through them.
COLUMNS = (
    ("sources", "from"),  # and marks where a line comes from another sheet
    ("di", "sub-box", "receiver", "panel", "splitter"),
    ("stage-box", "switch", "bridge", "computer"),
    ("console", "engine", "surface"),
    ("processor", "outboard", "amplifier", "monitor-sender"),
    ("loudspeaker",),
    ("outputs", "on"),  # and marks where it goes on to one
)

ROW_DEPTH_M = 2.5  # zones whose places upstage differ by less stand in one row
MOST_IN_A_ROW = 4  # of zones whose place nobody gave


@dataclass(frozen=True)
class Grid:
    """Rows of zones by name, the top one first; `lean` says for each row how far right it lies, from 0 to 1."""

    rows: tuple[tuple[str, ...], ...]
    lean: tuple[float, ...]

    def place(self, zone: str) -> tuple[int, int]:
        """The row of a zone and its place in it."""
        return next((r, row.index(zone)) for r, row in enumerate(self.rows) if zone in row)


def column_of(kind: str) -> int:
    """Which column of its zone a box of a kind stands in; also for `sources` and `outputs`."""
    return next((index for index, kinds in enumerate(COLUMNS) if kind in kinds), 2)


def grid(rig: Rig, names: Iterable[str]) -> Grid:
    """Where these zones go. Those without coordinates come first, but the desk's own comes last."""
    names = sorted(names, key=natural)
    zones = [rig.zones[name] for name in names if name in rig.zones]
    known = [zone for zone in zones if zone.position_m is not None]
    placed = {zone.name for zone in known}
    loose = [name for name in names if name not in placed]
    desks = {box.zone for box in rig.boxes.values() if box.mixes}
    last = [name for name in loose if name in desks] if not known else []
    first = [name for name in loose if name not in last]
    rows = [*_chunks(first), *_rows(known), *_chunks(last)]
    return Grid(tuple(rows), tuple(_lean(rig, row, known) for row in rows))


def _chunks(names: list[str]) -> list[tuple[str, ...]]:
    return [tuple(names[at : at + MOST_IN_A_ROW]) for at in range(0, len(names), MOST_IN_A_ROW)]


def _at(zone: Zone) -> tuple[float, float]:
    assert zone.position_m is not None
    return zone.position_m[0], zone.position_m[1]


def _rows(zones: list[Zone]) -> list[tuple[str, ...]]:
    """Zones of about one depth side by side, from the performer's right to the left."""
    rows: list[list[Zone]] = []
    for zone in sorted(zones, key=lambda zone: (-_at(zone)[1], natural(zone.name))):
        if rows and _at(rows[-1][0])[1] - _at(zone)[1] < ROW_DEPTH_M:
            rows[-1].append(zone)
        else:
            rows.append([zone])
    return [
        tuple(zone.name for zone in sorted(row, key=lambda zone: (_at(zone)[0], natural(zone.name)))) for row in rows
    ]


def _lean(rig: Rig, row: tuple[str, ...], known: list[Zone]) -> float:
    """The middle of a row among all that is known, 0 at the far left of the sheet."""
    across = [_at(zone)[0] for zone in known]
    here = [_at(rig.zones[name])[0] for name in row if name in {zone.name for zone in known}]
    if not here or max(across) == min(across):
        return 0.5
    return (sum(here) / len(here) - min(across)) / (max(across) - min(across))
