"""One channel or output is fed by one patch."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import ticked
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Patch, Port, Rig

__all__ = ["channel_taken"]


@rule("channel-taken", Level.ERROR, NoOptions)
def channel_taken(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Two patches feed one channel or output.

    Several who hear one wireless sender may each have the same mix by name.

    A night that changes what the house has patched takes the old patch away first: `unpatch DESK.ch 4`.

    ## On the night
    The desk takes one of the two, and which one depends on who stored the scene.

    ## A rig that breaks it
    ```rig
    rig "Two into one" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp } }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    patch DESK.local 1 -> DESK.ch 1
    patch DESK.local 2 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "One into one" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp } }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    source gtr dynamic in stage to DESK 2 via xlr 5 m
    patch DESK.local 1 -> DESK.ch 1
    patch DESK.local 2 -> DESK.ch 2
    ```
    """
    feeds: dict[Port | Leg, list[tuple[Patch, Port | Leg, Port | Leg]]] = {}
    for patch, routes in paths.patch_routes.items():
        for left, right, route in routes:
            # An output patched by name is fed at the socket that its name stands for.
            end = route.right if route and isinstance(right, Leg) else right
            feeds.setdefault(end, []).append((patch, left, right))
    for end, fed in feeds.items():
        if len(fed) > 1 and not _heard_by_several(fed):
            yield _taken(rig, paths, end, [(patch, left) for patch, left, _ in fed])


def _heard_by_several(fed: list[tuple[Patch, Port | Leg, Port | Leg]]) -> bool:
    """One feed, said for each of those who hear the same sender by its own name."""
    lefts = {left for _, left, _ in fed}
    names = {right for _, _, right in fed if isinstance(right, Leg)}
    return len(lefts) == 1 and len(names) == len(fed)


def _taken(rig: Rig, paths: Paths, end: Port | Leg, fed: list[tuple[Patch, Port | Leg]]) -> Finding:
    ends = list(dict.fromkeys(left for _, left in fed))
    patches = list(dict.fromkeys(patch for patch, _ in fed))
    name = str(end)
    whose = ticked(ends) if len(ends) > 1 else f"`{ends[0]}` twice"
    box = end.box if isinstance(end, Port) else ""
    free = _free_channel(rig, paths, end) if isinstance(end, Port) else None
    return Finding(
        place=patches[-1].place,
        subject=name,
        message=f"`{name}` is patched more than once: from {whose}",
        consequence="only one of them is heard there",
        help=f"take one of the patches out{f', or use `{free}`, which is free' if free else ''}",
        related=tuple(Related(patch.place, f"`{name}` is patched here too") for patch in patches[:-1]),
        ports=(str(end),) if isinstance(end, Port) else (),
        box=box,
    )


def _free_channel(rig: Rig, paths: Paths, end: Port) -> Port | None:
    """The next channel of the group that nothing is patched to."""
    group = rig.group(end)
    if group.role != "channels":
        return None
    return next((port for port in rig.boxes[end.box].ports(group) if not paths.fed.get(port)), None)
