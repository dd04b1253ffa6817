"""A rig's view: which there are, and everything on the sheet with its findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from rigdsl.draw.cabling import cabling
from rigdsl.draw.flow import flow
from rigdsl.draw.marks import marked
from rigdsl.draw.named import NamedView, head
from rigdsl.draw.place import placed
from rigdsl.draw.plan import plan
from rigdsl.draw.plan_sheets import fitted
from rigdsl.draw.shapes import View
from rigdsl.draw.stage import grid
from rigdsl.finding import Finding
from rigdsl.paths import Paths
from rigdsl.rig import Rig

__all__ = ["VIEWS", "named_view", "view"]


def named_view(which: str, more: Mapping[str, NamedView] | None = None) -> NamedView:
    """A view by its name: a key of VIEWS or of `more`, those that packs bring; KeyError for another."""
    return {**(more or {}), **VIEWS}[which]


def view(
    rig: Rig,
    paths: Paths,
    findings: Iterable[Finding],
    which: str,
    more: Mapping[str, NamedView] | None = None,
    revision: str = "",
) -> View:
    """All that one view shows, the findings marked with their numbers, counted from 1 in the order given.

    Nothing has its place yet: see `sheets`. `which` is what `named_view` takes. `revision` stands there instead of
    the rig's own.
    """
    whole = named_view(which, more).sheet(rig, paths, tuple(findings))
    return replace(whole, revision=revision or rig.head.revision)


def _flow(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
    plain = View(*head(rig, "flow", "signal flow", "left to right as the signal goes"), *flow(paths))
    return marked(plain, findings, lambda finding: _stops(paths, finding))


def _cabling(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
    plain = View(*head(rig, "cabling", "cabling", "every box in its zone and every cable once"), *cabling(paths))
    return marked(plain, findings, lambda _: ())


def _plan(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
    plain = View(*head(rig, "plan", "plan", "to scale, seen from above, the audience at the bottom"), *plan(paths))
    return marked(plain, findings, lambda _: ())


def _in_zones(view: View, rig: Rig) -> View:
    return placed(view, grid(rig, {node.group for node in view.nodes}))


VIEWS = {
    named.name: named
    for named in (
        NamedView("flow", "signal flow", _flow),
        NamedView("cabling", "cabling", _cabling, _in_zones),
        NamedView("plan", "plan", _plan, fit=fitted),
    )
}


def _stops(paths: Paths, finding: Finding) -> tuple[str, ...]:
    """Where the sound of a source or output stops that a finding says is lost."""
    if finding.rule not in ("lost-source", "silent-output"):
        return ()
    known = finding.subject in paths.rig.sources or finding.subject in paths.rig.outputs
    routes = paths.paths_of(finding.subject) if known else ()
    ends = (path.end if finding.subject in paths.rig.sources else path.start for path in routes if not path.complete)
    return tuple(str(end) for end in ends)
