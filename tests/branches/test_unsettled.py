"""Two people change one rig: what is left to a person, and what is left to git."""

from __future__ import annotations

import pytest

from rigdsl.branches import Clash, Marks, merged, unsettled
from tests.branches.night import BASS, KICK, NOTE, PATCH, RIG, TPT, VL, Edits, edited, put_together

CLASHES: dict[str, tuple[Edits, Edits, tuple[Clash, ...]]] = {
    "one socket": (
        (("SL.mic 2", "SL.mic 3"),),
        (("SL.mic 2", "SL.mic 4"),),
        (Clash(BASS, BASS.replace("2", "3"), BASS.replace("2", "4")),),
    ),
    "one fact of a block: the fact alone": (
        (("on the riser", "left"), ("in wing", "in pit")),
        (("on the riser", "right"), ('"Stage left"', '"Left"')),
        (Clash(NOTE, NOTE.replace("on the riser", "left"), NOTE.replace("on the riser", "right")),),
    ),
    "one patch": (
        ((PATCH, "patch kick, bass, tpt -> DESK.ch 1-3\n"),),
        ((PATCH, "patch kick, bass, vl -> DESK.ch 1-3\n"),),
        (Clash(PATCH, "patch kick, bass, tpt -> DESK.ch 1-3\n", "patch kick, bass, vl -> DESK.ch 1-3\n"),),
    ),
    "changed here, taken away there": (
        (("SL.mic 2", "SL.mic 3"),),
        ((BASS, ""),),
        (Clash(BASS, BASS.replace("2", "3"), ""),),
    ),
    "taken away here, changed there": (
        ((BASS, ""),),
        (("SL.mic 2", "SL.mic 3"),),
        (Clash(BASS, "", BASS.replace("2", "3")),),
    ),
    "one new name, of two things": (
        ((KICK, KICK + TPT),),
        ((BASS, BASS + TPT.replace("dynamic", "condenser")),),
        (Clash("", TPT, TPT.replace("dynamic", "condenser")),),
    ),
    "another name each": (
        (("source bass", "source b"),),
        (("source bass", "source bs"),),
        (Clash(BASS, BASS.replace(" bass", " b"), BASS.replace(" bass", " bs")),),
    ),
    "another name here, another socket there": (
        (("source bass", "source b"),),
        (("SL.mic 2", "SL.mic 3"),),
        (Clash(BASS, BASS.replace(" bass", " b"), BASS.replace("mic 2", "mic 3")),),
    ),
    "one remark": (
        (("# ---- The boxes", "# ---- Boxes"),),
        (("# ---- The boxes", "# ---- All boxes"),),
        (Clash("# ---- The boxes\n", "# ---- Boxes\n", "# ---- All boxes\n"),),
    ),
}


@pytest.mark.parametrize("case", CLASHES)
def test_what_is_left_to_a_person(case: str) -> None:
    ours, theirs, clashes = CLASHES[case]
    done = put_together(edited(*ours), edited(*theirs))
    assert done.clashes == clashes
    assert len(done.text().splitlines()) < len(RIG.splitlines()) + 7


def test_what_else_changed_is_taken_beside_a_clash() -> None:
    done = put_together(edited(("SL.mic 2", "SL.mic 3"), (KICK, KICK + TPT)), edited(("SL.mic 2", "SL.mic 4")))
    assert TPT in done.text()


def test_the_marks_are_those_of_git() -> None:
    done = put_together(edited(("SL.mic 2", "SL.mic 3")), edited(("SL.mic 2", "SL.mic 4")))
    three, four = BASS.replace("2", "3"), BASS.replace("2", "4")
    assert f"<<<<<<< ours\n{three}=======\n{four}>>>>>>> theirs\n" in done.text()
    marked = done.text(Marks("HEAD", "guest", "old", 9, shows_base=True))
    assert f"<<<<<<<<< HEAD\n{three}||||||||| old\n{BASS}=========\n{four}>>>>>>>>> guest\n" in marked


@pytest.mark.parametrize(
    ("base", "ours", "theirs"),
    [
        (RIG, RIG + "box {\n", RIG + TPT),  # what cannot be read
        ("", TPT * 2, VL + 'source tpt "T" di\n'),  # named twice already, and once more
        ("".join(f"# {n}\n" for n in range(900)), "", "".join(f"# {n} a\n" for n in range(900))),
    ],
)
def test_what_is_in_doubt_is_left_to_git(base: str, ours: str, theirs: str) -> None:
    done = merged(base, ours, theirs)
    assert done is None or done.clashes


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
