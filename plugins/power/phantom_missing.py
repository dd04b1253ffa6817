"""A source that needs phantom, on inputs that have none."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Port, Rig, Source, ports_text
from rigdsl_power.lines import OWN_SUPPLY, free_preamps, needy

__all__ = ["phantom_missing"]

Free = dict[str, Iterator[Port]]


@rule("phantom-missing", Level.ERROR, NoOptions, edition=2)
def phantom_missing(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A source needs phantom power, and no input that it comes to has any.

    A `condenser` and an `active-di` need it unless they say `phantom no`, any other source where it says `phantom`.
    An input gives it where its model says `phantom`. A source that is sent by radio has a battery and needs none.

    ## On the night
    The channel is silent, and it is found out in the line check. Gain turned up to look for it bangs in the
    loudspeakers once phantom comes on: mute the channel before anybody tries.

    ## A rig that breaks it
    ```rig
    rig "No phantom in the box" { rate 48 kHz }
    model box8 { kind stage-box; inputs mic 1-8 { preamp }; digital A { protocol aes50 } }
    model desk8 { kind console; channels ch 1-8; digital stage { protocol aes50 } }
    zone stage
    zone foh
    box SL is box8 in stage
    box DESK is desk8 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source hat "Hi-hat" condenser in stage to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Phantom in the box" { rate 48 kHz }
    model box8 { kind stage-box; inputs mic 1-8 { preamp; phantom 48 V 10 mA }; digital A { protocol aes50 } }
    model desk8 { kind console; channels ch 1-8; digital stage { protocol aes50 } }
    zone stage
    zone foh
    box SL is box8 in stage
    box DESK is desk8 in foh
    link C01: SL.A -- DESK.stage via cat6 60 m
    source hat "Hi-hat" condenser in stage to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## Figures
    Phantom is the same voltage on both wires of the pair and comes back by the screen (IEC 61938:2018, as a
    magazine's glossary reports it). How long the cable is does not matter: 10 mA lose 0.04 V in 100 m of thin pair
    (worked out from the resistance of 24 AWG).

    ## See also
    `phantom-blocked` where an input has phantom and something keeps it from the source.
    """
    free: Free = {}
    for source, legs in needy(rig, paths):
        lacking = [(leg, found) for leg in legs if not paths.fed_by(leg) and (found := _inputs(rig, paths, leg))]
        if lacking:
            yield _missing(rig, paths, source, [leg for leg, _ in lacking], _flat(lacking), free)


def _flat(lacking: list[tuple[Leg, list[Port]]]) -> list[Port]:
    return list(dict.fromkeys(port for _, found in lacking for port in found))


def _inputs(rig: Rig, paths: Paths, leg: Leg) -> list[Port]:
    """The inputs at which its wire ends: preamps, and those that pass nothing on."""
    came = paths.walk_of(leg).came
    passes = [(before, port) for port, (before, hop) in came.items() if hop and hop.by == "pass"]
    passed_on = {before for before, port in passes if rig.group(port).role != "channels"}
    inputs = [port for port in came if rig.group(port).role == "inputs"]
    return [port for port in inputs if rig.group(port).preamp or port not in passed_on]


def _missing(rig: Rig, paths: Paths, source: Source, legs: list[Leg], inputs: list[Port], free: Free) -> Finding:
    plugs = [source.ports[leg.index] for leg in legs]
    give = "gives" if len(inputs) == 1 else "give"
    return Finding(
        place=source.place,
        subject=source.name,
        message=f"`{source.name}` needs phantom power, and `{ports_text(inputs)}` {give} none",
        consequence="its channel stays silent",
        help=f"{_way_out(rig, paths, plugs, inputs, free)}; {OWN_SUPPLY}",
        related=tuple(
            Related(rig.group(port).place, f"nothing here says that `{port.box}.{port.group}` has phantom")
            for port in {(port.box, port.group): port for port in inputs}.values()
        ),
        ports=tuple(str(port) for port in dict.fromkeys((*plugs, *inputs))),
        silent=(source.name,),
        box=plugs[0].box,
    )


def _way_out(rig: Rig, paths: Paths, plugs: list[Port], inputs: list[Port], free: Free) -> str:
    """A free input with phantom for each line, on a box that the source is at already; each is told once."""
    for box in dict.fromkeys(port.box for port in (*plugs, *inputs)):
        row = free.setdefault(box, free_preamps(rig, paths, box))
        found = [port for _, port in zip(plugs, row, strict=False)]
        if len(found) == len(plugs):
            verb = "is" if len(found) == 1 else "are"
            return f"`{ports_text(found)}` {verb} free and {'has' if len(found) == 1 else 'have'} phantom"
    return "bring it to an input that has phantom, or put a supply between"
