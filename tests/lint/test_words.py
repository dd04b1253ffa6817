"""Words that many rules share."""

from __future__ import annotations

import pytest

from rigdsl.finding import Level
from rigdsl.lint.pages import page
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, listed, ticked


@pytest.mark.parametrize(
    ("names", "text"),
    [
        ([], ""),
        (["kick"], "`kick`"),
        (["a", "b", "c", "d", "e"], "`a`, `b`, `c`, `d`, `e`"),
        (["a", "b", "c", "d", "e", "f"], "`a`, `b`, `c`, `d` and 2 more"),
    ],
)
def test_long_lists_are_cut_short(names: list[str], text: str) -> None:
    assert listed(names) == text


def test_counting_and_ticking() -> None:
    assert [count(1, "channel"), count(3, "channel"), count(2, "box", "boxes")] == [
        "1 channel",
        "3 channels",
        "2 boxes",
    ]
    assert ticked(["SL.A", "DESK.stage 1"]) == "`SL.A`, `DESK.stage 1`"


def test_a_help_page_is_taken_apart() -> None:
    @rule("quiet", Level.NOTE, NoOptions)
    def quiet(rig: object, paths: object, options: NoOptions) -> tuple[()]:
        """What it looks for.

        ## On the night
        Silence.

        ## A rig that breaks it
        ```toml
        [rules.quiet]
        least = 2
        ```
        ```rig
        rig "Bad" {}
        ```

        ## A rig that keeps it
        ```rig
        rig "Good" {}
        ```
        """
        return ()

    read = page(quiet)
    assert read.summary == "What it looks for."
    assert read.sections["On the night"] == "Silence."
    assert (read.breaks, read.keeps) == ('rig "Bad" {}\n', 'rig "Good" {}\n')
    assert read.options == {"least": 2}
