"""The ways to join a desk and a box: by which protocol sound passes, which way, at which rates, and who sets gain."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from rigdsl.paths import Fault, Paths
from rigdsl.plan.bench import BOX, DESK, SWITCH, Join, bench, first, hub, line_in, line_out, sockets
from rigdsl.rig import Model, Port, Rig

__all__ = ["DESKS", "STAGE_BOXES", "Joined", "Way", "has_remote_gain", "ways_between"]

DESKS = ("console", "engine", "computer")
STAGE_BOXES = ("stage-box",)
HOUSE_RATE_HZ = 48_000

Aside = Literal["", "line", "jack", "switch"]


@dataclass(frozen=True)
class Way:
    """A protocol by which sound passes, or nothing where an end does not say what it speaks.

    `joins` have the box's socket first. `sound`: the box is heard at the desk; `back`: the desk is heard at the
    box; None: there is nothing to send. `control`: the desk sets gain and phantom; None: nothing is set from
    afar. `aside`: it does so over another line, over the jacks for remote control, or through a switch.
    """

    protocol: str
    joins: tuple[Join, ...]
    rates_hz: tuple[int, ...]
    sound: bool | None
    back: bool | None
    control: bool | None
    aside: Aside = ""


@dataclass(frozen=True)
class Joined:
    """All ways of a pair, best first, and what keeps the other joints from passing sound."""

    ways: tuple[Way, ...]
    faults: tuple[tuple[Join, Fault], ...]

    @property
    def passes(self) -> bool:
        """Sound passes: what comes in at the box is heard, or, of a box of outputs only, what goes out there."""
        return any(way.back if way.sound is None else way.sound for way in self.ways)


def has_remote_gain(box: Model) -> bool:
    """Whether a box has preamps that are set from elsewhere."""
    return any(group.remote_gain for group in box.of_role("inputs"))


def ways_between(gear: Rig, desk: Model, box: Model, rate_hz: int | None = None) -> Joined:
    """Try every joint of a digital port of the one with one of the other, at every rate, or only at the one asked for.

    The first rate of a way is that of the house, 48 kHz, where it works at that.
    """
    models = {BOX: box, DESK: desk}
    joins = [(one, other) for one in sockets(BOX, box, "digital") for other in sockets(DESK, desk, "digital")]
    found: dict[str, dict[int, list[Join]]] = {}
    faults: dict[Join, Fault] = {}
    for rate in (rate_hz,) if rate_hz else _rates(gear, desk, box):
        for run in bench(gear, models, joins, rate).runs:
            join = run.ends[0], run.ends[1]
            if run.faults:
                faults.setdefault(join, run.faults[0])
            for protocol in (run.protocols or ("",)) if run.works else ():
                found.setdefault(protocol, {}).setdefault(rate, []).append(join)
    every = {rate: [join for by_rate in found.values() for join in by_rate.get(rate, ())] for rate in _known(found)}
    ways = [_way(gear, models, protocol, by_rate, every) for protocol, by_rate in found.items()]
    ordered = sorted((way for way in ways if way.sound or way.back), key=lambda way: _merit(gear, way))
    return Joined(tuple(ordered), tuple(faults.items()))


def _known(found: Mapping[str, Mapping[int, list[Join]]]) -> list[int]:
    return list(dict.fromkeys(rate for by_rate in found.values() for rate in by_rate))


def _rates(gear: Rig, desk: Model, box: Model) -> Sequence[int]:
    """Every rate that one of their protocols or ports names; that of the house first."""
    groups = (*desk.of_role("digital"), *box.of_role("digital"))
    rates = {rate for group in groups for name in group.protocols for rate in gear.protocols[name].capacity}
    rates |= {rate for rate in (desk.rate_hz, box.rate_hz, *(group.rate_hz for group in groups)) if rate}
    return sorted(rates | {HOUSE_RATE_HZ}, key=lambda rate: (rate != HOUSE_RATE_HZ, rate))


def _merit(gear: Rig, way: Way) -> tuple[object, ...]:
    """What is best: gain moves, sound goes both ways, many channels."""
    protocol = gear.protocols.get(way.protocol)
    channels = protocol.channels_at(way.rates_hz[0]) if protocol else None
    heard = way.back if way.sound is None else way.sound
    return not heard, way.control is False, way.back is False, bool(way.aside), -(channels or 0), way.protocol


def _way(
    gear: Rig,
    models: Mapping[str, Model],
    protocol: str,
    by_rate: Mapping[int, list[Join]],
    every: Mapping[int, list[Join]],
) -> Way:
    """`by_rate` has the joints that work by this protocol, rate by rate; `every` those that work by any."""
    heard: dict[tuple[Join, ...], tuple[bool | None, bool | None]] = {}
    for joins in map(tuple, by_rate.values()):
        if joins not in heard:
            heard[joins] = _heard(gear, models, joins, next(iter(by_rate)))
    full = max(heard.values(), key=lambda sounds: [bool(one) for one in sounds])
    rates = tuple(rate for rate, joins in by_rate.items() if heard[tuple(joins)] == full)
    joins = tuple(by_rate[rates[0]])
    control, aside = _control(gear, models, joins, every[rates[0]], rates[0]) if full[0] else (None, "")
    if full[0] is False and has_remote_gain(models[BOX]):
        control = False
    return Way(protocol, joins, rates, full[0], full[1], control, aside)


def _heard(
    gear: Rig, models: Mapping[str, Model], joins: Iterable[Join], rate_hz: int
) -> tuple[bool | None, bool | None]:
    """Whether the box is heard at the desk, and the desk at the box."""
    paths = bench(gear, models, joins, rate_hz)
    inputs, outputs = sockets(BOX, models[BOX], "inputs"), sockets(BOX, models[BOX], "outputs")
    mix = line_out(models[DESK])
    sound = paths.route(inputs[0], line_in(models[DESK])).works if inputs else None
    back = paths.route(mix, outputs[0]).works if outputs and mix else None
    return sound, back


def _control(
    gear: Rig, models: Mapping[str, Model], joins: tuple[Join, ...], every: Iterable[Join], rate_hz: int
) -> tuple[bool | None, Aside]:
    """Whether the desk sets the box's remote preamps, and whether that takes more than the cable of the sound."""
    box, desk = models[BOX], models[DESK]
    if not has_remote_gain(box):
        return None, ""
    lines = dict.fromkeys((*joins, *every))
    switched, switch = _switched(gear, models, joins)
    tries: tuple[tuple[Aside, Iterable[Join], Mapping[str, Model]], ...] = (
        ("", joins, models),
        ("jack", (*joins, *_data_joins(box, desk)), models),
        ("line", lines, models),
        ("switch", switched, {**models, SWITCH: switch}),
    )
    for aside, tried, there in tries:
        if _sets(bench(gear, there, tried, rate_hz, feeds=_feeds(box, desk), owned=_owned(box, desk))):
            return True, aside
    return False, ""


