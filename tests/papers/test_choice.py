"""What a project chooses of its papers: columns and the language of headings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from rigdsl.papers import PAPERS, PaperSettings, printed, unknown_columns
from rigdsl.show import load
from tests.papers.made import EXAMPLES, NIGHT, facts_of


class TestChoice:
    def test_columns_that_a_project_chooses(self) -> None:
        facts = facts_of(columns={"input-list": ("source", "channel")})
        (table,) = printed(PAPERS["input-list"], facts).tables
        assert table.columns == ("source", "channel")
        assert table.rows[0] == ("kick", "DESK.ch 1")

    def test_a_column_that_is_none_is_told(self) -> None:
        facts = facts_of(columns={"input-list": ("sorce",)})
        assert list(unknown_columns(PAPERS["input-list"], facts)) == [
            "`input-list` has no column `sorce`, which `[papers.columns]` of rig.toml asks for; "
            "there is a column with a similar name: `source`"
        ]

    def test_a_column_that_only_other_nights_have_is_no_mistake(self) -> None:
        """Nothing is changed on this one; on the next something may be."""
        quiet = "\n".join(line for line in NIGHT.splitlines() if not line.startswith(("change", "unpatch", "replug")))
        facts = facts_of(quiet + "\n", columns={"tonight": ("name", "now"), "label-strips": ("name", "colour")})
        assert list(unknown_columns(PAPERS["tonight"], facts)) == []
        assert list(unknown_columns(PAPERS["label-strips"], facts)) == []

    @pytest.mark.parametrize("show", EXAMPLES, ids=lambda path: path.stem)
    def test_no_paper_has_a_column_that_it_does_not_declare(self, show: Path) -> None:
        facts = replace(load(show).facts(), settings=PaperSettings(colours=True))
        for paper in PAPERS.values():
            assert {name for table in paper.tables(facts) for name in table.columns} <= set(paper.columns), paper.name

    def test_a_strip_with_chosen_columns_is_a_list(self) -> None:
        (strip, *_) = printed(PAPERS["label-strips"], facts_of(columns={"label-strips": ("name",)})).tables
        assert (strip.columns, strip.strip) == (("name",), False)

    def test_every_heading_of_ours_has_its_german(self) -> None:
        facts = facts_of(colours=True, language="de")
        plain, german = facts_of(colours=True), facts
        same = {"W", "kg", "m", "Name", "Phantom", "Zone", "Firmware", "Mikrofon", "Cold", "Hot", "was"}
        for name, paper in PAPERS.items():
            ours, theirs = printed(paper, plain), printed(paper, german)
            assert ours.title != theirs.title, name
            for one, other in zip(ours.tables, theirs.tables, strict=True):
                unchanged = {b for a, b in zip(one.columns, other.columns, strict=True) if a == b}
                assert unchanged <= same, name
                assert one.rows == other.rows
