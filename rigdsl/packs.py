"""Packs: what adds rules, gear, drawings and papers. A pack is a value, found by an entry point, checked when loaded.

An installed distribution offers one in its metadata, in the group `rigdsl.packs`:

    [project.entry-points."rigdsl.packs"]
    festival = "rigdsl_festival:pack"

One may also stand in a Python file that a person names on the command line; no rig and no `rig.toml` can name one.
A pack that cannot be used is refused with the reason and left out; the others go on.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, is_dataclass, replace
from importlib.metadata import EntryPoint, entry_points
from typing import TYPE_CHECKING, Any

from rigdsl.finding import Finding, Level
from rigdsl.lint.options import schema
from rigdsl.lint.rule import PackedRule, Rule
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl.text import Source, normalised

if TYPE_CHECKING:  # a check makes no drawing and prints no paper, and does not wait for what does
    from rigdsl.draw import NamedView, View
    from rigdsl.papers import Paper, Table

__all__ = [
    "API",
    "EDITION",
    "Installed",
    "Pack",
    "PackError",
    "Packs",
    "Refused",
    "discover",
    "gear",
    "one_line",
    "pack_faults",
]

API = 1
EDITIONS = (API,)  # of this interface that are taken
EDITION = 2  # the newest of rigdsl's own rules
GROUP = "rigdsl.packs"
HOME = "rigdsl"  # the distribution whose packs give their rules bare names
LEVEL = "level"  # a key of a rule's own in `rig.toml`, beside its options

KEBAB = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


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
    """All packs that were found, by name."""

    installed: tuple[Installed, ...] = ()
    refused: tuple[Refused, ...] = ()

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
        return {view.name: _guarded_view(view, item) for view, item in brought}

    @property
    def papers(self) -> dict[str, Paper]:
        """The papers that the packs in use bring along. One that breaks down raises PackError."""
        brought = ((paper, item) for item in self.installed for paper in item.pack.papers)
        return {paper.name: _guarded_paper(paper, item) for paper, item in brought}


class PackError(Exception):
    """A view or paper of a pack broke down; the text names the pack, in one line."""


def _guarded_view(view: NamedView, by: Installed) -> NamedView:
    """The view, its faults told with the pack's name, also a sheet that no engine could draw."""

    def sheet(rig: Rig, paths: Paths, findings: Sequence[Finding]) -> View:
        from rigdsl.draw import faults

        with _blamed("view", view.name, by):
            made = view.sheet(rig, paths, findings)
            wrong = faults(made)
            if wrong:
                raise ValueError(wrong[0])
            return made

    return replace(view, sheet=sheet)


def _guarded_paper(paper: Paper, by: Installed) -> Paper:
    def table(rig: Rig, paths: Paths) -> Table:
        from rigdsl.papers import Table

        with _blamed("paper", paper.name, by):
            made = paper.table(rig, paths)
            if not isinstance(made, Table):
                raise TypeError(f"it gave {type(made).__name__} and no table")
            return made

    return replace(paper, table=table)


@contextmanager
def _blamed(what: str, name: str, by: Installed) -> Iterator[None]:
    try:
        yield
    except Exception as error:
        words = f"the {what} `{name}` broke down: {one_line(error)}"
        raise PackError(f"{words}; tell the makers of the pack {by.title}, with this rig") from error


@dataclass(frozen=True)
class Offer:
    """Where a pack may be had: what it is called there, its version, whether it is rigdsl's own, and how to get it."""

    name: str
    version: str
    ours: bool
    value: str
    load: Callable[[], object]
    named: bool = False  # by a person, on the command line


def discover(found: Iterable[EntryPoint] | None = None, files: Sequence[str] = ()) -> Packs:
    """Load and check the packs of the installed distributions (or of the entry points given), and those of files.

    A pack in a file that somebody named takes the place of an installed one of its name.
    """
    installed: list[Installed] = []
    refused: list[Refused] = []
    ours, theirs = _offers(entry_points(group=GROUP) if found is None else found)
    for offer in (*ours, *(_of_file(path) for path in files), *theirs):
        try:
            pack = offer.load()
            if not offer.named and any(
                item.named and item.pack.name == getattr(pack, "name", "") for item in installed
            ):
                continue
            faults = pack_faults(pack, offer.value, installed, ours=offer.ours)
        except (Exception, SystemExit) as error:  # a stranger's code may raise anything at all
            faults = [f"it cannot be loaded: {one_line(error)}"]
            pack = None
        if faults or not isinstance(pack, Pack):
            refused.append(Refused(offer.name, offer.version, "; ".join(faults)))
        else:
            installed.append(Installed(pack, offer.version, offer.named, offer.ours))
    by_name = sorted(installed, key=lambda item: item.pack.name)
    return Packs(tuple(by_name), tuple(sorted(refused, key=lambda item: item.name)))


def one_line(error: BaseException) -> str:
    """What a stranger's code stumbled over, on one line and the same in every run."""
    words = re.sub(r" at 0x[0-9a-fA-F]+", "", " ".join(str(error).split()))
    return f"{type(error).__name__}: {words}"[:300]


def gear(package: str) -> tuple[Source, ...]:
    """The gear that lies in a package: every `.rig` file of it, by name, for `Pack(libraries=...)`."""
    from importlib.resources import files

    found = sorted((item for item in files(package).iterdir() if item.name.endswith(".rig")), key=lambda one: one.name)
    return tuple(Source(f"{package}/{item.name}", normalised(item.read_text("utf-8"))) for item in found)


