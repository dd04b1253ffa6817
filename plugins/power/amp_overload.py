"""How many loudspeakers an amplifier's output can drive."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import listed
from rigdsl.paths import Branch, Paths, branches, in_parallel_ohm, line_names, loudspeakers, output_sockets
from rigdsl.rig import Port, Rig, shown

__all__ = ["amp_overload"]


@rule("amp-overload", Level.ERROR, NoOptions, edition=2)
def amp_overload(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """The loudspeakers on one output are, in parallel, less than the amplifier may drive.

    Counted are all loudspeakers on the output's cables, and those that hang on them in turn: through a `pass`, or a
    socket that says `thru`. One without an `impedance` is left out: with it there would be less still. An output
    that does not say `least` is not judged.

    ## On the night
    The amplifier shuts down in the loudest song, again and again, or its output burns out. Amplifier outputs can
    carry dangerous voltages: switch the amplifier off before anybody touches its cables.

    ## A rig that breaks it
    ```rig
    rig "Three wedges on one output" { rate 48 kHz }
    model desk12 {
      kind console; channels ch 1-12; mixes mix 1-4
      inputs local 1-12 { preamp }; outputs local-out 1-4; pass local -> ch; pass mix -> local-out
    }
    model amp2 {
      kind amplifier; inputs in 1-2 { level line }; outputs out 1-2 { level loudspeaker; least 4 ohm }; pass in -> out
    }
    model wedge8 {
      kind loudspeaker; inputs in { level loudspeaker; impedance 8 ohm }; outputs on { level loudspeaker; thru }
    }
    zone stage
    box DESK is desk12 in stage
    box AMP is amp2 in stage
    box W1 is wedge8 in stage
    box W2 is wedge8 in stage
    box W3 is wedge8 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    link L01: DESK.local-out 1 -- AMP.in 1 via xlr 3 m
    link L02: AMP.out 1 -- W1.in via ls4 5 m
    link L03: W1.on -- W2.in via ls4 3 m
    link L04: W2.on -- W3.in via ls4 3 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Two and one" { rate 48 kHz }
    model desk12 {
      kind console; channels ch 1-12; mixes mix 1-4
      inputs local 1-12 { preamp }; outputs local-out 1-4; pass local -> ch; pass mix -> local-out
    }
    model amp2 {
      kind amplifier; inputs in 1-2 { level line }; outputs out 1-2 { level loudspeaker; least 4 ohm }; pass in -> out
    }
    model wedge8 {
      kind loudspeaker; inputs in { level loudspeaker; impedance 8 ohm }; outputs on { level loudspeaker; thru }
    }
    zone stage
    box DESK is desk12 in stage
    box AMP is amp2 in stage
    box W1 is wedge8 in stage
    box W2 is wedge8 in stage
    box W3 is wedge8 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    link L01: DESK.local-out 1-2 -- AMP.in 1-2 via xlr 3 m
    link L02: AMP.out 1 -- W1.in via ls4 5 m
    link L03: W1.on -- W2.in via ls4 3 m
    link L04: AMP.out 2 -- W3.in via ls4 5 m
    ```

    ## Figures
    Loudspeakers in parallel are reckoned as resistances of their nominal impedance, 1/Z = 1/Z1 + 1/Z2 (Ohm's and
    Kirchhoff's laws); what the cables add is left out. `least` is what the amplifier's maker says.

    ## See also
    `speaker-loss`.
    """
    for port in output_sockets(rig):
        least_ohm = rig.group(port).least_ohm
        if least_ohm is None or port.box in rig.incomplete:
            continue
        line = branches(paths, port)
        load_ohm = in_parallel_ohm(ohm for _, ohm in loudspeakers(line))
        if load_ohm < least_ohm * (1 - 1e-9) and rig.incomplete.isdisjoint(line_names(line)):
            yield _overloaded(rig, port, line, least_ohm)


def _overloaded(rig: Rig, port: Port, line: tuple[Branch, ...], least_ohm: float) -> Finding:
    found = loudspeakers(line)
    load_ohm = in_parallel_ohm(ohm for _, ohm in found)
    together = f"{len(found)} loudspeakers in parallel are" if len(found) > 1 else "its loudspeaker is"
    first = rig.links.get(line[0].name) or rig.outputs[line[0].name]
    return Finding(
        place=first.place,
        subject=str(port),
        message=(
            f"`{port}` drives {shown(least_ohm, digits=2)} ohm or more, and {together}"
            f" {shown(load_ohm, digits=2)} ohm: {listed([name for name, _ in found])}"
        ),
        consequence="the amplifier shuts down when it gets loud, or its output burns out",
        help=(
            f"{_away(found, least_ohm)}; switch the amplifier off before anybody touches its cables:"
            " its outputs can carry dangerous voltages"
        ),
        related=(Related(rig.group(port).place, f"`{port}` says how little it may drive by this line"),),
        ports=(str(port),),
        box=port.box,
    )


def _away(found: list[tuple[str, float]], least_ohm: float) -> str:
    """The loudspeakers that have to go elsewhere, from the end of the line."""
    for kept in range(len(found) - 1, 0, -1):
        if in_parallel_ohm(ohm for _, ohm in found[:kept]) >= least_ohm * (1 - 1e-9):
            return f"give {listed([name for name, _ in found[kept:]])} another output"
    return "take another amplifier"
