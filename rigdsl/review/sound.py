"""How it sounds and who sets it after a change: gain, clock, measured cables, delay, treble."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from rigdsl.paths import Paths, gain_owners, longest_copper, treble_loss_db
from rigdsl.review.effect import Effect, touched
from rigdsl.rig import Leg, Output, Port, Source, natural, ports_text, shown

__all__ = ["sound"]

TREBLE_HZ = 20_000.0  # where treble is judged, as the rule `treble-loss` does
DULLER_DB = 0.1  # a difference in treble that is told


def sound(old: Paths, new: Paths) -> Iterator[Effect]:
    """All that is set, heard or measured otherwise while it still arrives."""
    yield from _owners(old, new)
    yield from _leaders(old, new)
    yield from _lengths(old, new)
    yield from _delays(old, new)
    yield from _treble(old, new)


def _owners(old: Paths, new: Paths) -> Iterator[Effect]:
    """Preamps whose gain somebody else sets."""
    before = {port: by for port, by in gain_owners(old).items() if old.sources_at(port)}
    now = {port: by for port, by in gain_owners(new).items() if new.sources_at(port)}
    groups: dict[tuple[str, str, str], list[Port]] = defaultdict(list)
    for port in sorted(before.keys() & now.keys(), key=lambda port: port.key):
        if before[port] != now[port]:
            groups[port.box, before[port], now[port]].append(port)
    for (box, was, by), ports in groups.items():
        yield Effect(f"gain and phantom of {ports_text(ports)}: by {by}, was {was}", (box, by, was))


def _leaders(old: Paths, new: Paths) -> Iterator[Effect]:
    before = {box: one.leader for one in old.islands for box in one.boxes}
    told: set[tuple[str, str]] = set()
    for island in new.islands:
        for box in island.boxes:
            was = before.get(box, island.leader)
            if was != island.leader and (was, island.leader) not in told:
                told.add((was, island.leader))
                words = f"clock: {island.leader or 'nobody'} leads, {was or 'nobody'} did"
                yield Effect(words, (island.leader, was, *island.boxes))


def _lengths(old: Paths, new: Paths) -> Iterator[Effect]:
    """Measured cables whose zones have moved."""
    before = dict(_measured(old))
    for name, (length_m, zones) in _measured(new):
        was = before.get(name)
        if was is not None and _metres(was[0]) != _metres(length_m):
            words = f"cable of {name}: {_metres(length_m)}, was {_metres(was[0])}"
            yield Effect(words, (name, *zones))


def _metres(length_m: float | None) -> str:
    return "to be measured" if length_m is None else f"{shown(round(length_m, 2))} m"


def _measured(paths: Paths) -> Iterator[tuple[str, tuple[float | None, tuple[str, ...]]]]:
    rig = paths.rig
    for link in rig.links.values():
        if link.lead and link.lead.measured:
            zones = (rig.boxes[rig.body(port.box)].zone for join in link.joins for port in join)
            yield link.name, (link.lead.length_m, tuple(dict.fromkeys(zones)))
    plugs: Iterable[Source | Output] = (*rig.sources.values(), *rig.outputs.values())
    for plug in plugs:
        if plug.lead and plug.lead.measured:
            zones = (plug.zone, *(rig.boxes[rig.body(port.box)].zone for port in plug.ports))  # type: ignore[assignment]
            yield plug.name, (plug.lead.length_m, tuple(dict.fromkeys(zones)))


def _delays(old: Paths, new: Paths) -> Iterator[Effect]:
    """Outputs that come later or earlier after their source."""
    for name in sorted(old.rig.outputs.keys() & new.rig.outputs.keys(), key=natural):
        was_s, is_s = old.delay_of(name), new.delay_of(name)
        if was_s is None or is_s is None or _ms(was_s.latency_s) == _ms(is_s.latency_s):
            continue
        words = f"{name}: {_ms(is_s.latency_s)} after its source, was {_ms(was_s.latency_s)}"
        yield Effect(words, (name, *touched(new, Leg(name, 0)), *touched(old, Leg(name, 0))))


def _ms(seconds: float) -> str:
    return f"{shown(round(seconds * 1e3, 1))} ms"


def _treble(old: Paths, new: Paths) -> Iterator[Effect]:
    """Sources that lose more or less of their top end in the copper before the first box that drives it."""
    before = {name: (loss_db, cables) for name, loss_db, cables in _losses(old)}
    for name, loss_db, cables in _losses(new):
        was_db, old_cables = before.get(name, (loss_db, ()))
        if abs(loss_db - was_db) >= DULLER_DB:
            at = f"at {shown(TREBLE_HZ, 1e3)} kHz"
            words = f"treble of {name}: {_lost(loss_db)} dB {at}, was {_lost(was_db)} dB"
            yield Effect(words, (name, *cables, *old_cables))


def _lost(loss_db: float) -> str:
    return shown(round(-loss_db, 1) + 0.0)


def _losses(paths: Paths) -> Iterator[tuple[str, float, tuple[str, ...]]]:
    """What each source loses, and the links and kinds of cable that take it.

    An instrument whose impedance nobody wrote is left out, as any figure would be a guess.
    """
    for source, copper in longest_copper(paths):
        if source.level == "instrument" and not source.balanced and not source.impedance_said:
            continue
        names = [name for hop in copper.cables for name in (hop.link.name if hop.link else "", hop.cable or "") if name]
        yield source.name, treble_loss_db(source.impedance_ohm, copper.capacitance_f, TREBLE_HZ), tuple(names)
