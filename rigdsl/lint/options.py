"""The options of rules: frozen dataclasses, their JSON Schema, and how a configuration's values become one.

A field has a default, and its help in `metadata`: `field(default=0.9, metadata={"help": "...", "minimum": 0})`.
The other keys of `metadata` are words of JSON Schema and go into it as they are.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, Field, fields
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

__all__ = ["chosen", "schema"]

PLAIN: dict[object, str] = {bool: "boolean", int: "integer", float: "number", str: "string", NoneType: "null"}

Options = TypeVar("Options")


def schema(options: type[Any]) -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of an options dataclass.

    Raises TypeError where a field has a type that cannot be written in a configuration, or no default or help.
    """
    hints = get_type_hints(options)
    properties = {field.name: _field(field, hints[field.name]) for field in fields(options)}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
    }


def chosen(options: type[Options], values: Mapping[str, Any]) -> Options:
    """An options value from what a configuration says (already checked by the schema); arrays become tuples."""
    return options(**{name: tuple(value) if isinstance(value, list) else value for name, value in values.items()})


def _field(field: Field[Any], kind: object) -> dict[str, Any]:
    words = dict(field.metadata)
    text = words.pop("help", "")
    if not text:
        raise TypeError(f"the option `{field.name}` has no help")
    if field.default is MISSING and field.default_factory is MISSING:
        raise TypeError(f"the option `{field.name}` has no default")
    default = field.default_factory() if field.default_factory is not MISSING else field.default
    plain = _plain(default)
    return {"description": text, **_type(field.name, kind), **words, "default": plain}


def _plain(value: object) -> object:
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return dict(value) if isinstance(value, Mapping) else value


def _type(name: str, kind: object) -> dict[str, Any]:
    """A Python type as JSON Schema."""
    if kind in PLAIN:
        return {"type": PLAIN[kind]}
    origin, parts = get_origin(kind), get_args(kind)
    if origin is Literal:
        return {"enum": list(parts)}
    if origin is tuple and len(parts) == 2 and parts[1] is Ellipsis:
        return {"type": "array", "items": _type(name, parts[0])}
    if isinstance(origin, type) and issubclass(origin, Mapping) and parts[0] is str:
        return {"type": "object", "additionalProperties": _type(name, parts[1])}
    if origin in (Union, UnionType):
        return {"anyOf": [_type(name, part) for part in parts]}
    raise TypeError(f"the option `{name}` is of a kind that no configuration can say")
