"""Remote preamps that no desk can reach: nobody can turn their gain."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, Sockets, rule
from rigdsl.paths import Gain, Paths
from rigdsl.rig import Port, Rig, ports_text
from rigdsl_control.gains import behind, names_behind

__all__ = ["no_controller"]


@rule("no-controller", Level.WARNING, NoOptions)
def no_controller(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Sockets]:
    """Remote preamps are patched, and to no console or engine: a stage box straight into a computer.

    A computer, a surface or a tablet owns no gain unless a `control` line says so. Preamps that can also be set at
    the box (`gain local, remote`) are left alone.

    ## On the night
    Sound arrives in the recording at whatever gain the box was left at, and nobody can turn it.

    ## A rig that breaks it
    ```rig
    rig "Straight into the recorder" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp; gain remote }; digital A { protocol aes50; control fern } }
    model rec32 { kind computer; channels track 1-32; digital in { protocol aes50 } }
    zone wing
    box SL is nw16 in wing
    box REC is rec32 in wing
    link C01: SL.A -- REC.in via cat6 10 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> REC.track 1
    ```

    ## A rig that keeps it
    ```rig
    rig "The recorder sets the gain" { rate 48 kHz }
    model nw16 { kind stage-box; inputs mic 1-16 { preamp; gain remote }; digital A { protocol aes50; control fern } }
    model rec32 { kind computer; channels track 1-32; digital in { protocol aes50; control fern } }
    zone wing
    box SL is nw16 in wing
    box REC is rec32 in wing
    link C01: SL.A -- REC.in via cat6 10 m
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> REC.track 1
    control SL.mic 1 by REC
    ```
    """
    if rig.left_out & {"control", "patch"}:
        return  # a line that names an owner, or takes them to a desk, could not be read
    unknown = {
        pair.route.left for pair in paths.pairs if pair.route and pair.route.right.box in rig.incomplete
    }  # it may well be a desk that they go to
    for gain in paths.gains:
        ports = tuple(port for port in gain.lone if port not in unknown)
        if ports and "local" not in rig.group(ports[0]).gain:
            yield Sockets(ports, partial(_finding, rig, paths, gain))


def _finding(rig: Rig, paths: Paths, gain: Gain, ports: tuple[Port, ...]) -> Finding:
    return Finding(
        place=rig.boxes[gain.box].place,
        subject=f"{gain.box}.{gain.group}",
        message=f"`{ports_text(ports)}` {_goes(ports)} to no desk (console) or engine that could set gain and phantom",
        consequence=f"gain and phantom stay as they were left{names_behind(behind(rig, paths, ports))}",
        help=f"patch them to a desk too, or say who sets them, as in `control {ports_text(ports)} by` and its name",
        ports=tuple(str(port) for port in ports),
        box=gain.box,
    )


def _goes(ports: tuple[Port, ...]) -> str:
    return "goes" if len(ports) == 1 else "go"
