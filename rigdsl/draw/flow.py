"""The flow view: left to right as the signal goes, from what makes the sound to where it is heard."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from rigdsl.draw.cuts import cut
from rigdsl.draw.flow_tables import Table, stand_table
from rigdsl.draw.patterns import AIR, DIGITAL, INSIDE, LINE, LOOM, SPARE, SPEAKER, Pattern
from rigdsl.draw.segments import Segment, slug
from rigdsl.draw.shapes import Cell, Edge, End, Node, Row
from rigdsl.draw.stands import Flow
from rigdsl.draw.trunks import Trunk
from rigdsl.draw.wires import Stand
from rigdsl.draw.words import cable_text, lead_text, leg_title, run_cables, type_text
from rigdsl.lint.words import count
from rigdsl.paths import Paths
from rigdsl.rig import Leg, Output, Port, Source

__all__ = ["flow", "uncut"]

Tables = dict[Stand, Table]


def flow(paths: Paths) -> tuple[tuple[Node, ...], tuple[Edge, ...]]:
    """The nodes and lines of the flow view, in canonical order."""
    return cut(*uncut(Flow(paths)))


def uncut(facts: Flow) -> tuple[list[Node], list[Edge]]:
    """The same with lines that run backwards left as they are."""
    tables = {stand: stand_table(facts, stand) for stand in facts.stands}
    sources, outputs = _zones(facts, "sources"), _zones(facts, "outputs")
    nodes = [node for node, _ in sources] + [table.node for table in tables.values()] + [node for node, _ in outputs]
    edges = [*_plugs(facts, tables, sources), *_segments(facts, tables), *_trunks(facts, tables)]
    edges += [*_inside(facts, tables), *_outgoing(facts, tables, outputs)]
    return nodes, edges


Block = tuple[Node, dict[Leg, End]]


def _zones(facts: Flow, what: str) -> list[Block]:
    """A block for each zone and box with its sources, or its outputs, in the order of their sockets."""
    things: list[Source | Output] = [*(facts.rig.sources if what == "sources" else facts.rig.outputs).values()]
    by_place: dict[tuple[str, str], list[Leg]] = {}
    for thing in things:
        for index in range(max(len(thing.ports), 1)):
            box = thing.ports[index].box if thing.ports else thing.aimed
            by_place.setdefault((thing.zone, box), []).append(Leg(thing.name, index))
    order = sorted(by_place, key=lambda place: (Port(place[0], "", 0).key, Port(place[1], "", 0).key))
    return [
        _block(facts, what, place, sorted(by_place[place], key=lambda leg: _plug_order(facts, leg))) for place in order
    ]


def _plug_order(facts: Flow, leg: Leg) -> tuple[object, ...]:
    ports = facts.rig.thing(leg).ports
    port = ports[leg.index] if leg.index < len(ports) else None
    groups = list(facts.rig.boxes[port.box].model.groups) if port else []
    place = (Port(port.box, "", 0).key, groups.index(port.group), port.number) if port else ()
    return port is None, place, Port(leg.name, "", leg.index).key


def _block(facts: Flow, what: str, place: tuple[str, str], legs: list[Leg]) -> Block:
    side: Literal["e", "w"] = "e" if what == "sources" else "w"
    node = slug(what, *place)
    rows, ends = [], {}
    for leg in legs:
        thing = facts.rig.thing(leg)
        key = slug(leg.name, leg.index + 1, side)
        plug = Cell(key=key)
        words = [Cell(leg_title(facts.rig, leg)), Cell(type_text(thing), tone="quiet")]
        about = (thing.name,) if leg.index == 0 else ()
        cells = (*words, plug) if side == "e" else (plug, *words)
        tip = f"{leg_title(facts.rig, leg)}, {type_text(thing)}, {_plugged(facts, leg)}"
        rows.append(Row(cells, about, tip, things=(thing.name,)))
        ends[leg] = End(node, key, side)
    zone = facts.rig.zones.get(place[0])
    title = (zone.label or zone.name) if zone else "no zone"
    tip = f"{what} in {title}"
    return Node(node, what, title, what, tuple(rows), (place[0],), tip, group=place[0], filled=False), ends


def _plugged(facts: Flow, leg: Leg) -> str:
    ports = facts.rig.thing(leg).ports
    return f"at {ports[leg.index]}" if leg.index < len(ports) else "plugged into nothing"


def _plug_pattern(facts: Flow, port: Port) -> Pattern:
    group = facts.rig.group(port)
    return AIR if group.wireless else INSIDE if group.soft else SPEAKER if "loudspeaker" in group.levels else LINE


def _plugs(facts: Flow, tables: Tables, blocks: list[Block]) -> Iterator[Edge]:
    """Sources to the sockets that they are plugged into."""
    for leg, end in (item for _, ends in blocks for item in ends.items()):
        source = facts.rig.thing(leg)
        if leg.index < len(source.ports):
            port = source.ports[leg.index]
            tip = f"{leg_title(facts.rig, leg)} to {port}" + (f", {lead_text(source.lead)}" if source.lead else "")
            right = tables[facts.stand(port)].west.get(port)
            if right is not None:
                name, joins = slug("plug", leg.name, leg.index + 1), ((leg.name, str(port)),)
                yield Edge(name, end, right, _plug_pattern(facts, port), tip=tip, joins=joins)


def _outgoing(facts: Flow, tables: Tables, blocks: list[Block]) -> Iterator[Edge]:
    """Sockets to the outputs that are plugged into them."""
    for leg, end in (item for _, ends in blocks for item in ends.items()):
        output = facts.rig.thing(leg)
        if leg.index < len(output.ports):
            port = output.ports[leg.index]
            tip = f"{port} to {leg_title(facts.rig, leg)}" + (f", {lead_text(output.lead)}" if output.lead else "")
            left = tables[facts.stand(port)].east.get(port)
            if left is not None:
                name, joins = slug("plug", leg.name, leg.index + 1), ((str(port), leg.name),)
                yield Edge(name, left, end, _plug_pattern(facts, port), tip=tip, joins=joins)


def _segments(facts: Flow, tables: Tables) -> Iterator[Edge]:
    for segment in facts.segments:
        first = segment.wires[0]
        left, right = tables[segment.left].east.get(first.left), tables[segment.right].west.get(first.right)
        if left is None or right is None:
            continue
        link = first.link
        label = (" ".join(filter(None, [link.id, segment.numbers])), cable_text(link))
        tip = f"{link.name}: {first.left.box} to {first.right.box}, {cable_text(link)}"
        joins = tuple((str(wire.left), str(wire.right)) for wire in segment.wires)
        yield Edge(
            segment.id,
            left,
            right,
            _line_pattern(facts, segment),
            tuple(filter(None, label)),
            (link.name,),
            tip,
            bold=len(link.id),
            joins=joins,
            cables=(link.name,),
        )


def _line_pattern(facts: Flow, segment: Segment) -> Pattern:
    first = segment.wires[0]
    medium = first.link.lead.cable.medium if first.link.lead else ""
    if "loudspeaker" in (medium, *facts.rig.group(first.left).levels):
        return SPEAKER
    return LOOM if len(segment.wires) > 1 else LINE


def _trunks(facts: Flow, tables: Tables) -> Iterator[Edge]:
    for trunk in facts.trunks.trunks:
        left, right = tables[trunk.left].east.get(trunk.enters), tables[trunk.right].west.get(trunk.leaves)
        if left is None or right is None:
            continue
        run = trunk.run
        about = tuple(dict.fromkeys((run.name, *(link.name for link in run.links))))
        pattern = SPARE if run.name in facts.seconds else DIGITAL
        tip = f"{run.name}: {trunk.enters} to {trunk.leaves}, {run_cables(run)}"
        yield Edge(
            slug("run", run.name, trunk.left.id, trunk.right.id),
            left,
            right,
            pattern,
            _trunk_words(facts, trunk),
            about,
            tip,
            bold=len(run.name),
            stops=trunk.stops,
            joins=((str(trunk.enters), str(trunk.leaves)),),
            cables=tuple(dict.fromkeys(link.name for link in run.links)),
        )


def _trunk_words(facts: Flow, trunk: Trunk) -> tuple[str, ...]:
    """Name and load, then the cable, then the wall panels that it goes through."""
    run = trunk.run
    load = next(one for one in facts.paths.load_of(run) if one.enters == trunk.enters)
    if trunk.stops:
        carried = "no sound"
    elif trunk.patched == 0 and not load.channels:
        carried = "second of a pair" if run.name in facts.seconds else "nothing patched"
    else:
        carried = f"{load.channels} of {load.limit}" if load.limit is not None else count(load.channels, "channel")
    panels = list(dict.fromkeys(piece.left.box for piece in run.pieces[1:]))
    on_the_way = panels if trunk.enters == run.ends[0] else panels[::-1]
    through = f"through {', '.join(on_the_way)}" if panels else ""
    protocol = "" if trunk.stops else run.protocol or ""
    return tuple(filter(None, [run.name, " ".join(filter(None, [protocol, carried])), run_cables(run), through]))


def _inside(facts: Flow, tables: Tables) -> Iterator[Edge]:
    """Patches from a box's inputs to its own outputs, without a desk between."""
    for left, right in facts.trunks.inside:
        start = tables[facts.stand(left)].east.get(left)
        end = tables[Stand(facts.rig.body(right.box), "out")].west.get(right)
        if start is not None and end is not None:
            tip = f"{left} to {right}, inside {facts.rig.boxes[left.box].title}"
            yield Edge(slug("inside", left, right), start, end, INSIDE, tip=tip, joins=((str(left), str(right)),))