def _offers(points: Iterable[EntryPoint]) -> tuple[list[Offer], list[Offer]]:
    """Our own and the others', by name. A distribution's metadata is slow to read, and read once for all its packs."""
    known: dict[int, tuple[str, bool]] = {}
    offers = []
    for point in points:
        dist = point.dist
        if dist is not None and id(dist) not in known:
            metadata = dist.metadata
            known[id(dist)] = metadata["Version"], metadata["Name"] == HOME
        version, ours = known[id(dist)] if dist is not None else ("", False)
        offers.append(Offer(point.name, version, ours, point.value, point.load))
    offers.sort(key=lambda offer: offer.name)
    return [offer for offer in offers if offer.ours], [offer for offer in offers if not offer.ours]


def _of_file(path: str) -> Offer:
    """The pack of a file, which is run: a module, or the `__init__.py` of a package."""

    def load() -> object:
        import sys
        from importlib.util import module_from_spec, spec_from_file_location

        folder, base = os.path.split(os.path.abspath(path))
        package = base == "__init__.py"
        name = os.path.basename(folder) if package else f"rigdsl_file_{base.removesuffix('.py')}"
        spec = spec_from_file_location(name, path, submodule_search_locations=[folder] if package else None)
        if spec is None or spec.loader is None:
            raise ImportError("no Python file")
        module = sys.modules[name] = module_from_spec(spec)  # where its own parts and dataclasses look for it
        spec.loader.exec_module(module)
        return module.pack

    return Offer(path, "", False, f"{path}:pack", load, named=True)


def pack_faults(pack: object, value: str, before: Sequence[Installed] = (), *, ours: bool = False) -> list[str]:
    """Why a pack cannot be used beside those that are there already: nothing where it can.

    `value` says where it was found; our own packs have bare names for what they bring.
    """
    if not isinstance(pack, Pack):
        return [f"`{value}` is not a pack"]
    if pack.api not in EDITIONS:
        taken = ", ".join(map(str, EDITIONS))
        return [f"it is made for packs of edition {pack.api}, and this rigdsl takes edition {taken}"]
    faults = []
    if not KEBAB.fullmatch(pack.name):
        faults.append(f"`{pack.name}` is no name for a pack: small letters, digits and single hyphens")
    if any(item.pack.name == pack.name for item in before):
        faults.append(f"another pack is called `{pack.name}` too")
    names = {rule.name for item in before for rule in item.pack.rules}
    prefix = "" if ours else f"{pack.name}/"
    for rule in pack.rules:
        faults += _rule_faults(rule, prefix, names)
    return [*faults, *_library_faults(pack), *_view_faults(pack, prefix), *_paper_faults(pack, prefix)]


def _rule_faults(rule: Rule[Any], prefix: str, taken: set[str]) -> list[str]:
    """Why a rule cannot be used; a good one's name is taken from now on."""
    if not isinstance(rule, Rule):
        return [f"`{_called(rule)}` is not a rule"]
    named = _name_faults("rule", rule.name, prefix, taken)
    if named:
        return named
    if not rule.doc.strip():
        return [f"the rule `{rule.name}` has no help page"]
    if not isinstance(rule.level, Level):
        return [f"the level of `{rule.name}` is none of error, warning and note"]
    if not is_dataclass(rule.options):
        return [f"the options of `{rule.name}` are not a dataclass"]
    try:
        properties = schema(rule.options)["properties"]
        rule.options()
    except (TypeError, ValueError) as error:
        return [f"the options of `{rule.name}` cannot be used: {error}"]
    if LEVEL in properties:
        return [f"`{rule.name}` has an option called `{LEVEL}`, which is how a project sets the level of a rule"]
    return []


def _name_faults(what: str, name: str, prefix: str, taken: set[str]) -> list[str]:
    """Why a rule, view or paper cannot be called so; a good name is taken from now on."""
    if not isinstance(name, str) or not name.startswith(prefix) or not KEBAB.fullmatch(name.removeprefix(prefix)):
        return [f"the {what} `{name}` should be called `{prefix}` and a name of small letters, digits, hyphens"]
    if name in taken:
        return [f"there are two {what}s called `{name}`"]
    taken.add(name)
    return []


def _called(value: object) -> str:
    return str(getattr(value, "__name__", type(value).__name__))


def _library_faults(pack: Pack) -> Iterator[str]:
    """Why its gear cannot be used, with the line."""
    if not pack.libraries:
        return
    from rigdsl.rig.libraries import library_faults

    for library in pack.libraries:
        if not isinstance(library, Source):
            yield f"`{_called(library)}` is no text of gear: `rigdsl.packs.gear` reads those of a package"
        else:
            yield from library_faults(library, [other for other in pack.libraries if other is not library])


def _view_faults(pack: Pack, prefix: str) -> Iterator[str]:
    if not pack.views:
        return
    from rigdsl.draw import VIEWS, NamedView

    taken = {*VIEWS}
    for view in pack.views:
        if not isinstance(view, NamedView):
            yield f"`{_called(view)}` is not a view"
        else:
            yield from _name_faults("view", view.name, prefix, taken)


def _paper_faults(pack: Pack, prefix: str) -> Iterator[str]:
    if not pack.papers:
        return
    from rigdsl.papers import PAPERS, Paper

    taken = {*PAPERS}
    for paper in pack.papers:
        if not isinstance(paper, Paper):
            yield f"`{_called(paper)}` is not a paper"
        else:
            yield from _name_faults("paper", paper.name, prefix, taken)
