"""The published schemas of `rig.toml` and of the list of known findings."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from rigdsl.config import known_text
from rigdsl.config.schema import FILE, schema_text
from rigdsl.lint.known import Known

ROOT = Path(__file__).parents[2]
SCHEMA = json.loads(FILE.read_text("utf-8"))
KNOWN = json.loads((ROOT / "grammar" / "known-findings.schema.json").read_text("utf-8"))
GOOD = """\
rigs = ["shows/*.rig"]
fail-on = "never"
edition = 2
requires = ">=0.1, <2"
[packs]
festival = ">=1.2"
road-rules = { version = ">=1", edition = 1 }
[rules.run-near-limit]
level = "on"
share = 0.85
[rules."festival/loud"]
level = "off"
most = 3
[[for]]
rigs = ["arena/**"]
[for.rules.unused-port]
level = "off"
"""


def test_the_schema_is_the_one_that_the_code_makes() -> None:
    assert FILE.read_text("utf-8") == schema_text(), "run: python -m rigdsl.config.schema"


@pytest.mark.parametrize("schema", [SCHEMA, KNOWN])
def test_the_schema_is_one(schema: Any) -> None:
    Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("path", sorted(ROOT.glob("examples/*/rig.toml")), ids=lambda path: path.parent.name)
def test_the_examples_keep_it(path: Path) -> None:
    Draft202012Validator(SCHEMA).validate(tomllib.loads(path.read_text("utf-8")))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("fail-on", "fail_on"),
        ('"never"', '"rarely"'),
        ("edition = 2", "edition = 0"),
        (">=0.1, <2", "0.1"),
        ("share = 0.85", "share = 2"),
        ("share = 0.85", "shar = 0.85"),
        ("run-near-limit", "run-near-limits"),
        ("run-near-limit", "syntax-error"),
        ('rigs = ["arena/**"]', ""),
    ],
)
def test_what_is_wrong_does_not_keep_it(old: str, new: str) -> None:
    check = Draft202012Validator(SCHEMA)
    assert check.is_valid(tomllib.loads(GOOD))
    assert old in GOOD
    assert not check.is_valid(tomllib.loads(GOOD.replace(old, new, 1)))


def test_a_list_of_known_findings_keeps_its_schema() -> None:
    entries = (Known("a", "SL.mic", ("SL.mic 1",)), Known("b", "C1"))
    Draft202012Validator(KNOWN).validate(json.loads(known_text({"friday.rig": entries})))
