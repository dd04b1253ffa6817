"""What follows from a change on the night, read off the paths of both rigs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from rigdsl.lint.words import count
from rigdsl.papers.lines import gain_owners, heard, lines_of
from rigdsl.paths import Paths
from rigdsl.review.renames import Renames
from rigdsl.rig import Leg, Output, Port, Source, natural, ports_text, shown

__all__ = ["Effect", "effects"]

FEW = 3  # so many sources are named; more are counted
LATER_S = 0.05e-3  # a difference in time that anybody would measure


@dataclass(frozen=True)
class Effect:
    """A sentence, and the names that it hangs on: the nearest first."""

    words: str
    about: tuple[str, ...]


def effects(old: Paths, new: Paths, names: Renames) -> tuple[Effect, ...]:
    """All of them, sources first. `names` has the new names of what is only called otherwise."""
    fresh = {was: now for (_, was), now in names.items()}
    return (
        *_at_the_desk(old, new, fresh),
        *_passing(old, new, fresh),
        *_loads(old, new, fresh),
        *_ways_out(old, new, fresh),
        *_owners(old, new, fresh),
        *_leaders(old, new, fresh),
        *_lengths(old, new, fresh),
        *_delays(old, new, fresh),
    )


def _named(port: Port, fresh: Mapping[str, str]) -> Port:
    return Port(fresh.get(port.box, port.box), port.group, port.number)


# ---- channels and mixes


def _at_the_desk(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    """Sources that come to other channels, outputs that are fed by other mixes, and what falls silent or is heard."""
    for word, before, now in (
        ("on", _lines(old, old.rig.sources, fresh), _lines(new, new.rig.sources, {})),
        ("fed from", _lines(old, heard(old.rig, old), fresh), _lines(new, heard(new.rig, new), {})),
    ):
        for leg in sorted(before.keys() & now.keys(), key=lambda leg: (natural(leg.name), leg.index)):
            (was, old_leg), (desk, _) = before[leg], now[leg]
            if was == desk:
                continue
            ways = (*_touched(new, leg, {}), *_touched(old, old_leg, fresh))
            about = (leg.name, *map(str, (*desk, *was)), *ways)
            said = _leg(new, leg)
            if was and not desk:
                yield Effect(f"{said}: silent, was {word} {ports_text(was)}", about)
            elif desk and not was:
                yield Effect(f"{said}: now heard, {word} {ports_text(desk)}", about)
            else:
                yield Effect(f"{said}: now {word} {ports_text(desk)}, was {ports_text(was)}", about)


Lines = Mapping[Leg, tuple[tuple[Port, ...], Leg]]


def _lines(paths: Paths, things: Mapping[str, Source] | Mapping[str, Output], fresh: Mapping[str, str]) -> Lines:
    """The channels or mixes of each line by its new name, and the line as its own rig has it."""
    found = {}
    for ports, leg in lines_of(paths, things):
        desk = tuple(sorted((_named(port, fresh) for port in ports), key=lambda port: port.key))
        found[Leg(fresh.get(leg.name, leg.name), leg.index)] = desk, leg
    return found


def _touched(paths: Paths, leg: Leg, fresh: Mapping[str, str]) -> Iterator[str]:
    for path in paths.paths_of(leg.name):
        for hop in path.hops if path.leg == leg else ():
            names = [hop.link.name, hop.cable or ""] if hop.link else [hop.cable or ""]
            names += [end.box if isinstance(end, Port) else end.name for end in (hop.left, hop.right)]
            names += [str(_named(end, fresh)) for end in (hop.left, hop.right) if isinstance(end, Port)]
            names += [paths.rig.boxes[end.box].model.name for end in (hop.left, hop.right) if isinstance(end, Port)]
            yield from (fresh.get(name, name) for name in names)


def _leg(paths: Paths, leg: Leg) -> str:
    thing = paths.rig.boxes.get(leg.name)
    lines = 1 if thing is not None else len(paths.rig.thing(leg).ports)
    return f"{leg.name} {leg.index + 1}" if lines > 1 else leg.name


# ---- boxes, cables


def _passing(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    """Sources that go through a box that they did not go through, or no longer do."""
    before, now = _through(old, fresh), _through(new, {})
    was = {name: before_name for before_name, name in fresh.items()}
    both = {fresh.get(name, name) for name in old.rig.sources if old.arrives(name)}
    both &= {name for name in new.rig.sources if new.arrives(name)}
    boxes: dict[tuple[str, tuple[str, ...]], list[str]] = defaultdict(list)
    for box in sorted(before.keys() | now.keys(), key=natural):
        for word, some in (("now", now[box] - before[box]), ("no longer", before[box] - now[box])):
            names = tuple(sorted(some & both, key=natural))
            if names:
                boxes[word, names].append(box)
    for (word, names), through in boxes.items():
        who = ", ".join(names) if len(names) <= FEW else count(len(names), "source")
        verb = "passes" if len(names) == 1 else "pass"
        ways = (*_touched(new, Leg(names[0], 0), {}), *_touched(old, Leg(was.get(names[0], names[0]), 0), fresh))
        yield Effect(f"{who} {word} {verb} {', '.join(through)}", (names[0], *through, *names, *ways))


def _through(paths: Paths, fresh: Mapping[str, str]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for name in paths.rig.sources:
        for path in paths.paths_of(name):
            for hop in path.hops if path.complete else ():
                for end in (hop.left, hop.right):
                    if isinstance(end, Port):
                        box = paths.rig.body(end.box)
                        found[fresh.get(box, box)].add(fresh.get(name, name))
    return found


def _loads(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    before, now = _carried(old, fresh), _carried(new, {})
    over_then, over_now = _over(old, fresh), _over(new, {})
    old_names = {now_name: name for name, now_name in fresh.items()}
    for run in sorted(before.keys() & now.keys(), key=natural):
        (was, _), (channels, limit) = before[run], now[run]
        if was != channels:
            of = f" of {limit}" if limit is not None else ""
            links = run.split("+")
            other = sorted({name for link in links for name in over_then[link] ^ over_now[link]}, key=natural)
            about = (*links, *other, *_on_the_way(old, other, old_names, fresh), *_on_the_way(new, other, {}, {}))
            yield Effect(f"{run} carries {channels}{of}, was {was}", about)


def _on_the_way(paths: Paths, names: Iterable[str], old: Mapping[str, str], fresh: Mapping[str, str]) -> Iterator[str]:
    """What the way of the first of these sources or outputs touches."""
    things = {**paths.rig.sources, **paths.rig.outputs}
    known = (old.get(name, name) for name in names if old.get(name, name) in things)
    for name in islice(known, 1):
        yield from _touched(paths, Leg(name, 0), fresh)


def _over(paths: Paths, fresh: Mapping[str, str]) -> dict[str, set[str]]:
    """What goes over each cable: sources, outputs and the channels or sockets that a patch feeds."""
    found: dict[str, set[str]] = defaultdict(set)
    for name in (*paths.rig.sources, *paths.rig.outputs):
        for path in paths.paths_of(name):
            ends = [str(_named(end, fresh)) for end in (path.start, path.end) if isinstance(end, Port)]
            for hop in path.hops:
                if hop.link and path.complete:
                    found[fresh.get(hop.link.name, hop.link.name)] |= {fresh.get(name, name), *ends}
    return found


def _carried(paths: Paths, fresh: Mapping[str, str]) -> dict[str, tuple[int, int | None]]:
    """Channels over each run in its fuller direction, and what it could carry."""
    found = {}
    for run in paths.runs:
        loads = paths.load_of(run) if run.works else ()
        if loads:
            fullest = max(loads, key=lambda load: load.channels)
            found["+".join(fresh.get(link.name, link.name) for link in run.links)] = fullest.channels, fullest.limit
    return found


def _ways_out(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    """Working digital cables that leave each box."""
    before, now = _working(old, fresh), _working(new, {})
    there = {fresh.get(name, name) for name in old.rig.boxes} & set(new.rig.boxes)
    for box in sorted(there, key=natural):
        was, ways = len(before[box]), len(now[box])
        if was != ways:
            links = sorted(before[box] ^ now[box], key=natural)
            yield Effect(f"{_ways(ways)} out of {box} where there {_were(was)}", (*links, box))


def _ways(number: int) -> str:
    return "no digital way" if not number else "one digital way" if number == 1 else f"{number} digital ways"


def _were(number: int) -> str:
    return "was none" if not number else "was one" if number == 1 else f"were {number}"


def _working(paths: Paths, fresh: Mapping[str, str]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for run in paths.runs:
        for end in run.ends if run.works else ():
            body = paths.rig.body(end.box)
            found[fresh.get(body, body)].add("+".join(fresh.get(link.name, link.name) for link in run.links))
    return found


# ---- control, clock, lengths, time


def _owners(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    """Preamps whose gain somebody else sets."""
    before = {_named(port, fresh): fresh.get(by, by) for port, by in gain_owners(old).items() if old.sources_at(port)}
    now = {port: by for port, by in gain_owners(new).items() if new.sources_at(port)}
    groups: dict[tuple[str, str, str], list[Port]] = defaultdict(list)
    for port in sorted(before.keys() & now.keys(), key=lambda port: port.key):
        if before[port] != now[port]:
            groups[port.box, before[port], now[port]].append(port)
    for (box, was, by), ports in groups.items():
        yield Effect(f"gain and phantom of {ports_text(ports)}: by {by}, was {was}", (box, by, was))


def _leaders(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    before = {fresh.get(box, box): fresh.get(one.leader, one.leader) for one in old.islands for box in one.boxes}
    told: set[tuple[str, str]] = set()
    for island in new.islands:
        for box in island.boxes:
            was = before.get(box, island.leader)
            if was != island.leader and (was, island.leader) not in told:
                told.add((was, island.leader))
                words = f"clock: {island.leader or 'nobody'} leads, {was or 'nobody'} did"
                yield Effect(words, (island.leader, was, *island.boxes))


def _lengths(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    """Measured cables whose zones have moved."""
    before = {fresh.get(name, name): lead for name, lead in _measured(old)}
    for name, (length_m, zones) in _measured(new):
        was = before.get(name)
        if was is not None and was[0] != length_m:
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


def _delays(old: Paths, new: Paths, fresh: Mapping[str, str]) -> Iterator[Effect]:
    """Outputs that come later or earlier after their source."""
    for name in sorted(old.rig.outputs, key=natural):
        now = fresh.get(name, name)
        if now not in new.rig.outputs:
            continue
        was_s, is_s = old.delay_of(name), new.delay_of(now)
        if was_s is None or is_s is None or abs(was_s.latency_s - is_s.latency_s) < LATER_S:
            continue
        words = f"{now}: {_ms(is_s.latency_s)} after its source, was {_ms(was_s.latency_s)}"
        yield Effect(words, (now, *_touched(new, Leg(now, 0), {}), *_touched(old, Leg(name, 0), fresh)))


def _ms(seconds: float) -> str:
    return f"{shown(round(seconds * 1e3, 1))} ms"
