"""Sound passes, and the desk that owns the preamps cannot set them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, Sockets, rule
from rigdsl.lint.words import listed, ticked, together
from rigdsl.paths import Gain, Paths
from rigdsl.rig import Port, Rig, ports_text
from rigdsl_control.gains import behind
from rigdsl_control.ways import Ways, spoken, way_out

__all__ = ["control_mismatch"]


@rule("control-mismatch", Level.ERROR, NoOptions)
def control_mismatch(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Sockets]:
    """The desk that owns remote preamps cannot set their gain and phantom, though their sound arrives.

    A desk can set a preamp when sound goes between them digitally all the way and both name one `control`
    dialect, or when a data path of that dialect joins them. Where the preamps also say `gain local` and no source
    behind them needs phantom it is a warning: somebody can walk over and turn the knob.

    ## On the night
    The channel lights up, and gain and phantom do not move: condensers stay silent, the loud singer clips, and the
    only way to turn a gain is at the box, if it has knobs at all. Mute the channels before anybody tries.

    ## A rig that breaks it
    ```rig
    rig "Sound without control" { rate 48 kHz }
    model nw16 {
      kind stage-box
      inputs mic 1-16 { preamp; phantom 48 V 10 mA; gain remote }
      digital A { protocol aes50; control fern }
    }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50; control moss } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source oh-l condenser in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Sound and control" { rate 48 kHz }
    model nw16 {
      kind stage-box
      inputs mic 1-16 { preamp; phantom 48 V 10 mA; gain remote }
      digital A { protocol aes50; control fern }
    }
    model desk32 { kind console; channels ch 1-32; digital stage { protocol aes50; control fern, moss } }
    zone wing
    zone foh
    box SL is nw16 in wing
    box DESK is desk32 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source oh-l condenser in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## See also
    `protocol-mismatch` where no sound passes at all, `no-controller` where no desk owns the preamps.
    """
    gains = [gain for gain in paths.gains if gain.cut]
    if not gains:
        return
    ways = Ways.of(paths)
    for gain in gains:
        owner_of = dict(zip(gain.ports, gain.owners, strict=True))
        for owner in dict.fromkeys(owner_of[port] for port in gain.cut):
            ports = tuple(port for port in gain.cut if owner_of[port] == owner and not _stopped(paths, port, owner))
            if ports and not ways.doubtful(gain.box, owner):
                yield Sockets(ports, partial(_finding, ways, replace(gain, owner=owner, cut=ports)))


def _stopped(paths: Paths, port: Port, owner: str) -> bool:
    """A patch takes the preamp to its owner, and no sound gets there: what stops it is told, and stops commands too."""
    routes = [pair.route for pair in paths.pairs_on(port) if pair.route is not None]
    theirs = [route.works for route in routes if paths.rig.body(route.right.box) == owner]
    return bool(theirs) and not any(theirs)


def _finding(ways: Ways, gain: Gain, ports: tuple[Port, ...]) -> Finding:
    """`gain.owner` is the owner of all these preamps."""
    rig, paths = ways.paths.rig, ways.paths
    sources = behind(rig, paths, ports)
    hungry = [source.name for source in sources if source.needs_phantom]
    local = "local" in rig.group(ports[0]).gain
    names = [source.name for source in sources]
    night = (
        f"sound arrives, and gain and phantom do not move for {listed(names) if names else f'`{ports_text(ports)}`'}"
    )
    if hungry:
        night += f"; without phantom {listed(hungry)} {'stays' if len(hungry) == 1 else 'stay'} silent"
    return Finding(
        place=rig.boxes[gain.box].place,
        subject=f"{gain.box}.{gain.group}",
        level=Level.WARNING if local and not hungry else None,
        message=f"`{gain.owner}` cannot set gain and phantom of `{ports_text(ports)}`: {_why(ways, gain)}",
        consequence=night,
        help=way_out(ways, gain, ports, local),
        related=_related(rig, gain),
        ports=tuple(str(port) for port in ports),
        box=gain.box,
    )


def _why(ways: Ways, gain: Gain) -> str:
    """Why: what the two are controlled by, or which box between them does not take it on."""
    rig = ways.paths.rig
    box, desk = spoken(rig, gain.box), spoken(rig, gain.owner)
    if not box:
        return f"`{gain.box}` takes no remote control"
    if not desk:
        return f"`{gain.owner}` speaks no control dialect"
    if not box & desk:
        return f"`{gain.box}` is controlled by {ticked(sorted(box))}, `{gain.owner}` controls by {ticked(sorted(desk))}"
    deaf = ways.deaf(gain.box, gain.owner)
    if deaf:
        them = "does" if len(deaf) == 1 else "do"
        return f"both speak {ticked(sorted(box & desk))}, and {together(deaf)} between them {them} not take it on"
    return f"both speak {ticked(sorted(box & desk))}, and nothing between them carries it"


def _related(rig: Rig, gain: Gain) -> tuple[Related, ...]:
    """The lines that say who is controlled by what, and who owns the preamps where a line says so."""
    places = []
    for name in (gain.box, gain.owner):
        groups = [found for found in rig.groups_of(name, "digital", "data") if found[1].dialects]
        places += [
            Related(group.place, f"`{one.name}.{group.name}` speaks {ticked(group.dialects)}")
            for one, group in groups[:1]
        ]
    owned = [line for line in rig.controls if rig.body(line.by) == gain.owner and set(line.ports) & set(gain.cut)]
    return (*places, *(Related(line.place, f"`{gain.owner}` is named as their owner here") for line in owned))
