"""`rigdsl rules` and `rigdsl explain`: what is checked, and why; the pages of the rules that belong to no pack."""

from __future__ import annotations

import json
import re
import tomllib
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from rigdsl.cli.main import COMMANDS
from rigdsl.config import config_of
from rigdsl.config.keys import KEYS
from rigdsl.lint.accept import CORE
from rigdsl.lint.options import chosen
from rigdsl.lint.pages import page
from rigdsl.lint.rule import PackedRule
from rigdsl.packs import discover
from rigdsl.reports.core_rules import CORE_PAGES
from rigdsl.reports.rule_list import Entry
from rigdsl.reports.rule_pages import index_md, page_md, page_name
from tests.conftest import Run

BLOCK = re.compile(r"## A rig(?:\.toml)? that (breaks|keeps) it\n\n```(rig|toml)\n(.*?)\n```", re.DOTALL)
EXAMPLES = [(name, *found) for name, page in CORE_PAGES.items() for found in BLOCK.findall(page)]
SETTING = 'level = "on"  # its own level; or: error, warning, note, off\n'
MOST = {"type": "null", "default": None, "description": "how far | long"}
TODAY = "1764028800"  # the 25th of November 2025
SHOW = next(packed for packed in discover().rules if packed.name == "run-near-limit")
TABLE = json.loads((files("rigdsl_grammar") / "rules.schema.json").read_text("utf-8"))


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
        "syntax-error (error, pack core 0.1.0, edition 1)\n"
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
    assert setting.level.value == (str(packed.rule.level) if packed.rule.on else "off")
    assert chosen(packed.rule.options, setting.values) == packed.rule.options()


def test_no_core_rule_is_without_a_page_or_examples() -> None:
    assert set(CORE_PAGES) == CORE
    shown = {(name, which) for name, which, _, _ in EXAMPLES}
    # What breaks down is a pack, which no rig can show.
    assert shown == {(name, which) for name in CORE - {"rule-crashed"} for which in ("breaks", "keeps")}


