"""The schema of `rigdsl export`, worked out from the rig's own values: `python -m tests.export_schema` writes it.

From the types of the fields, not from a document: so a document that does not say what the types say is found out.
"""

from __future__ import annotations

import inspect
import json
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from pathlib import Path
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from rigdsl.reports.export import FORMAT
from rigdsl.rig import Leg, Port, Rig
from rigdsl.rig.record import LEFT_OUT, NAMED, PAIRED, PLACE, RENAMED

__all__ = ["SCHEMA", "made"]

SCHEMA = Path(__file__).parent.parent / "grammar" / "export.schema.json"
PLAIN = {str: "string", int: "integer", float: "number", bool: "boolean", NoneType: "null"}
SOCKET = {"$ref": "#/$defs/socket"}
LINE = {"$ref": "#/$defs/line"}
FIXED = {
    "name": {"description": "The name of a thing that stands in a list of its own", "type": "string", "minLength": 1},
    "socket": {
        "description": "A socket, channel or mix: `SL.mic 3`; the one socket of its group: `SL.A`",
        "type": "string",
        "pattern": r"^[^ .]+\.[^ .]+( [1-9][0-9]*)?$",
    },
    "line": {
        "description": "A socket, or a source or output by name; of several lines, with the number of the line: `oh 2`",
        "type": "string",
        "minLength": 1,
    },
}


@dataclass
class Maker:
    """Collects a definition for each dataclass that a field can hold."""

    defs: dict[str, Any] = field(default_factory=dict)

    def reference(self, kind: type[Any]) -> dict[str, Any]:
        """A dataclass by the name of its definition, which is made when it is first met."""
        name = kind.__name__.lower()
        if name not in self.defs:
            self.defs[name] = {}
            self.defs[name] = self.record(kind)
        return {"$ref": f"#/$defs/{name}"}

    def record(self, kind: type[Any]) -> dict[str, Any]:
        hints = get_type_hints(kind)
        properties = {}
        for one in fields(kind):
            key = kind.__name__, one.name
            if one.name == PLACE or key in LEFT_OUT:
                continue
            properties[RENAMED.get(key, one.name)] = self.field(key, hints[one.name])
        return {
            "description": (inspect.getdoc(kind) or "").partition("\n")[0],
            "type": "object",
            "additionalProperties": False,
            "required": list(properties),
            "properties": properties,
        }

    def field(self, key: tuple[str, str], kind: Any) -> dict[str, Any]:
        if key in RENAMED:
            return {"type": "object", "additionalProperties": self.type(get_args(kind)[1])}
        if key in PAIRED:
            side = self.type(get_args(get_args(kind)[0])[0])  # tuple[tuple[side, side], ...]
            return {"type": "array", "items": {"type": "array", "items": side, "minItems": 2, "maxItems": 2}}
        return self.type(kind, key[0] == "Rig")

    def type(self, kind: Any, listed: bool = False) -> dict[str, Any]:
        """A type as JSON Schema; `listed` where the things themselves stand, not their names."""
        origin, parts = get_origin(kind), get_args(kind)
        if kind in PLAIN:
            return {"type": PLAIN[kind]}
        if origin is Literal:
            return {"enum": list(parts)}
        if origin in (Union, UnionType):
            return self.either(parts)
        if kind is Port or kind is Leg:
            return SOCKET if kind is Port else LINE
        if isinstance(kind, type) and is_dataclass(kind):
            return {"$ref": "#/$defs/name"} if issubclass(kind, NAMED) and not listed else self.reference(kind)
        if origin is tuple:
            size = {} if parts[1] is Ellipsis else {"minItems": len(parts), "maxItems": len(parts)}
            return {"type": "array", "items": self.type(parts[0], listed), **size}
        if origin is frozenset:
            return {"type": "array", "items": self.type(parts[0]), "uniqueItems": True}
        assert isinstance(origin, type), kind
        assert issubclass(origin, Mapping), kind
        return {"type": "array", "items": self.type(parts[1], listed=True)}

    def either(self, parts: tuple[Any, ...]) -> dict[str, Any]:
        if set(parts) == {Port, Leg}:
            return LINE
        if all(part in PLAIN for part in parts):
            return {"type": [PLAIN[part] for part in parts]}
        return {"anyOf": [self.type(part) for part in parts]}


def made() -> str:
    """The schema as it stands in its file."""
    maker = Maker()
    whole = maker.record(Rig)
    document = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:rigdsl:export",
        "title": "What `rigdsl export` writes: the resolved rig",
        **whole,
        "required": ["format", *whole["required"]],
        "properties": {"format": {"const": FORMAT}, **whole["properties"]},
        "$defs": {**FIXED, **dict(sorted(maker.defs.items()))},
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    SCHEMA.write_text(made(), "utf-8")
