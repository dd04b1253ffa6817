"""What the rules about digital runs share: the runs that a fault stops, and the finding about one."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Related
from rigdsl.lint.words import silence, stage_end
from rigdsl.paths import Fault, Misfit, Paths, Route, Run
from rigdsl.rig import Link

__all__ = ["about_run", "misfits", "stopped", "unsure"]


def stopped(paths: Paths, rule: str) -> Iterator[tuple[Run, Fault]]:
    """The runs whose first fault is this rule's (later ones are not told), and those that a patch blames so."""
    told = set()
    for run in paths.runs:
        if run.faults:
            told.add(run)
            if run.faults[0].rule == rule:
                yield run, run.faults[0]
    for routes in paths.patch_routes.values():
        for _, _, route in routes:
            for blamed, fault, _ in route.blame if route else ():
                if fault.rule == rule and blamed is not None and blamed not in told:
                    told.add(blamed)
                    yield blamed, fault


def misfits(paths: Paths, rule: str) -> Iterator[Misfit]:
    """Boxes that a chain does not carry, by this rule; not those behind one that is told already."""
    lost = {misfit.box for misfit in paths.misfits}
    for misfit in paths.misfits:
        if misfit.fault.rule == rule and not any(box in lost for box in _before(paths, misfit.before)):
            yield misfit


def _before(paths: Paths, box: str) -> Iterator[str]:
    """A box and all between it and the head of its chain."""
    seen = set()
    while box in paths.chains and box not in seen:
        seen.add(box)
        yield box
        box = paths.chains[box].before


def unsure(paths: Paths, route: Route) -> bool:
    """A link could not be read, and it may be the one that joins these two."""
    return "link" in paths.rig.left_out and paths.unsure_between(route.left.box, route.right.box)


def about_run(
    paths: Paths,
    run: Run,
    message: str,
    *,
    consequence: str = "",
    help: str = "",
    related: tuple[Related, ...] = (),
    at: Link | None = None,
    subject: str = "",
    box: str = "",
) -> Finding:
    """A finding about a run that passes no sound, shown at its first link or the one given.

    It says who falls silent, or the consequence given if nobody does. Where its subject is not the run,
    what falls silent is what is blamed on that subject.
    """
    night, silent = silence(paths, subject or run)
    main = at or run.links[0]
    places = tuple(Related(link.place, "another piece of this run") for link in run.links if link is not main)
    return Finding(
        place=main.place,
        subject=subject or run.name,
        message=message,
        consequence=night or consequence,
        help=help,
        related=related + places,
        ports=tuple(str(end) for end in run.ends),
        silent=silent,
        box=box or stage_end(paths, run).box,
    )
