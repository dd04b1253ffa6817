"""How a rule is set for a rig: its level and its options, each with what set it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from rigdsl.finding import Level

__all__ = ["LEVELS", "OFF", "ON", "OWN", "Choice", "Setting"]

OWN = "the rule's own"
OFF, ON = "off", "on"
LEVELS = {str(level): level for level in sorted(Level, reverse=True)}


@dataclass(frozen=True)
class Choice:
    """A value, and what set it: a line of `rig.toml`, an option of the command, the rule itself."""

    value: Any
    by: str = OWN


@dataclass(frozen=True)
class Setting:
    """`level` is "error", "warning", "note" or "off"; `options` are those that somebody set.

    `fixed`: all that the rule finds is told at that level; else it has levels of its own.
    """

    level: Choice
    fixed: bool = False
    options: Mapping[str, Choice] = field(default_factory=dict)

    @property
    def runs(self) -> bool:
        """Whether the rule is run at all."""
        return str(self.level.value) != OFF

    @property
    def level_set(self) -> Level | None:
        """The level of all that the rule finds, where somebody set one."""
        return LEVELS.get(self.level.value) if self.fixed else None

    @property
    def values(self) -> dict[str, Any]:
        """The options' values."""
        return {name: choice.value for name, choice in self.options.items()}
