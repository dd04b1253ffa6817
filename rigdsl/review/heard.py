"""Where lines come to after a change: other channels, other mixes, other boxes on the way, silence."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from rigdsl.lint.words import count
from rigdsl.paths import Paths
from rigdsl.review.effect import Effect, Fresh, named, touched, ways
from rigdsl.rig import Leg, Port, natural, ports_text

__all__ = ["at_the_desk", "passing"]

FEW = 3  # so many sources are named; more are counted


def at_the_desk(old: Paths, new: Paths, fresh: Fresh) -> Iterator[Effect]:
    """Sources that come to other channels, outputs that are fed by other mixes, and what falls silent or is heard."""
    back = {now: was for was, now in fresh.items()}
    for word, before, now in (
        ("on", _lines(old, old.rig.sources, fresh), _lines(new, new.rig.sources, {})),
        ("fed from", _lines(old, _heard(old), fresh), _lines(new, _heard(new), {})),
    ):
        both = {leg.name for leg in before} & {leg.name for leg in now}
        legs = (leg for leg in before.keys() | now.keys() if leg.name in both)
        for leg in sorted(legs, key=lambda leg: (natural(leg.name), leg.index)):
            was, old_leg = before.get(leg, ((), Leg(back.get(leg.name, leg.name), leg.index)))
            desk, _ = now.get(leg, ((), leg))
            if was == desk:
                continue
            come, gone = [port for port in desk if port not in was], [port for port in was if port not in desk]
            lost = touched(old, old_leg, fresh, [named(port, back) for port in gone])
            on_the_way = ways(touched(new, leg, {}, come), lost)
            about = (leg.name, f"{leg.name} {leg.index + 1}", *map(str, (*come, *gone)), *on_the_way)
            said = _leg(new if leg in now else old, leg if leg in now else old_leg)
            yield Effect(f"{said}: {_moved(word, was, desk)}", (*about, *touched(new, leg, {})))


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


Lines = Mapping[Leg, tuple[tuple[Port, ...], Leg]]


def _lines(paths: Paths, names: Iterable[str], fresh: Fresh) -> Lines:
    """The channels or mixes that each line really has, by its new name, and the line as its own rig has it."""
    found: dict[Leg, tuple[tuple[Port, ...], Leg]] = {}
    for name in names:
        ends: dict[Leg, set[Port]] = {}
        for path in paths.paths_of(name):
            desk = ends.setdefault(path.leg or Leg(name, 0), set())
            for end in (path.start, path.end) if path.complete else ():
                if isinstance(end, Port) and paths.rig.group(end).role in ("channels", "mixes"):
                    desk.add(end)
        for leg, ports in ends.items():
            told = tuple(named(port, fresh) for port in ports)
            told = tuple(sorted(told, key=lambda port: port.key)) if len(told) > 1 else told
            found[Leg(fresh.get(name, name), leg.index)] = told, leg
    return found


def _leg(paths: Paths, leg: Leg) -> str:
    thing = paths.rig.boxes.get(leg.name)
    lines = 1 if thing is not None else len(paths.rig.thing(leg).ports)
    return f"{leg.name} {leg.index + 1}" if lines > 1 else leg.name


def passing(old: Paths, new: Paths, fresh: Fresh) -> Iterator[Effect]:
    """Sources that go through a box that they did not go through, or no longer do, and arrive before and after."""
    was = {now: name for name, now in fresh.items()}
    through: dict[tuple[str, str], set[str]] = defaultdict(set)  # sources, by a word and a box
    for name in new.rig.sources:
        before_name = was.get(name, name)
        if before_name not in old.rig.sources:
            continue
        before, now = _through(old, before_name, fresh), _through(new, name, {})
        if before != now and old.arrives(before_name) and new.arrives(name):
            for word, some in (("now", now - before), ("no longer", before - now)):
                for box in some:
                    through[word, box].add(name)
    boxes: dict[tuple[str, tuple[str, ...]], list[str]] = defaultdict(list)
    for word, box in sorted(through, key=lambda one: (natural(one[1]), one[0])):
        boxes[word, tuple(sorted(through[word, box], key=natural))].append(box)
    for (word, names), passed in boxes.items():
        who = ", ".join(names) if len(names) <= FEW else count(len(names), "source")
        verb = "passes" if len(names) == 1 else "pass"
        old_leg = Leg(was.get(names[0], names[0]), 0)
        on_the_way = ways(touched(new, Leg(names[0], 0), {}), touched(old, old_leg, fresh))
        yield Effect(f"{who} {word} {verb} {', '.join(passed)}", (names[0], *passed, *names, *on_the_way))


def _through(paths: Paths, source: str, fresh: Fresh) -> set[str]:
    """The boxes that a source goes through where it arrives."""
    ends = [
        end for path in paths.paths_of(source) if path.complete for hop in path.hops for end in (hop.left, hop.right)
    ]
    boxes = {end.box for end in ends if isinstance(end, Port)}
    bodies = (paths.rig.body(box) for box in boxes)
    return {fresh.get(body, body) for body in bodies}
