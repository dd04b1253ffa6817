"""Every rule of every pack has cases beside its page: none comes in that only its own two examples hold."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigdsl.lint.rule import PackedRule
from rigdsl.packs import discover

TESTS = Path(__file__).parent
# They take whatever rules there are, or one mistake each: no table of a rule's cases.
OTHERS = {"test_examples.py", "test_mutations.py", "test_one_mistake.py", "test_tables.py", "test_any_rig.py"}
TABLES = {path.name: path.read_text("utf-8") for path in TESTS.glob("test_*.py") if path.name not in OTHERS}


def naming(rule: str) -> list[str]:
    """The files of tests that have a rule's name, or import its function, as a word of its own."""
    word = re.compile(rf"(?<![\w-])(?:{re.escape(rule)}|{re.escape(rule.replace('-', '_'))})(?![\w-])")
    return [name for name, text in TABLES.items() if word.search(text)]


@pytest.mark.parametrize("packed", discover().rules, ids=lambda packed: packed.name)
def test_a_rule_has_cases_of_its_own(packed: PackedRule) -> None:
    assert naming(packed.name), f"add a table of cases of `{packed.name}` to a file under tests/rules"


def test_a_name_inside_another_does_not_count() -> None:
    assert naming("mismatch") == []
    assert naming("no-such-rule") == []
