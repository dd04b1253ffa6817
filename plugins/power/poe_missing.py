"""Power over the data cable must come from somewhere, and be enough."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, listed, together
from rigdsl.paths import CablePower, Paths
from rigdsl.rig import Box, Port, Rig, shown

__all__ = ["poe_missing"]

ENOUGH = 1 + 1e-9


@rule("poe-missing", Level.WARNING, NoOptions, edition=2)
def poe_missing(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A box that is powered over its data cable gets no power, or too little.

    A box that says `poe` needs a port joined to one that `gives poe`, over twisted pair from end to end: through
    wall panels, never through fibre. What a switch (or any box) gives all told must be enough for all that hang on
    it alone. A box that a `power` line plugs into a supply needs nothing over the cable. Injectors are not known.

    ## On the night
    The box stays dark. Where the switch is short, it turns off a port that was fine until the last box was plugged.

    ## A rig that breaks it
    ```rig
    rig "A switch without power" { rate 48 kHz }
    model nw2 { kind stage-box; inputs mic 1-2 { preamp }; digital net { protocol aes67; connector rj45 }; poe 13 W }
    model desk48 { kind console; channels ch 1-48; digital net { protocol aes67; connector rj45 } }
    model sw8 { kind switch; digital copper 1-8 { connector rj45 } }
    zone stage
    box BOX is nw2 in stage
    box DESK is desk48 in stage
    box SW is sw8 in stage
    link C01: BOX.net -- SW.copper 1 via cat6 20 m
    link C02: DESK.net -- SW.copper 2 via cat6 5 m
    source vox dynamic in stage to BOX 1 via xlr 5 m
    patch vox -> DESK.ch 1
    clock DESK
    ```

    ## A rig that keeps it
    ```rig
    rig "A switch that gives it" { rate 48 kHz }
    model nw2 { kind stage-box; inputs mic 1-2 { preamp }; digital net { protocol aes67; connector rj45 }; poe 13 W }
    model desk48 { kind console; channels ch 1-48; digital net { protocol aes67; connector rj45 } }
    model sw8 { kind switch; digital copper 1-8 { connector rj45 }; gives poe 60 W }
    zone stage
    box BOX is nw2 in stage
    box DESK is desk48 in stage
    box SW is sw8 in stage
    link C01: BOX.net -- SW.copper 1 via cat6 20 m
    link C02: DESK.net -- SW.copper 2 via cat6 5 m
    source vox dynamic in stage to BOX 1 via xlr 5 m
    patch vox -> DESK.ch 1
    clock DESK
    ```

    ## Figures
    `gives poe` in a group's block is what each port gives, in the box's own block what all of them give together.
    A port gives 15.4 W and a box may draw 13 W of it (IEEE 802.3af), 30 W and 25.5 W (802.3at), 60 W and 51 W or
    90 W and 71.3 W (802.3bt): from memory. What is lost on the cable is in the difference, so write what the box
    draws and what the port gives as their makers say.
    """
    if not rig.left_out.isdisjoint(("link", "power")):
        return
    hanging: dict[str, list[CablePower]] = defaultdict(list)
    for feed in paths.cable_powers:
        if feed.wall or not _sure(rig, feed):
            continue
        enough = [(own, far) for own, far in feed.givers if _port_w(rig, far) * ENOUGH >= feed.needs_w]
        if not enough:
            yield _dark(rig, feed)
        elif len(boxes := {far.box for _, far in enough}) == 1:
            hanging[boxes.pop()].append(feed)
    for name, feeds in hanging.items():
        given_w = rig.boxes[name].gives_poe_w
        if given_w is not None and sum(feed.needs_w for feed in feeds) > given_w * ENOUGH:
            yield _short(rig, rig.boxes[name], feeds, given_w)


def _sure(rig: Rig, feed: CablePower) -> bool:
    return rig.incomplete.isdisjoint({feed.box, *(port.box for port in feed.joined)})


def _port_w(rig: Rig, port: Port) -> float:
    """What one port can give: as it says, else all that its box has."""
    return rig.group(port).gives_poe_w or rig.boxes[port.box].gives_poe_w or 0.0


def _dark(rig: Rig, feed: CablePower) -> Finding:
    box = rig.boxes[feed.box]
    return Finding(
        place=box.place,
        subject=box.name,
        message=f"`{box.name}` needs {shown(feed.needs_w)} W over its data cable, and {_why(rig, feed)}",
        consequence="it stays dark",
        help=f"plug it into a port that `gives poe` enough, or into a supply: `power {box.name} from ...`",
        related=tuple(Related(rig.group(far).place, f"`{far}` is on this line") for far in feed.joined),
        box=box.name,
    )


def _why(rig: Rig, feed: CablePower) -> str:
    if feed.givers:
        best = max((far for _, far in feed.givers), key=lambda port: _port_w(rig, port))
        return f"`{best}` gives {shown(_port_w(rig, best))} W"
    if feed.joined:
        return f"nothing comes from {together(feed.joined)}"
    return "no twisted pair joins it to anything"


def _short(rig: Rig, box: Box, feeds: list[CablePower], given_w: float) -> Finding:
    needed_w = sum(feed.needs_w for feed in feeds)
    names = [feed.box for feed in feeds]
    return Finding(
        place=box.place,
        subject=box.name,
        message=(
            f"`{box.name}` gives {shown(given_w)} W over its data cables, and {count(len(names), 'box', 'boxes')}"
            f" on it need {shown(needed_w)} W: {listed(names)}"
        ),
        consequence="it turns a port off, and a box that was fine goes dark",
        help="plug some of them into another switch, or into a supply of their own",
        related=tuple(Related(rig.boxes[name].place, f"`{name}` hangs on it") for name in names),
        ports=tuple(dict.fromkeys(str(far) for feed in feeds for _, far in feed.givers if far.box == box.name)),
        box=box.name,
    )
