"""What the page's script knows: every path once, which of them each name is on, and the findings."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from rigdsl.finding import Finding, Level
from rigdsl.paths import Path, Paths
from rigdsl.reports.spot import spot
from rigdsl.reports.trace import steps
from rigdsl.rig import Leg, Port

__all__ = ["dumped", "findings_data", "known"]


def known(paths: Paths) -> dict[str, Any]:
    """Paths in words, the names along each in order, and labels of what has one."""
    rig = paths.rig
    told = []
    index: dict[str, list[int]] = {}
    for at, path in enumerate(paths.all_paths):
        said = steps(path, rig)
        names, cables = _names(path), _cables(path)
        told.append(
            {
                "title": said.title,
                "because": said.because,
                "hops": said.hops,
                "total": said.total,
                "names": names,
                "cables": cables,
                "complete": path.complete,
            }
        )
        boxes = [port.box for port in _ports(path)]
        for name in dict.fromkeys([*names, *cables, *boxes, *map(rig.body, boxes)]):
            index.setdefault(name, []).append(at)
    labels = {box.name: box.label for box in rig.boxes.values()}
    labels |= {thing.name: thing.label for some in (rig.sources, rig.outputs) for thing in some.values()}
    labels = {name: label for name, label in sorted(labels.items()) if label}
    kinds = {name: word for some, word in _kinds(paths) for name in some}
    return {"paths": told, "index": index, "labels": labels, "kinds": dict(sorted(kinds.items()))}


def _kinds(paths: Paths) -> Sequence[tuple[Any, str]]:
    rig = paths.rig
    return ((rig.boxes, "box"), (rig.sources, "source"), (rig.outputs, "output"), (rig.links, "cable"))


def _ends(path: Path) -> list[Port | Leg]:
    return [path.start, *(end for hop in path.hops for end in (hop.left, hop.right)), path.end]


def _ports(path: Path) -> list[Port]:
    return [end for end in _ends(path) if isinstance(end, Port)]


def _names(path: Path) -> list[str]:
    """Sockets, source and output along a path, in its order."""
    return list(dict.fromkeys(end.name if isinstance(end, Leg) else str(end) for end in _ends(path)))


def _cables(path: Path) -> list[str]:
    return list(dict.fromkeys(hop.link.name for hop in path.hops if hop.link is not None))


def findings_data(findings: Sequence[Finding], rig: str) -> list[dict[str, Any]]:
    """The findings as the list on the page has them, numbered as on the drawings. `rig` is the file of the rig."""
    return [
        {
            "number": number,
            "level": str(finding.level or Level.WARNING),
            "rule": finding.rule,
            "message": finding.message,
            "consequence": finding.consequence,
            "help": finding.help,
            "place": _place(finding, rig),
        }
        for number, finding in enumerate(findings, 1)
    ]


def _place(finding: Finding, rig: str) -> str:
    """File and line, as `rigdsl check` begins its own lines."""
    at = spot(finding.place, rig, str)
    return f"{at.path}:{at.line}"


def dumped(data: object) -> str:
    """JSON that no label can end: it stands in the page as text that is not run."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text
