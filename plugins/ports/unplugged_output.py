"""An output must be plugged in somewhere."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import listed
from rigdsl.paths import Paths
from rigdsl.rig import Box, Output, Port, Rig
from rigdsl_ports.players import entries, fed_sockets, further, loudspeakers
from rigdsl_ports.sockets import Rows, free_outputs, kept, offered
from rigdsl_ports.unread import unread_cables

__all__ = ["unplugged_output"]


@rule("unplugged-output", Level.ERROR, NoOptions)
def unplugged_output(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A wedge, a loudspeaker or another output is plugged into nothing, or has no socket yet.

    A loudspeaker that stands by as a spare is kept: `keep SPARE.in for "spare"`. What hangs on a loudspeaker without a
    cable is told with it.

    ## On the night
    It stays silent.

    ## A rig that breaks it
    ```rig
    rig "A wedge without a cable" { rate 48 kHz }
    model desk4 {
      kind console; channels ch 1-4; mixes mix 1-2; inputs local 1-4 { preamp }; outputs local-out 1-2
      pass local -> ch; pass mix -> local-out
    }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    output wdg1 "Lead wedge" wedge in stage
    ```

    ## A rig that keeps it
    ```rig
    rig "A wedge on a cable" { rate 48 kHz }
    model desk4 {
      kind console; channels ch 1-4; mixes mix 1-2; inputs local 1-4 { preamp }; outputs local-out 1-2
      pass local -> ch; pass mix -> local-out
    }
    zone stage
    box DESK is desk4 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    output wdg1 "Lead wedge" wedge in stage from DESK.local-out 1 via xlr 5 m
    ```

    ## See also
    `silent-output` for outputs that are plugged in and still silent.
    """
    spare, rows = kept(rig), Rows()
    for output in rig.outputs.values():
        if not output.ports and output.name not in rig.incomplete:
            yield Finding(
                place=output.place,
                subject=output.name,
                message=f"`{output.name}` comes from `{output.aimed}` and has no socket yet"
                if output.aimed
                else f"`{output.name}` is plugged into nothing",
                consequence="it stays silent",
                help=_way_out(rig, paths, output, spare, rows),
                silent=(output.name,),
                box=output.aimed,
            )
    unread = unread_cables(rig, paths)
    for box in loudspeakers(rig):
        if not fed_sockets(paths, box) and not any(unread(port) for port in entries(box)):
            yield _loose(box, further(paths, box))


def _loose(box: Box, behind: list[str]) -> Finding:
    """A loudspeaker without a cable, and what hangs on it."""
    too = f", and {listed(behind)} behind it too" if behind else ""
    return Finding(
        place=box.place,
        subject=box.name,
        message=f"nothing is plugged into `{box.name}`",
        consequence=f"it stays silent{too}",
        help="join it to what drives it with a `link`, or `keep` its input if it stands by as a spare",
        silent=(box.name, *behind),
        box=box.name,
    )


def _way_out(rig: Rig, paths: Paths, output: Output, spare: frozenset[Port], rows: Rows) -> str:
    """A free output of the box that is aimed at, else of a stage box."""
    boxes = [rig.boxes[output.aimed]] if output.aimed in rig.boxes else []
    boxes = boxes or [box for box in rig.boxes.values() if box.kind == "stage-box"]
    boxes.sort(key=lambda box: box.zone != output.zone)
    wireless = output.type == "in-ear"
    free = offered(rows, boxes, wireless, lambda box: free_outputs(paths, box, spare, wireless=wireless))
    if free:
        return f"`{free}` is free: `from {free}`"
    return f"no output of `{output.aimed}` is free" if output.aimed else "say where it comes from: `from BOX.group 1`"
