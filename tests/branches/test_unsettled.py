"""What a merge leaves to a person, in words."""

from __future__ import annotations

import pytest

from rigdsl.branches import merged, unsettled
from tests.branches.night import KICK, RIG, edited, put_together
from tests.branches.test_clashes import CLASHES

OTHERWISE = "both branches changed it otherwise"


@pytest.mark.parametrize(
    ("case", "said"),
    [
        ("one socket", f"`bass` is not settled: {OTHERWISE}"),
        ("one fact of a block: the fact alone", f"`note` of `SL` is not settled: {OTHERWISE}"),
        ("one patch", f"`patch kick` is not settled: {OTHERWISE}"),
        ("one remark", f"a remark is not settled: {OTHERWISE}"),
        ("another name each", f"`bass` is not settled: {OTHERWISE}"),
        ("changed here, taken away there", "`bass` is not settled: one branch took out what the other changed"),
        ("one new name, of two things", "`tpt` is not settled: both branches added it, each otherwise"),
    ],
)
def test_what_clashes_is_named(case: str, said: str) -> None:
    ours, theirs, _ = CLASHES[case]
    assert unsettled(put_together(edited(*ours), edited(*theirs))) == said


def test_many_that_clash_are_told_in_one_sentence() -> None:
    base = "".join(f"clock A{n}\nzone z{n} at (0, 0) m\n" for n in range(9))
    done = merged(base, base.replace("(0, 0)", "(1, 0)"), base.replace("(0, 0)", "(2, 0)"))
    assert done is not None
    assert unsettled(done) == (
        "`z0`, `z1`, `z2`, `z3` and 5 more are not settled: both branches changed them otherwise"
    )
    assert unsettled(put_together(RIG, edited((KICK, "")))) == ""
