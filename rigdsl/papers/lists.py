"""The input list and the output list: a row for each line, in the order of the desk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigdsl.draw.words import lead_text, leg_title, type_text
from rigdsl.papers.table import Paper, Table
from rigdsl.paths import Path, Paths
from rigdsl.rig import Leg, Output, Port, Rig, Source, natural, ports_text, shown

__all__ = ["INPUT_LIST", "OUTPUT_LIST"]

MISSING = "some lines are plugged into nothing yet, or reach nothing: rigdsl check says what is missing"
DEMO = "demo data"
SPEAKER = "loudspeaker"
PHANTOM = "phantom: plug in first, mute, then switch it on; a damaged cable or an unbalanced line may not stand it"
LIVE = "amplifiers off before anybody touches their cables: their outputs can carry dangerous voltages"
LOUD = "bring levels up slowly, and keep to the limits for hearing that apply where you are"
RIBBON = "phantom can damage a ribbon microphone that needs none: be sure that it is off before one is plugged in"

PLACE = ("label", "type", "zone")
INPUTS = (
    "no",
    "channel",
    "source",
    *PLACE,
    "plugged into",
    "preamp",
    "stand",
    "mic",
    "phantom",
    "cable",
    "radio",
    "note",
)
OUTPUTS = ("no", "fed from", "output", *PLACE, "by way of", "plugged into", "cable", "radio", "note")

Line = tuple[tuple[Port, ...], Leg]  # the channels or mixes of a line, and the line


def _input_list(rig: Rig, paths: Paths) -> Table:
    lines = sorted(_lines(rig, paths, rig.sources), key=_order)
    rows = tuple((str(number), *_input(rig, paths, *line)) for number, line in enumerate(lines, 1))
    sources = [rig.sources[leg.name] for _, leg in lines]
    cautions = (PHANTOM, any(one.needs_phantom for one in sources)), (RIBBON, any(map(_keep_off, sources)))
    return Table(INPUTS, rows, (*_held(cautions), *_notes(rig, paths, lines, rig.sources)))


def _input(rig: Rig, paths: Paths, channels: tuple[Port, ...], leg: Leg) -> tuple[str, ...]:
    source = rig.sources[leg.name]
    return (
        ports_text(channels),
        source.name,
        _label(rig, source, leg),
        type_text(source),
        _zone(rig, source),
        _plugged(source, leg),
        ports_text(port for port in paths.inputs_of(leg) if rig.group(port).preamp),
        source.stand,
        source.mic,
        "needed" if source.needs_phantom else "keep off" if _keep_off(source) else "",
        lead_text(source.lead),
        _radio(source),
        source.note,
    )


def _keep_off(source: Source) -> bool:
    """A ribbon that runs without phantom may be damaged by it."""
    return source.type == "ribbon" and not source.needs_phantom


def _radio(thing: Source | Output) -> str:
    """Its frequency, as it is set at sender and receiver."""
    return "" if thing.frequency_hz is None else f"{shown(thing.frequency_hz, 1e6, 6)} MHz"


def _output_list(rig: Rig, paths: Paths) -> Table:
    heard = {**rig.outputs, **{name: _speaker(rig, paths, name) for name in paths.speaker_inputs}}
    lines = sorted(_lines(rig, paths, heard), key=_order)
    rows = tuple(
        (str(number), *_output(rig, paths, heard[line[1].name], *line)) for number, line in enumerate(lines, 1)
    )
    amplifiers = any(rig.boxes[box].kind == "amplifier" for box in _boxes(paths, heard))
    cautions = (LIVE, amplifiers), (LOUD, bool(lines))
    return Table(OUTPUTS, rows, (*_held(cautions), *_notes(rig, paths, lines, heard)))


def _boxes(paths: Paths, names: Iterable[str]) -> set[str]:
    """All boxes that the ways to these leave by a socket."""
    hops = (hop for name in names for path in paths.paths_of(name) for hop in path.hops)
    return {hop.left.box for hop in hops if isinstance(hop.left, Port)}


def _held(notes: Iterable[tuple[str, bool]]) -> tuple[str, ...]:
    """The notes that hold."""
    return tuple(note for note, holds in notes if holds)


def _speaker(rig: Rig, paths: Paths, name: str) -> Output:
    """A loudspeaker box as an output: what its inputs are fed by is what comes out."""
    box, ports = rig.boxes[name], paths.speaker_inputs[name]
    leads = [piece.link.lead for port in ports for piece in paths.pieces.get(port, ())]
    lead = leads[0] if leads else None
    return Output(name, box.label, SPEAKER, box.zone, ports, lead, box.place, mono=True, note=box.note)


def _output(rig: Rig, paths: Paths, output: Output, mixes: tuple[Port, ...], leg: Leg) -> tuple[str, ...]:
    return (
        ports_text(mixes),
        output.name,
        _label(rig, output, leg),
        type_text(output),
        _zone(rig, output),
        ports_text(port for port in reversed(paths.outlets_of(leg)) if _leaves(rig, output, port)),
        _plugged(output, leg),
        lead_text(output.lead),
        _radio(output),
        output.note,
    )


def _leaves(rig: Rig, output: Output, port: Port) -> bool:
    """A socket on the way that is not the output's own: of a stage box, before an amplifier or a sender."""
    return port not in output.ports and rig.group(port).role == "outputs"


