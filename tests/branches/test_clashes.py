"""Two people change one rig: what is left to a person, and what is left to git."""

from __future__ import annotations

import pytest

from rigdsl.branches import Clash, Marks, merged
from tests.branches.night import BASS, KICK, LINK, NOTE, PATCH, RIG, TPT, VL, Edits, edited, put_together

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
    "one patch, moved and changed by both": (
        ((PATCH, ""), (KICK, PATCH.replace("1-2", "11-12") + KICK)),
        ((PATCH, ""), (LINK, LINK + PATCH.replace("1-2", "21-22"))),
        (Clash(PATCH, PATCH.replace("1-2", "11-12"), PATCH.replace("1-2", "21-22")),),
    ),
    "one patch, moved and changed here, taken away there": (
        ((PATCH, ""), (KICK, PATCH.replace("1-2", "1, 7") + KICK)),
        ((PATCH, ""),),
        (Clash(PATCH, PATCH.replace("1-2", "1, 7"), ""),),
    ),
    "another name and another place each": (
        ((BASS, ""), (LINK, LINK + BASS.replace(" bass", " b"))),
        ((BASS, ""), (PATCH, PATCH + BASS.replace(" bass", " bs"))),
        (Clash(BASS, BASS.replace(" bass", " b"), BASS.replace(" bass", " bs")),),
    ),
    "a remark above what is taken away": (
        ((BASS, ""),),
        ((BASS, "# her own one\n" + BASS),),
        (Clash(BASS, "", "# her own one\n" + BASS),),
    ),
    "one fact, beside another one on its line": (
        ((NOTE, "  weight 3 kg; power 3 W\n" + NOTE),),
        ((NOTE, NOTE + "  weight 4 kg\n"),),
        (Clash("", "  weight 3 kg; power 3 W\n", "  weight 4 kg\n"),),
    ),
    "one fact, in a line that was there": (
        (("  rate 48 kHz\n  note", "  rate 48 kHz; weight 3 kg\n  note"),),
        ((NOTE, NOTE + "  weight 4 kg\n"),),
        (Clash("  rate 48 kHz\n", "  rate 48 kHz; weight 3 kg\n", "  rate 48 kHz\n  weight 4 kg\n"),),
    ),
    "one new name, on a line of two things": (
        ((KICK, TPT.rstrip() + "; " + VL + KICK),),
        ((PATCH, PATCH + TPT),),
        (Clash("", TPT.rstrip() + "; " + VL, TPT),),
    ),
    "taken away here, set on one line with another thing there": (
        ((BASS, ""),),
        ((KICK + BASS, KICK.rstrip() + "; " + BASS),),
        (Clash(KICK + BASS, KICK, KICK.rstrip() + "; " + BASS),),
    ),
    "one new name of sockets": (
        ((NOTE, NOTE + "  digital A, B\n"),),
        ((NOTE, "  digital B, C\n" + NOTE),),
        (Clash("", "  digital A, B\n", "  digital B, C\n"),),
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


TWO = 'source a "A" di; source b "B" di\n'
MODEL = "model m {\n  kind console; rate 48 kHz\n}\n"
HEAVY, HEAVIER = MODEL.replace("kHz", "kHz; weight 3 kg"), MODEL.replace("}", "  weight 4 kg\n}")


@pytest.mark.parametrize(
    ("base", "ours", "theirs", "clash"),
    [
        (TWO, TWO.replace("\n", "; " + TPT), TWO + TPT, Clash("", "", TPT)),
        (TWO, TPT + TWO, TWO.replace("\n", "; " + TPT), Clash(TWO, TWO, TWO.replace("\n", "; " + TPT))),
        (MODEL, HEAVY, HEAVIER, Clash(MODEL, HEAVY, HEAVIER)),
    ],
)
def test_one_name_on_a_line_that_was_there_and_on_a_new_one(base: str, ours: str, theirs: str, clash: Clash) -> None:
    assert put_together(ours, theirs, base).clashes == (clash,)


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
