"""The cabling view: every box once in its zone, zones as on the stage, every cable once with its kind and length."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from rigdsl.draw.cables import Cable, Cabling, Plug, Stub
from rigdsl.draw.outboard import inserted_rows
from rigdsl.draw.patterns import LINE, LOOM
from rigdsl.draw.segments import slug
from rigdsl.draw.shapes import Align, Cell, Edge, End, Group, Node, Row
from rigdsl.draw.stage import column_of
from rigdsl.draw.words import kind_text, length_text, socket_words
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Port, natural, ports_text

__all__ = ["cabling", "unplaced"]


def cabling(paths: Paths) -> tuple[tuple[Node, ...], tuple[Edge, ...], tuple[Group, ...]]:
    """Nodes, lines and zones, all still without places."""
    return unplaced(Cabling(paths))


def unplaced(facts: Cabling) -> tuple[tuple[Node, ...], tuple[Edge, ...], tuple[Group, ...]]:
    """The same of facts that may hold some things apart."""
    zones = {zone for row in facts.grid.rows for zone in row}
    nodes = [_box(facts, name) for name in sorted(facts.rig.boxes, key=natural)]
    nodes += [_stub(facts, stub) for stub in facts.stubs if stub.zone in zones]
    edges = [*(_link(facts, cable) for cable in facts.cables), *_plugs(facts)]
    groups = tuple(Group(zone, _zone_title(facts, zone)) for zone in sorted(zones, key=natural))
    return tuple(nodes), tuple(edges), groups


def _zone_title(facts: Cabling, name: str) -> str:
    zone = facts.rig.zones.get(name)
    return (zone.label or zone.name) if zone else "no zone"


def _box(facts: Cabling, name: str) -> Node:
    box = facts.rig.boxes[name]
    rows = [_plug_row(facts, plug, cable) for plug, cable in facts.plugs_at.get(name, ())]
    inserted = list(inserted_rows(facts.paths, box))
    rows += [_insert_row(ports, words) for ports, words in inserted]
    taken = {port for ports, _ in inserted for port in ports}
    rows += [_free_row(left) for ports in facts.free(name) if (left := tuple(p for p in ports if p not in taken))]
    kind = kind_text(box)
    seat = f"in {box.slot}" if box.slot else ""
    subtitle = " · ".join(dict.fromkeys(filter(None, [box.label, kind, seat])))
    tip = f"{box.title} ({kind}) in {_zone_title(facts, box.zone)}"
    return Node(
        slug("box", name), f"box {box.kind}", name, subtitle, tuple(rows), (name,), tip, group=box.zone, things=(name,)
    )


def _plug_row(facts: Cabling, plug: Plug, cable: str) -> Row:
    """The sockets that one cable takes: text towards the side on which the cable leaves."""
    words = socket_words(plug.ports)
    port = plug.ports[0]
    run = facts.run_ends.get(port)
    if run is not None:
        words += f"\n{run.name}: {length_text(run.length_m)} in all"
    behind = facts.behind(plug.ports) if facts.rig.boxes[plug.box].kind == "panel" else ""
    if behind:
        words += f"\nbehind: {behind}"
    about = tuple(dict.fromkeys(f"{one.box}.{one.group}" for one in plug.ports)) + tuple(map(str, plug.ports))
    side = _side(facts, plug, cable)
    cell = Cell(words, key=_key(plug, cable), align="right" if side == "e" else "left")
    return Row((cell,), about, ports_text(plug.ports), things=tuple(map(str, plug.ports)))


def _insert_row(ports: tuple[Port, ...], words: str) -> Row:
    things = tuple(map(str, ports))
    about = (f"{ports[0].box}.{ports[0].group}", *things)
    return Row((Cell(f"{socket_words(ports)}\n{words}"),), about, f"{ports_text(ports)}: {words}", things=things)


def _free_row(ports: tuple[Port, ...]) -> Row:
    things = tuple(map(str, ports))
    about = (f"{ports[0].box}.{ports[0].group}", *things)
    cell = Cell(f"{socket_words(ports)} free", tone="quiet")
    return Row((cell,), about, f"{ports_text(ports)}: free", things=things)


def _key(plug: Plug, cable: str) -> str:
    return slug(plug.ports[0].group, plug.ports[0].number, cable)


def _side(facts: Cabling, plug: Plug, cable: str) -> str:
    """Sound comes in on the left and leaves on the right; a digital port faces the box that it is joined to."""
    role = facts.rig.group(plug.ports[0]).role
    if role in ("inputs", "outputs"):
        return "w" if role == "inputs" else "e"
    far = facts.far_ends.get((plug.ports[0], cable))
    if far is None:
        return "e"
    here, there = (_place(facts, end.box) for end in (plug, far))
    if here[0] == there[0] and here[1:] != there[1:]:
        return "e" if there[1:] > here[1:] else "w"
    return "w" if _mixes(facts, plug.box) and here[:2] != there[:2] else "e"


def _mixes(facts: Cabling, name: str) -> bool:
    """A desk or engine, or a card in one."""
    return facts.rig.boxes[facts.rig.body(name)].mixes


def _place(facts: Cabling, name: str) -> tuple[int, int, int]:
    """Row, zone in the row, column in the zone."""
    box = facts.rig.boxes[name]
    return (*facts.grid.place(box.zone), column_of(box.kind))


def _end(facts: Cabling, plug: Plug, cable: str) -> End:
    return End(slug("box", plug.box), _key(plug, cable), "e" if _side(facts, plug, cable) == "e" else "w")


def _link(facts: Cabling, cable: Cable) -> Edge:
    left, right = cable.left, cable.right
    about = tuple(dict.fromkeys(link.name for link in cable.links))
    runs = {run for link in cable.links for run in facts.runs_of.get(link.name, ())}
    sends = facts.rig.group(right.ports[0]).role == "outputs" or _mixes(facts, left.box)
    label = " ".join(filter(None, [cable.ids, cable.label]))
    return Edge(
        slug("cable", cable.name, left.box, right.box),
        _end(facts, left, cable.name),
        _end(facts, right, cable.name),
        cable.pattern,
        (label,) if label else (),
        tuple(dict.fromkeys((*about, *(run.name for run in sorted(runs, key=lambda run: run.key))))),
        f"{label or cable.name}: {ports_text(left.ports)} to {ports_text(right.ports)}",
        forward=False,
        bold=len(cable.ids),
        words_at="right" if sends else "left",
        joins=cable.joins,
        cables=about,
    )


def _stub(facts: Cabling, stub: Stub) -> Node:
    """Sources or outputs that are plugged into one group: how many, and which."""
    legs = facts.stubs[stub]
    word = stub.what if len(legs) > 1 else stub.what.removesuffix("s")
    side: Align = "right" if stub.what == "sources" else "left"
    title = f"{len(legs)} {word}"
    things = list(_things(legs).items())
    bunch = [one for one in things if one[0].name not in facts.apart]
    bunches = [*([bunch] if bunch else []), *([one] for one in things if one[0].name in facts.apart)]
    rows = tuple(_bunch(facts, some, "" if at else "plug", side, title) for at, some in enumerate(bunches))
    tip = f"{title} in {_zone_title(facts, stub.zone)}"
    return Node(stub.id, stub.what, title, rows=rows, tip=tip, group=stub.zone, filled=False)


def _bunch(facts: Cabling, things: list[tuple[Leg, int]], key: str, side: Align, title: str) -> Row:
    """Sources or outputs by their titles, with how many lines each has."""
    titles = [_times(facts.rig.thing(leg).title, lines) for leg, lines in things]
    names = ("; " if any("," in title for title in titles) else ", ").join(titles)  # a label may have commas of its own
    about = tuple(leg.name for leg, _ in things)
    return Row((Cell(names, key=key, align=side),), about, f"{title}: {names}", things=about)


def _things(legs: tuple[Leg, ...]) -> dict[Leg, int]:
    """Each source or output once, with how many of its lines are in the bunch."""
    names = [leg.name for leg in legs]
    return {legs[names.index(name)]: names.count(name) for name in dict.fromkeys(names)}


def _times(title: str, lines: int) -> str:
    return f"{title} x\u00a0{lines}" if lines > 1 else title


def _plugs(facts: Cabling) -> Iterator[Edge]:
    for stub, legs in facts.stubs.items():
        ports = facts.stub_ports(stub)
        if not ports:
            continue
        box = _end(facts, Plug(stub.box, ports), stub.id)
        own = End(stub.id, "plug", "e" if stub.what == "sources" else "w")
        left, right = (own, box) if stub.what == "sources" else (box, own)
        label = facts.stub_label(stub)
        pattern = LOOM if len(legs) > 1 else LINE
        tip = f"{label}, {ports_text(ports)}"
        at: Literal["left", "right"] = "left" if stub.what == "sources" else "right"
        name, joins = slug("cable", stub.id), tuple(_plugged(facts, stub, leg) for leg in legs)
        yield Edge(name, left, right, pattern, (label,), tip=tip, forward=False, words_at=at, joins=joins)


def _plugged(facts: Cabling, stub: Stub, leg: Leg) -> tuple[str, str]:
    """A source and its socket, or a socket and its output."""
    port = str(facts.rig.thing(leg).ports[leg.index])
    return (leg.name, port) if stub.what == "sources" else (port, leg.name)
