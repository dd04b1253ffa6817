"""What to heed of a desk and a box that do work together: lines, switches, rows of boxes, cable and plugs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigdsl.lint.words import count, ticked, together
from rigdsl.plan.counts import Room
from rigdsl.plan.ways import Way
from rigdsl.plan.ways_out import Bridged, Carded
from rigdsl.rig import Model, Protocol, Rig, shown

__all__ = ["by_bridge", "by_cards", "remarks"]


def remarks(gear: Rig, desk: Model, box: Model, way: Way, fits: Room, names: Iterable[str]) -> Iterator[str]:
    """All there is to say of the best way; `names` are other protocols, by which gain does not move."""
    protocol = gear.protocols.get(way.protocol)
    if not way.protocol:
        yield "what one of them speaks is not written in the gear files: taken to fit"
    yield from _control(way)
    if desk.kind == "computer" and way.control:
        yield "a computer sets gain only where the rig says so: `control BOX.mic 1-8 by COMPUTER`"
    if deaf := list(names):
        yield f"over {together(deaf)} sound passes too, and gain and phantom stay at the box"
    if protocol is not None:
        yield from _protocol(protocol, way)
    yield from _room(way, fits)
    yield from _plugs(desk, box, way, protocol)
    yield from _gain(box, way)
    yield from _engine(gear.models, desk)


def _control(way: Way) -> Iterator[str]:
    if way.aside == "line":
        yield "gain and phantom are set over a second cable: that of the sound carries no control"
    elif way.aside == "jack":
        yield "gain and phantom are set over a second cable, between the jacks for remote control"
    elif way.aside == "switch":
        yield "gain and phantom are set through a switch: put the jacks for remote control of both in it"


def _protocol(protocol: Protocol, way: Way) -> Iterator[str]:
    name = protocol.name
    if protocol.one_way and way.sound and way.back:
        yield f"`{name}` carries one way: it takes two lines, one each way"
    if protocol.topology == "network":
        yield f"`{name}` goes through switches, so several desks and boxes can share one network"
    if protocol.needs_shielded:
        yield f"`{name}` needs shielded cable"


def _room(way: Way, fits: Room) -> Iterator[str]:
    for rate, has, through in fits.short[0 if fits.boxes else 1 :]:
        yield f"at {shown(rate, 1000, 3)} kHz `{way.protocol}` carries {through} of the box's {has} channels"
    if fits.boxes > 1:
        most = (
            f"`{way.protocol}` has too few channels left for {_next(fits)}"
            if fits.full
            else f"`{way.protocol}` takes no more"
        )
        each = f"each of the desk's {fits.ports} ports" if fits.ports > 1 else "the port of the desk"
        yield f"{each} takes {fits.boxes} of these boxes, one behind the other; then {most}"
    elif fits.boxes == 1 and fits.full and way.rates_hz[0] not in {rate for rate, _, _ in fits.short}:
        few = f"`{way.protocol}` has too few channels left for a second"
        yield f"one port of the desk takes one of these boxes: behind it {few}"


def _next(fits: Room) -> str:
    """The box that does not fit any more."""
    return "a third" if fits.boxes == 2 else "one more"


def _plugs(desk: Model, box: Model, way: Way, protocol: Protocol | None) -> Iterator[str]:
    """Sockets that no one cable joins, and cables that the sockets do not take."""
    one, other = (model.groups[port.group].connectors for model, port in zip((box, desk), way.joins[0], strict=True))
    if not one or not other:
        return
    if not set(one) & set(other):
        yield (
            f"the sockets differ, {ticked(one)} at the box and {ticked(other)} at the desk: "
            "a media converter or another port module stands between"
        )
    elif (
        set(one) & set(other) == {"rj45"} and protocol and any(name.startswith(("om", "os")) for name in protocol.reach)
    ):
        yield "the sockets are `rj45`: fibre takes a media converter at both ends"


def _gain(box: Model, way: Way) -> Iterator[str]:
    if way.control is None and any(group.preamp for group in box.of_role("inputs")):
        yield "gain is set by hand at the box: no desk moves it, so nothing has to match there"


def _engine(models: Mapping[str, Model], desk: Model) -> Iterator[str]:
    """An engine is half a desk: somebody's hands are on a surface, and it may have inputs of its own."""
    if desk.kind != "engine":
        return
    own = sum(group.count for group in desk.of_role("inputs") if not group.soft and not group.wireless)
    has = f" with {count(own, 'input')} of its own" if own else ""
    spoken = {name for group in desk.of_role("digital", "data") for name in group.dialects}
    hands = sorted(model.name for model in models.values() if model.kind == "surface" and spoken & _spoken(model))
    by = f"{ticked(hands)} {'steers' if len(hands) == 1 else 'steer'} it" if hands else "no surface here steers it"
    yield f"the desk is an engine, a mixing core{has}: {by}"


def _spoken(model: Model) -> set[str]:
    return {name for group in model.of_role("digital", "data") for name in group.dialects}


def by_cards(found: Carded) -> str:
    """What cards bring."""
    way = found.joined.ways[0]
    cards = " and ".join(
        f"the card `{card}` in slot `{slot}` of the {'desk' if at_desk else 'box'}"
        for card, slot, at_desk in found.cards
    )
    over = f" over `{way.protocol}`" if way.protocol else ""
    return f"with {cards} sound passes{over}{_and_gain(way.control)}"


def by_bridge(found: Bridged) -> str:
    """What a bridge brings."""
    limit = f", {found.channels} channels each way" if found.channels is not None else ""
    sides = f"`{found.to_box}` to the box and `{found.to_desk}` to the desk"
    sound = "sound passes" if found.back is not False else "sound passes from the box to the desk only"
    return f"with the bridge `{found.bridge}` between, {sides}{limit}, {sound}{_and_gain(found.control)}"


def _and_gain(control: bool | None) -> str:
    if control is None:
        return ""
    return ", and the desk sets gain and phantom" if control else "; gain and phantom stay at the box"
