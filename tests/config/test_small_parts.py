"""Versions against a general library, patterns of paths, kinds of values against the schema package."""

from __future__ import annotations

import math
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from packaging.specifiers import SpecifierSet

from rigdsl.config.globs import fits
from rigdsl.config.values import expected, fits_kind, key_written, written
from rigdsl.config.versions import meets

VERSIONS = st.lists(st.integers(0, 12), min_size=1, max_size=4).map(lambda parts: ".".join(map(str, parts)))
SIGNS = st.sampled_from([">=", "<=", ">", "<", "==", "!="])


@given(VERSIONS, st.lists(st.tuples(SIGNS, VERSIONS), min_size=1, max_size=3))
def test_versions_compare_as_packages_have_them(version: str, asked: list[tuple[str, str]]) -> None:
    """The library is `packaging`, which package tools use."""
    text = ", ".join(f"{sign}{wanted}" for sign, wanted in asked)
    assert meets(version, text) == SpecifierSet(text).contains(version, prereleases=True)


@pytest.mark.parametrize(
    ("version", "asked", "holds"),
    [
        ("1.2rc1", ">=1.2", False),
        ("1.2rc1", ">=1.1", True),
        ("1.2.dev3", ">=1.2a1", False),
        ("1.2+local", "==1.2", True),
        ("1.2.post1", ">=1.2", True),
    ],
)
def test_versions_before_and_after_a_release(version: str, asked: str, holds: bool) -> None:
    assert meets(version, asked) is holds


@pytest.mark.parametrize(
    ("pattern", "path", "fit"),
    [
        ("shows/*.rig", "shows/friday.rig", True),
        ("shows/*.rig", "shows/may/friday.rig", False),
        ("shows/**", "shows/may/friday.rig", True),
        ("shows/", "shows/may/friday.rig", True),
        ("shows/", "shows2/friday.rig", False),
        ("**/friday.rig", "friday.rig", True),
        ("**/friday.rig", "a/b/friday.rig", True),
        ("**", "a/b/friday.rig", True),
        ("a/**/b/*.rig", "a/b/x.rig", True),
        ("a/**/b/*.rig", "a/c/d/b/x.rig", True),
        ("a/**/b/*.rig", "a/c/x.rig", False),
        ("./friday.rig", "friday.rig", True),
        ("frida?.rig", "friday.rig", True),
        ("Friday.rig", "friday.rig", False),
        ("shows", "shows/friday.rig", False),
    ],
)
def test_patterns(pattern: str, path: str, fit: bool) -> None:
    assert fits(path, pattern) is fit


KINDS: list[dict[str, Any]] = [
    {"type": "number", "minimum": 0, "maximum": 1},
    {"type": "number", "exclusiveMinimum": 0},
    {"type": "integer", "minimum": 1},
    {"type": "string"},
    {"type": "string", "pattern": "^a"},
    {"type": "boolean"},
    {"enum": ["near", "far"]},
    {"type": "array", "items": {"type": "string"}},
    {"type": "object", "additionalProperties": {"type": "integer"}},
    {"anyOf": [{"type": "number"}, {"type": "null"}]},
]
# 2.0 is an integer to JSON, and none to TOML: only what is no whole number is drawn.
FRACTIONS = st.floats(-2, 2).filter(lambda number: not number.is_integer())
VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(-3, 3), FRACTIONS, st.sampled_from(["near", "far", "ab", ""])),
    lambda inner: st.one_of(st.lists(inner, max_size=2), st.dictionaries(st.sampled_from("ab"), inner, max_size=2)),
    max_leaves=3,
)


@given(st.sampled_from(KINDS), VALUES)
def test_kinds_are_those_of_json_schema(kind: dict[str, Any], value: object) -> None:
    assert fits_kind(value, kind) == Draft202012Validator(kind).is_valid(value)


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_what_is_no_number_is_no_number(value: float) -> None:
    assert not fits_kind(value, {"type": "number"})


def test_kinds_in_words() -> None:
    assert [expected(kind) for kind in KINDS] == [
        "a number from 0 to 1",
        "a number above 0",
        "a whole number of 1 or more",
        "a text in quotation marks",
        "a text in quotation marks",
        "`true` or `false`",
        '`"near"` or `"far"`',
        "a list in square brackets, each a text in quotation marks",
        "a table of names, each with a whole number",
        "a number",
    ]


TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
VALUES = st.recursive(
    st.booleans() | st.integers(-(2**63), 2**63 - 1) | st.floats(allow_nan=False) | TEXTS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
    max_leaves=8,
)


@given(TEXTS, VALUES)
def test_what_is_written_is_read_back(name: str, value: Any) -> None:
    """The reader of the standard library says what is TOML."""
    assert tomllib.loads(f"[{key_written(name)}]\n{key_written(name)} = {written(value)}") == {name: {name: value}}


@pytest.mark.parametrize(
    ("name", "bare"), [("most_m", "most_m"), ("moss/hum", '"moss/hum"'), ("", '""'), ('a"b', '"a\\"b"'), ("1-4", "1-4")]
)
def test_names_stand_bare_where_they_can(name: str, bare: str) -> None:
    assert key_written(name) == bare
