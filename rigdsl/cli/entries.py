"""Every rule there is, of the packs in use and of no pack, as it is listed and explained."""

from __future__ import annotations

from importlib.metadata import version

from rigdsl.lint.options import schema
from rigdsl.lint.rule import PackedRule
from rigdsl.packs import Packs
from rigdsl.reports.core_rules import CORE_PAGES, CORE_WARNINGS
from rigdsl.reports.rule_list import Entry

__all__ = ["listed"]


def listed(packs: Packs) -> list[Entry]:
    """Sorted by pack, then by name; the rules of no pack first, as `core`."""
    own = version("rigdsl")
    core = [
        Entry(name, "warning" if name in CORE_WARNINGS else "error", "core", own, page, True, {}, settable=False)
        for name, page in sorted(CORE_PAGES.items())
    ]
    return core + [_entry(packed) for packed in packs.rules]


def _entry(packed: PackedRule) -> Entry:
    rule = packed.rule
    options = schema(rule.options)["properties"]
    return Entry(rule.name, str(rule.level), packed.pack, packed.version, rule.doc, rule.on, options, rule.edition)
