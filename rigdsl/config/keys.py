"""The keys of `rig.toml` and the kinds of their values, as JSON Schema, for the reader and the published schema."""

from __future__ import annotations

from typing import Any

from rigdsl.config.versions import ASKED
from rigdsl.lint.settings import LEVELS, OFF, ON

__all__ = [
    "EDITION",
    "FAIL_ON",
    "FILE",
    "FOR",
    "KEYS",
    "KNOWN_FILE",
    "LEVEL",
    "NEVER",
    "PACK",
    "PAPERS",
    "PATTERNS",
    "VERSION",
]

FILE = "rig.toml"
KNOWN_FILE = "known-findings.json"
NEVER = "never"

PATTERNS: dict[str, Any] = {
    "description": "Patterns of paths, relative to the folder of rig.toml: `*` stays inside a name, `**` is any number"
    " of folders, a `/` at the end means all below it",
    "type": "array",
    "items": {"type": "string", "minLength": 1},
    "minItems": 1,
}
FAIL_ON: dict[str, Any] = {
    "description": "The mildest finding that makes the exit status 1",
    "enum": [*LEVELS, NEVER],
}
EDITION: dict[str, Any] = {
    "description": "The rules of this edition and of those before it are run; later ones are announced and not run",
    "type": "integer",
    "minimum": 1,
}
VERSION: dict[str, Any] = {
    "description": "A version, as in `>=1.2` or `>=1.2, <2`",
    "type": "string",
    "pattern": ASKED,
}
LEVEL: dict[str, Any] = {
    "description": "The level of all that the rule finds; `off`: it is not run; `on`: it is, at its own level",
    "enum": [*LEVELS, ON, OFF],
}

# What stands at the top, in the order that people write it.
KEYS: dict[str, Any] = {
    "rigs": {**PATTERNS, "description": f"What `check` without a path looks at. {PATTERNS['description']}"},
    "fail-on": FAIL_ON,
    "edition": {**EDITION, "description": f"Of rigdsl's own rules. {EDITION['description']}"},
    "requires": {**VERSION, "description": f"The version of rigdsl that is needed. {VERSION['description']}"},
    "packs": {"description": "Other people's packs that are used", "type": "object"},
    "papers": {"description": "How papers are printed, and how cables are chosen for them", "type": "object"},
    "rules": {"description": "Levels and options of rules, by name", "type": "object"},
    "for": {"description": "Levels and options for some of the rigs; later ones win, key by key", "type": "array"},
}
PACK: dict[str, Any] = {"version": VERSION, "edition": EDITION}
PAPERS: dict[str, Any] = {
    "language": {"description": "The language of headings: English or German", "enum": ["en", "de"]},
    "paper": {"description": "What the show book and the lists are printed on", "enum": ["a4", "a3", "letter"]},
    "joins": {
        "description": "How many times cables of the stock may be joined for one analogue line",
        "type": "integer",
        "minimum": 0,
        "maximum": 3,
    },
    "spares-percent": {
        "description": "So many more cables of each kind and length go on the kit list, in per cent, rounded up",
        "type": "number",
        "minimum": 0,
        "maximum": 100,
    },
    "colours": {"description": "Label strips with the colours of IEC 60062", "type": "boolean"},
    "columns": {
        "description": "The columns of a paper, by its name, in this order",
        "type": "object",
        "additionalProperties": {
            "type": "array",
            "items": {"type": "string", "minLength": 1},
            "minItems": 1,
        },
    },
}
FOR: dict[str, Any] = {"rigs": PATTERNS, "rules": KEYS["rules"]}
