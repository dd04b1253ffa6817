"""Options are dataclasses; their JSON Schema is derived from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import pytest
from jsonschema import Draft202012Validator

from rigdsl.lint.options import chosen, schema
from rigdsl.lint.rule import NoOptions
from rigdsl.packs import discover


@dataclass(frozen=True)
class Options:
    """One of each."""

    share: float = field(default=0.9, metadata={"help": "share of the reach", "minimum": 0, "maximum": 1})
    most: int = field(default=3, metadata={"help": "how many"})
    strict: bool = field(default=False, metadata={"help": "count all"})
    side: Literal["near", "far"] = field(default="near", metadata={"help": "which end"})
    kinds: tuple[str, ...] = field(default=("console",), metadata={"help": "kinds of boxes"})
    budget_ms: Mapping[str, float] = field(default_factory=lambda: {"wedge": 10.0}, metadata={"help": "by type"})
    limit_m: float | None = field(default=None, metadata={"help": "a limit, if any"})


def test_the_schema_says_type_help_limits_and_default() -> None:
    assert schema(Options) == {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "properties": {
            "share": {
                "description": "share of the reach",
                "type": "number",
                "minimum": 0,
                "maximum": 1,
                "default": 0.9,
            },
            "most": {"description": "how many", "type": "integer", "default": 3},
            "strict": {"description": "count all", "type": "boolean", "default": False},
            "side": {"description": "which end", "enum": ["near", "far"], "default": "near"},
            "kinds": {
                "description": "kinds of boxes",
                "type": "array",
                "items": {"type": "string"},
                "default": ["console"],
            },
            "budget_ms": {
                "description": "by type",
                "type": "object",
                "additionalProperties": {"type": "number"},
                "default": {"wedge": 10.0},
            },
            "limit_m": {
                "description": "a limit, if any",
                "anyOf": [{"type": "number"}, {"type": "null"}],
                "default": None,
            },
        },
        "additionalProperties": False,
    }


@pytest.mark.parametrize(
    ("values", "fits"),
    [
        ({}, True),
        ({"share": 0.5, "kinds": ["panel"], "side": "far", "budget_ms": {"in-ear": 5}}, True),
        ({"share": 1.5}, False),
        ({"most": 2.5}, False),
        ({"side": "middle"}, False),
        ({"shares": 0.5}, False),
        ({"budget_ms": {"in-ear": "little"}}, False),
    ],
)
def test_the_schema_is_one(values: dict[str, object], fits: bool) -> None:
    Draft202012Validator.check_schema(schema(Options))
    assert Draft202012Validator(schema(Options)).is_valid(values) is fits


def test_values_become_options() -> None:
    options = chosen(Options, {"share": 0.5, "kinds": ["panel", "di"]})
    assert options == Options(share=0.5, kinds=("panel", "di"))
    assert chosen(NoOptions, {}) == NoOptions()


@pytest.mark.parametrize("packed", discover().rules, ids=lambda packed: packed.name)
def test_the_defaults_of_every_rule_keep_its_own_schema(packed: object) -> None:
    options = packed.rule.options  # type: ignore[attr-defined]
    described = schema(options)
    Draft202012Validator.check_schema(described)
    defaults = {name: words["default"] for name, words in described["properties"].items()}
    Draft202012Validator(described).validate(defaults)
    assert chosen(options, defaults) == options()
