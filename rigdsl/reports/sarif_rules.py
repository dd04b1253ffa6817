"""Rules as SARIF 2.1.0 (OASIS) describes them: what they look for, their help page, their level."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from typing import Any

from rigdsl.reports.look import PLAIN
from rigdsl.reports.rule_list import Entry, page_text

__all__ = ["CORE", "components", "descriptor", "reference"]

CORE = "core"  # the rules of no pack: they are the driver's own
NIGHT = re.compile(r"^## On the night\n(.*?)(?=^## |\Z)", re.MULTILINE | re.DOTALL)
LONGEST = 1024  # characters of a full description that a code-scanning service takes
SEVERITY = {"error": "error", "warning": "warning", "note": "recommendation"}
SEMANTIC = re.compile(r"\d+\.\d+\.\d+")


def components(
    version: str, packs: Sequence[tuple[str, str]], rules: Sequence[Entry]
) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """The tool itself, and each pack as an extension of it, with all their rules, in use or not."""
    by_pack: dict[str, list[dict[str, Any]]] = {CORE: [], **{name: [] for name, _ in packs}}
    for entry in rules:
        by_pack.setdefault(entry.pack, []).append(descriptor(entry))
    driver = {"name": "rigdsl", **_versioned(version), "rules": by_pack.pop(CORE)}
    versions = dict(packs)
    return driver, [
        {"name": name, **_versioned(versions.get(name, "")), "rules": listed} for name, listed in by_pack.items()
    ]


def reference(driver: dict[str, Any], extensions: Sequence[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """How a result names its rule, by the rule's id: in which component, and where in its list."""
    found: dict[str, dict[str, Any]] = {}
    for index, rule in enumerate(driver["rules"]):
        found[rule["id"]] = {"ruleIndex": index}
    for at, component in enumerate(extensions):
        pack = {"name": component["name"], "index": at}
        for index, rule in enumerate(component["rules"]):
            found[rule["id"]] = {"rule": {"index": index, "toolComponent": pack}}
    return found


def descriptor(entry: Entry) -> dict[str, Any]:
    """One rule."""
    name = "".join(word.capitalize() for word in re.split(r"[^a-z0-9]+", entry.name))
    return {
        "id": entry.name,
        **({"name": name} if name.casefold() != entry.name else {}),  # a name that is the id again is refused
        "shortDescription": {"text": entry.summary},
        "fullDescription": {"text": _full(entry)},
        "help": {"text": page_text(entry, PLAIN).strip(), "markdown": entry.doc.strip()},
        "defaultConfiguration": {"enabled": entry.on, "level": entry.level},
        "properties": {
            "tags": ["live-sound", entry.pack],
            "precision": "very-high" if entry.pack == CORE else "high",
            "problem.severity": SEVERITY[entry.level],
        },
    }


def _versioned(version: str) -> dict[str, str]:
    semantic = {"semanticVersion": version} if SEMANTIC.fullmatch(version) else {}
    return {"version": version, **semantic} if version else {}


def _full(entry: Entry) -> str:
    """The summary and what happens on the night, in running text."""
    night = NIGHT.search(entry.doc)
    text = " ".join(f"{entry.summary} {night[1] if night else ''}".split())
    return textwrap.shorten(text, LONGEST, placeholder=" ...")
