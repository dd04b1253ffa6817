"""Two people change one rig: what is taken from both, and what is left to a person."""

from __future__ import annotations

import pytest

from rigdsl.branches import Clash, Marks, Merged, merged

RIG = """\
rig "Demo night" { rate 48 kHz }

# ---- The boxes
box SL "Stage left" is box32 in wing {
  rate 48 kHz
  note "on the riser"  # dry
}
link C01: SL.A -- DESK.stage via reel6 35 m

# ---- What makes sound
source kick "Kick" dynamic in stage to SL.mic 1 via xlr 10 m { stand "short boom" }
source bass "Bass" di in stage to SL.mic 2

patch kick, bass -> DESK.ch 1-2
"""
KICK = 'source kick "Kick" dynamic in stage to SL.mic 1 via xlr 10 m { stand "short boom" }\n'
BASS = 'source bass "Bass" di in stage to SL.mic 2\n'
LINK = "link C01: SL.A -- DESK.stage via reel6 35 m\n"
PATCH = "patch kick, bass -> DESK.ch 1-2\n"
TPT, VL = 'source tpt "Trumpet" dynamic\n', 'source vl "Violin" condenser\n'
NOTE = '  note "on the riser"  # dry\n'

Edits = tuple[tuple[str, str], ...]


def edited(*changes: tuple[str, str]) -> str:
    text = RIG
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def put_together(ours: str, theirs: str, base: str = RIG) -> Merged:
    done = merged(base, ours, theirs)
    assert done is not None
    return done


CLEAN: dict[str, tuple[Edits, Edits, Edits]] = {
    "a source each at one place: ours first": (
        ((KICK, KICK + TPT),),
        ((KICK, KICK + VL),),
        ((KICK, KICK + TPT + VL),),
    ),
    "a source each at the end of the file": (
        ((PATCH, PATCH + TPT),),
        ((PATCH, PATCH + VL),),
        ((PATCH, PATCH + TPT + VL),),
    ),
    "the same source in the same words comes in once": (
        ((KICK, KICK + TPT),),
        ((BASS, BASS + TPT.replace(' "', '   "')),),
        ((KICK, KICK + TPT),),
    ),
    "a section each, under one heading": (
        ((PATCH, PATCH + "\n# ---- Strings\n" + TPT),),
        ((PATCH, PATCH + "\n# ---- Strings\n" + VL),),
        ((PATCH, PATCH + "\n# ---- Strings\n" + TPT + VL),),
    ),
    "a section each, under a heading each": (
        ((PATCH, PATCH + "\n# ---- Brass\n" + TPT),),
        ((PATCH, PATCH + "\n# ---- Strings\n" + VL),),
        ((PATCH, PATCH + "\n# ---- Brass\n" + TPT + "\n# ---- Strings\n" + VL),),
    ),
    "a source each, with a blank line below": (
        ((PATCH, TPT + "\n" + PATCH),),
        ((PATCH, VL + "\n" + PATCH),),
        ((PATCH, TPT + VL + "\n" + PATCH),),
    ),
    "a fact each of one block": (
        ((NOTE, NOTE + "  weight 4 kg\n"),),
        ((NOTE, NOTE + "  power 35 W\n"),),
        ((NOTE, NOTE + "  weight 4 kg\n  power 35 W\n"),),
    ),
    "a fact of a block, and the zone of the box": (
        (("  rate 48 kHz", "  rate 96 kHz"),),
        (("box32 in wing {", "box32 in pit {"),),
        (("  rate 48 kHz", "  rate 96 kHz"), ("box32 in wing {", "box32 in pit {")),
    ),
    "the socket and the stand of one line": (
        (("SL.mic 1", "SL.mic 9"),),
        (("short boom", "tall boom"),),
        (("SL.mic 1", "SL.mic 9"), ("short boom", "tall boom")),
    ),
    "a fact each in one line": (
        (('"short boom" }', '"short boom"; mono }'),),
        (('{ stand "short', '{ mic "clip"; stand "short'),),
        (('{ stand "short boom" }', '{ mic "clip"; stand "short boom"; mono }'),),
    ),
    "the first fact of a line goes, and one comes": (
        (('{ stand "short boom" }', "{ mono }"),),
        (('"short boom" }', '"short boom"; pad 10 dB }'),),
        (('{ stand "short boom" }', "{ mono; pad 10 dB }"),),
    ),
    "a block each where there was none": (
        (("to SL.mic 2\n", "to SL.mic 2 { mono }\n"),),
        (("to SL.mic 2\n", 'to SL.mic 2 { note "own DI" }\n'),),
        (("to SL.mic 2\n", 'to SL.mic 2 { mono; note "own DI" }\n'),),
    ),
    "a block over several lines, and another label": (
        (("to SL.mic 2\n", "to SL.mic 2 {\n  mono\n}\n"),),
        (('"Bass"', '"Bass guitar"'),),
        (("to SL.mic 2\n", "to SL.mic 2 {\n  mono\n}\n"), ('"Bass"', '"Bass guitar"')),
    ),
    "moved here, changed there": (
        ((BASS, ""), (KICK, BASS + KICK)),
        (("SL.mic 2", "SL.mic 8"),),
        ((BASS, ""), (KICK, BASS.replace("mic 2", "mic 8") + KICK)),
    ),
    "moved there, changed here": (
        (("SL.mic 2", "SL.mic 8"),),
        ((BASS, ""), (LINK, LINK + BASS)),
        ((BASS, ""), (LINK, LINK + BASS.replace("mic 2", "mic 8"))),
    ),
    "taken away here, a neighbour added there": (
        ((BASS, ""),),
        ((BASS, BASS + VL),),
        ((BASS, VL),),
    ),
    "taken away here, only moved there: it is gone": (
        ((BASS, ""),),
        ((BASS, ""), (LINK, LINK + BASS)),
        ((BASS, ""),),
    ),
    "laid out anew here, changed there": (
        ((LINK, "link C01 : SL.A--DESK.stage   via reel6 35m\n"),),
        (("35 m", "40 m"),),
        (("35 m", "40 m"),),
    ),
    "another remark here, another socket there": (
        ((NOTE, NOTE.replace("# dry", "# dry, and out of the way")),),
        (("on the riser", "under the riser"),),
        ((NOTE, '  note "under the riser"  # dry, and out of the way\n'),),
    ),
    "a name each for a box and what is in it": (
        (("# ---- The boxes", "# ---- Boxes and cables"),),
        ((LINK, LINK + "link C02: SL.B -- DESK.stage 2 via reel6\n"),),
        (
            ("# ---- The boxes", "# ---- Boxes and cables"),
            (LINK, LINK + "link C02: SL.B -- DESK.stage 2 via reel6\n"),
        ),
    ),
}


@pytest.mark.parametrize("case", CLEAN)
def test_what_is_taken_from_both(case: str) -> None:
    ours, theirs, both = (edited(*changes) for changes in CLEAN[case])
    assert put_together(ours, theirs).text() == both
    assert put_together(ours, theirs).clashes == 0


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
    assert tuple(one for one in done.made if isinstance(one, Clash)) == clashes
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


def test_a_file_that_both_have_made() -> None:
    assert put_together(edited((KICK, KICK + TPT)), edited((BASS, BASS + VL)), "").text() == (
        edited((KICK, KICK + TPT), (BASS, BASS + VL))
    )


def test_an_empty_file_is_a_file() -> None:
    assert put_together(TPT, VL, "").text() == TPT + VL
    assert put_together("", RIG + VL).text() == VL
    assert put_together("", RIG).text() == ""
