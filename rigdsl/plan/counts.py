"""How much fits: channels over a way, boxes of one kind behind one port of a desk, ports that take one."""

from __future__ import annotations

from dataclasses import dataclass

from rigdsl.paths import Paths
from rigdsl.plan.bench import BOX, DESK, Join, bench
from rigdsl.plan.ways import Way
from rigdsl.rig import Model, Port, Rig

__all__ = ["Room", "channels_each_way", "room"]

LONGEST_CHAIN = 32


@dataclass(frozen=True)
class Room:
    """What one port of a desk takes of one kind of box.

    `short` has the rates at which not even one box fits whole: channels that it has, and that get through.
    `boxes` is how many stand in a chain behind one port (1: no chain; 0: not even one fits), `full` whether it is
    the channels that take no more; `ports` how many such ports the desk has.
    """

    short: tuple[tuple[int, int, int], ...]
    boxes: int
    full: bool
    ports: int


def channels_each_way(gear: Rig, way: Way) -> dict[int, int]:
    """What the protocol carries each way, rate by rate; nothing where no protocol is named."""
    protocol = gear.protocols.get(way.protocol)
    found = {rate: protocol.channels_at(rate) for rate in way.rates_hz} if protocol else {}
    return {rate: channels for rate, channels in found.items() if channels is not None}


def room(gear: Rig, desk: Model, box: Model, way: Way) -> Room:
    """Try one box, then two in a row, and so on, until the next one does not fit."""
    fixed = way.protocol in gear.protocols and gear.protocols[way.protocol].slots == "fixed"
    most = max(_count(box, "inputs") if way.sound else 0, _count(box, "outputs") if way.back else 0)
    short = tuple((rate, most, fits) for rate, fits in channels_each_way(gear, way).items() if most > fits)
    ports = _ports(desk, way)
    if short and short[0][0] == way.rates_hz[0]:
        return Room(short, 0 if fixed else 1, True, ports)
    row, full = 1, False
    while row < LONGEST_CHAIN:
        joins = _row(box, way, row + 1)
        if not joins:
            break
        names = [_name(number) for number in range(1, row + 2)]
        paths = bench(gear, {DESK: desk, **dict.fromkeys(names, box)}, joins, way.rates_hz[0])
        full = _too_full(paths)
        if paths.misfits or full:
            break
        row += 1
    return Room(short, row, full, ports)


def _count(box: Model, role: str) -> int:
    return sum(group.count for group in box.of_role(role) if not group.wireless)


def _name(number: int) -> str:
    return f"{BOX}{number}"


def _row(box: Model, way: Way, length: int) -> list[Join]:
    """The cables of a row of boxes; none where the box has no second chain port."""
    near, far = _chain_ports(box, way)
    if near is None or far is None:
        return []
    behind = [
        (near._replace(box=_name(number)), far._replace(box=_name(number - 1))) for number in range(2, length + 1)
    ]
    return [(near._replace(box=_name(1)), way.joins[0][1]), *behind]


def _chain_ports(box: Model, way: Way) -> tuple[Port | None, Port | None]:
    """The port towards the desk, and the one that carries on what comes behind."""
    every = [
        Port(BOX, group.name, number)
        for group in box.of_role("digital")
        if group.chain and (not group.protocols or way.protocol in group.protocols)
        for number in ((0,) if group.count == 1 else (1, 2))
    ]
    near = next((port for port in every if box.groups[port.group].chain != "far"), None)
    far = next((port for port in every if port != near and box.groups[port.group].chain != "near"), None)
    return near, far


def _too_full(paths: Paths) -> bool:
    loads = [load for run in paths.runs for load in paths.load_of(run)]
    return any(load.limit is not None and load.channels > load.limit for load in loads)


def _ports(desk: Model, way: Way) -> int:
    """The ports of a desk that take a line of this way; the two halves of a redundant pair are one."""
    found = 0
    paired: set[int] = set()
    names = {join[1].group for join in way.joins if desk.groups[join[1].group].direction != "sends"}
    for name in sorted(names):
        group = desk.groups[name]
        if group.net == "secondary" or (group.redundant and group.line in paired):
            continue
        paired |= {group.line} if group.redundant else set()
        found += 1 if group.redundant else group.count
    return max(found, 1)
