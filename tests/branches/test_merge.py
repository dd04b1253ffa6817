"""Two people change one rig: what is taken from both."""

from __future__ import annotations

import pytest

from tests.branches.night import BASS, KICK, LINK, NOTE, PATCH, RIG, TPT, VL, Edits, edited, put_together

HEADED = RIG[RIG.index("# ---- The boxes") : RIG.index("link")]  # a box under a remark

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
    "moved here, remarked upon there: the remark goes with it": (
        ((BASS, ""), (LINK, LINK + BASS)),
        ((BASS, "# the loud one\n# and old\n" + BASS),),
        ((BASS, ""), (LINK, LINK + "# the loud one\n# and old\n" + BASS)),
    ),
    "remarked upon here, moved there": (
        ((KICK, "# the loud one\n" + KICK),),
        ((KICK, ""), (PATCH, PATCH + KICK)),
        ((KICK, ""), (PATCH, PATCH + "# the loud one\n" + KICK)),
    ),
    "moved with a remark here, with the same one there": (
        ((BASS, ""), (LINK, LINK + "# the loud one\n" + BASS)),
        ((BASS, "# the loud one\n" + BASS),),
        ((BASS, ""), (LINK, LINK + "# the loud one\n" + BASS)),
    ),
    "remarked upon here, a neighbour added above there": (
        ((BASS, "# the loud one\n" + BASS),),
        ((BASS, VL + BASS),),
        ((BASS, VL + "# the loud one\n" + BASS),),
    ),
    "remarked upon here, set on one line with another thing there": (
        ((KICK, "# the loud ones\n" + KICK),),
        ((KICK + BASS, KICK.rstrip() + "; " + BASS),),
        ((KICK + BASS, "# the loud ones\n" + KICK.rstrip() + "; " + BASS),),
    ),
    "a heading here, what stands below it moved there: it heads the rest": (
        ((KICK, "# ---- Drums\n" + KICK),),
        ((KICK, ""), (PATCH, PATCH + KICK)),
        ((KICK, ""), (BASS, "# ---- Drums\n" + BASS), (PATCH, PATCH + KICK)),
    ),
    "moved with its remark here, the remark changed there": (
        ((HEADED, ""), (PATCH, PATCH + HEADED)),
        (("# ---- The boxes", "# ---- Both boxes"),),
        ((HEADED, ""), (PATCH, PATCH + HEADED.replace("The", "Both"))),
    ),
    "moved by both with its remark, which is changed there": (
        ((HEADED, ""), (PATCH, PATCH + HEADED)),
        ((HEADED, ""), (BASS, BASS + HEADED.replace("The", "Both"))),
        ((HEADED, ""), (PATCH, PATCH + HEADED.replace("The", "Both"))),
    ),
    "a patch moved and changed here": (
        ((PATCH, ""), (KICK, PATCH.replace("1-2", "11-12") + KICK)),
        ((PATCH, PATCH + VL),),
        ((KICK, PATCH.replace("1-2", "11-12") + KICK), ("\n\n" + PATCH, "\n\n" + VL)),
    ),
    "a patch moved and changed here, a fact of it there": (
        ((PATCH, ""), (KICK, PATCH.replace("1-2", "11-12") + KICK)),
        ((PATCH, PATCH.rstrip() + ' { note "dry" }\n'),),
        ((PATCH, ""), (KICK, PATCH.replace("1-2\n", '11-12 { note "dry" }\n') + KICK)),
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
    assert put_together(ours, theirs).clashes == ()


def test_a_file_that_both_have_made() -> None:
    assert put_together(edited((KICK, KICK + TPT)), edited((BASS, BASS + VL)), "").text() == (
        edited((KICK, KICK + TPT), (BASS, BASS + VL))
    )


def test_an_empty_file_is_a_file() -> None:
    assert put_together(TPT, VL, "").text() == TPT + VL
    assert put_together("", RIG + VL).text() == VL
    assert put_together("", RIG).text() == ""
