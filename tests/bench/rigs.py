"""Rigs of any size, as real ones are: each stage has its zones, desk, chained boxes, sub-boxes, sources and outputs.

All names are invented. The rigs are free of errors and warnings, so that a check has to go all the way.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

__all__ = ["Line", "lines", "list_text", "rig_text", "schema", "yaml_text"]

GEAR = """\
protocol fernlink "Fernlink" {
  carries 40 at 48 kHz, 20 at 96 kHz
  over cat5e 100 m, om3 300 m
  slots fixed
  topology chain 4
  latency 0.06 ms
}
model nw16 "16x8 stage box" {
  kind stage-box
  inputs mic 1-16 { connector xlr-f; level mic, line; preamp; phantom 48 V 10 mA; gain remote; latency 0.4 ms }
  outputs line 1-8 { connector xlr-m; level line; latency 0.4 ms }
  digital A, B { protocol fernlink; control fern; chain; connector rj45 }
}
model sub12 "12-line sub-box" { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }
model desk32 "32-channel desk" {
  kind console
  channels ch 1-32; mixes mix 1-16
  digital stage 1-2 { protocol fernlink; control fern }
  latency 1.2 ms
}
cable cat6s "Cat 6 on a reel" { medium twisted-pair; category 6; shielded }
cable loom12 "12-pair loom" { medium analogue; lines 12; capacitance 110 pF/m; resistance 84 mohm/m }
"""

SOURCES = 24  # of a whole stage
FRAME = 21  # lines of a stage without its sources
TYPES = ("dynamic", "condenser", "dynamic", "di", "dynamic", "condenser")


@dataclass(frozen=True)
class Line:
    """One line of a rig, and the same as a section and an item of a plain data file."""

    text: str
    section: str
    item: dict[str, Any]


def list_text(channels: int) -> str:
    """A desk with so many channels, a condenser on each."""
    head = (
        'rig "Long list" { rate 48 kHz }\nzone stage "Stage"\n'
        f"model desk {{ kind console; channels ch 1-{channels}; inputs local 1-{channels} {{ preamp; phantom }}; "
        "pass local -> ch }\nbox DESK is desk in stage\n"
    )
    return head + "".join(
        f'source s{n} "Source number {n}" condenser in stage to DESK.local {n} via xlr 10 m {{ mic "small"; '
        'stand "tall" }\n'
        for n in range(1, channels + 1)
    )


def rig_text(count: int) -> str:
    """A rig of exactly `count` lines (50 or more)."""
    return "".join(f"{line.text}\n" for line in lines(count))


def lines(count: int) -> list[Line]:
    """The lines of a rig."""
    made = [
        Line(
            'rig "Benchmark" { rate 48 kHz; slack 3 m; lead xlr; demo }',
            "rig",
            {"title": "Benchmark", "rate_hz": 48000},
        )
    ]
    made += [_gear(text) for text in GEAR.splitlines()]
    stage = 0
    while count - len(made) >= FRAME + 1:
        left = count - len(made)
        # Leave enough for one more stage, or for nothing.
        sources = min(SOURCES, left - FRAME if left < 2 * FRAME + SOURCES else SOURCES)
        stage += 1
        made += _stage(stage, max(1, sources))
    made += [Line(f"# spare line {number}", "notes", {"text": number}) for number in range(count - len(made))]
    return made


def _gear(text: str) -> Line:
    """A line of a catalogue entry: what stands before its block, and the facts in it."""
    head, _, block = text.strip().rstrip("}").partition("{")
    facts = [fact.strip() for fact in block.split(";") if fact.strip()]
    return Line(text, "gear", {"says": head.strip(), "facts": facts})


def _stage(number: int, sources: int) -> Iterator[Line]:
    """One stage; nothing of it is shared with another."""
    n = number
    for name, label, x, y in (
        ("drums", "Drum riser", 0, 4),
        ("front", "Downstage", 0, 0),
        ("foh", "Front of house", 0, -28),
    ):
        text = f'zone {name}-{n} "{label} {n}" at ({x + 100 * n}, {y}) m'
        yield Line(text, "zones", {"name": f"{name}-{n}", "label": f"{label} {n}", "at_m": [x + 100 * n, y]})
    yield Line(f"way foh-{n} -- front-{n} 45 m", "ways", {"from": f"foh-{n}", "to": f"front-{n}", "length_m": 45})
    for name, label, model, zone in (
        ("DESK", "Desk", "desk32", "foh"),
        ("SL", "Stage left", "nw16", "front"),
        ("SR", "Stage right", "nw16", "front"),
        ("DR", "Drum sub-box", "sub12", "drums"),
    ):
        text = f'box {name}-{n} "{label} {n}" is {model} in {zone}-{n}'
        yield Line(
            text, "boxes", {"name": f"{name}-{n}", "label": f"{label} {n}", "model": model, "zone": f"{zone}-{n}"}
        )
    for name, left, right, cable, length in (
        ("C", f"SL-{n}.A", f"DESK-{n}.stage 1", "cat6s", 60),
        ("D", f"SR-{n}.A", f"SL-{n}.B", "cat6s", 20),
        ("L", f"DR-{n}.tail 1-12", f"SL-{n}.mic 1-12", "loom12", 15),
    ):
        text = f"link {name}{n}: {left} -- {right} via {cable} {length} m"
        yield Line(text, "links", {"id": f"{name}{n}", "ends": [left, right], "cable": cable, "length_m": length})
    for index in range(sources):
        yield _source(n, index)
    for index in range(1, 5):
        text = f'output wedge{index}-{n} "Wedge {index}" wedge in front-{n} from SL-{n}.line {index} via xlr 10 m'
        item = {"name": f"wedge{index}-{n}", "type": "wedge", "from": f"SL-{n}.line {index}", "length_m": 10}
        yield Line(text, "outputs", item)
    first, last = min(sources, 12), sources - 12
    patches = [(f"SL-{n}.mic 1-{first}", f"DESK-{n}.ch 1-{first}"), (f"DESK-{n}.mix 1-4", f"SL-{n}.line 1-4")]
    if last > 0:
        patches.append((f"SR-{n}.mic 1-{last}", f"DESK-{n}.ch 13-{sources}"))
    for left, right in patches:
        yield Line(f"patch {left} -> {right}", "patches", {"from": left, "to": right})
    keep = f"SL-{n}.mic 13-16"
    for _ in range(3 - len(patches) + 1):
        yield Line(f'keep {keep} for "support act"', "keeps", {"sockets": keep, "what": "support act"})
        keep = f"SL-{n}.line 5-8"
    yield Line(f"clock DESK-{n}", "clocks", {"box": f"DESK-{n}"})


def _source(stage: int, index: int) -> Line:
    """A source on the drum sub-box (the first twelve) or on the second stage box."""
    box, socket, zone = (f"DR-{stage}", index + 1, "drums") if index < 12 else (f"SR-{stage}", index - 11, "front")
    kind = TYPES[index % len(TYPES)]
    name = f"in{index + 1}-{stage}"
    text = f'source {name} "Line {index + 1}" {kind} in {zone}-{stage} to {box} {socket} via xlr 6 m'
    item = {
        "name": name,
        "label": f"Line {index + 1}",
        "type": kind,
        "to": f"{box} {socket}",
        "cable": "xlr",
        "length_m": 6,
    }
    return Line(text, "sources", item)


def yaml_text(made: list[Line]) -> str:
    """The same rig as a plain YAML file: a list for each kind of thing."""
    sections: dict[str, list[dict[str, Any]]] = {}
    for line in made:
        sections.setdefault(line.section, []).append(line.item)
    out = []
    for section, items in sections.items():
        out.append(f"{section}:")
        for item in items:
            rows = [row for key, value in item.items() for row in _rows(key, value)]
            out += [f"  - {rows[0]}", *(f"    {row}" for row in rows[1:])]
    return "\n".join([*out, ""])


def _rows(key: str, value: Any) -> list[str]:
    if isinstance(value, list) and value:
        return [f"{key}:", *(f"  - {json.dumps(part)}" for part in value)]
    return [f"{key}: {json.dumps(value)}"]


def schema(made: list[Line]) -> dict[str, Any]:
    """The mere shape of that YAML file as a JSON Schema: which keys, of which type."""
    kinds = {str: "string", int: "integer", list: "array"}
    shapes: dict[str, Any] = {}
    for line in made:
        keys = {key: {"type": kinds[type(value)]} for key, value in line.item.items()}
        item = {"type": "object", "properties": keys, "required": sorted(keys), "additionalProperties": False}
        shapes.setdefault(line.section, {"type": "array", "items": item})
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "properties": shapes,
        "additionalProperties": False,
    }
