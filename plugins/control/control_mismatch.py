"""Sound passes, and the desk that owns the preamps cannot set them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, Sockets, rule
from rigdsl.lint.words import listed, ticked
from rigdsl.paths import Gain, Paths
from rigdsl.rig import Group, Port, Rig, ports_text
from rigdsl_control.gains import behind

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
    for gain in paths.gains:
        owner_of = dict(zip(gain.ports, gain.owners, strict=True))
        for owner in dict.fromkeys(owner_of[port] for port in gain.cut):
            ports = tuple(port for port in gain.cut if owner_of[port] == owner)
            yield Sockets(ports, partial(_finding, rig, paths, replace(gain, owner=owner, cut=ports)))


def _finding(rig: Rig, paths: Paths, gain: Gain, ports: tuple[Port, ...]) -> Finding:
    """`gain.owner` is the owner of all these preamps."""
    sources = behind(rig, paths, ports)
    hungry = [source.name for source in sources if source.needs_phantom]
    local = "local" in rig.group(ports[0]).gain
    names = [source.name for source in sources]
    night = f"sound arrives, and gain and phantom do not move for {listed(names) if names else ports_text(ports)}"
    if hungry:
        night += f"; without phantom {listed(hungry)} {'stays' if len(hungry) == 1 else 'stay'} silent"
    return Finding(
        place=rig.boxes[gain.box].place,
        subject=f"{gain.box}.{gain.group}",
        level=Level.WARNING if local and not hungry else None,
        message=f"`{gain.owner}` cannot set gain and phantom of `{ports_text(ports)}`: {_dialects(rig, gain)}",
        consequence=night,
        help=_way_out(rig, gain, local),
        related=_related(rig, gain),
        ports=tuple(str(port) for port in ports),
        box=gain.box,
    )


def _spoken(rig: Rig, box: str) -> set[str]:
    """The control dialects of a box."""
    return {dialect for group in rig.boxes[box].model.of_role("digital", "data") for dialect in group.dialects}


def _data_groups(rig: Rig, box: str) -> tuple[Group, ...]:
    return rig.boxes[box].model.of_role("data")


def _dialects(rig: Rig, gain: Gain) -> str:
    """Why: what the two are controlled by."""
    box, desk = _spoken(rig, gain.box), _spoken(rig, gain.owner)
    if not box:
        return f"`{gain.box}` takes no remote control"
    if not desk:
        return f"`{gain.owner}` speaks no control dialect"
    if not box & desk:
        return f"`{gain.box}` is controlled by {ticked(sorted(box))}, `{gain.owner}` controls by {ticked(sorted(desk))}"
    return f"both speak {ticked(sorted(box & desk))}, and nothing between them carries it"


def _way_out(rig: Rig, gain: Gain, local: bool) -> str:
    box, desk = _spoken(rig, gain.box), _spoken(rig, gain.owner)
    for left in _data_groups(rig, gain.box):
        for right in _data_groups(rig, gain.owner):
            if set(left.dialects) & set(right.dialects):
                return f"join `{gain.box}.{left.name}` and `{gain.owner}.{right.name}`, straight or over a switch"
    others = [name for name in rig.boxes if rig.boxes[name].mixes and name != gain.owner]
    able = sorted(name for name in others if box & _spoken(rig, name) and name in gain.desks)
    if able:
        return f"`{able[0]}` can set them: `control {gain.box}.{gain.group} by {able[0]}`"
    if local:
        return f"set gain at `{gain.box}` itself before the show, and agree on who turns it"
    return f"use a box that {_by(desk)}, or bring these sources to preamps of `{gain.owner}`"


def _by(dialects: set[str]) -> str:
    return f"is controlled by {ticked(sorted(dialects))}" if dialects else "has its gain set at the box itself"


def _related(rig: Rig, gain: Gain) -> tuple[Related, ...]:
    """The lines that say who is controlled by what, and who owns the preamps where a line says so."""
    places = []
    for name in (gain.box, gain.owner):
        groups = [group for group in rig.boxes[name].model.of_role("digital", "data") if group.dialects]
        places += [
            Related(group.place, f"`{name}.{group.name}` speaks {ticked(group.dialects)}") for group in groups[:1]
        ]
    owned = [line for line in rig.controls if line.by == gain.owner and set(line.ports) & set(gain.cut)]
    return (*places, *(Related(line.place, f"`{gain.owner}` is named as their owner here") for line in owned))
