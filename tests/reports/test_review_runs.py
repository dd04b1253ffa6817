"""Neighbouring sockets told as one, and nothing told as one that is not."""

from __future__ import annotations

import pytest

from rigdsl.reports.review_runs import in_runs
from rigdsl.reports.review_words import change_words
from rigdsl.review import Change


def patch(to: str, by: str, *effects: str) -> Change:
    return Change("added", "patch", to, {"from": (None, by), "note": (None, None)}, effects)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            [patch("DESK.ch 1", "SL.mic 5"), patch("DESK.ch 2", "SL.mic 6"), patch("DESK.ch 3", "SL.mic 7")],
            ["patch DESK.ch 1-3 added: SL.mic 5-7"],
        ),
        (
            [patch("DESK.ch 1", "kick"), patch("DESK.ch 2", "kick"), patch("DESK.ch 3", "snare")],
            ["patch DESK.ch 1-2 added: kick", "patch DESK.ch 3 added: snare"],
        ),
        ([patch("DESK.ch 9", "SL.mic 9"), patch("DESK.ch 10", "SL.mic 10")], ["patch DESK.ch 9-10 added: SL.mic 9-10"]),
        (
            [patch("DESK.ch 1", "SL.mic 1"), patch("DESK.ch 2", "SL.mic 2"), patch("DESK.ch 3", "SL.mic 2")],
            ["patch DESK.ch 1-2 added: SL.mic 1-2", "patch DESK.ch 3 added: SL.mic 2"],
        ),
        ([patch("DESK.ch 1", "SL.mic 1"), patch("DESK.ch 3", "SL.mic 2")], 2),
        ([patch("DESK.ch 1", "SL.mic 1"), patch("MON.ch 2", "SL.mic 2")], 2),
        ([Change("changed", "source", f"tom-{n}", {"stand": ("clip", "boom")}) for n in (1, 2)], 2),
        ([Change("added", "keep", f"SL.mic {n}", {"for": (None, "support act")}) for n in range(2, 5)],
         ["keep SL.mic 2-4 added: support act"]),
        ([], []),
    ],
)  # fmt: skip
def test_runs(changes: list[Change], said: list[str] | int) -> None:
    told = list(in_runs(changes))
    if isinstance(said, int):
        assert told == changes
        assert len(told) == said
    else:
        assert [change_words(one) for one in told] == said


def test_effects_stay_with_the_run() -> None:
    (one,) = in_runs(
        [patch("DESK.ch 1", "SL.mic 1", "C01 carries 4, was 3"), patch("DESK.ch 2", "SL.mic 2", "hat: now")]
    )
    assert one.effects == ("C01 carries 4, was 3", "hat: now")
