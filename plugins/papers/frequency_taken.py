"""A radio frequency belongs to one line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import together
from rigdsl.paths import Paths
from rigdsl.rig import Output, Port, Rig, Source, natural, shown
from rigdsl.text import Span

__all__ = ["frequency_taken"]


@dataclass(frozen=True)
class Line:
    """What a frequency is written for: a source, an output, or a group of a box that nobody else wrote one for."""

    name: str
    frequency_hz: float
    ports: frozenset[Port]
    place: Span
    box: str


@rule("frequency-taken", Level.ERROR, NoOptions, edition=2)
def frequency_taken(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Two radio lines have one frequency written.

    Frequencies are compared in whole hertz. They stand with sources, outputs and the groups of receivers and
    senders. A source and the receiver that it is plugged into are one line, and so are two outputs that listen to
    one sender's lines.

    ## On the night
    Two transmitters on one frequency: both are noise, or one hears the other. What may be sent where, and who needs
    a licence for it, local rules say.

    ## A rig that breaks it
    ```rig
    rig "One frequency" { rate 48 kHz }
    model rx2 { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    box RX is rx2 in stage
    link L01: RX.line 1-2 -- DESK.local 1-2 via xlr 3 m
    source vox wireless in stage to RX 1 { freq 606.5 MHz }
    source host wireless in stage to RX 2 { freq 606500 kHz }
    ```

    ## A rig that keeps it
    ```rig
    rig "Two frequencies" { rate 48 kHz }
    model rx2 { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch }
    zone stage
    box DESK is desk4 in stage
    box RX is rx2 in stage
    link L01: RX.line 1-2 -- DESK.local 1-2 via xlr 3 m
    source vox wireless in stage to RX 1 { freq 606.5 MHz }
    source host wireless in stage to RX 2 { freq 607.9 MHz }
    ```

    ## Figures
    Equal frequencies alone are found. How far apart they must be, and what they mix to, hangs on the gear: a
    frequency plan is made with its maker's own figures.
    """
    by_frequency: dict[int, list[Line]] = defaultdict(list)
    for line in sorted(_lines(rig), key=lambda line: natural(line.name)):
        if rig.incomplete.isdisjoint({line.name, line.box}):
            by_frequency[round(line.frequency_hz)].append(line)
    for lines in by_frequency.values():
        alone = [line for at, line in enumerate(lines) if not any(line.ports & other.ports for other in lines[:at])]
        if len(alone) > 1:
            yield _taken(alone)


def _lines(rig: Rig) -> Iterator[Line]:
    written: set[tuple[str, str]] = set()
    things: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    for thing in things:
        if thing.frequency_hz:
            written |= {port[:2] for port in thing.ports}
            stands = thing.ports[0].box if thing.ports else ""
            yield Line(thing.name, thing.frequency_hz, frozenset(thing.ports), thing.place, stands)
    for box in rig.boxes.values():
        for group in box.model.of_role("inputs", "outputs"):
            if group.frequency_hz and (box.name, group.name) not in written:
                ports = frozenset(box.ports(group))
                yield Line(f"{box.name}.{group.name}", group.frequency_hz, ports, box.place, box.name)


def _taken(lines: list[Line]) -> Finding:
    first, *others = lines
    frequency = f"{shown(first.frequency_hz, 1e6, 6)} MHz"
    return Finding(
        place=first.place,
        subject=frequency,
        message=f"{together([line.name for line in lines])} are on one frequency: {frequency}",
        consequence="neither is heard, or one is heard in place of the other",
        help="give each a frequency of its own, from a plan made for this gear and this place; where two receivers are"
        " meant to hear one transmitter, write `freq` at one of them alone, or `accept` it",
        related=tuple(Related(line.place, f"`{line.name}` is on it too") for line in others),
        box=first.box,
    )
