"""Packs: what adds rules, gear, drawings and papers. A pack is a value, found by an entry point, checked when loaded.

An installed distribution offers one in its metadata, in the group `rigdsl.packs`:

    [project.entry-points."rigdsl.packs"]
    festival = "rigdsl_festival:pack"

A pack that cannot be used is refused with the reason and left out; the others go on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, is_dataclass
from importlib.metadata import EntryPoint, entry_points
from typing import Any

from rigdsl.lint.options import schema
from rigdsl.lint.rule import PackedRule, Rule
from rigdsl.text import Source

__all__ = ["API", "EDITION", "Installed", "Pack", "Packs", "Refused", "discover"]

API = 1
EDITION = 2  # the newest of rigdsl's own rules
GROUP = "rigdsl.packs"
LEVEL = "level"  # a key of every rule in `rig.toml`, beside its options
HOME = "rigdsl"  # the distribution whose packs give their rules bare names

KEBAB = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


@dataclass(frozen=True)
class Pack:
    """What a pack offers. Its rules are `name` in rigdsl's own packs and `pack/name` in anyone else's."""

    name: str
    api: int = API
    rules: tuple[Rule[Any], ...] = ()
    libraries: tuple[Source, ...] = ()
    views: tuple[Any, ...] = ()
    papers: tuple[Any, ...] = ()


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


@dataclass(frozen=True)
class Refused:
    """A pack that is left out, and why."""

    name: str
    version: str
    reason: str


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


@dataclass(frozen=True)
class Offer:
    """An entry point, with the version of its distribution and whether that is rigdsl's own."""

    point: EntryPoint
    version: str
    ours: bool


def discover(found: Iterable[EntryPoint] | None = None) -> Packs:
    """Load and check the packs of the installed distributions (or of the entry points given)."""
    installed: list[Installed] = []
    refused: list[Refused] = []
    for offer in _offers(entry_points(group=GROUP) if found is None else found):
        try:
            pack = offer.point.load()
            faults = _faults(pack, offer, installed)
        except (Exception, SystemExit) as error:  # a stranger's code may raise anything at all
            faults = [f"it cannot be loaded: {type(error).__name__}: {error}"]
        if faults:
            refused.append(Refused(offer.point.name, offer.version, "; ".join(faults)))
        else:
            installed.append(Installed(pack, offer.version, ours=offer.ours))
    by_name = sorted(installed, key=lambda item: item.pack.name)
    return Packs(tuple(by_name), tuple(sorted(refused, key=lambda item: item.name)))


def _offers(points: Iterable[EntryPoint]) -> list[Offer]:
    """Our own first, then by name. A distribution's metadata is slow to read, and read once for all its packs."""
    known: dict[int, tuple[str, bool]] = {}
    offers = []
    for point in points:
        dist = point.dist
        if dist is not None and id(dist) not in known:
            metadata = dist.metadata
            known[id(dist)] = metadata["Version"], metadata["Name"] == HOME
        version, ours = known[id(dist)] if dist is not None else ("", False)
        offers.append(Offer(point, version, ours))
    return sorted(offers, key=lambda offer: (not offer.ours, offer.point.name))


def _faults(pack: object, offer: Offer, before: list[Installed]) -> list[str]:
    """Why a pack cannot be used: nothing where it can."""
    if not isinstance(pack, Pack):
        return [f"`{offer.point.value}` is not a pack"]
    if pack.api != API:
        return [f"it is made for packs of edition {pack.api}, and this rigdsl takes edition {API}"]
    faults = []
    if not KEBAB.fullmatch(pack.name):
        faults.append(f"`{pack.name}` is no name for a pack: small letters, digits and single hyphens")
    if any(item.pack.name == pack.name for item in before):
        faults.append(f"another pack is called `{pack.name}` too")
    taken = {rule.name for item in before for rule in item.pack.rules}
    for rule in pack.rules:
        faults += _rule_faults(rule, "" if offer.ours else f"{pack.name}/", taken)
    return faults


def _rule_faults(rule: Rule[Any], prefix: str, taken: set[str]) -> list[str]:
    """Why a rule cannot be used; a good one's name is taken from now on."""
    if not isinstance(rule, Rule):
        return [f"`{getattr(rule, '__name__', type(rule).__name__)}` is not a rule"]
    if not rule.name.startswith(prefix) or not KEBAB.fullmatch(rule.name.removeprefix(prefix)):
        return [f"the rule `{rule.name}` should be called `{prefix}` and a name of small letters, digits, hyphens"]
    if rule.name in taken:
        return [f"there are two rules called `{rule.name}`"]
    taken.add(rule.name)
    if not rule.doc.strip():
        return [f"the rule `{rule.name}` has no help page"]
    if not is_dataclass(rule.options):
        return [f"the options of `{rule.name}` are not a dataclass"]
    try:
        if LEVEL in schema(rule.options)["properties"]:
            return [f"the option `{LEVEL}` of `{rule.name}` cannot be set: in `rig.toml` that is the rule's level"]
        rule.options()
    except (TypeError, ValueError) as error:
        return [f"the options of `{rule.name}` cannot be used: {error}"]
    return []
