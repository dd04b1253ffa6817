"""Phantom that comes out where another output drives against it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import listed
from rigdsl.paths import Live, Paths
from rigdsl.rig import Port, Rig, Source, ports_text
from rigdsl.text import Span
from rigdsl_power.lines import askers, bank_text, in_doubt

__all__ = ["phantom_into_output"]

DRIVEN = ("line", "playback", "wireless")  # sources that are the output of something with a mains plug or a battery
# What has a transformer there, is built to be plugged into microphone inputs, or is wire only.
STANDS_IT = ("di", "splitter", "sub-box", "panel")


@rule("phantom-into-output", Level.WARNING, NoOptions, edition=2)
def phantom_into_output(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Phantom that is on for a source in need reaches a receiver, computer, keyboard or another output too.

    Either it shares the wire, or the inputs are switched in one bank (`bank 8`). A DI or another transformer keeps
    phantom off; the outputs of splitters are taken to stand it.

    ## On the night
    Some outputs are built to stand 48 V, others crackle and fade, and some are broken for good.

    ## A rig that breaks it
    ```rig
    rig "Keys among the microphones" { rate 48 kHz }
    model desk16 {
      kind console; channels ch 1-16
      inputs local 1-16 { preamp; phantom 48 V 10 mA; bank 8 }; pass local -> ch
    }
    zone stage
    box DESK is desk16 in stage
    source hat "Hi-hat" condenser in stage to DESK 1 via xlr 6 m
    source keys "Keys" line in stage to DESK 2 via xlr 6 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Keys behind a DI" { rate 48 kHz }
    model di1 { kind di; inputs in { level line }; outputs out { level mic }; pass in -> out { isolated } }
    model desk16 {
      kind console; channels ch 1-16
      inputs local 1-16 { preamp; phantom 48 V 10 mA; bank 8 }; pass local -> ch
    }
    zone stage
    box DI is di1 in stage
    box DESK is desk16 in stage
    link X01: DI.out -- DESK.local 2 via xlr 6 m
    source hat "Hi-hat" condenser in stage to DESK 1 via xlr 6 m
    source keys "Keys" line in stage to DI.in via xlr 2 m
    ```

    ## Figures
    That phantom harms outputs which are not built for it, and a transformer or DI keeps it off: a sound magazine's
    answer to "How should I protect an audio interface from phantom power damage" (sospubs.co.uk). Into a short it
    drives up to 14.1 mA (48 V behind 3.4 kohm, IEC 61938).

    ## See also
    `phantom-on-ribbon`.
    """
    for source in rig.sources.values():
        if source.type in DRIVEN and not _by_air(rig, source):
            reached = list(_plugs(rig, paths, source))
            if reached and not in_doubt(rig, paths, source):
                yield _into_source(rig, paths, source, reached)
    into: dict[str, list[_Reached]] = {}
    for one in _outputs(rig, paths):
        into.setdefault(one.port.box, []).append(one)
    for box, found in into.items():
        if box not in rig.incomplete:
            yield _into_box(rig, paths, box, found)


@dataclass(frozen=True)
class _Reached:
    """A plug or an output that phantom comes to, and the preamp that is on."""

    port: Port
    live: Live


def _by_air(rig: Rig, source: Source) -> bool:
    return any(rig.group(port).wireless or rig.group(port).soft for port in source.ports)


def _plugs(rig: Rig, paths: Paths, source: Source) -> Iterator[_Reached]:
    """The plugs of a source that phantom of others comes to."""
    for plug in source.ports:
        live = _live(rig, paths, plug)
        if live:
            yield _Reached(plug, live)


def _outputs(rig: Rig, paths: Paths) -> Iterator[_Reached]:
    """The outputs of boxes that phantom comes to, in natural order."""
    if not paths.phantom_on:
        return
    for port in sorted((port for port in paths.pieces if _drives(rig, port)), key=lambda port: port.key):
        live = _live(rig, paths, port)
        if live:
            yield _Reached(port, live)


def _live(rig: Rig, paths: Paths, port: Port) -> Live | None:
    """The nearest preamp whose phantom is on for others and comes to a socket by wire."""
    for feed in paths.feeds_at(port):
        live = paths.phantom_on.get(feed.preamp)
        if feed.barrier is None and live and (askers(rig, paths, live) or live.others):
            return live
    return None


def _drives(rig: Rig, port: Port) -> bool:
    """An output with something in its box that drives it: no wire, no transformer."""
    box = rig.boxes[port.box]
    if rig.group(port).role != "outputs" or box.kind in STANDS_IT:
        return False
    behind = [one for one in box.model.passes if one.right == port.group or (one.two_way and one.left == port.group)]
    return all(one.active and not one.isolated for one in behind)


def _into_source(rig: Rig, paths: Paths, source: Source, reached: list[_Reached]) -> Finding:
    return _into(rig, paths, source.name, source.place, f"the output of `{source.name}`", reached)


def _into_box(rig: Rig, paths: Paths, box: str, reached: list[_Reached]) -> Finding:
    outputs = ports_text(one.port for one in reached)
    noun = "the output" if len(reached) == 1 else "the outputs"
    return _into(rig, paths, box, rig.boxes[box].place, f"{noun} `{outputs}`", reached)


def _into(rig: Rig, paths: Paths, subject: str, place: Span, what: str, reached: list[_Reached]) -> Finding:
    live = reached[0].live
    on_wire = askers(rig, paths, live)
    names = list(dict.fromkeys(leg.name for leg in on_wire or live.others))
    where = f"`{live.preamp}`" if on_wire else f"{bank_text(rig, live.preamp)}, switched together,"
    return Finding(
        place=place,
        subject=subject,
        message=f"phantom of {where} is on for {listed(names)} and reaches {what}",
        consequence="it may crackle, fade, or be broken by it",
        help="put a DI or another transformer between, or ask its maker whether it stands phantom",
        related=tuple(Related(rig.sources[name].place, f"`{name}` needs it") for name in names[:4]),
        ports=tuple(str(one.port) for one in reached),
        box=reached[0].port.box,
    )