def _switched(gear: Rig, models: Mapping[str, Model], joins: Sequence[Join]) -> tuple[list[Join], Model]:
    """All ports that can stand in a switch, plugged into one; the sound goes straight where it cannot go through."""
    ports = [*_talking(gear, BOX, models[BOX]), *_talking(gear, DESK, models[DESK])]
    used = {port for join in joins for port in join}
    straight = [] if used <= set(ports) else list(joins)
    free = [port for port in ports if not straight or port not in used]
    plugged = [(port, Port(SWITCH, "port", number)) for number, port in enumerate(free, 1)]
    return [*straight, *plugged], hub(len(free))


def _feeds(box: Model, desk: Model) -> list[Join]:
    """One remote preamp of each group, patched to the desk."""
    return [(first(BOX, group), line_in(desk)) for group in box.of_role("inputs") if group.remote_gain]


def _owned(box: Model, desk: Model) -> list[Port]:
    """A computer owns gain only where a line says so."""
    return [port for port, _ in _feeds(box, desk)] if desk.kind == "computer" else []


def _sets(paths: Paths) -> bool:
    return bool(paths.gains) and not any(gain.cut for gain in paths.gains)


def _data_joins(box: Model, desk: Model) -> list[Join]:
    """Jacks for remote control of both that share a dialect, both on a cable or both in the air."""
    return [
        (first(BOX, one), first(DESK, other))
        for one in box.of_role("data")
        for other in desk.of_role("data")
        if one.wireless == other.wireless and set(one.dialects) & set(other.dialects)
    ]


def _talking(gear: Rig, name: str, model: Model) -> list[Port]:
    """The ports that can stand in a switch: for remote control, or of a protocol that goes through one."""
    return [
        first(name, group)
        for group in model.of_role("digital", "data")
        if group.role == "data" or any(gear.protocols[one].topology == "network" for one in group.protocols)
    ]
