"""Phantom that a transformer or an active stage keeps from a source."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Barrier, Feed, Paths
from rigdsl.rig import Leg, Port, Rig, Source, ports_text
from rigdsl_power.lines import OWN_SUPPLY, needy

__all__ = ["phantom_blocked"]


@rule("phantom-blocked", Level.ERROR, NoOptions, edition=2)
def phantom_blocked(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A source needs phantom power, and a transformer or an active stage keeps that of every preamp from it.

    Sound gets through an isolated leg of a split, phantom does not. One preamp on a direct leg is enough. What a
    lifted pin 1 or a jack adapter does is not known from a rig, and not judged.

    ## On the night
    Phantom is on at the desk, and the channel is silent all the same.

    ## A rig that breaks it
    ```rig
    rig "All on isolated legs" { rate 48 kHz }
    model split8 {
      kind splitter; inputs in 1-8; outputs direct 1-8; outputs iso 1-8
      pass in -> direct; pass in -> iso { isolated }
    }
    model desk8 { kind console; channels ch 1-8; inputs local 1-8 { preamp; phantom 48 V 10 mA }; pass local -> ch }
    zone stage
    zone foh
    box SP is split8 in stage
    box FOH is desk8 in foh
    link X01: SP.iso 1-8 -- FOH.local 1-8 via xlr 30 m
    source hat "Hi-hat" condenser in stage to SP.in 1 via xlr 6 m
    ```

    ## A rig that keeps it
    ```rig
    rig "One desk on the direct legs" { rate 48 kHz }
    model split8 {
      kind splitter; inputs in 1-8; outputs direct 1-8; outputs iso 1-8
      pass in -> direct; pass in -> iso { isolated }
    }
    model desk8 { kind console; channels ch 1-8; inputs local 1-8 { preamp; phantom 48 V 10 mA }; pass local -> ch }
    zone stage
    zone foh
    box SP is split8 in stage
    box FOH is desk8 in foh
    link X01: SP.direct 1-8 -- FOH.local 1-8 via xlr 30 m
    source hat "Hi-hat" condenser in stage to SP.in 1 via xlr 6 m
    ```

    ## Figures
    Phantom is equal on pins 2 and 3 and comes back by pin 1: a transformer blocks it (encyclopedia of the Institute
    of Professional Sound, "Phantom power").

    ## See also
    `phantom-missing`, and `phantom-shared` for several direct legs.
    """
    for source, legs in needy(rig, paths):
        kept = [(leg, found) for leg in legs if (found := paths.fed_by(leg)) and found[0].barrier]
        if kept:
            yield _blocked(rig, paths, source, [leg for leg, _ in kept], [feed for _, found in kept for feed in found])


def _blocked(rig: Rig, paths: Paths, source: Source, legs: list[Leg], feeds: list[Feed]) -> Finding:
    barriers = list(dict.fromkeys(feed.barrier for feed in feeds if feed.barrier))
    first, preamps = barriers[0], list(dict.fromkeys(feed.preamp for feed in feeds))
    plugs = [source.ports[leg.index] for leg in legs]
    return Finding(
        place=source.place,
        subject=source.name,
        message=(
            f"phantom of `{ports_text(preamps)}` does not reach `{source.name}`:"
            f" `{first.left}` to `{first.right}` {_what(first)}"
        ),
        consequence="phantom is on at the desk, and its channel stays silent",
        help=f"{_way_out(paths, first)}; {OWN_SUPPLY}",
        related=_related(rig, barriers, preamps),
        ports=tuple(str(port) for port in plugs),
        silent=(source.name,),
        box=plugs[0].box,
    )


def _what(barrier: Barrier) -> str:
    return "is isolated (a transformer)" if barrier.by.isolated else "is active and has no phantom of its own"


def _way_out(paths: Paths, barrier: Barrier) -> str:
    """The direct leg of the same split where there is one, free first."""
    direct = paths.direct_legs(barrier.left)
    free = [port for port in direct if port not in paths.pieces]
    if free:
        return f"take a preamp with phantom from the direct leg `{free[0]}`"
    if direct:
        return f"the direct leg `{direct[0]}` goes to an input without phantom: change the two legs round"
    return f"put a preamp with phantom, or a supply, before `{barrier.left.box}`"


def _related(rig: Rig, barriers: list[Barrier], preamps: list[Port]) -> tuple[Related, ...]:
    boxes = dict.fromkeys(port.box for port in preamps)
    return (
        *(Related(one.place, "this is what stops it") for one in dict.fromkeys(barrier.by for barrier in barriers)),
        *(Related(rig.boxes[box].place, f"`{box}` has phantom") for box in boxes),
    )
