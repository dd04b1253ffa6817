"""A rig's view: which there are, and everything on the sheet with its findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from rigdsl.draw.cables import Cabling
from rigdsl.draw.cabling import cabling
from rigdsl.draw.flow import flow
from rigdsl.draw.marks import marked
from rigdsl.draw.named import NamedView, head
from rigdsl.draw.place import placed
from rigdsl.draw.shapes import View
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["VIEWS", "view"]


def view(
    rig: Rig, paths: Paths, findings: Iterable[Finding], which: str, more: Mapping[str, NamedView] | None = None
) -> View:
    """The sheet of one view, the findings marked with their numbers, counted from 1 in the order given.

    `which` is a key of VIEWS or of `more`, those that packs bring; KeyError for another.
    """
    return {**(more or {}), **VIEWS}[which].sheet(rig, paths, tuple(findings))


def _flow(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
    plain = View(*head(rig, "flow", "signal flow", "left to right as the signal goes"), *flow(paths))
    return marked(plain, findings, lambda finding: _stops(paths, finding))


def _cabling(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
    facts = Cabling(paths)
    plain = View(*head(rig, "cabling", "cabling", "every box in its zone and every cable once"), *cabling(facts))
    return placed(marked(plain, findings, lambda _: ()), facts.grid)


VIEWS = {
    named.name: named for named in (NamedView("flow", "signal flow", _flow), NamedView("cabling", "cabling", _cabling))
}


def _stops(paths: Paths, finding: Finding) -> tuple[str, ...]:
    """Where the sound of a source or output stops that a finding says is lost."""
    if finding.rule not in ("lost-source", "silent-output"):
        return ()
    known = finding.subject in paths.rig.sources or finding.subject in paths.rig.outputs
    routes = paths.paths_of(finding.subject) if known else ()
    ends = (path.end if finding.subject in paths.rig.sources else path.start for path in routes if not path.complete)
    return tuple(str(end) for end in ends)
