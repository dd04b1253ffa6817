"""What set a rule's level and each of its options, rig by rig."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields

from rigdsl.config import Config
from rigdsl.config.values import said
from rigdsl.finding import similar
from rigdsl.lint.rule import PackedRule
from rigdsl.lint.settings import OWN, Choice, Setting
from rigdsl.reports.look import Look

__all__ = ["Asked", "settings_rows", "why_text"]

Row = tuple[str, str, str]


@dataclass(frozen=True)
class Asked:
    """A rig, what its project has set, and the failing level of the command, where it has one."""

    path: str
    config: Config
    fail_on: str | None = None


def why_text(rule: str, asked: Sequence[Asked], look: Look) -> str:
    """Rigs for which the same holds stand together. LookupError for a name that is no rule's."""
    alike: dict[tuple[Row, ...], list[str]] = {}
    for one in asked:
        packed = next((item for item in one.config.installed.rules if item.name == rule), None)
        if packed is None:
            known = [item.name for item in one.config.installed.rules]
            hint = similar("rule", rule, known) or "`rigdsl rules` lists them all"
            raise LookupError(f"there is no rule called `{rule}` that can be set; {hint}")
        rows = (*settings_rows(packed, one.config.settings(one.path)[rule]), _fails(one))
        alike.setdefault(rows, []).append(one.path)
    return "\n".join(line for rows, paths in alike.items() for line in _told(rule, rows, paths, look))


def _told(rule: str, rows: Sequence[Row], paths: Sequence[str], look: Look) -> Iterator[str]:
    yield look.paint(look.text(f"{rule} for {', '.join(paths)}"), "bold")
    wide = [max(len(row[column]) for row in rows) for column in (0, 1)]
    for name, value, by in rows:
        yield look.text(f"  {name.ljust(wide[0])}  {value.ljust(wide[1])}  {by}")
    yield ""


def settings_rows(packed: PackedRule, setting: Setting) -> Iterator[Row]:
    """Level and options: name, value, and what set it."""
    yield "level", str(setting.level.value), setting.level.by
    own = packed.rule.options()
    for one in fields(own):
        choice = setting.options.get(one.name, Choice(getattr(own, one.name), OWN))
        yield one.name, said(choice.value), choice.by


def _fails(one: Asked) -> Row:
    if one.fail_on:
        return "fails at", one.fail_on, "--fail-on"
    choice = one.config.fail_on or Choice("error", "where nothing else is said")
    return "fails at", str(choice.value), choice.by
