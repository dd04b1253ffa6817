"""One big network, as at a festival: switches in a tree, stage boxes on all of them, desks in the middle.

All names are invented. Every box is patched to every desk, and every desk sends back to every box.
"""

from __future__ import annotations

from collections.abc import Iterator

__all__ = ["network_text"]

GEAR = """\
protocol brooknet "Brooknet" {
  carries 512 at 48 kHz, 256 at 96 kHz
  over cat5e 100 m, om3 300 m
  topology network
  latency 1 ms per network
}
model nb16 "16x8 box on the network" {
  kind stage-box
  inputs mic 1-16 { preamp; gain remote; latency 0.4 ms }
  outputs line 1-8 { latency 0.4 ms }
  digital net { protocol brooknet; control fern }
}
model desk "Desk on the network" {
  kind console
  channels ch 1-5000; mixes mix 1-64
  digital net { protocol brooknet; control fern }
}
model hub48 "Switch" { kind switch; digital port 1-48 }
"""


def network_text(boxes: int, switches: int, desks: int) -> str:
    """A rig of that many boxes spread over that many switches (a tree, three below each), and desks on the first."""
    return "\n".join(
        [
            'rig "Field" { rate 48 kHz; demo }',
            GEAR,
            *_backbone(switches),
            *_desks(desks, switches),
            *_stage(boxes, switches, desks),
        ]
    )


def _backbone(switches: int) -> Iterator[str]:
    for n in range(1, switches + 1):
        yield f"box H{n} is hub48"
        if n > 1:
            above = (n + 1) // 3
            yield f"link T{n}: H{n}.port 48 -- H{above}.port {48 - (n - 2) % 3 - 1} via om3 80 m"


def _desks(desks: int, switches: int) -> Iterator[str]:
    for n in range(1, desks + 1):
        yield f"box D{n} is desk"
        yield f"link M{n}: D{n}.net -- H1.port {n} via cat6 5 m"
    yield "clock D1"


def _stage(boxes: int, switches: int, desks: int) -> Iterator[str]:
    free = dict.fromkeys(range(1, switches + 1), 0) | {1: desks}
    for n in range(1, boxes + 1):
        switch = (n - 1) % switches + 1
        free[switch] += 1
        yield f"box B{n} is nb16"
        yield f"link C{n}: B{n}.net -- H{switch}.port {free[switch]} via cat6 40 m"
        yield f"source in{n} dynamic to B{n} 1-16 via xlr 5 m"
        yield f"output wedge{n} wedge from B{n}.line 1-8 via xlr 5 m"
        for desk in range(1, desks + 1):
            first = (n - 1) * 16 % 4992 + 1
            yield f"patch B{n}.mic 1-16 -> D{desk}.ch {first}-{first + 15}"
        yield f"patch D1.mix 1-8 -> B{n}.line 1-8"
