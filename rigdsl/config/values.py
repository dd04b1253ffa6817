"""Whether a value of `rig.toml` is of the kind that its key takes, and that kind in words.

Kinds are JSON Schemas: those of the options come from the rules. The package that checks any schema takes longer to
load than a small rig to check; it is asked only for words that are not understood here.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

__all__ = ["expected", "fits_kind", "key_written", "said", "written"]

Kind = Mapping[str, Any]

SILENT = frozenset({"default", "description", "title"})  # words that limit nothing
LIMITS = frozenset({"exclusiveMinimum", "maximum", "minimum"})
UNDERSTOOD = SILENT | LIMITS | {"additionalProperties", "anyOf", "enum", "items", "minItems", "minLength", "type"}
BARE = re.compile(r"[A-Za-z0-9_-]+")  # a key of TOML that needs no quotation marks
CONTROL = re.compile(r'["\\\x00-\x1f\x7f]')  # what a text of TOML cannot hold as it is
SHORT = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t"}


def fits_kind(value: object, kind: Kind) -> bool:
    """Whether a value is of a kind."""
    if not kind.keys() <= UNDERSTOOD:
        return _by_schema(value, kind)
    if "anyOf" in kind:
        return any(fits_kind(value, one) for one in kind["anyOf"])
    if "enum" in kind:
        return any(value == one and isinstance(value, bool) == isinstance(one, bool) for one in kind["enum"])
    match kind.get("type"):
        case "boolean":
            return isinstance(value, bool)
        case "integer":
            return isinstance(value, int) and not isinstance(value, bool) and _within(value, kind)
        case "number":
            return isinstance(value, int | float) and not isinstance(value, bool) and _within(value, kind)
        case "string":
            return isinstance(value, str) and len(value) >= kind.get("minLength", 0)
        case "array":
            if not isinstance(value, list) or len(value) < kind.get("minItems", 0):
                return False
            return all(fits_kind(one, kind["items"]) for one in value)
        case "object":
            named = kind["additionalProperties"]
            return isinstance(value, dict) and all(fits_kind(one, named) for one in value.values())
    return False


def _within(value: float, kind: Kind) -> bool:
    if not math.isfinite(value):
        return False
    low, above, high = (kind.get(word) for word in ("minimum", "exclusiveMinimum", "maximum"))
    return (low is None or value >= low) and (above is None or value > above) and (high is None or value <= high)


def _by_schema(value: object, kind: Kind) -> bool:
    from jsonschema import Draft202012Validator  # late: see above

    return Draft202012Validator(kind).is_valid(value)


def expected(kind: Kind) -> str:
    """A kind in words: "a number from 0 to 1"."""
    if "anyOf" in kind:
        return " or ".join(expected(one) for one in kind["anyOf"] if one.get("type") != "null")
    if "enum" in kind:
        return " or ".join(f"`{said(one)}`" for one in kind["enum"])
    match kind.get("type"):
        case "boolean":
            return "`true` or `false`"
        case "integer":
            return f"a whole number{_limits(kind)}"
        case "number":
            return f"a number{_limits(kind)}"
        case "array":
            some = (
                "a list in square brackets" if not kind.get("minItems") else "a list of one or more in square brackets"
            )
            return f"{some}, each {expected(kind['items'])}"
        case "object":
            return f"a table of names, each with {expected(kind['additionalProperties'])}"
    return "a text in quotation marks"


def _limits(kind: Kind) -> str:
    low, above, high = (kind.get(word) for word in ("minimum", "exclusiveMinimum", "maximum"))
    if low is not None and high is not None:
        return f" from {low} to {high}"
    parts = [f"of {low} or more" if low is not None else "", f"above {above}" if above is not None else ""]
    parts.append(f"of {high} or less" if high is not None else "")
    return "".join(f" {part}" for part in parts if part)


def said(value: object) -> str:
    """A value as `rig.toml` has it, cut short."""
    text = written(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def written(value: object) -> str:
    """A value as `rig.toml` has it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(written, value)) + "]"
    if isinstance(value, Mapping):
        inside = ", ".join(f"{key_written(str(name))} = {written(one)}" for name, one in value.items())
        return f"{{ {inside} }}" if value else "{}"
    return str(value)


def key_written(name: str) -> str:
    """A name before `=`, or in the square brackets of a block: in quotation marks where it cannot stand bare."""
    return name if BARE.fullmatch(name) else _quoted(name)


def _quoted(text: str) -> str:
    return '"' + CONTROL.sub(lambda found: SHORT.get(found[0]) or f"\\u{ord(found[0]):04x}", text) + '"'
