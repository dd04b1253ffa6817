"""Other people's packs in `rig.toml`: which are asked for, in which version, and which of them can be used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from rigdsl.config.keys import PACK, VERSION
from rigdsl.config.said import Said
from rigdsl.config.versions import meets
from rigdsl.finding import similar
from rigdsl.lint.settings import Choice
from rigdsl.packs import Installed, Packs, asked_for
from rigdsl.text.toml_places import KeyPath

__all__ = ["asked_packs", "in_use"]

QUIET = "its rules and its gear are not in use"


def in_use(packs: Packs, asked: Mapping[str, object]) -> Packs:
    """The packs that are always in use, and those that are asked for."""
    chosen = (item for item in packs.installed if item.ours or item.named or item.pack.name in asked)
    return replace(packs, installed=tuple(chosen))


def asked_packs(said: Said, packs: Packs) -> tuple[Packs, Packs, dict[str, Choice], frozenset[str]]:
    """All packs, the packs in use, their editions by name, and the names of those asked for that cannot be used.

    Other people's packs are loaded here, and only those that are asked for.
    """
    listed = said.values.get("packs", {})
    if not isinstance(listed, dict):
        hint = 'write `[packs]`, and under it a line for each, as in `festival = ">=1.2"`'
        said.tell(said.places.key(("packs",)), ("packs",), "`packs` is no block", "no other pack is in use", hint)
        listed = {}
    packs = asked_for(packs, listed)
    installed = {item.pack.name: item for item in packs.installed}
    editions: dict[str, Choice] = {}
    good: dict[str, Installed] = {}
    for name, value in listed.items():
        path: KeyPath = ("packs", name)
        version, edition = _wishes(said, path, value)
        if _usable(said, path, name, version, packs, installed):
            good[name] = installed[name]
            if edition is not None:
                editions[name] = said.choice((*path, "edition"), edition)
    return packs, in_use(packs, good), editions, frozenset(listed) - good.keys()


def _wishes(said: Said, path: KeyPath, value: Any) -> tuple[str, int | None]:
    """The version and the edition that are asked for; what cannot be read asks for nothing."""
    if not isinstance(value, dict):
        hint = 'a version is `">=1.2"` or `">=1.2, <2"`'
        return (value if said.taken(path, value, VERSION, "any version will do", hint) else ""), None
    for name in value:
        if name not in PACK:
            said.unknown((*path, name), "key of a pack", PACK, "it changes nothing")
    wishes = {}
    for name, kind in PACK.items():
        here = (*path, name)
        if name in value and said.taken(here, value[name], kind, f"any {name} will do"):
            wishes[name] = value[name]
    return wishes.get("version", ""), wishes.get("edition")


def _usable(said: Said, path: KeyPath, name: str, asked: str, packs: Packs, installed: Mapping[str, Installed]) -> bool:
    """Whether a pack is there in the version that is asked for; where not, why."""
    place = said.places.key(path)
    wanted = f" {asked}" if asked else ""
    if name in installed:
        item = installed[name]
        if item.ours:
            hint = "take the line out; `requires` at the top says which version of rigdsl is needed"
            said.tell(place, path, f"`{name}` is a pack of rigdsl's own", "it is in use in any case", hint)
            return False
        if asked and item.version and not meets(item.version, asked):
            message = f"the pack `{name}` is installed as {item.version}, and{wanted} is asked for"
            said.tell(said.places.value(path), path, message, QUIET, f"install the pack `{name}`{wanted}")
            return False
        return True
    refused = next((one for one in packs.refused if one.name == name), None)
    if refused is not None:
        message = f"the pack `{name}` {refused.version} is installed and cannot be used: {refused.reason}"
        said.tell(place, path, message, QUIET, f"install the pack `{name}`{wanted} in a version that can be used")
    else:
        there = [one for one, item in installed.items() if not item.ours]
        near = similar("pack", name, [*there, *(offer.name for offer in packs.waiting)])
        message = f"the pack `{name}` is not installed"
        said.tell(place, path, message, QUIET, near or f"install the pack `{name}`{wanted} beside rigdsl")
    return False
