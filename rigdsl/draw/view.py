"""A rig's view: which there are, and everything on the sheet with its findings."""

from __future__ import annotations

from collections.abc import Iterable

from rigdsl.draw.cables import Cabling
from rigdsl.draw.cabling import cabling
from rigdsl.draw.flow import flow
from rigdsl.draw.marks import marked
from rigdsl.draw.place import placed
from rigdsl.draw.shapes import View
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["VIEWS", "view"]

VIEWS = {"flow": "signal flow", "cabling": "cabling"}


def view(rig: Rig, paths: Paths, findings: Iterable[Finding], which: str) -> View:
    """The sheet of one view, the findings marked with their numbers, counted from 1 in the order given.

    `which` is a key of VIEWS; KeyError for another.
    """
    head = (which, rig.head.title or "a rig without a name", _facts(rig, which), _description(rig, which))
    if which == "flow":
        return marked(View(*head, *flow(paths)), findings, lambda finding: _stops(paths, finding))
    facts = Cabling(paths)
    return placed(marked(View(*head, *cabling(facts)), findings, lambda _: ()), facts.grid)


def _stops(paths: Paths, finding: Finding) -> tuple[str, ...]:
    """Where the sound of a source or output stops that a finding says is lost."""
    if finding.rule not in ("lost-source", "silent-output"):
        return ()
    known = finding.subject in paths.rig.sources or finding.subject in paths.rig.outputs
    routes = paths.paths_of(finding.subject) if known else ()
    ends = (path.end if finding.subject in paths.rig.sources else path.start for path in routes if not path.complete)
    return tuple(str(end) for end in ends)


def _facts(rig: Rig, which: str) -> tuple[str, ...]:
    head = rig.head
    facts = [VIEWS[which], f"revision {head.revision}" if head.revision else "", head.date, "lengths in metres"]
    return tuple(filter(None, [*facts, "demo data" if head.demo else "", "sheet 1 of 1"]))


def _description(rig: Rig, which: str) -> str:
    """What a screen reader says of the sheet as a whole."""
    things = ((rig.sources, "source", "sources"), (rig.boxes, "box", "boxes"), (rig.links, "link", "links"))
    counts = ((len(some), one, many) for some, one, many in (*things, (rig.outputs, "output", "outputs")))
    said = ", ".join(f"{count} {one if count == 1 else many}" for count, one, many in counts)
    how = "left to right as the signal goes" if which == "flow" else "every box in its zone and every cable once"
    return f"The {VIEWS[which]} of {rig.head.title or 'a rig'}: {said}; {how}."
