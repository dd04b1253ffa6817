"""What the comment on a request to merge asks of hands."""

from __future__ import annotations

import pytest

from rigdsl.reports.review_md import MARKER, review_md, reviews_md
from rigdsl.review.handwork import steps
from tests.review.made import STAGE, compared, side

RADIO = "model tx2 { kind monitor-sender; inputs in 1-2; outputs air 1-2 { wireless }; pass in -> air }\n"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("to SL 2 via", "to SL 4 via",
         ["**Left wing**", "- [ ] replug Snare from SL.mic 2 into SL.mic 4 (xlr 3 m)"]),
        ("to SL 2 via xlr 3 m", "to SL 2 via xlr 6 m",
         ["**Left wing**", "- [ ] swap: Snare, SL.mic 2 (xlr 6 m instead of xlr 3 m)"]),
        ("to SL 2 via xlr 3 m", "", ["**Left wing**", "- [ ] unplug Snare from SL.mic 2 (xlr 3 m)"]),
        ('snare "Snare" dynamic in left', 'snare "Snare" dynamic in right',
         ["**Right wing**", "- [ ] move Snare from Left wing to Right wing (xlr 3 m)"]),
        ('source vox "Vocal"', 'source sax "Sax"',
         ["**Right wing**", "- [ ] swap: Sax (condenser) instead of Vocal, SR.mic 1 (xlr 5 m, stays)"]),
        ('SL "Left rack" is nw8', 'SL "Left rack" is nw16',
         ["**Left wing**", "- [ ] swap: box SL: nw16 instead of nw8"
          " (first pull, then put back: Kick; Snare; cable C01; cable C02)"]),
        ("SR \"Right rack\" is nw8 in right", "SR \"Right rack\" is nw8 in foh",
         ["**Mixing place**", "- [ ] move box SR from Right wing to Mixing place"
          " (first pull, then put back: Vocal; Wedge; cable C02)"]),
        ("via c6 30 m", "via c6 40 m",
         ["**Left wing**", "- [ ] swap: cable C01, SL.A -- DESK.stage 1 (c6 40 m instead of c6 30 m)"]),
        ('"Snare"', '"Rim"', []),
    ],
)  # fmt: skip
def test_what_hands_do(old: str, new: str, said: list[str]) -> None:
    after = STAGE.replace(old, new, 1)
    assert after != STAGE
    after = after.replace("patch vox", "patch sax") if "sax" in after else after
    found = compared(STAGE, after)
    comment = review_md(found, "night.rig", steps(side(STAGE).rig, side(after).rig, found))
    lines = [line for line in comment if line.startswith(("- [ ]", "**")) and "night.rig" not in line]
    assert lines == said


def test_zones_in_the_order_of_the_house() -> None:
    after = (
        STAGE.replace("to SR 1 via", "to SR 2 via").replace("to SL 2 via", "to SL 4 via")
        + RADIO
        + "box TX is tx2 in foh\n"
    )
    found = compared(STAGE, after)
    comment = review_md(found, "night.rig", steps(side(STAGE).rig, side(after).rig, found))
    zones = [line for line in comment if line.startswith("**") and "night.rig" not in line]
    assert zones == ["**Left wing**", "**Right wing**", "**Mixing place**"]
    assert "- [ ] bring box TX" in "\n".join(comment)


def test_a_comment_on_many_rigs_has_room_and_is_whole() -> None:
    found = compared(STAGE, STAGE.replace("to SL 2 via", "to SL 4 via"))
    drawing = "flowchart LR\n" + "  a --> b\n" * 500
    comment = reviews_md(review_md(found, f"night-{number}.rig", (), drawing) for number in range(900))
    assert len(comment) < 60_200
    assert comment.startswith(MARKER)
    assert comment.count(MARKER) == 1
    assert comment.count("<details") == comment.count("</details>")
    assert comment.count("```") % 2 == 0
    assert "more lines have no room here" in comment


def test_nobody_is_called_by_a_label() -> None:
    found = compared(STAGE, STAGE.replace('"Snare"', '"@crew snare"'))
    assert "@crew" not in "\n".join(review_md(found, "night.rig"))


def test_what_cannot_be_read_is_said_first() -> None:
    found = compared(STAGE, STAGE.replace('"Snare"', '"Snare'))
    assert "**Some of the rig as it is now cannot be read" in "\n".join(review_md(found, "night.rig")[:4])
