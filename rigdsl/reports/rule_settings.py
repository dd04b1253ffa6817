"""The options of a rule in words, and what a project writes in `rig.toml` to choose them."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

__all__ = ["snippet", "takes", "toml"]

LEVELS = "its own level; or: error, warning, note, off"
OFF = "off unless asked for; or: on, error, warning, note"
KINDS = {"integer": "whole number", "number": "number", "string": "text", "boolean": "`true` or `false`"}
BARE = re.compile(r"[A-Za-z0-9_-]+")  # a key of TOML that needs no quotes


def snippet(name: str, options: Mapping[str, Any], *, on: bool = True) -> str:
    """A rule's part of `rig.toml`, as it holds where nothing is written."""
    lines = [f"[rules.{_key(name)}]", f'level = "{"on" if on else "off"}"  # {LEVELS if on else OFF}']
    set_ = ((option, words.get("default")) for option, words in options.items())
    return "\n".join([*lines, *(f"{_key(option)} = {toml(value)}" for option, value in set_ if value is not None), ""])


def toml(value: Any) -> str:
    """A value as TOML has it."""
    if value is None:
        return "none"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {toml(one)}" for key, one in value.items()) + " }" if value else "{}"
    if isinstance(value, list):
        return f"[{', '.join(map(toml, value))}]"
    return json.dumps(value, ensure_ascii=False)


def _key(name: str) -> str:
    return name if BARE.fullmatch(name) else json.dumps(name, ensure_ascii=False)


def takes(words: Mapping[str, Any]) -> str:
    """What an option takes, by its JSON Schema: "number, 0 to 1"."""
    if "enum" in words:
        return " or ".join(f"`{toml(one)}`" for one in words["enum"])
    if "anyOf" in words:
        return " or ".join(map(takes, words["anyOf"]))
    if words.get("type") == "array":
        return f"list of: {takes(words['items'])}"
    if words.get("type") == "object":
        return f"table of: {takes(words['additionalProperties'])}"
    if words.get("type") == "null":
        return "nothing"
    kind = str(words.get("type"))
    return KINDS.get(kind, kind) + _bounds(words)


def _bounds(words: Mapping[str, Any]) -> str:
    above = "exclusiveMinimum" in words
    least, most = words.get("exclusiveMinimum", words.get("minimum")), words.get("maximum")
    if least is not None and most is not None:
        return f", {'above ' if above else ''}{least} to {most}"
    if least is not None:
        return f", {'above' if above else 'from'} {least}"
    return "" if most is None else f", at most {most}"
