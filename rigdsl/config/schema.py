"""The JSON Schema of `rig.toml`, made of the keys and of the options of rigdsl's own rules.

`python -m rigdsl.config.schema` writes it to `grammar/rig.toml.schema.json`.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from rigdsl.config.keys import FOR, KEYS, LEVEL, PACK, PAPERS, VERSION
from rigdsl.lint.options import schema
from rigdsl.packs import KEBAB, discover

__all__ = ["FILE", "schema_text", "toml_schema"]

FILE = Path(__file__).parents[2] / "grammar" / "rig.toml.schema.json"
NAME = KEBAB.pattern


def toml_schema() -> dict[str, Any]:
    """The schema of the whole file."""
    pack = {"anyOf": [VERSION, _closed(PACK)]}
    places = {
        "packs": {**KEYS["packs"], "additionalProperties": False, "patternProperties": {f"^{NAME}$": pack}},
        "papers": {**KEYS["papers"], **_closed(PAPERS)},
        "rules": {**KEYS["rules"], "$ref": "#/$defs/rules"},
        "for": {**KEYS["for"], "items": {**_closed({**FOR, "rules": {"$ref": "#/$defs/rules"}}), "required": ["rigs"]}},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:rigdsl:rig.toml",
        "title": "rig.toml",
        "description": "What a project sets: which rigs, what fails, which packs, levels and options of rules",
        **_closed({**KEYS, **places}),
        "$defs": {"level": LEVEL, "rules": _rules()},
    }


def _rules() -> dict[str, Any]:
    own = (packed for item in discover().installed if item.ours for packed in item.pack.rules)
    level = {"level": {"$ref": "#/$defs/level"}}
    named = {
        rule.name: {"description": rule.summary, **_closed({**level, **schema(rule.options)["properties"]})}
        for rule in sorted(own, key=lambda rule: rule.name)
    }
    others = {"description": "A rule of another pack", "type": "object", "properties": level}
    return {
        "type": "object",
        "properties": named,
        "patternProperties": {f"^{NAME}/{NAME}$": others},
        "additionalProperties": False,
    }


def _closed(properties: dict[str, Any]) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "additionalProperties": False}


def schema_text() -> str:
    """The file."""
    return json.dumps(toml_schema(), indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FILE.write_text(schema_text(), "utf-8")
