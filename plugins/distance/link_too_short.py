"""A cable must reach from one end to the other."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import called
from rigdsl.paths import Paths
from rigdsl.rig import Insert, Lead, Link, Output, Rig, Source
from rigdsl_distance.words import ROUNDING_M, metres

__all__ = ["link_too_short"]

Thing = Link | Source | Output | Insert

CAUTION = "cables where people walk are fixed down, covered or flown as local rules ask"


@rule("link-too-short", Level.ERROR, NoOptions)
def link_too_short(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A cable is shorter than the way between its two ends, or reaches only when pulled tight.

    The way is what `way` says, else the straight line between the zones' positions. Long enough, but not with the
    `slack` that the rig asks for, is a note: "pulled tight".

    ## On the night
    The cable ends in mid-air, and the next longer one is in the workshop. A cable that is pulled tight lifts off the
    floor: people trip over it, and plugs break. Fix it down, cover it or fly it as the house and local rules ask.

    ## A rig that breaks it
    ```rig
    rig "Short by the door" { slack 3 m }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone drums at (0, 4) m
    zone foh at (0, -28) m
    box DESK is desk12 in foh
    source kick dynamic in drums to DESK 1 via xlr 30 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Long enough" { slack 3 m }
    model desk12 { kind console; channels ch 1-12; inputs local 1-12 { preamp }; pass local -> ch }
    zone drums at (0, 4) m
    zone foh at (0, -28) m
    box DESK is desk12 in foh
    source kick dynamic in drums to DESK 1 via xlr 35 m
    ```
    """
    for link in rig.links.values():
        zones = {(rig.boxes[left.box].zone, rig.boxes[right.box].zone) for left, right in link.joins}
        yield from _judged(rig, link, zones, link.joins[0][0].box)
    plugs: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    for plug in plugs:
        zones = {(plug.zone, rig.boxes[port.box].zone) for port in plug.ports}
        yield from _judged(rig, plug, zones, plug.ports[0].box if plug.ports else "")
    for line in rig.insert_lines:
        zones = {(rig.boxes[one.at.box].zone, rig.boxes[one.send.box].zone) for one in line}
        if rig.incomplete.isdisjoint({port.box for one in line for port in (one.at, one.send)}):
            yield from _judged(rig, line[0], zones, line[0].send.box)


def _judged(rig: Rig, thing: Thing, zones: set[tuple[str, str]], box: str) -> Iterator[Finding]:
    """A cable whose length stands in the file, against the longest of its ways; what is measured is long enough."""
    lead = thing.lead
    if lead is None or lead.length_m is None or lead.measured or thing.name in rig.incomplete:
        return
    ways = [(way_m, pair) for pair in sorted(zones) if (way_m := _way_m(rig, *pair)) is not None]
    way_m, pair = max(ways, default=(0.0, ("", "")))
    slack_m = rig.head.slack_m or 0.0
    if not ways or lead.length_m >= way_m + slack_m - ROUNDING_M:
        return
    way = "from `{}` to `{}` it is {}".format(*pair, metres(way_m))
    longer = f"{_longer(rig, lead, way_m + slack_m)}, or write a `way` if the cable goes another way"
    tight = lead.length_m >= way_m - ROUNDING_M
    say = _pulled_tight if tight else _too_short
    yield say(thing, lead, f"{way} and {metres(slack_m)} of slack" if tight else way, longer, box)


def _too_short(thing: Thing, lead: Lead, way: str, longer: str, box: str) -> Finding:
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"{called(thing)} is {metres(lead.length_m or 0.0)} of `{lead.cable.name}`, and {way}",
        consequence="it does not reach",
        help=longer,
        box=box,
    )


def _pulled_tight(thing: Thing, lead: Lead, way: str, longer: str, box: str) -> Finding:
    return Finding(
        place=thing.place,
        subject=thing.name,
        message=f"{called(thing)} is pulled tight: {metres(lead.length_m or 0.0)} of `{lead.cable.name}`, and {way}",
        level=Level.NOTE,
        consequence="people trip over a tight cable, and its plugs break",
        help=f"{longer}; {CAUTION}",
        box=box,
    )


def _way_m(rig: Rig, left: str, right: str) -> float | None:
    """How far it is between two different zones, if anybody knows."""
    return rig.distance_m(left, right) if left and right and left != right else None


def _longer(rig: Rig, lead: Lead, wanted_m: float) -> str:
    """A cable that is long enough: one the house owns, if it owns one."""
    owned = sorted(
        line.length_m for line in rig.stock if line.cable == lead.cable.name and line.length_m >= wanted_m - ROUNDING_M
    )
    if owned:
        return f"take one of {metres(owned[0])}, which the stock has"
    return f"take one of {metres(wanted_m)} or more"
