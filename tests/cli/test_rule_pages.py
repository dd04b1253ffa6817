"""The pages under `docs/rules` are what the command makes of the rules: whoever changes a rule runs it again."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

from rigdsl.packs import discover
from tests.conftest import Run

ROOT = Path(__file__).parents[2]
PAGES = ROOT / "docs" / "rules"
MAKE = "rigdsl explain --all --as md --out docs/rules"
LINK = re.compile(r"\]\(([^)#:]+)\)")


def test_the_pages_are_up_to_date(run: Run, folder: Path) -> None:
    ran = run(*MAKE.split()[1:])
    assert ran.status == 0
    made = {path.name: path.read_text("utf-8") for path in (folder / "docs" / "rules").iterdir()}
    kept = {path.name: path.read_text("utf-8") for path in PAGES.iterdir()}
    stale = sorted(name for name in made | kept if made.get(name) != kept.get(name))
    assert stale == [], f"make them anew, at the top of the repository (and take out pages of no rule): {MAKE}"
    assert ran.out == f"{len(made) - 1} pages: docs/rules\n"


def test_making_them_again_changes_no_byte(run: Run, folder: Path) -> None:
    made = []
    for _ in range(2):
        run(*MAKE.split()[1:])
        made.append({path.name: path.read_bytes() for path in (folder / "docs" / "rules").iterdir()})
    assert made[0] == made[1]


def test_the_index_says_how_they_are_made_and_leads_to_every_page() -> None:
    index = (PAGES / "README.md").read_text("utf-8")
    assert f"`{MAKE}`" in index
    assert sorted(LINK.findall(index)) == sorted(path.name for path in PAGES.iterdir() if path.name != "README.md")


def test_the_packs_stand_in_the_index_once_each() -> None:
    headings = re.findall(r"^## (.*)$", (PAGES / "README.md").read_text("utf-8"), re.MULTILINE)
    assert headings[0] == "core"
    assert headings[1:] == sorted(set(headings[1:]))


def test_every_page_has_its_parts() -> None:
    for path in PAGES.iterdir():
        if path.name == "README.md":
            continue
        text = path.read_text("utf-8")
        assert text.startswith(f"# {path.stem}\n\n*"), path.name
        assert "\n## On the night\n" in text, path.name
        assert text.count("\n```") % 2 == 0, path.name
        assert ("\n## In rig.toml\n" in text) == ("pack core" not in text), path.name


def test_a_page_with_a_threshold_says_where_it_comes_from() -> None:
    """Or that it comes from nowhere; a rule that counts nothing has no figures."""
    with_options = [packed.rule for packed in discover().rules if _numbers(packed.rule.options())]
    assert len(with_options) >= 10
    assert [rule.name for rule in with_options if "\n## Figures\n" not in rule.doc] == []


def _numbers(options: object) -> list[float]:
    values = [getattr(options, one.name) for one in fields(options)]  # type: ignore[arg-type]
    return [value for value in values if isinstance(value, int | float) and not isinstance(value, bool)]
