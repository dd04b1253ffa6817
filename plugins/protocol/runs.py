"""What the rules about digital runs share: the runs that a fault stops, what is in doubt, the finding about one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigdsl.finding import Finding, Related
from rigdsl.lint.words import silence, stage_end
from rigdsl.paths import Fault, Misfit, Paths, Route, Run
from rigdsl.rig import Link

__all__ = ["about_run", "chained_before", "doubtful", "misfits", "stopped", "unsure"]

# Lines that join no boxes and describe none: where only such a line was left out, boxes and cables are as they stand.
PLUGS_AND_PATCHES = frozenset(
    ("accept", "clock", "control", "keep", "output", "patch", "replug", "source", "stock", "unpatch", "way", "zone")
)


def stopped(paths: Paths, rule: str) -> Iterator[tuple[Run, Fault]]:
    """The runs whose first fault is this rule's (later ones are not told), and those that a patch blames so.

    Not those at a box of which something could not be read: it may be that which is wrong.
    """
    for run, fault in _stopped(paths, rule):
        if not doubtful(paths, (end.box for end in run.ends)):
            yield run, fault


def _stopped(paths: Paths, rule: str) -> Iterator[tuple[Run, Fault]]:
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
    """Boxes that a chain does not carry, by this rule; not those behind a box or a run that is told already."""
    lost = {misfit.box for misfit in paths.misfits}
    for misfit in paths.misfits:
        before = tuple(chained_before(paths, misfit.before))
        cut = any(box in lost or paths.chains[box].run.faults for box in before)
        if misfit.fault.rule == rule and not cut and not doubtful(paths, (misfit.box, misfit.before, *before)):
            yield misfit


def chained_before(paths: Paths, box: str) -> Iterator[str]:
    """A box of a chain and all between it and the head, nearest to it first."""
    seen = set()
    while box in paths.chains and box not in seen:
        seen.add(box)
        yield box
        box = paths.chains[box].before


def doubtful(paths: Paths, boxes: Iterable[str]) -> bool:
    """Something of one of these boxes, or of what is plugged into it, could not be read."""
    return _gear_in_doubt(paths) and not paths.rig.incomplete.isdisjoint(boxes)


def unsure(paths: Paths, route: Route) -> bool:
    """A cable or a box could not be read, and it may be the one that joins these two."""
    return _gear_in_doubt(paths) and paths.unsure_between(route.left.box, route.right.box)


def _gear_in_doubt(paths: Paths) -> bool:
    """Something could not be read, and it was more than lines about plugs and patches."""
    left_out = paths.rig.left_out
    return bool(paths.rig.incomplete) and not (left_out and left_out <= PLUGS_AND_PATCHES)


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
