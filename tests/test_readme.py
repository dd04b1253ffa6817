"""The README is true: its tutorial, its examples of the language, its commands and links."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigdsl.cli.main import COMMANDS
from rigdsl.finding import Level
from rigdsl.lint.accept import CORE
from rigdsl.packs import discover
from rigdsl.rig import words
from rigdsl.show import load
from rigdsl.syntax import parse
from rigdsl.text import Source
from tests.readme import DAY, README, blocks, done, pictures

TEXT = README.read_text("utf-8")
LANGUAGE = TEXT[TEXT.index("# The language") : TEXT.index("# Commands")]


def test_the_tutorial_prints_what_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`python -m tests.readme` writes it anew."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", DAY)
    for block, text in done(TEXT, tmp_path):
        assert block.text == text
    for path, data in pictures(tmp_path).items():
        assert path.read_bytes() == data, path.name
    for name in ("chapel", "rehearsal"):
        levels = {finding.level for finding in load(tmp_path / f"{name}.rig").findings()}
        assert levels <= {Level.NOTE}


def test_the_tutorial_breaks_a_rig_and_mends_it() -> None:
    told = [block.text for block in blocks(TEXT) if block.what == "run"]
    assert sum(": error: " in text for text in told) == 1


def test_the_examples_of_the_language_can_be_read() -> None:
    examples = re.findall(r"```rig\n(.*?)```", LANGUAGE, re.DOTALL)
    examples += re.findall(r"^\| `([a-z]+ [^`]+)` \|", LANGUAGE, re.MULTILINE)
    assert len(examples) > 20
    for example in examples:
        assert parse(Source("readme.rig", f"{example}\n")).findings == (), example


def test_every_kind_and_type_is_named() -> None:
    for word in (*words.KINDS, *words.SOURCE_TYPES, *words.OUTPUT_TYPES):
        assert f"`{word}`" in LANGUAGE, word


def test_every_statement_is_shown() -> None:
    shown = set(re.findall(r"^\| `([a-z]+)", LANGUAGE, re.MULTILINE)) | {"model", "cable", "protocol"}
    grammar = (README.parent / "grammar" / "rig.lark").read_text("utf-8")
    statements = re.search(r"\?statement: (.*?)\n\n", grammar, re.DOTALL)
    assert statements is not None
    assert shown - {"statement"} >= set(re.findall(r"[a-z]+", statements[1]))


def test_every_command_and_link_is_there() -> None:
    for name in COMMANDS:
        assert f"| `rigdsl {name}" in TEXT
    for path in re.findall(r"\]\(([^)#]+)\)", TEXT):
        assert (README.parent / path).is_file(), path
    anchors = {"#" + heading.lower().replace(" ", "-") for heading in re.findall(r"^#+ (.+)$", TEXT, re.MULTILINE)}
    assert set(re.findall(r"\]\((#[^)]+)\)", TEXT)) <= anchors


def test_the_rules_it_names_exist() -> None:
    known = CORE | {packed.name for packed in discover().rules}
    for name in re.findall(r"\[([a-z]+(?:-[a-z]+)+)\]", TEXT):
        assert name in known, name
