"""Every rule there is, of the packs in use and of no pack, as it is listed and explained."""

from __future__ import annotations

from importlib.metadata import version

from rigdsl.config import Config
from rigdsl.config.values import said
from rigdsl.lint.options import schema
from rigdsl.lint.rule import PackedRule
from rigdsl.lint.settings import OWN
from rigdsl.packs import Packs
from rigdsl.reports.core_rules import CORE_PAGES, CORE_WARNINGS
from rigdsl.reports.rule_list import Entry

__all__ = ["listed"]


def listed(packs: Packs, config: Config | None = None) -> list[Entry]:
    """Sorted by pack, then by name; the rules of no pack first, as `core`. `config` says how a project sets them."""
    own = version("rigdsl")
    core = [
        Entry(name, "warning" if name in CORE_WARNINGS else "error", "core", own, page, True, {}, settable=False)
        for name, page in sorted(CORE_PAGES.items())
    ]
    return core + [_entry(packed, config) for packed in packs.rules]


def _entry(packed: PackedRule, config: Config | None) -> Entry:
    rule = packed.rule
    options = schema(rule.options)["properties"]
    here = _here(packed, config) if config else ()
    return Entry(
        rule.name, str(rule.level), packed.pack, packed.version, rule.doc, rule.on, options, here, rule.edition
    )


def _here(packed: PackedRule, config: Config) -> tuple[str, ...]:
    """What a project sets of a rule: its level first, each with the line that says so."""
    level = config.everywhere(packed).level
    lines = [] if level.by == OWN else [f"{level.value} ({level.by})"]
    for block in config.blocks:
        if block.rigs is not None and packed.name in block.levels:
            choice = block.levels[packed.name]
            lines.append(f"{choice.value} ({choice.by})")
        chosen = block.options.get(packed.name, {})
        lines += [f"{name} = {said(choice.value)} ({choice.by})" for name, choice in chosen.items()]
    return tuple(lines)
