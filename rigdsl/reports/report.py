"""What a check came to, over one rig or many: the value that every form of report is made from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from rigdsl.finding import Finding, Level
from rigdsl.lint import Verdict
from rigdsl.lint.order import place_key
from rigdsl.rig import Accept, Rig

__all__ = ["NOT_WHOLE", "Checked", "Item", "Report", "counted"]


NOT_WHOLE = ("rule-crashed", "wrong-config")  # findings that say so of the check itself


@dataclass(frozen=True)
class Checked:
    """One file, and what there is to say about it. A library is a file without a head of its own.

    `failing` is the mildest level that fails, as its project has it (None: nothing does).
    """

    path: str
    is_rig: bool
    rig: Rig
    verdict: Verdict
    failing: Level | None = Level.ERROR


@dataclass(frozen=True)
class Item:
    """A finding, and the line that accepts it, where one does; `known`: it is on the list of known findings."""

    finding: Finding
    by: Accept | None = None
    known: bool = False

    @property
    def is_open(self) -> bool:
        """Neither accepted nor known from before: it counts."""
        return self.by is None and not self.known

    @property
    def level(self) -> Level:
        """How bad it is."""
        return self.finding.level or Level.ERROR


@dataclass(frozen=True)
class Report:
    """`files` are those that were checked; `packs` the names and versions of the rule packs in use."""

    files: tuple[Checked, ...]
    packs: tuple[tuple[str, str], ...]
    version: str

    @property
    def whole(self) -> bool:
        """Whether the check did all of its work: no rule broke down, and all of `rig.toml` could be followed."""
        return not any(finding.rule in NOT_WHOLE for checked in self.files for finding in checked.verdict.findings)

    @cached_property
    def by_file(self) -> tuple[tuple[Checked, tuple[Item, ...]], ...]:
        """Each file with its findings; what is the same of several rigs stands with the first."""
        seen: set[object] = set()
        return tuple((checked, tuple(_new(checked.verdict, seen))) for checked in self.files)

    @property
    def rigs(self) -> tuple[str, ...]:
        """The paths of the rigs among the files."""
        return tuple(checked.path for checked in self.files if checked.is_rig)

    @cached_property
    def told(self) -> tuple[tuple[Checked, Item], ...]:
        """Every finding once, by place, with the file that it was first told of."""
        told = ((checked, item) for checked, items in self.by_file for item in items)
        return tuple(sorted(told, key=lambda one: (place_key(one[1].finding), one[1].by is not None, one[1].known)))

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """Every finding once, by place."""
        return tuple(item for _, item in self.told)

    @property
    def open(self) -> tuple[Item, ...]:
        """Those that nobody accepted, and that are not known from before."""
        return tuple(item for item in self.items if item.is_open)

    def listed(self, accepted: bool, known: bool) -> tuple[Item, ...]:
        """The open ones, and with them those that were asked for."""
        return tuple(item for item in self.items if item.is_open or (known if item.known else accepted))

    @property
    def fails(self) -> bool:
        """Whether anything open is as bad as what fails in its project."""
        told = [(checked.failing, item) for checked, item in self.told if item.is_open]
        return any(failing is not None and item.level >= failing for failing, item in told)

    @property
    def worst(self) -> Level | None:
        """The worst level among those that nobody accepted."""
        return max((item.level for item in self.open), default=None)

    @property
    def counts(self) -> dict[str, int]:
        """How many of each level, how many accepted, and how many known from before."""
        levels = Counter(str(item.level) for item in self.open)
        apart = Counter("known" if item.known else "accepted" for item in self.items if not item.is_open)
        return {name: levels[name] for name in ("error", "warning", "note")} | {
            name: apart[name] for name in ("accepted", "known")
        }


def _new(verdict: Verdict, seen: set[object]) -> Iterator[Item]:
    """The items of a rig that no rig before it has told."""
    items = _items(verdict)
    yield from (item for item in items if _identity(item) not in seen)
    seen.update(_identity(item) for item in items)


def _identity(item: Item) -> tuple[object, ...]:
    finding, place = item.finding, item.finding.place
    said = finding.rule, finding.subject, finding.message, finding.consequence
    return place.source.path, place.start, place.end, *said, item.by is None, item.known


def _items(verdict: Verdict) -> Sequence[Item]:
    return [
        *(Item(finding) for finding in verdict.findings),
        *(Item(finding, known=True) for finding in verdict.known),
        *(Item(accepted.finding, accepted.by) for accepted in verdict.accepted),
    ]


def counted(counts: Sequence[tuple[int, str]]) -> str:
    """Numbers and their nouns, those above nothing: "2 errors, 1 note"."""
    return ", ".join(f"{number} {noun}{'' if number == 1 else 's'}" for number, noun in counts if number)
