"""Every piece of cable that a rig takes, one by one: what it joins, how long it must be, how long it may be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigdsl.paths import Paths
from rigdsl.rig import Cable, Insert, Leg, Link, Output, Port, Rig, Source, natural, ports_text

__all__ = ["Piece", "pieces_of", "unsaid"]


@dataclass(frozen=True)
class Piece:
    """One cable. `needed_m` None: to be measured; `most_m`: what the reach of its protocol leaves for it, if any.

    `near` and `far` are its two ends in words; `lines` how many signals it carries here.
    """

    name: str
    what: str
    cable: Cable
    near: str
    far: str
    lines: int
    needed_m: float | None
    measured: bool = False
    most_m: float | None = None
    loom: str = ""
    note: str = ""


def pieces_of(paths: Paths) -> tuple[Piece, ...]:
    """All pieces: links, sources, outputs and inserts, each in natural order of names."""
    rig = paths.rig
    limits = _limits(paths)
    links = sorted(rig.links.values(), key=lambda link: link.key)
    sources = sorted(rig.sources.values(), key=lambda source: natural(source.name))
    outputs = sorted(rig.outputs.values(), key=lambda output: natural(output.name))
    return (
        *(piece for link in links for piece in _of_link(link, limits.get(link.name))),
        *(piece for source in sources for piece in _of_source(source)),
        *(piece for output in outputs for piece in _of_output(output)),
        *(piece for insert in _one_each(rig) for piece in _of_insert(insert)),
    )


def unsaid(rig: Rig) -> list[str]:
    """What is plugged, by name, and has no word of its cable: nobody knows what to bring. The air needs none."""
    ends = {link.name: [port for join in link.joins for port in join] for link in rig.links.values() if not link.lead}
    plugs: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    ends |= {plug.name: list(plug.ports) for plug in plugs if not plug.lead}
    ends |= {insert.name: [insert.send, insert.back] for insert in rig.inserts if not insert.lead}
    bare = (name for name, ports in ends.items() if any(_takes_a_plug(rig, port) for port in ports))
    return sorted(bare, key=natural)


def _takes_a_plug(rig: Rig, port: Port) -> bool:
    group = rig.group(port)
    return not group.wireless and not group.soft


def _limits(paths: Paths) -> dict[str, float]:
    """How long each link of a digital run may be, the others staying as they are."""
    found: dict[str, float] = {}
    for run in paths.runs:
        if run.reach_m is None:
            continue
        for link in run.links:
            own = (link.lead.length_m if link.lead else None) or 0.0
            left_m = run.reach_m - (run.known_m - own)
            found[link.name] = min(left_m, found.get(link.name, left_m))
    return found


def _of_link(link: Link, most_m: float | None) -> Iterator[Piece]:
    """A cable of so many lines takes so many joins; the last piece may have lines to spare."""
    if link.lead is None:
        return
    size = max(link.lead.cable.lines, 1)
    for first in range(0, len(link.joins), size):
        joins = link.joins[first : first + size]
        yield Piece(
            link.id,
            "link",
            link.lead.cable,
            ports_text(left for left, _ in joins),
            ports_text(right for _, right in joins),
            len(joins),
            link.lead.length_m,
            link.lead.measured,
            most_m,
            link.loom,
            link.note,
        )


def _of_source(source: Source) -> Iterator[Piece]:
    for ports in _shared(source):
        near = _ends(source, ports)
        yield _plug(source, "source", near, ports_text(ports), len(ports))


def _of_output(output: Output) -> Iterator[Piece]:
    for ports in _shared(output):
        yield _plug(output, "output", ports_text(ports), _ends(output, ports), len(ports))


def _shared(thing: Source | Output) -> Iterator[tuple[Port, ...]]:
    """The sockets that each piece of its cable has."""
    if thing.lead is None:
        return
    size = max(thing.lead.cable.lines, 1)
    for first in range(0, len(thing.ports), size):
        yield thing.ports[first : first + size]


def _ends(thing: Source | Output, ports: tuple[Port, ...]) -> str:
    """The source or output itself, with the side where it has two."""
    if len(thing.ports) == 1 or len(ports) > 1:
        return thing.name
    leg = Leg(thing.name, thing.ports.index(ports[0]))
    return f"{thing.name} {leg.index + 1}"


def _plug(thing: Source | Output, what: str, near: str, far: str, lines: int) -> Piece:
    assert thing.lead is not None, "only what has a lead has pieces"
    lead = thing.lead
    return Piece(thing.name, what, lead.cable, near, far, lines, lead.length_m, lead.measured, note=thing.note)


def _one_each(rig: Rig) -> list[tuple[Insert, ...]]:
    return sorted(rig.insert_lines, key=lambda line: natural(line[0].name))


def _of_insert(line: tuple[Insert, ...]) -> Iterator[Piece]:
    """What is inserted goes there and back over one line of a cable."""
    lead = line[0].lead
    if lead is None:
        return
    size = max(lead.cable.lines, 1)
    for first in range(0, len(line), size):
        some = line[first : first + size]
        at = ports_text(insert.at for insert in some)
        through = ports_text(port for insert in some for port in (insert.send, insert.back))
        length_m, note = lead.length_m, line[0].note
        yield Piece(line[0].name, "insert", lead.cable, at, through, len(some), length_m, lead.measured, note=note)
