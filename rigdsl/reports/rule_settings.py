"""The options of a rule in words, and what a project writes in `rig.toml` to choose them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rigdsl.config.values import key_written, written

__all__ = ["default", "snippet", "takes"]

LEVELS = "its own level; or: error, warning, note, off"
OFF = "off unless asked for; or: on, error, warning, note"
KINDS = {"integer": "whole number", "number": "number", "string": "text", "boolean": "`true` or `false`"}


def snippet(name: str, options: Mapping[str, Any], *, on: bool = True) -> str:
    """A rule's part of `rig.toml`, as it holds where nothing is written."""
    lines = [f"[rules.{key_written(name)}]", f'level = "{"on" if on else "off"}"  # {LEVELS if on else OFF}']
    set_ = ((option, words.get("default")) for option, words in options.items())
    return "\n".join(
        [*lines, *(f"{key_written(option)} = {written(value)}" for option, value in set_ if value is not None), ""]
    )


def default(words: Mapping[str, Any]) -> str:
    """What an option is where nobody says otherwise; there are options that need not be anything."""
    value = words.get("default")
    return "none" if value is None else f"`{written(value)}`"


def takes(words: Mapping[str, Any]) -> str:
    """What an option takes, by its JSON Schema: "number, 0 to 1"."""
    if "enum" in words:
        return " or ".join(f"`{written(one)}`" for one in words["enum"])
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
