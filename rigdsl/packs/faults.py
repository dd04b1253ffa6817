"""Why a pack cannot be used: nothing where it can."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import is_dataclass
from typing import Any

from rigdsl.finding import Level
from rigdsl.lint.options import schema
from rigdsl.lint.rule import Rule
from rigdsl.packs.pack import API, Installed, Pack
from rigdsl.text import Source

__all__ = ["KEBAB", "pack_faults"]

EDITIONS = (API,)  # of the interface of packs that are taken
LEVEL = "level"  # a key of a rule's own in `rig.toml`, beside its options
KEBAB = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


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
