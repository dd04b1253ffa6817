"""Two ways between the same switches go round in a circle."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import together
from rigdsl.paths import Paths
from rigdsl.rig import Link, Rig, natural

__all__ = ["network_loop"]


@rule("network-loop", Level.ERROR, NoOptions)
def network_loop(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """There are two ways between the same network switches, and no line says that this is meant.

    A ring that the switches are set up for says `ring R1` on each of its links; two cables that the switches
    use as one say `bundle B1` on each.

    ## On the night
    The same packets go round and round, the network fills up, and everything on it stops within seconds.

    ## A rig that breaks it
    ```rig
    rig "One cable too many" { }
    model switch8 { kind switch; digital port 1-8 }
    zone wing
    zone foh
    box SW1 is switch8 in wing
    box SW2 is switch8 in foh
    link C01: SW1.port 1 -- SW2.port 1 via cat6 60 m
    link C02: SW1.port 2 -- SW2.port 2 via cat6 60 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Two cables used as one" { }
    model switch8 { kind switch; digital port 1-8 }
    zone wing
    zone foh
    box SW1 is switch8 in wing
    box SW2 is switch8 in foh
    link C01: SW1.port 1 -- SW2.port 1 via cat6 60 m { bundle B1 }
    link C02: SW1.port 2 -- SW2.port 2 via cat6 60 m { bundle B1 }
    ```
    """
    for network in paths.networks:
        for loop in network.loops:
            yield _loop(rig, loop)


def _loop(rig: Rig, loop: tuple[Link, ...]) -> Finding:
    first, *others = loop
    boxes = {port.box for link in loop for pair in link.joins for port in pair}
    switches = sorted((box for box in boxes if rig.boxes[box].kind == "switch"), key=natural)
    return Finding(
        place=first.place,
        subject=first.name,
        message=_message([link.name for link in loop], switches),
        consequence="the network fills up with its own packets, and everything on it stops",
        help=_way_out(first, bool(others), len(switches)),
        related=tuple(Related(link.place, "another cable of the circle") for link in others),
        box=switches[0],
    )


def _message(links: list[str], switches: list[str]) -> str:
    one = len(links) == 1
    if len(switches) == 1:
        return f"{together(links)} {'leads' if one else 'lead'} from `{switches[0]}` back to itself"
    return f"{together(links)} {'makes' if one else 'make'} a circle between {together(switches)}"


def _way_out(first: Link, several: bool, switches: int) -> str:
    if switches == 1:
        return "take one of the cables out" if several else f"take `{first.name}` out"
    cables, each = ("cables", "on each") if several else (f"lines of `{first.name}`", "on it")
    return f"take one of the {cables} out, or say `ring R1` or `bundle B1` {each} where the switches are set up for it"
