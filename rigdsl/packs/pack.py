"""What a pack is, and where one may be had."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rigdsl.lint.rule import PackedRule, Rule
from rigdsl.packs.guards import guarded_paper, guarded_view
from rigdsl.text import Source

if TYPE_CHECKING:  # a check makes no drawing and prints no paper, and does not wait for what does
    from rigdsl.draw import NamedView
    from rigdsl.papers import Paper

__all__ = ["API", "EDITION", "Installed", "Offer", "Pack", "Packs", "Refused"]

API = 1
EDITION = 2  # the newest of rigdsl's own rules


@dataclass(frozen=True)
class Pack:
    """What a pack offers. Its rules are `name` in rigdsl's own packs and `pack/name` in anyone else's.

    `api` is the edition of this interface that it is made for. `libraries` are files of gear in the rig language,
    and nothing but gear: see `gear`. `views` are drawings of its own, `papers` tables of its own.
    """

    name: str
    api: int = API
    rules: tuple[Rule[Any], ...] = ()
    libraries: tuple[Source, ...] = ()
    views: tuple[NamedView, ...] = ()
    papers: tuple[Paper, ...] = ()


@dataclass(frozen=True)
class Offer:
    """Where a pack may be had: what it is called there, its version, whether it is rigdsl's own, and how to get it."""

    name: str
    version: str
    ours: bool
    value: str
    load: Callable[[], object]
    named: bool = False  # by a person, on the command line


@dataclass(frozen=True)
class Installed:
    """A pack, with the version of the distribution that it came in.

    `named`: a person named it on the command line; `ours`: it is rigdsl's own. Both are in use in any case, and all
    others where a project lists them.
    """

    pack: Pack
    version: str
    named: bool = False
    ours: bool = False

    @property
    def title(self) -> str:
        """How to name it to a person: "`road-rules` 1.2"."""
        return f"`{self.pack.name}` {self.version}".strip()


@dataclass(frozen=True)
class Refused:
    """A pack that is left out, and why."""

    name: str
    version: str
    reason: str

    @property
    def title(self) -> str:
        """How to name it to a person."""
        return f"`{self.name}` {self.version}".strip()


@dataclass(frozen=True)
class Packs:
    """All packs that were found, by name. `waiting` are installed and not loaded: nobody has asked for them yet."""

    installed: tuple[Installed, ...] = ()
    refused: tuple[Refused, ...] = ()
    waiting: tuple[Offer, ...] = ()

    @property
    def rules(self) -> tuple[PackedRule, ...]:
        """Every rule of the packs in use, sorted by pack and name."""
        return tuple(
            PackedRule(rule, item.pack.name, item.version)
            for item in self.installed
            for rule in sorted(item.pack.rules, key=lambda rule: rule.name)
        )

    @property
    def libraries(self) -> tuple[Source, ...]:
        """The gear that the packs in use bring along."""
        return tuple(library for item in self.installed for library in item.pack.libraries)

    @property
    def views(self) -> dict[str, NamedView]:
        """The drawings that the packs in use bring along. One that breaks down raises PackError."""
        brought = ((view, item) for item in self.installed for view in item.pack.views)
        return {view.name: guarded_view(view, item.title) for view, item in brought}

    @property
    def papers(self) -> dict[str, Paper]:
        """The papers that the packs in use bring along. One that breaks down raises PackError."""
        brought = ((paper, item) for item in self.installed for paper in item.pack.papers)
        return {paper.name: guarded_paper(paper, item.title) for paper, item in brought}
