"""Outboard on drawings: which sockets an insert takes, and which channels and mixes go through it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from rigdsl.draw.words import lead_text
from rigdsl.paths import Paths
from rigdsl.rig import Box, Group, Insert, Port, ports_text

__all__ = ["inserted_rows", "through_rows"]

Words = tuple[tuple[Port, ...], str]


def inserted_rows(paths: Paths, box: Box) -> Iterator[Words]:
    """The sockets of outboard that inserts are plugged into, row by row, each with where it comes from or goes."""
    for group in box.model.groups.values():
        pairs = [(port, insert) for port in box.ports(group) for insert in paths.inserts_through(port)]
        for (_, sent), some in groupby(pairs, key=lambda pair: (pair[1].name, pair[1].send == pair[0])):
            row = list(some)
            lead = lead_text(row[0][1].lead)
            at = ports_text(insert.at for _, insert in row)
            words = f"insert of {at}" + (f", {lead}" if lead else "") if sent else f"back to {at}"
            yield tuple(port for port, _ in row), words


def through_rows(paths: Paths, box: Box, group: Group) -> Iterator[Words]:
    """The channels or mixes of a group that go through outboard, insert by insert, and through what."""
    inserts = [insert for port in box.ports(group) for insert in paths.inserts_at(port)]
    by_line: dict[str, list[Insert]] = {}
    for insert in inserts:
        by_line.setdefault(insert.name, []).append(insert)
    for row in by_line.values():
        yield tuple(insert.at for insert in row), f"through {ports_text(insert.send for insert in row)}"
