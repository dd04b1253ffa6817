"""Two preamps that can both feed one source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import ticked
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Port, Rig, Source, ports_text
from rigdsl_power.lines import needy

__all__ = ["phantom_shared"]


@rule("phantom-shared", Level.NOTE, NoOptions, edition=2)
def phantom_shared(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Two preamps with phantom can feed one source over direct legs: a split or a Y lead without a transformer.

    A note where one owner is named by a `control` line, or where all those preamps are of one desk; a warning
    where nothing says who gives the phantom.

    ## On the night
    Each engineer takes it that the other one gives the phantom, or both do: then whoever switches it makes it bang in
    the other one's loudspeakers and ears. Mute at both desks before it is switched.

    ## A rig that breaks it
    ```rig
    rig "Two desks on direct legs" { rate 48 kHz }
    model split8 {
      kind splitter; inputs in 1-8; outputs a 1-8; outputs b 1-8; pass in -> a; pass in -> b
    }
    model desk8 { kind console; channels ch 1-8; inputs local 1-8 { preamp; phantom 48 V 10 mA }; pass local -> ch }
    zone stage
    zone foh
    box SP is split8 in stage
    box FOH is desk8 in foh
    box MON is desk8 in stage
    link X01: SP.a 1-8 -- FOH.local 1-8 via xlr 30 m
    link X02: SP.b 1-8 -- MON.local 1-8 via xlr 5 m
    source hat "Hi-hat" condenser in stage to SP.in 1 via xlr 6 m
    ```

    ## A rig that keeps it
    ```rig
    rig "One desk behind transformers" { rate 48 kHz }
    model split8 {
      kind splitter; inputs in 1-8; outputs a 1-8; outputs b 1-8; pass in -> a { isolated }; pass in -> b
    }
    model desk8 { kind console; channels ch 1-8; inputs local 1-8 { preamp; phantom 48 V 10 mA }; pass local -> ch }
    zone stage
    zone foh
    box SP is split8 in stage
    box FOH is desk8 in foh
    box MON is desk8 in stage
    link X01: SP.a 1-8 -- FOH.local 1-8 via xlr 30 m
    link X02: SP.b 1-8 -- MON.local 1-8 via xlr 5 m
    source hat "Hi-hat" condenser in stage to SP.in 1 via xlr 6 m
    ```

    ## Figures
    That one desk gives the phantom and the others stand behind transformers: common practice, no source.

    ## See also
    `two-controllers` for the gain of one preamp, `phantom-blocked`.
    """
    if "control" in rig.left_out:
        return  # a line that says whose it is could not be read
    found = [(source, shared) for source, legs in needy(rig, paths) if (shared := _shared_legs(paths, legs))]
    if not found:
        return
    owner_of = {port: owner for gain in paths.gains for port, owner in zip(gain.ports, gain.owners, strict=True)}
    for source, shared in found:
        named = all(_one_owner(rig, paths, owner_of, ports) for ports in shared)
        yield _shared(rig, source, list(dict.fromkeys(port for ports in shared for port in ports)), named)


def _shared_legs(paths: Paths, legs: Iterable[Leg]) -> list[list[Port]]:
    """For each line that several preamps can feed, those preamps."""
    direct = ([feed.preamp for feed in paths.fed_by(leg) if feed.barrier is None] for leg in legs)
    return [ports for ports in direct if len(ports) > 1]


def _one_owner(rig: Rig, paths: Paths, owner_of: Mapping[Port, str], ports: list[Port]) -> bool:
    """Whether one owner is named for any of them, or all are of one desk, or set from one."""
    named = {paths.owners[port][0] for port in ports if port in paths.owners}
    if named:
        return len(named) == 1
    owners = {desk if rig.boxes[desk := rig.body(port.box)].mixes else owner_of.get(port, "") for port in ports}
    return len(owners) == 1 and "" not in owners


def _shared(rig: Rig, source: Source, preamps: list[Port], named: bool) -> Finding:
    boxes = list(dict.fromkeys(port.box for port in preamps))
    first = next((box for box in boxes if rig.boxes[box].mixes), "")
    line = f", as in `control {ports_text(port for port in preamps if port.box == first)} by {first}`" if first else ""
    agree = "leave phantom off at the others" if named else f"agree on who gives it and say so{line}"
    return Finding(
        place=source.place,
        subject=source.name,
        level=None if named else Level.WARNING,
        message=f"`{source.name}` can get phantom from {ticked(preamps)} at once: all on direct legs",
        consequence="nobody gives it or both do, and whoever switches it makes it bang at both",
        help=f"{agree}; an isolated leg keeps the others out of it",
        related=tuple(Related(rig.boxes[box].place, f"`{box}` has phantom") for box in boxes),
        ports=tuple(str(port) for port in source.ports),
        box=source.ports[0].box,
    )
