"""A traced path told hop by hop: for people as text, for programs as JSON (`grammar/trace.schema.json`)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from rigdsl.paths.model import Hop, Path
from rigdsl.reports.bundle import bundled
from rigdsl.reports.check_json import dumped
from rigdsl.reports.look import Look
from rigdsl.reports.report import counted
from rigdsl.rig import Leg, Port, Rig
from rigdsl.rig.units import shown

__all__ = ["Steps", "Traced", "steps", "trace_json", "trace_text"]

MILLI = 1e-3


@dataclass(frozen=True)
class Traced:
    """What was asked for, its kind (source, output, channel, mix, socket, cable or box), and its paths."""

    subject: str
    kind: str
    paths: tuple[Path, ...]
    rig: Rig


def trace_json(traced: Traced) -> bytes:
    """One JSON document; lengths in metres, times in milliseconds."""
    paths = [_path(path, traced.rig) for path in traced.paths]
    return dumped({"subject": traced.subject, "kind": traced.kind, "paths": paths})


def trace_text(traced: Traced, look: Look) -> str:
    """Each path with a line for every hop; of a cable or box that carries many, first what goes over it in short."""
    told = ["\n".join(_told(path, traced.rig, look)) for path in traced.paths]
    if len(told) > 1 and traced.kind in ("cable", "box"):
        told.insert(0, "\n".join(bundled(traced.subject, traced.kind, traced.paths, look)))
    return "\n\n".join(told or [look.text(f"no signal goes over {traced.subject}")]) + "\n"


def _path(path: Path, rig: Rig) -> dict[str, Any]:
    return {
        "from": str(path.start),
        "to": str(path.end),
        "complete": path.complete,
        "stops_because": None if path.complete else path.stops,
        "hops": [_hop(hop) for hop in path.hops],
        "length_m": _rounded(path.length_m),
        "copper_run_m": _rounded(copper_run_m(path, rig)),
        "latency_ms": _rounded(path.latency_s / MILLI),
        "channels": [str(port) for port in _channels(path, rig)],
    }


def _hop(hop: Hop) -> dict[str, Any]:
    return {
        "from": str(hop.left),
        "to": str(hop.right),
        "by": _by(hop),
        "cable": hop.cable,
        "length_m": _rounded(hop.length_m) if hop.cable is not None else None,
        "protocol": hop.protocol,
        "latency_ms": _rounded(hop.latency_s / MILLI),
    }


def _by(hop: Hop) -> str:
    """What carries it; a cable by its id."""
    return hop.link.name if hop.by == "link" and hop.link is not None else hop.by


def _rounded(value: float | None) -> float | None:
    """To a micrometre or a nanosecond: what adding up leaves behind that is no measure."""
    return None if value is None else round(value, 6)


def _channels(path: Path, rig: Rig) -> tuple[Port, ...]:
    """The desk channels on a path, in its order."""
    ends = [end for hop in path.hops for end in (hop.left, hop.right)] or [path.start, path.end]
    ports = [end for end in ends if isinstance(end, Port) and rig.group(end).role == "channels"]
    return tuple(dict.fromkeys(ports))


def copper_run_m(path: Path, rig: Rig) -> float | None:
    """The longest stretch of copper on a path: cables added up through passive passes; fibre is none.

    None where a length in it is not known, or where the path has no copper.
    """
    runs: list[list[Hop]] = [[]]
    for hop in path.hops:
        if hop.cable is not None:
            if _fibre(hop, rig):
                runs.append([])
            else:
                runs[-1].append(hop)
                if _comes_back(hop, rig):
                    runs.append([])
        elif not _wire(hop, rig):
            runs.append([])
    lengths = [[hop.length_m for hop in run] for run in runs if run]
    if not lengths or any(None in run for run in lengths):
        return None
    return max(sum(length for length in run if length is not None) for run in lengths)


def _comes_back(hop: Hop, rig: Rig) -> bool:
    """From outboard into the desk again, in the cable that it went out by."""
    return hop.by == "plug" and isinstance(hop.right, Port) and rig.group(hop.right).role in ("channels", "mixes")


def _fibre(hop: Hop, rig: Rig) -> bool:
    cable = rig.cables.get(hop.cable or "")
    return cable is not None and cable.medium == "fibre"


def _wire(hop: Hop, rig: Rig) -> bool:
    """Whether a hop inside a box is plain wire from one socket to the next."""
    if hop.by != "pass" or not isinstance(hop.left, Port) or not isinstance(hop.right, Port):
        return False
    ends = {hop.left.group, hop.right.group}
    passes = rig.boxes[hop.left.box].model.passes
    return any(inner.passive for inner in passes if {inner.left, inner.right} == ends)


@dataclass(frozen=True)
class Steps:
    """A path in words: where it begins and ends, why it stops if it does, each hop with where it leads, the sum."""

    title: str
    because: str
    hops: tuple[tuple[str, str], ...]
    total: str


def steps(path: Path, rig: Rig) -> Steps:
    """What is said of a path."""
    goal = f"arrives at {path.end}" if path.complete else f"stops at {path.end}"
    hops = tuple((_words(hop, rig), str(hop.right)) for hop in path.hops)
    return Steps(f"{_titled(path.start, rig)} {goal}", "" if path.complete else path.stops, hops, _sum(path, rig))


def _told(path: Path, rig: Rig, look: Look) -> Iterator[str]:
    said = steps(path, rig)
    yield look.paint(look.text(said.title), "bold")
    if said.because:
        yield from look.hanging("because ", said.because)
    wide = max((len(words) for words, _ in said.hops), default=0)
    yield from (look.text(f"  {words.ljust(wide)}  {goal}") for words, goal in said.hops)
    yield look.text(f"  {said.total}")


def _titled(end: Port | Leg, rig: Rig) -> str:
    if isinstance(end, Port):
        return str(end)
    thing = rig.thing(end)
    label = f' "{thing.label}"' if thing.label else ""
    side = f", socket {end.index + 1} of {len(thing.ports)}" if len(thing.ports) > 1 else ""
    return f"{end}{label}{side}"


def _words(hop: Hop, rig: Rig) -> str:
    """A hop in a few words: "C01, cat6s, 75 m, fernlink"."""
    if hop.cable is not None:
        length = "length unknown" if hop.length_m is None else f"{shown(hop.length_m)} m"
        parts = [hop.link.name if hop.link is not None else "plug", hop.cable, length, hop.protocol or ""]
    else:
        parts = [_inside(hop, rig)]
    if hop.latency_s:
        parts.append(f"{shown(hop.latency_s, MILLI, 3)} ms")
    return ", ".join(part for part in parts if part)


def _inside(hop: Hop, rig: Rig) -> str:
    box = hop.left.box if isinstance(hop.left, Port) else ""
    words = {
        "plug": "by radio" if _wireless(hop, rig) else "plug",
        "link": hop.link.name if hop.link is not None else "wireless",
        "pass": f"through {box}",
        "preamp": f"preamp of {box}",
        "convert": f"converted in {box}",
        "chain": f"chained on by {box}",
        "switch": f"switch {box}",
        "bridge": f"bridge {box}",
        "patch": "patch",
        "mix": f"mixed in {box}",
    }
    return words[hop.by]


def _wireless(hop: Hop, rig: Rig) -> bool:
    return any(isinstance(end, Port) and rig.group(end).wireless for end in (hop.left, hop.right))


def _sum(path: Path, rig: Rig) -> str:
    cables = sum(1 for hop in path.hops if hop.cable is not None and not _comes_back(hop, rig))
    parts = [counted([(cables, "cable")]) or "no cable"]
    if cables:
        length = path.length_m
        parts.append("length unknown" if length is None else f"{shown(length)} m")
    copper = copper_run_m(path, rig)
    if copper is not None:
        parts.append(f"longest copper run {shown(copper)} m")
    parts.append(f"{shown(path.latency_s, MILLI, 3)} ms")
    return ", ".join(parts)
