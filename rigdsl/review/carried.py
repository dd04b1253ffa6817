"""What cables carry after a change, and how many ways lead out of a box."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import islice

from rigdsl.paths import Paths
from rigdsl.review.effect import Effect, Fresh, named, touched
from rigdsl.rig import Leg, Port, natural

__all__ = ["carried"]


def carried(old: Paths, new: Paths, fresh: Fresh) -> Iterator[Effect]:
    """Runs that carry more or fewer channels, boxes with more or fewer digital ways."""
    yield from _loads(old, new, fresh)
    yield from _ways_out(old, new, fresh)


def _loads(old: Paths, new: Paths, fresh: Fresh) -> Iterator[Effect]:
    before, now = _carried(old, fresh), _carried(new, {})
    changed = [run for run in before.keys() & now.keys() if before[run][0] != now[run][0]]
    if not changed:
        return
    over_then, over_now = _over(old, fresh), _over(new, {})
    old_names = {now_name: name for name, now_name in fresh.items()}
    for run in sorted(changed, key=natural):
        (was, _), (channels, limit) = before[run], now[run]
        of = f" of {limit}" if limit is not None else ""
        links = run.split("+")
        other = sorted({name for link in links for name in over_then[link] ^ over_now[link]}, key=natural)
        about = (*links, *other, *_on_the_way(old, other, old_names, fresh), *_on_the_way(new, other, {}, {}))
        yield Effect(f"{run} carries {channels}{of}, was {was}", about)


def _on_the_way(paths: Paths, names: Iterable[str], old: Fresh, fresh: Fresh) -> Iterator[str]:
    """What the way of the first of these sources or outputs touches."""
    things = {**paths.rig.sources, **paths.rig.outputs}
    known = (old.get(name, name) for name in names if old.get(name, name) in things)
    for name in islice(known, 1):
        yield from touched(paths, Leg(name, 0), fresh)


def _over(paths: Paths, fresh: Fresh) -> dict[str, set[str]]:
    """What goes over each cable: sources, outputs and the channels or sockets that a patch feeds."""
    found: dict[str, set[str]] = defaultdict(set)
    for name in (*paths.rig.sources, *paths.rig.outputs):
        for path in paths.paths_of(name):
            ends = [str(named(end, fresh)) for end in (path.start, path.end) if isinstance(end, Port)]
            for hop in path.hops:
                if hop.link and path.complete:
                    found[fresh.get(hop.link.name, hop.link.name)] |= {fresh.get(name, name), *ends}
    return found


def _carried(paths: Paths, fresh: Fresh) -> dict[str, tuple[int, int | None]]:
    """Channels over each run in its fuller direction, and what it could carry."""
    found = {}
    for run in paths.runs:
        loads = paths.load_of(run) if run.works else ()
        if loads:
            fullest = max(loads, key=lambda load: load.channels)
            found["+".join(fresh.get(link.name, link.name) for link in run.links)] = fullest.channels, fullest.limit
    return found


def _ways_out(old: Paths, new: Paths, fresh: Fresh) -> Iterator[Effect]:
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


def _working(paths: Paths, fresh: Fresh) -> dict[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for run in paths.runs:
        for end in run.ends if run.works else ():
            body = paths.rig.body(end.box)
            found[fresh.get(body, body)].add("+".join(fresh.get(link.name, link.name) for link in run.links))
    return found
