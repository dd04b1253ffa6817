"""What cables carry after a change, and how many ways lead out of a box."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import islice

from rigdsl.paths import Paths
from rigdsl.review.effect import Effect, touched
from rigdsl.rig import Leg, Port, natural

__all__ = ["carried"]


def carried(old: Paths, new: Paths) -> Iterator[Effect]:
    """Runs that carry more or fewer channels, boxes with more or fewer digital ways."""
    yield from _loads(old, new)
    yield from _ways_out(old, new)


def _loads(old: Paths, new: Paths) -> Iterator[Effect]:
    before, now = _carried(old), _carried(new)
    changed = [run for run in before.keys() & now.keys() if before[run][0] != now[run][0]]
    if not changed:
        return
    over_then, over_now = _over(old), _over(new)
    for run in sorted(changed, key=natural):
        (was, _), (channels, limit) = before[run], now[run]
        of = f" of {limit}" if limit is not None else ""
        links = run.split("+")
        other = sorted({name for link in links for name in over_then[link] ^ over_now[link]}, key=natural)
        about = (*links, *other, *_on_the_way(old, other), *_on_the_way(new, other))
        yield Effect(f"{run} carries {channels}{of}, was {was}", about)


def _on_the_way(paths: Paths, names: Iterable[str]) -> Iterator[str]:
    """What the way of the first of these sources or outputs touches."""
    things = {**paths.rig.sources, **paths.rig.outputs}
    for name in islice((name for name in names if name in things), 1):
        yield from touched(paths, Leg(name, 0))


def _over(paths: Paths) -> dict[str, set[str]]:
    """What goes over each cable: sources, outputs and the channels or sockets that a patch feeds."""
    found: dict[str, set[str]] = defaultdict(set)
    for name in (*paths.rig.sources, *paths.rig.outputs):
        for path in paths.paths_of(name):
            ends = [str(end) for end in (path.start, path.end) if isinstance(end, Port)]
            for hop in path.hops:
                if hop.link and path.complete:
                    found[hop.link.name] |= {name, *ends}
    return found


def _carried(paths: Paths) -> dict[str, tuple[int, int | None]]:
    """Channels over each run in its fuller direction, and what it could carry."""
    found = {}
    for run in paths.runs:
        loads = paths.load_of(run) if run.works else ()
        if loads:
            fullest = max(loads, key=lambda load: load.channels)
            found["+".join(link.name for link in run.links)] = fullest.channels, fullest.limit
    return found


def _ways_out(old: Paths, new: Paths) -> Iterator[Effect]:
    """Working digital cables that leave each box."""
    before, now = _working(old), _working(new)
    for box in sorted(old.rig.boxes.keys() & new.rig.boxes.keys(), key=natural):
        was, ways = len(before[box]), len(now[box])
        if was != ways:
            links = sorted(before[box] ^ now[box], key=natural)
            yield Effect(f"{_ways(ways)} out of {box} where there {_were(was)}", (*links, box))


def _ways(number: int) -> str:
    return "no digital way" if not number else "one digital way" if number == 1 else f"{number} digital ways"


def _were(number: int) -> str:
    return "was none" if not number else "was one" if number == 1 else f"were {number}"


def _working(paths: Paths) -> dict[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for run in paths.runs:
        for end in run.ends if run.works else ():
            found[paths.rig.body(end.box)].add("+".join(link.name for link in run.links))
    return found
