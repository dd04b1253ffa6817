"""An address on the network belongs to one box."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from ipaddress import ip_address

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import together
from rigdsl.paths import Paths
from rigdsl.rig import Box, Rig, natural

__all__ = ["address_taken"]


@rule("address-taken", Level.ERROR, NoOptions, edition=2)
def address_taken(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """Two boxes have one address written.

    An address that stands in the model belongs to each of its boxes.

    ## On the night
    Both boxes drop off the network in turn, or control moves the wrong one.

    ## A rig that breaks it
    ```rig
    rig "One address" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch; data net }
    model sw8 { kind switch; digital port 1-8 }
    zone stage
    box FOH is desk4 in stage { address 10.0.4.11 }
    box MON is desk4 in stage { address 10.0.4.11 }
    box SW is sw8 in stage
    link N01: FOH.net -- SW.port 1 via cat6 5 m
    link N02: MON.net -- SW.port 2 via cat6 5 m
    source vox dynamic in stage to FOH 1 via xlr 5 m
    source shout talkback in stage to MON 1 via xlr 5 m
    ```

    ## A rig that keeps it
    ```rig
    rig "Two addresses" { rate 48 kHz }
    model desk4 { kind console; channels ch 1-4; inputs local 1-4 { preamp }; pass local -> ch; data net }
    model sw8 { kind switch; digital port 1-8 }
    zone stage
    box FOH is desk4 in stage { address 10.0.4.11 }
    box MON is desk4 in stage { address 10.0.4.12 }
    box SW is sw8 in stage
    link N01: FOH.net -- SW.port 1 via cat6 5 m
    link N02: MON.net -- SW.port 2 via cat6 5 m
    source vox dynamic in stage to FOH 1 via xlr 5 m
    source shout talkback in stage to MON 1 via xlr 5 m
    ```

    ## Figures
    That no two hosts of a network may share an address is RFC 5227 (IPv4 address conflict detection). Addresses are
    compared in their one spelling (RFC 5952 for IPv6).
    """
    by_address: dict[str, list[Box]] = defaultdict(list)
    for box in sorted(rig.boxes.values(), key=lambda box: natural(box.name)):
        if box.address and box.name not in rig.incomplete:
            by_address[_spelled(box.address)].append(box)
    for first, *others in by_address.values():
        if others:
            yield _taken(first, others)


def _spelled(address: str) -> str:
    """An address in its one spelling; what is no IP address as it stands."""
    try:
        return str(ip_address(address.strip()))
    except ValueError:
        return address.strip().casefold()


def _taken(first: Box, others: list[Box]) -> Finding:
    names = [box.name for box in (first, *others)]
    return Finding(
        place=first.place,
        subject=_spelled(first.address),
        message=f"{together(names)} have one address: {first.address.strip()}",
        consequence="they drop off the network in turn, or the wrong one answers",
        help="give each an address of its own",
        related=tuple(Related(box.place, f"`{box.name}` has it too") for box in others),
        box=first.name,
    )
