"""Two ways between the same switches go round in a circle."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import together
from rigdsl.paths import Paths
from rigdsl.rig import Link, Rig

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
    rig "One cable too many" {}
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
    rig "Two cables used as one" {}
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
            yield _loop(loop)


def _loop(loop: tuple[Link, ...]) -> Finding:
    first, *others = loop
    switches = sorted({port.box for link in loop for pair in link.joins for port in pair})
    return Finding(
        place=first.place,
        subject=first.name,
        message=_message([link.name for link in loop], switches),
        consequence="the network fills up with its own packets, and everything on it stops",
        help="take one of the cables out, or say `ring R1` or `bundle B1` on each where the switches are set up for it",
        related=tuple(Related(link.place, "another cable of the circle") for link in others),
        box=first.joins[0][0].box,
    )


def _message(links: list[str], switches: list[str]) -> str:
    if len(switches) == 1:
        return f"{together(links)} {'leads' if len(links) == 1 else 'lead'} from `{switches[0]}` back to itself"
    return f"{together(links)} make a circle between {together(switches)}"
