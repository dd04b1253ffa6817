"""The README is true: its tutorial, its examples of the language, its commands and links."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigdsl.cli.main import COMMANDS
from rigdsl.finding import Level
from rigdsl.lint.accept import CORE
from rigdsl.packs import discover
from rigdsl.reports.text import ELSEWHERE
from rigdsl.rig import words
from rigdsl.show import load
from rigdsl.syntax import parse
from rigdsl.text import Source
from tests.readme import DAY, README, blocks, done, pictures
from tests.reference import TABLES, with_tables

TEXT = README.read_text("utf-8")
LANGUAGE = TEXT[TEXT.index("# The language") : TEXT.index("# Commands")]


def test_the_tutorial_prints_what_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`python -m tests.readme` writes it anew."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", DAY)
    for block, text in done(TEXT, tmp_path):
        assert block.text == text
    for path, data in pictures(tmp_path).items():
        assert path.read_bytes() == data, path.name
    for name in ("chapel", "rehearsal", "dance"):
        levels = {finding.level for finding in load(tmp_path / f"{name}.rig").findings()}
        assert levels <= {Level.NOTE}


def test_the_headings_of_a_check_are_explained() -> None:
    assert f"`-- {ELSEWHERE} --`" in TEXT


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


def test_the_tables_say_what_the_tool_knows() -> None:
    """Facts by their own readers, cables and protocols from the library; `python -m tests.readme` writes them anew."""
    assert with_tables(TEXT) == TEXT
    for name in ("xlr", "cat5e", "om3", "os2", "ls2-5", "aes50", "aes67"):
        assert any(row.startswith(f"| `{name}` ") for rows in TABLES.values() for row in rows), name


@pytest.mark.parametrize(
    ("table", "row"),
    [
        ("facts", "| `bridge` | `channels 16`, `converts rate` |"),
        ("facts", "| `zone` | `public` |"),
        ("cables", "| `xlr` | Microphone cable | analogue, shielded, 100 pF/m, 84 mohm/m |"),
        (
            "protocols",
            "| `aes3` | AES3 | 2 at 32 kHz, 2 at 48 kHz, 2 at 96 kHz, 2 at 192 kHz, one way | `aes-pair` 100 m,",
        ),
    ],
)
def test_a_row_of_each_table(table: str, row: str) -> None:
    assert any(made.startswith(row) for made in TABLES[table])


def test_a_loudspeaker_is_patched_by_its_name_or_by_the_socket_that_drives_it(tmp_path: Path) -> None:
    dance = next(block.text for block in blocks(TEXT) if block.what == "dance.rig")
    assert "-> TOP-L, TOP-R  # by the loudspeakers' names; `-> DESK.out 1-2`" in dance
    (tmp_path / "dance.rig").write_text(dance.replace("-> TOP-L, TOP-R", "-> DESK.out 1-2"))
    show = load(tmp_path / "dance.rig")
    assert show.findings() == ()
    assert [str(path.start) for path in show.trace("TOP-R")] == ["DESK.mix 2"]


def test_every_pack_says_what_it_looks_at() -> None:
    told = re.findall(r"^\| ([a-z]+) \|", LANGUAGE[LANGUAGE.index("## What is judged") :], re.MULTILINE)
    assert set(told) - {"pack"} == {packed.pack for packed in discover().rules}


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
