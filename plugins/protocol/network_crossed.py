"""Primary ports in the primary network, secondary ports in the secondary one."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import stage_end
from rigdsl.paths import Paths, Run
from rigdsl.rig import Port, Rig

__all__ = ["network_crossed"]


@rule("network-crossed", Level.ERROR, NoOptions)
def network_crossed(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A primary port is plugged into the secondary network, or the reverse.

    ## On the night
    All is well as long as nothing breaks. When one network fails, the sound that should have gone on over
    the other one goes with it.

    ## A rig that breaks it
    ```rig
    rig "Crossed" { rate 48 kHz }
    protocol brooknet { carries 64 at 48 kHz; over cat5e 100 m; topology network }
    model nb16 {
      kind stage-box
      inputs mic 1-16 { preamp }
      digital pri { protocol brooknet; net primary }
      digital sec { protocol brooknet; net secondary }
    }
    model desk32 {
      kind console
      channels ch 1-32
      digital pri { protocol brooknet; net primary }
      digital sec { protocol brooknet; net secondary }
    }
    model switch8 { kind switch; digital port 1-8 }
    zone wing
    zone foh
    box SL is nb16 in wing
    box DESK is desk32 in foh
    box SWA is switch8 in wing { net primary }
    box SWB is switch8 in wing { net secondary }
    link A1: DESK.pri -- SWA.port 1 via cat6 60 m
    link A2: SL.pri -- SWB.port 2 via cat6 2 m
    link B1: DESK.sec -- SWB.port 1 via cat6 60 m
    link B2: SL.sec -- SWA.port 2 via cat6 2 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Kept apart" { rate 48 kHz }
    protocol brooknet { carries 64 at 48 kHz; over cat5e 100 m; topology network }
    model nb16 {
      kind stage-box
      inputs mic 1-16 { preamp }
      digital pri { protocol brooknet; net primary }
      digital sec { protocol brooknet; net secondary }
    }
    model desk32 {
      kind console
      channels ch 1-32
      digital pri { protocol brooknet; net primary }
      digital sec { protocol brooknet; net secondary }
    }
    model switch8 { kind switch; digital port 1-8 }
    zone wing
    zone foh
    box SL is nb16 in wing
    box DESK is desk32 in foh
    box SWA is switch8 in wing { net primary }
    box SWB is switch8 in wing { net secondary }
    link A1: DESK.pri -- SWA.port 1 via cat6 60 m
    link A2: SL.pri -- SWA.port 2 via cat6 2 m
    link B1: DESK.sec -- SWB.port 1 via cat6 60 m
    link B2: SL.sec -- SWB.port 2 via cat6 2 m
    ```
    """
    sides = {switch: network.side for network in paths.networks for switch in network.switches}
    for run in paths.runs:
        left, right = (_side(rig, end, sides) for end in run.ends)
        if left and right and left != right:
            yield _crossed(rig, paths, run, (left, right))


def _side(rig: Rig, port: Port, sides: dict[str, str]) -> str:
    """Primary, secondary or nothing: what the port or its box says, else the network of its switch."""
    box = rig.boxes[port.box]
    return rig.group(port).net or box.net or rig.boxes[rig.body(port.box)].net or sides.get(port.box, "")


def _crossed(rig: Rig, paths: Paths, run: Run, sides: tuple[str, str]) -> Finding:
    (left, left_side), (right, right_side) = zip(run.ends, sides, strict=True)
    return Finding(
        place=run.links[0].place,
        subject=run.name,
        message=f"`{left}` is {left_side} and `{right}` is {right_side}: this cable joins the two networks",
        consequence="it works until one network fails; then what should go on over the other one stops too",
        help=_way_out(rig, run, sides),
        related=tuple(
            Related(rig.boxes[end.box].place, f"`{end}` is {side}") for end, side in zip(run.ends, sides, strict=True)
        ),
        ports=tuple(str(end) for end in run.ends),
        box=stage_end(paths, run).box,
    )


def _way_out(rig: Rig, run: Run, sides: tuple[str, str]) -> str:
    """Where to plug the ends that are no switch; between two switches the cable has no business at all."""
    ends = [(end, side) for end, side in zip(run.ends, sides, strict=True) if rig.boxes[end.box].kind != "switch"]
    if not ends:
        return f"take `{run.name}` out: the two networks have no cable in common"
    return "plug " + " and ".join(f"`{end}` into the {side} network" for end, side in ends)
