"""Phantom on the line of a ribbon microphone."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import listed
from rigdsl.paths import Live, Paths
from rigdsl.rig import Leg, Port, Rig, Source
from rigdsl_power.lines import askers, bank_text, in_doubt, quiet_sockets

__all__ = ["phantom_on_ribbon"]

CAUTION = "ask its maker, mute, and check the lines before phantom is switched on"
Free = dict[tuple[str, str], Iterator[Port]]


@rule("phantom-on-ribbon", Level.ERROR, NoOptions, edition=2)
def phantom_on_ribbon(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Phantom would be on where a ribbon microphone is plugged that does not ask for it.

    An error where another source on the same wire needs phantom, a warning where it is on only because the inputs
    are switched in one bank (`bank 8`) with one that needs it. `ribbon { phantom }` is an active ribbon, and needs it.

    ## On the night
    On a sound line most ribbons stand it. One crosswired or shorted cable, or one re-plug while phantom is on, puts
    the voltage across the ribbon: phantom can destroy it. Ask the microphone's maker, mute, and check the lines
    before phantom is switched on.

    ## A rig that breaks it
    ```rig
    rig "One switch for eight" { rate 48 kHz }
    model desk16 {
      kind console; channels ch 1-16
      inputs local 1-16 { preamp; phantom 48 V 10 mA; bank 8 }; pass local -> ch
    }
    zone stage
    box DESK is desk16 in stage
    source hat "Hi-hat" condenser in stage to DESK 1 via xlr 6 m
    source gtr "Guitar" ribbon in stage to DESK 2 via xlr 6 m
    ```

    ## A rig that keeps it
    ```rig
    rig "The ribbon in the other eight" { rate 48 kHz }
    model desk16 {
      kind console; channels ch 1-16
      inputs local 1-16 { preamp; phantom 48 V 10 mA; bank 8 }; pass local -> ch
    }
    zone stage
    box DESK is desk16 in stage
    source hat "Hi-hat" condenser in stage to DESK 1 via xlr 6 m
    source gtr "Guitar" ribbon in stage to DESK 9 via xlr 6 m
    ```

    ## Figures
    That a cable or a plug which shorts one wire for a moment puts the voltage across the ribbon: "Phantom Power and
    TT/TRS Patch Bays", uneeda-audio.com.

    ## See also
    `phantom-into-output` for keyboards, receivers and other outputs.
    """
    free: Free = {}
    for source in rig.sources.values():
        if source.type != "ribbon" or source.needs_phantom:
            continue
        on = list(_switched_on(paths, source))
        if on and not in_doubt(rig, paths, source):
            own = [item for item in on if askers(rig, paths, item[1])]
            bank = [item for item in on if item[1].others]
            if own:
                yield _on_its_wire(rig, paths, source, own[0])
            elif bank:
                yield _in_a_bank(rig, paths, source, bank, free)


def _switched_on(paths: Paths, source: Source) -> Iterator[tuple[Port, Live]]:
    """The plugs of a source that phantom reaches, each with a preamp that is on."""
    for index, plug in enumerate(source.ports):
        for feed in paths.fed_by(Leg(source.name, index)):
            if feed.barrier is None and feed.preamp in paths.phantom_on:
                yield plug, paths.phantom_on[feed.preamp]


def _on_its_wire(rig: Rig, paths: Paths, source: Source, on: tuple[Port, Live]) -> Finding:
    plug, live = on
    names = list(dict.fromkeys(leg.name for leg in askers(rig, paths, live)))
    return Finding(
        place=source.place,
        subject=source.name,
        message=(
            f"phantom of `{live.preamp}` is on for {listed(names)} and reaches the ribbon `{source.name}` by the"
            " same wire"
        ),
        consequence="phantom can destroy a ribbon",
        help=f"give the ribbon a line and a preamp of its own; {CAUTION}",
        related=tuple(Related(rig.sources[name].place, f"`{name}` needs it") for name in names[:4]),
        ports=(str(plug),),
        box=plug.box,
    )


def _in_a_bank(rig: Rig, paths: Paths, source: Source, on: list[tuple[Port, Live]], free: Free) -> Finding:
    plug, live = on[0]
    preamp = live.preamp
    key = (preamp.box, preamp.group)
    other = next(free.setdefault(key, quiet_sockets(rig, paths, *key)), None)
    elsewhere = (
        f"plug it into `{other}`, which is free and stays without, or"
        if other
        else "no free input of these stays without:"
    )
    names = list(dict.fromkeys(leg.name for leg in live.others))
    return Finding(
        place=source.place,
        subject=source.name,
        level=Level.WARNING,
        message=(
            f"the ribbon `{source.name}` comes to `{preamp}`, and phantom of {bank_text(rig, preamp)} is switched"
            f" together: it is on for {listed(names)}"
        ),
        consequence="phantom can destroy a ribbon",
        help=f"{elsewhere} put a transformer between; {CAUTION}",
        related=(
            Related(rig.group(preamp).place, "this says that they are switched together"),
            *(Related(rig.sources[name].place, f"`{name}` needs it") for name in names[:4]),
        ),
        ports=tuple(str(port) for port in dict.fromkeys(port for port, _ in on)),
        box=plug.box,
    )
