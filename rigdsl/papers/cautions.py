"""The page of cautions: those that fit this rig, and what in it they are about.

The cautions are common practice, no source; what the law asks for stands with local codes and licensed people.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.papers.lines import DEMO, heard, held, some_of
from rigdsl.papers.table import Facts, Paper, Table
from rigdsl.paths import Paths, keep_off
from rigdsl.rig import Box, Output, Rig, Source

__all__ = ["CAUTIONS", "cautions_of"]

COLUMNS = ("what", "caution", "here")
LAW = "local codes and the house's own rules come before this page; where they differ, they rule"
MAINS = (
    "Mains",
    "Supplies, distribution and earthing are work for licensed people. Never lift an earth to cure a hum. Wet ground, "
    "damaged plugs and warm connectors: switch off and fetch the electrician.",
)
PHANTOM = (
    "Phantom power",
    "Mute, plug in, then switch phantom on; wait before you unmute. Mute, and switch it off, before a line is "
    "re-plugged.",
)
RIBBON = (
    "Ribbon microphones",
    "Phantom can damage a ribbon that needs none. Be sure that it is off on that line, also where it is switched for "
    "several lines at once, before one is plugged in.",
)
AMPLIFIERS = (
    "Amplifiers",
    "Their outputs can carry dangerous voltages. Off before anybody touches a loudspeaker cable; on last, off first.",
)
HEARING = (
    "Hearing",
    "Bring levels up slowly, nobody in front of a loudspeaker while it is tested. In-ear mixes begin at nothing. Keep "
    "to the limits for audience and crew that apply where you are, and wear protection.",
)
WALKWAYS = (
    "Cables where people walk",
    "Fly them or cover them with ramps, keep escape routes clear, tape what is left. Fire doors stay shut.",
)
FIBRE = (
    "Fibre",
    "Invisible laser light can hurt the eye: never look into a fibre or an open port, with or without a microscope. "
    "Caps on what is not plugged; broken ends are glass.",
)
HEIGHT = (
    "Things above people's heads",
    "Rigging and flying are work for qualified people; a second fixing on everything that hangs.",
)
SILENT = ("record", "stream")  # outputs that nobody stands before
HEIGHT_M = 2.0  # of a zone with boxes: above people's heads, common practice, no source


def cautions_of(rig: Rig, paths: Paths) -> Iterator[tuple[tuple[str, str], str]]:
    """The cautions that fit a rig, each with what it is about there."""
    powered = _powered(rig)
    if powered:
        yield MAINS, some_of([*rig.supplies, *(() if rig.supplies else powered)])
    if paths.phantom_on:
        yield PHANTOM, some_of(dict.fromkeys(port.box for port in paths.phantom_on))
    ribbons = [source.name for source in rig.sources.values() if keep_off(source)]
    if ribbons:
        yield RIBBON, some_of(ribbons)
    amplifiers = [name for name, box in rig.boxes.items() if _is_live(box)]
    if amplifiers:
        yield AMPLIFIERS, some_of(amplifiers)
    loud = [name for name, output in heard(rig, paths).items() if output.type not in SILENT]
    if loud:
        yield HEARING, some_of(loud)
    crossing = _across_zones(rig)
    if crossing:
        yield WALKWAYS, some_of(crossing)
    fibres = [link.name for link in rig.links.values() if link.lead and link.lead.cable.medium == "fibre"]
    if fibres:
        yield FIBRE, some_of(fibres)
    high = [box.name for box in rig.boxes.values() if _height_m(rig, box) > HEIGHT_M]
    if high:
        yield HEIGHT, some_of(high)


def _powered(rig: Rig) -> list[str]:
    passive = ("sub-box", "panel", "splitter", "di", "loudspeaker")
    return [name for name, box in rig.boxes.items() if box.slot is None and (box.kind not in passive or box.power_w)]


def _is_live(box: Box) -> bool:
    return any("loudspeaker" in group.levels for group in box.model.of_role("outputs"))


def _across_zones(rig: Rig) -> list[str]:
    """Cables that leave their zone, those of sources and outputs too; where some come to the public, these alone."""
    ends = {link.name: {port.box for join in link.joins for port in join} for link in rig.links.values()}
    zones = {name: {rig.boxes[rig.body(box)].zone for box in boxes} for name, boxes in ends.items()}
    plugs: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    for plug in plugs:
        if plug.lead and plug.ports:
            zones[plug.name] = {plug.zone, *(rig.boxes[rig.body(port.box)].zone for port in plug.ports)} - {""}
    crossing = [name for name, some in zones.items() if len(some) > 1]
    public = [name for name in crossing if any(rig.zones[zone].public for zone in zones[name] if zone in rig.zones)]
    return public or crossing


def _height_m(rig: Rig, box: Box) -> float:
    zone = rig.zones.get(box.zone)
    return zone.position_m[2] if zone is not None and zone.position_m is not None else 0.0


def _cautions(facts: Facts) -> Table:
    rows = tuple((*caution, here) for caution, here in cautions_of(facts.rig, facts.paths))
    return Table(COLUMNS, rows, (LAW, *held(((DEMO, facts.rig.head.demo),))))


CAUTIONS = Paper("cautions", "Cautions", _cautions, COLUMNS)
