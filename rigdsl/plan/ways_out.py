"""What would bring a desk and a box together that do not get on: option cards in their slots, a bridge between."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from rigdsl.plan.bench import BOX, DESK, bench, line_in, line_out, sockets
from rigdsl.plan.ways import Joined, has_remote_gain, ways_between
from rigdsl.rig import Group, Model, Port, Rig, natural

__all__ = ["Bridged", "Carded", "bridged", "carded"]

BETWEEN = "BRIDGE"


@dataclass(frozen=True)
class Carded:
    """Cards that bring a desk and a box together, each with its slot: (card, slot, whether in the desk)."""

    cards: tuple[tuple[str, str, bool], ...]
    joined: Joined


@dataclass(frozen=True)
class Bridged:
    """A bridge between a desk and a box: what it speaks on either side, how many channels pass, and who sets gain."""

    bridge: str
    to_box: str
    to_desk: str
    channels: int | None
    back: bool | None
    control: bool | None


def carded(gear: Rig, desk: Model, box: Model, rate_hz: int | None, *, gain: bool) -> tuple[Carded, ...]:
    """The cards of the gear that bring sound (or, where sound passes already, `gain`); one where one will do."""
    found: dict[bool, list[Carded]] = {False: [], True: []}
    for desk_cards, desk_model in _fitted(gear, desk, in_desk=True):
        for box_cards, box_model in _fitted(gear, box, in_desk=False):
            cards = (*desk_cards, *box_cards)
            if not cards:
                continue
            joined = ways_between(gear, desk_model, box_model, rate_hz)
            if joined.passes and not (gain and joined.ways[0].control is not True):
                found[len(cards) > 1].append(Carded(cards, joined))
    return tuple(found[False] or found[True])


def _fitted(gear: Rig, model: Model, *, in_desk: bool) -> Iterator[tuple[tuple[tuple[str, str, bool], ...], Model]]:
    """The model as it comes, then with each card that fits a slot of it."""
    yield (), model
    for slot in model.slots.values():
        for card in sorted(gear.models.values(), key=lambda one: natural(one.name)):
            if card.name in slot.takes or set(card.fits) & set(slot.takes):
                groups = dict(_groups(card))
                yield ((card.name, slot.name, in_desk),), replace(model, groups={**model.groups, **groups})


def _groups(card: Model) -> Iterator[tuple[str, Group]]:
    """The sockets of a card, by names that no group of its host has; rows of the two stay apart."""
    for group in card.groups.values():
        name = f"{card.name}/{group.name}"
        yield name, replace(group, name=name, line=-1 - group.line)


def bridged(gear: Rig, desk: Model, box: Model, rate_hz: int) -> tuple[Bridged, ...]:
    """The bridges of the gear over which sound passes between the two."""
    found: list[Bridged] = []
    for name in sorted(gear.models, key=natural):
        bridge = gear.models[name]
        if bridge.bridges:
            found += _over(gear, desk, box, bridge, rate_hz)
    return tuple(found)


def _over(gear: Rig, desk: Model, box: Model, bridge: Model, rate_hz: int) -> Iterator[Bridged]:
    joins = [(one, other) for one in sockets(BOX, box, "digital") for other in sockets(BETWEEN, bridge, "digital")]
    joins += [(one, other) for one in sockets(BETWEEN, bridge, "digital") for other in sockets(DESK, desk, "digital")]
    remote = [Port(BOX, group.name, int(group.count > 1)) for group in box.of_role("inputs") if group.remote_gain]
    models = {BOX: box, BETWEEN: bridge, DESK: desk}
    feeds = [(port, line_in(desk)) for port in remote]
    paths = bench(gear, models, joins, rate_hz, feeds=feeds, owned=remote if desk.kind == "computer" else ())
    inputs, outputs, mix = sockets(BOX, box, "inputs"), sockets(BOX, box, "outputs"), line_out(desk)
    back = paths.route(mix, outputs[0]) if outputs and mix else None
    way = paths.route(inputs[0], line_in(desk)) if inputs else back
    if way is None or not way.works:
        return
    spoken = [step.protocol or "" for step in way.steps if step.run is not None]
    to_box, to_desk = spoken if inputs else spoken[::-1]
    passed = {step.left.group for step in way.steps if step.by == "bridge"}
    limits = [one.channels for one in bridge.bridges if passed & {one.left, one.right}]
    control = not any(gain.cut for gain in paths.gains) if has_remote_gain(box) else None
    yield Bridged(bridge.name, to_box, to_desk, next(iter(limits), None), back.works if back else None, control)
