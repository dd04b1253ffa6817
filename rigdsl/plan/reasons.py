"""Why a desk and a box do not work together, or not wholly, in the words of a person who advises a buyer.

No sentence names the two models: pairs of which the same is to be said are told in one line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigdsl.lint.words import count, ticked, together
from rigdsl.paths import Fault
from rigdsl.plan.bench import Join
from rigdsl.plan.counts import Room
from rigdsl.plan.ways import Joined, Way
from rigdsl.rig import Group, Model, Rig, shown

__all__ = ["no_control", "no_return", "no_sound", "too_big"]


def no_sound(gear: Rig, desk: Model, box: Model, joined: Joined) -> str:
    """Why sound does not pass at all."""
    if not box.of_role("digital"):
        return _box_without(box)
    if not desk.of_role("digital"):
        return _desk_without(desk)
    if joined.ways:
        way = joined.ways[0]
        line = f"`{way.protocol}` carries one way, and the" if way.protocol else "the"
        return f"{line} ports that fit lead from the desk to the box only: the box is not heard"
    faults = {fault.rule: (join, fault) for join, fault in reversed(joined.faults)}
    if "rate-mismatch" in faults:
        return _rates(gear, desk, box, *faults["rate-mismatch"])
    clash = _same_way(desk, box)
    return clash or _languages(desk, box)


def _by_card(what: str, model: Model) -> str:
    """What has no digital port until a card is in it."""
    slots = f"slot{'' if len(model.slots) == 1 else 's'} {together(list(model.slots))}"
    return f"the {what} has no digital port of its own: what it speaks hangs on the card in its {slots}"


def _box_without(box: Model) -> str:
    if box.slots:
        return _by_card("box", box)
    if box.of_role("data"):
        return "the box's jack is for remote control only, never audio: its sound leaves over analogue lines"
    return "the box has no digital port: its sound leaves over analogue lines, if at all"


def _desk_without(desk: Model) -> str:
    """A desk with nowhere to put a digital stream, and what it has instead."""
    if desk.slots:
        return _by_card("desk", desk)
    lines = sum(group.count for group in desk.of_role("inputs") if not group.soft and not group.wireless)
    instead = f"; bring the stage in over a multicore (snake), to its {count(lines, 'input')}" if lines else ""
    if desk.of_role("data"):
        jacks = sum(group.count for group in desk.of_role("data"))
        jack = "jack is" if jacks == 1 else "jacks are"
        whose = "computer" if desk.kind == "computer" else "desk"
        return f"the {whose}'s {jack} for remote control only, never audio: no digital stream goes in{instead}"
    if desk.kind == "computer":
        return f"the computer has no port for a digital stream{instead}"
    return f"the desk is analogue: it has nowhere to put a digital stream{instead}"


def _spoken(model: Model) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for group in model.of_role("digital") for name in group.protocols))


def _rates(gear: Rig, desk: Model, box: Model, join: Join, fault: Fault) -> str:
    ends = box.groups[join[0].group], desk.groups[join[1].group]
    at_box, at_desk = ends[0].rate_hz or box.rate_hz, ends[1].rate_hz or desk.rate_hz
    shared = [name for name in ends[0].protocols if name in ends[1].protocols]
    if at_box and at_desk and at_box != at_desk:
        both = f"both speak {ticked(shared)}, but " if shared else ""
        return f"{both}the box runs at {_khz(at_box)} and the desk at {_khz(at_desk)}, and neither converts"
    if at_box or at_desk:
        which = f"the {'box' if at_box else 'desk'} runs at {_khz(at_box or at_desk or 0)} only"
        return f"both speak {ticked(shared)}, but {which}, and {_has(gear, shared)}"
    return f"both speak {ticked(shared)}, but {fault.because}"


def _has(gear: Rig, shared: Sequence[str]) -> str:
    known = (
        f"`{name}` has {', '.join(_khz(rate) for rate in sorted(gear.protocols[name].capacity))}" for name in shared
    )
    return " and ".join(known)


def _khz(rate_hz: float) -> str:
    return f"{shown(rate_hz, 1000, 3)} kHz"


def _same_way(desk: Model, box: Model) -> str:
    """Ports of one protocol of which both send or both take."""
    for one, other in _port_pairs(desk, box):
        shared = [name for name in one.protocols if name in other.protocols]
        if shared and one.direction and one.direction == other.direction:
            do = "send it, and neither takes it" if one.direction == "sends" else "take it, and neither sends it"
            return f"both speak {ticked(shared)}, which carries one way, but both {do}"
    return ""


def _port_pairs(desk: Model, box: Model) -> Iterator[tuple[Group, Group]]:
    for one in box.of_role("digital"):
        for other in desk.of_role("digital"):
            yield one, other


def _languages(desk: Model, box: Model) -> str:
    """No protocol in common; where the plugs fit all the same, that is worth a warning."""
    fits = sorted(
        {name for one, other in _port_pairs(desk, box) for name in set(one.connectors) & set(other.connectors)}
    )
    plugs = f"; the plugs fit ({together(fits)}), and no sound passes all the same" if fits else ""
    return f"the box speaks {together(_spoken(box))} and the desk {together(_spoken(desk))}: no common language{plugs}"


def no_control(desk: Model, box: Model, way: Way) -> str:
    """Sound passes, and the desk does not set gain and phantom."""
    plainly = f"both speak `{way.protocol}`" if way.protocol else "sound passes"
    stays = "sound arrives, gain and phantom stay at the box"
    if desk.kind == "computer":
        return f"a box straight into a computer: {stays}, and no desk is there to set them{_dialect(box)}"
    at_box, at_desk = _dialects(box), _dialects(desk)
    if not at_box:
        return f"{plainly}, but the box answers to no control dialect: {stays}"
    if not at_desk:
        return f"{plainly}, but the desk speaks no control dialect, and the box answers to {_named(at_box)}: {stays}"
    common = [name for name in at_box if name in at_desk]
    if common:
        return f"{plainly}, and both know {_named(common)}, but not on ports that can be joined: {stays}"
    return f"{plainly}, but the box answers to {_named(at_box)} and the desk speaks {together(at_desk)}: {stays}"


def _dialect(box: Model) -> str:
    names = _dialects(box)
    return f": the box answers to {_named(names)}" if names else ""


def _named(dialects: Sequence[str]) -> str:
    return f"{'dialect' if len(dialects) == 1 else 'dialects'} {together(dialects)}"


def _dialects(model: Model) -> list[str]:
    groups = model.of_role("digital", "data")
    return list(dict.fromkeys(name for group in groups for name in group.dialects))


def no_return(box: Model, way: Way) -> str:
    """The box is heard, and nothing goes back to its outputs."""
    outputs = sum(group.count for group in box.of_role("outputs"))
    one_way = f"`{way.protocol}` carries one way, and no second line leads back: " if way.protocol else ""
    return f"{one_way}mixes do not get back to the {count(outputs, 'output')} of the box"


def too_big(way: Way, fits: Room) -> str:
    """A box that takes its channels whether they are used or not, and has more of them than there are."""
    rate, has, through = fits.short[0]
    lost = has - through
    do = "does" if lost == 1 else "do"
    carries = f"`{way.protocol}` carries {through} at {_khz(rate)}"
    return f"the box takes {has} channels, used or not, and {carries}: {lost} of them {do} not get through"
