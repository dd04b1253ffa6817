"""What a finding is about is the same however the line is laid out: `accept` and known findings hold on to it."""

from __future__ import annotations

import pytest

from rigdsl.rig import DictReader, load
from rigdsl.syntax.tidy import tidy
from rigdsl.text import Source
from tests.review.made import STAGE


def identities(text: str) -> list[tuple[str, str]]:
    return sorted((one.rule, one.subject) for one in load("a.rig", DictReader({"a.rig": text}), ()).rig.findings)


@pytest.mark.parametrize(
    ("line", "subject"),
    [
        ("source hat dynamic in left to SL.mic 4,  99 via xlr 3 m", "SL.mic 4,99"),
        ("source hat dynamic in left to SL . tape 4 via xlr 3 m", "SL.tape 4"),
        ("patch SL.mic 4 - 99 -> DESK.ch 4", "SL.mic 4-99"),
        ("keep SL.mic  99 for  \"support\"", "SL.mic 99"),
        ("link C09: SL.A   9 -- DESK.stage 2 via c6 10m", "SL.A 9"),
        ("insert DESK.ch   99 through SL via xlr 1m", "DESK.ch 99"),
        ("zone back at (0,  4) kg", "kg"),
        ("box SB is nw8 in left { power   3   kg }", "3 kg"),
        ("box SB is nw8 in left { weight  3m }", "3 m"),
        ("unpatch   DESK.ch   9", "DESK.ch 9"),
    ],
)  # fmt: skip
def test_a_subject_is_laid_out(line: str, subject: str) -> None:
    text = f"{STAGE}{line}\n"
    found = identities(text)
    assert subject in [what for _, what in found], found
    set_anew = tidy(Source("a.rig", text)).text
    assert set_anew != text
    assert identities(set_anew) == found
