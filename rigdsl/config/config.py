"""What a project has set, as a value: which rigs, what fails, which packs, and how each rule is set for each rig."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from rigdsl.config.globs import fits
from rigdsl.config.keys import FILE, KNOWN_FILE
from rigdsl.config.said import wrong
from rigdsl.finding import Finding
from rigdsl.lint.known import Known
from rigdsl.lint.rule import PackedRule
from rigdsl.lint.settings import OFF, ON, OWN, Choice, Setting
from rigdsl.packs import Packs
from rigdsl.rig import typed
from rigdsl.text import Span

__all__ = ["OURS", "Block", "Config"]

OURS = ""  # stands for rigdsl's own packs where editions are kept by pack


@dataclass(frozen=True)
class Block:
    """Levels and options by rule, for the rigs that one of the patterns means (None: for all)."""

    rigs: tuple[str, ...] | None = None
    levels: Mapping[str, Choice] = field(default_factory=dict)
    options: Mapping[str, Mapping[str, Choice]] = field(default_factory=dict)

    def holds(self, path: str) -> bool:
        """Whether it is for a rig."""
        return self.rigs is None or any(fits(path, pattern) for pattern in self.rigs)


@dataclass(frozen=True)
class Config:
    """What `rig.toml` and the list of known findings say, of a project whose root is `folder`.

    `packs` are those in use, `installed` all there are; `editions` are by pack, that of rigdsl's own under OURS;
    `papers` is what `[papers]` chooses, by key; `patterns` are all that say which rigs are meant, with their places;
    `findings` are what is wrong with the two files; `known` is by the path of the rig, None where the list cannot
    be read.
    """

    folder: str = ""
    packs: Packs = field(default_factory=Packs)
    installed: Packs = field(default_factory=Packs)
    rigs: tuple[str, ...] | None = None
    fail_on: Choice | None = None
    editions: Mapping[str, Choice] = field(default_factory=dict)
    blocks: tuple[Block, ...] = ()
    papers: Mapping[str, Any] = field(default_factory=dict)
    patterns: tuple[tuple[str, Span], ...] = ()
    known: Mapping[str, tuple[Known, ...]] | None = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()

    @classmethod
    def plain(cls, packs: Packs) -> Config:
        """Nothing set: these packs, every rule as it is."""
        return cls(packs=packs, installed=packs)

    @property
    def known_path(self) -> str:
        """Where the list of known findings stands, as a person would type it."""
        return typed(os.path.join(self.folder, KNOWN_FILE))

    def within(self, path: str) -> str:
        """The path of a rig from the project's root on."""
        if not self.folder:
            return path
        return os.path.relpath(os.path.realpath(path), self.folder).replace(os.sep, "/")

    def known_of(self, path: str) -> tuple[Known, ...]:
        """What is known of a rig."""
        return (self.known or {}).get(self.within(path), ())

    def fitting_nothing(self, paths: Iterable[str]) -> tuple[Finding, ...]:
        """The patterns that none of a project's rigs fits."""
        within = [self.within(path) for path in paths]
        return tuple(
            wrong(
                place,
                pattern,
                f"`{pattern}` fits no rig of the project",
                "what is meant for it is not done",
                "patterns start at the folder of rig.toml: `shows/*.rig`, `arena/**`",
            )
            for pattern, place in self.patterns
            if not any(fits(path, pattern) for path in within)
        )

    @property
    def idle(self) -> tuple[str, ...]:
        """The names of packs that are installed and not in use: most of them are not even loaded."""
        loaded = (item.pack.name for item in self.installed.installed if item not in self.packs.installed)
        return tuple(sorted({*loaded, *(offer.name for offer in self.installed.waiting)}))

    @property
    def newer(self) -> tuple[PackedRule, ...]:
        """The rules in use that are later than the edition that the project keeps to."""
        return tuple(packed for packed in self.packs.rules if self._edition(packed) is not None)

    def not_asked_for(self) -> tuple[PackedRule, ...]:
        """The newer rules that no line of `rig.toml` asks for by name."""
        named = {name for block in self.blocks for name in block.levels}
        return tuple(packed for packed in self.newer if packed.name not in named)

    def settings(self, path: str) -> dict[str, Setting]:
        """How each rule is set for a rig, by name: those of packs that are not in use are off."""
        here = self.within(path)
        blocks = [block for block in self.blocks if block.holds(here)]
        idle = self.idle
        return {packed.name: self._set(packed, blocks, packed.pack in idle) for packed in self.installed.rules}

    def everywhere(self, packed: PackedRule) -> Setting:
        """How a rule is set for all rigs, before any `[[for]]`."""
        blocks = [block for block in self.blocks if block.rigs is None]
        return self._set(packed, blocks, packed.pack in self.idle)

    def _set(self, packed: PackedRule, blocks: Iterable[Block], idle: bool) -> Setting:
        if idle:
            return Setting(Choice(OFF, f"the pack `{packed.pack}` is not listed in {FILE}"))
        return self._setting(packed, blocks)

    def _setting(self, packed: PackedRule, blocks: Iterable[Block]) -> Setting:
        rule, chosen = packed.rule, None
        options: dict[str, Choice] = {}
        for block in blocks:
            chosen = block.levels.get(rule.name, chosen)
            options.update(block.options.get(rule.name, {}))
        edition = self._edition(packed)
        if chosen is None and edition is not None:
            return Setting(Choice(OFF, f"later than edition {edition.value}, {edition.by}"), options=options)
        if chosen is None:
            return Setting(Choice(str(rule.level) if rule.on else OFF, OWN), options=options)
        if chosen.value == ON:
            return Setting(Choice(str(rule.level), chosen.by), options=options)
        return Setting(chosen, chosen.value != OFF, options)

    def _edition(self, packed: PackedRule) -> Choice | None:
        """The edition that a rule is too new for."""
        edition = self.editions.get(packed.pack if "/" in packed.name else OURS)
        return edition if edition is not None and packed.rule.edition > edition.value else None
