"""Every rule's help page is true: its first rig breaks that rule and no other, its second breaks none."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from rigdsl.lint.pages import page
from rigdsl.lint.rule import Rule
from rigdsl.packs import Pack, discover
from rigdsl.testing import page_faults, page_findings

PACKS = discover()
RULES = [(item.pack, rule) for item in PACKS.installed for rule in item.pack.rules]


def test_no_pack_is_refused() -> None:
    assert PACKS.refused == ()
    assert {"control", "distance", "ports", "protocol"} <= {item.pack.name for item in PACKS.installed}


@pytest.mark.parametrize(("pack", "rule"), RULES, ids=[rule.name for _, rule in RULES])
def test_its_page_is_true(pack: Pack, rule: Rule[Any]) -> None:
    assert page_faults(pack, rule.name) == []


def words() -> str:
    """All that is said of the rigs of every page, a line for each finding, in the order in which it is said."""
    lines = []
    for pack, rule in RULES:
        help_page = page(rule)
        for text in (help_page.breaks, help_page.keeps):
            for item in page_findings(pack, rule, text):
                related = [(one.place.start, one.message) for one in item.related]
                said = (item.subject, item.message, item.consequence, item.help, related, item.ports, item.silent)
                lines.append(f"{rule.name}: {item.rule} {item.place.start} {said}")
    return "\n".join(lines)


def test_the_same_rigs_give_the_same_words_in_every_run() -> None:
    """The order of sets differs from run to run, by the seed of their hashes; what is said does not."""
    code = "import sys; from tests.rules.test_examples import words; sys.stdout.buffer.write(words().encode())"
    first, second = (
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=Path(__file__).parents[2],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout.decode()
        for seed in ("1", "2")
    )
    assert first.count("\n") >= len(RULES)
    assert first.splitlines() == second.splitlines()
