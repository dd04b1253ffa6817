"""The words on drawings: sockets in short, lengths, what a run is called."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from rigdsl.paths import Run
from rigdsl.rig import Box, Lead, Leg, Link, Output, Port, Rig, Source
from rigdsl.rig.port import numbers_text
from rigdsl.rig.units import shown

__all__ = [
    "by_numbers",
    "cable_text",
    "in_order",
    "kind_text",
    "lead_text",
    "leg_title",
    "length_text",
    "run_cables",
    "short",
    "socket_words",
    "type_text",
]

KINDS = {
    "console": "desk",
    "di": "DI",
    "engine": "mixing core",
    "monitor-sender": "in-ear sender",
    "panel": "wall panel",
}
TYPES = {"di": "DI", "active-di": "active DI", "sub": "sub bass", "in-ear": "in-ear"}


def length_text(length_m: float | None) -> str:
    """A length as people write it; what nobody knows is still to be measured."""
    return "length to be measured" if length_m is None else f"{shown(length_m)} m"


def lead_text(lead: Lead | None) -> str:
    """A cable's kind and length: `xlr 10 m`."""
    return "" if lead is None else f"{lead.cable.name} {length_text(lead.length_m)}"


def pieces_count(link: Link) -> int:
    """How many cables a link is: one line each for ordinary ones, a whole loom for a loom."""
    lines = link.lead.cable.lines if link.lead else 1
    return -(-len(link.joins) // max(lines, 1))


def cable_text(link: Link) -> str:
    """What a link is made of: `cat6s 75 m`, `4 x xlr 20 m`, with its loom where it is pulled in one."""
    count = pieces_count(link)
    text = lead_text(link.lead)
    if count > 1:
        text = f"{count} x {text}" if text else f"{count} cables"
    return f"{text}, loom {link.loom}" if link.loom and text else text or (f"loom {link.loom}" if link.loom else "")


def run_cables(run: Run) -> str:
    """The cables of a run: one by its kind and length, several added up."""
    if len(run.links) == 1:
        return cable_text(run.links[0])
    kinds = dict.fromkeys(link.lead.cable.name for link in run.links if link.lead)
    return " ".join(filter(None, ["+".join(kinds), length_text(run.length_m), "in all"]))


def short(port: Port) -> str:
    """A socket within its box: `mic 3`, `A`."""
    return f"{port.group} {port.number}" if port.number else port.group


def in_order(ports: Iterable[Port]) -> list[Port]:
    """Sockets in natural order."""
    return sorted(ports, key=lambda port: port.key)


def by_numbers(ports: Iterable[Port]) -> str:
    """Sockets of one group by their numbers: `7-12`; of a group of one by its name."""
    ports = tuple(ports)
    if len(ports) == 1 and not ports[0].number:
        return ports[0].group
    return numbers_text(port.number for port in ports)


def socket_words(ports: Iterable[Port]) -> str:
    """Sockets of one box, without its name: `tail 1-16, return 1-4`."""
    groups = (tuple(some) for _, some in groupby(dict.fromkeys(ports), key=lambda port: port.group))
    return ", ".join(short(some[0]) if len(some) == 1 else f"{some[0].group} {by_numbers(some)}" for some in groups)


def kind_text(box: Box) -> str:
    """What a box is: the label of its model, else its kind."""
    return box.model.label or KINDS.get(box.kind, box.kind.replace("-", " "))


def type_text(thing: Source | Output) -> str:
    """The type of a source or output."""
    return TYPES.get(thing.type, thing.type)


def leg_title(rig: Rig, leg: Leg) -> str:
    """A line of a source or output by its label, with left and right where it has two that are a pair."""
    thing = rig.thing(leg)
    count = len(thing.ports)
    if count < 2:
        return thing.title
    if count == 2 and not thing.mono:
        return f"{thing.title}, {('left', 'right')[leg.index]}"
    return f"{thing.title}, {leg.index + 1}"
