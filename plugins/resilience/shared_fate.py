"""Two halves of a pair that fail together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import rule
from rigdsl.lint.words import count, listed, stage_end
from rigdsl.paths import Paths
from rigdsl.rig import Rig, natural
from rigdsl_resilience.halves import Halves, pairs

if TYPE_CHECKING:  # a check that has this rule off, or finds nothing for it, does not wait for what can fail
    from rigdsl.paths.failure import Failures

__all__ = ["shared_fate"]


@dataclass(frozen=True)
class Options:
    """What counts as one fate."""

    panels: bool = field(default=False, metadata={"help": "whether one wall panel for both halves counts too"})


@dataclass(frozen=True)
class Fate:
    """What both halves have in common: in words, by name for `lose`, and how to part them.

    One switch or one supply is one cause, however many pairs it takes.
    """

    words: str
    name: str
    help: str
    one_cause: bool = False


@dataclass(frozen=True)
class Shared:
    """A pair with its fates, and the other pairs that one of them takes too."""

    halves: Halves
    fates: tuple[Fate, ...]
    others: list[Halves]


@rule("shared-fate", Level.WARNING, Options, edition=2)
def shared_fate(rig: Rig, paths: Paths, options: Options) -> Iterator[Finding]:
    """Both halves of a redundant pair run in one loom, through one switch, or from one supply.

    A pair is two ports that say `redundant`, or `net primary` and `net secondary`, or two links between the same
    boxes that say `redundant`. The boxes that a pair is there for do not count, and no wall panel does: they have
    nothing in them that fails (an option counts panels too). One switch or supply is told once for all its pairs.

    ## On the night
    The second half is there for the night when the first one fails, and on that night it fails with it: one
    forklift over one loom, one plug pulled out of one wall.

    ## A rig that breaks it
    ```rig
    rig "In one loom" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed }
    model nw4 { kind stage-box; inputs mic 1-4 { preamp }; digital A, B { protocol fernlink; redundant } }
    model desk8 { kind console; channels ch 1-8; digital stage 1-2 { protocol fernlink; redundant } }
    zone wing
    zone foh
    box SL is nw4 in wing
    box DESK is desk8 in foh
    link C01: SL.A -- DESK.stage 1 via cat6 60 m { loom T1 }
    link C02: SL.B -- DESK.stage 2 via cat6 60 m { loom T1 }
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## A rig that keeps it
    ```rig
    rig "Two ways" { rate 48 kHz }
    protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m; slots fixed }
    model nw4 { kind stage-box; inputs mic 1-4 { preamp }; digital A, B { protocol fernlink; redundant } }
    model desk8 { kind console; channels ch 1-8; digital stage 1-2 { protocol fernlink; redundant } }
    zone wing
    zone foh
    box SL is nw4 in wing
    box DESK is desk8 in foh
    link C01: SL.A -- DESK.stage 1 via cat6 60 m { loom T1 }
    link C02: SL.B -- DESK.stage 2 via cat6 75 m { loom T2 }
    source kick dynamic in wing to SL 1 via xlr 6 m
    patch SL.mic 1 -> DESK.ch 1
    ```

    ## Figures
    None: what runs together fails together is common practice, no source. Supplies and what may hang on them are
    a licensed person's work, and local codes rule.

    ## See also
    network-crossed, single-point
    """
    found = _shared(rig, paths, options)
    if not found:
        return
    from rigdsl.paths.failure import Failures

    failures = Failures(paths)
    for shared in found:
        yield _told(failures, shared)


def _shared(rig: Rig, paths: Paths, options: Options) -> list[Shared]:
    """The pairs that share a fate; one whose fates are all told of a pair before it is counted there."""
    found: list[Shared] = []
    told: dict[str, Shared] = {}
    for halves in pairs(rig, paths):
        if _unread(rig, halves):
            continue
        fates = tuple(_fates(rig, halves, options))
        for before in {id(one): one for fate in fates if fate.one_cause and (one := told.get(fate.name))}.values():
            before.others.append(halves)
        new = tuple(fate for fate in fates if not (fate.one_cause and fate.name in told))
        if new:
            found.append(Shared(halves, new, []))
            told |= {fate.name: found[-1] for fate in new if fate.one_cause}
    return found


def _fates(rig: Rig, halves: Halves, options: Options) -> Iterator[Fate]:
    one, other = halves
    # one id with a cable of one line is as many cables as it has lines
    several = ({link.name for link in half.run.links if link.lead and link.lead.cable.lines > 1} for half in halves)
    for name in _common(*several):
        yield Fate(f"in one cable, `{name}`", name, "give each half a cable of its own")
    for name in _common(*({link.loom for link in half.run.links if link.loom} for half in halves)):
        yield Fate(f"in one loom, `{name}`", f"loom {name}", "pull the second one another way")
    for name in _common(set(one.between(rig, "switch")), set(other.between(rig, "switch"))):
        yield Fate(
            f"through one switch, `{name}`", name, f"plug the second one into another switch than `{name}`", True
        )
    yield from _mains(rig, halves)
    if options.panels:
        for name in _common(set(one.between(rig, "panel")), set(other.between(rig, "panel"))):
            yield Fate(f"through one panel, `{name}`", name, "take the second one through another panel")


def _mains(rig: Rig, halves: Halves) -> Iterator[Fate]:
    """Two switches, one on each half, that are plugged into one supply."""
    supply_of: dict[str, set[str]] = {}
    for power in rig.powers:
        for box in power.boxes:
            supply_of.setdefault(box, set()).add(power.supply)
    one, other = (half.between(rig, "switch") for half in halves)
    told: set[str] = set()
    for left in one:
        for right in other:
            both = supply_of.get(rig.body(left), set()) | supply_of.get(rig.body(right), set())
            known = rig.body(left) in supply_of and rig.body(right) in supply_of
            if left != right and known and len(both) == 1 and not both <= told:
                told |= both
                name = next(iter(both))
                words = f"over `{left}` and `{right}`, which are both on the supply `{name}`"
                yield Fate(words, name, "have one of the two switches on another supply, by a licensed person", True)


def _common(one: set[str], other: set[str]) -> list[str]:
    return sorted(one & other, key=natural)


def _unread(rig: Rig, halves: Halves) -> bool:
    boxes = {port.box for half in halves for piece in half.run.pieces for port in (piece.left, piece.right)}
    return not rig.incomplete.isdisjoint(boxes)


def _told(failures: Failures, shared: Shared) -> Finding:
    one, other = (half.run for half in shared.halves)
    links = sorted({link for run in (one, other) for link in run.links}, key=lambda link: link.key)
    more = len(shared.others)
    others = f"; so {'does' if more == 1 else 'do'} {count(more, 'more pair')}" if more else ""
    beside = [Related(halves[0].run.links[0].place, "another pair is here") for halves in shared.others]
    ends = (end for halves in (shared.halves, *shared.others) for half in halves for end in half.run.ends)
    return Finding(
        place=links[0].place,
        subject="+".join(link.name for link in links),
        message=f"both halves of a redundant pair run {' and '.join(fate.words for fate in shared.fates)}{others}",
        consequence="what takes one half takes the other with it" + _night(failures, shared.fates[0]),
        help=", and ".join(dict.fromkeys(fate.help for fate in shared.fates)),
        related=(
            *[Related(link.place, "the other half is here") for link in links[1:] if link in other.links][:4],
            *beside[:4],
        ),
        ports=tuple(str(port) for port in dict.fromkeys(ends)),
        box=stage_end(failures.paths, one).box,
    )


def _night(failures: Failures, fate: Fate) -> str:
    """Who would fall silent, sources and outputs counted apart."""
    lost = failures.lost_with((fate.name,))
    kinds = ((lost.silent_sources, "source"), (lost.silent_outputs, "output"))
    counts = [count(len(names), what) for names, what in kinds if names]
    silent = [*lost.silent_sources, *lost.silent_outputs]
    return f": {' and '.join(counts)} would fall silent, {listed(silent)}" if silent else ""