@pytest.mark.parametrize(
    ("name", "which", "language", "text"), EXAMPLES, ids=[f"{name}-{which}" for name, which, *_ in EXAMPLES]
)
def test_the_examples_of_the_pages_are_true(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch, name: str, which: str, language: str, text: str
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", TODAY)
    (folder / "gear").mkdir()
    (folder / "gear" / "house.rig").write_text('zone house "The house"\n', "utf-8")
    (folder.parent / "elsewhere.rig").write_text('zone elsewhere "Elsewhere"\n', "utf-8")
    (folder / "friday.rig").write_text(text if language == "rig" else 'rig "Lantern Hall" { }\n', "utf-8")
    if language == "toml":
        (folder / "rig.toml").write_text(text, "utf-8")
    ran = run("check", "friday.rig", "--as", "json")
    found = {finding["rule"] for finding in json.loads(ran.out)["findings"]}
    assert (name in found) == (which == "breaks")
    assert found - {name} <= {"label-missing", "unused-port"}
    if name == "wrong-config":
        assert ran.status == (2 if which == "breaks" else 0)
    elif which == "keeps":
        assert ran.status == 0


def test_the_page_of_rig_toml_names_every_key(run: Run) -> None:
    page = run("explain", "wrong-config").out
    for key in KEYS:
        assert {"packs": "`[packs]`", "papers": "`[papers]`", "rules": "`[rules.NAME]`", "for": "`[[for]]`"}.get(
            key, f"`{key}`"
        ) in page


class TestTiming:
    """`rigdsl rules --timing RIG`."""

    @pytest.fixture(autouse=True)
    def _show(self, folder: Path) -> None:
        (folder / "friday.rig").write_text(page(SHOW.rule).breaks, "utf-8")

    def test_the_longest_first_and_the_rules_of_reading_last(self, run: Run) -> None:
        ran = run("rules", "--timing", "friday.rig")
        assert ran.status == 0
        found = [
            re.fullmatch(r"(\S+) .*  edition \d(?: +(\d+\.\d{3}) ms)?  +\S.*\.", line) for line in ran.out.splitlines()
        ]
        assert all(found)
        lines = [match.groups() for match in found if match]
        taken = [float(took) for _, took in lines if took]
        assert taken == sorted(taken, reverse=True)
        assert [name for name, took in lines if not took] == sorted(CORE)
        assert {name for name, took in lines if took} == {packed.name for packed in discover().rules}
        assert [name for name, took in lines[-len(CORE) :] if took] == []

    def test_what_they_share_is_told_beside_the_list(self, run: Run) -> None:
        ran = run("rules", "--timing", "friday.rig", "--as", "json")
        assert re.search(r"every rule was run over friday\.rig .* \(\d+\.\d ms\); all of them .* \d+\.\d ms\n", ran.err)
        said = json.loads(ran.out)
        jsonschema.validate(said, TABLE)
        assert {rule["name"] for rule in said["rules"] if rule["took_ms"] is None} == CORE
        assert all(rule["took_ms"] >= 0 for rule in said["rules"] if rule["name"] not in CORE)

    def test_only_the_newer_ones(self, run: Run, folder: Path) -> None:
        (folder / "rig.toml").write_text("edition = 1\n", "utf-8")
        newer = {packed.name for packed in discover().rules if packed.rule.edition > 1}
        said = json.loads(run("rules", "--newer", "--timing", "friday.rig", "--as", "json").out)["rules"]
        assert {rule["name"] for rule in said} == newer
        assert all(rule["took_ms"] is not None for rule in said)

    @pytest.mark.parametrize(
        ("rig", "says"),
        [("sunday.rig", "sunday.rig"), ("gear", "gear")],
        ids=["no such file", "a folder"],
    )
    def test_there_must_be_a_rig(self, run: Run, folder: Path, rig: str, says: str) -> None:
        (folder / "gear").mkdir()
        ran = run("rules", "--timing", rig)
        assert (ran.status, ran.out) == (2, "")
        assert says in ran.err


@pytest.mark.parametrize("arguments", [(), ("--newer",)])
def test_the_list_for_programs_is_of_its_schema(run: Run, folder: Path, arguments: tuple[str, ...]) -> None:
    (folder / "rig.toml").write_text("edition = 1\n", "utf-8")
    said = json.loads(run("rules", "--as", "json", *arguments).out)
    jsonschema.validate(said, TABLE)
    assert {rule["edition"] for rule in said["rules"]} == ({2} if arguments else {1, 2})
    for rule in said["rules"]:
        assert set(rule) == set(TABLE["properties"]["rules"]["items"]["properties"]) - {"took_ms"}


class TestMarkdown:
    """`rigdsl explain --as md`."""

    def test_one_page(self, run: Run) -> None:
        ran = run("explain", "run-near-limit", "--as", "md")
        assert ran.status == 0
        assert ran.out.startswith("# run-near-limit\n\n*note · pack distance · edition 1*\n\nA digital run is within")
        headings = re.findall(r"^## (.*)$", ran.out, re.MULTILINE)
        assert headings[:3] == ["On the night", "A rig that breaks it", "A rig that keeps it"]
        assert headings[-2:] == ["Options", "In rig.toml"]
        assert "| `share` | number, 0 to 1 | `0.9` | the part of the reach" in ran.out
        assert ran.out.endswith("[rules.run-near-limit]\n" + SETTING + "share = 0.9\nstranded = 1.2\n```\n")

    def test_all_pages_are_each_page_one_after_the_other(self, run: Run) -> None:
        names = [rule["name"] for rule in json.loads(run("rules", "--as", "json").out)["rules"]]
        both = run("explain", "--all", "--as", "md").out
        assert both.split("\n# ")[0] == run("explain", names[0], "--as", "md").out
        assert re.findall(r"^# (.*)$", re.sub(r"^```.*?^```$", "", both, flags=re.M | re.S), re.MULTILINE) == names

    def test_one_page_into_a_folder(self, run: Run, folder: Path) -> None:
        ran = run("explain", "walkway", "--as", "md", "--out", "a/b")
        assert (ran.status, ran.out) == (0, "1 page: a/b\n")
        assert [path.name for path in (folder / "a" / "b").iterdir()] == ["walkway.md"]

    def test_a_rule_of_another_pack_lies_in_a_folder_of_it(self) -> None:
        entry = Entry("moss/hum", "note", "moss", "1.0", "Hum | buzz.", False, {"most | m": MOST}, edition=2)
        assert page_name(entry) == "moss/hum.md"
        assert "| [`moss/hum`](moss/hum.md) | note, off | 2 | Hum \\| buzz. |" in index_md([entry])
        text = page_md(entry)
        assert "*note · pack moss · edition 2 · off unless asked for*" in text
        assert "none | how far \\| long |" in text
        assert tomllib.loads(text.split("```toml\n")[1].split("```")[0]) == {"rules": {"moss/hum": {"level": "off"}}}

    @pytest.mark.parametrize(
        ("arguments", "says"),
        [
            ((), "no rule is named: name one, or `--all`"),
            (("walkway", "--all"), "a rule and `--all` say two things: one of them is enough"),
            (("--all", "--out", "docs"), "pages are written as Markdown: `--as md --out FOLDER`"),
            (
                ("walkwya", "--as", "md"),
                "there is no rule called `walkwya`; there is a rule with a similar name: `walkway`",
            ),
            (
                ("zzzzzzzz", "--as", "md", "--out", "x"),
                "there is no rule called `zzzzzzzz`; `rigdsl rules` lists them all",
            ),
        ],
    )
    def test_what_cannot_be(self, run: Run, folder: Path, arguments: tuple[str, ...], says: str) -> None:
        ran = run("explain", *arguments)
        assert (ran.status, ran.out) == (2, "")
        assert says in ran.err
        assert [path.name for path in folder.iterdir()] == ["rig.toml"]


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_the_help_of_a_command(run: Run, name: str) -> None:
    ran = run(name, "--help")
    assert ran.status == 0
    summary = " ".join(ran.out.split("\n\n")[1].split())
    assert summary == COMMANDS[name], "the page of all commands and the command's own say the same"
    assert ran.out.count(f"Example: rigdsl {name}") == 1
