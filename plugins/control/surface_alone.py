"""A surface steers an engine, and an engine wants somebody to steer it."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Box, Rig

__all__ = ["surface_alone"]


@rule("surface-alone", Level.ERROR, NoOptions)
def surface_alone(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A surface is joined to no engine or desk, or (a warning) nothing controls an engine.

    A surface carries no audio: without its engine it is a table with faders. A tablet is a surface too, and may
    steer a desk. An engine is controlled by a surface, or by any box on its data port. Joined means by cables or
    over the air, through panels and switches; whether those work other rules say.

    ## On the night
    The faders move and nothing happens.

    ## A rig that breaks it
    ```rig
    rig "Faders for nothing" { }
    model surf24 { kind surface; data ctl }
    zone foh
    box DECK is surf24 in foh
    ```

    ## A rig that keeps it
    ```rig
    rig "Faders for the engine" { }
    model surf24 { kind surface; data ctl }
    model core64 { kind engine; channels ch 1-64; mixes mix 1-24; data ctl }
    zone wing
    zone foh
    box DECK is surf24 in foh
    box CORE is core64 in wing
    link N01: DECK.ctl -- CORE.ctl via cat6 60 m
    ```
    """
    surfaces = [box for box in rig.boxes.values() if box.kind == "surface"]
    engines = [box for box in rig.boxes.values() if box.kind == "engine"]
    if any(paths.unsure_between(box.name, box.name) for box in (*surfaces, *engines)):
        return  # a cable, or the box at its end, may be there and could not be read
    steered = {box.name: paths.joined_boxes(box.name) for box in surfaces}
    lone = [box for box in surfaces if not any(rig.boxes[name].mixes for name in steered[box.name])]
    for box in lone:
        yield _lone_surface(box, engines)
    if lone:
        return  # the engine that it should steer is explained by it
    for box in engines:
        if not any(box.name in joined for joined in steered.values()) and not _hands_on(rig, paths, box):
            yield _lone_engine(box)


def _hands_on(rig: Rig, paths: Paths, engine: Box) -> bool:
    """Whether any box is on a data port of an engine, straight or through switches."""
    for port, runs in paths.run_at.items():
        if rig.body(port.box) != engine.name or rig.group(port).role != "data":
            continue
        for run in runs:
            far = rig.body(run.other(port).box)
            beyond = paths.joined_boxes(far) if rig.boxes[far].kind == "switch" else {far}
            if any(rig.boxes[name].kind not in ("switch", "panel") for name in beyond if name != engine.name):
                return True
    return False


def _lone_surface(box: Box, engines: list[Box]) -> Finding:
    if engines:
        way_out = f"join it to its engine, such as `{engines[0].name}`, over their data ports or the show's switch"
    else:
        way_out = "bring the engine that it belongs to, or use a desk (console) that mixes by itself"
    return Finding(
        place=box.place,
        subject=box.name,
        message=f"the surface `{box.name}` is joined to no engine or desk",
        consequence="its faders move and nothing happens",
        help=way_out,
        box=box.name,
    )


def _lone_engine(box: Box) -> Finding:
    return Finding(
        place=box.place,
        subject=box.name,
        level=Level.WARNING,
        message=f"nothing controls the engine `{box.name}`",
        consequence="it mixes as it was left, and nobody can change it",
        help="join a surface, or a tablet or computer to its data port",
        box=box.name,
    )
