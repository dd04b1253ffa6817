"""What several papers say of a line: its channel or mix, its zone, its socket, its preamp and who sets it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigdsl.draw.words import leg_title
from rigdsl.paths import Path, Paths, keep_off
from rigdsl.rig import Box, Leg, Output, Port, Rig, Source, natural, shown

__all__ = [
    "DEMO",
    "SPEAKER",
    "Line",
    "heard",
    "held",
    "label_text",
    "lines_of",
    "notes_of",
    "order_of",
    "phantom_text",
    "plugged_text",
    "preamps_of",
    "radio_text",
    "some_of",
    "zone_text",
]

MISSING = "some lines are plugged into nothing yet, or reach nothing: rigdsl check says what is missing"
DEMO = "demo data"
SPEAKER = "loudspeaker"
MOST_NAMES = 12  # that a note lists

Line = tuple[tuple[Port, ...], Leg]  # the channels or mixes of a line, and the line
Things = Mapping[str, Source] | Mapping[str, Output]


def lines_of(paths: Paths, things: Things) -> list[Line]:
    """Each line of each thing, with what feeds it or what it comes to at a desk: by channel or mix, others last."""
    return sorted(_lines(paths, things), key=order_of)


def _lines(paths: Paths, things: Things) -> Iterator[Line]:
    """What is plugged into nothing yet stands where it is patched to be."""
    wanted = _wanted(paths.rig)
    for name, thing in things.items():
        found: dict[Leg | None, list[Path]] = {}
        for path in paths.paths_of(name):
            found.setdefault(path.leg, []).append(path)
        meant = {} if thing.ports else wanted.get(name, {})
        for index in range(max(1, len(thing.ports), 1 + max(meant, default=0))):
            leg = Leg(name, index)
            ends = {end for path in found.get(leg, ()) if path.complete for end in (path.start, path.end)}
            ends |= meant.get(index, set())
            desk = {end for end in ends if isinstance(end, Port) and paths.rig.group(end).role in ("channels", "mixes")}
            yield tuple(sorted(desk, key=lambda port: port.key)), leg


def _wanted(rig: Rig) -> dict[str, dict[int, set[Port | Leg]]]:
    """What each thing is patched to or from by its name, for each of its lines."""
    found: dict[str, dict[int, set[Port | Leg]]] = {}
    for left, right in (pair for patch in rig.patches for pair in patch.pairs):
        for one, other in ((left, right), (right, left)):
            if isinstance(one, Leg):
                found.setdefault(one.name, {}).setdefault(one.index, set()).add(other)
    return found


def order_of(line: Line) -> tuple[object, ...]:
    """By the first channel or mix; lines that have none come last, by name."""
    ports, leg = line
    return (0, ports[0].key, natural(leg.name), leg.index) if ports else (1, natural(leg.name), leg.index)


def heard(rig: Rig, paths: Paths) -> dict[str, Output]:
    """Every output, and every loudspeaker box as one: what its inputs are fed by is what comes out."""
    return {**rig.outputs, **{name: _speaker(rig, paths, name) for name in paths.speaker_inputs}}


def _speaker(rig: Rig, paths: Paths, name: str) -> Output:
    box, ports = rig.boxes[name], paths.speaker_inputs[name]
    leads = [piece.link.lead for port in ports for piece in paths.pieces.get(port, ())]
    lead = leads[0] if leads else None
    return Output(name, box.label, SPEAKER, box.zone, ports, lead, box.place, mono=True, note=box.note)


# ---- words


def label_text(rig: Rig, thing: Source | Output, leg: Leg) -> str:
    """Its label, with left and right where it is a pair; a loudspeaker box is one, however it is fed."""
    if isinstance(thing, Output) and thing.type == SPEAKER:
        return thing.label
    return leg_title(rig, leg) if thing.label or len(thing.ports) > 1 else ""


def zone_text(rig: Rig, thing: Source | Output | Box) -> str:
    """The zone by its label, else by its name."""
    zone = rig.zones.get(thing.zone)
    return zone.label or zone.name if zone else ""


def plugged_text(thing: Source | Output, leg: Leg) -> str:
    """Its socket; a box alone where no socket is chosen yet."""
    return str(thing.ports[leg.index]) if leg.index < len(thing.ports) else thing.aimed


def radio_text(thing: Source | Output) -> str:
    """Its frequency, as it is set at sender and receiver."""
    return "" if thing.frequency_hz is None else f"{shown(thing.frequency_hz, 1e6, 6)} MHz"


def phantom_text(paths: Paths, leg: Leg, owners: Mapping[Port, str]) -> str:
    """Whether phantom is needed, and who switches it; or that it must stay off.

    A desk behind a transformer sets the gain of its own preamp, and gives no phantom.
    """
    source = paths.rig.sources[leg.name]
    if not source.needs_phantom:
        return "keep off" if keep_off(source) else ""
    by = dict.fromkeys(owners[port] for port in paths.given_by(leg) if port in owners)
    return f"needed, by {', '.join(by)}" if by else "needed"


def preamps_of(paths: Paths, leg: Leg) -> list[Port]:
    """The preamps that a line comes to on wire, nearest first."""
    return [port for port in paths.inputs_of(leg) if paths.rig.group(port).preamp]


def some_of(names: Iterable[str]) -> str:
    """The first of these names in natural order, and how many more there are."""
    ordered = sorted(names, key=natural)
    return ", ".join(ordered[:MOST_NAMES]) + (f" and {len(ordered) - MOST_NAMES} more" if ordered[MOST_NAMES:] else "")


def held(notes: Iterable[tuple[str, bool]]) -> tuple[str, ...]:
    """The notes that hold."""
    return tuple(note for note, holds in notes if holds)


def notes_of(paths: Paths, lines: Iterable[Line], things: Things) -> tuple[str, ...]:
    """That something is missing, and that it is all invented, where it is so."""
    lost = any(_lost(paths, line, things[line[1].name]) for line in lines)
    return held(((MISSING, lost), (DEMO, paths.rig.head.demo)))


def _lost(paths: Paths, line: Line, thing: Source | Output) -> bool:
    """Whether a line is plugged into nothing, or lacks the channel or mix that it needs; talkback needs none."""
    ports, leg = line
    if leg.index >= len(thing.ports):
        return True
    if ports or thing.type == "talkback":
        return False
    return not (paths.arrives(leg.name) if isinstance(thing, Source) else paths.sounds(leg.name))