def _label(rig: Rig, thing: Source | Output, leg: Leg) -> str:
    """Its label, with left and right where it is a pair; a loudspeaker box is one, however it is fed."""
    if isinstance(thing, Output) and thing.type == SPEAKER:
        return thing.label
    return leg_title(rig, leg) if thing.label or len(thing.ports) > 1 else ""


def _lines(rig: Rig, paths: Paths, things: Mapping[str, Source] | Mapping[str, Output]) -> Iterator[Line]:
    """Each line of each thing, with what feeds it or what it comes to at a desk; what is plugged into nothing yet
    stands where it is patched to be.
    """
    wanted = _wanted(rig)
    for name, thing in things.items():
        found: dict[Leg | None, list[Path]] = {}
        for path in paths.paths_of(name):
            found.setdefault(path.leg, []).append(path)
        meant = {} if thing.ports else wanted.get(name, {})
        for index in range(max(1, len(thing.ports), 1 + max(meant, default=0))):
            leg = Leg(name, index)
            ends = {end for path in found.get(leg, ()) if path.complete for end in (path.start, path.end)}
            ends |= meant.get(index, set())
            desk = {end for end in ends if isinstance(end, Port) and rig.group(end).role in ("channels", "mixes")}
            yield tuple(sorted(desk, key=lambda port: port.key)), leg


def _wanted(rig: Rig) -> dict[str, dict[int, set[Port | Leg]]]:
    """What each thing is patched to or from by its name, for each of its lines."""
    found: dict[str, dict[int, set[Port | Leg]]] = {}
    for left, right in (pair for patch in rig.patches for pair in patch.pairs):
        for one, other in ((left, right), (right, left)):
            if isinstance(one, Leg):
                found.setdefault(one.name, {}).setdefault(one.index, set()).add(other)
    return found


def _order(line: Line) -> tuple[object, ...]:
    """By the first channel or mix; lines that have none come last, by name."""
    ports, leg = line
    return (0, ports[0].key, natural(leg.name), leg.index) if ports else (1, natural(leg.name), leg.index)


def _zone(rig: Rig, thing: Source | Output) -> str:
    zone = rig.zones.get(thing.zone)
    return zone.label or zone.name if zone else ""


def _plugged(thing: Source | Output, leg: Leg) -> str:
    """Its socket; a box alone where no socket is chosen yet."""
    return str(thing.ports[leg.index]) if leg.index < len(thing.ports) else thing.aimed


def _lost(paths: Paths, line: Line, thing: Source | Output) -> bool:
    """Whether a line is plugged into nothing, or lacks the channel or mix that it needs; talkback needs none."""
    ports, leg = line
    if leg.index >= len(thing.ports):
        return True
    if ports or thing.type == "talkback":
        return False
    return not (paths.arrives(leg.name) if isinstance(thing, Source) else paths.sounds(leg.name))


def _notes(
    rig: Rig, paths: Paths, lines: Iterable[Line], things: Mapping[str, Source] | Mapping[str, Output]
) -> tuple[str, ...]:
    lost = any(_lost(paths, line, things[line[1].name]) for line in lines)
    return _held(((MISSING, lost), (DEMO, rig.head.demo)))


INPUT_LIST = Paper("input-list", "Input list", _input_list)
OUTPUT_LIST = Paper("output-list", "Output list", _output_list)
