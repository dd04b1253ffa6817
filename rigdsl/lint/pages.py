"""A rule's help page taken apart: its sections, and the two small rigs that show what it means."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rigdsl.lint.rule import Rule

__all__ = ["BREAKS", "CONSEQUENCE", "KEEPS", "Page", "page"]

CONSEQUENCE = "On the night"
BREAKS = "A rig that breaks it"
KEEPS = "A rig that keeps it"

HEADING = re.compile(r"^## +(.+?) *$", re.MULTILINE)
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True)
class Page:
    """`sections` maps headings to their text; `breaks` and `keeps` are rigs; `options` what both are checked with."""

    summary: str
    sections: Mapping[str, str]
    breaks: str
    keeps: str
    options: Mapping[str, Any]


def page(rule: Rule[Any]) -> Page:
    """Read the help page of a rule; what it lacks is empty.

    A rule whose examples need options shows them as `rig.toml` has them, in one `toml`
    block: `[rules.NAME]` and a line for each option.
    """
    parts = HEADING.split(rule.doc)
    sections = {heading: text.strip() for heading, text in zip(parts[1::2], parts[2::2], strict=True)}
    settings = tomllib.loads(_block("toml", rule.doc)).get("rules", {}).get(rule.name, {})
    breaks, keeps = (_block("rig", sections.get(heading, "")) for heading in (BREAKS, KEEPS))
    return Page(rule.summary, sections, breaks, keeps, settings)


def _block(language: str, text: str) -> str:
    return next((found[2] for found in BLOCK.finditer(text) if found[1] == language), "")
