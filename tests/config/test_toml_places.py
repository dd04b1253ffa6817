"""Where keys and values of a TOML text stand, however they are written (forms of the TOML 1.0.0 specification)."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.text import Source
from rigdsl.text.toml_places import KeyPath, places

TEXT = """\
# a = 1
a = 1 # b = 2
"b c" = 'x # y'
d.e."f.g" = [1, [2, 3], # 4
  { h = "}", i.j = 5 }]
k = \"\"\"
l = 6
\"\"\"\"
m = '''
[n]'''

[rules.x]
level = "note"
[ rules . "pack/y" ]   # a comment [z]
level = "off"
[[for]]
rigs = ["a/**", "b"]
[for.rules.x]
level = "on"
[[for]]
rules.x.level = "error"
"""


@pytest.mark.parametrize(
    ("path", "line", "key", "value"),
    [
        (("a",), 2, "a", "1"),
        (("b c",), 3, '"b c"', "'x # y'"),
        (("d", "e", "f.g"), 4, '"f.g"', None),
        (("d", "e", "f.g", 1, 0), 4, '"f.g"', "2"),
        (("d", "e", "f.g", 2, "h"), 5, "h", '"}"'),
        (("d", "e", "f.g", 2, "i", "j"), 5, "j", "5"),
        (("rules", "x", "level"), 13, "level", '"note"'),
        (("rules", "pack/y"), 14, '"pack/y"', '"pack/y"'),
        (("rules", "pack/y", "level"), 15, "level", '"off"'),
        (("for", 0, "rigs", 1), 17, "rigs", '"b"'),
        (("for", 0, "rules", "x", "level"), 19, "level", '"on"'),
        (("for", 1), 20, "[[for]]", "[[for]]"),
        (("for", 1, "rules", "x", "level"), 21, "level", '"error"'),
        (("rules", "x", "no", "such"), 12, "x", "x"),
    ],
)
def test_places(path: KeyPath, line: int, key: str, value: str | None) -> None:
    found = places(Source("rig.toml", TEXT))
    assert found.key(path).text == key
    assert found.key(path).from_position.line == line
    assert value is None or found.value(path).text == value


KEYS = st.sampled_from(["a", "b-c", '"d e"', '"f.g"', "'h/i'", '"\\u00e9"', "7"])
SCALARS = st.sampled_from(
    ["1", "-2.5", "true", '"x"', '"a]b}c#d"', r'"\"q\""', "'''z'''", "1979-05-27 07:32:00", "nan"]
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: "[ # c ]\n" + ",\n".join(items) + " ]"),
        st.dictionaries(KEYS, inner, max_size=3).map(
            lambda pairs: "{ " + ", ".join(f"{key} = {value}" for key, value in pairs.items()) + " }"
        ),
    ),
    max_leaves=6,
)


@given(st.dictionaries(KEYS, VALUES, max_size=4), st.lists(st.dictionaries(KEYS, VALUES, max_size=3), max_size=3))
def test_every_value_is_where_it_is_said_to_be(top: dict[str, str], blocks: list[dict[str, str]]) -> None:
    """Each place, read by the standard library, gives the value that the whole text has under these keys."""
    lines = [f"{key} = {value}" for key, value in top.items()]
    for block in blocks:
        lines += ["[[block]] # [x]", *(f"{key} = {value}" for key, value in block.items())]
    text = "\n".join(lines)
    found = places(Source("rig.toml", text))
    for path, value in _walk(tomllib.loads(text), ()):
        if len(path) != 1 or path[0] != "block":
            assert path in found.values or (len(path) == 2 and path[0] == "block"), path
        if path in found.values:
            assert repr(tomllib.loads(f"v = {found.values[path].text}")["v"]) == repr(value)


def _walk(value: Any, path: KeyPath) -> list[tuple[KeyPath, Any]]:
    here = [(path, value)] if path else []
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return here + [found for name, part in parts for found in _walk(part, (*path, name))]
