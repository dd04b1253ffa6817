"""The control sheet: who sets gain and phantom, who leads the clock, at which rate, what answers at which address."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.draw.words import kind_text, socket_words
from rigdsl.papers.lines import DEMO, held, zone_text
from rigdsl.papers.table import Cell, Facts, Paper, Table
from rigdsl.paths import Paths, gain_owners
from rigdsl.rig import Port, Rig, natural, shown

__all__ = ["CONTROL_SHEET"]

GAIN = ("box", "sockets", "gain and phantom by", "phantom on at", "sources")
CLOCK = ("boxes", "clock leader", "rate kHz", "note")
ADDRESSES = ("box", "label", "what it is", "zone", "address", "firmware", "serial")
LAST = "whoever turns gain last moves it for both desks: agree before the doors open"
NOBODY = "these preamps can be set by nobody from where they are patched to: rigdsl check says why"


def _control_sheet(facts: Facts) -> tuple[Table, ...]:
    rig, paths = facts.rig, facts.paths
    gain = Table(GAIN, tuple(_gains(rig, paths)), _gain_notes(rig, paths), "Gain and phantom")
    clock = Table(CLOCK, tuple(_clocks(rig, paths)), (), "Clock and rate")
    addresses = Table(ADDRESSES, tuple(_addresses(rig)), (), "Addresses and firmware")
    return gain, *(table for table in (clock, addresses) if table.rows)


def _gains(rig: Rig, paths: Paths) -> Iterator[tuple[Cell, ...]]:
    """A row for the preamps of each box that one desk sets; those that no source comes to are left out."""
    by_owner: dict[tuple[str, str], list[Port]] = {}
    for port, owner in sorted(gain_owners(paths).items(), key=lambda item: item[0].key):
        if paths.sources_at(port):
            by_owner.setdefault((port.box, owner), []).append(port)
    for (box, owner), ports in by_owner.items():
        on = [port for port in ports if port in paths.phantom_on]
        sources = dict.fromkeys(leg.name for port in ports for leg in paths.sources_at(port))
        yield box, socket_words(ports), owner, socket_words(on), ", ".join(sources)


def _gain_notes(rig: Rig, paths: Paths) -> tuple[str, ...]:
    shared = any(gain.shared for gain in paths.gains)
    nobody = any(owner == "nobody" and paths.sources_at(port) for port, owner in gain_owners(paths).items())
    return held(((LAST, shared), (NOBODY, nobody), (DEMO, rig.head.demo)))


def _clocks(rig: Rig, paths: Paths) -> Iterator[tuple[Cell, ...]]:
    for island in paths.islands:
        rates = {rig.boxes[box].rate_hz or rig.head.rate_hz for box in island.boxes}
        rate: Cell = next(iter(rates)) / 1000 if len(rates) == 1 else " and ".join(shown(r, 1e3) for r in sorted(rates))
        said = "named in the rig" if island.declared else "the only desk there" if island.leader else ""
        yield ", ".join(island.boxes), island.leader or "not settled", rate, said


def _addresses(rig: Rig) -> Iterator[tuple[Cell, ...]]:
    for name, box in sorted(rig.boxes.items(), key=lambda item: natural(item[0])):
        if box.address or box.firmware or box.serial:
            yield name, box.label, kind_text(box), zone_text(rig, box), box.address, box.firmware, box.serial


CONTROL_SHEET = Paper(
    "control-sheet", "Control sheet", _control_sheet, tuple(dict.fromkeys((*GAIN, *CLOCK, *ADDRESSES)))
)
