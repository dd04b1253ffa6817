"""What loudspeaker cables take of the amplifier's power."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from rigdsl.finding import Finding, Level
from rigdsl.lint.rule import rule
from rigdsl.paths import Branch, Paths, branches, line_names, output_sockets
from rigdsl.rig import Port, Rig, ports_text, shown
from rigdsl_distance.formulae import SECTIONS_M2
from rigdsl_distance.speakers import worst

__all__ = ["speaker_loss"]


@dataclass(frozen=True)
class Options:
    """How much may be lost."""

    most_db: float = field(default=0.5, metadata={"help": "loss that is still fine, in dB", "exclusiveMinimum": 0})


@rule("speaker-loss", Level.WARNING, Options)
def speaker_loss(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """A loudspeaker cable takes too much of what the amplifier gives.

    Counted are both conductors of every piece, and all loudspeakers on the line in parallel. A loudspeaker without
    an `impedance`, and a cable without a `conductor` or a length, count as nothing.

    ## On the night
    The far loudspeakers are quieter and the bass is loose. Amplifier outputs can carry dangerous voltages: switch
    the amplifier off before anybody touches its cables.

    ## A rig that breaks it
    ```rig
    rig "Thin cable" { rate 48 kHz }
    cable ls2x "Loudspeaker cable" { medium loudspeaker; conductor 2.5 mm2 }
    model desk12 {
      kind console; channels ch 1-12; mixes mix 1-4
      inputs local 1-12 { preamp }; outputs local-out 1-4; pass local -> ch; pass mix -> local-out
    }
    model amp2 {
      kind amplifier; inputs in 1-2 { level line }; outputs out 1-2 { level loudspeaker }; pass in -> out
    }
    model top8 { kind loudspeaker; inputs in { level loudspeaker; impedance 8 ohm } }
    zone stage
    box DESK is desk12 in stage
    box AMP is amp2 in stage
    box PA is top8 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    link L01: DESK.local-out 1 -- AMP.in 1 via xlr 3 m
    link L02: AMP.out 1 -- PA.in via ls2x 35 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Thick cable" { rate 48 kHz }
    cable ls4x "Loudspeaker cable" { medium loudspeaker; conductor 4 mm2 }
    model desk12 {
      kind console; channels ch 1-12; mixes mix 1-4
      inputs local 1-12 { preamp }; outputs local-out 1-4; pass local -> ch; pass mix -> local-out
    }
    model amp2 {
      kind amplifier; inputs in 1-2 { level line }; outputs out 1-2 { level loudspeaker }; pass in -> out
    }
    model top8 { kind loudspeaker; inputs in { level loudspeaker; impedance 8 ohm } }
    zone stage
    box DESK is desk12 in stage
    box AMP is amp2 in stage
    box PA is top8 in stage
    source vox dynamic in stage to DESK 1 via xlr 5 m
    link L01: DESK.local-out 1 -- AMP.in 1 via xlr 3 m
    link L02: AMP.out 1 -- PA.in via ls4x 35 m
    ```

    ## Figures
    Resistance is the most that IEC 60228 allows for class 5 conductors of plain copper at 20 C, such as 7.98 ohm/km
    for 2.5 mm2. The loss is that of a voltage divider, from an amplifier of no impedance. 0.5 dB is 6 % of the
    load's impedance: common practice, no source.
    """
    lines: dict[str, list[tuple[Port, tuple[Branch, ...]]]] = {}
    for port in output_sockets(rig):
        line = branches(paths, port)
        if worst(line)[0] > options.most_db + 1e-9:
            lines.setdefault("+".join(line_names(line)), []).append((port, line))
    for subject, found in lines.items():
        yield _lossy(rig, subject, found, options)


def _lossy(rig: Rig, subject: str, found: list[tuple[Port, tuple[Branch, ...]]], options: Options) -> Finding:
    ports = [port for port, _ in found]
    _, line = max(found, key=lambda item: worst(item[1])[0])
    loss_db, name = worst(line)
    first = line[0].name
    return Finding(
        place=(rig.links.get(first) or rig.outputs[first]).place,
        subject=subject,
        message=f"`{name}` gets {shown(loss_db, digits=2)} dB less than `{ports_text(ports)}` gives",
        consequence="it is quieter than planned, and its bass is loose",
        help=f"{_thicker(line, options)}; switch the amplifier off before anybody touches its cables",
        ports=tuple(str(port) for port in ports),
        box=ports[0].box,
    )


def _thicker(line: tuple[Branch, ...], options: Options) -> str:
    """The least section of the standard that would do."""
    for area_m2 in SECTIONS_M2:
        loss_db, _ = worst(line, area_m2)
        if loss_db <= options.most_db:
            return f"{shown(area_m2, 1e-6, 2)} mm2 would lose {shown(loss_db, digits=2)} dB"
    return "stand the amplifier nearer to its loudspeakers"
