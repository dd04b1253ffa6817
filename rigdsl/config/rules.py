"""Levels and options of rules in `rig.toml`: `[rules.NAME]`, and the same inside `[[for]]`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from rigdsl.config.config import Block
from rigdsl.config.keys import FOR, KEYS, LEVEL
from rigdsl.config.said import Said
from rigdsl.finding import similar
from rigdsl.lint.accept import CORE
from rigdsl.lint.options import chosen, schema
from rigdsl.lint.rule import PackedRule
from rigdsl.lint.settings import Choice
from rigdsl.text.toml_places import KeyPath

__all__ = ["blocks"]

OWN = "the rule keeps its own"
TABLE = 'a rule has a block of its own: `[rules.NAME]`, and under it lines such as `level = "note"`'


def blocks(said: Said, rules: Iterable[PackedRule], idle: Iterable[str], missing: Iterable[str]) -> tuple[Block, ...]:
    """What is set for all rigs, then each `[[for]]` in the order of the file.

    `idle` are packs that are installed and not in use, `missing` those that are asked for and are not there:
    nothing is said about rules of these, the missing pack is told.
    """
    known = {packed.name: packed for packed in rules}
    reader = _Reader(said, known, frozenset(idle), frozenset(missing))
    found = [reader.block(("rules",), said.values.get("rules", {}), None)]
    listed = said.values.get("for", [])
    if not isinstance(listed, list) or not all(isinstance(one, dict) for one in listed):
        hint = "a block for some of the rigs begins with `[[for]]`, in double brackets"
        said.tell(said.places.key(("for",)), ("for",), "`for` is a list of blocks", "it holds for no rig", hint)
        listed = []
    return (*found, *(reader.part(("for", number), one) for number, one in enumerate(listed)))


class _Reader:
    """The reading of blocks: what is set is kept, what cannot be is told."""

    def __init__(
        self, said: Said, known: Mapping[str, PackedRule], idle: frozenset[str], missing: frozenset[str]
    ) -> None:
        self.said, self.known, self.idle, self.missing = said, known, idle, missing

    def part(self, path: KeyPath, values: Mapping[str, Any]) -> Block:
        """One `[[for]]`."""
        for name in values:
            if name not in FOR:
                hint = f"`{name}` belongs above the first line in square brackets" if name in KEYS else ""
                self.said.unknown((*path, name), "key of `[[for]]`", FOR, "it changes nothing", hint)
        rigs = values.get("rigs")
        nothing = "nothing in this block holds for any rig"
        if rigs is None:
            hint = (
                'say which rigs it is for, as in `rigs = ["arena/**"]`; what holds for all stands under `[rules.NAME]`'
            )
            self.said.tell(self.said.places.key(path), path, "this `[[for]]` has no `rigs`", nothing, hint)
        good = rigs is not None and self.said.taken((*path, "rigs"), rigs, FOR["rigs"], nothing, 'as in `["arena/**"]`')
        return self.block((*path, "rules"), values.get("rules", {}), tuple(rigs) if good and rigs else ())

    def block(self, path: KeyPath, rules: object, rigs: tuple[str, ...] | None) -> Block:
        """All rules of one block."""
        levels: dict[str, Choice] = {}
        options: dict[str, dict[str, Choice]] = {}
        if not isinstance(rules, dict):
            self.said.tell(self.said.places.key(path), path, "`rules` is no block", "it sets nothing", TABLE)
            return Block(rigs)
        more = "" if rigs is None else ", for " + ", ".join(f"`{pattern}`" for pattern in rigs)
        for name, values in rules.items():
            here = (*path, name)
            if not self.is_rule(here, name):
                continue
            if not isinstance(values, dict):
                message = f"`{name}` is set like a level"
                self.said.tell(self.said.places.key(here), here, message, f"{OWN} level", TABLE)
                continue
            values = dict(values)
            level = values.pop("level", None)
            if level is not None and self.said.taken((*here, "level"), level, LEVEL, f"{OWN} level"):
                levels[name] = self.said.choice((*here, "level"), level, more)
            options[name] = self.options(here, self.known[name], values, more)
        return Block(rigs, levels, options)

    def is_rule(self, path: KeyPath, name: str) -> bool:
        """Whether there is such a rule to be set; where not, why."""
        if name in self.known:
            return True
        pack = name.partition("/")[0] if "/" in name else ""
        place = self.said.places.key(path)
        if name in CORE:
            message = f"`{name}` belongs to no pack, is always on, and has no level or options to be set"
            hint = f'one finding of it can stand by a line in the rig: `accept {name} on "..." because "..."`'
            self.said.tell(place, path, message, "it stays as it is", hint)
        elif pack and pack in self.idle:
            message = f"`{name}` is a rule of a pack that is not in use"
            self.said.tell(place, path, message, "nothing is set", f"list the pack `{pack}` under `[packs]`")
        elif pack and pack not in {known.partition("/")[0] for known in self.known if "/" in known}:
            if pack not in self.missing:
                message = f"`{name}` is a rule of a pack that is not installed"
                hint = f"install the pack `{pack}` and list it under `[packs]`, or take this block out"
                self.said.tell(place, path, message, "nothing is set", hint)
        else:
            hint = similar("rule", name, self.known) or "`rigdsl rules` prints the names of all rules"
            self.said.tell(place, path, f"there is no rule called `{name}`", "nothing is set", hint)
        return False

    def options(self, path: KeyPath, packed: PackedRule, values: Mapping[str, Any], more: str) -> dict[str, Choice]:
        """The options of one rule in one block."""
        kinds = schema(packed.rule.options)["properties"]
        taken: dict[str, Choice] = {}
        for name, value in values.items():
            here = (*path, name)
            if name not in kinds:
                self._no_option(here, packed.name, name, kinds)
            elif self.said.taken(here, value, kinds[name], f"{OWN} `{name}`"):
                taken[name] = self.said.choice(here, value, more)
        try:
            chosen(packed.rule.options, {name: choice.value for name, choice in taken.items()})
        except Exception as error:  # a pack's options may refuse what their schema lets pass
            message = f"`{packed.name}` does not take these options: {error}"
            self.said.tell(self.said.places.key(path), path, message, f"{OWN} options", "see `rigdsl explain`")
            return {}
        return taken

    def _no_option(self, path: KeyPath, rule: str, name: str, kinds: Mapping[str, Any]) -> None:
        consequence = f"{OWN} level and options"
        if name in KEYS:
            hint = f"`{name}` of the whole project belongs above the first line in square brackets"
        elif kinds:
            hint = f"it has {', '.join(f'`{one}`' for one in ('level', *kinds))}"
        else:
            hint = "it has `level` and nothing else"
        self.said.tell(
            self.said.places.key(path),
            path,
            f"`{rule}` has no option called `{name}`",
            consequence,
            similar("option", name, ["level", *kinds]) or hint,
        )
