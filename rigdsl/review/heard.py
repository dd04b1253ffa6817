"""Where lines come to after a change: other channels, other mixes, other boxes on the way, silence."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigdsl.lint.words import count
from rigdsl.paths import Paths
from rigdsl.review.effect import Effect, touched, ways
from rigdsl.rig import Leg, Port, natural, ports_text

__all__ = ["at_the_desk", "passing"]

FEW = 3  # so many sources are named; more are counted


def at_the_desk(old: Paths, new: Paths) -> Iterator[Effect]:
    """Sources that come to other channels, outputs that are fed by other mixes, and what falls silent or is heard."""
    for word, before, now in (
        ("on", _lines(old, old.rig.sources), _lines(new, new.rig.sources)),
        ("fed from", _lines(old, _heard(old)), _lines(new, _heard(new))),
    ):
        both = {leg.name for leg in before} & {leg.name for leg in now}
        legs = (leg for leg in before.keys() | now.keys() if leg.name in both)
        for leg in sorted(legs, key=lambda leg: (natural(leg.name), leg.index)):
            was, desk = before.get(leg, ()), now.get(leg, ())
            if was == desk:
                continue
            come, gone = [port for port in desk if port not in was], [port for port in was if port not in desk]
            on_the_way = ways(touched(new, leg, come), touched(old, leg, gone))
            about = (leg.name, f"{leg.name} {leg.index + 1}", *map(str, (*come, *gone)), *on_the_way)
            said = _leg(new if leg in now else old, leg)
            yield Effect(f"{said}: {_moved(word, was, desk)}", (*about, *touched(new, leg)))


def _moved(word: str, was: Sequence[Port], desk: Sequence[Port]) -> str:
    """`now on DESK.ch 3, was DESK.ch 1`; where something stays, only what came or went."""
    come, gone = [port for port in desk if port not in was], [port for port in was if port not in desk]
    if not desk:
        return f"silent, was {word} {ports_text(was)}"
    if not was:
        return f"now heard, {word} {ports_text(desk)}"
    if not come:
        return f"no longer {word} {ports_text(gone)}"
    if not gone:
        return f"now {word} {ports_text(come)} too"
    return f"now {word} {ports_text(desk)}, was {ports_text(was)}"


def _heard(paths: Paths) -> tuple[str, ...]:
    """Every output, and every loudspeaker box as one."""
    return (*paths.rig.outputs, *paths.speaker_inputs)


def _lines(paths: Paths, names: Iterable[str]) -> Mapping[Leg, tuple[Port, ...]]:
    """The channels or mixes that each line really has."""
    found: dict[Leg, set[Port]] = {}
    for name in names:
        for path in paths.paths_of(name):
            desk = found.setdefault(path.leg or Leg(name, 0), set())
            for end in (path.start, path.end) if path.complete else ():
                if isinstance(end, Port) and paths.rig.group(end).role in ("channels", "mixes"):
                    desk.add(end)
    return {
        leg: tuple(sorted(desk, key=lambda port: port.key) if len(desk) > 1 else desk) for leg, desk in found.items()
    }


def _leg(paths: Paths, leg: Leg) -> str:
    thing = paths.rig.boxes.get(leg.name)
    lines = 1 if thing is not None else len(paths.rig.thing(leg).ports)
    return f"{leg.name} {leg.index + 1}" if lines > 1 else leg.name


def passing(old: Paths, new: Paths) -> Iterator[Effect]:
    """Sources that go through a box that they did not go through, or no longer do, and arrive before and after."""
    through: dict[tuple[str, str], set[str]] = defaultdict(set)  # sources, by a word and a box
    for name in old.rig.sources.keys() & new.rig.sources.keys():
        before, now = _through(old, name), _through(new, name)
        if before != now and old.arrives(name) and new.arrives(name):
            for word, some in (("now", now - before), ("no longer", before - now)):
                for box in some:
                    through[word, box].add(name)
    boxes: dict[tuple[str, tuple[str, ...]], list[str]] = defaultdict(list)
    for word, box in sorted(through, key=lambda one: (natural(one[1]), one[0])):
        boxes[word, tuple(sorted(through[word, box], key=natural))].append(box)
    for (word, names), passed in boxes.items():
        who = ", ".join(names) if len(names) <= FEW else count(len(names), "source")
        verb = "passes" if len(names) == 1 else "pass"
        first = Leg(names[0], 0)
        about = (names[0], *passed, *names, *ways(touched(new, first), touched(old, first)))
        yield Effect(f"{who} {word} {verb} {', '.join(passed)}", about)


def _through(paths: Paths, source: str) -> set[str]:
    """The boxes that a source goes through where it arrives."""
    hops = [hop for path in paths.paths_of(source) if path.complete for hop in path.hops]
    boxes = {end.box for hop in hops for end in (hop.left, hop.right) if isinstance(end, Port)}
    return {paths.rig.body(box) for box in boxes}
