"""`rigdsl rules` and `rigdsl explain`: what is checked, and why; the pages of the rules that belong to no pack."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from rigdsl.cli.main import COMMANDS
from rigdsl.config import config_of
from rigdsl.lint import lint
from rigdsl.lint.accept import CORE
from rigdsl.lint.options import chosen
from rigdsl.lint.rule import PackedRule
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.reports.core_rules import CORE_PAGES
from rigdsl.rig import DictReader, load
from tests.conftest import Run

BLOCK = re.compile(r"## A rig that (breaks|keeps) it\n\n```rig\n(.*?)\n```", re.DOTALL)
EXAMPLES = [(name, which, text) for name, page in CORE_PAGES.items() for which, text in BLOCK.findall(page + "\n")]


def test_every_rule_is_listed_with_level_pack_version_and_summary(run: Run) -> None:
    lines = run("rules").out.splitlines()
    names = [line.split()[0] for line in lines]
    assert names == sorted(CORE) + [packed.name for packed in discover().rules]
    (line,) = [line for line in lines if line.startswith("protocol-mismatch ")]
    assert re.fullmatch(r"protocol-mismatch +error +protocol +\d+\.\d+\.\d+ +\S.*\.", line)


def test_a_rule_that_is_off_says_so(run: Run) -> None:
    (line,) = [line for line in run("rules").out.splitlines() if line.startswith("not-repeated ")]
    assert "note, off" in line


def test_the_list_for_programs(run: Run) -> None:
    rules = {rule["name"]: rule for rule in json.loads(run("rules", "--as", "json").out)["rules"]}
    assert rules["run-near-limit"]["pack"] == "distance"
    assert rules["run-near-limit"]["options"]
    assert all(rule["summary"] for rule in rules.values())


@pytest.mark.parametrize("name", [*sorted(CORE), *(packed.name for packed in discover().rules)])
def test_every_rule_is_explained(run: Run, name: str) -> None:
    ran = run("explain", name)
    assert ran.status == 0
    assert ran.out.startswith(f"{name} (")
    assert "\nOn the night\n" in ran.out
    assert "```" not in ran.out
    assert all(len(line) <= 88 or line.startswith(" ") for line in ran.out.splitlines())


def test_a_page_reads_well(run: Run) -> None:
    assert run("explain", "syntax-error").out == (
        "syntax-error (error, pack core 0.1.0)\n"
        "\n"
        "A line cannot be read: a word is missing, misspelt, or stands where another is expected.\n"
        "\n"
        "On the night\n"
        "\n"
        "What the line says is left out; everything else is read and checked all the same.\n"
        "\n"
        "A rig that breaks it\n"
        "\n"
        '    rig "Lantern Hall" { rate 48 kHz }\n'
        '    zone "Drum riser" drums\n'
        "\n"
        "A rig that keeps it\n"
        "\n"
        '    rig "Lantern Hall" { rate 48 kHz }\n'
        '    zone drums "Drum riser"\n'
        "\n"
    )


@pytest.mark.parametrize("packed", discover().rules, ids=lambda packed: packed.name)
def test_a_page_shows_lines_for_rig_toml_that_change_nothing(run: Run, folder: Path, packed: PackedRule) -> None:
    """What is to be written there is good, and is what holds anyway."""
    page = run("explain", packed.name).out
    lines = [line.strip() for line in page.partition("In rig.toml\n")[2].splitlines()]
    (folder / "rig.toml").write_text("\n".join(lines), "utf-8")
    config = config_of(folder, discover())
    assert config.findings == ()
    setting = config.settings("friday.rig")[packed.name]
    assert setting.level.value == str(packed.rule.level)
    assert chosen(packed.rule.options, setting.values) == packed.rule.options()


def test_no_core_rule_is_without_a_page() -> None:
    assert set(CORE_PAGES) == CORE


@pytest.mark.parametrize(("name", "which", "text"), EXAMPLES, ids=[f"{name}-{which}" for name, which, _ in EXAMPLES])
def test_the_examples_of_the_pages_are_true(name: str, which: str, text: str) -> None:
    rig = load("friday.rig", DictReader({"friday.rig": text})).rig
    rules = [packed for packed in discover().rules if packed.rule.on]
    found = {finding.rule for finding in lint(rig, Paths(rig), rules).findings}
    assert (name in found) == (which == "breaks")
    assert found - {name} <= {"label-missing", "unused-port"}


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_the_help_of_a_command(run: Run, name: str) -> None:
    ran = run(name, "--help")
    assert ran.status == 0
    summary = " ".join(ran.out.split("\n\n")[1].split())
    assert summary == COMMANDS[name], "the page of all commands and the command's own say the same"
    assert ran.out.count(f"Example: rigdsl {name}") == 1
